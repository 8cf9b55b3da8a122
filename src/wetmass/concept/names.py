"""The numbers of a concept by the names people give them: "first, dry mass", "second isp", "lift-off mass".

A name is read as words.  It means the number whose place in the file has all of them and the fewest more;
commas, points, slashes and the order of the words do not matter.  The name of a block whose numbers are of
one kind, such as "second, isp" with its figures at sea level and in vacuum, moves them together.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from pydantic import BaseModel

from wetmass.concept.find import Find
from wetmass.concept.measures import Requirement
from wetmass.concept.model import Concept
from wetmass.concept.quantity import Quantity, exactly
from wetmass.concept.statement import parse_quantity
from wetmass.record.refusal import Complaint, Refusal

_LITTLE = {"the", "of", "a", "in", "stage", "stages", "s", "value"}
_HIDDEN = {"stages", "engines", "require", "limits"}  # blocks that need not be said
_TOGETHER = ("isp", "thrust")  # blocks whose numbers are moved together under the block's name
_MOST_TOLD = 8


@dataclass(frozen=True)
class Input:
    """One number of a concept that can be changed, or several that move together.

    words   its name as it is said, such as "first, dry mass"
    paths   where it stands in the file, such as "stages/first/dry mass"
    values  what stands at each: a quantity, a whole number, an open value, a word; None where nothing does
    before  what is written before the number, such as "at least"
    """

    words: str
    paths: tuple[str, ...]
    values: tuple[Any, ...]
    before: str = ""

    @property
    def stated(self) -> Quantity | int | None:
        """The number that stands for all: the last, which of a pair is that in vacuum; None where open."""
        value = self.values[-1]
        return value if isinstance(value, (Quantity, int)) and not isinstance(value, bool) else None

    @property
    def value(self) -> float | None:
        """The same in SI."""
        stated = self.stated
        return None if stated is None else float(stated)

    def read(self, text: str) -> float:
        """A number typed for it, in SI; without a unit it is in the unit of the file.

        Raises Refusal when it is not of its kind.
        """
        stated = self.stated
        if isinstance(stated, Quantity):
            alone = re.fullmatch(r"[-+−]?[0-9][0-9 .]*(?:[eE][-+]?[0-9]+)?", text.strip())
            if alone and stated.unit.text:
                text = f"{text.strip()} {stated.unit.text}"
            return parse_quantity(text, stated.dimension, self.words, spread=False).value
        if re.fullmatch(r"[0-9]{1,6}", text.strip()):
            return float(text)
        accepted = (
            "a whole number" if stated is not None else "a number in the file to change: it is open there"
        )
        todo = 'write it as in "7"' if stated is not None else "state it in the file first, or use --set"
        raise Refusal(Complaint(self.words, f'"{text}"', accepted, todo))

    def written(self, value: float) -> tuple[tuple[str, str], ...]:
        """(path, text) of each of its numbers for the value `value` (SI) of the one that stands for all."""
        stated = self.stated
        if isinstance(stated, int):
            return ((self.paths[-1], str(round(value))),)
        assert isinstance(stated, Quantity)
        moved = value - stated.value
        made = []
        for path, own in zip(self.paths, self.values, strict=True):
            assert isinstance(own, Quantity)
            new = value if own is stated else own.value + moved
            made.append((path, f"{self.before} {exactly(new, own)}".strip()))
        return tuple(made)

    def said(self, value: float, figures: int = 4) -> str:
        """A value of it in the unit of the file."""
        from wetmass.concept.quantity import in_user_units

        stated = self.stated
        return in_user_units(value, stated, figures) if isinstance(stated, Quantity) else f"{value:g}"


def inputs(concept: Concept) -> tuple[Input, ...]:
    """Every number of a concept, in the order of the model, blocks of like numbers after their members."""
    return tuple(
        one for one, _ in named(concept) if one.stated is not None or isinstance(one.values[0], Find)
    )


def find(concept: Concept, name: str, *, words_too: bool = False) -> Input:
    """The number that a name means; with `words_too`, also what is no number, or is not stated yet.

    Raises Refusal, with the nearest names, when none or more than one does.

    >>> from wetmass.concept import load
    >>> find(load("examples/dunlin.yaml"), "dry mass of the first stage").paths
    ('stages/first/dry mass',)
    """
    wanted = _words(name)
    fitting = []
    for one, places in named(concept):
        if not wanted:
            break
        if not (words_too or one.stated is not None or isinstance(one.values[0], Find)):
            continue
        rest = _rest(wanted, places)
        if rest is not None:
            fitting.append((rest, one))
    least = min((rest for rest, _ in fitting), default=0)
    best = [one for rest, one in fitting if rest == least]
    if len(best) > 1:  # what is called just so is meant
        best = [one for one in best if sorted(_words(one.words)) == sorted(wanted)] or best
    if len(best) == 1:
        return best[0]
    known = [one.words for one in (best or inputs(concept))]
    if best:
        raise Refusal(
            Complaint(
                "name", f'"{name}", which {len(best)} numbers could mean', "; ".join(known[:_MOST_TOLD]),
                f'say more of it, as in "{known[0]}"',
            )
        )  # fmt: skip
    plain = {" ".join(_words(k)): k for k in reversed(known)}
    near = [plain[n] for n in difflib.get_close_matches(" ".join(wanted), plain, 4, 0.6)]
    told = "; ".join(near or known[:_MOST_TOLD])
    remedy = f'write "{near[0]}", if that is meant' if near else "write one of these, or another of the file"
    raise Refusal(Complaint("name", f'"{name}"', f"a number of {concept.name}, such as {told}", remedy))


def _rest(wanted: Sequence[str], places: Sequence[tuple[tuple[str, ...], int]]) -> int | None:
    """How many words of a place the name leaves out; None when it has others, or leaves out the last."""
    left = list(wanted)
    rest = 0
    for place, (words, cost) in enumerate(places):
        used = 0
        for word in words:
            if word in left:
                left.remove(word)
                used += 1
        last = place == len(places) - 1
        if last and not used:
            return None
        rest += 0 if used and not last else cost if not last else len(words) - used
    return None if left else rest


def _words(name: str) -> list[str]:
    plain = re.sub(r"[^\w%]+|_", " ", name.casefold().replace("q-alpha", "qalpha"))
    said = [word for word in plain.split() if word not in _LITTLE]
    return [word.removesuffix("s") if len(word) > 3 else word for word in said]


_Places = tuple[tuple[tuple[str, ...], int], ...]


def named(concept: Concept) -> Iterator[tuple[Input, _Places]]:
    """Each number with the words of every step on the way to it, and what it costs to leave them out."""
    yield from _block(concept, (), ())


def _block(block: BaseModel, path: tuple[str, ...], places: _Places) -> Iterator[tuple[Input, _Places]]:
    members: list[Input] = []
    for name, field in type(block).model_fields.items():
        value, key = getattr(block, name), str(field.alias or name.replace("_", " "))
        here = (*path, key)
        step = (*places, (tuple(_words(key)), 0 if key in _HIDDEN else 1))
        if isinstance(value, BaseModel):
            yield from _block(value, here, step)
        elif isinstance(value, tuple):
            yield from _list(value, here, step)
        elif key not in ("claims", "story", "trace"):
            one = Input(_said(here), ("/".join(here),), (value,))
            members.append(one)
            yield one, step
    stated = [one for one in members if isinstance(one.stated, Quantity)]
    if path and path[-1] in _TOGETHER:
        yield _together(_said(path), stated), places
    if path == ("mission",):
        height = [one for one in stated if one.paths[0] in ("mission/perigee", "mission/apogee")]
        if len(height) == 2:
            yield _together("orbit height", height), ((("orbit",), 0), (("height",), 1))


def _list(entries: Sequence[Any], path: tuple[str, ...], places: _Places) -> Iterator[tuple[Input, _Places]]:
    for number, entry in enumerate(entries, 1):
        if isinstance(entry, Requirement):
            at = (*path, str(number), entry.name)
            one = Input(entry.name, ("/".join(at),), (entry.quantity,), str(entry.relation))
            yield one, (*places, (tuple(_words(entry.name)), 1))
        elif isinstance(entry, BaseModel):
            name = getattr(entry, "name", None)
            by_name = path[-1] == "stages"
            words = tuple(_words(name)) if name else ()
            words += (str(number),) if not by_name else ()
            cost = 0 if len(entries) == 1 else 1
            step = name if by_name else str(number)
            below = _block(entry, (*path, step), (*places, (words, cost)))
            for one, found in below:
                if not by_name:
                    one = _shortened(one, (*path, step), name if name else step, len(entries) == 1)
                yield one, found


def _together(words: str, members: Sequence[Input]) -> Input:
    return Input(words, tuple(one.paths[0] for one in members), tuple(one.values[0] for one in members))


def _said(path: Sequence[str]) -> str:
    """A place in words: "first, isp, vacuum"; a count says of what."""
    counted = path[-1] in ("count", "name", "kind")
    return ", ".join(step for step in path if step not in _HIDDEN or (counted and step == "engines"))


def _shortened(one: Input, above: tuple[str, ...], name: str, alone: bool) -> Input:
    """The name without the number of an entry that is alone, or with its name for its number."""
    number = f", {above[-1]}"
    before, found, after = one.words.partition(number)
    if not found or (after and not after.startswith(",")):
        return one
    return replace(one, words=before + ("" if alone else f", {name}") + after)
