"""Small helpers of the judgement: half digits, readings of doubtful marks, numbers as typed or as carried."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from wetmass.record.digits import readable
from wetmass.working.scope import Scope
from wetmass.working.sides import Part
from wetmass.working.slips.finder import Target
from wetmass.working.tree import (
    DEGREES,
    Leaf,
    Meaning,
    Node,
    Op,
    Unfit,
    evaluate,
    has_angle,
    leaves,
    mapped,
    put,
    walk,
)


def half_of(leaf: Leaf) -> float:
    return leaf.half * abs(leaf.factor)


def roundness(node: Node, meaning: Meaning, scope: Scope, value: float) -> float:
    """How far the rounding of carried values can move the result: one half-digit each, summed."""
    room = 0.0
    for path, leaf in list(walk(node)):
        if not isinstance(leaf, Leaf) or leaf.half == 0 or leaf.constant:
            continue
        if (leaf.page >= 0 and not scope.entries[leaf.page].given) or (
            leaf.page < 0 and leaf.typed != int(leaf.typed)
        ):
            half = min(leaf.half, 0.01 * abs(leaf.typed))
            try:
                moved = evaluate(put(node, path, replace(leaf, typed=leaf.typed + half)), meaning).value
            except Unfit:
                continue
            room += abs(moved - value)
    return room


def meanings(node: Node) -> list[Meaning]:
    """How the doubtful marks of a tree may be taken, the likeliest first."""
    found = [Meaning()]
    kinds = {part.kind for _, part in walk(node) if isinstance(part, Op)}
    if kinds & {"sin", "cos", "tan"} and any(
        isinstance(part, Op)
        and part.kind in ("sin", "cos", "tan")
        and not has_angle(part)
        and not _has_inverse(part)
        for _, part in walk(node)
    ):
        found = [DEGREES, Meaning()]
    if "log" in kinds:
        found += [replace(meaning, log_is_ten=True) for meaning in found]
    return found


# what people take for a constant they only name
_HANDBOOK = {"g₀": (9.81, 9.8), "R_E": (6378.0e3, 6371.0e3, 6370.0e3), "μ": (3.986e14, 3.986005e14)}


def other_constants(node: Node) -> list[Node]:
    """The tree with a constant it names at the values handbooks print for it."""
    named = {
        leaf.constant for leaf in leaves(node) if leaf.constant == leaf.text and leaf.constant in _HANDBOOK
    }

    def at(constant: str, value: float) -> Node:
        return mapped(
            node,
            lambda leaf: (
                replace(leaf, typed=value / leaf.factor) if leaf.constant == leaf.text == constant else leaf
            ),
        )

    return [at(constant, value) for constant in named for value in _HANDBOOK[constant]]


def _has_inverse(node: Node) -> bool:
    return any(isinstance(part, Op) and part.kind in ("asin", "acos", "atan") for _, part in walk(node))


def inverse_trig(node: Node) -> bool:
    return isinstance(node, Op) and node.kind in ("asin", "acos", "atan")


def as_typed(node: Node) -> Node:
    """The tree with numbers as typed, their units ignored."""
    return mapped(node, lambda leaf: replace(leaf, factor=1.0, shift=0.0) if leaf.constant != "π" else leaf)


def carrying(node: Node, scope: Scope, which: str) -> Node:
    """The tree with the values of the page replaced by their unrounded or corrected ones."""

    def change(leaf: Leaf) -> Node:
        if leaf.page < 0:
            return leaf
        entry = scope.entries[leaf.page]
        value = entry.unrounded if which == "unrounded" else entry.true
        if value == entry.stated or not entry.stated:
            return leaf
        return replace(leaf, typed=leaf.typed * value / entry.stated) if not leaf.shift else leaf

    return mapped(node, change)


def in_letters(part: Part) -> bool:
    """A side written with names alone, small factors aside."""
    return not part.value and not re.search(r"\d\d|\d\.\d|[5-9]", re.sub(r"[^\W\d]\w*|\^ ?\d", "", part.text))


def target_at(value: float, claim: Leaf) -> Target:
    return Target(value, max(half_of(claim), 1e-3 * abs(value)), value / claim.factor, claim.half)


def figures_of(claim: Leaf) -> int:
    if not claim.typed or not claim.half:
        return 3
    return max(
        1, min(7, int(math.floor(math.log10(abs(claim.typed))) - math.floor(math.log10(2 * claim.half)) + 1))
    )


def percent(cost: float) -> str:
    size = abs(cost) * 100.0
    return f"{size:.1f} %" if size >= 0.95 else f"{size:.2g} %"


def times_off(stated: float, right: float) -> str:
    if not right or not stated:
        return "out of all proportion"
    ratio = stated / right
    if ratio < 0:
        return "the sign differs"
    if 0.5 < ratio < 2.0:
        return f"{abs(ratio - 1.0) * 100:.2g} % too {'large' if ratio > 1 else 'small'}"
    return f"{readable(ratio if ratio > 1 else 1 / ratio, 3)} times too {'large' if ratio > 1 else 'small'}"


# what can go wrong in writing one quantity in two units
CONVERSIONS = {"S07", "S08", "S09", "S11", "S12", "S13", "S15", "S16", "S35", "S42", "S54", "S14", "S10"}


INSERTED = (
    ("S02", (9.80665, (1.0, 0.0, -2.0, 0.0, 0.0)), "g₀ is left out", "with g₀"),
    ("S02", (1 / 9.80665, (-1.0, 0.0, 2.0, 0.0, 0.0)), "g₀ is left out below the line", "with g₀"),
)


def dimension_with(node: Node, dimension: tuple[float, ...], meaning: Meaning) -> tuple[float, ...] | None:
    from wetmass.working.units import times

    try:
        return times(evaluate(node, meaning).dimension, dimension)  # type: ignore[arg-type]
    except Unfit:
        return None
