"""An ascent whose last stage coasts and burns again: where the last burn belongs, and first unknowns.

The ascent is first solved to the ellipse it will coast on, with the second burn's propellant set aside by
the rocket equation; its unknowns then start the search with both burns flown.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from wetmass.flight import goal
from wetmass.flight.ascent import Ascent, Trial
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.physics.orbits import (
    circular_speed,
    elements,
    injection_speed,
    orbit_speed,
    period,
    propagated,
    turned_speed_change,
)
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.mission import Orbit, Site
from wetmass.record.vehicle import Vehicle

LOW = 160e3  # m: perigee of the coasting ellipse to start from; the optimum moves it
MOST_SECOND = 0.98  # of the last stage's propellant set aside for the second burn: the first takes the rest
SHORT_COAST = 60.0  # s: a node nearer than this is left to the next one


def first_leg(ascent: Ascent) -> Ascent:
    """The same ascent to its coasting ellipse, one burn, the second burn's propellant kept aboard."""
    ellipse, speed = _coasting_ellipse(ascent.orbit, ascent.site)

    def build(found: Sequence[float]) -> Vehicle:
        vehicle = ascent.build(found)
        first, second = _split(vehicle, speed)
        last = vehicle.stages[-1]
        p = last.propellant
        kept = replace(p, burns=first, reserve=p.reserve + second)
        return replace(vehicle, stages=(*vehicle.stages[:-1], replace(last, propellant=kept)))

    def conditions(vehicle: Vehicle, trial: Trial) -> tuple[list[float], list[float]]:
        equal, at_least = ascent.conditions(vehicle, trial)
        return equal, [*at_least, 10.0 * _spare(vehicle, speed)]

    return replace(
        ascent, orbit=ellipse, coasting=False, build=build, conditions=conditions, place=goal.AT_PERIGEE
    )


def both_legs(ascent: Ascent, x: np.ndarray) -> np.ndarray:
    """Unknowns of the whole `ascent` from those of its first leg."""
    ellipse, speed = _coasting_ellipse(ascent.orbit, ascent.site)
    opened = x[len(x) - len(ascent.open_unknowns) :]
    vehicle = ascent.build(opened)
    first, second = _split(vehicle, speed)
    low, high = ellipse.perigee + EARTH_RADIUS_WGS84, ellipse.apogee + EARTH_RADIUS_WGS84
    half = 0.5 * period(0.5 * (low + high), GM)
    burn = second / vehicle.stages[-1].flow
    coast = max(30.0, half - 0.5 * burn) if _raises_perigee(ascent.orbit) else 600.0
    yaw = 0.0
    if must_wait(ascent.orbit, ascent.site):
        state = first_leg(ascent).trial(x).state
        coast = _coast_to(state, ascent.orbit, 0.5 * burn)
        yaw = _turn(state, coast, ascent)
    steering = x[: len(x) - len(ascent.open_unknowns)]
    return np.concatenate([steering, [first / (first + second), coast, 0.0, 0.0, yaw], opened])


def turns_plane(orbit: Orbit, site: Site) -> bool:
    """Whether no heading from the site leads to the inclination: the plane is turned by a burn at a node."""
    if orbit.inclination is None:
        return False
    return min(orbit.inclination, math.pi - orbit.inclination) < abs(site.latitude) - goal.SAME_AS_LATITUDE


def must_wait(orbit: Orbit, site: Site) -> bool:
    """Whether the last burn has its place on the orbit: at a node, or where a way out begins."""
    turned = orbit.perigee_at_equator or orbit.argument_of_perigee is not None
    return turned or orbit.declination is not None or turns_plane(orbit, site)


def _raises_perigee(orbit: Orbit) -> bool:
    """Whether the second burn comes at apogee (a circle, or nearly) rather than low down."""
    return goal.eccentricity(orbit) <= goal.NEARLY_CIRCULAR or orbit.perigee > 600e3


