"""Close a concept: find every open value with the flight, or say why it will not close."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from wetmass.closing.again import Known
from wetmass.closing.by_hand import by_hand
from wetmass.closing.flown import as_flown
from wetmass.closing.guess import Guess, first_guess, needed_speed, reserve_of
from wetmass.closing.measures import measured
from wetmass.closing.mission import limits_of, orbit_of, site_of, way_like, ways_of
from wetmass.closing.problem import LEAST_MASS, MOST_PAYLOAD, USED, Problem
from wetmass.closing.reasons import broken, holds, why_not
from wetmass.closing.steps import steps_of
from wetmass.closing.whole import best_numbers
from wetmass.concept.find import Find
from wetmass.concept.measures import MEASURES, Measure
from wetmass.concept.model import Concept, Open
from wetmass.flight.ascent import Ascent, Steering
from wetmass.flight.optimum import Optimum, best, carried_over
from wetmass.flight.report import recorded
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.closed import Beside, Closed, Found, Held, SpreadOfAnswer
from wetmass.record.flight import Flight
from wetmass.record.geometry import Geometry
from wetmass.record.mission import Climb, Orbit
from wetmass.record.parts import StageMasses
from wetmass.record.vehicle import Vehicle
from wetmass.vehicle import Assembly
from wetmass.vehicle.geometry import lay_out
from wetmass.vehicle.masses import itemised, stage_masses

if TYPE_CHECKING:
    from wetmass.closing.reserves import Homeward

_PAYLOAD = Open("payload", "payload", None, None, Find())
_Answer = tuple[Problem, Ascent, Optimum]
MOST_ENGINES = 60  # of one group that are tried
_UNITS = {"payload": "kg", "propellant mass": "kg", "dry mass": "kg", "engine count": "", "engine scale": ""}


@dataclass(frozen=True, slots=True)
class Answer:
    """A concept solved, before anything is written of it."""

    problem: Problem
    ascent: Ascent
    found: Optimum
    values: Mapping[str, float]  # every open value by path, SI
    vehicle: Vehicle
    flight: Flight | None  # None where it does not reach what was asked
    most: Optimum | None  # of the most it can carry, where a payload is stated
    held: tuple[Held, ...]
    reason: str  # "" when it closes
    assumed: tuple[str, ...]
    flights: int

    @property
    def most_payload(self) -> float | None:
        """The most it can carry [kg]."""
        return _capability(self.vehicle, self.most, self.problem)


def close(
    concept: Concept,
    *,
    steering: Steering | None = None,
    kept: Mapping[str, float] | None = None,
    known: Known | None = None,
    told: Callable[[str], None] = lambda _: None,
) -> Closed:
    """The concept with every open value found and flown.

    steering  the law to steer by; the usual one where None
    kept      values held at a number whatever the file says, by path (SI), such as
              "stages/first/home/propellant"; a homecoming propellant left open is 0 otherwise
    known     what is known of a concept near this one (`wetmass.closing.again`), to start from
    told      called with a few words whenever another part of the work begins

    A concept that cannot be closed is an answer too (`closes` is False, with the reason).
    """
    began = time.perf_counter()
    answer = answered(concept, steering=steering, kept=kept, known=known, told=told)
    return told_of(concept, answer, began, spread_by_guesses(concept, answer))


def spread_by_guesses(
    concept: Concept, answer: Answer, home: Homeward | None = None
) -> SpreadOfAnswer | None:
    """How far the answer may be off by the guesses of the file; None where it has none, or no slopes are found.

    home  what its stages keep to come home, where that is to follow the guesses
    """
    from wetmass.closing.rates import rates  # which solve near answers in their turn
    from wetmass.closing.spread import spread_of

    return spread_of(concept, rates(answer), home) if concept.not_yet_computed() else None


def told_of(
    concept: Concept,
    answer: Answer,
    began: float,
    spread: SpreadOfAnswer | None = None,
    *,
    whole: bool = True,
) -> Closed:
    """An answer as it is told: with masses, room and steps; `began` by the clock of `time.perf_counter`.

    whole  without it masses by part, room and steps are left out, for who must be quick
    """
    vehicle, found = answer.vehicle, answer.found
    left, short = _left_over(vehicle, answer.values, found)
    vehicle = as_flown(concept, vehicle, found.trial)
    geometry, masses = _laid_out(concept, vehicle) if whole else (None, ())
    if masses:
        vehicle = itemised(vehicle, masses)
    return Closed(
        name=concept.name,
        closes=not answer.reason,
        reason=answer.reason,
        vehicle=vehicle,
        flight=answer.flight,
        payload=vehicle.payload,
        payload_asked=concept.payload.value if _payload_stated(concept) else None,
        most_payload=answer.most_payload,
        left_over=left,
        short_by=short,
        found=_found(answer.problem, answer.values, found),
        held=answer.held,
        steps=steps_of(concept, vehicle, answer.flight, found.trial, geometry, masses) if whole else (),
        not_yet=concept.not_yet_computed() if spread is None else (),
        spread=spread,
        assumed=answer.assumed,
        geometry=geometry,
        masses=masses,
        by_hand=_by_hand(concept, vehicle, answer.flight),
        flights=answer.flights,
        seconds=time.perf_counter() - began,
    )


def _by_hand(concept: Concept, vehicle: Vehicle, flight: Flight | None) -> tuple[Beside, ...]:
    climbs = flight is not None and concept.mission.climbs
    return by_hand(concept, vehicle, flight)[1] if climbs else ()  # type: ignore[arg-type]


def answered(
    concept: Concept,
    *,
    steering: Steering | None = None,
    kept: Mapping[str, float] | None = None,
    known: Known | None = None,
    told: Callable[[str], None] = lambda _: None,
) -> Answer:
    """The concept solved, arguments as for `close`: what many closings of one study need of each."""
    steering = steering or Steering()
    assembly = Assembly(concept)
    problem, assumed = problem_of(concept, assembly)
    problem = replace(problem, fixed={**problem.fixed, **(kept or {})})
    ways, left_open = ways_of(concept, problem.orbit)
    assumed += left_open
    if known is not None:
        ways = [way_like(ways, known.coasts)]  # the one that was better nearby
    problem, ascent, found = best_way(problem, ways, steering, told, known)
    coasting = ascent.coasting
    values = {**problem.fixed, **open_values(problem, found)}
    vehicle = problem.vehicle(values)
    flights = found.flights
    reason = why_not(problem, vehicle, found)
    most = (
        _most_payload(problem, values, steering, coasting, found, told) if _payload_stated(concept) else None
    )
    if most is not None:
        flights += most.flights
    told("flying it once more to write it down")
    flight = recorded(ascent, found.x) if found.met else None
    kept_to = held(problem, vehicle, found, flight)
    reason = reason or broken(kept_to)
    assumed = (*assumed, *assembly.assumed, *_not_kept(concept, kept or {}))
    return Answer(
        problem, ascent, found, values, vehicle, flight, most, kept_to, reason, assumed, flights
    )  # fmt: skip


def _not_kept(concept: Concept, kept: Mapping[str, float]) -> list[str]:
    """Stages whose homecoming propellant is open and was not asked for here."""
    return [
        f"{stage.name}: nothing kept to come home"
        for stage in concept.stages
        if stage.home is not None
        and isinstance(stage.home.propellant, Find)
        and f"stages/{stage.name}/home/propellant" not in kept
    ]


def _laid_out(concept: Concept, vehicle: Vehicle) -> tuple[Geometry | None, tuple[StageMasses, ...]]:
    """Where everything stands and what it weighs by part; nothing for masses that cannot be."""
    stages = vehicle.every_stage()
    if not all(0.0 < s.propellant.load < math.inf for s in stages) or not vehicle.lift_off_mass > 0.0:
        return None, ()
    if not all(vehicle.mass_above(i) > 0.0 for i in range(len(vehicle.stages))):
        return None, ()
    return lay_out(concept, vehicle), stage_masses(concept, vehicle)


def problem_of(concept: Concept, assembly: Assembly, guess: Guess | None = None) -> tuple[Problem, list[str]]:
    """What is to be found, and what was assumed for it.

    guess  of a concept near this one: its values do where they are of all that is open here
    """
    site, orbit = site_of(concept), orbit_of(concept)
    freedoms = tuple(o for o in concept.open_values() if not o.settled)
    objective, assumed = concept.objective, []
    if objective is None and freedoms:
        objective = MOST_PAYLOAD if isinstance(concept.payload, Find) else LEAST_MASS
        assumed.append(f"no objective stated: {objective.sense} {objective.measure} taken")
    if guess is None or not {f.path for f in freedoms} <= set(guess.values):
        guess = first_guess(concept, assembly, orbit, site)
    else:
        guess = replace(guess, speed=needed_speed(orbit, site, reserve_of(concept)))
    problem = Problem(concept, assembly, site, orbit, limits_of(concept), guess, freedoms, {}, objective)
    if not problem.gives:
        problem = replace(problem, objective=None)
    return problem, assumed


def best_way(
    problem: Problem, ways: list[tuple[Orbit | Climb, bool]], steering: Steering,
    told: Callable[[str], None], known: Known | None,
) -> _Answer:  # fmt: skip
    """Solve by each way to the orbit; the better answer."""
    answers = [_solve(replace(problem, orbit=orbit), steering, coasts, told, known) for orbit, coasts in ways]
    best_one = answers[0]
    for answer in answers[1:]:
        if _better(answer[2], best_one[2]):
            best_one = answer
    return best_one


def _best_from(
    ascent: Ascent, start: np.ndarray | None, told: Callable[[str], None] = lambda _: None
) -> Optimum:
    """The best of an ascent from `start` (unscaled) where that leads to one, else from nothing."""
    if start is not None:
        near = best(ascent, start)
        if near.met:
            return near
    return best(ascent, told=told)


def _solve(
    problem: Problem, steering: Steering, coasting: bool, told: Callable[[str], None],
    known: Known | None = None,
) -> _Answer:  # fmt: skip
    """Solve; engine counts are whole (`wetmass.closing.whole` says which are tried)."""
    counts = [f for f in problem.freedoms if f.what == "engine count"]
    if not counts:
        ascent = problem.ascent(steering, coasting)
        start = known.start(ascent) if known is not None else None
        return problem, ascent, _best_from(ascent, start, told)

    def answer(numbers: tuple[int, ...], beside: _Answer | None) -> _Answer:
        whole = problem.with_engines({f.path: n for f, n in zip(counts, numbers, strict=True)})
        ascent = whole.ascent(steering, coasting)
        start = known.start(ascent) if known is not None and beside is None else None
        if beside is not None:
            start = carried_over(beside[1], beside[2].x, ascent)
        return whole, ascent, _best_from(ascent, start)

    least = [math.ceil(f.find.low or 1.0) for f in counts]
    most = [math.floor(f.find.high or MOST_ENGINES) for f in counts]
    guessed = [math.ceil(problem.guess.values[f.path]) for f in counts]
    start = tuple(min(max(n, low), high) for n, low, high in zip(guessed, least, most, strict=True))
    told("trying whole numbers of engines")
    flights = 0

    def counted(numbers: tuple[int, ...], beside: _Answer | None) -> _Answer:
        nonlocal flights
        made = answer(numbers, beside)
        flights += made[2].flights
        return made

    _, (whole, ascent, found) = best_numbers(
        start, least, most, counted, lambda one: one[2].met, lambda one, other: _better(one[2], other[2])
    )
    return whole, ascent, replace(found, flights=flights)


def _better(one: Optimum, other: Optimum) -> bool:
    """Whether the objective tells `one` apart from `other` in its favour, or only it closes."""
    if one.met != other.met:
        return one.met
    if not one.met:
        return one.worst < 0.5 * other.worst
    return one.trial.score < other.trial.score - 1e-5 * abs(other.trial.score)


def open_values(problem: Problem, found: Optimum) -> dict[str, float]:
    """What was found of the concept's open values, by path [SI]."""
    unknowns = problem.unknowns()
    tail = found.x[len(found.x) - len(unknowns) :]
    return {u.name: float(v) for u, v in zip(unknowns, tail, strict=True)}


