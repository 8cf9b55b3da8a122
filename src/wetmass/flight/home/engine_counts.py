"""How many engines are lit to land, and to turn back and brake: chosen at first, then found."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from wetmass.flight.home.legs import Engines
from wetmass.flight.home.search import Choice, Search
from wetmass.physics.atmosphere import air
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.homecoming import ThrottleStep, Way

WORTH = 2e-3  # of the propellant: what other engine counts must spare to be taken


def choose(way: Way, which: Engines, mass: float) -> Choice:
    """Engines lit for each burn: as many as the limits allow, for a short burn takes least.

    mass  expected at touch-down [kg]
    """
    pressure = air(way.place.height if way.place else way.landing_height)[1]
    each = which.thrust - pressure * which.exit_area
    weight = mass * STANDARD_GRAVITY
    hard = way.acceleration_limit * mass / which.thrust
    others = way.other_engines or float(max(1, min(int(which.count), math.floor(hard))))
    full = max(min(way.throttle, 1.0), which.least_throttle)
    if way.landing_engines is not None:
        landing = way.landing_engines
    else:
        fitting = [n for n in range(1, int(which.count) + 1) if n * each * full <= way.landing_load * weight]
        landing = float(max(fitting, default=1))
    most = way.landing_load * weight / (landing * each)
    throttle = max(which.least_throttle, min(full, most))
    gently = min(
        1.0, max(which.least_throttle, 0.97 * way.acceleration_limit * mass / (others * which.thrust))
    )
    return Choice(others, others, landing, throttle, gently)


def throttle_steps(which: Engines, mass: float, height: float) -> tuple[ThrottleStep, ...]:
    """Thrust over weight at touch-down for one engine and more, at the floor, half way and full."""
    pressure = air(height)[1]
    each = which.thrust - pressure * which.exit_area
    made = []
    for count in sorted({1, min(2, int(which.count)), min(3, int(which.count)), int(which.count)}):
        floor = which.least_throttle
        for throttle in sorted({floor, 0.5 * (1.0 + floor), 1.0}):
            made.append(ThrottleStep(count, throttle, count * throttle * each / (mass * STANDARD_GRAVITY)))
    return tuple(made)


def least_thrust(which: Engines, height: float) -> float:
    """Thrust of one engine at its least throttle at a height [N]."""
    return which.least_throttle * (which.thrust - air(height)[1] * which.exit_area)


def other_landings(search: Search, x: np.ndarray) -> tuple[Search, np.ndarray, bool, int]:
    """Where the chosen counts do not land: the first other number of engines to land on that does, from nothing.

    With the unknowns, whether one landed, and the flights of those that did not; `search` and `x` where none did.
    """
    flights = 0
    if search.way.landing_engines is None:
        for landing in range(1, int(search.which.count) + 1):
            choice = throttled(search, search.choice.braking, float(landing))
            if choice is None or choice == search.choice:
                continue
            other = search.with_choice(choice)
            there, met = other.best()
            if met:
                return other, there, True, flights + search.flyer.flights
            flights += other.flyer.flights
    return search, x, False, flights


def other_counts(search: Search, x: np.ndarray) -> tuple[Search, np.ndarray]:
    """The search with the engine counts beside the chosen ones that take less still, tried until none does."""
    way, least = search.way, search.carried(x)
    better = True
    while better:
        better, now = False, search.choice
        tried = [(now.braking, now.landing + step) for step in (1.0, -1.0) if way.landing_engines is None]
        tried += [(now.braking + step, now.landing) for step in (1.0, -1.0) if way.other_engines is None]
        if way.landing_engines is None and way.other_engines is None:
            tried.append((now.braking + 1.0, now.landing + 1.0))
        for braking, landing in tried:
            if not (1.0 <= braking <= search.which.count and 1.0 <= landing <= search.which.count):
                continue
            choice = throttled(search, braking, landing)
            if choice is None:
                continue
            other = search.with_choice(choice)
            there, met = other.best(other.lit_right(other.reached(x)))
            if met and other.carried(there) < (1.0 - WORTH) * least:
                search, x, least, better = other, there, other.carried(there), True
                break
    return search, x


def throttled(search: Search, braking: float, landing: float) -> Choice | None:
    """Other counts with their throttles; None where the throttle floor breaks a limit."""
    way = dataclasses.replace(search.way, landing_engines=landing, other_engines=braking)
    choice = choose(way, search.which, search.released.dry_mass)
    pressure = air(search.ground)[1]
    each = search.which.thrust - pressure * search.which.exit_area
    weight = search.released.dry_mass * STANDARD_GRAVITY
    load = landing * choice.throttle * each / weight
    hard = braking * choice.gently * search.which.thrust / search.released.dry_mass
    if not 1.05 <= load <= way.landing_load * 1.001 or hard > way.acceleration_limit:
        return None
    return choice
