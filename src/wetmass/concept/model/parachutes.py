"""Sets of parachutes, and the steps in which they open."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block
from wetmass.concept.fields import Line, ReadBy, Whole
from wetmass.concept.points import rising_pairs
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.wording import wrong

_Area = Annotated[Quantity, Reads(d.AREA, above="0 m²", at_most="20 000 m²", spread=False, example="900 m²")]
_Name = Annotated[str, Line(40, name=True, example="mains")]
_STEP_SHARE = Reads(d.NUMBER, above="0 %", below="100 %", spread=False, example="10 %")
_STEP_TIME = Reads(d.TIME, above="0 s", at_most="120 s", spread=False, example="8 s")


def _reefing(value: Any) -> tuple[tuple[float, float], ...]:
    if not isinstance(value, (list, tuple)):
        raise wrong(value, "steps [share of the drag area, how long]", "write it as in [[10 %, 8 s]]")
    steps = rising_pairs(
        value, (_STEP_SHARE, _STEP_TIME), pair="a step [share, time]", example="[10 %, 8 s]",
        above=lambda before: f"a share above the one before, {100 * before:g} %", remedy="open them step by step",
    )  # fmt: skip
    return tuple((share.value, time.value) for share, time in steps)


class Parachutes(Block):
    """One set of parachutes, all alike, opened together."""

    called = "set of parachutes"

    name: _Name = Field(description="what they are, such as drogue or mains")
    drag_area: _Area = Field(description="area times drag coefficient of all of them together, fully open")
    opens_at: Annotated[
        Quantity, Reads(d.LENGTH, at_least="50 m", at_most="60 km", spread=False, example="2 km")
    ] = Field(description="opened at or below this height")
    count: Annotated[int, Whole(1, 30)] = Field(default=1, description="how many")
    reefed: Annotated[tuple[tuple[float, float], ...], ReadBy(lambda value, info: _reefing(value))] = Field(
        default=(), description="steps before they are full: a list of [share of the drag area, how long]"
    )
    filling: Annotated[
        Quantity, Reads(d.TIME, above="0 s", at_most="30 s", spread=False, example="2 s")
    ] | None = Field(default=None, description="time to fill at each step; 2 s (from memory)")  # fmt: skip
