"""The sides of a line between its signs, each in every way it can be read."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wetmass.working.grammar import Parser, Reading
from wetmass.working.linking import resolved, turns
from wetmass.working.scope import Scope
from wetmass.working.tokens import Token, Unreadable
from wetmass.working.tree import Leaf, Node, Op, unknowns
from wetmass.working.units import UNITS

if TYPE_CHECKING:
    from wetmass.working.statement import Statement


_ABOUT = {
    "about",
    "approx",
    "approximately",
    "roughly",
    "ca",
    "circa",
    "some",
    "nearly",
    "around",
    "c",
    "approx.",
}


@dataclass(slots=True)
class Part:
    """One side of a line in each way it can be read, the likeliest first."""

    trees: list[Node]
    value: bool  # a lone stated number
    about: bool = False  # it follows ≈ or "about"
    text: str = ""


def sides_of(statement: Statement, text: str, cut: list[Token], scope: Scope) -> None:
    """Parse the sides between the signs of a line."""
    at = 0
    about = False
    while at < len(cut):
        token = cut[at]
        if token.kind == "relation":
            about = token.text in "≈≃≅~" or about
            at += 1
            while at < len(cut) and (
                (
                    cut[at].kind == "word"
                    and cut[at].text.lower() in _ABOUT
                    and not (cut[at].text == "c" and scope.exact("c") is not None)
                )
                or (cut[at].kind == "mark" and cut[at].text in ".~")
            ):
                about = True
                at += 1
            if at < len(cut) and cut[at].kind == "relation":
                continue
            if at >= len(cut):
                break
        end = next((i for i in range(at, len(cut)) if cut[i].kind == "relation"), len(cut))
        last = end == len(cut)
        start_at = at
        try:
            part, stop = _side(cut[at:end], scope, last)
        except Unreadable:
            if not last and _letters_only(cut[at:end]):
                at, about = end, False  # a formula in letters the page gives no values for
                continue
            if last and statement.parts and not any(t.kind == "number" for t in cut[at:end]):
                statement.note = text[cut[at].start :]
                break
            raise
        part.about = about
        span = cut[at : at + stop]
        part.text = text[span[0].start : span[-1].end] if span else ""
        statement.parts.append(part)
        if at + stop < end:
            statement.note = text[cut[at + stop].start :]
            if not last and part.value and "%" in statement.note[: cut[end].start - cut[at + stop].start]:
                statement.parts.pop()  # "36.9 m³ (+5 %) = 38.7 m³": the remark is part of the working
            at = end
            words = cut[stop_at:end] if (stop_at := start_at + stop) < end else []
            if not last and not part.value and not _aside(words):
                raise Unreadable(f"cannot read on from “{text[cut[at - 1].start :][:30]}”")
            continue
        at = end
        about = False
    values = [part for part in statement.parts if part.value]
    if values and statement.parts[-1].value:
        leaf = _number(statement.parts[-1].trees[0])
        statement.claim, statement.about = leaf, statement.parts[-1].about


def _aside(words: list[Token]) -> bool:
    """Whether the tail of a side is a remark of a few words: "at lift-off"."""
    return (
        0 < len(words) <= 5
        and words[0].kind == "word"
        and words[0].text in ("at", "for", "with", "in", "after", "before", "on", "during", "per")
        and all(token.kind == "word" or token.text in "-–" for token in words)
    )


def _letters_only(cut: list[Token]) -> bool:
    """A side without numbers of its own, small whole factors aside."""
    return all(
        token.kind != "number" or token.value in (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 0.5) for token in cut
    ) and any(token.kind == "word" for token in cut)


def _number(node: Node) -> Leaf | None:
    if isinstance(node, Leaf):
        return node
    if isinstance(node, Op) and node.kind == "neg" and isinstance(node.parts[0], Leaf):
        return replace(node.parts[0], typed=-node.parts[0].typed)
    return None


def _side(cut: list[Token], scope: Scope, last: bool) -> tuple[Part, int]:
    """One side in each of its readings; `last` sides may trail off into a remark."""
    value = _value(cut, scope) if cut else None
    if value is not None and (
        value[1] == len(cut) or (_remark(cut, value[1], scope) and (last or cut[value[1]].kind == "open"))
    ):
        return Part([value[0]] + value[2], True), value[1]
    trees: list[Node] = []
    stop = 0
    todo = [Reading()]
    tried: set[Reading] = set()
    problem: Unreadable | None = None
    while todo:
        reading = todo.pop(0)
        if reading in tried or len(tried) > 7:
            continue
        tried.add(reading)
        parser = Parser(cut, scope.lookup, reading, scope.letters)
        try:
            side = parser.side()
        except Unreadable as error:
            problem = problem or error
            side = None
        if side is not None:
            aside = not last and _aside(cut[side.end :])
            if side.end < len(cut) and not aside and not (last and _remark(cut, side.end, scope)):
                problem = problem or Unreadable(
                    f"cannot read on from “{cut[side.end].text}”: a sign, a unit or a name known on the page is missing"  # noqa: E501
                )
            else:
                tree = turns(resolved(side.tree, scope))
                if tree not in trees and (not trees or side.end == stop):
                    trees.append(tree)
                    stop = side.end
        if parser.doubtful["names"]:
            todo.append(replace(reading, names_first=True))
        if parser.doubtful["tight"]:
            todo.append(replace(reading, tight=True))
        if parser.doubtful["grams"]:
            todo.append(replace(reading, grams=False))
    if not trees:
        raise problem or Unreadable("cannot be read")
    trees.sort(key=lambda tree: len(unknowns(tree)))
    return Part(trees, False), stop


def _value(cut: list[Token], scope: Scope) -> tuple[Leaf, int, list[Node]] | None:
    """A lone number with its unit at the start of a side."""
    index = 0
    negative = False
    while index < len(cut) and cut[index].kind == "sign" and cut[index].text in "+-" and index < 2:
        negative ^= cut[index].text == "-"
        index += 1
    if index >= len(cut) or cut[index].kind != "number" or cut[index].text in "½¼¾⅓⅔":
        return None
    found: list[tuple[Leaf, int]] = []
    for reading in (Reading(), Reading(grams=False)):
        parser = Parser(cut, lambda _: None, reading)
        parser.at = index
        try:
            leaf = parser.atom()
        except Unreadable:
            return None
        if not isinstance(leaf, Leaf):
            return None
        # "6.2 m³" is a volume; "6.2³" is working
        if parser.at < len(cut) and (cut[parser.at].kind == "power" or cut[parser.at].text == "^"):
            return None
        leaf = replace(leaf, typed=-leaf.typed, text="−" + leaf.text) if negative else leaf
        found.append((leaf, parser.at))
        if not parser.doubtful["grams"]:
            break
    leaf, end = found[0]
    return leaf, end, [other for other, at in found[1:] if at == end and other != leaf]


def _remark(cut: list[Token], at: int, scope: Scope) -> bool:
    """Whether what follows a stated number is a remark rather than more working."""
    token = cut[at]
    if token.kind == "mark":
        return True
    if token.kind == "sign":
        return token.text == "-" and at + 1 < len(cut) and cut[at + 1].kind == "word" and token.spaced
    if token.kind == "word":
        if token.text in (
            "x",
            "X",
            "times",
            "sqrt",
            "ln",
            "log",
            "log10",
            "sin",
            "cos",
            "tan",
            "exp",
            "π",
            "pi",
        ):
            return False
        return not (scope.exact(token.text) is not None and len(token.text) <= 3)
    if token.kind == "open":
        inner = cut[at + 1 :]
        words = sum(1 for t in inner if t.kind == "word" and t.text not in UNITS)
        return words > 0 or (cut[-1].kind == "close" and not any(t.kind == "sign" for t in inner))
    return token.kind == "close"
