"""S05, S17, S23, S27, S29, S39 …: the value of another in the place of the right one, and shares put in wrongly."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wetmass.working.names import tags
from wetmass.working.slips.edit import Context, Edit, in_exponent
from wetmass.working.slips.terms import name_of, terms_of
from wetmass.working.tree import Leaf, Node, Op, exactly, leaves, put, walk
from wetmass.working.units import NONE


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
                f"{entry.name} ({entry.leaf.text}) is put in for {name_of(node)}",
                f"with {name_of(node)}",
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
