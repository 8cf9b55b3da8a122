"""Places on the turning Earth: of a state, and how far it is from where it should be."""

from __future__ import annotations

import math

import numpy as np

from wetmass.physics.earth import OMEGA, cartesian, geodetic, ground_distance
from wetmass.record.mission import Site


def over_ground(state: np.ndarray, time: float) -> tuple[float, float, float]:
    """Geodetic latitude, longitude [rad] and height [m] of a state at a time [s] since lift-off."""
    latitude, longitude, height = geodetic(float(state[0]), float(state[1]), float(state[2]))
    return latitude, math.remainder(longitude - OMEGA * time, math.tau), height


def earth_fixed(site: Site) -> tuple[float, float, float]:
    """Place of a site in axes that turn with the Earth [m]."""
    return cartesian(site.latitude, site.longitude, site.height)


def miss(state: np.ndarray, time: float, site: Site) -> tuple[float, float]:
    """How far a state lies north and east of a site, along the level of the site [m]."""
    c, s = math.cos(OMEGA * time), math.sin(OMEGA * time)
    x, y, z = c * state[0] + s * state[1], -s * state[0] + c * state[1], state[2]
    px, py, pz = earth_fixed(site)
    dx, dy, dz = x - px, y - py, z - pz
    sl, cl = math.sin(site.longitude), math.cos(site.longitude)
    sp, cp = math.sin(site.latitude), math.cos(site.latitude)
    east = -sl * dx + cl * dy
    north = -sp * cl * dx - sp * sl * dy + cp * dz
    return north, east


def frame(state: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Unit vectors towards north, east and up at a state, in axes that do not turn."""
    latitude, longitude, _ = geodetic(float(state[0]), float(state[1]), float(state[2]))
    sl, cl, sp, cp = math.sin(longitude), math.cos(longitude), math.sin(latitude), math.cos(latitude)
    north = np.array([-sp * cl, -sp * sl, cp])
    east = np.array([-sl, cl, 0.0])
    return north, east, np.array([cp * cl, cp * sl, sp])


def ground_velocity(state: np.ndarray) -> np.ndarray:
    """Speed over the turning Earth, in axes that do not turn [m/s]."""
    return np.array([state[3] + OMEGA * state[1], state[4] - OMEGA * state[0], state[5]])


def release_state(
    time: float,
    latitude: float,
    longitude: float,
    height: float,
    speed: float,
    path_angle: float,
    heading: float,
) -> tuple[float, ...]:
    """State from a place on the ground and a speed over the turning Earth; angles in radians.

    time since lift-off [s], geodetic latitude and longitude, height [m], speed [m/s], its angle above the
    horizon, its heading from north over east.
    """
    turned = longitude + OMEGA * time
    x, y, z = cartesian(latitude, turned, height)
    north, east, up = frame(np.array([x, y, z]))
    level = math.cos(path_angle)
    along = speed * (
        level * math.cos(heading) * north + level * math.sin(heading) * east + math.sin(path_angle) * up
    )
    return x, y, z, along[0] - OMEGA * y, along[1] + OMEGA * x, along[2]


def distance(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Along the ground between two (latitude, longitude) [m]."""
    return ground_distance(one[0], one[1], other[0], other[1])


def bearing(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Heading from one (latitude, longitude) to another on a sphere, from north over east [rad]."""
    turn = other[1] - one[1]
    east = math.sin(turn) * math.cos(other[0])
    north = math.cos(one[0]) * math.sin(other[0]) - math.sin(one[0]) * math.cos(other[0]) * math.cos(turn)
    return math.atan2(east, north) % math.tau
