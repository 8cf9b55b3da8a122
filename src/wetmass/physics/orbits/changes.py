"""Burns that lead from one orbit to another."""

from __future__ import annotations

import math

from wetmass.physics.earth import GM
from wetmass.physics.orbits.letters import BRAEUNIG, MU, PAGE
from wetmass.physics.orbits.speeds import period_kernel
from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation, sin, sqrt, within


@kernel
def _hohmann_first(radius, other_radius, gm):
    return sqrt(gm / radius) * (sqrt(2.0 * other_radius / (radius + other_radius)) - 1.0)


_TWO_RADII = {
    "radius": Letter("r₁", "radius of the first orbit", "m", 6.4e6, 5e7),
    "other_radius": Letter("r₂", "radius of the second orbit", "m", 6.4e6, 4e8),
    "gm": MU,
}
_HOHMANN = f"{BRAEUNIG}, problem 4.19, {PAGE}"


@relation(
    kernel=_hohmann_first, symbol="Δv₁", words="first burn of the transfer", unit="m/s", letters=_TWO_RADII,
    source=_HOHMANN,
)  # fmt: skip
def hohmann_first(radius: float, other_radius: float, gm: float = GM) -> float:
    """Speed change that leaves a circle for the transfer ellipse [m/s]; below zero when going inwards.

    radius, other_radius  of the circles left and reached  [m]
    gm                    gravitational parameter          [m³/s²]

    Raises ValueError for an argument not above zero.

    >>> round(hohmann_first(6_578_140.0, 42_164_170.0))
    2455
    """
    above_zero(radius=radius, other_radius=other_radius, gm=gm)
    return _hohmann_first(radius, other_radius, gm)


@kernel
def _hohmann_second(radius, other_radius, gm):
    return sqrt(gm / other_radius) * (1.0 - sqrt(2.0 * radius / (radius + other_radius)))


@relation(
    kernel=_hohmann_second, symbol="Δv₂", words="second burn of the transfer", unit="m/s", letters=_TWO_RADII,
    source=_HOHMANN,
)  # fmt: skip
def hohmann_second(radius: float, other_radius: float, gm: float = GM) -> float:
    """Speed change that rounds the transfer ellipse to the circle reached [m/s]; see `hohmann_first`.

    >>> round(hohmann_second(6_578_140.0, 42_164_170.0))
    1477
    """
    above_zero(radius=radius, other_radius=other_radius, gm=gm)
    return _hohmann_second(radius, other_radius, gm)


def hohmann_duration(radius: float, other_radius: float, gm: float = GM) -> float:
    """Time of a Hohmann transfer between two circles, half a period of its ellipse [s].

    >>> round(hohmann_duration(6_569_481.11, 42_159_485.57) / 60, 3)
    315.403
    """
    above_zero(radius=radius, other_radius=other_radius, gm=gm)
    return 0.5 * period_kernel(0.5 * (radius + other_radius), gm)


@kernel
def _turned_speed_change(speed, other_speed, angle):
    # (v₂ − v₁)² + 4·v₁·v₂·sin²(Δ/2): the law of cosines without its loss of digits
    return sqrt((other_speed - speed) ** 2 + 4.0 * speed * other_speed * sin(0.5 * angle) ** 2)


@relation(
    kernel=_turned_speed_change,
    symbol="Δv",
    words="speed change with a turn",
    unit="m/s",
    letters={
        "speed": Letter("v₁", "speed before", "m/s", 100.0, 12_000.0),
        "other_speed": Letter("v₂", "speed after", "m/s", 100.0, 12_000.0),
        "angle": Letter("Δ", "angle between the two", "rad", 0.01, 3.1),
    },
    source="difference of velocities, law of cosines; textbook, from memory",
)
def turned_speed_change(speed: float, other_speed: float, angle: float) -> float:
    """Speed change that turns a velocity and alters its size, √((v₂ − v₁)² + 4·v₁·v₂·sin²(Δ/2)) [m/s].

    speed, other_speed  before and after          [m/s]
    angle               between the two, 0 to π   [rad]

    With equal speeds the plain plane change, 2·v·sin(Δ/2).  Raises ValueError for a negative speed or
    an angle outside 0 to π.

    >>> round(turned_speed_change(1597.0, 3075.0, math.radians(28.0)))
    1826
    """
    not_negative(speed=speed, other_speed=other_speed)
    within(0.0, math.pi, angle=angle)
    return _turned_speed_change(speed, other_speed, angle)
