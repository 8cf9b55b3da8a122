"""Slips with whole terms of a sum: dropped, doubled, sign turned."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wetmass.working.names import tags
from wetmass.working.slips.edit import Context, Edit, in_exponent, said
from wetmass.working.tree import Leaf, Node, Op, exactly, leaves, put, walk

Term = tuple[int, Node]  # sign and tree


def terms_of(node: Node) -> list[Term]:
    """A sum flattened into signed terms."""
    if isinstance(node, Op) and node.kind in "+-":
        left, right = node.parts
        sign = 1 if node.kind == "+" else -1
        return terms_of(left) + [(sign * s, t) for s, t in terms_of(right)]
    if isinstance(node, Op) and node.kind == "neg":
        return [(-s, t) for s, t in terms_of(node.parts[0])]
    return [(1, node)]


def summed(terms: list[Term]) -> Node:
    """The sum of signed terms."""
    if not terms:
        return exactly(0.0)
    sign, node = terms[0]
    total: Node = node if sign > 0 else Op("neg", (node,))
    for sign, node in terms[1:]:
        total = Op("+" if sign > 0 else "-", (total, node))
    return total


def name_of(node: Node) -> str:
    """How a term is spoken of."""
    if isinstance(node, Leaf):
        return (
            said(node)
            if not node.name
            else node.name
            if node.linked is False
            else f"{node.name} ({node.text})"
        )
    names = [leaf.name or leaf.text for leaf in leaves(node) if leaf.name or leaf.text]
    return " ".join(names[:1]) + " …" if len(names) > 1 else (names[0] if names else "one term")


def _kind(node: Node, context: Context, deed: str, rest: list[Term]) -> tuple[str, tuple[str, ...]]:
    """Which kind of slip losing, doubling or turning this term is."""
    words: set[str] = set(context.tags)
    mine: set[str] = set()
    for leaf in leaves(node):
        mine |= tags(leaf.name) if leaf.name else set()
        if leaf.constant == "R_E":
            return "S22", ()
        if leaf.constant.startswith("g") and deed != "first":
            landing = words & {"stopping", "landing", "distance", "ignition"} or "land" in context.words
            if landing or ("height" in words and "burnout" not in context.words):
                return "S51", ("S24",)
            return ("S24", ("S51",)) if deed != "twice" else ("S24", ())
    angles = any(isinstance(n, Op) and n.kind == "sin" for _, n in walk(node))
    if (isinstance(node, Op) and node.kind == "/" and angles) or any(
        isinstance(n, Op) and n.kind == "sin" for _, t in rest for _, n in walk(t)
    ):
        return "S20", ()
    if isinstance(node, Leaf) and node.typed == 1.0 and node.bare:
        if words & {"fuel", "oxidiser", "mixture", "propellant"}:
            return "S29", ("S37",)
        return ("S20", ()) if words & {"ring", "packing", "pitch", "engine"} else ("S37", ("S35", "S39"))
    if mine & {"rotation"} or words & {"rotation"}:
        return "S45", ()
    if isinstance(node, Leaf) and node.dimension == (-1.0, 1.0, -2.0, 0.0, 0.0) and 9e4 < node.si < 1.1e5:
        return ("S26", ("S15",)) if words & {"thrust"} else ("S15", ("S26",))
    speed = (1.0, 0.0, -1.0, 0.0, 0.0)
    if (
        isinstance(node, Leaf)
        and not mine
        and node.dimension == speed
        and 50.0 < node.si < 470.0
        and any(isinstance(t, Leaf) and t.dimension == speed and 6000.0 < t.si < 9000.0 for _, t in rest)
    ):  # what the turning Earth gives is at most 465 m/s
        return "S45", ("S40", "S55")
    if mine & {"loss", "drag", "steering"} or (mine & {"gravity"} and words & {"dv", "speed", "achieved"}):
        return "S40", ("S42",)
    if words & {"loss"} and not words & {"mass"}:
        return "S40", ()
    if words & {"speed", "achieved", "insertion", "orbit"} and mine & {"dv", "ideal"} and deed != "first":
        return "S40", ()
    if mine & {"fairing", "interstage", "residual", "reserve", "ullage", "margin", "usable"}:
        return "S37", ("S31",)
    if mine & {"growth"}:
        return "S39", ("S37",)
    if mine & {"coast", "height", "apogee", "burnout"} and words & {"height", "greatest", "apogee"}:
        return "S43", ("S22",)
    if mine & {"coast"}:
        return "S43", ()
    if mine & {"pressure", "exit"} or (
        words & {"thrust"} and any(leaf.dimension[0] == -1 for leaf in leaves(node))
    ):
        return "S26", ("S15",)
    if mine & {"dome"} or words & {"dome"}:
        return "S18", ()
    if words & {"volume", "tank"} and any(leaf.constant == "π" for leaf in leaves(node)):
        return "S18", ("S19",)
    if mine & {"dry"} and words & {"start", "ignition", "stack"} and deed == "twice":
        return "S32", ("S31",)
    if (words & {"dv", "speed"} and mine & {"dv", "speed"}) or words & {"dv"}:
        return "S31", ("S40", "S55")
    if mine & {"payload", "mass", "propellant", "dry", "fuel", "oxidiser", "stack"} or words & {
        "mass",
        "start",
        "end",
    }:
        return "S31", ("S37", "S55") if not mine & {"payload"} else ("S55",)
    if words & {"height", "greatest", "apogee"}:
        return "S43", ()
    if any(leaf.unit == "%" for leaf in leaves(node)):
        return "S37", ("S39", "S35")
    return "S55", ("S31", "S37")


def terms(tree: Node, context: Context) -> Iterator[Edit]:
    """S20, S22, S26, S31, S37, S40, S43, S45, S51: a term lost, doubled or turned."""
    inner_sums: set[tuple[int, ...]] = set()
    for path, node in walk(tree):
        if not isinstance(node, Op) or node.kind not in "+-" or path in inner_sums:
            continue
        for below, part in walk(node, path):
            if isinstance(part, Op) and part.kind in "+-" and all(_step(tree, path, below)):
                inner_sums.add(below)
        flat = terms_of(node)
        if not 2 <= len(flat) <= 16 or in_exponent(tree, path):  # noqa: SIM102
            if not in_exponent(tree, path) or len(flat) != 2:
                continue
        for index, (sign, term) in enumerate(flat):
            rest = flat[:index] + flat[index + 1 :]
            name = name_of(term)
            kind, also = _kind(
                term, context, "first" if index == 0 and len(flat) == 2 and sign > 0 else "lost", rest
            )
            light = (
                0.55
                if index == 0 and len(flat) == 2 and not (isinstance(term, Leaf) and term.typed == 1.0)
                else 1.0
            )
            yield Edit(
                kind, put(tree, path, summed(rest)), f"{name} is left out", f"with {name}", light, also=also
            )
            kind, also = _kind(term, context, "twice", rest)
            twice = [*flat[:index], (sign, term), (sign, term), *flat[index + 1 :]]
            yield Edit(
                kind,
                put(tree, path, summed(twice)),
                f"{name} is counted twice",
                f"with {name} once",
                0.7,
                also=also,
            )
            if index or len(flat) == 2:
                kind, also = _kind(term, context, "turned", rest)
                turned = [*flat[:index], (-sign, term), *flat[index + 1 :]]
                yield Edit(
                    kind,
                    put(tree, path, summed(turned)),
                    f"{name} has the wrong sign",
                    f"with {name} {'added' if sign > 0 else 'taken off'}",
                    0.9,
                    also=(*also, "S56"),
                )
        if len(flat) >= 4:
            for one, two in itertools.combinations(range(len(flat)), 2):
                rest = [pair for i, pair in enumerate(flat) if i not in (one, two)]
                names = f"{name_of(flat[one][1])} and {name_of(flat[two][1])}"
                kind, also = _kind(flat[two][1], context, "lost", rest)
                yield Edit(
                    kind, put(tree, path, summed(rest)), f"{names} are left out", "with both", 0.5, also=also
                )
        if len(flat) == 2:  # (1 − x) and (1 + x): the other way, twice, by division
            (_s1, first), (s2, second) = flat
            if isinstance(first, Leaf) and first.typed == 1.0 and first.bare:
                growth = context.tags & {"growth", "predicted", "margin", "dry"} and s2 > 0
                kind = "S39" if growth else "S37"
                yield Edit(
                    kind,
                    put(tree, path, Op("^", (node, exactly(2.0)))),
                    "the allowance is applied twice",
                    "with the allowance once",
                    0.8,
                    also=("S37", "S39"),
                )
                yield Edit(
                    kind,
                    put(tree, path, Op("/", (exactly(1.0), node))),
                    "the share is divided where it should be multiplied, or the reverse",
                    "the right way round",
                    0.7,
                    also=("S37", "S39", "S29"),
                )
                if not isinstance(second, Leaf) or second.unit != "%":
                    yield Edit(
                        "S29" if context.tags & {"fuel", "oxidiser", "propellant", "mixture"} else "S34",
                        put(tree, path, second),
                        "the 1 is left out",
                        "with the 1",
                        0.9,
                        also=("S35", "S37"),
                    )


def _step(tree: Node, top: tuple[int, ...], below: tuple[int, ...]) -> Iterator[bool]:
    """Whether every node from a sum down to another is itself part of that sum."""
    node = tree
    for depth, index in enumerate(below):
        if depth >= len(top):
            yield isinstance(node, Op) and (node.kind in "+-" or node.kind == "neg")
        assert isinstance(node, Op)
        node = node.parts[index]
