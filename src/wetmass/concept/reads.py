"""How a quantity of a concept file is read: its kind, its bounds, and advice on what slipped."""

from __future__ import annotations

import re
from typing import Any

from wetmass.concept import dimensions as d
from wetmass.concept.dimensions import Dimension, dimension_name, usual_units
from wetmass.concept.fields import Reader
from wetmass.concept.find import Find
from wetmass.concept.quantity import Quantity, Span
from wetmass.concept.statement import parse_quantity, parse_span
from wetmass.concept.wording import wrong
from wetmass.record.refusal import Refusal


class Reads(Reader):
    """A quantity, or `find` where it may be left open.

    dimension          one Dimension or several
    at_least, at_most  ends that are accepted themselves, as text with unit
    above, below       ends that are not
    why                why those ends, one clause
    """

    def __init__(
        self, *dimension: Dimension, at_least: str = "", at_most: str = "", above: str = "", below: str = "",
        why: str = "", spread: bool = True, find: bool = False, example: str = "",
    ) -> None:  # fmt: skip
        self.dimensions, self.why, self.spread, self.find = dimension, why, spread, find
        self.example = example or d.example(dimension[0])
        self.low_text, self.high_text = at_least or above, at_most or below
        self.low_open, self.high_open = bool(above), bool(below)
        self.low, self.high = (
            parse_quantity(text, dimension).value if text else None
            for text in (self.low_text, self.high_text)
        )

    def takes(self, value: Any) -> bool:
        return isinstance(value, (Quantity, Find) if self.find else Quantity)

    def words(self) -> str:
        kinds = " or ".join(f"{dimension_name(kind)} ({usual_units(kind)})" for kind in self.dimensions)
        ends = self.ends()
        return kinds + (f", {ends}" if ends else "") + ("; or find" if self.find else "")

    def ends(self) -> str:
        if self.low_text and self.high_text and not self.low_open and not self.high_open:
            return f"{self.low_text} to {self.high_text}"
        low = f"{'above' if self.low_open else 'at least'} {self.low_text}" if self.low_text else ""
        high = f"{'below' if self.high_open else 'at most'} {self.high_text}" if self.high_text else ""
        return " and ".join(end for end in (low, high) if end)

    def read(self, text: str, info: Any) -> Quantity | Find:
        if text.strip().casefold().startswith("find"):
            if not self.find:
                raise wrong(
                    text, self.words(), f'give a value, such as "{self.example}"; this one cannot be found'
                )
            return self.read_find(text.strip())
        try:
            quantity = parse_quantity(
                text, self.dimensions, spread=self.spread, words=self.words(), example=self.example
            )
        except Refusal:
            if text.strip() or not self.find:
                raise
            remedy = f'give a value, such as "{self.example}", or "find"'
            raise wrong(text, self.words(), remedy) from None
        self.check(quantity)
        return quantity

    def check(self, quantity: Quantity) -> None:
        spread = quantity.spread
        for value in (quantity.value, *((spread.low, spread.high) if spread else ())):
            if not self.inside(value):
                what = "narrow the spread, it reaches out of the range" if value != quantity.value else ""
                why = f" ({self.why})" if self.why else ""
                bounds = f"{dimension_name(quantity.dimension)}, {self.ends()}{why}"
                raise wrong(
                    quantity.text, bounds, what or self.slipped(quantity) or "check the number and its unit"
                )

    def inside(self, value: float) -> bool:
        low = self.low is None or value > self.low or (value == self.low and not self.low_open)
        high = self.high is None or value < self.high or (value == self.high and not self.high_open)
        return low and high

    def slipped(self, quantity: Quantity) -> str:
        """Advice on a slipped decimal or a forgotten percent sign, "" where none is likely."""
        value = quantity.value
        if (
            quantity.unit.text == ""
            and self.high is not None
            and self.high <= 1.0
            and self.inside(value / 100.0)
        ):
            return f'check it; did you mean "{quantity.number} %"?'
        percent = quantity.unit.text == "%" and (self.high is None or self.high > 1.0)
        if (
            percent
            or self.low is None
            or self.high is None
            or not 0.0 < self.low < self.high < 1e3 * self.low
        ):
            return ""
        for power in (-1, 1, -2, 2, -3, 3):
            if self.inside(value * 10.0**power):
                meant = float(f"{value / quantity.unit.factor * 10.0**power:.10g}")
                number = f"{meant:.1f}" if meant == round(meant) else f"{meant:g}"
                return f"check the decimal point; did you mean {number} {quantity.unit.text}".rstrip() + "?"
        return ""

    def read_find(self, text: str) -> Find:
        rest = text[4:].strip(" ,")
        if not rest:
            return Find(text=text)
        ends = re.fullmatch(r"(?:from\s+)?(.+\sto\s.+)", rest)
        if ends:
            low, high = self.bounds(ends[1], text)
        else:
            end = re.fullmatch(r"(at least|at most)\s+(.+)", rest)
            if end is None:
                advice = 'write "find", or "find from A to B", "find at least A", "find at most B"'
                raise wrong(text, "an open value, with bounds or without", advice)
            one = parse_quantity(
                end[2], self.dimensions, spread=False, words=self.words(), example=self.example
            )
            low, high = (one, None) if end[1] == "at least" else (None, one)
        for bound in (low, high):
            if bound is not None:
                self.check(Quantity(bound.value, bound.number, bound.unit, None, text))
        if low is not None and high is not None and low.value == high.value:
            raise wrong(text, "bounds that leave room", f'give the value itself: "{high}"')
        named = high or low
        return Find(
            low.value if low else None, high.value if high else None, named.unit.text if named else "", text
        )

    def bounds(self, typed: str, text: str) -> tuple[Quantity, Quantity]:
        """Both bounds of an open value."""
        try:
            span = parse_span(typed, self.dimensions[0])
        except Refusal as refusal:
            remedy = refusal.remedy.replace('write "', 'write "find from ')
            raise wrong(text, refusal.accepted, remedy) from None
        return span.low, span.high


