"""Where a stage would come down if everything stopped now: the instantaneous impact point, ground tracks."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from wetmass.flight.home import places
from wetmass.physics.earth import EARTH_RADIUS_WGS84, FLATTENING_WGS84, GM, OMEGA
from wetmass.record.flight import Trajectory
from wetmass.record.homecoming import ImpactPoint


def impact_point(state: Sequence[float], time: float, height: float = 0.0) -> ImpactPoint | None:
    """Where a state would meet the ground without air and thrust; None where it never would.

    state   x, y, z [m], vx, vy, vz [m/s], Earth-centred axes that do not turn
    time    since lift-off, sets how far the Earth has turned                    [s]
    height  of the ground above the ellipsoid                                    [m]

    Kepler's ellipse round a point mass down to the ellipsoid, then the Earth turned meanwhile.  Leaves out
    oblateness (some hundred metres for a suborbital stage) and air (it comes down shorter).
    """
    place, velocity = np.array(state[:3], dtype=float), np.array(state[3:6], dtype=float)
    r, square = float(np.linalg.norm(place)), float(velocity @ velocity)
    h = np.cross(place, velocity)
    momentum = float(np.linalg.norm(h))
    inverse = 2.0 / r - square / GM
    if inverse <= 0.0 or momentum < 1.0:
        return None
    axis = 1.0 / inverse
    pull = np.cross(velocity, h) / GM - place / r  # towards perigee, as long as the eccentricity
    e = float(np.linalg.norm(pull))
    parameter = momentum * momentum / GM
    if e < 1e-9:
        return None
    p = pull / e
    q = np.cross(h / momentum, p)
    found, direction = math.nan, place / r
    radius = _radius(float(direction[2])) + height
    for _ in range(30):
        cosine = (parameter / radius - 1.0) / e
        if not -1.0 <= cosine <= 1.0:
            return None
        angle = math.tau - math.acos(cosine)  # the way down
        if abs(angle - found) < 1e-13:
            break
        found = angle
        direction = math.cos(angle) * p + math.sin(angle) * q
        radius = _radius(float(direction[2])) + height
    now = math.atan2(float(place @ q), float(place @ p)) % math.tau
    wait = (_since_perigee(found, e, axis) - _since_perigee(now, e, axis)) % (
        math.tau * math.sqrt(axis**3 / GM)
    )
    there = time + wait
    latitude, longitude, _ = places.over_ground(radius * direction, there)
    return ImpactPoint(time, wait, latitude, longitude)


def _radius(sine: float) -> float:
    """Of the ellipsoid at the sine of a geocentric latitude [m]."""
    reduced = 1.0 - FLATTENING_WGS84
    return EARTH_RADIUS_WGS84 * reduced / math.sqrt(reduced**2 * (1.0 - sine**2) + sine**2)


def _since_perigee(angle: float, e: float, axis: float) -> float:
    """Time since perigee at a true anomaly [s]."""
    eccentric = 2.0 * math.atan2(
        math.sqrt(1.0 - e) * math.sin(0.5 * angle), math.sqrt(1.0 + e) * math.cos(0.5 * angle)
    )
    return (eccentric - e * math.sin(eccentric)) * math.sqrt(axis**3 / GM)


def states(trajectory: Trajectory) -> np.ndarray:
    """Time and state (rows, 7) of a recorded flight, up or home."""
    keys = {column.key for column in trajectory.columns}
    if "vx" in keys:
        return np.column_stack([trajectory[key] for key in ("time", "x", "y", "z", "vx", "vy", "vz")])
    columns = [
        trajectory[k]
        for k in ("time", "latitude", "longitude", "height", "air_speed", "path_angle", "heading")
    ]
    made = []
    for time, latitude, longitude, height, speed, path, heading in zip(*columns, strict=True):
        at = (math.radians(latitude), math.radians(longitude))
        made.append(
            (time, *places.release_state(time, *at, height, speed, math.radians(path), math.radians(heading)))
        )
    return np.array(made)


def impact_track(trajectory: Trajectory, height: float = 0.0) -> tuple[ImpactPoint, ...]:
    """The instantaneous impact points of a flight, up to where it would stay up."""
    found = []
    for row in states(trajectory):
        point = impact_point(row[1:], float(row[0]), height)
        if point is not None:
            found.append(point)
    return tuple(found)


def turned_with_earth(row: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Place [m] and speed [m/s] in axes that turn with the Earth, of (time, state)."""
    time, state = float(row[0]), row[1:]
    c, s = math.cos(OMEGA * time), math.sin(OMEGA * time)
    turn = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    return turn @ state[:3], turn @ places.ground_velocity(state)
