"""A vehicle as it was sized, flown somewhere else: how much it carries there, or what it would need to."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from wetmass.closing.close import Answer, best_way, held, problem_of
from wetmass.closing.guess import needed_speed, payload_for, reserve_of
from wetmass.closing.mission import way_like, ways_of
from wetmass.closing.problem import MOST_PAYLOAD, USED, Problem
from wetmass.closing.reasons import why_not
from wetmass.concept.arrival import speed_kept
from wetmass.concept.find import Find
from wetmass.concept.model import Mission, Open
from wetmass.flight.ascent import Ascent, Steering
from wetmass.flight.optimum import Optimum, best
from wetmass.flight.report import recorded
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.flight import Flight
from wetmass.record.vehicle import Vehicle
from wetmass.vehicle import Assembly

_PAYLOAD = Open("payload", "payload", None, None, Find())


STEP = 1.12  # of a load, from one try to the next
MOST_STEPS = 12
CLOSE = 1e-3  # of the payload asked: near enough
LIGHT = (
    0.3  # of the last stage's dry mass: a payload lighter than that is not what a stage is made for (ours)
)


@dataclass(frozen=True, slots=True)
class Needed:
    """What one stage's load would have to be, everything else as it is."""

    stage: str
    load: float  # kg, now
    needed: float  # kg; nan where no load of this stage alone does it
    best_load: float  # kg, the furthest that helped
    best_payload: float  # kg, carried with that


@dataclass(frozen=True, slots=True)
class Sent:
    """The most a sized vehicle carries to a mission."""

    mission: Mission
    problem: Problem
    ascent: Ascent
    found: Optimum
    payload: float  # kg at the last cut-off; below 0: what it would have to be lighter by
    reason: str  # why it does not get there, "" when it does
    broken: tuple[str, ...]  # limits of the file that this flight does not keep, in words
    flight: Flight | None

    @property
    def coasts(self) -> bool:
        """Whether the last stage coasts and burns again."""
        return self.ascent.coasting

    @property
    def vehicle(self) -> Vehicle:
        """As it is flown there."""
        return self.ascent.build(self.ascent.open_values(self.found.x))


def sent(
    answer: Answer,
    mission: Mission,
    *,
    beside: Sent | None = None,
    coasts: bool | None = None,
    changed: Mapping[str, float] | None = None,
    steering: Steering | None = None,
    told: Callable[[str], None] = lambda _: None,
) -> Sent:
    """The most payload of the vehicle of `answer` to `mission`: every open value but the payload as found.

    beside   flown to a mission near this one, to start from (and from nowhere else), with or without a
             coast as that one
    coasts   whether the last stage coasts and burns again; as the mission says where None
    changed  values that differ from the answer's, by path [SI]

    The file's requirements were for its own mission and are not asked; its limits are.
    """
    problem = _elsewhere(answer, mission, changed or {})
    ways, _ = ways_of(problem.concept, problem.orbit)
    law = steering or answer.ascent.steering
    if coasts is not None:
        ways = [way_like(ways, coasts)]
    if beside is not None:
        orbit, coasting = way_like(ways, beside.coasts)
        problem = replace(problem, orbit=orbit)
        ascent = problem.ascent(law, coasting)
        if len(ascent.unknowns) == len(beside.found.x):
            return _sent(mission, problem, ascent, best(ascent, _start(problem, beside)))
        ways = [(orbit, coasting)]
    problem, ascent, found = best_way(problem, ways, law, told, None)
    return _sent(mission, problem, ascent, found)


def _start(problem: Problem, beside: Sent) -> np.ndarray:
    """Unknowns to start from: those flown beside, the payload less by what the further way takes."""
    x = beside.found.x.copy()
    x[-1] = expected(beside, problem.guess.speed)
    return x


