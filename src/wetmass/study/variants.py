"""Variants of a concept: the same file with a few values changed, by name or by a small file of its own.

of: dunlin.yaml                 # the concept it changes; the first of the command where it is left out
name: Dunlin, longer burn       # what to call it
first, dry mass: 8 t            # a name as people say it …
second:
  isp: {vacuum: 370 s}          # … or the blocks of the concept itself
  structural fraction: nothing  # takes a key away
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from wetmass.concept.document import Document, document
from wetmass.concept.model import Concept
from wetmass.concept.names import find
from wetmass.concept.quantity import Quantity
from wetmass.concept.reading import load, loads
from wetmass.concept.tree import LARGEST_FILE, Node
from wetmass.record.refusal import Complaint, Refusal

NOTHING = "nothing"
Change = tuple[str, str]  # a name, or the path of a key, and what is written there


@dataclass(frozen=True)
class Variant:
    """A concept by the name it is compared under, with what was changed in it."""

    name: str
    concept: Concept
    changes: tuple[Change, ...] = ()


def change_of(text: str) -> Change:
    """ "first, dry mass = 8 t" as a name and a value.  Raises Refusal when it is not of that form.

    >>> change_of("first, dry mass = 8 t")
    ('first, dry mass', '8 t')
    """
    name, equals, value = text.partition("=")
    if not equals or not name.strip() or not value.strip():
        raise Refusal(
            Complaint("--set", f'"{text}"', "a name, = and a value", 'write it as in "first, dry mass = 8 t"')
        )
    return name.strip(), value.strip()


def changes_of(text: str) -> tuple[Change, ...]:
    """Several changes in one text, parted by semicolons."""
    return tuple(change_of(part) for part in text.split(";") if part.strip())


def changed(concept: Concept, changes: Sequence[Change], name: str = "") -> Concept:
    """The concept with some values changed, read anew and so checked like any other.

    Raises Refusal when a name means no value, or what comes of it is no sound concept.
    """
    base = concept.document
    if base is None:
        raise Refusal(
            Complaint("concept", "a concept made in Python", "one read from a text", "use concept.loads")
        )
    made = base
    for said, text in changes:
        for path, value in written(concept, said, text):
            made = made.drop(path) if value == NOTHING else made.set(path, value)
    if name:
        made = made.set("name", name)
    return loads(made.text, base.name)


def written(concept: Concept, said: str, text: str) -> tuple[Change, ...]:
    """(path, text) of each key that a change writes."""
    one = find(concept, said, words_too=True)
    if one.stated is None or text == NOTHING or text.casefold().startswith("find"):
        return tuple((path, text) for path in one.paths)
    if one.before and re.match(r"(at least|at most|exactly)\b", text):
        return ((one.paths[0], text),)
    if len(one.paths) == 1 and isinstance(one.stated, Quantity):
        one.read(re.split(r"±|\+/-|\(| to | or ", text)[0])  # in words of the name, when it cannot be read
        alone = re.fullmatch(r"[-+−]?[0-9][0-9 .]*", text.strip()) is not None
        unit = f" {one.stated.unit.text}" if alone and one.stated.unit.text else ""
        return ((one.paths[0], f"{one.before} {text}{unit}".strip()),)
    return one.written(one.read(text))


def variant(path: str | Path, base: Concept | None = None) -> Variant:
    """The concept of a file, or the variant that a small file of changes makes of `base`.

    Raises Refusal as `load` does, and when a file of changes has nothing to change.
    """
    name = str(path)
    if not _only_changes(Path(path)):
        concept = load(path)
        return Variant(concept.name, concept)
    read = _document(Path(path))
    of = read.get("of")
    if of is not None:
        base = load(Path(path).parent / of)
    if base is None:
        raise Refusal(
            Complaint(
                "of", "nothing", "the concept it changes", 'add "of: dunlin.yaml", or name the concept before it',
                read.place(""),
            )
        )  # fmt: skip
    called = read.get("name") or Path(name).stem
    changes = tuple((said, text) for said, text in _leaves(read.root, "") if said not in ("of", "name"))
    return Variant(called, changed(base, changes, called), changes)


def _only_changes(path: Path) -> bool:
    """Whether a file holds changes and no whole concept: it has no site, mission or list of stages."""
    try:
        if not path.is_file() or path.stat().st_size > LARGEST_FILE:
            return False
        read = _document(path)
    except (Refusal, OSError, UnicodeDecodeError):
        return False  # reading it as a concept says what is wrong
    node = read.root
    stages = node.get("stages")
    whole = stages is not None and stages[1].kind == "list"
    return node.kind == "block" and (node.get("of") is not None or not (whole or node.get("site")))


def _document(path: Path) -> Document:
    return document(path.read_text(encoding="utf-8"), str(path))


def _leaves(node: Node, above: str) -> Iterator[Change]:
    for key, value in node.entries:
        here = f"{above}, {key.text}".removeprefix(", ")
        if value.kind == "text":
            yield here, value.text
        elif value.kind == "block":
            yield from _leaves(value, here)
        else:
            for number, item in enumerate(value.items, 1):
                named = item.get("name") if item.kind == "block" else None
                step = named[1].text if named is not None else str(number)
                if item.kind == "text":
                    yield f"{here}, {step}", item.text
                    continue
                yield from (c for c in _leaves(item, f"{here}, {step}") if not c[0].endswith(f"{step}, name"))
