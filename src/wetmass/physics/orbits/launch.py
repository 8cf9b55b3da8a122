"""Headings of a launch, and the orbits a site can reach."""

from __future__ import annotations

import math

from wetmass.physics.pattern import (
    Letter,
    above_zero,
    acos,
    asin,
    atan2,
    cos,
    finite,
    kernel,
    not_negative,
    relation,
    sin,
    sqrt,
    within,
)


@kernel
def _launch_azimuth(latitude, inclination):
    return asin(cos(inclination) / cos(latitude))


@relation(
    kernel=_launch_azimuth,
    symbol="β",
    words="inertial launch azimuth",
    unit="rad",
    letters={
        "latitude": Letter("φ", "latitude of the site", "rad", -0.6, 0.6),
        "inclination": Letter("i", "inclination of the orbit", "rad", 0.7, 2.4),
    },
    source="spherical triangle, cos i = cos φ·sin β; common practice",
)
def launch_azimuth(latitude: float, inclination: float) -> float:
    """Northbound heading of an orbit's plane over a site, asin(cos i / cos φ) [rad].

    latitude     of the site (strictly the geocentric one)   [rad]
    inclination  of the orbit, 0 to π                        [rad]

    Clockwise from north, −π/2 to π/2, west negative; southbound it is π less this.  In inertial axes: the
    heading over the turning ground is `ground_azimuth`.  Raises ValueError when the plane does not pass
    over the site, naming the inclinations that do.

    >>> round(math.degrees(launch_azimuth(math.radians(28.5), math.radians(51.6))), 3)
    44.975
    """
    within(-math.pi / 2, math.pi / 2, latitude=latitude)
    within(0.0, math.pi, inclination=inclination)
    low = abs(latitude)
    if not low - 1e-12 <= inclination <= math.pi - low + 1e-12:
        raise ValueError(
            f"inclination must lie between {math.degrees(low):.4g}° and {180.0 - math.degrees(low):.4g}° "
            f"to pass over latitude {math.degrees(latitude):.4g}°, got {math.degrees(inclination):.4g}°"
        )
    if abs(math.cos(inclination)) >= math.cos(latitude):  # rounding at the edge: due east or west
        return math.copysign(math.pi / 2, math.cos(inclination))
    return _launch_azimuth(latitude, inclination)


_OVER_GROUND = {
    "azimuth": Letter("β", "inertial azimuth", "rad", -1.5, 3.1),
    "speed": Letter("v", "inertial speed", "m/s", 6000.0, 11_000.0),
    "eastward_speed": Letter("v_rot", "eastward speed of the turning Earth", "m/s", 0.0, 470.0),
}


@kernel
def _ground_azimuth(azimuth, speed, eastward_speed):
    return atan2(speed * sin(azimuth) - eastward_speed, speed * cos(azimuth))


@relation(
    kernel=_ground_azimuth, symbol="β_g", words="launch azimuth over the turning ground", unit="rad",
    letters=_OVER_GROUND, source="difference of velocities; common practice",
)  # fmt: skip
def ground_azimuth(azimuth: float, speed: float, eastward_speed: float) -> float:
    """Heading over the turning ground of an inertial heading [rad], −π to π clockwise from north.

    azimuth         inertial, clockwise from north              [rad]
    speed           inertial, that of the orbit                 [m/s]
    eastward_speed  of the ground, `earth.surface_speed`        [m/s]

    Raises ValueError for a speed not above zero.

    >>> round(math.degrees(ground_azimuth(math.radians(44.9751), 7788.0, 408.738)), 2)
    42.77
    """
    finite(azimuth=azimuth)
    above_zero(speed=speed)
    not_negative(eastward_speed=eastward_speed)
    return _ground_azimuth(azimuth, speed, eastward_speed)


@kernel
def _ground_speed(azimuth, speed, eastward_speed):
    return sqrt((speed * sin(azimuth) - eastward_speed) ** 2 + (speed * cos(azimuth)) ** 2)


@relation(
    kernel=_ground_speed, symbol="v_g", words="speed over the turning ground", unit="m/s",
    letters=_OVER_GROUND, source="difference of velocities; common practice",
)  # fmt: skip
def ground_speed(azimuth: float, speed: float, eastward_speed: float) -> float:
    """Speed over the turning ground of an inertial velocity [m/s]; arguments as `ground_azimuth`.

    >>> round(ground_speed(math.radians(44.9751), 7788.0, 408.738), 1)
    7504.7
    """
    finite(azimuth=azimuth)
    above_zero(speed=speed)
    not_negative(eastward_speed=eastward_speed)
    return _ground_speed(azimuth, speed, eastward_speed)


@kernel
def _inclination_of_heading(latitude, azimuth):
    return acos(cos(latitude) * sin(azimuth))


@relation(
    kernel=_inclination_of_heading,
    symbol="i",
    words="inclination reached",
    unit="rad",
    letters={
        "latitude": Letter("φ", "latitude of the site", "rad", -1.5, 1.5),
        "azimuth": Letter("β", "inertial azimuth", "rad", -3.0, 3.0),
    },
    source="spherical triangle, cos i = cos φ·sin β; common practice",
)
def inclination_of_heading(latitude: float, azimuth: float) -> float:
    """Inclination of the plane through a site along an inertial heading, acos(cos φ·sin β) [rad].

    latitude  of the site                      [rad]
    azimuth   inertial, clockwise from north   [rad]

    Raises ValueError for a latitude past a pole.

    >>> round(math.degrees(inclination_of_heading(math.radians(14.0), math.radians(90.0))), 6)
    14.0
    """
    within(-math.pi / 2, math.pi / 2, latitude=latitude)
    finite(azimuth=azimuth)
    return _inclination_of_heading(latitude, azimuth)


def reachable_inclinations(
    latitude: float, first_heading: float, last_heading: float, speed: float, eastward_speed: float
) -> tuple[float, float]:
    """Least and greatest inclination of orbits reached without a turn, from a span of headings [rad].

    latitude                     of the site                                              [rad]
    first_heading, last_heading  over the ground, clockwise from north, first below last   [rad]
    speed                        inertial, that of the orbit                               [m/s]
    eastward_speed               of the ground, `earth.surface_speed`                      [m/s]

    A heading due north or south over the ground still carries the ground's own speed east.  Raises
    ValueError when the headings do not rise or span more than a circle.

    >>> low, high = reachable_inclinations(math.radians(14.0), 0.0, math.pi, 7800.0, 451.0)
    >>> round(math.degrees(low), 6), round(math.degrees(high), 1)
    (14.0, 86.8)
    """
    within(-math.pi / 2, math.pi / 2, latitude=latitude)
    above_zero(speed=speed)
    within(0.0, 0.5 * speed, eastward_speed=eastward_speed)
    within(first_heading, first_heading + math.tau, last_heading=last_heading)
    marks = [first_heading, last_heading]
    quarter = math.ceil((first_heading / math.pi) - 0.5)
    while (turn := (quarter + 0.5) * math.pi) <= last_heading:  # due east and due west are extremes
        marks.append(turn)
        quarter += 1
    found = []
    for heading in marks:
        east, north = math.sin(heading), math.cos(heading)
        over_ground = math.sqrt(speed**2 - (eastward_speed * north) ** 2) - eastward_speed * east
        azimuth = math.atan2(over_ground * east + eastward_speed, over_ground * north)
        found.append(_inclination_of_heading(latitude, azimuth))
    return min(found), max(found)
