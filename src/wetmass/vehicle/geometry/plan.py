"""Tanks side by side: where their axes stand in plan view."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wetmass.physics.tanks.solid import rising_root
from wetmass.record.geometry import Point


@dataclass(frozen=True, slots=True)
class Standing:
    """Tanks of one height: for each entry its axes."""

    positions: tuple[tuple[Point, ...], ...]
    radius: float  # m, of the ring, 0 where all stand on the axis


def side_by_side(
    radii: Sequence[float], counts: Sequence[int], centre: Sequence[bool], gap: float
) -> Standing:
    """Upright tanks on one ring as tight as they go, the entries mixed as evenly as may be.

    radii   of one tank of each entry                                 [m]
    counts  how many of each entry
    centre  whether one of an entry stands in the middle; at most one entry may say so
    gap     free room between any two                                 [m]

    >>> round(side_by_side([1.0], [6], [False], 0.0).radius, 9)
    2.0
    """
    ringed = [count - middle for count, middle in zip(counts, centre, strict=True)]
    order = _mixed(ringed)
    inner = max((r for r, middle in zip(radii, centre, strict=True) if middle), default=None)
    if inner is None and len(order) == 1:
        radius = 0.0
    else:
        radius = _ring_of([radii[i] for i in order], gap)
        if inner is not None:
            radius = max([radius, *(inner + gap + radii[i] for i in order)])
    placed: list[list[Point]] = [[] for _ in radii]
    for i, middle in enumerate(centre):
        if middle:
            placed[i].append((0.0, 0.0))
    angle = 0.0
    for place, i in enumerate(order):
        placed[i].append((radius * math.cos(angle), radius * math.sin(angle)))
        if place + 1 < len(order):
            angle += _step(radii[i], radii[order[place + 1]], gap, radius, [radii[j] for j in order])
    return Standing(tuple(tuple(points) for points in placed), radius)


def _mixed(counts: Sequence[int]) -> list[int]:
    """Entries in an order round the ring that spreads each as evenly as may be."""
    total = sum(counts)
    keyed = sorted(
        ((2 * k + 1) / (2 * count), i) for i, count in enumerate(counts) for k in range(count)
    )  # fmt: skip
    assert len(keyed) == total
    return [i for _, i in keyed]


def _turns(radii: Sequence[float], gap: float, radius: float) -> float:
    """Angle that tanks in this order take on a ring of `radius`, less a full turn, below 0 when too tight."""
    pairs = zip(radii, [*radii[1:], radii[0]], strict=True)
    return sum(2.0 * math.asin(min(1.0, (a + b + gap) / (2.0 * radius))) for a, b in pairs) - 2.0 * math.pi


def _ring_of(radii: Sequence[float], gap: float) -> float:
    """Least radius of a ring for tanks in this order [m]."""
    if len(radii) <= 1:
        return 0.0
    pairs = list(zip(radii, [*radii[1:], radii[0]], strict=True))
    widest = max(a + b + gap for a, b in pairs)
    if len(radii) == 2 or max(radii) == min(radii):
        return widest / (2.0 * math.sin(math.pi / len(radii)))
    low, high = widest / 2.0, sum(a + b + gap for a, b in pairs)
    return rising_root(lambda r: -_turns(radii, gap, r), low, high)


def _step(one: float, other: float, gap: float, radius: float, every: Sequence[float]) -> float:
    """Angle from one tank to the next, what room is left shared evenly."""
    if radius == 0.0:
        return 0.0
    spare = -_turns(every, gap, radius) / len(every)
    return 2.0 * math.asin(min(1.0, (one + other + gap) / (2.0 * radius))) + spare
