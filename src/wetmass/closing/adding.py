"""A step that adds up named parts."""

from __future__ import annotations

from collections.abc import Iterable

from wetmass.record.expression import Expression, Symbol
from wetmass.record.step import Put, Step

_MASSES = "sum of the mass table"


def total(
    symbol: str, words: str, parts: Iterable[tuple[str, str, float]], *, unit: str = "kg", part: str = "",
    signs: Iterable[int] | None = None, source: str = _MASSES,
) -> Step:  # fmt: skip
    """A step that adds (or, by `signs`, takes away) named parts."""
    listed = list(parts)
    plus = list(signs) if signs is not None else [1] * len(listed)
    formula: Expression | None = None
    result = 0.0
    for (letter, _, value), sign in zip(listed, plus, strict=True):
        term = Symbol(letter)
        if formula is None:
            formula = term if sign > 0 else -term
        else:
            formula = formula + term if sign > 0 else formula - term
        result += sign * value
    puts = tuple(Put(letter, what, value, unit) for letter, what, value in listed)
    return Step(symbol, words, formula, puts, result, unit, source, part)
