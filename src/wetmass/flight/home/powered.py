"""Home on rocket engines: turn back where asked, brake before the dense air, stop just above the ground.

The landing burn is lit at the last height that still stops; what is left free is found for the least
propellant (`wetmass.flight.home.search`).
"""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home import places
from wetmass.flight.home.fall import drag_words, fall
from wetmass.flight.home.legs import Engines, body, engines
from wetmass.flight.home.nearer import farthest, place_words
from wetmass.flight.home.report import Legs, homecoming
from wetmass.flight.home.search import MET, Choice, Search, Tried
from wetmass.physics.atmosphere import air
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.finding import Finding, Weight
from wetmass.record.homecoming import Homecoming, Posture, Released, ThrottleStep, Way
from wetmass.record.mission import Site

LEAST_LOAD = 1.2  # thrust over weight below which a landing burn takes long and much: from memory
WORTH = 2e-3  # of the propellant: what other engine counts must spare to be taken
LEAST_BRAKE = 1.0  # m/s: a braking burn below this is none

# ── how many engines ─────────────────────────────────────────────────────────────────────────────


def choose(released: Released, way: Way, which: Engines, mass: float) -> Choice:
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


def _other_counts(search: Search, x: np.ndarray) -> tuple[Search, np.ndarray]:
    """The search with the engine counts beside the chosen ones that take less still, tried until none does."""
    way, least = search.way, search.carried(x)
    better = True
    while better:
        better, now = False, search.choice
        tried = [(now.braking, now.landing + step) for step in (1.0, -1.0) if way.landing_engines is None]
        tried += [(now.braking + step, now.landing) for step in (1.0, -1.0) if way.other_engines is None]
        for braking, landing in tried:
            if not (1.0 <= braking <= search.which.count and 1.0 <= landing <= search.which.count):
                continue
            choice = _throttled(search, braking, landing)
            if choice is None:
                continue
            other = search.with_choice(choice)
            there, met = other.best(x)
            if met and other.carried(there) < (1.0 - WORTH) * least:
                search, x, least, better = other, there, other.carried(there), True
                break
    return search, x


def _throttled(search: Search, braking: float, landing: float) -> Choice | None:
    """Other counts with their throttles; None where the throttle floor breaks a limit."""
    way = dataclasses.replace(search.way, landing_engines=landing, other_engines=braking)
    choice = choose(search.released, way, search.which, search.released.dry_mass)
    pressure = air(search.ground)[1]
    each = search.which.thrust - pressure * search.which.exit_area
    weight = search.released.dry_mass * STANDARD_GRAVITY
    load = landing * choice.throttle * each / weight
    hard = braking * choice.gently * search.which.thrust / search.released.dry_mass
    if not 1.05 <= load <= way.landing_load * 1.001 or hard > way.acceleration_limit:
        return None
    return choice


# ── the whole answer ─────────────────────────────────────────────────────────────────────────────


def land(
    released: Released,
    way: Way,
    site: Site,
    start: tuple[float, ...] = (),
    prefix: list[np.ndarray] | None = None,
    advice: bool = True,
) -> Homecoming:
    """The stage lands on its engines with the least propellant.

    site  of lift-off; `advice` whether to look for a place in reach where this one is not; `start` is `Homecoming.unknowns` of a flight like it, to begin the search from.

    First the propellant that just does is found, with nothing left but the margin.  Where more is aboard,
    the flight shown carries that; where less, the flight shown carries what would do, and a finding says so.
    """
    which = engines(released)
    made = body(released, way)
    if which is None:
        failed = _finding(
            released,
            "no engine to land on",
            "none",
            "rocket engines on the stage",
            "Give it engines, or another way home",
        )
        fallen = fall(released, dataclasses.replace(way, place=None), site)
        return dataclasses.replace(fallen, way=way, comes_home=False, findings=(failed, *fallen.findings))
    ground = way.place.height if way.place is not None else way.landing_height
    weak = _too_weak(released, which, ground)
    if weak is not None:
        fallen = fall(released, dataclasses.replace(way, place=None), site)
        return dataclasses.replace(fallen, way=way, comes_home=False, findings=(weak, *fallen.findings))
    choice = choose(released, way, which, released.dry_mass)
    search = Search(released, way, made, which, choice, True, prefix or [], released.mass)
    x, met, flights = np.zeros(0), False, 0
    if start:
        search = search.with_choice(_throttled(search, start[-2], start[-1]) or choice)
        x, met = search.best(np.array(start[:-2]))
    if not met:
        search = search.with_choice(choice)
        x, met = search.best()
        if met:
            flights += search.flyer.flights
            search, x = _other_counts(search, x)
    choice = search.choice
    needed = search.carried(x) if met else None
    unknowns = (*(float(v) for v in x), choice.braking, choice.landing)
    flights += search.flyer.flights
    if met and released.propellant > 1.0005 * search.carried(x):
        more = search.with_propellant(released.propellant)
        there, good = more.best(x[:-1])
        if good:
            search, x = more, there
            flights += more.flyer.flights
    x = search.settled(x)
    tried = search.tried(x)
    findings = _findings(released, way, which, search, x, tried, met, needed)
    if advice and way.place is not None and (needed is None or needed > released.propellant + 0.5):
        findings += _in_reach(released, way, search, needed)
    late = _ignition_margin(search, x)
    search.flyer.ground -= 1.0  # so that it comes to rest, not to ground, in the last digit
    result = homecoming(
        search.flyer,
        _shown(search.legs(x)),
        way,
        site,
        comes_home=not any(one.weight is Weight.FAILS for one in findings),
        start=search.start(x),
        findings=findings,
        assumed=_assumed(way, choice, which),
        throttle_steps=throttle_steps(which, tried.mass, search.ground),
        hovers=_least(which, search.ground) <= tried.mass * STANDARD_GRAVITY,
        needed=needed,
        ignition_margin=late,
        unknowns=unknowns,
    )
    used = tried.propellant
    return dataclasses.replace(result, used=used, reserve=released.propellant, flights=flights)


