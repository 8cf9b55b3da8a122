"""How far the best answer may be off by the guesses of the concept, to first order: a few flights a guess."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wetmass.closing.rates import Rates
from wetmass.concept.guesses import Guess, guesses
from wetmass.concept.model import Concept
from wetmass.concept.reading import loads
from wetmass.record.closed import GuessEffect, SpreadOfAnswer
from wetmass.record.refusal import Refusal

BALANCED = 0.02  # of a slope of the score of order 1: worse is no best answer yet, and has no prices
PART = 0.02  # of a standard deviation, either way, for the slope


def spread_of(concept: Concept, found: Rates | None) -> SpreadOfAnswer | None:
    """The spread of the answer `found` is of; None without guesses, or where one cannot be carried: a flight
    beside it that comes to nothing, or an answer that is not the best yet."""
    if found is None or concept.document is None or found.worth.unbalanced > BALANCED:
        return None
    effects = [(one, effect(concept, found, one)) for one in guesses(concept)]
    if not effects or not all(math.isfinite(size) for _, size in effects):
        return None
    parts = tuple(
        GuessEffect(one.words, one.said(), size)
        for one, size in sorted(effects, key=lambda pair: -abs(pair[1]))
    )
    return SpreadOfAnswer(found.aim, found.value, math.hypot(*(size for _, size in effects)), parts)


def effect(concept: Concept, found: Rates, guess: Guess) -> float:
    """What the aim changes by for one standard deviation of a guess [kg]; nan where it cannot be told."""
    try:
        up, down = (found.change(_changed(concept, guess.moved(sign * PART))) for sign in (1.0, -1.0))
    except Refusal:
        return math.nan
    return (up - down) / (2.0 * PART)


def _changed(concept: Concept, changes: Sequence[tuple[str, str]]) -> Concept:
    document = concept.document
    assert document is not None
    return loads(document.with_values(changes), document.name)