def expected(beside: Sent, speed: float) -> float:
    """Payload by the rocket equation, from one flown, where the ideal speed needed is `speed` [m/s]."""
    vehicle = beside.problem.vehicle({**beside.problem.fixed, "payload": beside.payload})
    last = vehicle.stages[-1]
    empty = last.dry_mass + last.propellant.residuals + last.propellant.home
    more = speed - beside.problem.guess.speed
    return (beside.payload + empty) * math.exp(-more / (last.vacuum_isp * STANDARD_GRAVITY)) - empty


def _elsewhere(answer: Answer, mission: Mission, changed: Mapping[str, float]) -> Problem:
    """The problem of the payload alone."""
    concept = answer.problem.concept.model_copy(update={"mission": mission, "payload": Find(), "require": ()})
    assembly = Assembly(concept)
    problem, _ = problem_of(concept, assembly)
    fixed = {path: value for path, value in answer.values.items() if path not in ("payload", USED)}
    fixed |= changed
    latitude = concept.site.latitude.value
    reserve = reserve_of(concept)
    speed = needed_speed(problem.orbit, problem.site, reserve + speed_kept(mission, latitude))
    empty = assembly.vehicle({**fixed, "payload": 0.0}).stages[-1].dry_mass
    payload = max(payload_for(assembly, dict(fixed), speed), LIGHT * empty)  # sets its scale and its bounds
    guess = replace(problem.guess, values={**fixed, "payload": payload}, speed=speed)
    return replace(problem, freedoms=(_PAYLOAD,), fixed=fixed, guess=guess, objective=MOST_PAYLOAD)


def _sent(mission: Mission, problem: Problem, ascent: Ascent, found: Optimum) -> Sent:
    payload = float(ascent.open_values(found.x)[-1])
    vehicle = problem.vehicle({**problem.fixed, "payload": payload})
    flight = recorded(ascent, found.x) if found.met else None
    broken = tuple(
        f"{one.what}" for one in held(problem, vehicle, found, flight) if not one.met
    )  # fmt: skip
    reason = why_not(problem, vehicle, found)
    return Sent(mission, problem, ascent, found, payload, reason, broken, flight)


def propellant_for(
    answer: Answer, there: Sent, payload: float, stage: str, *, told: Callable[[str], None] = lambda _: None
) -> Needed:
    """Propellant of `stage` with which `payload` [kg] is carried where `there` was flown.

    The load is raised (or lowered) by steps, the most payload found for each, until it is met.  Dry mass
    follows where the file lets it follow, and stays where it is stated.
    """
    path = f"stages/{stage}/propellant/mass"
    vehicle = there.problem.vehicle({**there.problem.fixed, "payload": there.payload})
    load = next(s for s in vehicle.every_stage() if s.name == stage).propellant.load
    step = STEP if payload >= there.payload else 1.0 / STEP

    def most(at: float) -> float:
        told(f"{stage} with {at / 1e3:.1f} t")
        further = sent(answer, there.mission, coasts=there.coasts, changed={path: at})
        return further.payload if further.found.met else -math.inf

    at, here = load, there.payload
    for _ in range(MOST_STEPS):
        now = most(at * step)
        if (now - here) * (step - 1.0) <= 0.0:
            break
        if (here - payload) * (now - payload) <= 0.0:
            return Needed(stage, load, _between(most, (at, here), (at * step, now), payload), at * step, now)
        at, here = at * step, now
    return Needed(stage, load, math.nan, at, here)


def _between(
    most: Callable[[float], float], low: tuple[float, float], high: tuple[float, float], payload: float
) -> float:
    """The load at which the payload is carried, by false position."""
    at = low[0]
    for _ in range(5):
        at = low[0] + (payload - low[1]) / (high[1] - low[1]) * (high[0] - low[0])
        got = most(at)
        if abs(got - payload) < CLOSE * payload:
            break
        if (got - payload) * (low[1] - payload) > 0.0:
            low = (at, got)
        else:
            high = (at, got)
    return at
