"""Slips of geometry: π, domes, diameter for radius, a ring of engines."""

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
    is_number,
    leaf_at,
    parent_of,
    re_any,
    said,
)
from wetmass.working.tree import Leaf, Node, Op, Unfit, evaluate, exactly, leaves, put, walk
from wetmass.working.units import (
    LENGTH,
)


def pi_and_round_shapes(tree: Node, context: Context) -> Iterator[Edit]:
    """S18, S19: π lost or doubled, thirds of spheres and domes."""
    here = any(leaf.constant == "π" for leaf in leaves(tree))
    if here:
        for path, node in walk(tree):
            if isinstance(node, Leaf) and node.constant == "π" and not in_exponent(tree, path):
                above = parent_of(tree, path)
                if above is not None and above.kind == "^":
                    yield Edit(
                        "S19",
                        put(tree, path[:-1], node),
                        "the second π is left out",
                        "with π²",
                        1.4,
                        also=("S06",),
                    )
                    yield Edit("S19", put(tree, path[:-1], exactly(1.0)), "π² is left out", "with π²", 0.5)
                else:
                    yield Edit("S19", put(tree, path, exactly(1.0)), "π is left out", "with π", 0.9)
                    yield Edit(
                        "S19",
                        put(tree, path, Op("^", (node, exactly(2.0)))),
                        "π goes in twice",
                        "with one π",
                        0.6,
                    )
    if here or context.tags & {"dome", "sphere", "tank", "volume"}:
        for factor, cause in (
            (0.5, "only one of the two domes is counted"),
            (2.0, "the domes are counted twice"),
            (1.5, "the domes are taken as full cylinder ends"),
            (2 / 3, "the cylinder is taken as a pair of domes"),
            (0.75, "the 4/3 of the sphere is left out"),
            (math.sqrt(2.0), "root-2 domes are taken as hemispheres"),
            (1 / math.sqrt(2.0), "hemispheres are taken as root-2 domes"),
            (1 / 3.0, "the third of a cone is used"),
            (3.0, "the third is left out"),
            (4 / 3, "the 4/3 of the sphere goes in twice"),
        ):
            if context.tags & {"dome", "sphere"} or (
                factor in (3.0, 1 / 3.0, 0.75) and "dome" not in context.words
            ):
                yield Edit(
                    "S18",
                    tree,
                    cause,
                    "for the whole shape",
                    1.0 if "dome" in context.tags else 0.4,
                    factor,
                    also=("S19",),
                )


def radius_and_diameter(tree: Node, context: Context) -> Iterator[Edit]:
    """S17, S52: the diameter taken for the radius or the radius for the diameter."""
    shape = context.tags & {
        "area",
        "volume",
        "tank",
        "ring",
        "sphere",
        "dome",
        "wall",
        "stress",
        "cylinder",
        "thrust",
        "ratio",
        "canopy",
        "parachute",
        "exit",
        "throat",
        "descent",
        "frustum",
        "cone",
        "nozzle",
        "skin",
        "pitch",
        "packing",
    }
    chute = context.tags & {"canopy", "parachute", "descent"} or re_any(context.words, ("canopy", "chute"))
    done: set[float] = set()
    pi = any(leaf.constant == "π" for leaf in leaves(tree))
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or node.constant or in_exponent(tree, path) or node.typed in done:
            continue
        if not (node.dimension == LENGTH or (node.bare and node.half)) or node.typed <= 0:
            continue
        its = tags(node.name) if node.name else frozenset()
        named = its & {"radius", "diameter"}
        above = parent_of(tree, path)
        squared = above is not None and above.kind == "^"
        if not (named or squared or (shape and node.dimension == LENGTH)):
            continue
        if its & {"height", "length", "distance", "orbit"} and not named:
            continue
        if not (named or (squared and (pi or shape)) or (node.dimension == LENGTH and shape)):
            continue
        done.add(node.typed)
        same = [
            p for p, n in walk(tree) if isinstance(n, Leaf) and n.typed == node.typed and n.unit == node.unit
        ]
        weight = 1.2 if named or (pi and squared) else 0.8
        kind, also = ("S52", ("S17",)) if chute else ("S17", ("S52",))
        words = {2.0: "the diameter is taken for the radius", 0.5: "the radius is taken for the diameter"}
        if "diameter" in its or any(
            isinstance(n, Op) and n.kind == "/" and is_number(n.parts[1], 4.0) for _, n in walk(tree)
        ):
            # π/4·d²: what went in was twice the diameter's place, or the π r² form was used on d
            words[2.0] = "the diameter is put where the radius belongs"
        for factor in (2.0, 0.5):
            new = tree
            for other in same:
                leaf = leaf_at(tree, other)
                new = put(new, other, replace(leaf, typed=leaf.typed * factor))
            yield Edit(
                kind,
                new,
                f"{words[factor]} ({said(node)})",
                "with the right one",
                weight * (1.0 if factor == 2.0 else 0.8),
                also=also,
            )
    if chute and not done:
        yield Edit("S52", tree, "the canopy diameter is taken for its radius", "with the right one", 0.9, 0.5)
        yield Edit("S52", tree, "the canopy diameter is taken for its radius", "with the right one", 0.9, 4.0)
        yield Edit("S52", tree, "the canopy radius is taken for its diameter", "with the right one", 0.8, 2.0)
    if pi:
        for path, node in walk(tree):
            if isinstance(node, Leaf) and node.typed == 4.0 and node.bare and divides(tree, path):
                yield Edit(
                    "S17",
                    put(tree, path, exactly(1.0)),
                    "the diameter is squared as if it were the radius",
                    "with the 4 of π/4·d²",
                    1.1,
                    also=("S52",),
                )
                yield Edit(
                    "S17",
                    put(tree, path, exactly(2.0)),
                    "only one 2 of the 4 is divided out",
                    "with the 4 of π/4·d²",
                    0.4,
                    also=("S01",),
                )


def ring(tree: Node, context: Context) -> Iterator[Edit]:
    """S20: other ways to guess how large a ring of n engines is."""
    for _path, node in walk(tree):
        if (
            not isinstance(node, Op)
            or node.kind != "+"
            or not any(is_number(part, 1.0) for part in node.parts)
        ):
            continue
        for _, inner in walk(node):
            if isinstance(inner, Op) and inner.kind == "sin":
                try:
                    angle = evaluate(inner.parts[0]).value
                except Unfit:
                    continue
                if not 0.05 < angle < 1.6:
                    continue
                n = math.pi / angle
                for value, cause in (
                    (math.sqrt(n), "areas are compared"),
                    (n / math.pi, "the circumference is shared out"),
                    (n / math.pi + 1.0, "the arc is taken for the chord of the ring"),
                ):
                    yield Edit("S20", exactly(value), cause, "with 1 + 1/sin(π/n)", 1.0)
