"""Words in a line: plain ones, numbers that lead to where they were made, and marked ones."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from string import Formatter


@dataclass(frozen=True, slots=True)
class Link:
    """A number that leads to where it was made."""

    anchor: str
    words: str


@dataclass(frozen=True, slots=True)
class Marked:
    """Words that stand out: "binds", "broken", "kept"."""

    kind: str
    words: str


Span = str | Link | Marked
Words = tuple[Span, ...]


def filled(template: str, spans: Mapping[str, Span]) -> Words:
    """The words of a template with spans put in for {names}.

    Raises KeyError for a name that is not among them.

    >>> filled("It has {ideal}.", {"ideal": Link("step-3", "9 556 m/s")})
    ('It has ', Link(anchor='step-3', words='9 556 m/s'), '.')
    """
    made: list[Span] = []
    for before, name, _, _ in Formatter().parse(template):
        if before:
            made.append(before)
        if name is not None:
            made.append(spans[name])
    return tuple(made)


def told(words: Words) -> str:
    """Words alone.

    >>> told(("of ", Link("a", "3 kg")))
    'of 3 kg'
    """
    return "".join(span if isinstance(span, str) else span.words for span in words)
