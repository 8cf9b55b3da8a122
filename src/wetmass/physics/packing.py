"""How engines stand under a stage: on rings and in circles, and what room that takes.

Every circle here is an engine's exit (or a tank) of one diameter; positions are (x, y) in m.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.physics.circle_positions import PACKINGS
from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation, sin, tan, within

PI = 3.141592653589793
TABLE = (
    "best-known packings of equal circles in a circle (R. L. Graham 1968 and later; proved optimal for 1 to "
    "14 and 19), https://en.wikipedia.org/wiki/Circle_packing_in_a_circle"
)
MOST = max(PACKINGS)


@dataclass(frozen=True, slots=True)
class Layout:
    """Engines placed under a stage."""

    positions: tuple[tuple[float, float], ...]  # m
    diameter: float  # m, of each circle, without clearance
    clearance: float  # m, free room kept between neighbours
    across: float  # m, circle round all of them
    way: str  # "ring", "centre and ring", "rings", "best known"
    source: str

    @property
    def count(self) -> int:
        return len(self.positions)


@kernel
def _ring_radius(count, pitch):
    return pitch / (2.0 * sin(PI / count))


@relation(
    kernel=_ring_radius,
    symbol="ρ",
    words="radius of the ring on which the engines' axes stand",
    unit="m",
    letters={
        "count": Letter("n", "number on the ring", "", 2.0, 40.0),
        "pitch": Letter("s", "diameter of one and the room between two", "m", 0.1, 5.0),
    },
    source="geometry, exact",
)
def ring_radius(count: float, pitch: float) -> float:
    """Radius of the ring that `count` circles need, ρ = s/(2·sin(π/n)) [m].

    count  on the ring, 2 or more                              [-]
    pitch  diameter of one plus the free room between two      [m]

    Raises ValueError for fewer than two or a pitch that is not above zero.

    >>> round(ring_radius(7, 2.0), 4)
    2.3048
    """
    above_zero(pitch=pitch)
    if not 2.0 <= count < math.inf:
        raise ValueError(f"count must be 2 or more on a ring, got {count}")
    return _ring_radius(count, pitch)


@kernel
def _gimbal_clearance(length, angle):
    return 2.0 * length * tan(angle)


@relation(
    kernel=_gimbal_clearance,
    symbol="g",
    words="room between two engines that swing towards each other",
    unit="m",
    letters={
        "length": Letter("l", "from the pivot to the exit", "m", 0.2, 6.0),
        "angle": Letter("β", "greatest swing, in radians", "", 0.0, 0.3),
    },
    source="geometry: each exit moves by l·tan β",
)
def gimbal_clearance(length: float, angle: float) -> float:
    """Free room two neighbours need when both swing towards each other, g = 2·l·tan β [m].

    length  from the pivot to the exit          [m]
    angle   greatest swing, 0 up to π/4         [rad]

    Raises ValueError outside.

    >>> round(gimbal_clearance(1.5, 0.0873), 3)
    0.263
    """
    above_zero(length=length)
    within(0.0, PI / 4.0, angle=angle)
    return _gimbal_clearance(length, angle)


def _circle(count: int, radius: float, turn: float = 0.0) -> tuple[tuple[float, float], ...]:
    return tuple(
        (radius * math.cos(turn + 2.0 * PI * i / count), radius * math.sin(turn + 2.0 * PI * i / count))
        for i in range(count)
    )


def on_ring(count: int, diameter: float, clearance: float = 0.0, *, centre: bool = False) -> Layout:
    """`count` circles on one ring as tight as they go, with one more in the middle if `centre`.

    clearance  free room between any two  [m]

    Raises ValueError for no engine at all, sizes below zero.

    >>> layout = on_ring(6, 1.0, centre=True)
    >>> layout.count, round(layout.across, 6)
    (7, 3.0)
    """
    above_zero(diameter=diameter)
    not_negative(clearance=clearance)
    if count < 1 or count != int(count):
        raise ValueError(f"count must be a whole number of 1 or more, got {count}")
    pitch = diameter + clearance
    radius = 0.0 if count == 1 and not centre else ring_radius(max(count, 2), pitch)
    if centre:
        radius = max(radius, pitch)
    ring = _circle(int(count), radius)
    positions = ((0.0, 0.0), *ring) if centre else ring
    way = "centre and ring" if centre else "ring"
    return Layout(positions, diameter, clearance, 2.0 * radius + diameter, way, "geometry, exact")


def on_rings(counts: tuple[int, ...], diameter: float, clearance: float = 0.0) -> Layout:
    """Rings within rings, `counts` from the inside out, as tight as this way of turning them allows.

    The first may be 1, an engine in the middle.  Each ring starts with its engine 0 half a step round from
    the last, or in line, whichever lets it sit closer.

    >>> round(on_rings((1, 6, 12), 1.0).across, 4)
    4.8637
    """
    above_zero(diameter=diameter)
    not_negative(clearance=clearance)
    if not counts or any(count < 1 or count != int(count) for count in counts):
        raise ValueError(f"counts must be whole numbers of 1 or more, inside out, got {counts}")
    pitch = diameter + clearance
    placed: list[tuple[float, float]] = []
    for index, count in enumerate(counts):
        least = 0.0 if count == 1 and index == 0 else ring_radius(max(count, 2), pitch)
        best: tuple[float, tuple[tuple[float, float], ...]] | None = None
        for turn in (0.0, PI / count):
            at = _least_radius(placed, count, turn, least, pitch)
            if best is None or at < best[0] - 1e-12:
                best = (at, _circle(count, at, turn))
        assert best is not None
        placed += best[1]
    across = 2.0 * max(math.hypot(*p) for p in placed) + diameter
    return Layout(tuple(placed), diameter, clearance, across, "rings", "geometry, our own placing")


def _least_radius(
    placed: list[tuple[float, float]], count: int, turn: float, least: float, pitch: float
) -> float:
    """Smallest ring radius from `least` up that keeps `pitch` to all those placed."""
    radius = least
    for i in range(count):
        angle = turn + 2.0 * PI * i / count
        for x, y in placed:
            along = x * math.cos(angle) + y * math.sin(angle)
            across = -x * math.sin(angle) + y * math.cos(angle)
            if abs(across) < pitch:
                radius = max(radius, along + math.sqrt(pitch**2 - across**2))
    return radius


def best_known(count: int, diameter: float, clearance: float = 0.0) -> Layout:
    """`count` circles in the smallest circle known, 1 to 20; some of them may have room to spare.

    Raises ValueError beyond the table.

    >>> round(best_known(13, 1.0).across, 4)
    4.2361
    """
    above_zero(diameter=diameter)
    not_negative(clearance=clearance)
    if count not in PACKINGS:
        raise ValueError(f"count must be a whole number from 1 to {MOST}, the table's reach, got {count}")
    ratio, unit = PACKINGS[count]
    half = (diameter + clearance) / 2.0
    positions = tuple((half * x, half * y) for x, y in unit)
    return Layout(positions, diameter, clearance, 2.0 * half * (ratio - 1.0) + diameter, "best known", TABLE)


def how_many_fit(across: float, diameter: float, clearance: float = 0.0) -> Layout | None:
    """The most circles in a circle of `across` [m], placed the best known way; None where not one fits.

    `clearance` is kept between neighbours, not to the outside.  Raises ValueError where more than the
    table's 20 would fit.

    >>> how_many_fit(3.7, 0.92, 0.1).count
    9
    """
    above_zero(across=across)
    best = None
    for count in PACKINGS:
        layout = best_known(count, diameter, clearance)
        if layout.across <= across * (1.0 + 1e-9):
            best = layout
    if best is not None and best.count == MOST and _could_hold_more(across, diameter, clearance):
        raise ValueError(
            f"more than {MOST} may fit into {across} m, which is as far as the table of packings reaches; "
            "use rings within rings"
        )
    return best


def _could_hold_more(across: float, diameter: float, clearance: float) -> bool:
    """Is there area for another one, even at the density of a honeycomb?"""
    half = (diameter + clearance) / 2.0
    return (MOST + 1) * PI * half**2 <= 0.9069 * PI * ((across + clearance) / 2.0) ** 2


def nearest_gap(layout: Layout) -> float:
    """Least free room between two circles of a layout [m], infinite for a single one."""
    points = layout.positions
    return min(
        (math.dist(a, b) - layout.diameter for i, a in enumerate(points) for b in points[:i]),
        default=math.inf,
    )
