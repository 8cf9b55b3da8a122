"""The Earth: WGS-84 ellipsoid, gravity with its oblateness, rotation, distances along the ground.

Axes are Earth-centred with z through the north pole.  Latitudes are geodetic unless said otherwise,
angles in radians, heights above the WGS-84 ellipsoid.  Heights of *orbits* are counted from the
equatorial radius instead (`wetmass.physics.orbits`).
"""

from __future__ import annotations

import math

from wetmass.physics.pattern import Letter, cos, finite, kernel, not_negative, relation, sin, sqrt, within

_TR8350_2 = "NIMA TR8350.2, Department of Defense World Geodetic System 1984, 3rd edition"

EARTH_RADIUS_WGS84 = 6_378_137.0  # m, equatorial (semi-major axis a): NIMA TR8350.2, table 3.1
FLATTENING_WGS84 = 1.0 / 298.257223563  # NIMA TR8350.2, table 3.1
GM = 3.986004418e14  # m³/s², with the atmosphere: NIMA TR8350.2, table 3.1
OMEGA = 7.292115e-5  # rad/s: NIMA TR8350.2, table 3.1
J2 = 1.082629821313e-3  # J2 of the WGS-84 ellipsoid, −√5·C̄20, C̄20 = −0.484166774985e-3: TR8350.2, table 3.3
POLAR_RADIUS_WGS84 = EARTH_RADIUS_WGS84 * (1.0 - FLATTENING_WGS84)  # m, 6 356 752.3142

_E2 = FLATTENING_WGS84 * (2.0 - FLATTENING_WGS84)  # first eccentricity squared
AXIS_RATIO_SQUARED = 1.0 / (1.0 - _E2)  # (a/b)²: the normal of the ellipsoid points along (x, y, z·(a/b)²)
_EP2 = _E2 / (1.0 - _E2)  # second eccentricity squared
_A, _B = EARTH_RADIUS_WGS84, POLAR_RADIUS_WGS84
_AF, _F2, _F3, _F4 = (_A * FLATTENING_WGS84**power for power in (1, 2, 3, 4))  # m
_FAR = (-9.0e6, 9.0e6)


# ── gravity ──────────────────────────────────────────────────────────────────────────────────────


@kernel(x=_FAR, y=_FAR, z=(6.0e6, 9.0e6))
def gravity_kernel(x, y, z):
    """Acceleration (gx, gy, gz) [m/s²] at a place [m] in Earth-centred axes: point mass and J2."""
    square = x * x + y * y + z * z
    one = 1.0 / square
    pull = -GM * one * sqrt(one)
    bulge = 1.5 * J2 * _A * _A * one
    lean = 5.0 * z * z * one
    across = pull * (1.0 + bulge * (1.0 - lean))
    return across * x, across * y, pull * (1.0 + bulge * (3.0 - lean)) * z


def gravity(x: float, y: float, z: float) -> tuple[float, float, float]:
    """Pull of the oblate Earth, point mass and J2, without the rotation [m/s²].

    x, y, z  place in Earth-centred axes, z to the north pole; not inside the Earth  [m]

    Leaves out harmonics past J2 (below 3e-5 of the whole).  Raises ValueError for a non-finite place
    and within 1 km of the centre.
    Source: gradient of U = (GM/r)·[1 − J2·(a/r)²·(3 sin²φ − 1)/2]; constants NIMA TR8350.2.

    >>> round(gravity(6378137.0, 0.0, 0.0)[0], 5)
    -9.8142
    """
    finite(x=x, y=y, z=z)
    if x * x + y * y + z * z < 1e6:
        raise ValueError(f"place must be more than 1 km from the Earth's centre, got ({x}, {y}, {z}) m")
    return gravity_kernel(x, y, z)


# ── height, and places on the ellipsoid ──────────────────────────────────────────────────────────


