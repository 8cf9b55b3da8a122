"""Quantities as people write them: a number, a unit, and how sure one is of it.

    250 t        3.2 km/s        60 %        12 500 kg
    9.4 t ± 8 %                  a value and how far it may be off, either way
    9 m +/- 5 cm
    8 to 10 t                    a range; the value is its middle
    9.4 t (8 to 11 t)            the likeliest value, and the least and the most it may be
    309 or 312 or 320 s          one of them; the value is the first

One number with one unit, always: "12 m 40 cm" is refused, and so is a decimal comma.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from wetmass.concept import dimensions as d
from wetmass.concept.dimensions import Dimension, dimension_name, example, usual_units
from wetmass.concept.quantity import Quantity, Span, Spread, SpreadKind, plain
from wetmass.concept.units import Unit, UnknownUnit, odd_character, unit
from wetmass.record.refusal import Complaint, Refusal

LONGEST = 120  # characters of one quantity; the longest sensible one is half of this
_ABSURD = 1e30  # SI; the Sun is 2e30 kg, and nothing here is near it

_SPACES = dict.fromkeys(map(ord, "\u2009\u202f\u00a0\u2007\u2008\t"), " ")
_SAME = {ord("−"): "-", **_SPACES}  # the true minus; spaces that set thousands apart
_ALLOWED = set(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
    " .,+-±()/·*⋅×^%°µμ²³₀¹⁰⁴⁵⁶⁷⁸⁹⁻'\"_:;<>=!?#&@[]{}|~$\\`"
)
_NUMBER = re.compile(
    r"(?P<number>[+-]?(?:[0-9]{1,3}(?:(?: [0-9]{3})+|(?:,[0-9]{3})+)(?![0-9])|[0-9]+)?(?:\.[0-9]*)?)"
    r"(?:(?P<e>[eE][+-]?[0-9]+)|\s?[×x·*]\s?10(?:\^(?P<caret>[+-]?[0-9]+)|(?P<raised>⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)))?"
)
_TO_PLAIN = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
_PLUS_MINUS = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_BRACKET = re.compile(r"^(?P<likely>.*[^·*/\s(])\s+\((?P<range>[^()]*\sto\s[^()]*)\)$")
_PIECE = re.compile(r"[0-9.]+\s*[A-Za-zµμ°]+")
_TO = re.compile(r"\s+to\s+")
_OR = re.compile(r"\s+or\s+")


def parse_quantity(
    text: str | int | float, dimension: Dimension | Sequence[Dimension], field: str = "value", *,
    spread: bool = True, words: str = "", example: str = "",
) -> Quantity:  # fmt: skip
    """What a person stated, read strictly.

    text       such as "250 t", "9.4 t ± 8 %", "8 to 10 t", "9.4 t (8 to 11 t)", "1.30"
    dimension  what is accepted, one Dimension or several
    field      its name, for the error
    spread     whether a spread makes sense here
    words      what the field accepts, where that is more than its dimension says
    example    one value of the field

    Raises Refusal, and nothing else, when `text` is anything but that.

    >>> parse_quantity("3.2 km/s", d.SPEED).value
    3200.0
    >>> parse_quantity("9.4 t ± 8 %", d.MASS).spread
    Spread(kind=<SpreadKind.PLUS_MINUS: 'plus-minus'>, low=8648.0, high=10152.0)
    """
    accepted = (dimension,) if isinstance(dimension, Dimension) else tuple(dimension)
    return _Statement(text, accepted, field, words, example).read(spread)


def parse_span(
    text: str, dimension: Dimension, field: str = "value", *, turning: bool = False, example: str = ""
) -> Span:
    """Two ends, "0 to 200 deg"; the first may be left without its unit.

    turning  whether the range goes round, as headings do: then one through north starts below zero
    example  one such range

    Raises Refusal when the text is anything else or the first end is above the second.

    >>> span = parse_span("100 to 300 t", d.MASS)
    >>> span.low.value, span.high.value
    (100000.0, 300000.0)
    """
    statement = _Statement(text, (dimension,), field, example=example)
    low, high = statement.ends(statement.text)
    if low.value > high.value:
        swapped = f'write "{f"{high.number} to {low.number} {high.unit.text}".strip()}"'
        if turning and low.unit.factor == high.unit.factor:
            through = (
                f"{plain(round(low.value / low.unit.factor - 360.0, 9))} to {high.number} {high.unit.text}"
            )
            swapped += f', or "{through}" if it goes through north'
        raise statement.wrong("a range from less to more", swapped)
    return Span(low, high)


class _Statement:
    """One statement being read; every refusal names its field and shows it as typed."""

    def __init__(
        self, text: str | int | float, accepted: tuple[Dimension, ...], field: str, words: str = "",
        example: str = "",
    ) -> None:  # fmt: skip
        self.accepted, self.field, self.words, self.example = accepted, field, words, example
        if isinstance(text, bool) or not isinstance(text, (str, int, float)):
            self.typed = str(text)[:40]
            raise self.wrong(self.wanted(), self.give())
        self.typed = text if isinstance(text, str) else plain(float(text)) if _fits(text) else "a huge number"
        if len(self.typed) > LONGEST:
            size = len(self.typed)
            self.typed = self.typed[:20] + "…"
            raise self.wrong(f"{LONGEST} characters at most, this has {size}", self.give())
        self.text = self.typed.translate(_SAME).strip()
        odd = odd_character(self.text, _ALLOWED)
        if odd:
            raise self.wrong(self.wanted(), odd)

    # the three forms -------------------------------------------------------------------------

    def read(self, spread: bool) -> Quantity:
        quantity = self.with_spread()
        if quantity.spread is not None and not spread:
            raise self.wrong("one value: a spread has no meaning here", f'give "{self.one(quantity)}"')
        return Quantity(quantity.value, quantity.number, quantity.unit, quantity.spread, self.typed.strip())

    def with_spread(self) -> Quantity:
        pieces = _PLUS_MINUS.split(self.text)
        if len(pieces) > 2:
            raise self.wrong("one ±", self.give())
        if len(pieces) == 2:
            return self.plus_minus(*pieces)
        bracket = _BRACKET.match(self.text)
        if bracket:
            low, high = self.ends(bracket["range"], bracket["likely"])
            likely = self.value(self.borrowing(bracket["likely"], high.unit.text))
            self.same_kind(likely, high)
            if not low.value <= likely.value <= high.value or low.value == high.value:
                raise self.wrong("the likeliest value between the two ends", "check the three numbers")
            kind = Spread(SpreadKind.LIKELY, low.value, high.value)
            return Quantity(likely.value, likely.number, likely.unit, kind)
        if _OR.search(self.text):
            return self.choice(_OR.split(self.text))
        if _TO.search(self.text):
            low, high = self.ends(self.text)
            if not low.value < high.value:
                swapped = f"{high.number} to {low.number} {high.unit.text}".strip()
                raise self.wrong("a range from less to more", f'write "{swapped}"')
            middle = 0.5 * low.value + 0.5 * high.value
            number = plain(middle / high.unit.factor)
            return Quantity(middle, number, high.unit, Spread(SpreadKind.RANGE, low.value, high.value))
        return self.value(self.text)

    def plus_minus(self, left: str, right: str) -> Quantity:
        if right.rstrip().endswith("%"):
            quantity = self.value(left)
            half = abs(quantity.value) * _Statement(right, (d.NUMBER,), self.field).value(right).value
        else:
            quantity = self.value(self.borrowing(left, self.unit_of(right)))
            off = self.value(self.borrowing(right, quantity.unit.text))
            self.same_kind(quantity, off)
            half = off.value
        if quantity.unit.text in ("%", "percent"):
            low, high = (plain(float(f"{(quantity.value + sign * half) * 100:.4g}")) for sign in (-1, 1))
            raise self.wrong(
                "± on a percentage only as a range: ± 5 % of 60 % can be read in two ways",
                f'write both ends, such as "{quantity.number} % ({low} to {high} %)"',
            )
        if not half > 0.0:
            raise self.wrong("a spread above zero behind ±", "leave the ± out, or give a size such as ± 5 %")
        low, high = quantity.value - half, quantity.value + half
        if not low < high:
            raise self.wrong("a spread that shows beside the value", "leave the ± out, or make it larger")
        return Quantity(
            quantity.value, quantity.number, quantity.unit, Spread(SpreadKind.PLUS_MINUS, low, high)
        )

    def choice(self, pieces: Sequence[str]) -> Quantity:
        shared = self.unit_of(pieces[-1])
        values = [self.value(self.borrowing(piece, shared)) for piece in pieces]
        for value in values[1:]:
            self.same_kind(values[0], value)
        choices = tuple(value.value for value in values)
        if len(set(choices)) < len(choices):
            raise self.wrong("values that differ", "give each choice once")
        spread = Spread(SpreadKind.CHOICE, min(choices), max(choices), choices)
        return Quantity(values[0].value, values[0].number, values[0].unit, spread)

    def ends(self, text: str, likely: str = "") -> tuple[Quantity, Quantity]:
        pieces = _TO.split(text.strip())
        if len(pieces) != 2:
            few = f'write both, such as "{self.example or "8 to 10 t"}"'
            raise self.wrong("two ends", few if len(pieces) < 2 else f'write "{pieces[0]} to {pieces[-1]}"')
        shared = self.unit_of(pieces[1]) or self.unit_of(likely)
        high = self.value(self.borrowing(pieces[1], shared))
        low = self.value(self.borrowing(pieces[0], shared))
        self.same_kind(low, high)
        return low, high

    def same_kind(self, one: Quantity, other: Quantity) -> None:
        if one.dimension != other.dimension:
            both = f"{dimension_name(one.dimension)} and {dimension_name(other.dimension)}"
            raise self.wrong(f"one kind of quantity, this has {both}", "give both in one unit")

    # one number with one unit ------------------------------------------------------------------

    def value(self, text: str) -> Quantity:
        match = _NUMBER.match(text)
        number = match["number"] if match else ""
        if match is None or not any(character.isdigit() for character in number):
            raise self.wrong(self.wanted(), self.give())
        rest = text[match.end() :]
        self.check_number(number, rest)
        power = match["e"] or _power(match["caret"] or match["raised"])
        digits = number.replace(" ", "").replace(",", "") + power
        plain = float(digits)
        if math.isinf(plain):
            raise self.wrong("a number a computer can hold, below 1e30 here", "check the power of ten")
        if plain == 0.0 and re.search(r"[1-9]", number):
            raise self.wrong("zero, or a number above 1e-30", "check the power of ten")
        found = self.unit_named(rest)
        value = plain * found.factor
        if not (value == 0.0 or 1.0 / _ABSURD < abs(value) < _ABSURD):
            raise self.wrong("a size between 1e-30 and 1e30 in SI", "check the power of ten and the unit")
        return Quantity(value, text[: match.end()].strip(), found)

    def check_number(self, number: str, rest: str) -> None:
        """Refuse what a number might continue as: decimal commas, odd thousands, second numbers."""
        whole = number.lstrip("+-")
        if re.match(r"\s*,\s*[0-9]", rest) or (whole.startswith("0,")):
            comma = (whole + rest).replace(",", ".", 1)
            raise self.wrong(
                "a decimal point; a comma only before each three digits, as in 12,500",
                f'write "{comma.strip()}" if the comma marks the decimals',
            )
        if re.match(r"[0-9._' ]*[0-9.]", rest):
            if re.match(r"\s?[0-9 ]+", rest) and not rest.startswith("."):
                raise self.wrong(
                    "thousands set apart by threes, as in 12 500",
                    "check the digits: a space stands in an odd place",
                )
            raise self.wrong('one plain number, such as "12500" or "12 500"', "check its digits and points")
        if rest.startswith("_") or rest.startswith("'"):
            raise self.wrong('thousands set apart by a space, as in "12 500"', "replace the mark by a space")

    def unit_named(self, rest: str) -> Unit:
        written = rest.strip()
        if not written and d.NUMBER not in self.accepted:
            raise self.wrong(self.wanted(), self.give())
        if re.search(r"(?<![\^*⁻-])\s-?[0-9.]+\s*[A-Za-z°%]", " " + written):
            raise self.wrong("one number with one unit", self.added_up())
        wants_gravity = d.ACCELERATION in self.accepted and d.MASS not in self.accepted
        try:
            found = unit(written, d.ACCELERATION if wants_gravity else None)
        except Refusal as refusal:
            other = isinstance(refusal, UnknownUnit) and refusal.meaning not in (None, *self.accepted)
            dated = re.fullmatch(r"-[0-9]{2}-[0-9]{2}.*", written)
            raise self.wrong(self.wanted(), self.give() if other or dated else refusal.remedy) from None
        if found.dimension not in self.accepted:
            what = dimension_name(found.dimension) + (f" ({found.text})" if found.text else "")
            raise Refusal(Complaint(self.field, f'"{self.typed}", {what}', self.wanted(), self.give(found)))
        return found

    def added_up(self) -> str:
        """Advice on several numbers with a unit each."""
        pieces = [_Statement(piece, self.accepted, self.field) for piece in _PIECE.findall(self.text)]
        try:
            values = [piece.value(piece.text) for piece in pieces]
        except Refusal:
            return "keep one of the numbers"
        if "".join(piece.text for piece in pieces).replace(" ", "") != self.text.replace(" ", ""):
            return "keep one of the numbers"
        for value in values[1:]:
            self.same_kind(values[0], value)
        total = float(f"{sum(value.value for value in values) / values[0].unit.factor:.12g}")
        return f"add them up: {self.text} is {plain(total)} {values[0].unit.text}"

    def unit_of(self, text: str) -> str:
        match = _NUMBER.match(text.strip())
        return text.strip()[match.end() :].strip() if match else ""

    def borrowing(self, text: str, written: str) -> str:
        """The same with the unit of its neighbour, where it has none of its own."""
        return text if self.unit_of(text) or not written else f"{text.strip()} {written}"

    def one(self, quantity: Quantity) -> str:
        return f"{quantity.number} {quantity.unit.text}".strip()

    # words ----------------------------------------------------------------------------------------

    def wanted(self) -> str:
        return self.words or " or ".join(
            f"{dimension_name(kind)} ({usual_units(kind)})" for kind in self.accepted
        )

    def give(self, found: Unit | None = None) -> str:
        kind = self.accepted[0]
        such = self.example or example(kind)
        if found is not None and kind == d.TIME and found.dimension == d.SPEED:
            return "give seconds; a specific impulse as a speed is divided by 9.80665 m/s²"
        name = dimension_name(kind).split(" ", 1)[1]
        if kind == d.NUMBER and len(self.accepted) == 1 and "%" not in such:
            return f'give a number alone, such as "{such}"'
        if " " in name or len(self.accepted) > 1 or kind == d.NUMBER:
            return f'give a number with its unit, such as "{such}"'
        article = "an" if name[0] in "aeiou" else "a"
        return f'give a number and {article} {name} unit, such as "{such}"'

    def wrong(self, accepted: str, remedy: str) -> Refusal:
        got = f'"{self.typed}"' if self.typed.strip() else "nothing"
        return Refusal(Complaint(self.field, got, accepted, remedy))


def _power(written: str | None) -> str:
    return "e" + written.translate(_TO_PLAIN) if written else ""


def _fits(number: int | float) -> bool:
    return not (isinstance(number, int) and abs(number) > 10**300)
