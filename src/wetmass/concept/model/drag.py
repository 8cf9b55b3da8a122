"""Drag while a stage burns."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, model_validator

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block
from wetmass.concept.fields import Choice, ReadBy
from wetmass.concept.model.values import Area, Diameter
from wetmass.concept.points import rising_pairs
from wetmass.concept.reads import Reads
from wetmass.concept.wording import wrong

_CURVES = Choice("typical", "low", "high")
_MACH = Reads(d.NUMBER, at_least="0", at_most="50", spread=False, example="0.8")
_COEFFICIENT = Reads(d.NUMBER, at_least="0", at_most="5", spread=False, example="0.3")


class Drag(Block):
    """Drag of everything that flies while this stage burns."""

    diameter: Diameter | None = Field(
        default=None, description="of the circle the coefficient refers to; the stage's where nothing is said"
    )
    area: Area | None = Field(default=None, description="the area instead")
    curve: Annotated[str | tuple[tuple[float, float], ...], ReadBy(lambda value, info: _curve(value))] = (
        Field(
            default="typical",
            description="typical | low | high, or a list of [Mach, coefficient], Mach rising",
        )
    )

    @model_validator(mode="after")
    def _one_size(self) -> Drag:
        if self.diameter is not None and self.area is not None:
            raise wrong(
                self.area,
                f"a diameter or an area, not both (diameter {self.diameter})",
                "delete one of the two",
                "area",
            )
        return self


def _curve(value: Any) -> Any:
    if isinstance(value, str):
        return _CURVES.read(value, None)
    if not isinstance(value, (list, tuple)) or len(value) < 4:
        accepted = "typical | low | high, or at least 4 points [Mach, coefficient]"
        raise wrong(
            value, accepted, "write [[0, 0.3], [0.8, 0.35], [1.1, 0.6], [3, 0.3]] or one of the words"
        )
    points = rising_pairs(
        value, (_MACH, _COEFFICIENT), pair="a point [Mach, coefficient]", example="[0.8, 0.35]",
        above=lambda before: f"a Mach number above the one before, {before:g}", remedy="sort the points",
    )  # fmt: skip
    return tuple((mach.value, coefficient.value) for mach, coefficient in points)
