"""Speeds on two-body orbits, and how long a turn takes."""

from __future__ import annotations

import math

from wetmass.physics.earth import GM
from wetmass.physics.orbits.letters import AXIS, BRAEUNIG, MU, PAGE, RADIUS
from wetmass.physics.pattern import Letter, above_zero, finite, kernel, relation, sqrt, within


@kernel
def _circular_speed(radius, gm):
    return sqrt(gm / radius)


@relation(
    kernel=_circular_speed,
    symbol="v_c",
    words="circular orbit speed",
    unit="m/s",
    letters={"radius": RADIUS, "gm": MU},
    source=f"{BRAEUNIG}, problem 4.1, {PAGE}",
)
def circular_speed(radius: float, gm: float = GM) -> float:
    """Speed on a circular orbit, √(μ/r) [m/s].

    radius  of the orbit, from the centre  [m]
    gm      gravitational parameter        [m³/s²]

    Raises ValueError for an argument not above zero.

    >>> round(circular_speed(6_578_137.0), 1)
    7784.3
    """
    above_zero(radius=radius, gm=gm)
    return _circular_speed(radius, gm)


@kernel
def _escape_speed(radius, gm):
    return sqrt(2.0 * gm / radius)


@relation(
    kernel=_escape_speed,
    symbol="v_esc",
    words="escape speed",
    unit="m/s",
    letters={"radius": RADIUS, "gm": MU},
    source="energy equation with no speed left far away; textbook, from memory",
)
def escape_speed(radius: float, gm: float = GM) -> float:
    """Speed that just escapes from a distance, √(2·μ/r) [m/s].

    radius  distance from the centre  [m]
    gm      gravitational parameter   [m³/s²]

    Raises ValueError for an argument not above zero.

    >>> round(escape_speed(6_578_137.0), 1)
    11008.6
    """
    above_zero(radius=radius, gm=gm)
    return _escape_speed(radius, gm)


@kernel
def _orbit_speed(radius, perigee_radius, apogee_radius, gm):
    return sqrt(gm * (2.0 / radius - 2.0 / (perigee_radius + apogee_radius)))


@relation(
    kernel=_orbit_speed,
    symbol="v",
    words="speed on the orbit",
    unit="m/s",
    letters={
        "radius": Letter("r", "distance from the centre", "m", 6.4e6, 6.6e6),
        "perigee_radius": Letter("r_p", "perigee radius", "m", 6.4e6, 7e6),
        "apogee_radius": Letter("r_a", "apogee radius", "m", 7e6, 5e7),
        "gm": MU,
    },
    source=f"energy equation; {BRAEUNIG}, problem 4.4, {PAGE}",
)
def orbit_speed(radius: float, perigee_radius: float, apogee_radius: float, gm: float = GM) -> float:
    """Speed at a distance on an elliptic orbit, √(μ·(2/r − 2/(r_p + r_a))) [m/s].

    radius                         distance from the centre, on the orbit       [m]
    perigee_radius, apogee_radius  nearest and farthest distance of the orbit   [m]
    gm                             gravitational parameter                      [m³/s²]

    Raises ValueError when the distance is not on the orbit.

    >>> round(orbit_speed(6_628_140.0, 6_628_140.0, 6_878_140.0), 1)
    7826.3
    """
    above_zero(radius=radius, perigee_radius=perigee_radius, gm=gm)
    within(perigee_radius, math.inf, apogee_radius=apogee_radius)
    within(perigee_radius * (1 - 1e-12), apogee_radius * (1 + 1e-12), radius=radius)
    return _orbit_speed(radius, perigee_radius, apogee_radius, gm)


@kernel
def period_kernel(semi_major_axis, gm):
    return 2.0 * math.pi * semi_major_axis * sqrt(semi_major_axis / gm)


@relation(
    kernel=period_kernel,
    symbol="T",
    words="period of the orbit",
    unit="s",
    letters={"semi_major_axis": AXIS, "gm": MU},
    source=f"{BRAEUNIG}, problem 4.2, {PAGE}",
)
def period(semi_major_axis: float, gm: float = GM) -> float:
    """Time once round, 2π·a·√(a/μ) [s].

    semi_major_axis  half the sum of perigee and apogee radius  [m]
    gm               gravitational parameter                    [m³/s²]

    Raises ValueError for an argument not above zero.

    >>> round(period(42_164_170.0))
    86164
    """
    above_zero(semi_major_axis=semi_major_axis, gm=gm)
    return period_kernel(semi_major_axis, gm)


def axis_of_period(duration: float, gm: float = GM) -> float:
    """Semi-major axis of the orbit with this period, (μ·(T/2π)²)^⅓ [m].

    >>> round(axis_of_period(86_164.1) / 1e3)
    42164
    """
    above_zero(duration=duration, gm=gm)
    return math.cbrt(gm * (duration / math.tau) ** 2)


@kernel
def _injection_speed(c3, radius, gm):
    return sqrt(c3 + 2.0 * gm / radius)


@relation(
    kernel=_injection_speed,
    symbol="v",
    words="speed at injection",
    unit="m/s",
    letters={
        "c3": Letter("C₃", "twice the specific energy", "m²/s²", -1e7, 1.5e8),
        "radius": Letter("r", "distance from the centre", "m", 6.4e6, 5e7),
        "gm": MU,
    },
    source="energy equation; textbook, from memory",
)
def injection_speed(c3: float, radius: float, gm: float = GM) -> float:
    """Speed at a distance that gives a C3, √(C₃ + 2·μ/r) [m/s].

    c3      twice the specific orbital energy; the square of the speed left far away  [m²/s²]
    radius  distance from the centre                                                 [m]
    gm      gravitational parameter                                                  [m³/s²]

    Raises ValueError when no speed has that energy there.

    >>> round(injection_speed(10e6, 6_563_137.0), 1)
    11465.9
    """
    above_zero(radius=radius, gm=gm)
    finite(c3=c3)
    if c3 + 2.0 * gm / radius < 0.0:
        raise ValueError(f"c3 must be at least {-2.0 * gm / radius:.6g} m²/s² at radius {radius} m, got {c3}")
    return _injection_speed(c3, radius, gm)
