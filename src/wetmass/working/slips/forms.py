"""Slips of form: logarithms, quotients, powers."""

from __future__ import annotations

from collections.abc import Iterator

from wetmass.working.slips.edit import (
    Context,
    Edit,
    nodes_down_to,
)
from wetmass.working.tree import Leaf, Node, Op, exactly, put, walk


def logarithms(tree: Node, context: Context) -> Iterator[Edit]:
    """S03, S04, S05 inside a logarithm or an exponential."""
    for path, node in walk(tree):
        if not isinstance(node, Op):
            continue
        if node.kind in ("ln", "log"):
            (argument,) = node.parts
            yield Edit(
                "S03", put(tree, path, Op("log10", node.parts)), "log₁₀ is used for ln", "with ln", 1.2
            )
            yield Edit(
                "S04",
                put(tree, path, Op("neg", (node,))),
                "the ratio in the logarithm is upside down",
                "with the larger mass above",
                1.2,
            )
            yield Edit(
                "S03",
                put(tree, path, argument),
                "the ratio itself is used, its logarithm not taken",
                "with its logarithm",
                0.4,
            )
            one = exactly(1.0)
            if isinstance(argument, Op) and argument.kind == "/":
                high, low = argument.parts
                yield Edit(
                    "S05",
                    put(tree, path, Op(node.kind, (Op("/", (Op("-", (high, low)), low)),))),
                    "propellant over final mass stands in the logarithm",
                    "with start over final mass",
                    1.1,
                )
                yield Edit(
                    "S05",
                    put(tree, path, Op(node.kind, (Op("/", (high, Op("-", (high, low)))),))),
                    "the propellant stands below as if it were the final mass",
                    "with the final mass below",
                    1.0,
                )
                yield Edit(
                    "S05",
                    put(tree, path, Op(node.kind, (Op("/", (Op("+", (high, low)), low)),))),
                    "the final mass is added to the start mass once more",
                    "with the start mass above",
                    0.5,
                    also=("S31",),
                )
            else:
                yield Edit(
                    "S05",
                    put(tree, path, Op(node.kind, (Op("-", (argument, one)),))),
                    "the propellant over the final mass stands in the logarithm",
                    "with start over final mass",
                    1.0,
                )
                yield Edit(
                    "S05",
                    put(tree, path, Op(node.kind, (Op("+", (argument, one)),))),
                    "one is added to the mass ratio",
                    "with the mass ratio itself",
                    0.4,
                )
        elif node.kind == "log10":
            yield Edit(
                "S03", put(tree, path, Op("ln", node.parts)), "ln is used for log₁₀", "with log₁₀", 1.0
            )
        elif node.kind == "exp":
            yield Edit(
                "S04",
                put(tree, path, Op("exp", (Op("neg", node.parts),))),
                "the sign of the exponent is turned",
                "with the right sign",
                1.1,
                also=("S06",),
            )
            yield Edit(
                "S03",
                put(tree, path, Op("^", (exactly(10.0), node.parts[0]))),
                "10 is raised in place of e",
                "with e",
                0.8,
            )
            yield Edit("S06", put(tree, path, node.parts[0]), "the exponential is not taken", "with it", 0.3)


def ratios(tree: Node, context: Context) -> Iterator[Edit]:
    """S04: a quotient turned over, outside of logarithms too."""
    for path, node in walk(tree):
        if isinstance(node, Op) and node.kind == "/":
            inside = any(
                isinstance(n, Op) and n.kind in ("ln", "log", "log10") for n in nodes_down_to(tree, path)[:-1]
            )
            if not inside:
                swapped = Op("/", (node.parts[1], node.parts[0]))
                weight = 1.0 if not path else 0.5
                also = (
                    ("S29",)
                    if context.tags & {"mixture", "fuel", "oxidiser"}
                    else ("S34",)
                    if (context.tags & {"fraction"})
                    else ("S06",)
                )
                yield Edit(
                    "S04",
                    put(tree, path, swapped),
                    "the quotient is upside down",
                    "the right way up",
                    weight,
                    also=also,
                )


