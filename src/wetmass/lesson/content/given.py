"""What is known, guessed and open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from wetmass.findings.units import shown
from wetmass.lesson.content.blocks import Block, Column, Table
from wetmass.lesson.content.matter import Matter
from wetmass.lesson.words import said
from wetmass.record.digits import readable

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def given(matter: Matter) -> list[Block]:
    """Tables of what was open and of what is a guess."""
    concept, closed = matter.concept, matter.closed
    made: list[Block] = []
    if closed.found:
        rows = []
        for one in closed.found:
            value = shown(concept, one.where, one.value, one.unit)
            bound = f" ({one.bound})" if one.bound else ""
            rows.append(((place(one.where),), (value + bound,)))
        columns = (Column(said("tables/found_what")), Column(said("tables/found_value"), True))
        made.append(Table("found", said("tables/found"), columns, tuple(rows)))
    guessed = list(guesses(concept))
    if guessed:
        columns = (
            Column(said("tables/guess_what")), Column(said("tables/guess_value"), True),
            Column(said("tables/guess_spread"), True),
        )  # fmt: skip
        rows = [tuple((cell,) for cell in row) for row in guessed]
        made.append(Table("guesses", said("tables/guesses"), columns, tuple(rows)))
    return made


def place(path: str) -> str:
    """A path as people say it.

    >>> place("stages/first/propellant/mass")
    'first, propellant mass'
    """
    parts = path.removeprefix("stages/").split("/")
    return ", ".join((parts[0], " ".join(parts[1:]))) if len(parts) > 1 else parts[0]


def guesses(concept: Concept) -> Iterator[tuple[str, str, str]]:
    """(where, value, how far it may be off) of every stated value that carries a spread."""
    for where, quantity in _quantities(concept, ""):
        low = readable(quantity.spread.low / quantity.unit.factor, 3)
        high = readable(quantity.spread.high / quantity.unit.factor, 3)
        unit = quantity.unit.text
        value = f"{readable(quantity.value / quantity.unit.factor)}\u00a0{unit}".strip()
        yield where, value, f"{low} to {high}\u00a0{unit}".strip()


def _quantities(model: Any, where: str) -> Iterator[tuple[str, Any]]:
    for field in type(model).model_fields:
        value = getattr(model, field)
        words = field.replace("_", " ")
        for item in value if isinstance(value, (list, tuple)) else (value,):
            name = getattr(item, "name", None)
            here = f"{where}{name}, " if isinstance(name, str) and name else where
            if getattr(item, "spread", None) is not None and hasattr(item, "unit"):
                yield f"{where}{words}", item
            elif hasattr(type(item), "model_fields"):
                yield from _quantities(item, here if isinstance(value, (list, tuple)) else where)
