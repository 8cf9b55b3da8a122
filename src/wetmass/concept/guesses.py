"""Guesses with their spread: how each is drawn from, and which figures move together.

    9.4 t ± 8 %              a normal distribution; 95 % of it lies within the ±
    8 to 10 t                anything between, as likely as anything else
    9.4 t (8 to 11 t)        a triangle over the three values
    309 or 312 or 320 s      one of them, each as likely

A normal distribution is cut where it would leave three times the ±.  Figures of one engine at sea level and in
vacuum are drawn together, as one engine is good or bad in both.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from wetmass.concept.dimensions import NUMBER
from wetmass.concept.model import Concept
from wetmass.concept.names import Input, find, inputs
from wetmass.concept.quantity import Quantity, Spread, SpreadKind, exactly
from wetmass.concept.statement import parse_quantity
from wetmass.record.refusal import Complaint, Refusal

COVERED = 1.959963984540054  # standard deviations either side hold 95 % of a normal distribution
_CUT = 3.0  # times the ±


@dataclass(frozen=True)
class Guess:
    """One guess: figures that are drawn by one chance, and how."""

    words: str
    paths: tuple[str, ...]
    values: tuple[Quantity, ...]
    spreads: tuple[Spread, ...]
    before: str = ""

    @property
    def nominal(self) -> float:
        """The figure that stands for all, the last, in SI."""
        return self.values[-1].value

    @property
    def kind(self) -> SpreadKind:
        return self.spreads[-1].kind

    @property
    def sigma(self) -> float:
        """Standard deviation of the figure that stands for all [SI]."""
        return _sigma(self.nominal, self.spreads[-1])

    @property
    def mean(self) -> float:
        """Mean of the figure that stands for all [SI]."""
        s, likely = self.spreads[-1], self.nominal
        if s.kind is SpreadKind.LIKELY:
            return (s.low + likely + s.high) / 3.0
        if s.kind is SpreadKind.CHOICE:
            return sum(s.choices) / len(s.choices)
        return likely

    def drawn(self, chance: np.ndarray) -> np.ndarray:
        """Values (n,) of the figure that stands for all at chances (n,) between 0 and 1."""
        return _drawn(self.nominal, self.spreads[-1], chance)

    def written(self, chance: float) -> tuple[tuple[str, str], ...]:
        """(path, text) of every figure at one chance: each at the same place of its own spread."""
        made = []
        for path, value, spread in zip(self.paths, self.values, self.spreads, strict=True):
            new = float(_drawn(value.value, spread, np.array([chance]))[0])
            made.append((path, f"{self.before} {exactly(new, value)}".strip()))
        return tuple(made)

    def at(self, value: float) -> tuple[tuple[str, str], ...]:
        """(path, text) of every figure where the one that stands for all is `value` (SI); the others go along
        by as many of their own standard deviations."""
        off = (value - self.nominal) / self.sigma if self.sigma else 0.0
        return self.moved(off)

    def moved(self, off: float) -> tuple[tuple[str, str], ...]:
        """(path, text) of every figure `off` standard deviations of its own from its value."""
        return tuple(
            (path, f"{self.before} {exactly(value.value + off * _sigma(value.value, spread), value)}".strip())
            for path, value, spread in zip(self.paths, self.values, self.spreads, strict=True)
        )

    def said(self) -> str:
        """How it was stated: "± 8 %", "8 to 10 t"."""
        return str(self.values[-1])


def guesses(concept: Concept, more: Iterable[str] = ()) -> tuple[Guess, ...]:
    """Every guess of a concept, in its order; `more` are said beside the file and stand in its place.

    more  such as "second, isp = ± 1 %" or "first, dry mass = 7 to 9 t"

    Raises Refusal for one that cannot be read.
    """
    found: dict[str, Guess] = {}
    listed = inputs(concept)
    together = [one for one in listed if len(one.paths) > 1 and all(map(_spread, one.values))]
    taken = {path for one in together for path in one.paths}
    for one in listed:
        if one in together or (_spread(one.values[0]) and not taken & set(one.paths)):
            spreads = tuple(value.spread for value in one.values)
            found.setdefault(one.paths[0], Guess(one.words, one.paths, one.values, spreads, one.before))
    for text in more:
        guess = _guess(concept, text)
        for path in [p for p, known in found.items() if set(known.paths) & set(guess.paths)]:
            del found[path]
        found[guess.paths[0]] = guess
    return tuple(found.values())


def _spread(value: object) -> bool:
    return isinstance(value, Quantity) and value.spread is not None


def _guess(concept: Concept, text: str) -> Guess:
    name, equals, said = (part.strip() for part in text.partition("="))
    example = '"second, isp = ± 1 %", "first, dry mass = 7 to 9 t" or "first isp = 341 s (330 to 345 s)"'
    if not equals or not said:
        raise Refusal(
            Complaint("--guess", f'"{text}"', "a name, = and a spread", f"write it as in {example}")
        )
    one: Input = find(concept, name)
    stated = one.stated
    if not isinstance(stated, Quantity):
        raise Refusal(
            Complaint(
                "--guess", f'"{text}"', "a value that is stated and no count", f"write it as in {example}"
            )
        )
    plain = [value for value in one.values if isinstance(value, Quantity)]
    if said.startswith(("±", "+/-", "+-")):
        made = tuple(_spread_about(value, said, one.words) for value in plain)
        shown = f"{stated.number} {stated.unit.text}".strip() + f" {said}"
        plain[-1] = Quantity(stated.value, stated.number, stated.unit, made[-1], shown)
        return Guess(one.words, one.paths, tuple(plain), made, one.before)
    read = parse_quantity(said, stated.dimension, one.words)
    if read.spread is None:
        raise Refusal(Complaint("--guess", f'"{text}"', "a spread", f"write it as in {example}"))
    off = read.value - stated.value
    values, spreads = [], []
    for value in plain:  # the others by the same amounts about their own value
        shift = value.value - stated.value
        moved = Spread(
            read.spread.kind, read.spread.low + shift, read.spread.high + shift,
            tuple(choice + shift for choice in read.spread.choices),
        )  # fmt: skip
        new = value.value + off
        values.append(Quantity(new, value.number, value.unit, moved, exactly(new, value)))
        spreads.append(moved)
    values[-1] = Quantity(read.value, read.number, stated.unit, read.spread, said)
    return Guess(one.words, one.paths, tuple(values), tuple(spreads), one.before)


def _spread_about(value: Quantity, said: str, words: str) -> Spread:
    if said.endswith("%") and value.unit.text not in ("%", "percent"):
        share = parse_quantity(said.lstrip("±+/- "), NUMBER, words).value
        half = abs(value.value) * share
    else:
        half = parse_quantity(said.lstrip("±+/- "), value.dimension, words).value
    if not half > 0.0:
        raise Refusal(Complaint(words, f'"{said}"', "a spread above zero", 'write it as in "± 1 %"'))
    return Spread(SpreadKind.PLUS_MINUS, value.value - half, value.value + half)


def _sigma(likely: float, s: Spread) -> float:
    if s.kind is SpreadKind.PLUS_MINUS:
        return 0.5 * (s.high - s.low) / COVERED
    if s.kind is SpreadKind.RANGE:
        return (s.high - s.low) / math.sqrt(12.0)
    if s.kind is SpreadKind.LIKELY:
        a, b, c = s.low, s.high, likely
        return math.sqrt((a * a + b * b + c * c - a * b - a * c - b * c) / 18.0)
    mean = sum(s.choices) / len(s.choices)
    return math.sqrt(sum((choice - mean) ** 2 for choice in s.choices) / len(s.choices))


def _drawn(likely: float, s: Spread, chance: np.ndarray) -> np.ndarray:
    if s.kind is SpreadKind.PLUS_MINUS:
        from scipy.special import ndtri

        half = 0.5 * (s.high - s.low)
        return likely + np.clip(half / COVERED * ndtri(chance), -_CUT * half, _CUT * half)
    if s.kind is SpreadKind.RANGE:
        return s.low + chance * (s.high - s.low)
    if s.kind is SpreadKind.LIKELY:
        width, left = s.high - s.low, likely - s.low
        bend = left / width
        rising = s.low + np.sqrt(chance * width * left)
        falling = s.high - np.sqrt((1.0 - chance) * width * (s.high - likely))
        return np.where(chance < bend, rising, falling)
    places = np.minimum((chance * len(s.choices)).astype(int), len(s.choices) - 1)
    return np.asarray(s.choices)[places]


def correlated(chances: np.ndarray, pairs: Sequence[tuple[int, int, float]]) -> np.ndarray:
    """Chances (n, k) in which some columns go together, each still even between 0 and 1.

    pairs  (column, other column, how much: −1 to 1), the correlation of the normal variables behind them

    Raises ValueError when the correlations contradict one another.
    """
    from scipy.special import ndtr, ndtri

    if not pairs:
        return chances
    matrix = np.eye(chances.shape[1])
    for i, j, share in pairs:
        matrix[i, j] = matrix[j, i] = share
    try:
        root = np.linalg.cholesky(matrix + 1e-12 * np.eye(len(matrix)))
    except np.linalg.LinAlgError:
        raise ValueError("the correlations contradict one another: no guesses go together so") from None
    tiny = np.finfo(float).tiny
    return ndtr(ndtri(np.clip(chances, tiny, 1.0 - 1e-16)) @ root.T)
