"""What the flight may not exceed."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads


class Limits(Block):
    """What the flight may not exceed."""

    felt_acceleration: Annotated[
        Quantity, Reads(d.ACCELERATION, at_least="1 g", at_most="100 g", spread=False,
                        why="a vehicle on its pad feels 1 g")
    ] | None = Field(
        default=None, description="greatest felt acceleration; engines throttle to keep it"
    )  # fmt: skip
    dynamic_pressure: Annotated[
        Quantity, Reads(d.PRESSURE, at_least="1 kPa", at_most="500 kPa", spread=False)
    ] | None = Field(default=None, description="greatest dynamic pressure ½ρv²")  # fmt: skip
    q_alpha: Annotated[
        Quantity, Reads(d.Q_ALPHA, above="0 kPa·deg", at_most="5000 kPa·deg", spread=False)
    ] | None = Field(
        default=None, alias="q-alpha", description="greatest dynamic pressure times angle of attack"
    )  # fmt: skip
    heating: Annotated[
        Quantity, Reads(d.HEAT_FLUX, above="0 W/m²", at_most="100 MW/m²", spread=False)
    ] | None = Field(
        default=None, description="greatest free-molecular heating ½ρv³ after the fairing is gone"
    )  # fmt: skip
