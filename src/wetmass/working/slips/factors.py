"""Slips with a factor: a half, g₀, a count of engines, one whose place cannot be told."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from wetmass.working.names import tags
from wetmass.working.slips.edit import (
    Context,
    Edit,
    divides,
    in_exponent,
    is_factor,
    nodes_down_to,
    parent_of,
    said,
    spoken,
)
from wetmass.working.tree import Leaf, Node, Op, exactly, leaves, put, walk


def halves(tree: Node, context: Context) -> Iterator[Edit]:
    """S01 and its kin: a ½ or a 2 that fell out, or went in twice."""
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or node.unit or node.page >= 0 or in_exponent(tree, path):
            continue
        if node.typed == 0.5 and node.bare:
            yield Edit("S01", put(tree, path, exactly(1.0)), "the ½ is left out", "with the ½", 1.3)
            yield Edit("S01", put(tree, path, exactly(0.25)), "the ½ is taken twice", "with one ½", 0.5)
        elif node.typed == 2.0 and node.bare and node.half and is_factor(tree, path):
            round_shape = bool(context.tags & {"ring", "sphere", "dome", "tank", "volume"})
            pair = "engine" in context.tags or context.tags & {"booster"}
            below = divides(tree, path)
            trig = any(isinstance(n, Op) and n.kind in ("sin", "asin") for _, n in walk(tree))
            angle = any(isinstance(n, Op) and n.kind == "sin" for _, n in _inside_sin(tree, path))
            what = "the half" if below else "the factor 2"
            root = any(isinstance(n, Op) and n.kind == "sqrt" for n in nodes_down_to(tree, path))
            kind = "S01"
            if not below and round_shape:
                kind = "S18" if context.tags & {"dome", "sphere"} else "S19"
            elif pair:
                kind = "S30"
            elif trig and not angle:
                kind = "S47"
            elif root and context.tags & {"escape", "orbit", "circular", "speed"} and not below:
                kind = "S49"
            also = ("S49",) if root else ("S18",) if context.tags & {"dome"} else ("S47",) if angle else ()
            weight = 1.2 if below else 0.8
            yield Edit(
                kind, put(tree, path, exactly(1.0)), f"{what} is left out", f"with {what}", weight, also=also
            )
            yield Edit(
                kind,
                put(tree, path, exactly(4.0)),
                f"{what} is taken twice",
                f"with {what} once",
                0.4,
                also=also,
            )


def _inside_sin(tree: Node, path: tuple[int, ...]) -> list[tuple[int, Node]]:
    return [
        (0, node) for node in nodes_down_to(tree, path)[:-1] if isinstance(node, Op) and node.kind == "sin"
    ]


def gravity(tree: Node, context: Context) -> Iterator[Edit]:
    """S02, S16, S24: g₀ lost, doubled, of another world, or put in where none belongs."""
    found = False
    sum_of_terms = False
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or in_exponent(tree, path):
            continue
        is_g = node.constant.startswith("g") or (
            node.dimension == (1.0, 0.0, -2.0, 0.0, 0.0)
            and 1.0 < node.si < 33.0
            and "gravity" in tags(node.name or "")
        )
        if not is_g:
            continue
        above = parent_of(tree, path)
        if above is not None and above.kind in "+-":
            sum_of_terms = True
            continue
        found = True
        kind = "S10" if "ft" in node.unit or node.typed > 30 else "S02"
        also = (
            ("S24",)
            if kind == "S02" and "twr" in context.tags
            else ("S02",)
            if kind == "S10"
            else ("S16", "S09")
        )
        if kind == "S02" and context.tags & {"fuel", "tsfc"} and "flow" in context.tags:
            kind, also = "S16", ("S02",)
        name = "g₀"
        yield Edit(kind, put(tree, path, exactly(1.0)), f"{name} is left out", f"with {name}", 1.2, also=also)
        yield Edit(
            kind,
            put(tree, path, Op("^", (node, exactly(2.0)))),
            f"{name} goes in twice",
            f"with {name} once",
            0.5,
            also=also,
        )
        for value, where in ((1.62, "the Moon"), (3.71, "Mars"), (9.81, "Earth"), (9.80665, "Earth")):
            if abs(value / node.si - 1.0) > 0.05:
                yield Edit(
                    "S24",
                    put(tree, path, Leaf(value, dimension=node.dimension, bare=False)),
                    f"gravity of {where} is used",
                    "with the gravity of the place",
                    0.9,
                )
    for value in (9.80665, 9.81):
        weight = 0.35 if found else 0.45
        twice = ("g₀ is put in where it does not belong", "without it")
        if sum_of_terms:
            weight *= 0.4
        fuel = context.tags & {"fuel", "tsfc", "range", "flow"}
        kind = "S16" if fuel and "tsfc" in context.words else "S02"
        yield Edit(kind, tree, *twice, weight, value, also=("S02", "S16", "S24"))
        yield Edit(
            kind,
            tree,
            "g₀ divides where it does not belong",
            "without it",
            weight,
            1 / value,
            also=("S02", "S16", "S24", "S09"),
        )
    if context.imperial:
        yield Edit(
            "S10",
            tree,
            "pounds of force and of mass are mixed without g",
            "with g",
            0.9,
            1 / 32.174,
            also=("S02",),
        )
        yield Edit(
            "S10",
            tree,
            "g goes in once too often between pounds of force and of mass",
            "with g once",
            0.7,
            32.174,
            also=("S02",),
        )


def own_weight(tree: Node, context: Context) -> Iterator[Edit]:
    """S24: gravity taken off an acceleration once more, or not at all."""
    for path, node in walk(tree):
        if isinstance(node, Leaf) and node.dimension == (1.0, 0.0, -2.0, 0.0, 0.0) and not node.constant:
            for value in (9.81, 9.80665):
                less = replace(node, typed=node.typed - value / node.factor)
                more = replace(node, typed=node.typed + value / node.factor)
                yield Edit(
                    "S24",
                    put(tree, path, less),
                    f"gravity is taken off {said(node)} once more",
                    "with it as it stands",
                    0.7,
                    also=("S51",),
                )
                yield Edit(
                    "S24",
                    put(tree, path, more),
                    f"gravity is added to {said(node)}",
                    "with it as it stands",
                    0.6,
                    also=("S51",),
                )


def counts(tree: Node, context: Context) -> Iterator[Edit]:
    """S30: one engine for all of them, or all of them twice."""
    values: dict[float, str] = dict(context.counts)
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or not node.bare or in_exponent(tree, path) or node.constant:
            continue
        if node.typed != int(node.typed) or not 2 <= node.typed <= 60 or node.half == 0.0:
            continue
        if not is_factor(tree, path) or (
            node.typed in (2.0, 4.0) and node.page < 0 and any(leaf.constant == "π" for leaf in leaves(tree))
        ):
            continue
        engines = "engine" in tags(node.name) or "count" in tags(node.name) or "engine" in context.words
        values.setdefault(node.typed, spoken(node))
        if node.typed == 2.0 and not engines:
            continue
        weight = 1.2 if engines else 0.8
        yield Edit(
            "S30",
            put(tree, path, exactly(1.0)),
            f"only one of the {node.typed:g} is counted",
            f"with all {node.typed:g}",
            weight,
        )
        yield Edit(
            "S30",
            put(tree, path, exactly(node.typed**2)),
            f"the {node.typed:g} are counted twice",
            f"with the {node.typed:g} counted once",
            weight * 0.7,
        )
        for other in (node.typed - 1, node.typed + 1):
            yield Edit(
                "S30",
                put(tree, path, exactly(other)),
                f"{other:g} are counted for {node.typed:g}",
                f"with {node.typed:g}",
                0.25,
                also=("S55",),
            )
    for value, name in values.items():
        about = f"the number of {name}" if name and not name[0].isdigit() else f"the {value:g}"
        if value == 2.0 and "engine" not in name:
            continue
        yield Edit("S30", tree, f"{about} goes in once too often", "for one count of them", 0.7, value)
        yield Edit(
            "S30", tree, f"the figure of one is given for all {value:g}", f"for all {value:g}", 0.7, 1 / value
        )


def plain_factors(tree: Node, context: Context) -> Iterator[Edit]:
    """A factor of two or four, or a π, whose place in the line cannot be told."""
    for factor, kind, cause, cure, also in (
        (2.0, "S01", "a factor of two goes in once too often", "without it", ("S17", "S18", "S30", "S49")),
        (0.5, "S01", "a factor of two is lost", "with it", ("S17", "S18", "S30", "S49")),
        (4.0, "S17", "a factor of four goes in", "without it", ("S01",)),
        (0.25, "S17", "a factor of four is lost", "with it", ("S01",)),
        (math.pi, "S19", "π goes in once too often", "without it", ("S17",)),
        (1 / math.pi, "S19", "π is lost", "with it", ("S17",)),
        (math.sqrt(2.0), "S49", "a root of two goes in", "without it", ("S01", "S18")),
        (math.sqrt(0.5), "S49", "a root of two is lost", "with it", ("S01", "S18")),
    ):
        yield Edit(kind, tree, cause, cure, 0.25, factor, also=also)
