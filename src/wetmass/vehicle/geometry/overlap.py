"""Tanks that would take up the same room."""

from __future__ import annotations

import itertools
import math

from wetmass.record.geometry import Point
from wetmass.vehicle.geometry.outline import reach
from wetmass.vehicle.geometry.stack import Stood

_SLICES = 200  # heights looked at
_MOST_TANKS = 60  # of one entry that are looked at one by one; they stand on one ring
_ROUNDING = 1e-9  # m


def overlaps(stood: list[Stood]) -> list[tuple[Stood, Stood, float]]:
    """Pairs of entries whose tanks meet, and by how much in the plan view at worst [m].

    Tanks built into each other, and those that share a bulkhead, are left out.
    """
    found = []
    for one, other in itertools.combinations(stood, 2):
        if one.number in (other.entry.around, other.entry.within):
            continue
        if _share_bulkhead(one, other):
            continue
        depth = max(
            (
                _depth(one, a, other, b)
                for a in one.positions[:_MOST_TANKS]
                for b in other.positions[:_MOST_TANKS]
            ),
            default=0.0,
        )
        if depth > _ROUNDING:
            found.append((one, other, depth))
    return found


def _share_bulkhead(one: Stood, other: Stood) -> bool:
    upper, lower = (one, other) if one.number < other.number else (other, one)
    return lower.entry.tank.shares_bulkhead and lower.number == upper.number + 1


def _depth(one: Stood, a: Point, other: Stood, b: Point) -> float:
    """How far two tanks reach into each other across the axis, 0 where they do not [m]."""
    low, high = max(one.foot, other.foot), min(one.top, other.top)
    if high - low <= _ROUNDING:
        return 0.0
    apart = math.dist(a, b)
    if apart >= (one.one.envelope.diameter + other.one.envelope.diameter) / 2.0:
        return 0.0
    worst = 0.0
    for i in range(_SLICES + 1):
        level = low + (high - low) * i / _SLICES
        in_1, out_1 = reach(one.one, level - one.foot)
        in_2, out_2 = reach(other.one, level - other.foot)
        if out_1 == 0.0 or out_2 == 0.0:
            continue
        # apart, or one in the hole of the other
        free = max(apart - out_1 - out_2, in_1 - apart - out_2, in_2 - apart - out_1)
        worst = max(worst, -free)
    return worst