@kernel(x=_FAR, y=_FAR, z=(6.0e6, 9.0e6))
def height_kernel(x, y, z):
    """Height [m] above the WGS-84 ellipsoid of a place [m] in Earth-centred axes.

    Closed form with one root and one division, smooth down to the Earth's core, poles included.
    Heights are a distance, so |∇h| = 1; that equation with h = 0 on the ellipsoid, solved in powers of
    the flattening f, gives polynomials in s = (z/r)² and q = a/r.  Kept to f⁴ (made here; the terms
    to f² are the known ones).  Measured error: below 1e-6 m from 5 km under the ellipsoid outwards.
    """
    square = x * x + y * y + z * z
    one = 1.0 / square
    r = sqrt(square)
    q = _A * r * one
    s = z * z * one
    t = s - s * s
    c0 = _F2 * -0.5 - s * (_F3 * 0.5 - _F4 * 0.125) - s * s * (_F4 * 0.625)
    c1 = (2.0 * _F2 - 2.0 * _F3 + 0.5 * _F4) + s * (4.0 * _F3 - 6.0 * _F4) + s * s * (8.0 * _F4)
    c2 = (4.0 * _F3 - 6.0 * _F4) - s * (8.0 * _F3) + t * (32.0 * _F4)
    c3 = 8.0 * _F4 - t * (42.0 * _F4)
    return r - _A + _AF * s + t * (c0 + q * (c1 + q * (c2 + q * c3)))


def height(x: float, y: float, z: float) -> float:
    """Height above the WGS-84 ellipsoid [m].

    x, y, z  place in Earth-centred axes, z to the north pole  [m]

    Error below 1e-6 m at all latitudes, from 5 km under the surface outwards (see `height_kernel`).
    Raises ValueError for a non-finite place and within 1000 km of the centre.

    >>> height(6378137.0, 0.0, 0.0)
    0.0
    """
    finite(x=x, y=y, z=z)
    if x * x + y * y + z * z < 1e12:
        raise ValueError(f"place must be more than 1000 km from the Earth's centre, got ({x}, {y}, {z}) m")
    return height_kernel(x, y, z)


@kernel(latitude=(-1.570796, 1.570796), longitude=(-3.14, 3.14), height=(-1e3, 2e6))
def cartesian_kernel(latitude, longitude, height):
    """Earth-centred place (x, y, z) [m] of a geodetic latitude, longitude [rad] and height [m]."""
    sine = sin(latitude)
    cross = _A / sqrt(1.0 - _E2 * sine * sine)
    out = (cross + height) * cos(latitude)
    return out * cos(longitude), out * sin(longitude), (cross * (1.0 - _E2) + height) * sine


def cartesian(latitude: float, longitude: float, height: float) -> tuple[float, float, float]:
    """Earth-centred place (x, y, z) of a geodetic position [m].

    latitude   geodetic, north positive        [rad]
    longitude  east positive                   [rad]
    height     above the WGS-84 ellipsoid      [m]

    Raises ValueError for a latitude past a pole or a non-finite value.
    Source: NIMA TR8350.2, equation 4-14.

    >>> cartesian(0.0, 0.0, 1000.0)
    (6379137.0, 0.0, 0.0)
    """
    within(-math.pi / 2, math.pi / 2, latitude=latitude)
    finite(longitude=longitude, height=height)
    return cartesian_kernel(latitude, longitude, height)


def geodetic(x: float, y: float, z: float) -> tuple[float, float, float]:
    """Geodetic latitude [rad], longitude [rad] and height [m] of an Earth-centred place [m].

    Bowring's rule repeated until the latitude stands still (two or three turns): to rounding
    everywhere from 1000 km off the centre outwards.  At a pole the longitude is 0.
    Raises ValueError as `height` does.

    >>> latitude, longitude, height = geodetic(*cartesian(0.25, -0.7, 300e3))
    >>> round(latitude, 12), round(longitude, 12), round(height, 6)
    (0.25, -0.7, 300000.0)
    """
    finite(x=x, y=y, z=z)
    if x * x + y * y + z * z < 1e12:
        raise ValueError(f"place must be more than 1000 km from the Earth's centre, got ({x}, {y}, {z}) m")
    out = math.hypot(x, y)
    reduced = math.atan2(_B * z * (1.0 + _EP2 * _B / math.hypot(out, z)), _A * out)
    latitude = 9.0
    for _ in range(10):
        before = latitude
        latitude = math.atan2(z + _EP2 * _B * math.sin(reduced) ** 3, out - _E2 * _A * math.cos(reduced) ** 3)
        if abs(latitude - before) < 1e-15:
            break
        reduced = math.atan2((1.0 - FLATTENING_WGS84) * math.sin(latitude), math.cos(latitude))
    sine = math.sin(latitude)
    above = out * math.cos(latitude) + z * sine - _A * math.sqrt(1.0 - _E2 * sine * sine)
    return latitude, math.atan2(y, x), above