def _payload_stated(concept: Concept) -> bool:
    return not isinstance(concept.payload, Find)


def _most_payload(
    problem: Problem, values: dict[str, float], steering: Steering, coasting: bool, found: Optimum,
    told: Callable[[str], None],
) -> Optimum | None:  # fmt: skip
    """The most payload of the vehicle as sized, its propellant all used."""
    told("asking how much it could carry")
    loose = capability(problem, values)
    ascent = loose.ascent(steering, coasting)
    start = carried_over(problem.ascent(steering, coasting), found.x, ascent)
    answer = best(ascent, start) if found.met else best(ascent)
    return answer if answer.met else best(ascent)


def capability(problem: Problem, values: Mapping[str, float]) -> Problem:
    """What is to be found for the most a vehicle can carry, as sized by `values`, its propellant all used."""
    fixed = {path: value for path, value in values.items() if path != USED}
    asked = problem.concept.payload.value  # type: ignore[union-attr]
    guess = replace(problem.guess, values={**problem.guess.values, "payload": max(asked, 1.0)})
    return replace(problem, freedoms=(_PAYLOAD,), fixed=fixed, guess=guess, objective=MOST_PAYLOAD)


def _left_over(vehicle: Vehicle, values: Mapping[str, float], found: Optimum) -> tuple[float, float]:
    """Propellant left above the reserve [kg], below 0 what lacks; and the speed that lacks [m/s]."""
    share = values.get(USED, 1.0)
    last = vehicle.stages[-1]
    left = last.propellant.burns / share * (1.0 - share)
    if left >= 0.0 or not found.met:
        return max(left, 0.0), 0.0
    end = float(found.trial.state[6])
    return left, last.vacuum_isp * STANDARD_GRAVITY * math.log((end - left) / end)


