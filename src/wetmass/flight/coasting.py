"""First unknowns for an ascent whose last stage coasts and burns again.

The ascent is first solved to the ellipse it will coast on, with the second burn's propellant set aside by
the rocket equation; its unknowns then start the search with both burns flown.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from wetmass.flight import goal
from wetmass.flight.ascent import Ascent
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.physics.orbits import orbit_speed, period
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.mission import Orbit
from wetmass.record.vehicle import Vehicle

LOW = 160e3  # m: perigee of the coasting ellipse to start from; the optimum moves it


def first_leg(ascent: Ascent) -> Ascent:
    """The same ascent to its coasting ellipse, one burn, the second burn's propellant kept aboard."""
    ellipse, speed = _coasting_ellipse(ascent.orbit)

    def build(found: Sequence[float]) -> Vehicle:
        vehicle = ascent.build(found)
        first, second = _split(vehicle, speed)
        last = vehicle.stages[-1]
        p = last.propellant
        kept = replace(p, burns=first, reserve=p.reserve + second)
        return replace(vehicle, stages=(*vehicle.stages[:-1], replace(last, propellant=kept)))

    return replace(ascent, orbit=ellipse, coasting=False, build=build, place=goal.AT_PERIGEE)


def both_legs(ascent: Ascent, x: np.ndarray) -> np.ndarray:
    """Unknowns of the whole `ascent` from those of its first leg."""
    ellipse, speed = _coasting_ellipse(ascent.orbit)
    opened = x[len(x) - len(ascent.open_unknowns) :]
    vehicle = ascent.build(opened)
    first, second = _split(vehicle, speed)
    low, high = ellipse.perigee + EARTH_RADIUS_WGS84, ellipse.apogee + EARTH_RADIUS_WGS84
    half = 0.5 * period(0.5 * (low + high), GM)
    burn = second / vehicle.stages[-1].flow
    coast = max(30.0, half - 0.5 * burn) if _raises_perigee(ascent.orbit) else 600.0
    steering = x[: len(x) - len(ascent.open_unknowns)]
    return np.concatenate([steering, [first / (first + second), coast, 0.0, 0.0, 0.0], opened])


def _raises_perigee(orbit: Orbit) -> bool:
    """Whether the second burn comes at apogee (a circle, or nearly) rather than low down."""
    return goal.size_and_shape(orbit)[1] <= goal.NEARLY_CIRCULAR or orbit.perigee > 600e3


def _coasting_ellipse(orbit: Orbit) -> tuple[Orbit, float]:
    """The ellipse between the burns, and the speed the second burn adds [m/s]."""
    low, high = orbit.perigee + EARTH_RADIUS_WGS84, orbit.apogee + EARTH_RADIUS_WGS84
    if _raises_perigee(orbit):
        parking = min(orbit.perigee, LOW) + EARTH_RADIUS_WGS84
        speed = orbit_speed(high, low, high) - orbit_speed(high, parking, high)
        return replace(orbit, perigee=parking - EARTH_RADIUS_WGS84), speed
    speed = orbit_speed(low, low, high) - orbit_speed(low, low, low)
    return replace(orbit, apogee=orbit.perigee), speed


def _split(vehicle: Vehicle, speed: float) -> tuple[float, float]:
    """Propellant of the first and second burn of the last stage [kg], the second giving `speed` [m/s]."""
    last = vehicle.stages[-1]
    p = last.propellant
    empty = (
        vehicle.payload
        + last.dry_mass
        + p.residuals
        + p.reserve
        + p.home
        + sum(i.mass for i in vehicle.other)
    )
    second = max(empty, 1.0) * math.expm1(speed / (last.vacuum_isp * STANDARD_GRAVITY))
    second = min(second, 0.9 * p.burns)
    return p.burns - second, second
