"""How one value of a concept file is read: each reader turns typed text into a value, or refuses it.

A reader is put beside a type, `Annotated[Quantity, Reads(MASS)]`; the reference page is written from
what it says of itself (`words`, `example`).
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from wetmass.concept import dimensions as d
from wetmass.concept.dimensions import Dimension, dimension_name, usual_units
from wetmass.concept.quantity import Quantity, Span, exactly, parse_quantity, parse_span
from wetmass.concept.units import unit
from wetmass.record.refusal import Complaint, Refusal


def wrong(got: Any, accepted: str, remedy: str, at: str = "") -> Refusal:
    """A refusal of one value; `at` is the path from the block that is read, "" for the value itself."""
    return Refusal(Complaint(at, shown(got), accepted, remedy))


class WrongKey(Refusal):
    """A refusal of a key, where the key and not its value is at fault."""


def shown(got: Any) -> str:
    """A value as typed, for a message: in quotes, cut short where it is long."""
    if isinstance(got, dict):
        return "a block of keys"
    if isinstance(got, (list, tuple)):
        return "a list"
    text = str(got)
    if not text.strip():
        return "nothing"
    return f'"{text}"' if len(text) <= 60 else f'"{text[:57]}…"'


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known name a mistyped one most likely means, None when none is near.

    >>> nearest("dry mas", ["dry mass", "diameter"])
    'dry mass'
    """
    plain = {_plain(name): name for name in known}
    found = difflib.get_close_matches(_plain(word), plain, n=1, cutoff=0.6)
    return plain[found[0]] if found else None


def _plain(word: str) -> str:
    return re.sub(r"[\s_\-]+", " ", word.casefold()).strip()


@dataclass(frozen=True, slots=True)
class Find:
    """An open value: to be found, within bounds where some are stated.

    low, high  bounds in SI, None where there is none
    unit_text  the unit the bounds were written in, "" without bounds
    text       as typed
    """

    low: float | None = None
    high: float | None = None
    unit_text: str = ""
    text: str = "find"

    def __str__(self) -> str:
        return self.text


class Reader:
    """A value reader; subclasses give `read` (from text), `takes` (a value that is read already)."""

    example = ""

    def read(self, text: str, info: Any) -> Any:
        raise NotImplementedError

    def takes(self, value: Any) -> bool:
        return False

    def words(self) -> str:
        """What is accepted, for messages and the reference page."""
        raise NotImplementedError

    def __call__(self, value: Any, info: Any) -> Any:
        if self.takes(value):
            return value
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            value = repr(value)
        if not isinstance(value, str):
            raise wrong(value, self.words(), self.give())
        return self.read(value, info)

    def give(self) -> str:
        return f'give it as in "{self.example}"' if self.example else f"give {self.words()}"

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self)


class ReadBy:
    """What is not one value but a list or an entry of one, read whole by a function (value, info)."""

    def __init__(self, function: Callable[[Any, Any], Any]) -> None:
        self.function = function

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.function)


class AtMost:
    """A list of so many entries at most, counted before they are read."""

    def __init__(self, most: int) -> None:
        self.most = most

    def __call__(self, value: Any) -> Any:
        if isinstance(value, (list, tuple)) and len(value) > self.most:
            accepted, remedy = f"{self.most} at most", "keep what the vehicle needs"
            raise Refusal(Complaint("", f"{len(value)} entries", accepted, remedy))
        return value

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self, handler(source))


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
            quantity = parse_quantity(text, self.dimensions, spread=self.spread)
        except Refusal as refusal:
            if not text.strip() and self.find:
                raise wrong(
                    text, self.words(), f'give a value, such as "{self.example}", or "find"'
                ) from None
            raise refusal from None
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
        if self.low is None or self.high is None or not 0.0 < self.low < self.high < 1e3 * self.low:
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
            span = parse_span(ends[1], self.dimensions[0])
            low, high = span.low, span.high
        else:
            end = re.fullmatch(r"(at least|at most)\s+(.+)", rest)
            if end is None:
                advice = 'write "find", or "find from A to B", "find at least A", "find at most B"'
                raise wrong(text, "an open value, with bounds or without", advice)
            one = parse_quantity(end[2], self.dimensions, spread=False)
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
        span = parse_span(text, self.dimension, turning=True)
        for end in (span.low, span.high):
            self.end.check(Quantity(end.value, end.number, end.unit, None, text))
        return span


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
            return super().read(text, info)
        if match[2] not in self.letters or match[1].lstrip().startswith(("-", "−", "+")):
            raise wrong(text, self.words(), f'write it as in "{self.example}"')
        read = super().read(self.letters[match[2]] + match[1], info)
        assert isinstance(read, Quantity)
        return Quantity(read.value, read.number, read.unit, None, text)


