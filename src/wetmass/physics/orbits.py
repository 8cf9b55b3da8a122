"""Two-body orbits, changes between them, launch into them, and what the Earth's bulge does to them.

Radii are from the centre; heights of perigee and apogee are above 6378.137 km at every latitude.
Angles in radians.  `gm` is the gravitational parameter of the body, the Earth's unless said.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, J2
from wetmass.physics.pattern import (
    Letter,
    above_zero,
    acos,
    asin,
    atan2,
    cos,
    finite,
    greatest,
    kernel,
    not_negative,
    relation,
    sin,
    sqrt,
    within,
)  # fmt: skip

_BRAEUNIG = "R. A. Braeunig, Rocket and Space Technology, Example Problems"
_PAGE = "http://www.braeunig.us/space/problem.htm"
_RADIUS = Letter("r", "distance from the centre", "m", 6.4e6, 5e8)
_MU = Letter("μ", "gravitational parameter", "m³/s²", 3e14, 5e14)
_AXIS = Letter("a", "semi-major axis", "m", 6.5e6, 5e7)

TROPICAL_YEAR = 365.2421897 * 86_400.0  # s: mean tropical year of 2000, from memory (Astronomical Almanac)


# ── speeds ───────────────────────────────────────────────────────────────────────────────────────


@kernel
def _circular_speed(radius, gm):
    return sqrt(gm / radius)


@relation(
    kernel=_circular_speed,
    symbol="v_c",
    words="circular orbit speed",
    unit="m/s",
    letters={"radius": _RADIUS, "gm": _MU},
    source=f"{_BRAEUNIG}, problem 4.1, {_PAGE}",
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
    letters={"radius": _RADIUS, "gm": _MU},
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
        "gm": _MU,
    },
    source=f"energy equation; {_BRAEUNIG}, problem 4.4, {_PAGE}",
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
def _period(semi_major_axis, gm):
    return 2.0 * math.pi * semi_major_axis * sqrt(semi_major_axis / gm)


@relation(
    kernel=_period,
    symbol="T",
    words="period of the orbit",
    unit="s",
    letters={"semi_major_axis": _AXIS, "gm": _MU},
    source=f"{_BRAEUNIG}, problem 4.2, {_PAGE}",
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
    return _period(semi_major_axis, gm)


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
        "gm": _MU,
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


# ── changes of orbit ─────────────────────────────────────────────────────────────────────────────


@kernel
def _hohmann_first(radius, other_radius, gm):
    return sqrt(gm / radius) * (sqrt(2.0 * other_radius / (radius + other_radius)) - 1.0)


_TWO_RADII = {
    "radius": Letter("r₁", "radius of the first orbit", "m", 6.4e6, 5e7),
    "other_radius": Letter("r₂", "radius of the second orbit", "m", 6.4e6, 4e8),
    "gm": _MU,
}
_HOHMANN = f"{_BRAEUNIG}, problem 4.19, {_PAGE}"


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
    return 0.5 * _period(0.5 * (radius + other_radius), gm)


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


# ── launch ───────────────────────────────────────────────────────────────────────────────────────


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


# ── the Earth's bulge ────────────────────────────────────────────────────────────────────────────


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
        "semi_major_axis": _AXIS,
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


# ── elements, and motion along the orbit ─────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Elements:
    """An orbit at one moment (osculating)."""

    semi_major_axis: float  # m; below zero for a hyperbola, inf for a parabola
    eccentricity: float
    inclination: float  # rad
    node: float  # rad, 0 to 2π, from the x axis; 0 where the orbit is equatorial
    perigee_argument: float  # rad, 0 to 2π, from the node; 0 where the orbit is circular
    true_anomaly: float  # rad, 0 to 2π, from perigee (from the node where circular)
    perigee_radius: float  # m
    apogee_radius: float  # m, inf where the orbit is open

    @property
    def perigee_height(self) -> float:
        """Above 6378.137 km [m]."""
        return self.perigee_radius - EARTH_RADIUS_WGS84

    @property
    def apogee_height(self) -> float:
        """Above 6378.137 km [m]."""
        return self.apogee_radius - EARTH_RADIUS_WGS84


_SPAN = (-8e6, 8e6)


@kernel(x=(6e6, 8e6), y=_SPAN, z=_SPAN, vx=(-4e3, 4e3), vy=(1e3, 8e3), vz=(-4e3, 4e3))
def orbit_kernel(x, y, z, vx, vy, vz):
    """Perigee radius [m], apogee radius [m], inclination [rad], eccentricity of a state round the Earth.

    x … vz  place [m] and inertial speed [m/s], z to the pole.  Where the orbit is open the apogee is 1e9
    times its parameter.
    """
    r = sqrt(x * x + y * y + z * z)
    square = vx * vx + vy * vy + vz * vz
    radial = x * vx + y * vy + z * vz
    hx, hy, hz = y * vz - z * vy, z * vx - x * vz, x * vy - y * vx
    flat = hx * hx + hy * hy
    one, two = (square - GM / r) / GM, radial / GM
    ex, ey, ez = one * x - two * vx, one * y - two * vy, one * z - two * vz
    e = sqrt(ex * ex + ey * ey + ez * ez)
    parameter = (flat + hz * hz) / GM
    apogee = parameter / greatest(1.0 - e, 1e-9)
    return parameter / (1.0 + e), apogee, atan2(sqrt(flat), hz), e


def elements(
    place: tuple[float, float, float], velocity: tuple[float, float, float], gm: float = GM
) -> Elements:
    """Orbit of a place [m] and an inertial velocity [m/s].

    Raises ValueError for a straight fall (no orbital plane) or a place at the centre.
    Source: Vallado, Fundamentals of Astrodynamics and Applications, algorithm RV2COE (from memory).

    >>> orbit = elements((7e6, 0.0, 0.0), (0.0, 7546.0, 0.0))
    >>> round(orbit.perigee_height), round(orbit.eccentricity, 5)
    (621665, 1e-05)
    """
    r = math.hypot(*place)
    if not 0.0 < r < math.inf:
        raise ValueError(f"place must be a finite distance from the centre above 0, got {place} m")
    h = _cross(place, velocity)
    size = math.hypot(*h)
    if not size > 1e-9 * r * math.sqrt(gm / r):
        raise ValueError(f"velocity must not point straight up or down, got {velocity} m/s at {place} m")
    square = _dot(velocity, velocity)
    radial = _dot(place, velocity)
    ecc = tuple(((square - gm / r) * p - radial * v) / gm for p, v in zip(place, velocity, strict=True))
    e = math.hypot(*ecc)
    inverse = 2.0 / r - square / gm
    axis = 1.0 / inverse if inverse != 0.0 else math.inf
    parameter = size * size / gm
    flat = math.hypot(h[0], h[1])
    tilted = flat > 1e-11 * size
    node = (-h[1] / flat, h[0] / flat, 0.0) if tilted else (1.0, 0.0, 0.0)
    ahead = _cross(tuple(part / size for part in h), node)
    bent = e > 1e-11
    start = math.atan2(_dot(ecc, ahead), _dot(ecc, node)) if bent else 0.0
    along = math.atan2(_dot(place, ahead), _dot(place, node))
    return Elements(
        semi_major_axis=axis,
        eccentricity=e,
        inclination=math.atan2(flat, h[2]),
        node=math.atan2(node[1], node[0]) % math.tau,
        perigee_argument=start % math.tau,
        true_anomaly=(along - start) % math.tau,
        perigee_radius=parameter / (1.0 + e),
        apogee_radius=parameter / (1.0 - e) if e < 1.0 else math.inf,
    )


def propagated(
    place: tuple[float, float, float], velocity: tuple[float, float, float], duration: float, gm: float = GM
) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Place [m] and velocity [m/s] after a time [s] of motion round a point mass; the time may be negative.

    Kepler's problem in universal variables (ellipse, parabola and hyperbola alike), solved by Laguerre's
    rule to rounding.  Raises ValueError when place or velocity is not usable.
    Source: B. A. Conway, "An improved algorithm due to Laguerre for the solution of Kepler's equation",
    Celestial Mechanics 39 (1986) 199 (from memory).

    >>> place, velocity = propagated((7e6, 0.0, 0.0), (0.0, 7546.05329, 0.0), 5828.516637686)
    >>> [round(part / 7e6, 6) + 0.0 for part in place]
    [1.0, 0.0, 0.0]
    """
    r = math.hypot(*place)
    if not 0.0 < r < math.inf or not math.isfinite(math.hypot(*velocity)):
        raise ValueError(f"place and velocity must be finite, place not the centre, got {place}, {velocity}")
    finite(duration=duration)
    above_zero(gm=gm)
    alpha = 2.0 / r - _dot(velocity, velocity) / gm
    if alpha > 0.0:  # whole turns change nothing
        duration = math.fmod(duration, math.tau / (alpha * math.sqrt(alpha * gm)))
    root = math.sqrt(gm)
    sigma = _dot(place, velocity) / root
    chi = root * duration * abs(alpha) if alpha != 0.0 else root * duration / r
    for _ in range(100):
        c2, c3 = _stumpff(alpha * chi * chi)
        f = sigma * chi**2 * c2 + (1.0 - alpha * r) * chi**3 * c3 + r * chi - root * duration
        df = sigma * chi * (1.0 - alpha * chi**2 * c3) + (1.0 - alpha * r) * chi**2 * c2 + r
        ddf = sigma * (1.0 - alpha * chi**2 * c2) + (1.0 - alpha * r) * chi * (1.0 - alpha * chi**2 * c3)
        bend = math.sqrt(abs(16.0 * df * df - 20.0 * f * ddf))
        step = 5.0 * f / (df + math.copysign(bend, df))
        chi -= step
        if abs(step) <= 1e-15 * max(abs(chi), math.sqrt(r)):
            break
    c2, c3 = _stumpff(alpha * chi * chi)
    far = r + sigma * chi * (1.0 - alpha * chi**2 * c3) + (1.0 - alpha * r) * chi**2 * c2
    f, g = 1.0 - chi**2 / r * c2, duration - chi**3 / root * c3
    df, dg = root / (far * r) * chi * (alpha * chi**2 * c3 - 1.0), 1.0 - chi**2 / far * c2
    there = tuple(f * p + g * v for p, v in zip(place, velocity, strict=True))
    moving = tuple(df * p + dg * v for p, v in zip(place, velocity, strict=True))
    return there, moving  # type: ignore[return-value]


def _stumpff(z: float) -> tuple[float, float]:
    """Stumpff's c₂ and c₃."""
    if abs(z) < 0.1:  # series: the closed forms lose digits near 0
        c2 = sum((-z) ** k / math.factorial(2 * k + 2) for k in range(9))
        c3 = sum((-z) ** k / math.factorial(2 * k + 3) for k in range(9))
        return c2, c3
    root = math.sqrt(abs(z))
    if z > 0.0:
        return 2.0 * math.sin(0.5 * root) ** 2 / z, (root - math.sin(root)) / root**3
    return 2.0 * math.sinh(0.5 * root) ** 2 / -z, (math.sinh(root) - root) / root**3


def _dot(one: tuple[float, ...], two: tuple[float, ...]) -> float:
    return sum(a * b for a, b in zip(one, two, strict=True))


def _cross(one: tuple[float, ...], two: tuple[float, ...]) -> tuple[float, float, float]:
    (a, b, c), (d, e, f) = one, two
    return b * f - c * e, c * d - a * f, a * e - b * d
