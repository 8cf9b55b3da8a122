"""What does not hold of a landing on engines, each with the number that would do."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from wetmass.flight.home import places
from wetmass.flight.home.failing import failing, too_little
from wetmass.flight.home.legs import Engines
from wetmass.flight.home.nearer import farthest, place_words
from wetmass.flight.home.search import MET, Search, Tried
from wetmass.physics.atmosphere import air
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.digits import fixed
from wetmass.record.finding import Finding, Weight
from wetmass.record.homecoming import Released, Way
from wetmass.record.mission import Site

LEAST_LOAD = 1.2  # thrust over weight below which a landing burn takes long and much: from memory
LEAST_BRAKE = 1.0  # m/s: a braking burn below this is none


def findings_of(
    released: Released,
    way: Way,
    which: Engines,
    search: Search,
    x: np.ndarray,
    tried: Tried,
    met: bool,
    needed: float | None,
) -> tuple[Finding, ...]:
    found = []
    ground = search.ground
    each = which.thrust - air(ground)[1] * which.exit_area
    weight = tried.mass * STANDARD_GRAVITY
    choice = search.choice
    ours = "rule of this program"
    if not met:
        worst = _breaches(way, search, tried)
        found.append(failing(released, "no way home within the limits", worst[0], worst[1], worst[2]))
    floor = which.least_throttle * each / weight
    empty = released.dry_mass * STANDARD_GRAVITY
    if which.least_throttle * each / empty > way.landing_load:
        found.append(
            failing(
                released,
                "throttle floor too high",
                f"{100 * which.least_throttle:.0f} %: thrust "
                f"{which.least_throttle * each / empty:.1f} times the dry weight with one engine at its "
                "least",
                f"at most {way.landing_load:g} times the weight",
                f"A floor of {math.floor(100 * way.landing_load * empty / each):.0f} % would do, "
                f"{math.floor(100 * empty / each):.0f} % would hover, or a smaller engine for the landing",
            )
        )
    elif floor > 1.0:
        found.append(
            Finding(
                "cannot hover",
                Weight.NOTE,
                released.name,
                f"thrust {floor:.2f} times the weight with one engine at its least throttle",
                "at most 1 to hover",
                f"It must come to rest just at the ground; a floor of {100 * weight / each:.0f} % would "
                "hover",
                ours,
            )
        )
    if needed is not None and needed > released.propellant * (1.0 + 1e-9) + 0.5:
        margin = f" ({100 * way.margin:.0f} % margin in it)" if way.margin else ""
        found.append(too_little(released, needed, aside=margin))
    burns = 1 + (x[search.turning + 1] > LEAST_BRAKE) + (search.turning > 0) + bool(search.prefix)
    if released.ignitions_used + burns > which.ignitions:
        wanted = released.ignitions_used + burns
        found.append(
            failing(
                released,
                "too few ignitions",
                f"{which.ignitions}",
                f"at least {wanted}: {burns} on the way home",
                f"Say ignitions: {wanted}",
            )
        )
    if choice.landing > which.count or choice.turning > which.count:
        found.append(
            failing(
                released,
                "more engines lit than there are",
                f"{max(choice.landing, choice.turning):g}",
                f"at most {which.count:g}",
                "Light fewer",
            )
        )
    return tuple(found)


def in_reach(released: Released, way: Way, search: Search, needed: float | None) -> tuple[Finding, ...]:
    """The place nearest to the one asked for that the propellant aboard does for, if there is one."""
    assert way.place is not None

    def landed(place: Site | None) -> tuple[float, float, float] | None:
        there = dataclasses.replace(way, place=place, landing_height=search.ground)
        aboard = Search(
            released,
            there,
            search.made,
            search.which,
            search.choice,
            False,
            search.prefix,
            search.prefix_mass,
        )
        x, met = aboard.best()
        if not met or aboard.tried(x).propellant > (1.0 - way.margin) * released.propellant:
            return None
        flown = aboard.flyer.fly(aboard.legs(x).rows, start=aboard.start(x))
        return places.over_ground(flown.state, flown.time)

    here = landed(None) if released.propellant > 0.0 else None
    if here is None:
        return ()
    place = farthest(here[:2], way.place, lambda one: landed(one) is not None)
    there = here[:2] if place is None else (place.latitude, place.longitude)
    left = places.distance(there, (way.place.latitude, way.place.longitude))
    wants = "no propellant was found to do" if needed is None else f"{fixed(needed)} kg"
    return (
        Finding(
            "site out of reach" if way.place_name == "back to site" else "place out of reach",
            Weight.FAILS,
            released.name,
            f"{fixed(released.propellant)} kg of propellant",
            f"for {way.place_name}: {wants}",
            f"With what is aboard a place at {place_words(there)} would do, {fixed(left / 1e3)} km before it",
            "flown by this program",
        ),
    )


def too_weak(released: Released, which: Engines, ground: float) -> Finding | None:
    each = which.thrust - air(ground)[1] * which.exit_area
    wanted = LEAST_LOAD * released.dry_mass * STANDARD_GRAVITY
    if which.count * each >= wanted:
        return None
    return failing(
        released,
        "engines too weak to land on",
        f"{which.count * each / 1e3:.0f} kN of thrust at the ground",
        f"at least {LEAST_LOAD} times the weight, {wanted / 1e3:.0f} kN",
        f"{math.ceil(wanted / each)} such engines would do"
        if each > 0.0
        else "Engines for the ground would do",
    )


def _breaches(way: Way, search: Search, tried: Tried) -> tuple[str, str, str]:
    """Which condition could not be met: what came out, what was asked, what would help."""
    if search.site is not None and math.hypot(*tried.misses) > 10.0:
        far = math.hypot(*tried.misses) / 1e3
        return (
            f"{fixed(far)} km short of {way.place_name}",
            "the place itself",
            "Land downrange, stage lower and slower, or give it more propellant",
        )
    if tried.stop < -1.0:
        return (
            "does not come to rest above the ground",
            "at rest at the ground",
            "Light more engines for the landing or raise their thrust",
        )
    for got, limit, what, unit, size in (
        (tried.pressure, way.pressure_limit, "dynamic pressure", "kPa", 1e3),
        (tried.felt, way.acceleration_limit, "felt acceleration", "g", STANDARD_GRAVITY),
        (tried.heating, way.heating_limit, "heating", "kW/m²", 1e3),
    ):
        if got > limit * (1.0 + MET):
            return (
                f"{what} {got / size:.4g} {unit}",
                f"at most {limit / size:.4g} {unit}",
                f"A limit of {got / size:.4g} {unit} would do",
            )
    return "no flight found that meets everything", "all limits", "Relax a limit"
