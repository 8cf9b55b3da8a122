"""How the engines stand under a stage."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block
from wetmass.concept.fields import Choice
from wetmass.concept.model.values import Diameter, Length, Room
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads


class EngineLayout(Block):
    """How the engines stand under a stage; groups stand outside one another in the order of the list."""

    way: Annotated[str, Choice("tightest", "ring", "centre and ring")] = Field(
        default="tightest", description="how those of the first group stand"
    )
    gimbal: (
        Annotated[Quantity, Reads(d.ANGLE, at_least="0 deg", at_most="45 deg", spread=False, example="5 deg")]
        | None
    ) = Field(
        default=None,
        description="greatest swing either way; room is kept for two that swing towards each other",
    )
    pivot_to_exit: Length | None = Field(
        default=None,
        description="from the pivot of an engine to its exit; its whole length where nothing is said",
    )
    gap: Room | None = Field(
        default=None, description="free room between two exits at rest, beside the swing"
    )
    engine_length: Length | None = Field(
        default=None, description="of the longest engine; 1.8 exit diameters where nothing is said"
    )
    ring_diameter: Diameter | None = Field(
        default=None, description="of the circle on which the axes of the first group's ring stand"
    )
