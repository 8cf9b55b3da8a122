"""What a flight reads of a vehicle, as a function of its guesses: built a few hundred times, then told for millions.

The arrays of a vehicle (thrusts, flows, masses of each burn) are smooth functions of its guesses, most of one or
two of them.  Each number is fitted by a polynomial in just the guesses that move it, and held against vehicles
built anew; where that is not met to `WITHIN`, the study is refused.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from wetmass.record.refusal import Complaint, Refusal

BUILT, HELD_BACK = 128, 24  # vehicles to fit to, and to hold the fit against
WITHIN = 1e-9  # relative
MOST_DEGREE = 10
_STILL = 1e-13  # relative: does not move


@dataclass(frozen=True)
class Fit:
    """Numbers `places` as polynomials in the columns `of`: powers (terms, len(of)), weights (terms, len(places))."""

    of: tuple[int, ...]
    places: np.ndarray
    powers: np.ndarray
    weights: np.ndarray


@dataclass(frozen=True)
class Built:
    """Arrays of a vehicle by its guesses; `error` is the greatest relative one met when held against new ones."""

    nominal: np.ndarray  # (m,)
    centre: np.ndarray  # (k,)
    reach: np.ndarray  # (k,)
    fits: tuple[Fit, ...]
    error: float

    def __call__(self, values: np.ndarray) -> np.ndarray:
        """Arrays (n, m) of the guesses' values (n, k)."""
        u = (values - self.centre) / self.reach
        out = np.repeat(self.nominal[None], len(values), axis=0)
        for fit in self.fits:
            out[:, fit.places] = _terms(u[:, fit.of], fit.powers) @ fit.weights
        return out


def built(
    vehicle: Callable[[np.ndarray], np.ndarray],
    centre: np.ndarray,
    low: np.ndarray,
    high: np.ndarray,
    seed: int,
) -> Built:
    """The arrays of `vehicle`, a function of the guesses (k,) that gives (m,), between `low` and `high` (k,).

    Raises Refusal where they cannot be told so.
    """
    rng = np.random.default_rng(seed)
    nominal = vehicle(centre)
    reach = np.maximum(np.maximum(high - centre, centre - low), 1e-300)
    moved = np.array([
        [np.abs(vehicle(_put(centre, i, end)) - nominal) > _STILL * np.maximum(np.abs(nominal), 1e-9) for end in ends]
        for i, ends in enumerate(zip(low, high, strict=True))
    ]).any(axis=1)  # fmt: skip
    cases = low + rng.random((BUILT + HELD_BACK, len(centre))) * (high - low)
    cases[: 2 * len(centre)] = [_put(centre, i, end) for i in range(len(centre)) for end in (low[i], high[i])]
    arrays = np.array([vehicle(case) for case in cases])
    u = (cases - centre) / reach
    fits = []
    sets: dict[tuple[int, ...], list[int]] = {}
    for place in range(len(nominal)):
        of = tuple(int(i) for i in np.flatnonzero(moved[:, place]))
        if of:
            sets.setdefault(of, []).append(place)
    for of, places in sets.items():
        fits.append(_fitted(u, arrays, of, np.array(places)))
    made = Built(nominal, centre, reach, tuple(fits), 0.0)
    told = made(cases[BUILT:])
    error = float(np.max(np.abs(told - arrays[BUILT:]) / np.maximum(np.abs(nominal), 1e-9), initial=0.0))
    if not error < WITHIN:
        raise Refusal(
            Complaint(
                "--flights", f"a vehicle that is no smooth function of its guesses (off by {error:.1e})",
                f"one that is, to {WITHIN:g}", "narrow the spreads, or close the samples without --flights",
            )
        )  # fmt: skip
    return Built(nominal, centre, reach, tuple(fits), error)


def _put(centre: np.ndarray, place: int, value: float) -> np.ndarray:
    made = centre.copy()
    made[place] = value
    return made


def _fitted(u: np.ndarray, arrays: np.ndarray, of: tuple[int, ...], places: np.ndarray) -> Fit:
    """The lowest degree that meets half of what is asked, or the highest that the vehicles built allow."""
    best: Fit | None = None
    scale = np.maximum(np.abs(arrays[:BUILT, places]).max(axis=0), 1e-9)
    for degree in range(1, MOST_DEGREE + 1):
        powers = _powers(len(of), degree)
        if 2 * len(powers) > BUILT:
            break
        terms = _terms(u[:BUILT, list(of)], powers)
        weights = np.linalg.lstsq(terms, arrays[:BUILT, places], rcond=1e-14)[0]
        best = Fit(of, places, powers, weights)
        if np.max(np.abs(terms @ weights - arrays[:BUILT, places]) / scale) < 1e-2 * WITHIN:
            break
    assert best is not None
    return best


def _powers(count: int, degree: int) -> np.ndarray:
    made = [p for p in itertools.product(range(degree + 1), repeat=count) if sum(p) <= degree]
    return np.array(made, dtype=int).reshape(-1, count)


def _terms(u: np.ndarray, powers: np.ndarray) -> np.ndarray:
    """Products (n, terms) of Chebyshev polynomials, which stay apart where powers run together."""
    top = int(powers.max(initial=0))
    table = [np.ones_like(u), u]
    for _ in range(2, top + 1):
        table.append(2.0 * u * table[-1] - table[-2])
    out = np.ones((len(u), len(powers)))
    for column in range(u.shape[1]):
        stack = np.stack([t[:, column] for t in table[: top + 1]], axis=1)
        out *= stack[:, powers[:, column]]
    return out
