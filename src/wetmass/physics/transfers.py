"""Ways to other bodies by patched conics, and what is left to do on arrival.

Orbits of the bodies are taken as circles in one plane, so nothing here needs a date: a true window asks
more or less energy, by its year.  Radii are from the centre of the body named.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.physics.earth import GM
from wetmass.physics.orbits import circular_speed, hohmann_duration, turned_speed_change
from wetmass.physics.pattern import Letter, above_zero, finite, kernel, relation, sqrt, within

GM_SUN = 1.327_124_400_18e20  # m³/s², JPL DE405 (from memory)
ASTRONOMICAL_UNIT = 149_597_870_700.0  # m, exact: IAU 2012 resolution B2
MOON_DISTANCE = 384_400e3  # m, mean from the Earth's centre (from memory: NASA fact sheet)
GM_MOON = 4.9028e12  # m³/s² (from memory: NASA fact sheet)
MOON_RADIUS = 1_737.4e3  # m, mean (from memory: NASA fact sheet)
MOON_ORBIT = 100e3  # m above the mean radius: the low orbit meant where none is said (common practice)
GEOSTATIONARY_HEIGHT = 35_786e3  # m above 6378.137 km: a period of one sidereal day, see `axis_of_period`

# From a circle 100 km up to the surface: 2.180 km/s with 5 % reserve in it, so 2.076 km/s.
# Source: table 4 of Acta Astronautica 177 (2020) 351, doi 10.1016/j.actaastro.2020.07.032, which has it
# from Mueller (2012).  A burn at once from 15 km up would take 1.7 km/s; the rest is gravity and hovering.
MOON_LANDING = 2180.0 / 1.05  # m/s
# TLI to the 100 km circle in the same table: 0.952 km/s with 5 % reserve.  Ours is that of the slowest way.
MOON_CAPTURE_PRINTED = 952.0 / 1.05  # m/s


@dataclass(frozen=True, slots=True)
class Planet:
    """A planet as a target: its distance from the sun."""

    name: str
    sun_distance: float  # m, semi-major axis


# AU: JPL, Keplerian elements for approximate positions of the major planets, 1800–2050 (from memory)
_AXES = {
    "Mercury": 0.38709927,
    "Venus": 0.72333566,
    "Earth": 1.00000261,
    "Mars": 1.52371034,
    "Jupiter": 5.20288700,
    "Saturn": 9.53667594,
    "Uranus": 19.18916464,
    "Neptune": 30.06992276,
}
PLANETS = {name: Planet(name, axis * ASTRONOMICAL_UNIT) for name, axis in _AXES.items()}


@kernel
def _transfer_c3(radius, other_radius, gm):
    return gm / radius * (sqrt(2.0 * other_radius / (radius + other_radius)) - 1.0) ** 2


@relation(
    kernel=_transfer_c3,
    symbol="C₃",
    words="energy to leave with",
    unit="m²/s²",
    letters={
        "radius": Letter("r₁", "distance of the Earth from the sun", "m", 1.4e11, 1.6e11),
        "other_radius": Letter("r₂", "distance of the planet from the sun", "m", 5e10, 5e12),
        "gm": Letter("μ_S", "gravitational parameter of the sun", "m³/s²", 1.3e20, 1.35e20),
    },
    source="square of the first burn of a Hohmann transfer round the sun; textbook, from memory",
)
def transfer_c3(radius: float, other_radius: float, gm: float = GM_SUN) -> float:
    """C3 that puts a probe on the Hohmann transfer to a planet, Δv₁² [m²/s²].

    radius, other_radius  of the two circles round the sun  [m]
    gm                    of the sun                        [m³/s²]

    Circles in one plane: real windows to Mars ask 8 to 16 km²/s².  Raises ValueError for an argument not
    above zero.

    >>> round(transfer_c3(PLANETS["Earth"].sun_distance, PLANETS["Mars"].sun_distance) / 1e6, 2)
    8.67
    """
    above_zero(radius=radius, other_radius=other_radius, gm=gm)
    return _transfer_c3(radius, other_radius, gm)


def planet_c3(name: str) -> float:
    """C3 of the Hohmann transfer from the Earth to a planet [m²/s²]; KeyError for one that is not listed."""
    return transfer_c3(PLANETS["Earth"].sun_distance, PLANETS[name].sun_distance)


def planet_duration(name: str) -> float:
    """Time of that transfer [s].

    >>> round(planet_duration("Mars") / 86400)
    259
    """
    return hohmann_duration(PLANETS["Earth"].sun_distance, PLANETS[name].sun_distance, GM_SUN)


def ellipse_c3(perigee_radius: float, apogee_radius: float, gm: float = GM) -> float:
    """C3 of an ellipse, −2·μ/(r_p + r_a) [m²/s²].

    perigee_radius, apogee_radius  nearest and farthest distance  [m]

    Raises ValueError when the apogee lies below the perigee.

    >>> round(ellipse_c3(6_563_137.0, MOON_DISTANCE) / 1e6, 3)
    -2.039
    """
    above_zero(perigee_radius=perigee_radius, gm=gm)
    within(perigee_radius, math.inf, apogee_radius=apogee_radius)
    return -2.0 * gm / (perigee_radius + apogee_radius)


def moon_c3(perigee_radius: float) -> float:
    """C3 of the ellipse that just reaches the Moon's distance: the slowest and cheapest way [m²/s²]."""
    return ellipse_c3(perigee_radius, MOON_DISTANCE)