class Whole(Reader):
    """A whole number, or `find` where it may be left open."""

    def __init__(self, least: int, most: int, find: bool = False) -> None:
        self.least, self.most, self.find = least, most, find
        self.example = str(max(least, 1))

    def takes(self, value: Any) -> bool:
        if isinstance(value, int) and not isinstance(value, bool):
            return self.least <= value <= self.most
        return isinstance(value, Find) and self.find

    def words(self) -> str:
        return f"a whole number from {self.least} to {self.most}" + ("; or find" if self.find else "")

    def read(self, text: str, info: Any) -> int | Find:
        typed = text.strip()
        if typed.casefold().startswith("find") and self.find:
            return self.read_find(typed)
        if re.fullmatch(r"[0-9]{1,6}", typed, re.ASCII) and self.least <= int(typed) <= self.most:
            return int(typed)
        raise wrong(text, self.words(), f'give a whole number, such as "{self.example}"')

    def read_find(self, text: str) -> Find:
        rest = text[4:].strip(" ,")
        match = re.fullmatch(
            r"(?:(?:from )?([0-9]{1,6}) to ([0-9]{1,6})|at least ([0-9]{1,6})|at most ([0-9]{1,6}))?", rest
        )
        if match is None:
            raise wrong(text, self.words(), 'write "find" or, with bounds, "find from 5 to 9"')
        low, high = match[1] or match[3], match[2] or match[4]
        for bound in (low, high):
            if bound and not self.least <= int(bound) <= self.most:
                raise wrong(text, self.words(), f"keep the bounds between {self.least} and {self.most}")
        if low and high and int(low) >= int(high):
            raise wrong(text, "bounds from less to more", 'write "find from 5 to 9"')
        return Find(float(low) if low else None, float(high) if high else None, "", text)


class Choice(Reader):
    """One of a few words."""

    def __init__(self, *words: str) -> None:
        self.choices = words
        self.example = words[0]

    def words(self) -> str:
        return " | ".join(self.choices)

    def read(self, text: str, info: Any) -> str:
        typed = text.strip()
        if typed in self.choices:
            return typed
        near = nearest(typed, self.choices) if typed else None
        remedy = f'write "{near}", if that is meant' if near else "write one of these words"
        raise wrong(text, self.words(), remedy)


class YesNo(Reader):
    """yes or no; true and false are read too."""

    example = "yes"

    def takes(self, value: Any) -> bool:
        return isinstance(value, bool)

    def words(self) -> str:
        return "yes or no"

    def read(self, text: str, info: Any) -> bool:
        word = text.strip().casefold()
        if word in ("yes", "true", "on"):
            return True
        if word in ("no", "false", "off"):
            return False
        raise wrong(text, self.words(), 'write "yes" or "no"')


class Line(Reader):
    """A name or a line of text."""

    def __init__(self, longest: int, name: bool = False, example: str = "first") -> None:
        self.longest, self.name, self.example = longest, name, example

    def words(self) -> str:
        kind = "a name with at least one letter and no /" if self.name else "a text"
        return f"{kind}, {self.longest} characters at most"

    def read(self, text: str, info: Any) -> str:
        written = " ".join(text.split())
        if len(written) > self.longest:
            raise wrong(text, self.words(), f"shorten it, it has {len(written)} characters")
        if self.name and (not any(map(str.isalpha, written)) or "/" in written):
            raise wrong(text, self.words(), f'give a name, such as "{self.example}"')
        return written


class StageName(Reader):
    """The name of a stage of the same file."""

    example = "first"

    def words(self) -> str:
        return "the name of a stage of this file"

    def read(self, text: str, info: Any) -> str:
        names = (info.context or {}).get("stage names", ()) if info is not None else ()
        written = " ".join(text.split())
        if not names or written in names:
            return written
        near = nearest(written, names)
        advice = f'did you mean "{near}"?' if near else "check the name"
        raise wrong(text, f"a stage of this file: {', '.join(names)}", f"write one of these; {advice}")


def in_unit(value: float, unit_text: str, dimension: Dimension) -> str:
    """A bound of a `Find` in the unit it was written in."""
    return exactly(value, unit(unit_text, dimension))
