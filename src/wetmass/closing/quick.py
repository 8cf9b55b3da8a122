"""A first-order answer at once: a concept near a solved one, brought to what it asks in a few flights.

The last flight is corrected with its slopes as they were until everything asked is met; nothing is made best
anew.  What is lost by that is of second order in the step.  `start_from` starts the true search from there.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from wetmass.closing.again import Known
from wetmass.closing.close import Answer, held, open_values, problem_of
from wetmass.closing.mission import way_like, ways_of
from wetmass.closing.reasons import broken, why_not
from wetmass.concept.model import Concept
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, Trial
from wetmass.flight.optimum import Optimum, carried_over
from wetmass.vehicle import Assembly

STEP = 1e-6  # of a scaled unknown, for slopes
BOUND = 2e-3  # a condition this near to its limit is held there
ROUNDS, MOST_ANEW = 12, 2  # of corrections, and of slopes taken anew in them
FAR = 3.0  # in the scale of the conditions: the flight is another one
MET, NEAR = 1e-3, 2e-2  # as near as is wanted, and as far off as an answer to first order may be
_Slopes = tuple[np.ndarray, np.ndarray]  # of the conditions = 0 and ≥ 0, by scaled unknown


@dataclass
class Nearby:
    """A solved answer that concepts near it are answered from."""

    answer: Answer
    _slopes: _Slopes | None = field(default=None)
    _trail: dict[str, float] = field(default_factory=dict)  # unknowns of the last quick answer

    def prepare(self) -> None:
        """Take the slopes, in a pause, so that the next quick answer is quick."""
        if self._slopes is None and self.answer.found.met:
            self._slopes = _slopes(self.answer.ascent, self.answer.found.x, self.answer.found.trial)

    def quick(self, concept: Concept, kept: Mapping[str, float] | None = None) -> Answer | None:
        """The concept answered to first order, without a flight written down; None where that leads nowhere.

        kept  values held at a number whatever the file says, as for `close`
        """
        last = self.answer
        if not last.found.met:
            return None
        assembly = Assembly(concept)
        problem, assumed = problem_of(concept, assembly, last.problem.guess)
        problem = replace(problem, fixed={**problem.fixed, **(kept or {})})
        counts = [f.path for f in problem.freedoms if f.what == "engine count"]
        if counts:
            if not all(path in last.values for path in counts):
                return None
            problem = problem.with_engines({path: last.values[path] for path in counts})
        orbit, coasting = way_like(ways_of(concept, problem.orbit)[0], last.ascent.coasting)
        problem = replace(problem, orbit=orbit)
        ascent = problem.ascent(last.ascent.steering, coasting)
        corrected = self._corrected(ascent)
        if corrected is None:
            return None
        found = Optimum(*corrected, True, 0.0, ascent.flights, 0, "to first order")
        values = {**problem.fixed, **open_values(problem, found)}
        vehicle = problem.vehicle(values)
        asked = held(problem, vehicle, found, None)
        reason = why_not(problem, vehicle, found) or broken(asked)
        assumed = (*assumed, *assembly.assumed)
        return Answer(
            problem, ascent, found, values, vehicle, None, None, asked, reason, assumed, ascent.flights
        )  # fmt: skip

    def _corrected(self, ascent: Ascent) -> tuple[np.ndarray, Trial] | None:
        """(unknowns, their flight), brought to the conditions of `ascent`; None when lost."""
        last = self.answer
        x = _named(ascent, _by_name(last.ascent, last.found.x))
        trial = ascent.trial(x)
        if _is_far(trial) and self._trail:  # step by step, as a value is dragged
            x = _named(ascent, self._trail)
            trial = ascent.trial(x)
        if _is_far(trial):  # the same tilt topples a heavier vehicle
            x = _inside(ascent, carried_over(last.ascent, last.found.x, ascent))
            trial = ascent.trial(x)
        if not _flew(trial):
            return None
        slopes = self._slopes
        same = [u.name for u in ascent.unknowns] == [u.name for u in last.ascent.unknowns]
        shape = (len(trial.equal), len(trial.at_least))
        if slopes is None or not same or (len(slopes[0]), len(slopes[1])) != shape:
            slopes = _slopes(ascent, x, trial)
        made = _brought(ascent, x, trial, slopes)
        self._trail = {} if made is None else _by_name(ascent, made[0])
        return made


def start_from(answer: Answer) -> Known:
    """What the true search starts from: the unknowns of a quick answer as they are."""
    return Known(_by_name(answer.ascent, answer.found.x), None)


def _by_name(ascent: Ascent, x: np.ndarray) -> dict[str, float]:
    return {u.name: float(v) for u, v in zip(ascent.unknowns, x, strict=True)}


def _named(ascent: Ascent, values: Mapping[str, float]) -> np.ndarray:
    """Unknowns of `ascent` from those of another by name, its own starts elsewhere."""
    return _inside(ascent, np.array([values.get(u.name, u.start) for u in ascent.unknowns]))


def _brought(ascent: Ascent, x: np.ndarray, trial: Trial, slopes: _Slopes) -> tuple[np.ndarray, Trial] | None:
    """The smallest corrections that meet the conditions; slopes are taken anew only where they mislead."""
    scale = np.array([u.scale for u in ascent.unknowns])
    held = trial.at_least < BOUND
    miss, anew = _miss(trial), 0
    for _ in range(ROUNDS):
        if miss < MET:
            break
        held |= trial.at_least < BOUND
        matrix = np.vstack([slopes[0], slopes[1][held]])
        lacks = np.concatenate([trial.equal, trial.at_least[held]])
        move = np.clip(np.linalg.lstsq(matrix, -lacks, rcond=1e-9)[0], -2.0, 2.0)
        for part in (1.0, 0.4):
            tried = _inside(ascent, x + part * move * scale)
            there = ascent.trial(tried)
            if _flew(there) and _miss(there) < 0.8 * miss:
                x, trial, miss = tried, there, _miss(there)
                break
        else:
            if anew == MOST_ANEW:
                break
            slopes, anew = _slopes(ascent, x, trial), anew + 1
    return (x, trial) if miss < NEAR else None


def _slopes(ascent: Ascent, x: np.ndarray, here: Trial) -> _Slopes:
    """Slopes of both kinds of conditions at `x` by scaled unknown, from flights that take the same steps."""
    equal = np.zeros((len(here.equal), len(x)))
    at_least = np.zeros((len(here.at_least), len(x)))
    for i, unknown in enumerate(ascent.unknowns):
        step = STEP if x[i] + STEP * unknown.scale <= unknown.high else -STEP
        beside = x.copy()
        beside[i] += step * unknown.scale
        there = ascent.trial(beside, here)
        equal[:, i] = (there.equal - here.equal) / step
        at_least[:, i] = (there.at_least - here.at_least) / step
    return equal, at_least


def _inside(ascent: Ascent, x: np.ndarray) -> np.ndarray:
    return np.clip(x, [u.low for u in ascent.unknowns], [u.high for u in ascent.unknowns])


def _flew(trial: Trial) -> bool:
    return bool(trial.summary[at.STATUS] == at.DONE) and math.isfinite(_miss(trial))


def _is_far(trial: Trial) -> bool:
    return not _flew(trial) or _miss(trial) > FAR


def _miss(trial: Trial) -> float:
    """The furthest that a condition is from being met."""
    return max(float(np.max(np.abs(trial.equal), initial=0.0)), float(np.max(-trial.at_least, initial=0.0)))