def powers(tree: Node, context: Context) -> Iterator[Edit]:
    """S06, S21: a square dropped, a root not taken, an exponent turned or doubled."""
    geometry = context.tags & {"area", "volume", "tank"}
    for path, node in walk(tree):
        if not isinstance(node, Op):
            continue
        if node.kind == "^":
            base, exponent = node.parts
            if isinstance(base, Leaf) and base.constant == "π":
                continue
            expansion = "ratio" in context.tags or "expansion" in context.tags or "epsilon" in context.tags
            kind = "S21" if expansion and isinstance(base, Op) and base.kind == "/" else "S06"
            if isinstance(exponent, Leaf) and exponent.typed == int(exponent.typed):
                n = exponent.typed
                if n in (2.0, 3.0, 4.0):
                    word = {2.0: "square", 3.0: "cube", 4.0: "fourth power"}[n]
                    yield Edit(
                        kind,
                        put(tree, path, base),
                        f"the {word} is left out",
                        f"with the {word}",
                        1.2 if kind == "S21" else 0.9,
                        also=("S21", "S06"),
                    )
                    for other in {2.0: (3.0, 0.5, 4.0), 3.0: (2.0,), 4.0: (2.0, 3.0)}[n]:
                        yield Edit(
                            kind,
                            put(tree, path, Op("^", (base, exactly(other)))),
                            f"the power {other:g} stands for {n:g}",
                            f"with the power {n:g}",
                            0.4,
                        )
                if n == -1.0 or n < 0:
                    yield Edit(
                        "S06",
                        put(tree, path, Op("^", (base, exactly(-n)))),
                        "the sign of the power is turned",
                        "with the right sign",
                        0.7,
                    )
            else:
                turned = (
                    (Op("neg", (exponent,)), "the sign of the exponent is turned", 0.9),
                    (Op("/", (exactly(1.0), exponent)), "the exponent is upside down", 0.8),
                    (Op("*", (exponent, exactly(2.0))), "the exponent is doubled", 0.8),
                    (Op("/", (exponent, exactly(2.0))), "the exponent is halved", 0.8),
                    (exactly(1.0), "the power is left out", 0.5),
                )
                for new, cause, weight in turned:
                    yield Edit(
                        "S06",
                        put(tree, path, Op("^", (base, new))),
                        cause,
                        "with the exponent as it stands",
                        weight,
                    )
                for inner, part in walk(exponent):
                    if isinstance(part, Op) and part.kind == "/":
                        for other, cause in (
                            (Op("*", part.parts), "the exponent is multiplied where it should be divided"),
                            (part.parts[0], "the lower half of the exponent is left out"),
                        ):
                            yield Edit(
                                "S06",
                                put(tree, (*path, 1, *inner), other),
                                cause,
                                "with the exponent as it stands",
                                0.6,
                            )
        elif node.kind in ("sqrt", "cbrt"):
            yield Edit("S06", put(tree, path, node.parts[0]), "the root is not taken", "with the root", 0.9)
            other, is_it, should = (
                ("cbrt", "cube", "square") if node.kind == "sqrt" else ("sqrt", "square", "cube")
            )
            yield Edit(
                "S06",
                put(tree, path, Op(other, node.parts)),
                f"the {is_it} root is taken",
                f"with the {should} root",
                0.6,
            )
            if node.kind == "sqrt" and not geometry:
                kind = "S49" if context.tags & {"orbit", "circular", "escape", "speed", "period"} else "S01"
                yield Edit(
                    kind,
                    put(tree, path, Op("sqrt", (Op("*", (node.parts[0], exactly(2.0))),))),
                    "a 2 is put under the root (escape speed for circular)",
                    "without it",
                    0.8,
                    also=("S01",),
                )
                yield Edit(
                    kind,
                    put(tree, path, Op("sqrt", (Op("/", (node.parts[0], exactly(2.0))),))),
                    "a 2 under the root is left out or divides",
                    "without that slip",
                    0.7,
                    also=("S01",),
                )
