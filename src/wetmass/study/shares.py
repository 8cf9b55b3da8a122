"""Whose spread it is: how much of the variance of the answer each guess brings, alone and with the others.

Sobol's indices by the estimators of scipy (`scipy.stats.sobol_indices`), with bootstrap intervals.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from wetmass.concept.guesses import guesses
from wetmass.concept.model import Concept
from wetmass.record.refusal import Complaint, Refusal
from wetmass.study.crew import Crew, Told, run
from wetmass.study.point import PAYLOAD, Base, base_of
from wetmass.study.sample import SEED, changes, some
from wetmass.study.store import Store

SURE = 0.95


@dataclass(frozen=True)
class Share:
    """Shares of the variance that one guess brings: alone, and in all with what it does together with others.

    Each as (value, low, high); low to high holds the true one with 95 %, by bootstrap.
    """

    words: str
    alone: tuple[float, float, float]
    total: tuple[float, float, float]


@dataclass(frozen=True)
class Shares:
    """Shares of all guesses, from how many closings of how many draws."""

    name: str
    shares: tuple[Share, ...]
    draws: int
    closings: int
    seed: int
    mean: float
    sigma: float


def indices(
    function: Callable[[np.ndarray], np.ndarray], names: Sequence[str], draws: int, seed: int = SEED
) -> tuple[Share, ...]:
    """Shares of the variance of `function`, which takes chances (k, n), even between 0 and 1, and gives (n,).

    draws  a power of two; the function is asked for draws·(k + 2) values
    """
    from scipy.stats import sobol_indices, uniform

    found: Any = sobol_indices(
        func=function, n=draws, dists=[uniform()] * len(names), rng=np.random.default_rng(seed)
    )
    sure: Any = found.bootstrap(confidence_level=SURE, n_resamples=200)
    return tuple(
        Share(
            name,
            _three(found.first_order[i], sure.first_order.confidence_interval, i),
            _three(found.total_order[i], sure.total_order.confidence_interval, i),
        )
        for i, name in enumerate(names)
    )


def _three(value: float, interval: Any, place: int) -> tuple[float, float, float]:
    return float(value), float(interval.low[place]), float(interval.high[place])


def shares(
    concept: Concept,
    *,
    draws: int = 64,
    seed: int = SEED,
    more: Sequence[str] = (),
    base: Base | None = None,
    crew: Crew | None = None,
    store: Store | None = None,
    told: Told = lambda done, of, left: None,
    said: Callable[[str], None] = lambda words: None,
) -> Shares:
    """Shares of the variance of the payload, every draw closed and made best; guesses as in `spread`.

    Raises Refusal with fewer than two guesses, or when a draw does not close: then there is no variance to share.
    """
    found = guesses(concept, more)
    some(found, 2)
    if draws < 2 or draws & (draws - 1):
        raise Refusal(Complaint("--draws", str(draws), "a power of two", "take 64, 128 or 256"))
    if base is None:
        said("looking for the nominal answer")
        base = base_of(concept)
    nominal, every = base, []

    def closed(table: np.ndarray) -> np.ndarray:
        outcomes = run(nominal, [changes(found, row) for row in table.T], crew=crew, store=store, told=told)
        failed = [one for one in outcomes if not one.closes]
        if failed:
            raise Refusal(
                Complaint(
                    "guesses", f"{len(failed)} of {len(outcomes)} draws that do not close ({failed[0].reason})",
                    "spreads within which every draw closes", "narrow them; wetmass spread says how often it closes",
                )
            )  # fmt: skip
        values = np.array([one[PAYLOAD] for one in outcomes])
        every.append(values)
        return values

    made = indices(closed, [guess.words for guess in found], draws, seed)
    all_values = np.concatenate(every)
    sure = np.concatenate(every[:2])
    return Shares(
        concept.name, made, draws, len(all_values), seed, float(sure.mean()), float(sure.std(ddof=1))
    )  # fmt: skip
