"""Close a concept with the propellant in it that its stages need to come home, and fly each of them down."""

from __future__ import annotations

import dataclasses
import time
from collections.abc import Callable, Mapping

from wetmass.closing.again import known
from wetmass.closing.close import Answer, spread_by_guesses, told_of
from wetmass.closing.reserves import Homeward, Reserves, home_path, named
from wetmass.concept.find import Find
from wetmass.concept.model import Concept
from wetmass.record.brought import Brought, Kept
from wetmass.record.closed import Closed
from wetmass.record.homecoming import Homecoming


def bring_home(
    concept: Concept, *, falls: int = 400, seed: int = 1, told: Callable[[str], None] = lambda _: None
) -> Closed:
    """The concept closed with every homecoming reserve found; `home` says how each stage comes down.

    falls, seed  how often the fall of a stage that does not steer is drawn by chance, and which draw
    told         called with a few words whenever another part of the work begins

    A stage that states no way home falls as it is.  A stage left in orbit is flown down only where it
    states a way.
    """
    return brought_home(concept, falls=falls, seed=seed, told=told)[0]


def brought_home(
    concept: Concept, answer: Answer | None = None, kept: Mapping[str, float] | None = None, *,
    falls: int = 400, seed: int = 1, told: Callable[[str], None] = lambda _: None,
) -> tuple[Closed, Answer | None, dict[str, float]]:  # fmt: skip
    """The same with the answer of the last closing, and what is kept by path [kg].

    answer  the concept solved with `kept`, to go on from: what a concept near it was found to keep
    """
    loop = Reserves(concept, told=told)
    if answer is not None:
        loop.near, loop.kept, loop.answer = known(answer), dict(kept or {}), answer
        loop.last = (dict(kept or {}), told_of(concept, answer, time.perf_counter()))
    stages = concept.stages
    nothing = {home_path(s): 0.0 for s in stages if s.home is not None and s.home.propellant is not None}
    expended = closed = loop.close(nothing)
    loop.find(expended)
    if nothing:
        closed = loop.close(loop.kept)
    told("flying every stage down")
    brought = _brought(loop, closed, expended, falls, seed)
    closed = dataclasses.replace(closed, home=brought, flights=loop.flights, seconds=loop.seconds)
    spread = (
        spread_by_guesses(concept, loop.answer, Homeward(loop.kept, loop.ways))
        if loop.answer is not None
        else None
    )
    if spread is not None:
        closed = dataclasses.replace(closed, spread=spread, not_yet=())
    return closed, loop.answer, loop.kept


def _brought(loop: Reserves, closed: Closed, expended: Closed, falls: int, seed: int) -> Brought:
    """Every stage flown down, beside what is kept and what the vehicle carries with nothing kept."""
    kept = list(loop.found.values())
    for stage in loop.concept.stages:
        if stage.home is not None and not isinstance(stage.home.propellant, Find):
            tanked = named(closed, stage.name).propellant.home
            if tanked > 0.0:
                kept.append(Kept(stage.name, home_path(stage), tanked, False, True))
    ways: list[Homecoming] = []
    not_flown: list[str] = []
    impact_points = ()
    if closed.flight is not None:
        from wetmass.flight.home.impact import impact_track

        impact_points = impact_track(closed.flight.trajectory)
        for name in (stage.name for stage in closed.vehicle.every_stage()):
            stays = loop.stays(closed, name)
            if stays:
                not_flown.append(f"{name}: {stays}")
            elif name != closed.vehicle.stages[-1].name or loop.stated(name).home is not None:
                ways.append(_down(loop, closed, name, falls, seed))
    return Brought(
        ways=tuple(sorted(ways, key=lambda home: home.events[0].time)),
        kept=tuple(kept),
        payload=_carries(closed),
        expended_payload=_carries(expended) if expended.closes else None,
        lift_off_mass=closed.vehicle.lift_off_mass,
        expended_lift_off_mass=expended.vehicle.lift_off_mass if expended.closes else None,
        impact_points=impact_points,
        not_flown=tuple(not_flown),
    )


def _down(loop: Reserves, closed: Closed, name: str, falls: int, seed: int) -> Homecoming:
    """One stage flown down with all that is told of it: how its fall may scatter, where it does not steer."""
    home, (let_go, way) = loop.down(closed, name, advice=True)
    if home.burns or way.by not in ("ballistic", "parachutes"):
        return home
    from wetmass.flight.home.spread import spread

    return dataclasses.replace(home, spread=spread(let_go, way, flights=falls, seed=seed))


def _carries(closed: Closed) -> float:
    """The most it carries [kg]: what was sized for, or what it could."""
    return closed.payload if closed.most_payload is None else closed.most_payload
