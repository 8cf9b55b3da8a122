"""What each condition of a best ascent is worth: its Lagrange multipliers, by differences of whole flights.

At an optimum the score can be made no better in any direction that keeps the conditions: its slope is a
combination of theirs.  The weights tell, to first order, what a changed figure does to the best payload
without a new search: the changed vehicle is flown once with the old steering, and what it misses is priced.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from wetmass.flight.ascent import Ascent, Trial

STEP = 1e-6  # of a scaled unknown
HELD = 1e-3  # a bound this near is one that holds
STILL = 1e-5  # a condition with smaller slopes does not move


@dataclass(frozen=True, slots=True)
class Prices:
    """Score per unit of each condition, and how far the slopes are from balance."""

    equal: np.ndarray
    at_least: np.ndarray  # 0 where the condition has room
    unbalanced: float  # largest slope left, of a slope of the score of order 1


def prices(ascent: Ascent, x: np.ndarray) -> Prices:
    """The multipliers at the optimum `x`."""
    here = ascent.trial(x)
    scale = np.array([u.scale for u in ascent.unknowns])
    low, high = (np.array([getattr(u, end) for u in ascent.unknowns]) for end in ("low", "high"))
    free = (x - low > HELD * scale) & (high - x > HELD * scale)
    bound = here.at_least < HELD
    rows, slope = [], []
    for i in np.flatnonzero(free):
        beside = x.copy()
        beside[i] += STEP * scale[i]
        there = ascent.trial(beside, here)
        rows.append(
            np.concatenate([there.equal - here.equal, (there.at_least - here.at_least)[bound]]) / STEP
        )
        slope.append((there.score - here.score) / STEP)
    slopes, wanted = np.array(rows), np.array(slope)
    # a condition that is met exactly whatever is done holds nothing, such as a limit of heating where the
    # fairing is let go at just that heating
    moves = np.max(np.abs(slopes), axis=0, initial=0.0) > STILL
    weights = np.zeros(slopes.shape[1])
    weights[moves] = np.linalg.lstsq(slopes[:, moves], -wanted, rcond=1e-10)[0]
    at_least = np.zeros(len(here.at_least))
    at_least[bound] = weights[len(here.equal) :]
    left = float(np.max(np.abs(slopes @ weights + wanted), initial=0.0))
    return Prices(weights[: len(here.equal)], at_least, left)


def change_of_score(worth: Prices, before: Trial, after: Trial) -> float:
    """What the best score changes by, to first order, from a flight with one set of unknowns in both."""
    missed = worth.equal @ (after.equal - before.equal) + worth.at_least @ (after.at_least - before.at_least)
    return float(missed + after.score - before.score)
