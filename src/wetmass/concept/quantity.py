"""Values as they were stated: in SI inside, beside the number and unit as typed, and how sure one is of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from wetmass.concept.dimensions import Dimension
from wetmass.concept.units import Unit
from wetmass.record.digits import readable


class SpreadKind(StrEnum):
    """How a spread was stated; `wetmass.concept.guesses` says how it is drawn from."""

    PLUS_MINUS = "plus-minus"  # 9.4 t ± 8 %
    RANGE = "range"  # 8 to 10 t
    LIKELY = "likely"  # 9.4 t (8 to 11 t)
    CHOICE = "choice"  # 309 or 312 or 320 s


@dataclass(frozen=True, slots=True)
class Spread:
    """How far a guess may be off; `low` and `high` are SI, low < high; the choices too, as typed."""

    kind: SpreadKind
    low: float
    high: float
    choices: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, repr=False)
class Quantity:
    """One stated value: SI inside, and as it was typed.

    value   in SI (angles in radians)
    number  the number as typed
    unit    the unit as typed, with its SI factor and dimension
    spread  None for a plain value
    text    the whole statement as typed
    """

    value: float
    number: str
    unit: Unit
    spread: Spread | None = None
    text: str = ""

    def __float__(self) -> float:
        return self.value

    def __str__(self) -> str:
        return self.text or f"{self.number} {self.unit.text}".strip()

    def __repr__(self) -> str:
        return f"<{self}>"

    @property
    def dimension(self) -> Dimension:
        """What the value measures."""
        return self.unit.dimension


@dataclass(frozen=True, slots=True)
class Span:
    """A stated range whose two ends both matter, such as the headings a site allows."""

    low: Quantity
    high: Quantity

    def __str__(self) -> str:
        return f"{self.low} to {self.high}"


def in_user_units(value: float, like: Quantity | Unit, figures: int = 4) -> str:
    """A value in SI, written in the unit the user chose.

    What is written can be read back by `parse_quantity`.

    >>> from wetmass.concept.units import unit
    >>> in_user_units(103400.0, unit("t"))
    '103.4 t'
    """
    chosen = like.unit if isinstance(like, Quantity) else like
    return f"{readable(value / chosen.factor, figures)} {chosen.text}".strip()


def exactly(value: float, like: Quantity | Unit) -> str:
    """The same with every digit, for a file that is read again.

    >>> from wetmass.concept.units import unit
    >>> exactly(103412.5, unit("t"))
    '103.4125 t'
    """
    chosen = like.unit if isinstance(like, Quantity) else like
    return f"{plain(value / chosen.factor)} {chosen.text}".strip()


def plain(number: float) -> str:
    """The shortest digits that read back as the same number, without a trailing .0."""
    text = repr(float(number))
    return text[:-2] if text.endswith(".0") else text
