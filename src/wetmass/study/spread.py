"""How sure: guesses drawn as their spreads say, every sample closed and made best."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from wetmass.concept.guesses import Guess, guesses
from wetmass.concept.model import Concept
from wetmass.study.crew import Crew, Told, run
from wetmass.study.point import PAYLOAD, Base, Outcome, base_of
from wetmass.study.sample import SEED, Pair, changes, drawn, pairs_of, some
from wetmass.study.store import Store

PERCENTS = (5.0, 25.0, 50.0, 75.0, 95.0)
KEPT = -1e-2  # of what is asked: as near as a search that closes keeps a limit
_SURE = 1.959963984540054  # standard deviations either side of 95 %


@dataclass(frozen=True)
class Chance:
    """A share of samples, with the interval that holds the true one with 95 % (Wilson)."""

    share: float
    low: float
    high: float


@dataclass(frozen=True)
class Spread:
    """A study of how sure the answer is.

    chances   (samples, guesses) between 0 and 1, from the stated seed
    outcomes  of each sample, in the order of the sequence
    """

    name: str
    base: Base
    guesses: tuple[Guess, ...]
    pairs: tuple[Pair, ...]
    seed: int
    chances: np.ndarray
    outcomes: tuple[Outcome, ...]

    def values(self, name: str = PAYLOAD) -> np.ndarray:
        """A number of every sample that closes."""
        return np.array([one[name] for one in self.outcomes if one.closes])

    def percentiles(self, name: str = PAYLOAD) -> dict[float, tuple[float, float, float]]:
        """{percent: (value, low, high)}: low to high holds the true one with 95 %, by order statistics."""
        ordered = np.sort(self.values(name))
        return {percent: _quantile(ordered, percent / 100.0) for percent in PERCENTS} if len(ordered) else {}

    @property
    def closes(self) -> Chance:
        """The chance that it closes."""
        return chance(sum(one.closes for one in self.outcomes), len(self.outcomes))

    def holds(self) -> dict[str, Chance]:
        """The chance that each requirement and limit is kept, over the samples that tell."""
        names = list(dict.fromkeys(name for one in self.outcomes for name in one.kept))
        made = {}
        for name in names:
            told = [one.kept[name] for one in self.outcomes if name in one.kept]
            made[name] = chance(sum(room > KEPT for room in told), len(told))
        return made

    def settling(self, name: str = PAYLOAD) -> list[tuple[int, float, float, float]]:
        """(samples, 5 %, 50 %, 95 %) over longer and longer beginnings of the sequence, each twice the last."""
        rows, count = [], 16
        while count < 2 * len(self.outcomes):
            part = np.array([one[name] for one in self.outcomes[:count] if one.closes])
            if len(part) >= 8:
                rows.append((min(count, len(self.outcomes)), *np.quantile(part, [0.05, 0.5, 0.95]).tolist()))
            count *= 2
        return rows


def chance(kept: int, of: int) -> Chance:
    """A share with its Wilson interval, 95 %.

    >>> round(chance(95, 100).low, 3), round(chance(95, 100).high, 3)
    (0.888, 0.978)
    """
    if of == 0:
        return Chance(math.nan, 0.0, 1.0)
    share, z = kept / of, _SURE
    middle = (share + z * z / (2 * of)) / (1 + z * z / of)
    half = z / (1 + z * z / of) * math.sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    return Chance(share, max(0.0, middle - half), min(1.0, middle + half))


def _quantile(ordered: np.ndarray, share: float) -> tuple[float, float, float]:
    n = len(ordered)
    off = _SURE * math.sqrt(n * share * (1.0 - share))
    low, high = (min(n - 1, max(0, round(n * share + sign * off - 0.5))) for sign in (-1.0, 1.0))
    return float(np.quantile(ordered, share)), float(ordered[low]), float(ordered[high])


def spread(
    concept: Concept,
    *,
    samples: int = 256,
    seed: int = SEED,
    more: Sequence[str] = (),
    together: Sequence[str] = (),
    base: Base | None = None,
    crew: Crew | None = None,
    store: Store | None = None,
    told: Told = lambda done, of, left: None,
    said: Callable[[str], None] = lambda words: None,
) -> Spread:
    """A concept closed and made best for many draws of its guesses.

    samples   of a scrambled Sobol sequence; a power of two covers most evenly, and a longer one goes on from a shorter
    more      guesses beside those of the file, "second, isp = ± 1 %"
    together  guesses that go together, "first, dry mass & second, structural fraction = 0.6"
    and arguments as for `crew.run`

    Raises Refusal when there is no guess, or one cannot be read.
    """
    found = guesses(concept, more)
    some(found)
    pairs = pairs_of(concept, found, together)
    table = drawn(found, samples, seed, pairs)
    if base is None:
        said("looking for the nominal answer")
        base = base_of(concept)
    points = [changes(found, row) for row in table]
    outcomes = run(base, points, crew=crew, store=store, told=told)
    return Spread(concept.name, base, found, pairs, seed, table, tuple(outcomes))