class ReadsSpan(Reader):
    """Two ends that both matter, "0 to 200 deg"."""

    def __init__(self, dimension: Dimension, at_least: str, at_most: str, example: str) -> None:
        self.dimension, self.example = dimension, example
        self.end = Reads(dimension, at_least=at_least, at_most=at_most, spread=False)

    def takes(self, value: Any) -> bool:
        return isinstance(value, Span)

    def words(self) -> str:
        return f"two ends, each {self.end.words()}"

    def read(self, text: str, info: Any) -> Span:
        if " to " not in text:
            raise wrong(text, self.words(), self.give())
        span = parse_span(text, self.dimension, turning=True, example=self.example)
        for end in (span.low, span.high):
            self.end.check(Quantity(end.value, end.number, end.unit, None, text))
        return span


class ReadsShareOrMass(Reads):
    """A share of a load, or a mass."""

    def __init__(self, *dimension: Dimension, find: bool = False, example: str = "0.6 %") -> None:
        super().__init__(*(dimension or (d.NUMBER, d.MASS)), at_least="0", find=find, example=example)
        self.share = Reads(d.NUMBER, at_least="0 %", at_most="100 %")
        self.mass = Reads(d.MASS, at_least="0 kg", at_most="100 000 t")

    def words(self) -> str:
        share = f"a share of the load, {self.share.ends()}"
        return f"{share}, or {self.mass.words()}" + ("; or find" if self.find else "")

    def check(self, quantity: Quantity) -> None:
        (self.share if quantity.dimension == d.NUMBER else self.mass).check(quantity)


class ReadsBearing(Reads):
    """A latitude or longitude: signed, or with the compass letter behind the degrees."""

    def __init__(self, most: str, plus: str, minus: str, example: str) -> None:
        super().__init__(d.ANGLE, at_least="-" + most, at_most=most, spread=False, example=example)
        self.letters = {plus: "", minus: "-"}

    def words(self) -> str:
        plus, minus = self.letters
        return f"{super().words()}; {minus} is below zero, or write {plus} or {minus} behind the degrees"

    def read(self, text: str, info: Any) -> Quantity | Find:
        match = re.fullmatch(r"(.*(?:deg|°|degrees|rad))\s*([NSEW])", text.strip())
        if match is None:
            bare = re.fullmatch(r"([0-9.]+)\s*([NSEW])", text.strip())
            if bare:
                raise wrong(text, self.words(), f'write "{bare[1]} deg {bare[2]}"')
            return super().read(text, info)
        if match[2] not in self.letters or match[1].lstrip().startswith(("-", "−", "+")):
            raise wrong(text, self.words(), f'write it as in "{self.example}"')
        read = super().read(self.letters[match[2]] + match[1], info)
        assert isinstance(read, Quantity)
        return Quantity(read.value, read.number, read.unit, None, text)