def _in_reach(released: Released, way: Way, search: Search, needed: float | None) -> tuple[Finding, ...]:
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
    wants = "no propellant was found to do" if needed is None else f"{needed:,.0f} kg"
    return (
        Finding(
            "site out of reach" if way.place_name == "back to site" else "place out of reach",
            Weight.FAILS,
            released.name,
            f"{released.propellant:,.0f} kg of propellant",
            f"for {way.place_name}: {wants}",
            f"With what is aboard a place at {place_words(there)} would do, {left / 1e3:,.0f} km before it",
            "flown by this program",
        ),
    )


def _ignition_margin(search: Search, x: np.ndarray) -> float | None:
    """How late the landing burn may be lit if all of the thrust of its engines is then used [s]."""
    full = dataclasses.replace(search, choice=dataclasses.replace(search.choice, throttle=1.0))
    place = search.turning + 2
    later = full.settled(full.lit_right(x))
    if abs(full.tried(later).stop) > 1.0:
        return None
    begins = [
        float(one.flyer.fly(one.legs(y).rows, start=one.start(y)).marks[-2, 0])
        for one, y in ((search, x), (full, later))
    ]
    return max(0.0, begins[1] - begins[0]) if later[place] <= x[place] else 0.0


def _least(which: Engines, height: float) -> float:
    """Thrust of one engine at its least throttle at a height [N]."""
    return which.least_throttle * (which.thrust - air(height)[1] * which.exit_area)


def _findings(
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
        found.append(_finding(released, "no way home within the limits", worst[0], worst[1], worst[2]))
    floor = which.least_throttle * each / weight
    empty = released.dry_mass * STANDARD_GRAVITY
    if which.least_throttle * each / empty > way.landing_load:
        found.append(
            _finding(
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
        found.append(
            _finding(
                released,
                "too little propellant to come home",
                f"{released.propellant:,.0f} kg",
                f"at least {needed:,.0f} kg"
                + (f" ({100 * way.margin:.0f} % margin in it)" if way.margin else ""),
                f"Keep {needed:,.0f} kg, {needed - released.propellant:,.0f} kg more "
                "(the flight shown has it)",
            )
        )
    burns = 1 + (x[search.turning + 1] > LEAST_BRAKE) + (search.turning > 0) + bool(search.prefix)
    if released.ignitions_used + burns > which.ignitions:
        wanted = released.ignitions_used + burns
        found.append(
            _finding(
                released,
                "too few ignitions",
                f"{which.ignitions}",
                f"at least {wanted}: {burns} on the way home",
                f"Say ignitions: {wanted}",
            )
        )
    if choice.landing > which.count or choice.turning > which.count:
        found.append(
            _finding(
                released,
                "more engines lit than there are",
                f"{max(choice.landing, choice.turning):g}",
                f"at most {which.count:g}",
                "Light fewer",
            )
        )
    return tuple(found)


def _too_weak(released: Released, which: Engines, ground: float) -> Finding | None:
    each = which.thrust - air(ground)[1] * which.exit_area
    wanted = LEAST_LOAD * released.dry_mass * STANDARD_GRAVITY
    if which.count * each >= wanted:
        return None
    return _finding(
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
            f"{far:,.0f} km short of {way.place_name}",
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


def _finding(released: Released, rule: str, got: str, accepted: str, remedy: str) -> Finding:
    return Finding(rule, Weight.FAILS, released.name, got, accepted, remedy, "flown by this program")


def _shown(legs: Legs) -> Legs:
    """Without a braking burn of no length."""
    kept = Legs()
    for i, name in enumerate(legs.names):
        gone = name == "braking burn" and legs.rows[i][at.END_VALUE] * legs.rows[i][at.FLOW] < 0.1
        told = (
            ""
            if legs.ends[i] == "braking burn begins" and legs.rows[i + 1][at.END_VALUE] <= 0.0
            else legs.ends[i]
        )
        if not gone:
            kept.add(name, legs.rows[i], told, legs.burns[i])
    return kept


def _assumed(way: Way, choice: Choice, which: Engines) -> tuple[str, ...]:
    base = dataclasses.replace(way, posture=Posture.END_ON)
    kept = 100 * way.drag_behind_flame
    return (
        drag_words(base),
        f"{kept:.0f} % of the drag is left while engines burn against the wind (tests of retro-rockets: the "
        "plume "
        "takes most of it away; from memory, Jarvinen and Adams, NASA CR NAS 7-576, 1970)",
        f"landing burn planned at {100 * choice.throttle:.0f} % throttle of {choice.landing:g} of "
        f"{which.count:g} "
        "engines; the rest of the thrust is the margin for lighting late",
        f"dynamic pressure at most {way.pressure_limit / 1e3:.0f} kPa, felt acceleration at most "
        f"{way.acceleration_limit / STANDARD_GRAVITY:.1f} g on the way down",
        "engines reach their thrust at once; guidance and wind are left out of the least propellant",
    )
