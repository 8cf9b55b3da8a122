"""One tank of a stage, or several alike."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Judged, complain
from wetmass.concept.fields import Choice, YesNo
from wetmass.concept.find import Find
from wetmass.concept.model.values import Count, OpenLength, Room, Share
from wetmass.concept.pairs import PropellantName
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.tank_shapes import SIZES
from wetmass.concept.wording import a, shown
from wetmass.physics.materials import MATERIALS
from wetmass.record.refusal import Complaint


class Tank(Judged):
    """One tank, or several alike.  Sizes are of the inside; one that is left out follows from its load."""

    holds: Annotated[str, PropellantName()] = Field(
        description="what is in it: a part of the pair, or oxidiser, fuel"
    )
    shape: Annotated[str, Choice(*SIZES)] = Field(
        description="shape of its body; a ring is the room between two upright cylinders"
    )
    diameter: OpenLength | None = Field(
        default=None,
        description="outer diameter, at the bottom of a frustum; the stage's where nothing is said, or the "
        "greatest with which several stand side by side in it",
    )
    top_diameter: OpenLength | None = Field(default=None, description="diameter at the top of a frustum")
    inner_diameter: OpenLength | None = Field(
        default=None, description="free circle through the middle of a ring or a torus"
    )
    tube_diameter: OpenLength | None = Field(default=None, description="of the tube of a torus")
    length: OpenLength | None = Field(
        default=None,
        description="straight part of a cylinder, frustum or ring; from pole to pole of an ellipsoid",
    )
    domes: Annotated[str, Choice("ellipsoidal", "hemispherical", "flat")] = Field(
        default="ellipsoidal",
        description="shape of its ends; ellipsoidal ones are 1/√2 of their radius high",
    )
    dome_height: OpenLength | None = Field(default=None, description="height of its ends instead")
    volume: (
        Annotated[Quantity, Reads(d.VOLUME, above="0 m³", at_most="20 000 m³", example="75 m³")] | None
    ) = Field(default=None, description="inside volume of one, instead of a size")
    shares_bulkhead: Annotated[bool, YesNo()] = Field(
        default=False, description="its upper dome is shared with the tank before it in the list"
    )
    beside: Annotated[bool, YesNo()] = Field(
        default=False,
        description="it stands at the height of the tank before it in the list: beside it, or round it",
    )
    inside: Annotated[str, PropellantName()] | None = Field(
        default=None, description="what the tank holds that this one is built into"
    )
    count: Count = Field(default=1, description="how many alike, side by side")
    centre: Annotated[bool, YesNo()] = Field(
        default=False, description="one of them stands in the middle of the others"
    )
    gap: Room | None = Field(default=None, description="free room between those side by side")
    stands_at: Room | None = Field(
        default=None,
        description="its lowest point above the engine exits; where nothing is said tanks are stacked",
    )
    ullage: Share | None = Field(default=None, description="share of the volume left to gas")
    at: Annotated[Quantity, Reads(d.TEMPERATURE, above="0 K", at_most="500 K", example="66 K")] | None = (
        Field(default=None, description="temperature as loaded; boiling for cryogens where nothing is said")
    )
    boil_off: Annotated[
        Quantity, Reads(d.MASS_FLOW, d.FREQUENCY, d.POWER, example="20 kg/day")
    ] | None = Field(
        default=None,
        alias="boil-off",
        description="what boils away: a mass or a share of the load in a time, or the heat leaking in",
    )  # fmt: skip
    pressure: Annotated[
        Quantity, Reads(d.PRESSURE, above="0 bar", at_most="500 bar", spread=False, example="3 bar")
    ] | None = Field(
        default=None, description="greatest gas pressure over that outside, for its walls"
    )  # fmt: skip
    material: Annotated[str, Choice(*MATERIALS)] | None = Field(
        default=None, description="what its walls are made of"
    )

    @classmethod
    def judge(cls, data: dict[str, Any]) -> tuple[list[Complaint], dict[str, Any]]:
        shape = " ".join(str(data.get("shape", "")).split())
        taken = SIZES.get(shape)
        if taken is None:  # told by its reader
            return [], data
        complaints = []
        every = {name for names in SIZES.values() for name in names}
        for key in data:
            if key in every and key not in taken:
                accepted = f"the sizes of {a(shape)}: {', '.join(taken)}"
                complaints.append(
                    Complaint(key, shown(data[key]), accepted, "delete this key, or check the shape")
                )
        if shape not in ("cylinder", "frustum"):
            complaints += [
                Complaint(key, shown(data[key]), "only with a cylinder or a frustum", "delete this key")
                for key in ("domes",)
                if key in data
            ]
        if "domes" in data and "dome height" in data:
            accepted = "domes or dome height, not both"
            complaints.append(Complaint("dome height", shown(data["dome height"]), accepted, "delete one"))
        if "tube diameter" in data and "inner diameter" in data and "diameter" in data:
            accepted = "two of diameter, tube diameter and inner diameter: they follow from each other"
            complaints.append(
                Complaint("inner diameter", shown(data["inner diameter"]), accepted, "delete one")
            )
        opened = [
            key
            for key in taken
            if isinstance(data.get(key), Find) or str(data.get(key)).strip()[:4] == "find"
        ]
        for key in opened[1:]:
            accepted = f"one size to be found; {opened[0]} is open already"
            complaints.append(Complaint(key, shown(data[key]), accepted, "give one of the two"))
        return complaints, data

    @model_validator(mode="after")
    def _sound(self) -> Tank:
        complaints = []
        if self.boil_off is not None and not self.boil_off.value >= 0.0:
            complaints.append(Complaint("boil-off", shown(self.boil_off), "0 or more", "check the sign"))
        if self.shares_bulkhead and self.shape != "cylinder":
            accepted = "only between cylinders of one diameter"
            complaints.append(Complaint("shares bulkhead", '"yes"', accepted, "delete this key"))
        if self.shares_bulkhead and (self.beside or self.inside or self.stands_at or self.count > 1):
            accepted = "only with one tank that stands under the one before it"
            complaints.append(Complaint("shares bulkhead", '"yes"', accepted, "delete one of the keys"))
        if self.centre and self.count < 3:
            accepted = "3 or more, with one in the middle of the others"
            complaints.append(
                Complaint("count", f'"{self.count}"', accepted, "delete centre, or give the count")
            )
        if self.inside is not None and (self.count > 1 or self.beside):
            complaints.append(
                Complaint("inside", shown(self.inside), "one tank that stands in another", "delete one key")
            )
        if self.count > 1 and self.shape in ("torus", "ring"):
            accepted = f"1: a {self.shape} goes round the axis, several stand above each other"
            complaints.append(Complaint("count", f'"{self.count}"', accepted, "make an entry for each"))
        complain(*complaints)
        return self
