"""The catalogue of relations, read from the topics of `formulas`.

A relation is recognised by the ideas in the name of the line (see `names.tags`); its arguments are
found among the numbers of the line and the values of the page by name, dimension and usual range.
Formulas are written in the grammar of workings itself.
"""

from __future__ import annotations

import functools
import importlib
import re
from collections.abc import Iterator
from dataclasses import dataclass

from wetmass.working import registry
from wetmass.working.formulas import TOPICS
from wetmass.working.formulas.letters import LETTERS
from wetmass.working.formulas.sources import SOURCES
from wetmass.working.tree import Node


@dataclass(frozen=True, slots=True)
class Role:
    """One argument of a relation."""

    letter: str
    ideas: tuple[frozenset[str], ...]  # any of these sets of ideas names it
    unit: str  # SI
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Wrong:
    """A wrong form: the kind of slip it is, its formula, what was done, what should be done."""

    kind: str
    formula: str
    cause: str
    cure: str


@dataclass(frozen=True, slots=True)
class Form:
    """A relation in one of its forms."""

    name: str
    ideas: tuple[frozenset[str], ...]
    without: frozenset[str]  # ideas that say it is another quantity
    unit: str
    formula: str
    roles: tuple[Role, ...]
    source: str
    wrong: tuple[Wrong, ...]
    sure: bool  # whether the name of the line alone settles the relation


@functools.cache
def forms(all_of_them: bool = False) -> tuple[Form, ...]:
    """The relations that a name alone settles; `all_of_them` with those that need their numbers too."""
    made = [form for topic in TOPICS for form in _topic(topic)]
    sure = [form for form in made if form.sure]
    if not all_of_them:
        return tuple(sure)
    others = [form for form in made if not form.sure]
    for words, ideas, unit, mark, source, letters in registry.relations():
        roles = tuple(Role(letter, _ideas(its), of, low, high) for letter, its, of, low, high in letters)
        others.append(Form(words, _ideas(ideas), frozenset(), unit, mark, roles, source, (), False))
    return (*sure, *others)


_FORMULA = re.compile(r"(.+) \[(.+)\] \((.+)\)")


def _topic(topic: str) -> Iterator[Form]:
    """The relations of one file of `formulas`."""
    text = importlib.import_module(f"wetmass.working.formulas.{topic}").RELATIONS
    for block in re.split(r"\n(?=\S)", text.strip()):
        head, first, *rest = (row.strip() for row in block.splitlines())
        match = _FORMULA.fullmatch(first)
        assert match is not None, first
        formula, unit, source = match.groups()
        ideas, without = "", ""
        if rest and rest[0].startswith("is "):
            ideas, _, without = rest.pop(0)[3:].partition(" ; not ")
        wrong = []
        for row in rest:
            left, cause, cure = row.split(" : ")
            kind, its = left.split(" ", 1)
            wrong.append(Wrong(kind, its, cause, cure))
        letters = [letter for letter in names_in(formula) if letter in roles()]
        yield Form(
            head.removesuffix(" !"),
            _ideas(ideas),
            frozenset(without.split()),
            unit,
            formula,
            tuple(roles()[letter] for letter in letters),
            SOURCES[source],
            tuple(wrong),
            head.endswith(" !"),
        )


@functools.cache
def roles() -> dict[str, Role]:
    """The letters a relation may be written in."""
    found = {}
    for row in LETTERS.strip().splitlines():
        if row.startswith("#"):
            continue
        letter, ideas, unit, low, high = (piece.strip() for piece in row.split(";"))
        found[letter] = Role(letter, _ideas(ideas), unit, float(low), float(high))
    return found


def _ideas(text: str) -> tuple[frozenset[str], ...]:
    return tuple(frozenset(option.split()) for option in text.split("|"))


@functools.cache
def formula_tree(formula: str) -> Node:
    """A formula of the catalogue as a tree whose letters are unknown names."""
    if formula in registry.TREES:
        return registry.TREES[formula]
    from wetmass.working.grammar import PI, Parser, Reading
    from wetmass.working.tokens import tokens

    parser = Parser(tokens(formula), lambda text: PI if text == "pi" else None, Reading())
    return parser.side().tree


@functools.cache
def names_in(formula: str) -> tuple[str, ...]:
    """The letters of a formula in the order they first stand."""
    from wetmass.working.tree import unknowns

    return tuple(dict.fromkeys(unknowns(formula_tree(formula))))
