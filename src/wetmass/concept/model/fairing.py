"""The shell over the payload, and other parts that are let go on the way."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block, Judged
from wetmass.concept.fields import Line, StageName
from wetmass.concept.model.values import Diameter, Length, PartMass, Time
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.statement import parse_quantity
from wetmass.concept.wording import shown
from wetmass.record.refusal import Complaint


class Fairing(Judged):
    """The shell over the payload.  One of the three `drop` keys says when it goes."""

    mass: PartMass = Field(description="mass of the whole fairing")
    diameter: Diameter | None = Field(
        default=None, description="outer diameter; that of the last stage where nothing is said"
    )
    length: Length | None = Field(default=None, description="length with the nose")
    nose: Length | None = Field(
        default=None, description="length of the rounded nose; 1.2 diameters where nothing is said"
    )
    drop_heating: Annotated[
        Quantity, Reads(d.HEAT_FLUX, above="0 W/m²", at_most="1 MW/m²", example="1135 W/m²")
    ] | None = Field(
        default=None,
        description="dropped once free-molecular heating ½ρv³ has fallen below this; 1135 W/m² where "
        "no key says when (common practice)",
    )  # fmt: skip
    drop_height: Annotated[
        Quantity, Reads(d.LENGTH, at_least="1 km", at_most="1000 km", example="110 km")
    ] | None = Field(default=None, description="dropped at this height")  # fmt: skip
    drop_time: Time | None = Field(default=None, description="dropped at this time after lift-off")

    @classmethod
    def judge(cls, data: dict[str, Any]) -> tuple[list[Complaint], dict[str, Any]]:
        given = [key for key in ("drop heating", "drop height", "drop time") if key in data]
        if not given:
            return [], {**data, "drop heating": "1135 W/m²"}
        accepted = f'one rule for the drop; "{given[0]}" is stated already'
        return [
            Complaint(key, shown(data[key]), accepted, "keep one of the two, delete the other")
            for key in given[1:]
        ], data


class Dropped(Block):
    """A part that is let go on the way, such as an escape tower or an interstage ring."""

    called = "part that is dropped"

    name: Annotated[str, Line(40, name=True, example="escape tower")] = Field(description="what it is")
    mass: PartMass = Field(description="its mass")
    after_ignition_of: Annotated[str, StageName()] = Field(
        description="the stage whose ignition starts the clock"
    )
    time: Time = Field(
        default=parse_quantity("0 s", d.TIME), description="how long after that ignition it goes"
    )
