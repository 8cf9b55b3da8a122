"""How far the end of a flight is from the orbit asked for, as conditions that are zero when it is met."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wetmass.flight import layout as at
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, OMEGA, geodetic
from wetmass.record.mission import Climb, Orbit

if TYPE_CHECKING:
    from wetmass.flight.ascent import Trial

NEARLY_CIRCULAR = 0.02  # eccentricity below which insertion is asked at perigee (or apogee) itself
SAME_AS_LATITUDE = math.radians(0.25)  # closer to the least inclination than this: at most, not exactly
INCLINATION_PLAY = math.radians(0.02)

ANYWHERE, AT_PERIGEE, AT_APOGEE = "anywhere", "at perigee", "at apogee"


def insertion_place(orbit: Orbit, coasting: bool) -> str:
    """Where on the orbit the last burn may end: fixed near a circle, where perigee has no direction."""
    if eccentricity(orbit) > NEARLY_CIRCULAR:
        return ANYWHERE
    return AT_APOGEE if coasting else AT_PERIGEE


def energy(orbit: Orbit) -> float:
    """Twice the energy per mass of the orbit asked for, its C3 [m²/s²]."""
    if orbit.c3 is not None:
        return orbit.c3
    return -2.0 * GM / (orbit.perigee + orbit.apogee + 2.0 * EARTH_RADIUS_WGS84)


def eccentricity(orbit: Orbit) -> float:
    """Of the orbit asked for; 1 and more where it is open."""
    return 1.0 + (orbit.perigee + EARTH_RADIUS_WGS84) * energy(orbit) / GM


def energy_scale(orbit: Orbit) -> float:
    """What a miss of the energy is measured by [m²/s²]: that of the orbit, unless it nearly escapes."""
    return max(-energy(orbit), 0.1 * GM / (orbit.perigee + EARTH_RADIUS_WGS84))


def shape_conditions(y, orbit: Orbit, place: str) -> list[float]:
    """Three conditions (two for `anywhere`) on a state: each is 0 when met, scaled to order 1 per 1 %."""
    x, yy, z, vx, vy, vz = (float(value) for value in y[:6])
    r = math.sqrt(x * x + yy * yy + z * z)
    v2 = vx * vx + vy * vy + vz * vz
    climb = (x * vx + yy * vy + z * vz) / r
    c3, low = energy(orbit), orbit.perigee + EARTH_RADIUS_WGS84
    if place == ANYWHERE:
        momentum = r * math.sqrt(max(v2 - climb * climb, 0.0))
        wanted = low * math.sqrt(c3 + 2.0 * GM / low)
        scale = energy_scale(orbit)
        return [100.0 * (0.5 * v2 - GM / r - 0.5 * c3) / scale, 100.0 * (momentum - wanted) / wanted]
    radius = low if place == AT_PERIGEE else orbit.apogee + EARTH_RADIUS_WGS84
    speed = math.sqrt(c3 + 2.0 * GM / radius)
    return [
        100.0 * (r - radius) / radius,
        100.0 * climb / speed,
        100.0 * (math.sqrt(v2) - speed) / speed,
    ]


def circle_conditions(y, height: float) -> list[float]:
    """Three conditions on a state: it is on a circle at `height` [m]."""
    return shape_conditions(y, Orbit(height, height), AT_PERIGEE)


def turned_conditions(y, orbit: Orbit) -> list[float]:
    """Conditions on where the orbit points: its perigee's argument, its way out's declination."""
    found = []
    if orbit.perigee_at_equator or orbit.argument_of_perigee is not None:
        sine, cosine = _argument(y)
        wanted = orbit.argument_of_perigee
        found.append(10.0 * (sine if wanted is None else _apart(sine, cosine, wanted)))
    if orbit.declination is not None:
        found.append(10.0 * (_way_out(y) - math.sin(orbit.declination)))
    return found


def _apart(sine: float, cosine: float, angle: float) -> float:
    """Difference of two angles, as twice the sine of its half: not blind to the opposite."""
    off = math.atan2(sine, cosine) - angle
    return 2.0 * math.sin(0.5 * math.remainder(off, math.tau))


def _argument(y) -> tuple[float, float]:
    """(sine, cosine) of the argument of perigee."""
    h, towards = _vectors(y)
    flat = math.hypot(h[0], h[1])
    size, long = math.hypot(*h), math.hypot(*towards)
    if long < 1e-9 or flat < 1e-9 * size:
        return 0.0, 1.0
    sine = towards[2] * size / (long * flat)
    cosine = (-h[1] * towards[0] + h[0] * towards[1]) / (long * flat)
    return sine, cosine


def _way_out(y) -> float:
    """Sine of the declination of the outgoing asymptote; of the apogee where there is none."""
    h, e = _vectors(y)
    long, size = math.hypot(*e), math.hypot(*h)
    ahead = (h[0] * e[1] - h[1] * e[0]) / (size * long)  # z of the unit vector a quarter turn past perigee
    if long <= 1.0:
        return -e[2] / long
    cosine = -1.0 / long
    return cosine * e[2] / long + math.sqrt(1.0 - cosine * cosine) * ahead


def _vectors(y) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """(angular momentum [m²/s], vector of length eccentricity towards perigee)."""
    x, yy, z, vx, vy, vz = (float(value) for value in y[:6])
    r = math.sqrt(x * x + yy * yy + z * z)
    h = (yy * vz - z * vy, z * vx - x * vz, x * vy - yy * vx)
    e = (
        (vy * h[2] - vz * h[1]) / GM - x / r,
        (vz * h[0] - vx * h[2]) / GM - yy / r,
        (vx * h[1] - vy * h[0]) / GM - z / r,
    )
    return h, e


def cosine_of_inclination(y) -> float:
    """cos i of a state."""
    x, yy, z, vx, vy, vz = (float(value) for value in y[:6])
    hx, hy, hz = yy * vz - z * vy, z * vx - x * vz, x * vy - yy * vx
    return hz / math.sqrt(hx * hx + hy * hy + hz * hz)


def climb_conditions(trial: Trial, climb: Climb) -> tuple[list[float], list[float]]:
    """(conditions = 0, conditions ≥ 0) for a height, and a speed and path asked for there.

    Height, speed and path angle hold at the last cut-off; with `at_apex` the height is that of the apex.
    """
    height = geodetic(*(float(v) for v in trial.state[:3]))[2]
    cut_off = trial.state
    if climb.at_apex:
        cut_off = trial.marks[len(trial.laid.segments) - 2, 1:]
    equal, at_least = [10.0 * (height / climb.height - 1.0)], []
    speed, angle = air_path(cut_off)
    if climb.speed is not None:
        off = 10.0 * (speed / climb.speed - 1.0)
        if climb.speed_at_least:
            at_least.append(off)
        else:
            equal.append(off)
    if climb.path_angle is not None:
        equal.append(angle - climb.path_angle)
    if trial.summary[at.STATUS] != at.DONE:
        equal[0] = -10.0  # it fell, or stopped being a flight
    return equal, at_least


def air_path(y) -> tuple[float, float]:
    """Speed over the turning Earth [m/s] and its angle above the horizon [rad]."""
    x, yy, z = (float(v) for v in y[:3])
    ux, uy, uz = float(y[3]) + OMEGA * yy, float(y[4]) - OMEGA * x, float(y[5])
    speed = math.sqrt(ux * ux + uy * uy + uz * uz)
    latitude, longitude, _ = geodetic(x, yy, z)
    up = (
        math.cos(latitude) * math.cos(longitude), math.cos(latitude) * math.sin(longitude), math.sin(latitude)
    )  # fmt: skip
    climb = ux * up[0] + uy * up[1] + uz * up[2]
    return speed, math.asin(max(-1.0, min(1.0, climb / max(speed, 1e-6))))
