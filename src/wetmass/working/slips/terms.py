"""Slips with whole terms: dropped, doubled, sign turned, a neighbour's value used, a bracket lost."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from dataclasses import replace

from wetmass.working.names import tags
from wetmass.working.slips.edit import Context, Edit, in_exponent, said
from wetmass.working.tree import Leaf, Node, Op, exactly, leaves, put, walk
from wetmass.working.units import NONE

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


def _name(node: Node) -> str:
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
            name = _name(term)
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
                names = f"{_name(flat[one][1])} and {_name(flat[two][1])}"
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


def shares(tree: Node, context: Context) -> Iterator[Edit]:
    """S29: the share of the other propellant; S39: a growth factor twice or forgotten."""
    mixture = context.tags & {"fuel", "oxidiser", "mixture", "propellant"} or "o/f" in context.words
    for path, node in walk(tree):
        if isinstance(node, Op) and node.kind == "+" and mixture:
            flat = terms_of(node)
            if (len(flat) == 2 and isinstance(flat[0][1], Leaf) and flat[0][1].typed == 1.0) or (
                len(flat) == 2 and isinstance(flat[1][1], Leaf) and flat[1][1].typed == 1.0
            ):
                ratio = flat[1][1] if isinstance(flat[0][1], Leaf) and flat[0][1].typed == 1.0 else flat[0][1]
                for kind in ("*", "/"):
                    yield Edit(
                        "S29",
                        Op(kind, (tree, ratio)),
                        "the shares of oxidiser and fuel are swapped",
                        "with the shares the right way round",
                        1.0,
                    )
                yield Edit(
                    "S29",
                    put(tree, path, ratio),
                    "the total is divided by the mixture ratio itself",
                    "divided by one plus the mixture ratio",
                    1.2,
                )
        if isinstance(node, Leaf) and not in_exponent(tree, path) and node.page < 0 and not node.constant:
            growth = 1.02 <= node.typed <= 1.6 and node.bare
            share = (0.5 < node.typed < 0.995 and node.bare) or (node.unit == "%" and 50 < node.typed < 99.9)
            if growth or share:
                kind = (
                    "S39"
                    if growth and not context.tags & {"propellant", "usable", "load", "tank", "volume"}
                    else "S37"
                )
                also = ("S37",) if kind == "S39" else ("S39",)
                name = node.text
                yield Edit(
                    kind,
                    put(tree, path, Op("^", (node, exactly(2.0)))),
                    f"the factor {name} goes in twice",
                    f"with {name} once",
                    0.9,
                    also=also,
                )
                yield Edit(
                    kind,
                    put(tree, path, exactly(1.0)),
                    f"the factor {name} is left out",
                    f"with {name}",
                    0.8,
                    also=also,
                )
                yield Edit(
                    kind,
                    put(tree, path, Op("/", (exactly(1.0), node))),
                    f"the factor {name} divides where it should multiply, or the reverse",
                    "the right way round",
                    0.6,
                    also=also,
                )


def neighbours(tree: Node, context: Context) -> Iterator[Edit]:
    """S23, S24, S53, S41, S40 …: another value of the page stands in the place of the right one."""
    for path, node in walk(tree):
        if not isinstance(node, Leaf):
            continue
        mine = tags(node.name) if node.name else frozenset()
        density = node.dimension == (-3.0, 1.0, 0.0, 0.0, 0.0)
        if density and 0.0 < node.si < 1.4 and abs(node.si - 1.225) > 1e-4:
            yield Edit(
                "S53",
                put(tree, path, replace(node, typed=1.225 / node.factor)),
                "the density at sea level is used",
                "with the density at that height",
                0.9,
            )
        if (node.bare and node.page < 0) or node.constant:
            continue
        for entry in context.scope.entries:
            if (
                entry.index == node.page
                or entry.leaf.dimension != node.dimension
                or entry.leaf.bare != node.bare
            ):
                continue
            if entry.stated == node.si or entry.stated == 0:
                continue
            if node.page < 0 and node.dimension == NONE:
                continue
            kind, also, weight = _neighbour(mine, entry.tags, node, context)
            other = context.scope.leaf(entry)
            yield Edit(
                kind,
                put(tree, path, other),
                f"{entry.name} ({entry.leaf.text}) is put in for {_name(node)}",
                f"with {_name(node)}",
                weight,
                also=also,
            )
    density_here = [e for e in context.scope.entries if e.leaf.dimension == (-3.0, 1.0, 0.0, 0.0, 0.0)]
    del density_here


def _neighbour(
    mine: frozenset[str], its: frozenset[str], node: Leaf, context: Context
) -> tuple[str, tuple[str, ...], float]:
    different = mine ^ its
    if different & {"sl", "vac"} or (mine & {"isp"} and its & {"isp"}):
        return "S23", ("S25",), 1.1 if different & {"sl", "vac"} else 0.5
    if node.dimension == (-3.0, 1.0, 0.0, 0.0, 0.0):
        air = any(0 < leaf.si < 2 for leaf in leaves(node))
        return ("S53", (), 1.0) if air else ("S27", ("S28", "S38"), 0.7)
    if its & {"gravity", "moon", "mars"} and node.dimension == (1.0, 0.0, -2.0, 0.0, 0.0):
        return "S24", (), 0.9
    if different & {"radius", "diameter"} and (mine | its) & {"radius", "diameter"}:
        return "S17", (), 0.9
    if mine & {"orbit", "radius"} and its & {"height"}:
        return "S22", (), 1.0
    if its & {"ideal", "dv"} and mine & {"speed", "orbit", "achieved"}:
        return "S40", (), 0.8
    if mine & {"mass"} and its & {"mass"}:
        if its & {"propellant"} and not mine & {"propellant"}:
            return "S05", ("S31",), 0.8
        if its & {"start"} and mine & {"end", "mean"}:
            return "S41", ("S05",), 0.7
        return "S31", ("S05", "S55", "S32"), 0.45
    if mine & {"thrust"} and its & {"thrust"}:
        return "S30", ("S23",), 0.6
    if mine & {"volume"} or its & {"volume"}:
        return "S38", ("S27",), 0.5
    return "S55", ("S05", "S31", "S44"), 0.35


def keying(tree: Node, context: Context) -> Iterator[Edit]:
    """S56: a bracket or a sign lost on the way into the calculator."""
    for path, node in walk(tree):
        if not isinstance(node, Op):
            continue
        if node.kind == "/" and isinstance(node.parts[1], Op):
            below = node.parts[1]
            if below.kind in "*/":
                first, second = below.parts
                kind = "*" if below.kind == "*" else "/"
                yield Edit(
                    "S56",
                    put(tree, path, Op(kind, (Op("/", (node.parts[0], first)), second))),
                    "the bracket below the line is lost",
                    "with the bracket",
                    1.0,
                )
                if below.kind == "*" and isinstance(first, Op) and first.kind == "*":
                    a, b = first.parts
                    new = Op("*", (Op("*", (Op("/", (node.parts[0], a)), b)), second))
                    yield Edit(
                        "S56",
                        put(tree, path, new),
                        "the bracket below the line is lost",
                        "with the bracket",
                        0.8,
                    )
            elif below.kind in "+-":
                first, second = below.parts
                yield Edit(
                    "S56",
                    put(tree, path, Op(below.kind, (Op("/", (node.parts[0], first)), second))),
                    "the bracket below the line is lost",
                    "with the bracket",
                    0.9,
                )
        if node.kind == "/" and isinstance(node.parts[0], Op) and node.parts[0].kind in "+-":
            first, second = node.parts[0].parts
            yield Edit(
                "S56",
                put(tree, path, Op(node.parts[0].kind, (first, Op("/", (second, node.parts[1]))))),
                "the bracket above the line is lost",
                "with the bracket",
                0.9,
            )
        if node.kind == "*":
            for one, two in ((0, 1), (1, 0)):
                part = node.parts[one]
                if isinstance(part, Op) and part.kind in "+-":
                    first, second = part.parts
                    if one == 0:
                        new = Op(part.kind, (first, Op("*", (second, node.parts[two]))))
                    else:
                        new = Op(part.kind, (Op("*", (node.parts[two], first)), second))
                    yield Edit("S56", put(tree, path, new), "a bracket is lost", "with the bracket", 0.8)
        if node.kind == "-" and isinstance(node.parts[1], Op) and node.parts[1].kind in "+-":
            first, second = node.parts[1].parts
            turned = "+" if node.parts[1].kind == "+" else "-"
            yield Edit(
                "S56",
                put(tree, path, Op(turned, (Op("-", (node.parts[0], first)), second))),
                "the minus before the bracket reaches only its first term",
                "with the bracket",
                0.9,
            )
        if node.kind in "*/":
            other = "/" if node.kind == "*" else "*"
            yield Edit(
                "S56",
                put(tree, path, Op(other, node.parts)),
                "a division and a multiplication are exchanged",
                "the right way",
                0.55,
                also=("S55", "S06"),
            )
        if node.kind == "^" and isinstance(node.parts[0], Op) and node.parts[0].kind in "*/":
            a, b = node.parts[0].parts
            yield Edit(
                "S56",
                put(tree, path, Op(node.parts[0].kind, (a, Op("^", (b, node.parts[1]))))),
                "the power reaches only the last factor",
                "with the bracket",
                0.9,
                also=("S06", "S21"),
            )
    yield Edit("S56", Op("neg", (tree,)), "the sign is turned", "with the right sign", 0.6)


def digits(tree: Node, context: Context) -> Iterator[Edit]:
    """S55: two digits of a number exchanged."""
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or in_exponent(tree, path):
            continue
        match = re.match(r"\d{1,3}(?:[ ,\u2009\u202f]\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?", node.text or "")
        plain = re.sub(r"[ ,\u2009\u202f]", "", match.group()) if match else ""
        if not plain.replace(".", "", 1).isdigit() or len(plain) < 2 or not float(plain):
            continue
        for index in range(len(plain) - 1):
            a, b = plain[index], plain[index + 1]
            if a != b and a.isdigit() and b.isdigit():
                new = plain[:index] + b + a + plain[index + 2 :]
                yield Edit(
                    "S55",
                    put(tree, path, replace(node, typed=node.typed * float(new) / float(plain))),
                    f"{new} is keyed for {plain}",
                    f"with {plain}",
                    0.9,
                )


def rounding(tree: Node, context: Context) -> Iterator[Edit]:
    """S44: a number of the line rounded before it is used."""
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or in_exponent(tree, path) or node.typed == 0:
            continue
        if node.bare and node.typed == int(node.typed) and abs(node.typed) < 100:
            continue
        scale = math.floor(math.log10(abs(node.typed)))
        for figures in (1, 2, 3):
            unit = 10.0 ** (scale - figures + 1)
            for rounded in {round(node.typed / unit) * unit, math.floor(node.typed / unit) * unit}:
                if (
                    rounded
                    and abs(rounded / node.typed - 1.0) > 1e-9
                    and abs(rounded / node.typed - 1.0) < 0.12
                ):
                    yield Edit(
                        "S44",
                        put(tree, path, replace(node, typed=rounded)),
                        f"{said(node)} is rounded to {rounded:g}",
                        f"with {said(node)}",
                        (0.25, 0.7, 0.9)[figures - 1],
                    )
    # a bracket worked out and rounded before going on
    from wetmass.working.tree import Unfit, evaluate

    for path, node in walk(tree):
        if isinstance(node, Op) and path and not in_exponent(tree, path):
            try:
                value = evaluate(node).value
            except Unfit:
                continue
            if value == 0:
                continue
            scale = math.floor(math.log10(abs(value)))
            for figures, weight in ((2, 0.7), (3, 0.8), (1, 0.2)):
                unit = 10.0 ** (scale - figures + 1)
                for rounded in {round(value / unit) * unit, math.floor(value / unit) * unit}:
                    if rounded and 1e-9 < abs(rounded / value - 1.0) < 0.12:
                        yield Edit(
                            "S44",
                            put(tree, path, exactly(rounded)),
                            f"{value:.4g} is rounded to {rounded:.3g} on the way",
                            "without rounding on the way",
                            weight,
                        )
