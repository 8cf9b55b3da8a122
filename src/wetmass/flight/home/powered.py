"""Home on rocket engines: turn back where asked, brake before the dense air, stop just above the ground.

The landing burn is lit at the last height that still stops; what is left free is found for the least
propellant (`wetmass.flight.home.search`).
"""

from __future__ import annotations

import dataclasses

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.flight.home.engine_counts import (
    choose,
    least_thrust,
    other_counts,
    other_landings,
    throttle_steps,
    throttled,
)
from wetmass.flight.home.failing import failing
from wetmass.flight.home.fall import drag_words, fall
from wetmass.flight.home.landing_findings import findings_of, in_reach, too_weak
from wetmass.flight.home.legs import Engines, body, engines
from wetmass.flight.home.report import Legs, homecoming
from wetmass.flight.home.search import Choice, Search
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.finding import Weight
from wetmass.record.homecoming import Homecoming, Posture, Released, Way
from wetmass.record.mission import Site


def land(
    released: Released,
    way: Way,
    site: Site,
    start: tuple[float, ...] = (),
    prefix: list[np.ndarray] | None = None,
    advice: bool = True,
) -> Homecoming:
    """The stage lands on its engines with the least propellant.

    site    of lift-off
    start   `Homecoming.unknowns` of a flight like it, to begin the search from
    prefix  legs before, such as a burn out of orbit
    advice  whether to look for a place in reach where this one is not

    First the propellant that just does is found, with nothing left but the margin.  Where more is aboard,
    the flight shown carries that; where less, the flight shown carries what would do, and a finding says so.
    """
    which = engines(released)
    made = body(released, way)
    if which is None:
        failed = failing(
            released,
            "no engine to land on",
            "none",
            "rocket engines on the stage",
            "Give it engines, or another way home",
        )
        fallen = fall(released, dataclasses.replace(way, place=None), site)
        return dataclasses.replace(fallen, way=way, comes_home=False, findings=(failed, *fallen.findings))
    ground = way.place.height if way.place is not None else way.landing_height
    weak = too_weak(released, which, ground)
    if weak is not None:
        fallen = fall(released, dataclasses.replace(way, place=None), site)
        return dataclasses.replace(fallen, way=way, comes_home=False, findings=(weak, *fallen.findings))
    choice = choose(way, which, released.dry_mass)
    search = Search(released, way, made, which, choice, True, prefix or [], released.mass)
    x, met, flights = np.zeros(0), False, 0
    if len(start) == search.count + 2:  # else it came down another way
        braking, landing = way.other_engines or start[-2], way.landing_engines or start[-1]
        search = search.with_choice(throttled(search, braking, landing) or choice)
        x, met = search.best(np.array(start[:-2]))
    if not met:
        search = search.with_choice(choice)
        x, met = search.best()
        if not met:
            search, x, met, more = other_landings(search, x)
            flights += more
        if met:
            flights += search.flyer.flights
            search, x = other_counts(search, x)
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
    findings = findings_of(released, way, which, search, x, tried, met, needed)
    if advice and way.place is not None and (needed is None or needed > released.propellant + 0.5):
        findings += in_reach(released, way, search, needed)
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
        hovers=least_thrust(which, search.ground) <= tried.mass * STANDARD_GRAVITY,
        needed=needed,
        ignition_margin=late,
        unknowns=unknowns,
    )
    used = tried.propellant
    return dataclasses.replace(result, used=used, reserve=released.propellant, flights=flights)


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
