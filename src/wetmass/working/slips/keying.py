"""S44, S55, S56: brackets and signs lost in the keying, digits exchanged, numbers rounded before they are used."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace

from wetmass.working.slips.edit import Context, Edit, in_exponent, said
from wetmass.working.tree import Leaf, Node, Op, Unfit, evaluate, exactly, put, walk


def keying(tree: Node, context: Context) -> Iterator[Edit]:
    """S56: a bracket or a sign lost on the way into the calculator."""
    for path, node in walk(tree):
        if isinstance(node, Op):
            for changed, cause, cure, weight, also in _keyed(node):
                yield Edit("S56", put(tree, path, changed), cause, cure, weight, also=also)
    yield Edit("S56", Op("neg", (tree,)), "the sign is turned", "with the right sign", 0.6)


def _keyed(node: Op) -> Iterator[tuple[Node, str, str, float, tuple[str, ...]]]:
    """A part of a line as it comes out of careless keys: with its cause, its cure, how common it is, and what else it is called."""  # noqa: E501
    bracket = "with the bracket"
    if node.kind == "/" and isinstance(node.parts[1], Op) and node.parts[1].kind in "*/+-":
        lost = "the bracket below the line is lost"
        above, below = node.parts[0], node.parts[1]
        first, second = below.parts
        weight = 1.0 if below.kind in "*/" else 0.9
        yield Op(below.kind, (Op("/", (above, first)), second)), lost, bracket, weight, ()
        if below.kind == "*" and isinstance(first, Op) and first.kind == "*":
            a, b = first.parts
            yield Op("*", (Op("*", (Op("/", (above, a)), b)), second)), lost, bracket, 0.8, ()
    if node.kind == "/" and isinstance(node.parts[0], Op) and node.parts[0].kind in "+-":
        first, second = node.parts[0].parts
        new = Op(node.parts[0].kind, (first, Op("/", (second, node.parts[1]))))
        yield new, "the bracket above the line is lost", bracket, 0.9, ()
    if node.kind == "*":
        one, two = node.parts
        if isinstance(one, Op) and one.kind in "+-":
            first, second = one.parts
            yield Op(one.kind, (first, Op("*", (second, two)))), "a bracket is lost", bracket, 0.8, ()
        if isinstance(two, Op) and two.kind in "+-":
            first, second = two.parts
            yield Op(two.kind, (Op("*", (one, first)), second)), "a bracket is lost", bracket, 0.8, ()
    if node.kind == "-" and isinstance(node.parts[1], Op) and node.parts[1].kind in "+-":
        first, second = node.parts[1].parts
        new = Op(node.parts[1].kind, (Op("-", (node.parts[0], first)), second))
        yield new, "the minus before the bracket reaches only its first term", bracket, 0.9, ()
    if node.kind in "*/":
        other = Op("/" if node.kind == "*" else "*", node.parts)
        yield other, "a division and a multiplication are exchanged", "the right way", 0.55, ("S55", "S06")
    if node.kind == "^" and isinstance(node.parts[0], Op) and node.parts[0].kind in "*/":
        a, b = node.parts[0].parts
        new = Op(node.parts[0].kind, (a, Op("^", (b, node.parts[1]))))
        yield new, "the power reaches only the last factor", bracket, 0.9, ("S06", "S21")


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
