"""What if: one number of a concept, or two, put to several values, each point closed and made best."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wetmass.concept.model import Concept
from wetmass.concept.names import Input, find
from wetmass.record.refusal import Complaint, Refusal
from wetmass.study.crew import Crew, Told, run
from wetmass.study.point import Base, Outcome, base_of
from wetmass.study.store import Store
from wetmass.study.variants import written

USUAL_POINTS = 7
MOST_POINTS = 100_000
_EXAMPLE = '"first, dry mass = 6 to 9 t in 7", "= 6 t, 7 t, 8 t", "= ± 10 %" or "= LOX/LCH4 or LOX/RP-1"'


@dataclass(frozen=True)
class Axis:
    """One input with the values it is put to; `words` instead of numbers where it is no number."""

    input: Input
    values: tuple[float, ...]
    words: tuple[str, ...] = ()

    @property
    def labels(self) -> tuple[str, ...]:
        """The values as they are said."""
        return self.words or tuple(self.input.said(value, 5) for value in self.values)

    def __len__(self) -> int:
        return len(self.words or self.values)


@dataclass(frozen=True)
class Grid:
    """A what-if study: the outcome at every combination, the last axis running fastest."""

    name: str
    base: Base
    axes: tuple[Axis, ...]
    outcomes: tuple[Outcome, ...]

    def at(self, *places: int) -> Outcome:
        """The outcome at the places along the axes, from 0."""
        if len(self.axes) == 1:
            return self.outcomes[places[0]]
        return self.outcomes[places[0] * len(self.axes[1]) + places[1]]


def axis(concept: Concept, text: str) -> Axis:
    """An axis as it is typed: a name, =, then a range, a list, a share either way, or words.

    Raises Refusal when it cannot be read.

    >>> from wetmass.concept import load
    >>> axis(load("examples/dunlin.yaml"), "first, dry mass = 7 to 8 t in 3").values
    (7000.0, 7500.0, 8000.0)
    """
    name, equals, said = (part.strip() for part in text.partition("="))
    if not equals or not name or not said:
        raise Refusal(
            Complaint("what to vary", f'"{text}"', "a name, = and values", f"write it as in {_EXAMPLE}")
        )
    one = find(concept, name, words_too=True)
    if one.stated is None:
        return Axis(one, (), _listed(one, said))
    counted = re.fullmatch(r"(.*\S)\s+in\s+([0-9]{1,9})(\s+steps|\s+points)?", said)
    count = USUAL_POINTS
    if counted:
        said, count = counted[1], int(counted[2])
    share = re.fullmatch(r"(?:±|\+/-|\+-)\s*([0-9.]+)\s*%", said)
    if share:
        half = abs(one.value or 0.0) * float(share[1]) / 100.0
        low, high = (one.value or 0.0) - half, (one.value or 0.0) + half
        return Axis(one, _between(one, low, high, count))
    ends = re.split(r"\s+to\s+", said)
    if len(ends) == 2:
        unit = re.sub(r"^[-+−]?[0-9][0-9 .,]*", "", ends[1]).strip()
        first = ends[0] if re.search(r"[A-Za-z%°]", ends[0]) else f"{ends[0]} {unit}".strip()
        return Axis(one, _between(one, one.read(first), one.read(ends[1]), count))
    values = tuple(one.read(part) for part in _borrowed(_parts(said)))
    return Axis(one, _several(one, said, values))


def _several(one: Input, said: str, values: tuple[float, ...]) -> tuple[float, ...]:
    if len(values) < 2 or len(set(values)) < len(values):
        raise Refusal(
            Complaint(one.words, f'"{said}"', "two values or more, each once", f"write it as in {_EXAMPLE}")
        )
    return values


def _between(one: Input, low: float, high: float, count: int) -> tuple[float, ...]:
    if not 2 <= count <= 1000 or not low < high:
        raise Refusal(
            Complaint(
                one.words, f"{count} points from {one.said(low)} to {one.said(high)}",
                "a range from less to more, in 2 to 1000 points", f"write it as in {_EXAMPLE}",
            )
        )  # fmt: skip
    if isinstance(one.stated, int):
        return tuple(float(n) for n in range(round(low), round(high) + 1))
    return tuple(low + (high - low) * i / (count - 1) for i in range(count))


def _listed(one: Input, said: str) -> tuple[str, ...]:
    words = tuple(_parts(said))
    if len(words) < 2:
        raise Refusal(
            Complaint(
                one.words, f'"{said}"', "a number in the file to vary, or two words or more",
                f"state the number in the file first, or write {_EXAMPLE}",
            )
        )  # fmt: skip
    return words


def _parts(said: str) -> list[str]:
    return [part.strip() for part in re.split(r",\s+|\s+or\s+", said) if part.strip()]


def _borrowed(parts: Sequence[str]) -> list[str]:
    """Each part with the unit of the last, where it has none: "6, 7, 8 t"."""
    unit = re.sub(r"^[-+−]?[0-9][0-9 .]*(?:e[-+]?[0-9]+)?", "", parts[-1]).strip()
    return [
        f"{part} {unit}".strip() if re.fullmatch(r"[-+−]?[0-9][0-9 .]*", part) else part for part in parts
    ]


def vary(
    concept: Concept,
    axes: Sequence[str | Axis],
    *,
    base: Base | None = None,
    crew: Crew | None = None,
    store: Store | None = None,
    told: Told = lambda done, of, left: None,
    said: Callable[[str], None] = lambda words: None,
) -> Grid:
    """A concept closed and made best at every combination of the values of one axis or two.

    axes   such as "first, dry mass = 6 to 9 t in 7"; arguments as for `crew.run`
    base   the nominal answer, where it is known already
    said   called with a few words before the nominal answer is looked for

    A point that does not close is kept, with its reason.  Raises Refusal for axes that cannot be read.
    """
    read = tuple(one if isinstance(one, Axis) else axis(concept, one) for one in axes)
    if not 1 <= len(read) <= 2:
        raise Refusal(
            Complaint("what to vary", f"{len(read)} inputs", "one or two", f"write it as in {_EXAMPLE}")
        )
    changes = [
        tuple(itertools.chain.from_iterable(place))
        for place in itertools.product(*(_changes(concept, one) for one in read))
    ]
    if len(changes) > MOST_POINTS:
        raise Refusal(
            Complaint("what to vary", f"{len(changes)} points", f"{MOST_POINTS} at most", "take fewer")
        )
    if base is None:
        said("looking for the nominal answer")
        base = base_of(concept)
    return Grid(concept.name, base, read, tuple(run(base, changes, crew=crew, store=store, told=told)))


def _changes(concept: Concept, one: Axis) -> list[tuple[tuple[str, str], ...]]:
    if one.words:
        return [written(concept, one.input.words, text) for text in one.words]
    return [one.input.written(value) for value in one.values]
