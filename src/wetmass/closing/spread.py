"""How far the best answer may be off by the guesses of the concept, to first order: a few flights a guess."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from wetmass.closing.rates import Rates
from wetmass.closing.reserves import Homeward, wanted_by
from wetmass.concept.guesses import Guess, guesses
from wetmass.concept.model import Concept
from wetmass.concept.reading import loads
from wetmass.flight.home.reserve import FIRST_SLOPE
from wetmass.record.closed import GuessEffect, SpreadOfAnswer
from wetmass.record.refusal import Refusal

BALANCED = 0.02  # of a slope of the score of order 1: worse is no best answer yet, and has no prices
PART = 0.02  # of a standard deviation, either way, for the slope


def spread_of(concept: Concept, found: Rates | None, home: Homeward | None = None) -> SpreadOfAnswer | None:
    """The spread of the answer `found` is of; None without guesses, or where one cannot be carried: a flight
    beside it that comes to nothing, or an answer that is not the best yet.

    home  what its stages keep to come home, where that is to follow the guesses (`effect`)
    """
    if found is None or concept.document is None or found.worth.unbalanced > BALANCED:
        return None
    effects = [(one, effect(concept, found, one, home)) for one in guesses(concept)]
    if not effects or not all(math.isfinite(size) for _, size in effects):
        return None
    parts = tuple(
        GuessEffect(one.words, one.said(), size)
        for one, size in sorted(effects, key=lambda pair: -abs(pair[1]))
    )
    return SpreadOfAnswer(found.aim, found.value, math.hypot(*(size for _, size in effects)), parts)


def effect(concept: Concept, found: Rates, guess: Guess, home: Homeward | None = None) -> float:
    """What the aim changes by for one standard deviation of a guess [kg]; nan where it cannot be told.

    home  what stages keep to come home, which a guess changes too (`keeping`); it stays as it is where None
    """
    try:
        up, down = (found.change(_changed(concept, guess.moved(sign * PART))) for sign in (1.0, -1.0))
    except Refusal:
        return math.nan
    more = keeping(concept, found, guess.moved, home) if home is not None else 0.0
    return (up - down) / (2.0 * PART) + more


def keeping(
    concept: Concept, found: Rates, moved: Callable[[float], tuple[tuple[str, str], ...]], home: Homeward
) -> float:
    """What the aim changes by for one step of a value, as stages then keep more or less to come home [kg].

    moved  the value by so many steps, as text by path

    0 where no stage finds what it keeps, or where the concepts beside are not solved.  Each of the two is closed and
    its stages flown down once; a kilogram more kept spares 0.3 kg, as `flight.home.reserve` has it.
    """
    if not home.kept:
        return 0.0
    try:
        up, down = (wanted_by(_changed(concept, moved(sign)), found.answer, home) for sign in (1.0, -1.0))
    except Refusal:
        return 0.0
    more = sum(
        found.price_of_keeping(path) * (up[path] - down[path]) / (2.0 * -FIRST_SLOPE) for path in home.kept
    )
    return more if math.isfinite(more) else 0.0


def _changed(concept: Concept, changes: Sequence[tuple[str, str]]) -> Concept:
    document = concept.document
    assert document is not None
    return loads(document.with_values(changes), document.name)
