"""Why a concept does not close: which quantity ran away, and what bound was met."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from wetmass.closing.guess import ideal_gain
from wetmass.closing.measures import measured
from wetmass.closing.problem import USED, Problem
from wetmass.concept.measures import Relation, Requirement
from wetmass.flight.optimum import NO_WAY, Optimum
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.closed import Held
from wetmass.record.digits import fixed
from wetmass.record.mission import Climb
from wetmass.record.say import said
from wetmass.record.vehicle import Vehicle


def why_not(problem: Problem, vehicle: Vehicle, found: Optimum) -> str:
    """One or two sentences, "" when the concept closes."""
    weight = vehicle.lift_off_mass * STANDARD_GRAVITY
    push = vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE) / weight
    if push <= 1.0 and problem.site.launch is None and not _traced(vehicle):
        return (
            f"it does not leave the pad: lift-off thrust to weight is {push:.2f}. "
            "Give it more thrust, or less to lift."
        )
    if found.met:
        return _negative(problem, vehicle, found) or _decided(problem, vehicle, found)
    ideal = max(ideal_gain(vehicle), 0.0)
    needed = problem.guess.speed
    run = _at_bounds(problem, found)
    if run:
        return f"{run}. The speed asked for is beyond what these engines and structures give together."
    if isinstance(problem.orbit, Climb):
        return _breach(problem, found)
    if found.message == NO_WAY or ideal < needed - 300.0:
        return (
            f"no way to the orbit was found: the vehicle's ideal speed is {ideal / 1e3:.2f} km/s, and about "
            f"{needed / 1e3:.2f} km/s would be needed with the usual losses. More propellant, lighter stages "
            "or a higher specific impulse would close it."
        )
    return _breach(problem, found)


def _negative(problem: Problem, vehicle: Vehicle, found: Optimum) -> str:
    if vehicle.payload < 0.0:
        return (
            f"it cannot reach {_goal(problem)} even with no payload: it would "
            f"have to be {fixed(-vehicle.payload)} kg "
            "lighter at the end. More propellant, lighter stages or a higher specific impulse would close it."
        )
    share = _value(problem, found, USED)
    if share is not None and share > 1.0 + 1e-6:
        burns = vehicle.stages[-1].propellant.burns / share
        end = float(found.trial.state[6])
        lacking = (share - 1.0) * burns
        speed = vehicle.stages[-1].vacuum_isp * STANDARD_GRAVITY * math.log((end + lacking) / end)
        return (
            f"it falls short of {_goal(problem)} by {fixed(speed)} m/s: its last stage would "
            f"need {fixed(lacking)} kg "
            "more propellant than it has. Less payload, more propellant or lighter stages would close it."
        )
    return ""


def _goal(problem: Problem) -> str:
    return "the height" if isinstance(problem.orbit, Climb) else "the orbit"


def _decided(problem: Problem, vehicle: Vehicle, found: Optimum) -> str:
    """A requirement that does not hold and that nothing open could change."""
    for requirement, stage in problem.requirements():
        if not problem.decided(requirement):
            continue
        got = measured(requirement.measure, stage, vehicle, found.trial)
        if not holds(requirement, got):
            return (
                f"“{requirement}” does not hold: it is {got:,.5g} (SI), and nothing is left open that could "
                "change it. Open a value, or loosen the requirement."
            )
    return ""


def broken(held: Sequence[Held]) -> str:
    """The first limit or requirement that the flight does not keep, "" where all are kept."""
    for one in held:
        if not one.met:
            return (
                f"“{one.what}: {one.relation} {said(one.asked, one.unit)}” does not hold: it is "
                f"{said(one.got, one.unit)}. Loosen it, let the engines throttle lower, or give other values freedom."
            )
    return ""


def holds(requirement: Requirement, got: float) -> bool:
    """Whether the measured value meets the requirement, to 0.01 %."""
    off = got / requirement.quantity.value - 1.0
    return {
        Relation.EXACTLY: abs(off) < 1e-4, Relation.AT_LEAST: off > -1e-4, Relation.AT_MOST: off < 1e-4,
    }[requirement.relation]  # fmt: skip


def _at_bounds(problem: Problem, found: Optimum) -> str:
    unknowns = problem.unknowns()
    tail = found.x[len(found.x) - len(unknowns) :]
    for unknown, value in zip(unknowns, tail, strict=True):
        near = 1e-3 * unknown.scale
        for bound, words in ((unknown.low, "fell to the least"), (unknown.high, "ran away to the most")):
            if abs(value - bound) < near:
                return f"{unknown.name} {words} that was looked at, {bound:,.6g} (SI)"
    return ""


def _breach(problem: Problem, found: Optimum) -> str:
    """The condition that is furthest from being met."""
    trial = found.trial
    required = [r for r, _ in problem.requirements() if not problem.decided(r)]
    exact = [r for r in required if r.relation == "exactly"]
    bounds = [r for r in required if r.relation != "exactly"]
    equal = np.abs(trial.equal)
    worst_equal = int(np.argmax(equal)) if len(equal) else -1
    worst_bound = int(np.argmin(trial.at_least)) if len(trial.at_least) else -1
    if worst_equal >= 0 and (worst_bound < 0 or equal[worst_equal] >= -trial.at_least[worst_bound]):
        from_end = len(equal) - worst_equal
        what = f"“{exact[-from_end]}”" if from_end <= len(exact) else f"{_goal(problem)} asked for"
    else:
        from_end = len(trial.at_least) - worst_bound
        rest = "the q-alpha limit or the inclination"
        if isinstance(problem.orbit, Climb):
            rest = "the speed asked for"
        what = f"“{bounds[-from_end]}”" if from_end <= len(bounds) else rest
    return f"the search ended with {what} not met ({found.message}); loosen it, or give it more freedom."


def _traced(vehicle: Vehicle) -> bool:
    """Whether solids leave the pad whose mean thrust tells less than their trace."""
    first = [*vehicle.stages[0].engines, *(g for s in vehicle.strap_ons for g in s.stage.engines)]
    return any(g.trace is not None for g in first)


def _value(problem: Problem, found: Optimum, name: str) -> float | None:
    unknowns = problem.unknowns()
    tail = found.x[len(found.x) - len(unknowns) :]
    for unknown, value in zip(unknowns, tail, strict=True):
        if unknown.name == name:
            return float(value)
    return None
