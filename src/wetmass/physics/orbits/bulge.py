"""What the Earth's bulge does to an orbit's plane."""

from __future__ import annotations

import math

from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, J2
from wetmass.physics.orbits.letters import AXIS
from wetmass.physics.pattern import Letter, above_zero, cos, kernel, relation, sqrt, within

TROPICAL_YEAR = 365.2421897 * 86_400.0  # s: mean tropical year of 2000, from memory (Astronomical Almanac)


@kernel
def _node_drift(semi_major_axis, eccentricity, inclination):
    shape = EARTH_RADIUS_WGS84 / (semi_major_axis * (1.0 - eccentricity**2))
    return -1.5 * J2 * shape**2 * sqrt(GM / semi_major_axis) / semi_major_axis * cos(inclination)


@relation(
    kernel=_node_drift,
    symbol="Ω̇",
    words="drift of the node",
    unit="rad/s",
    letters={
        "semi_major_axis": AXIS,
        "eccentricity": Letter("e", "eccentricity", "", 0.0, 0.8),
        "inclination": Letter("i", "inclination", "rad", 0.0, 3.14),
    },
    source="first-order secular theory of J2; textbook, from memory",
)
def node_drift(semi_major_axis: float, eccentricity: float, inclination: float) -> float:
    """Mean drift of the node from the Earth's bulge, −3/2·J₂·(a_e/p)²·n·cos i [rad/s], east positive.

    semi_major_axis  [m]
    eccentricity     0 to below 1
    inclination      0 to π  [rad]

    First order in J2.  Raises ValueError outside these ranges.

    >>> round(math.degrees(node_drift(7_178_137.0, 0.0, math.radians(98.6))) * 86400, 3)
    0.985
    """
    above_zero(semi_major_axis=semi_major_axis)
    within(0.0, 1.0 - 1e-9, eccentricity=eccentricity)
    within(0.0, math.pi, inclination=inclination)
    return _node_drift(semi_major_axis, eccentricity, inclination)


def sun_synchronous_inclination(semi_major_axis: float, eccentricity: float = 0.0) -> float:
    """Inclination at which the node keeps up with the mean sun, one turn a tropical year [rad].

    semi_major_axis  [m]
    eccentricity     0 to below 1

    First order in J2; needs no date.  Raises ValueError for an orbit too high to keep up.

    >>> round(math.degrees(sun_synchronous_inclination(6_378_137.0 + 800e3)), 2)
    98.6
    """
    polar = node_drift(semi_major_axis, eccentricity, 0.0)
    cosine = math.tau / TROPICAL_YEAR / polar
    if abs(cosine) > 1.0:
        raise ValueError(
            f"semi_major_axis must be low enough for the node to drift one turn a year, got {semi_major_axis}"
            f" m: at most {math.degrees(abs(polar)) * 86400.0:.3g}°/day there, 0.986°/day needed"
        )
    return math.acos(cosine)