def geodetic_latitude(x: float, y: float, z: float) -> float:
    """Geodetic latitude of an Earth-centred place [rad]; see `geodetic`."""
    return geodetic(x, y, z)[0]


# ── along the ground ─────────────────────────────────────────────────────────────────────────────


def ground_distance(
    latitude: float, longitude: float, other_latitude: float, other_longitude: float
) -> float:
    """Shortest way along the ellipsoid between two places [m].

    latitude, longitude              geodetic, of the first place   [rad]
    other_latitude, other_longitude  geodetic, of the second place  [rad]

    Lambert's formula on reduced latitudes, no iteration.  Near the opposite side of the Earth it
    degrades: within 0.5° of it, half the mean circumference less the rest is a fair reading only.
    Raises ValueError for a latitude past a pole or a non-finite longitude.
    Source: W. D. Lambert, "The distance between two widely separated points on the surface of the
    Earth", J. Washington Academy of Sciences 32 (1942) 125 (from memory).

    >>> round(ground_distance(0.0, 0.0, 0.0, 0.1))  # along the equator: a·Δλ
    637814
    """
    within(-math.pi / 2, math.pi / 2, latitude=latitude, other_latitude=other_latitude)
    finite(longitude=longitude, other_longitude=other_longitude)
    one = math.atan((1.0 - FLATTENING_WGS84) * math.tan(latitude))
    two = math.atan((1.0 - FLATTENING_WGS84) * math.tan(other_latitude))
    mean, half = 0.5 * (one + two), 0.5 * (two - one)
    turn = 0.5 * (other_longitude - longitude)
    hav = math.sin(half) ** 2 + math.cos(one) * math.cos(two) * math.sin(turn) ** 2
    hav = min(hav, 1.0)
    if hav == 0.0:
        return 0.0
    arc = 2.0 * math.asin(math.sqrt(hav))
    if hav > 1.0 - 1e-12:
        return _A * arc
    x = (arc - math.sin(arc)) * (math.sin(mean) * math.cos(half)) ** 2 / (1.0 - hav)
    y = (arc + math.sin(arc)) * (math.cos(mean) * math.sin(half)) ** 2 / hav
    return _A * (arc - 0.5 * FLATTENING_WGS84 * (x + y))


# ── rotation ─────────────────────────────────────────────────────────────────────────────────────


@kernel
def _surface_speed(latitude, height):
    sine = sin(latitude)
    return OMEGA * (_A / sqrt(1.0 - _E2 * sine * sine) + height) * cos(latitude)


@relation(
    kernel=_surface_speed,
    symbol="v_rot",
    words="eastward speed of the turning Earth",
    unit="m/s",
    letters={
        "latitude": Letter("φ", "geodetic latitude", "rad", -1.5707, 1.5707),
        "height": Letter("h", "height above the ellipsoid", "m", 0.0, 1e5),
    },
    source=f"{_TR8350_2}: ω, a, f of table 3.1; prime vertical radius of equation 4-15",
)
def surface_speed(latitude: float, height: float = 0.0) -> float:
    """Eastward speed of a place that turns with the Earth, ω·(N + h)·cos φ [m/s].

    latitude  geodetic                            [rad]
    height    above the WGS-84 ellipsoid, not < 0  [m]

    N is the radius of curvature in the prime vertical.  Raises ValueError for a latitude past a pole
    or a negative height.

    >>> round(surface_speed(0.0), 2)
    465.1
    """
    within(-math.pi / 2, math.pi / 2, latitude=latitude)
    not_negative(height=height)
    return _surface_speed(latitude, height)
