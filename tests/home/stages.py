"""Stages to bring home in tests: published ones, and invented ones of the size of a small launcher."""

import math
from functools import cache
from pathlib import Path

from ruamel.yaml import YAML

from wetmass.flight.home.places import frame, release_state
from wetmass.physics.earth import OMEGA, cartesian
from wetmass.record.homecoming import Jets, Released
from wetmass.record.mission import Site
from wetmass.record.vehicle import EngineGroup

FLIGHTS = Path(__file__).resolve().parents[1] / "data" / "flights.yaml"
SITE = Site(math.radians(14.2), math.radians(-40.0), 20.0)


@cache
def published():
    return YAML(typ="safe").load(FLIGHTS)


def event(flight, name):
    return next(one for one in published()[flight]["events"] if one["id"] == name)


def inertial_state(time, latitude, longitude, height, speed, path_angle, heading):
    """State from a space-fixed speed; angles in degrees."""
    la, lo, path, way = (math.radians(v) for v in (latitude, longitude, path_angle, heading))
    place = cartesian(la, lo + OMEGA * time, height)
    north, east, up = frame(place)
    level = math.cos(path)
    v = speed * (level * math.cos(way) * north + level * math.sin(way) * east + math.sin(path) * up)
    return (*place, *(float(part) for part in v))


def small_first(propellant=3000.0, *, floor=0.4, ignitions=4, count=7, dry=8110.0, thrust=231_750.0):
    """The first stage of a small methane launcher 71 km up at 2.5 km/s, southbound."""
    state = release_state(
        167.0, *map(math.radians, (13.13, -40.2)), 71e3, 2491.0, *map(math.radians, (25.2, 190.0))
    )
    engines = (EngineGroup("engines", count, thrust, 0.2147, 341.0, floor, ignitions),)
    return Released("first", 167.0, state, dry, propellant, 3.1, 18.0, engines)


def heavy_bottom(propellant=9000.0):
    """A broad bottom stage, let go low and slow: 45 km up at 1.5 km/s, eastbound."""
    state = release_state(
        120.0, *map(math.radians, (14.15, -39.7)), 45e3, 1500.0, *map(math.radians, (35.0, 95.0))
    )
    engines = (EngineGroup("engines", 6, 1.2e6, 1.0, 330.0, 0.5, 3),)
    return Released("bottom", 120.0, state, 60e3, propellant, 9.0, 18.0, engines)


def fans(static_thrust=1.3e6, **more):
    """Turbofans of 0.35 lb/(lbf·h) on the test stand."""
    return Jets(static_thrust, 300.0, static_thrust * 0.35 / 3600.0 / 9.80665, **more)


def upper_in_orbit(propellant=200.0):
    """A small upper stage on a circle of 500 km, nearly over the poles."""
    radius, inclination = 6_878_137.0, math.radians(97.4)
    speed = math.sqrt(3.986004418e14 / radius)
    state = (radius, 0.0, 0.0, 0.0, speed * math.cos(inclination), speed * math.sin(inclination))
    engines = (EngineGroup("engine", 1, 240e3, 2.0, 363.0, 0.4, 4),)
    return Released("second", 3000.0, state, 2100.0, propellant, 3.1, 9.0, engines)
