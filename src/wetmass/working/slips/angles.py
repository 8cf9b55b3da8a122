"""Slips with angles: degrees and radians, sine and cosine, arc and chord."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wetmass.working.slips.edit import (
    Context,
    Edit,
    in_exponent,
    is_number,
    re_any,
)
from wetmass.working.tree import Leaf, Meaning, Node, Op, exactly, put, walk
from wetmass.working.units import (
    DEGREE,
)


def angles(tree: Node, context: Context) -> Iterator[Edit]:
    """S14, S46, S47: degrees keyed as radians, sine for cosine, arc for chord."""
    direction = context.tags & {"azimuth", "inclination", "latitude"} or re_any(
        context.words, ("azimuth", "heading", "inclination")
    )
    plane = context.tags & {"plane"} or "plane" in context.words
    any_trig = False
    for path, node in walk(tree):
        if not isinstance(node, Op) or node.kind not in ("sin", "cos", "tan", "asin", "acos", "atan"):
            continue
        any_trig = True
        (argument,) = node.parts
        inverse = node.kind[0] == "a"
        pairs = {
            "sin": ("cos", "tan"),
            "cos": ("sin",),
            "tan": ("sin",),
            "asin": ("acos",),
            "acos": ("asin",),
            "atan": ("asin",),
        }
        for other in pairs[node.kind]:
            kind = "S46" if direction or inverse else "S45" if "rotation" in context.tags else "S14"
            if plane:
                kind = "S47"
            yield Edit(
                kind,
                put(tree, path, Op(other, node.parts)),
                f"{other} is used for {node.kind}",
                f"with {node.kind}",
                0.9,
                also=("S46", "S45", "S14"),
            )
        if inverse:
            yield Edit("S14", tree, "the angle is left in radians", "in degrees", 0.9, DEGREE)
            yield Edit("S14", tree, "degrees are converted twice", "in degrees", 0.6, 1 / DEGREE)
            yield Edit(
                "S46", put(tree, path, argument), "the angle itself is not taken", "with the angle", 0.3
            )
            complement = Op("-", (exactly(math.pi / 2), node))
            yield Edit(
                "S46",
                put(tree, path, complement),
                "the angle is counted from the wrong direction",
                "from the right direction",
                0.7,
            )
        else:
            if node.kind in ("sin", "tan"):
                yield Edit(
                    "S47" if plane else "S14",
                    put(tree, path, argument),
                    "the arc is taken for the chord",
                    f"with {node.kind}",
                    0.9 if plane else 0.4,
                    also=("S14", "S47"),
                )
            if isinstance(argument, Op) and argument.kind == "/" and is_number(argument.parts[1], 2.0):
                kind = "S47" if plane else "S01"
                whole = Op(node.kind, (argument.parts[0],))
                yield Edit(
                    kind,
                    put(tree, path, whole),
                    "the angle is not halved",
                    "with half the angle",
                    1.0,
                    also=("S47", "S01"),
                )
                for outer, two in walk(tree):
                    if isinstance(two, Leaf) and two.typed == 2.0 and two.bare and outer[: len(path)] != path:  # noqa: SIM102
                        if not in_exponent(tree, outer):
                            once = put(put(tree, path, whole), outer, exactly(1.0))
                            yield Edit(
                                kind, once, "v·sin(Δi) is used", "with 2·v·sin(Δi/2)", 1.0, also=("S47",)
                            )
            yield Edit(
                "S06",
                put(tree, path, exactly(1.0)),
                f"the {node.kind} is left out",
                f"with the {node.kind}",
                0.5,
                also=("S45", "S46", "S14"),
            )
    if any_trig:
        yield Edit(
            "S14",
            tree,
            "the angle is keyed in degrees with the calculator in radians",
            "in degrees",
            1.3,
            meaning=Meaning(radians_always=True),
        )
        yield Edit(
            "S14",
            _divided_by_degree(tree),
            "an angle already in radians is converted again",
            "in radians",
            0.5,
        )
    if context.tags & {"angle", "azimuth", "inclination", "latitude"} or context.unit in (
        "°",
        "deg",
        "degrees",
    ):
        yield Edit("S14", tree, "radians are taken as degrees", "in degrees", 0.7, DEGREE)
        yield Edit("S14", tree, "degrees are taken as radians", "in degrees", 0.7, 1 / DEGREE)


def _divided_by_degree(tree: Node) -> Node:
    for path, node in walk(tree):
        if isinstance(node, Op) and node.kind in ("sin", "cos", "tan"):
            return put(tree, (*path, 0), Op("*", (node.parts[0], exactly(DEGREE))))
    return tree
