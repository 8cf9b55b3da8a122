"""The best of the unknowns near a start: sequential quadratic programming over whole flights (scipy)."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Trial
from wetmass.flight.curvature import even_basis, lacking
from wetmass.flight.scaled import Scaled, breach
from wetmass.flight.scan import brought

LEFT = 50.0  # times what counts as standing still: so much to be gained by the slope and curvature is gone on for
REACH = 4.0  # how far a scaled unknown may move in one run
LOST = 5.0  # the same scale as `MET`: a run that ends further off is not gone on with
CLOSE, CLOSEST = 1.0, 0.05  # how far a scaled unknown may move after that, and when it is given up
SINGULAR = 6  # what SLSQP says when the conditions' slopes depend on each other
EXACT, EXACT_ROUNDS = 1e-6, 4  # the same scale: 1e-8 of radius and speed, 6 cm of the radius
MET = 1e-3  # a condition counts as met: in the scale of `goal`, 1e-5 of radius and speed


@dataclass(frozen=True, slots=True)
class Optimum:
    """The best unknowns found, and how the search went."""

    x: np.ndarray
    trial: Trial
    met: bool  # every condition holds
    worst: float  # largest breach of a condition
    flights: int
    rounds: int
    message: str


@dataclass(frozen=True, slots=True)
class Care:
    """How carefully a search is carried on."""

    still: float  # relative: the score stands still
    met: float  # every condition within this
    rounds: int  # in a row
    most: int  # rounds at the most
    first: int  # of the first run
    run: int  # of each later run


ROUGH = Care(still=5e-4, met=1e-2, rounds=2, most=40, first=40, run=40)
FINE = Care(still=2e-6, met=2e-4, rounds=3, most=150, first=15, run=15)


class _Settled:
    """Keeps the best round, and ends the search once the score stands still with every condition met."""

    def __init__(self, scaled: Scaled, s: np.ndarray, care: Care) -> None:
        self.scaled, self.care, self.last, self.still = scaled, care, math.inf, 0
        self.best, self.rank = s, self._rank(s)
        self.done = False

    def _rank(self, s: np.ndarray) -> tuple[float, float]:
        """Sorting key: how far conditions are from being met, then the score."""
        trial = self.scaled.trial(s)
        worst = breach(trial)
        return (0.0, trial.score) if worst < self.care.met else (worst, trial.score)

    def offer(self, s: np.ndarray) -> None:
        """Keep `s` if it is the best so far."""
        rank = self._rank(s)
        if rank < self.rank:
            self.best, self.rank = s.copy(), rank

    def check(self, basis: np.ndarray) -> None:
        """Go on where the search only crept: where its slope, by the curvature it knows, leaves much to gain."""
        if self.done and lacking(self.scaled, self.best, basis) > LEFT * self._small(
            self.scaled.trial(self.best)
        ):
            self.done, self.still = False, 0

    def _small(self, trial: Trial) -> float:
        return self.care.still * max(1.0, abs(trial.score))

    def __call__(self, s: np.ndarray) -> None:
        self.offer(s)
        trial = self.scaled.trial(s)
        quiet = abs(trial.score - self.last) < self._small(trial) and breach(trial) < self.care.met
        self.still = self.still + 1 if quiet else 0
        self.last = trial.score
        if self.still >= self.care.rounds:
            self.done = True
            raise StopIteration


def polished(scaled: Scaled, s: np.ndarray, care: Care = FINE) -> Optimum:
    """Sequential quadratic programming from the scaled unknowns `s`.

    Runs of a few rounds; before each the unknowns are turned and stretched so that the curvature of the
    Lagrangian is one along everything that is free to move, without which the search creeps along curved
    valleys.  A run that loses its way, into flights that fall back say, is taken up again from the best round,
    within less reach.
    """
    s = np.clip(s, scaled.low, scaled.high)
    settled, rounds, message = _Settled(scaled, s, care), 0, ""
    reach, anew = math.inf, True
    while rounds < care.most and not settled.done:
        basis = np.eye(len(s)) if anew else even_basis(scaled, s)
        most = care.run if rounds else care.first
        answer = _run(scaled, s, basis, settled, min(most, care.most - rounds), reach)
        settled.check(basis)
        moved = np.clip(s + basis @ answer.x, scaled.low, scaled.high)
        rounds, message = rounds + max(int(answer.nit), 1), str(answer.message)
        stuck = np.max(np.abs(moved - s)) < 1e-9
        anew = breach(scaled.trial(moved)) > LOST or (stuck and answer.status == SINGULAR)
        if anew:
            reach = min(CLOSE, 0.4 * reach)
            if reach < CLOSEST:
                break
            moved, _ = brought(scaled, settled.best, list(range(len(s))), 10)
        elif stuck and rounds > care.first:
            break
        s = moved
    settled.offer(s)
    s = settled.best if care is not FINE else _exact(scaled, settled.best)
    trial = scaled.trial(s)
    worst = breach(trial)
    return Optimum(
        s * scaled.scale,
        trial,
        worst < max(MET, care.met) and bool(trial.summary[at.STATUS] == at.DONE),
        worst,
        scaled.ascent.flights,
        rounds,
        message,
    )


def _exact(scaled: Scaled, s: np.ndarray) -> np.ndarray:
    """The unknowns moved as little as brings the flight onto its orbit to centimetres."""
    worst = breach(scaled.trial(s))
    if worst > MET:
        return s
    moved, _ = brought(scaled, s, list(range(len(s))), EXACT_ROUNDS, EXACT)
    return moved if breach(scaled.trial(moved)) <= max(worst, 0.1 * MET) else s


def _run(scaled: Scaled, s: np.ndarray, basis: np.ndarray, settled: _Settled, most: int, reach: float):
    """One run of scipy's SLSQP in coordinates z, s + basis·z, no scaled unknown further than `reach`."""
    from scipy.optimize import minimize

    straight = np.array_equal(basis, np.eye(len(s)))

    def at(z: np.ndarray) -> np.ndarray:
        return np.clip(s + basis @ z, scaled.low, scaled.high)

    conditions = [
        {"type": "eq", "fun": lambda z: scaled.trial(at(z)).equal,
         "jac": lambda z: scaled.slopes(at(z))[0] @ basis},
        {"type": "ineq", "fun": lambda z: scaled.trial(at(z)).at_least,
         "jac": lambda z: scaled.slopes(at(z))[1] @ basis},
    ]  # fmt: skip
    reach = reach if straight else min(reach, REACH)
    low, high = np.maximum(scaled.low - s, -reach), np.minimum(scaled.high - s, reach)
    bounds = list(zip(low, high, strict=True)) if straight else None
    if not straight:
        walls = np.vstack([basis, -basis])
        room = np.concatenate([-low, high])
        conditions.append({"type": "ineq", "fun": lambda z: walls @ z + room, "jac": lambda z: walls})
    return minimize(
        lambda z: scaled.trial(at(z)).score,
        np.zeros(len(s)),
        jac=lambda z: scaled.slopes(at(z))[2] @ basis,
        bounds=bounds,
        constraints=conditions,
        method="SLSQP",
        callback=lambda z: settled(at(z)),
        options={"maxiter": most, "ftol": 1e-10},
    )
