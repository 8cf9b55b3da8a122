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
    _, e = size_and_shape(orbit)
    if e > NEARLY_CIRCULAR and not coasting:
        return ANYWHERE
    return AT_APOGEE if coasting and e <= NEARLY_CIRCULAR else AT_PERIGEE if not coasting else ANYWHERE


def size_and_shape(orbit: Orbit) -> tuple[float, float]:
    """Semi-major axis [m] and eccentricity of the orbit asked for."""
    low, high = orbit.perigee + EARTH_RADIUS_WGS84, orbit.apogee + EARTH_RADIUS_WGS84
    return 0.5 * (low + high), (high - low) / (high + low)


def shape_conditions(y, orbit: Orbit, place: str) -> list[float]:
    """Three conditions (two for `anywhere`) on a state: each is 0 when met, scaled to order 1 per 1 %."""
    x, yy, z, vx, vy, vz = (float(value) for value in y[:6])
    r = math.sqrt(x * x + yy * yy + z * z)
    v2 = vx * vx + vy * vy + vz * vz
    climb = (x * vx + yy * vy + z * vz) / r
    a, e = size_and_shape(orbit)
    if place == ANYWHERE:
        energy = 0.5 * v2 - GM / r
        momentum = r * math.sqrt(max(v2 - climb * climb, 0.0))
        wanted = math.sqrt(GM * a * (1.0 - e * e))
        scale = GM / a
        return [100.0 * (energy + 0.5 * scale) / scale, 100.0 * (momentum - wanted) / wanted]
    radius = a * (1.0 - e) if place == AT_PERIGEE else a * (1.0 + e)
    speed = math.sqrt(GM * (2.0 / radius - 1.0 / a))
    return [
        100.0 * (r - radius) / radius,
        100.0 * climb / speed,
        100.0 * (math.sqrt(v2) - speed) / speed,
    ]


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
