"""Elements of an orbit, and motion along it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.physics.pattern import above_zero, atan2, finite, greatest, kernel, sqrt


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
