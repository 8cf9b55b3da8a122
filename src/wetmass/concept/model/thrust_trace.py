"""Thrust of a solid over time, as shares of its mean."""

from __future__ import annotations

from typing import Annotated, Any

from wetmass.concept import dimensions as d
from wetmass.concept.fields import ReadBy
from wetmass.concept.points import rising_pairs
from wetmass.concept.reads import Reads
from wetmass.concept.wording import wrong

_SHARE_OF_MEAN = Reads(d.NUMBER, at_least="0", at_most="20", spread=False, example="1.1")
_TRACE_TIME = Reads(d.TIME, at_least="0 s", at_most="1 h", spread=False, example="20 s")


def _trace(value: Any) -> tuple[tuple[float, float], ...]:
    if not isinstance(value, (list, tuple)) or len(value) < 3:
        accepted = "at least 3 points [time, share of the mean thrust], time rising from 0 s"
        raise wrong(value, accepted, "write [[0 s, 0], [1 s, 1.1], [90 s, 0.9], [94 s, 0]]")
    points: list[tuple[float, float]] = []
    for time, share in rising_pairs(
        value, (_TRACE_TIME, _SHARE_OF_MEAN), pair="a point [time, share]", example="[20 s, 1.1]",
        above=lambda before: f"a time after the one before, {before:g} s", remedy="sort the points",
    ):  # fmt: skip
        if not points and time.value != 0.0:
            raise wrong(time, "0 s, the ignition, for the first point", 'begin with "[0 s, 0]"', "1")
        points.append((time.value, share.value))
    if not sum(share for _, share in points) > 0.0:
        raise wrong(value, "thrust somewhere", "give shares above 0")
    return tuple(points)


Trace = Annotated[tuple[tuple[float, float], ...], ReadBy(lambda value, info: _trace(value))]
