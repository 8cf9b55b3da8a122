"""Guesses drawn evenly over all they may be: a scrambled Sobol sequence, its seed stated, some together."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from wetmass.concept.guesses import Guess, correlated
from wetmass.concept.model import Concept
from wetmass.concept.names import find
from wetmass.record.refusal import Complaint, Refusal

SEED = 20261125
MOST_SAMPLES = 2**20
Pair = tuple[int, int, float]  # guess, other guess, correlation


def chances(guesses: int, samples: int, seed: int = SEED) -> np.ndarray:
    """Chances (samples, guesses) between 0 and 1; a longer sample begins with the same points."""
    from scipy.stats import qmc

    power = max(0, (samples - 1).bit_length())
    made = qmc.Sobol(guesses, scramble=True, rng=np.random.default_rng(seed)).random_base2(power)
    return np.clip(made[:samples], 1e-12, 1.0 - 1e-12)


def pairs_of(concept: Concept, guesses: Sequence[Guess], together: Sequence[str]) -> tuple[Pair, ...]:
    """Correlations as they are typed: "first, dry mass & second, structural fraction = 0.6".

    Raises Refusal when one cannot be read, or names a number that is no guess.
    """
    made = []
    for text in together:
        match = re.fullmatch(r"(.+)&(.+)=\s*([-+−]?[0-9.]+)\s*", text)
        share = float(match[3].replace("−", "-")) if match else 2.0
        if match is None or not -1.0 < share < 1.0:
            raise Refusal(
                Complaint(
                    "--together", f'"{text}"', "two guesses, and how much they go together, between -1 and 1",
                    'write it as in "first, dry mass & second, structural fraction = 0.6"',
                )
            )  # fmt: skip
        made.append((_place(concept, guesses, match[1]), _place(concept, guesses, match[2]), share))
    return tuple(made)


def _place(concept: Concept, guesses: Sequence[Guess], name: str) -> int:
    paths = set(find(concept, name).paths)
    for place, guess in enumerate(guesses):
        if paths & set(guess.paths):
            return place
    known = "; ".join(guess.words for guess in guesses)
    raise Refusal(
        Complaint(
            "--together", f'"{name.strip()}"', f"a guess: {known}", "give it a spread first, with --guess"
        )
    )


def drawn(guesses: Sequence[Guess], samples: int, seed: int, pairs: Sequence[Pair]) -> np.ndarray:
    """Chances (samples, guesses) of a study.  Raises Refusal when the correlations contradict one another."""
    if not 1 <= samples <= MOST_SAMPLES:
        raise Refusal(
            Complaint("--samples", str(samples), f"1 to {MOST_SAMPLES}", "take a power of two, such as 1024")
        )
    try:
        return correlated(chances(len(guesses), samples, seed), pairs)
    except ValueError as error:
        raise Refusal(
            Complaint("--together", str(error), "correlations that can all hold", "take smaller ones")
        ) from None


def changes(guesses: Sequence[Guess], row: np.ndarray) -> tuple[tuple[str, str], ...]:
    """(path, text) of every figure of one sample; chances (k,)."""
    return tuple(
        pair for guess, chance in zip(guesses, row, strict=True) for pair in guess.written(float(chance))
    )


def some(found: Sequence[Guess], least: int = 1) -> None:
    """Refuse a study of guesses where there are too few.  Raises Refusal."""
    if len(found) < least:
        raise Refusal(
            Complaint(
                "guesses", f"{len(found) or 'none'}", f"{least} or more values with a spread",
                'write it in the file, as in "7.6 t ± 8 %", or add --guess "second, isp = ± 1 %"',
            )
        )  # fmt: skip