@kernel
def _meeting_speed(c3, perigee_radius, distance, body_speed, gm):
    square = c3 + 2.0 * gm / distance
    across = perigee_radius * sqrt(c3 + 2.0 * gm / perigee_radius) / distance
    return sqrt(square + body_speed**2 - 2.0 * body_speed * across)


@relation(
    kernel=_meeting_speed,
    symbol="v_∞",
    words="speed relative to the Moon as it is met",
    unit="m/s",
    letters={
        "c3": Letter("C₃", "twice the specific energy", "m²/s²", -2.0e6, 1e6),
        "perigee_radius": Letter("r_p", "perigee radius", "m", 6.5e6, 7e6),
        "distance": Letter("d", "distance of the Moon", "m", 3.6e8, 3.83e8),
        "body_speed": Letter("v_M", "speed of the Moon round the Earth", "m/s", 950.0, 1100.0),
        "gm": Letter("μ", "gravitational parameter of the Earth", "m³/s²", 3.98e14, 3.99e14),
    },
    source="patched conics: difference of the two speeds where the orbits meet; textbook, from memory",
)
def meeting_speed(
    c3: float, perigee_radius: float, distance: float, body_speed: float, gm: float = GM
) -> float:
    """Speed relative to a moon on a circle, where the way out crosses its orbit [m/s].

    c3              twice the specific energy of the way out           [m²/s²]
    perigee_radius  of the way out                                     [m]
    distance        of the moon from the planet's centre               [m]
    body_speed      of the moon round the planet                       [m/s]
    gm              gravitational parameter of the planet              [m³/s²]

    Both ways lie in one plane.  Raises ValueError when the way out does not get that far.

    >>> speed = circular_speed(MOON_DISTANCE, GM + GM_MOON)
    >>> round(meeting_speed(moon_c3(6_563_137.0), 6_563_137.0, MOON_DISTANCE, speed))
    838
    """
    above_zero(perigee_radius=perigee_radius, distance=distance, body_speed=body_speed, gm=gm)
    finite(c3=c3)
    within(ellipse_c3(perigee_radius, distance, gm) - 1.0, math.inf, c3=c3)
    return _meeting_speed(c3, perigee_radius, distance, body_speed, gm)


@kernel
def _capture_burn(speed, radius, gm):
    return sqrt(speed**2 + 2.0 * gm / radius) - sqrt(gm / radius)


@relation(
    kernel=_capture_burn,
    symbol="Δv",
    words="burn into a circle round the body",
    unit="m/s",
    letters={
        "speed": Letter("v_∞", "speed far from the body", "m/s", 0.0, 1e4),
        "radius": Letter("r", "radius of the circle", "m", 1.75e6, 1e7),
        "gm": Letter("μ", "gravitational parameter of the body", "m³/s²", 4.9e12, 4.91e12),
    },
    source="energy equation at the nearest point; textbook, from memory",
)
def capture_burn(speed: float, radius: float, gm: float) -> float:
    """Speed change at the nearest point that leaves a circle there, √(v∞² + 2μ/r) − √(μ/r) [m/s].

    speed   relative to the body, far from it   [m/s]
    radius  of the circle                       [m]
    gm      of the body                         [m³/s²]

    One burn at once.  Raises ValueError for a negative speed, a radius or gm not above zero.

    >>> round(capture_burn(838.0, MOON_RADIUS + MOON_ORBIT, GM_MOON))
    824
    """
    above_zero(radius=radius, gm=gm)
    within(0.0, math.inf, speed=speed)
    return _capture_burn(speed, radius, gm)


def moon_capture(c3: float, perigee_radius: float, height: float = MOON_ORBIT) -> float:
    """Burn into a circle `height` above the Moon after the way out with `c3` [m/s]."""
    speed = circular_speed(MOON_DISTANCE, GM + GM_MOON)
    met = meeting_speed(c3, perigee_radius, MOON_DISTANCE, speed)
    return capture_burn(met, MOON_RADIUS + height, GM_MOON)


def apogee_burn(perigee_radius: float, apogee_radius: float, turn: float) -> float:
    """Burn at apogee that rounds the orbit and turns its plane by `turn` [rad], at once [m/s].

    >>> round(apogee_burn(6_578_137.0, 42_164_137.0, math.radians(28.5)))
    1836
    """
    above_zero(perigee_radius=perigee_radius)
    within(perigee_radius, math.inf, apogee_radius=apogee_radius)
    circle = circular_speed(apogee_radius)
    before = circle * math.sqrt(2.0 * perigee_radius / (perigee_radius + apogee_radius))
    return turned_speed_change(before, circle, turn)


def moon_duration(perigee_radius: float) -> float:
    """Time to the Moon by the slowest way [s].

    >>> round(moon_duration(6_563_137.0) / 86400, 1)
    5.0
    """
    return hohmann_duration(perigee_radius, MOON_DISTANCE)
