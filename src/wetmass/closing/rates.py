"""What a change of a concept does to its best answer, to first order, without a new search.

The changed concept is flown once with the unknowns of the best answer; what that flight misses is priced
with the multipliers of the optimum (`wetmass.closing.prices`).  The steering and sizes that would be made best
anew change the answer by the square of the change only.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from wetmass.closing.close import Answer, capability, problem_of
from wetmass.closing.prices import Prices, prices
from wetmass.closing.problem import LEAST_MASS, Problem
from wetmass.concept.measures import Measure
from wetmass.concept.model import Concept
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.optimum import Optimum
from wetmass.record.mission import Orbit
from wetmass.record.vehicle import Vehicle
from wetmass.vehicle import Assembly

KEPT_STEP = 1e-4  # of what is kept, for its price


@dataclass(frozen=True)
class Rates:
    """A best answer with the price of everything that holds it.

    aim    what is made best: "payload", or "lift-off mass"
    value  of it [kg]
    """

    answer: Answer
    aim: str
    value: float
    ascent: Ascent
    found: Optimum
    worth: Prices
    per_score: float  # kg of the aim for one of the score

    def change(self, concept: Concept, kept: Mapping[str, float] | None = None) -> float:
        """The aim of a concept near this one less that of this one [kg], to first order; nan where it is not
        like it at all, such as with other conditions or a flight that comes to nothing.

        kept  what stages keep to come home in it, by path [kg], where it is not what they keep here
        """
        problem = self._like(concept, kept or {})
        ascent = problem.ascent(self.ascent.steering, self.ascent.coasting)
        if [u.name for u in ascent.unknowns] != [u.name for u in self.ascent.unknowns]:
            return math.nan
        here, there = self.found.trial, ascent.trial(self.found.x, self.found.trial)
        same = len(there.equal) == len(here.equal) and len(there.at_least) == len(here.at_least)
        if not same or there.summary[at.STATUS] != at.DONE:
            return math.nan
        missed = self.worth.equal @ (there.equal - here.equal) + self.worth.at_least @ (
            there.at_least - here.at_least
        )
        before, after = (one.build(one.open_values(self.found.x)) for one in (self.ascent, ascent))
        return float(self.per_score * missed + _of(self.aim, after) - _of(self.aim, before))

    def price_of_keeping(self, path: str) -> float:
        """What the aim changes by for a kilogram more that is kept to come home, by its path [kg/kg]."""
        kept = self.answer.values[path]
        step = KEPT_STEP * max(kept, 1.0)
        return self.change(self.answer.problem.concept, {path: kept + step}) / step

    def _like(self, concept: Concept, more: Mapping[str, float]) -> Problem:
        problem, _ = problem_of(concept, Assembly(concept))
        counts = {f.path: self.answer.values[f.path] for f in problem.freedoms if f.what == "engine count"}
        problem = problem.with_engines(counts) if counts else problem
        kept = {path: value for path, value in self.answer.problem.fixed.items() if path not in counts}
        problem = Problem(
            problem.concept, problem.assembly, problem.site, problem.orbit, problem.limits, problem.guess,
            problem.freedoms, {**problem.fixed, **kept, **more}, problem.objective,
        )  # fmt: skip
        return (
            capability(problem, {**self.answer.values, **more}) if self.found is self.answer.most else problem
        )


def _of(aim: str, vehicle: Vehicle) -> float:
    return vehicle.payload if aim == Measure.PAYLOAD else vehicle.lift_off_mass


def rates(answer: Answer) -> Rates | None:
    """The rates of an answer; None where it does not close, and so has no best.

    For a vehicle that is stated whole the aim is the payload it can carry.
    """
    if answer.reason:
        return None
    ascent, found, aim = answer.ascent, answer.found, str(Measure.PAYLOAD)
    if answer.problem.objective == LEAST_MASS:
        aim = str(Measure.LIFT_OFF_MASS)
    elif answer.most is not None:
        if not answer.most.met:
            return None
        found = answer.most
        coasting = isinstance(answer.problem.orbit, Orbit) and ascent.coasting
        ascent = capability(answer.problem, answer.values).ascent(ascent.steering, coasting)
    elif answer.problem.objective is None:
        return None  # nothing is open and nothing is asked: there is no best
    value = _of(aim, ascent.build(ascent.open_values(found.x)))
    if not np.isfinite(found.trial.score) or found.trial.score == 0.0 or value == 0.0:
        return None
    return Rates(answer, aim, value, ascent, found, prices(ascent, found.x), value / found.trial.score)