def _coasting_ellipse(orbit: Orbit, site: Site) -> tuple[Orbit, float]:
    """The orbit between the burns, and the speed the second burn adds [m/s]."""
    plain = replace(
        orbit, c3=None, declination=None, argument_of_perigee=None, perigee_at_equator=False, parking=None
    )
    low = orbit.perigee + EARTH_RADIUS_WGS84
    turning = turns_plane(orbit, site)
    if turning:
        plain = replace(plain, inclination=None)
    if orbit.parking is None and not turning and _raises_perigee(orbit):
        high = orbit.apogee + EARTH_RADIUS_WGS84
        parking = min(orbit.perigee, LOW) + EARTH_RADIUS_WGS84
        speed = orbit_speed(high, low, high) - orbit_speed(high, parking, high)
        return replace(plain, perigee=parking - EARTH_RADIUS_WGS84), speed
    height = orbit.perigee if orbit.parking is None else orbit.parking
    there = height + EARTH_RADIUS_WGS84
    after = injection_speed(goal.energy(orbit), there)
    turn = abs(site.latitude) - _steepness(orbit) if turning else 0.0
    speed = turned_speed_change(circular_speed(there), after, turn)
    return replace(plain, perigee=height, apogee=height), speed


def _steepness(orbit: Orbit) -> float:
    assert orbit.inclination is not None
    return min(orbit.inclination, math.pi - orbit.inclination)


def _coast_to(state: np.ndarray, orbit: Orbit, half_burn: float) -> float:
    """How long to coast [s] until the last burn, begun then, has its middle where it belongs."""
    e = elements(tuple(map(float, state[:3])), tuple(map(float, state[3:6])))
    here = e.perigee_argument + e.true_anomaly
    turn = period(e.semi_major_axis)
    rate = math.tau / turn
    waits = [((place - here) % math.tau) / rate - half_burn for place in _places(orbit, e.inclination)]
    return min(wait if wait > SHORT_COAST else wait + turn for wait in waits)


def _places(orbit: Orbit, inclination: float) -> list[float]:
    """Angles from the ascending node at which the last burn may be made [rad]."""
    if orbit.argument_of_perigee is not None:
        return [orbit.argument_of_perigee]
    if orbit.declination is None:
        return [0.0, math.pi]  # either node
    steep = math.sin(inclination)
    up = math.asin(max(-1.0, min(1.0, math.sin(orbit.declination) / max(steep, 1e-6))))
    e = goal.eccentricity(orbit)
    ahead = math.pi if e <= 1.0 else math.acos(-1.0 / e)  # from perigee to the way out
    return [up - ahead, math.pi - up - ahead]


def _turn(state: np.ndarray, coast: float, ascent: Ascent) -> float:
    """Yaw with which the last burn turns the plane to the inclination asked for [rad]; 0 where it need not."""
    orbit = ascent.orbit
    if not turns_plane(orbit, ascent.site):
        return 0.0
    place, velocity = propagated(tuple(map(float, state[:3])), tuple(map(float, state[3:6])), coast)
    h = np.cross(place, velocity)
    now = math.acos(h[2] / float(np.linalg.norm(h)))
    turn = now - orbit.inclination
    before = float(np.linalg.norm(velocity))
    after = injection_speed(goal.energy(orbit), float(np.linalg.norm(place)))
    along, across = after * math.cos(turn) - before, after * math.sin(turn)
    north = -1.0 if velocity[2] > 0.0 else 1.0  # at a node on the way north the plane is turned southwards
    return north * math.atan2(across, along)


def _split(vehicle: Vehicle, speed: float) -> tuple[float, float]:
    """Propellant of the first and second burn of the last stage [kg], the second giving `speed` [m/s]."""
    last = vehicle.stages[-1]
    p = last.propellant
    second = max(_empty(vehicle), 1.0) * math.expm1(speed / (last.vacuum_isp * STANDARD_GRAVITY))
    second = min(second, MOST_SECOND * p.burns)
    return p.burns - second, second


def _spare(vehicle: Vehicle, speed: float) -> float:
    """How far the second burn of a first leg's vehicle, set aside in it, is from more than the stage can hold [-]."""
    last = vehicle.stages[-1]
    second = _empty(vehicle) * -math.expm1(-speed / (last.vacuum_isp * STANDARD_GRAVITY))
    return 1.0 - second * (1.0 - MOST_SECOND) / (MOST_SECOND * max(last.propellant.burns, 1e-9))


def _empty(vehicle: Vehicle) -> float:
    """What is left of the last stage once it has burnt all it may, with what it carries [kg]."""
    last = vehicle.stages[-1]
    return vehicle.payload + last.dry_mass + last.propellant.kept + sum(i.mass for i in vehicle.other)