def _found(problem: Problem, values: Mapping[str, float], found: Optimum) -> tuple[Found, ...]:
    bounds = {u.name: u for u in problem.unknowns()}
    out = []
    vehicle = problem.vehicle(values)
    for opened in problem.concept.open_values():
        value = values.get(opened.path, math.nan)
        if opened.settled and opened.stage is not None:
            name = problem.concept.stages[opened.stage].name
            value = next(s.dry_mass for s in vehicle.every_stage() if s.name == name)
        bound = ""
        unknown = bounds.get(opened.path)
        if unknown is not None:
            near = 1e-4 * unknown.scale
            if value <= unknown.low + near and opened.find.low is not None:
                bound = "the least allowed"
            if value >= unknown.high - near and opened.find.high is not None:
                bound = "the most allowed"
        out.append(Found(opened.path, value, _UNITS[opened.what], bound))
    return tuple(out)


def held(problem: Problem, vehicle: Vehicle, found: Optimum, flight: Flight | None) -> tuple[Held, ...]:
    """Requirements, and limits where a flight is written down, with what came out."""
    from wetmass.concept.dimensions import si_unit

    out = []
    for requirement, stage in problem.requirements():
        got = measured(requirement.measure, stage, vehicle, found.trial)
        asked = requirement.quantity.value
        off, met = got / asked - 1.0, holds(requirement, got)
        unit = si_unit(MEASURES[requirement.measure].dimension)
        out.append(Held(requirement.name, str(requirement.relation), asked, got, unit, met, abs(off) < 1e-3))
    if flight is not None:
        limits = problem.limits
        for name, limit, got, unit in (
            (Measure.GREATEST_FELT_ACCELERATION, limits.acceleration, flight.felt_acceleration.value, "m/s²"),
            (Measure.GREATEST_DYNAMIC_PRESSURE, limits.pressure, flight.dynamic_pressure.value, "Pa"),
            ("greatest q-alpha", limits.q_alpha, flight.q_alpha.value, "Pa·rad"),
            ("heating without fairing", limits.heating, _bare(flight), "W/m²"),
        ):
            if math.isfinite(limit):
                # heating is known far worse, and the peak of a coast is seen by its steps, to 2 %
                off, near = got / limit - 1.0, 2e-2 if unit == "W/m²" else 2e-3
                out.append(Held(str(name), "at most", limit, got, unit, off < near, abs(off) < near))
    return tuple(out)


def _bare(flight: Flight) -> float:
    return flight.exposed_heating.value if flight.exposed_heating is not None else flight.heating.value


def _capability(vehicle: Vehicle, most: Optimum | None, problem: Problem) -> float | None:
    """The most it can carry [kg]: what it carries when that was sized for, else as asked separately."""
    if most is None:
        return vehicle.payload
    place = -2 if isinstance(problem.orbit, Climb) else -1  # among the unknowns; on a climb the share is last
    return float(most.x[place]) if most.met else None
