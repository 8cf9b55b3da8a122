"""An ascent in scaled unknowns, each flight flown once, and its derivatives by flights beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from wetmass.flight.ascent import Ascent, Trial

DIFFERENCE = 1e-6  # of a scaled unknown, for derivatives


@dataclass
class Scaled:
    """The problem in scaled unknowns, each flight flown once."""

    ascent: Ascent
    scale: np.ndarray = field(init=False)
    low: np.ndarray = field(init=False)
    high: np.ndarray = field(init=False)
    _trials: dict[bytes, Trial] = field(default_factory=dict)
    _slopes: dict[bytes, tuple[np.ndarray, np.ndarray, np.ndarray]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        unknowns = self.ascent.unknowns
        self.scale = np.array([u.scale for u in unknowns])
        self.low = np.array([u.low for u in unknowns]) / self.scale
        self.high = np.array([u.high for u in unknowns]) / self.scale

    def trial(self, s: np.ndarray) -> Trial:
        key = s.tobytes()
        found = self._trials.get(key)
        if found is None:
            if len(self._trials) > 64:
                self._trials.clear()
            found = self._trials[key] = self.ascent.trial(s * self.scale)
        return found

    def slopes(self, s: np.ndarray, which: Sequence[int] | None = None):
        """(of the conditions = 0, of the conditions ≥ 0, of the score) by differences of flights that
        take the same steps."""
        key = s.tobytes()
        if which is None and key in self._slopes:
            return self._slopes[key]
        here = self.trial(s)
        columns = range(len(s)) if which is None else which
        equal = np.zeros((len(here.equal), len(s)))
        at_least = np.zeros((len(here.at_least), len(s)))
        score = np.zeros(len(s))
        for i in columns:
            d = DIFFERENCE if s[i] + DIFFERENCE <= self.high[i] else -DIFFERENCE
            beside = s.copy()
            beside[i] += d
            there = self.ascent.trial(beside * self.scale, here)
            equal[:, i] = (there.equal - here.equal) / d
            at_least[:, i] = (there.at_least - here.at_least) / d
            score[i] = (there.score - here.score) / d
        if which is None:
            if len(self._slopes) > 16:
                self._slopes.clear()
            self._slopes[key] = (equal, at_least, score)
        return equal, at_least, score


def breach(trial: Trial) -> float:
    """The furthest that a condition is from being met."""
    return max(float(np.max(np.abs(trial.equal), initial=0.0)), float(np.max(-trial.at_least, initial=0.0)))
