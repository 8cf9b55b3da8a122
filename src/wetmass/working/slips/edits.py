"""Slips as edits: what the hand may have worked out instead of what the line says.

Each generator takes the sound tree of a line and yields edited trees.  Nothing here looks at the
number that was stated; judging is the finder's part.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from wetmass.working.names import tags
from wetmass.working.scope import Scope
from wetmass.working.tree import PLAIN, Leaf, Meaning, Node, Op, exactly, leaves, put, walk
from wetmass.working.units import (
    DEGREE, FOOT, FORCE, LENGTH, MASS, NONE, POUND, POUND_FORCE, PRESSURE, STANDARD_GRAVITY, TIME,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Edit:
    """One slip put into a tree.  `cause` completes "comes out when …", `cure` "… it is"."""

    kind: str
    tree: Node
    cause: str
    cure: str
    weight: float = 1.0
    factor: float = 1.0  # the result is multiplied by this too
    meaning: Meaning = PLAIN
    also: tuple[str, ...] = ()  # other names the same deed goes by


@dataclass(frozen=True, slots=True)
class Context:
    """What is known around the line."""

    tags: frozenset[str]  # ideas in the name of the line
    unit: str  # unit of the stated number
    imperial: bool
    scope: Scope
    line: int = 0
    words: str = ""  # text of the line, lower case
    counts: tuple[tuple[float, str], ...] = ()  # numbers of engines and the like on the page
    seen: dict[str, bool] = field(default_factory=dict)


def edits(tree: Node, context: Context) -> Iterator[Edit]:
    """Every single slip this tree can hold."""
    for generator in GENERATORS:
        yield from generator(tree, context)


def _parent(tree: Node, path: tuple[int, ...]) -> Op | None:
    node = tree
    above = None
    for index in path:
        assert isinstance(node, Op)
        above = node
        node = node.parts[index]
    return above


def _in_exponent(tree: Node, path: tuple[int, ...]) -> bool:
    node = tree
    for index in path:
        assert isinstance(node, Op)
        if node.kind == "^" and index == 1:
            return True
        node = node.parts[index]
    return False


def _below(tree: Node, path: tuple[int, ...]) -> bool:
    """Whether the node divides."""
    node = tree
    under = False
    for index in path:
        assert isinstance(node, Op)
        if node.kind == "/" and index == 1:
            under = not under
        node = node.parts[index]
    return under


def _multiplies(tree: Node, path: tuple[int, ...]) -> bool:
    """Whether the node is a plain factor of the tree or of a bracket in it."""
    above = _parent(tree, path)
    return above is not None and above.kind in "*/" or not path


def _says(leaf: Leaf) -> str:
    return leaf.name or leaf.text


# ── factors ──────────────────────────────────────────────────────────────────────────────────────


def halves(tree: Node, context: Context) -> Iterator[Edit]:
    """S01 and its kin: a ½ or a 2 that fell out, or went in twice."""
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or node.unit or node.page >= 0 or _in_exponent(tree, path):
            continue
        if node.typed == 0.5 and node.bare:
            yield Edit("S01", put(tree, path, exactly(1.0)), "the ½ is left out", "with the ½", 1.3)
            yield Edit("S01", put(tree, path, exactly(0.25)), "the ½ is taken twice", "with one ½", 0.5)
        elif node.typed == 2.0 and node.bare and node.half and _multiplies(tree, path):
            round_shape = bool(context.tags & {"ring", "sphere", "dome", "tank", "volume"})
            pair = "engine" in context.tags or context.tags & {"booster"}
            below = _below(tree, path)
            trig = any(isinstance(n, Op) and n.kind in ("sin", "asin") for _, n in walk(tree))
            angle = any(isinstance(n, Op) and n.kind == "sin" for _, n in _inside_sin(tree, path))
            what = "the half" if below else "the factor 2"
            root = any(isinstance(n, Op) and n.kind == "sqrt" for n in _above(tree, path))
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
            yield Edit(kind, put(tree, path, exactly(4.0)), f"{what} is taken twice", f"with {what} once", 0.4,
                       also=also)  # fmt: skip


def _above(tree: Node, path: tuple[int, ...]) -> list[Node]:
    found = [tree]
    node = tree
    for index in path:
        assert isinstance(node, Op)
        node = node.parts[index]
        found.append(node)
    return found


def _inside_sin(tree: Node, path: tuple[int, ...]) -> list[tuple[int, Node]]:
    return [(0, node) for node in _above(tree, path)[:-1] if isinstance(node, Op) and node.kind == "sin"]


def gravity(tree: Node, context: Context) -> Iterator[Edit]:
    """S02, S16, S24: g₀ lost, doubled, of another world, or put in where none belongs."""
    found = False
    sum_of_terms = False
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or _in_exponent(tree, path):
            continue
        is_g = node.constant.startswith("g") or (
            node.dimension == (1.0, 0.0, -2.0, 0.0, 0.0)
            and 1.0 < node.si < 33.0
            and "gravity" in tags(node.name or "")
        )
        if not is_g:
            continue
        above = _parent(tree, path)
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
            kind, put(tree, path, Op("^", (node, exactly(2.0)))), f"{name} goes in twice", f"with {name} once", 0.5,
            also=also,
        )  # fmt: skip
        for value, where in ((1.62, "the Moon"), (3.71, "Mars"), (9.81, "Earth"), (9.80665, "Earth")):
            if abs(value / node.si - 1.0) > 0.05:
                yield Edit(
                    "S24", put(tree, path, Leaf(value, dimension=node.dimension, bare=False)),
                    f"gravity of {where} is used", "with the gravity of the place", 0.9,
                )  # fmt: skip
    for value in (9.80665, 9.81):
        weight = 0.35 if found else 0.45
        twice = ("g₀ is put in where it does not belong", "without it")
        if sum_of_terms:
            weight *= 0.4
        fuel = context.tags & {"fuel", "tsfc", "range", "flow"}
        kind = "S16" if fuel and "tsfc" in context.words else "S02"
        yield Edit(kind, tree, *twice, weight, value, also=("S02", "S16", "S24"))
        yield Edit(kind, tree, "g₀ divides where it does not belong", "without it", weight, 1 / value,
                   also=("S02", "S16", "S24", "S09"))  # fmt: skip
    if context.imperial:
        yield Edit("S10", tree, "pounds of force and of mass are mixed without g", "with g", 0.9, 1 / 32.174,
                   also=("S02",))  # fmt: skip
        yield Edit("S10", tree, "g goes in once too often between pounds of force and of mass", "with g once", 0.7,
                   32.174, also=("S02",))  # fmt: skip


def counts(tree: Node, context: Context) -> Iterator[Edit]:
    """S30: one engine for all of them, or all of them twice."""
    values: dict[float, str] = dict(context.counts)
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or not node.bare or _in_exponent(tree, path) or node.constant:
            continue
        if node.typed != int(node.typed) or not 2 <= node.typed <= 60 or node.half == 0.0:
            continue
        if not _multiplies(tree, path) or (
            node.typed in (2.0, 4.0) and node.page < 0 and any(leaf.constant == "π" for leaf in leaves(tree))
        ):
            continue
        engines = "engine" in tags(node.name) or "count" in tags(node.name) or "engine" in context.words
        values.setdefault(node.typed, _says(node))
        if node.typed == 2.0 and not engines:
            continue
        weight = 1.2 if engines else 0.8
        yield Edit("S30", put(tree, path, exactly(1.0)), f"only one of the {node.typed:g} is counted",
                   f"with all {node.typed:g}", weight)  # fmt: skip
        yield Edit("S30", put(tree, path, exactly(node.typed**2)), f"the {node.typed:g} are counted twice",
                   f"with the {node.typed:g} counted once", weight * 0.7)  # fmt: skip
        for other in (node.typed - 1, node.typed + 1):
            yield Edit("S30", put(tree, path, exactly(other)), f"{other:g} are counted for {node.typed:g}",
                       f"with {node.typed:g}", 0.25, also=("S55",))  # fmt: skip
    for value, name in values.items():
        about = f"the number of {name}" if name and not name[0].isdigit() else f"the {value:g}"
        if value == 2.0 and "engine" not in name:
            continue
        yield Edit("S30", tree, f"{about} goes in once too often", "for one count of them", 0.7, value)
        yield Edit(
            "S30", tree, f"the figure of one is given for all {value:g}", f"for all {value:g}", 0.7, 1 / value
        )


def pi_and_round_shapes(tree: Node, context: Context) -> Iterator[Edit]:
    """S18, S19: π lost or doubled, thirds of spheres and domes."""
    here = any(leaf.constant == "π" for leaf in leaves(tree))
    if here:
        for path, node in walk(tree):
            if isinstance(node, Leaf) and node.constant == "π" and not _in_exponent(tree, path):
                above = _parent(tree, path)
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
                    yield Edit("S19", put(tree, path, Op("^", (node, exactly(2.0)))), "π goes in twice", "with one π",
                               0.6)  # fmt: skip
    if here or context.tags & {"dome", "sphere", "tank", "volume"}:
        for factor, cause in (
            (0.5, "only one of the two domes is counted"), (2.0, "the domes are counted twice"),
            (1.5, "the domes are taken as full cylinder ends"), (2 / 3, "the cylinder is taken as a pair of domes"),
            (0.75, "the 4/3 of the sphere is left out"), (math.sqrt(2.0), "root-2 domes are taken as hemispheres"),
            (1 / math.sqrt(2.0), "hemispheres are taken as root-2 domes"), (1 / 3.0, "the third of a cone is used"),
            (3.0, "the third is left out"), (4 / 3, "the 4/3 of the sphere goes in twice"),
        ):  # fmt: skip
            if context.tags & {"dome", "sphere"} or (
                factor in (3.0, 1 / 3.0, 0.75) and "dome" not in context.words
            ):
                yield Edit("S18", tree, cause, "for the whole shape", 1.0 if "dome" in context.tags else 0.4, factor,
                           also=("S19",))  # fmt: skip


# ── logarithms and ratios ────────────────────────────────────────────────────────────────────────


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
            yield Edit("S04", put(tree, path, Op("neg", (node,))), "the ratio in the logarithm is upside down",
                       "with the larger mass above", 1.2)  # fmt: skip
            yield Edit("S03", put(tree, path, argument), "the ratio itself is used, its logarithm not taken",
                       "with its logarithm", 0.4)  # fmt: skip
            one = exactly(1.0)
            if isinstance(argument, Op) and argument.kind == "/":
                high, low = argument.parts
                yield Edit("S05", put(tree, path, Op(node.kind, (Op("/", (Op("-", (high, low)), low)),))),
                           "propellant over final mass stands in the logarithm", "with start over final mass", 1.1)  # fmt: skip
                yield Edit("S05", put(tree, path, Op(node.kind, (Op("/", (high, Op("-", (high, low)))),))),
                           "the propellant stands below as if it were the final mass", "with the final mass below", 1.0)  # fmt: skip
                yield Edit("S05", put(tree, path, Op(node.kind, (Op("/", (Op("+", (high, low)), low)),))),
                           "the final mass is added to the start mass once more", "with the start mass above", 0.5,
                           also=("S31",))  # fmt: skip
            else:
                yield Edit("S05", put(tree, path, Op(node.kind, (Op("-", (argument, one)),))),
                           "the propellant over the final mass stands in the logarithm", "with start over final mass",
                           1.0)  # fmt: skip
                yield Edit("S05", put(tree, path, Op(node.kind, (Op("+", (argument, one)),))),
                           "one is added to the mass ratio", "with the mass ratio itself", 0.4)  # fmt: skip
        elif node.kind == "log10":
            yield Edit(
                "S03", put(tree, path, Op("ln", node.parts)), "ln is used for log₁₀", "with log₁₀", 1.0
            )
        elif node.kind == "exp":
            yield Edit("S04", put(tree, path, Op("exp", (Op("neg", node.parts),))), "the sign of the exponent is turned",
                       "with the right sign", 1.1, also=("S06",))  # fmt: skip
            yield Edit("S03", put(tree, path, Op("^", (exactly(10.0), node.parts[0]))), "10 is raised in place of e",
                       "with e", 0.8)  # fmt: skip
            yield Edit("S06", put(tree, path, node.parts[0]), "the exponential is not taken", "with it", 0.3)


def ratios(tree: Node, context: Context) -> Iterator[Edit]:
    """S04: a quotient turned over, outside of logarithms too."""
    for path, node in walk(tree):
        if isinstance(node, Op) and node.kind == "/":
            inside = any(
                isinstance(n, Op) and n.kind in ("ln", "log", "log10") for n in _above(tree, path)[:-1]
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
                yield Edit("S04", put(tree, path, swapped), "the quotient is upside down", "the right way up", weight,
                           also=also)  # fmt: skip


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
                    yield Edit(kind, put(tree, path, base), f"the {word} is left out", f"with the {word}",
                               1.2 if kind == "S21" else 0.9, also=("S21", "S06"))  # fmt: skip
                    for other in {2.0: (3.0, 0.5, 4.0), 3.0: (2.0,), 4.0: (2.0, 3.0)}[n]:
                        yield Edit(kind, put(tree, path, Op("^", (base, exactly(other)))),
                                   f"the power {other:g} stands for {n:g}", f"with the power {n:g}", 0.4)  # fmt: skip
                if n == -1.0 or n < 0:
                    yield Edit("S06", put(tree, path, Op("^", (base, exactly(-n)))), "the sign of the power is turned",
                               "with the right sign", 0.7)  # fmt: skip
            else:
                turned = (
                    (Op("neg", (exponent,)), "the sign of the exponent is turned", 0.9),
                    (Op("/", (exactly(1.0), exponent)), "the exponent is upside down", 0.8),
                    (Op("*", (exponent, exactly(2.0))), "the exponent is doubled", 0.8),
                    (Op("/", (exponent, exactly(2.0))), "the exponent is halved", 0.8),
                    (exactly(1.0), "the power is left out", 0.5),
                )
                for new, cause, weight in turned:
                    yield Edit("S06", put(tree, path, Op("^", (base, new))), cause, "with the exponent as it stands",
                               weight)  # fmt: skip
                for inner, part in walk(exponent):
                    if isinstance(part, Op) and part.kind == "/":
                        for other, cause in (
                            (Op("*", part.parts), "the exponent is multiplied where it should be divided"),
                            (part.parts[0], "the lower half of the exponent is left out"),
                        ):
                            yield Edit("S06", put(tree, (*path, 1, *inner), other), cause,
                                       "with the exponent as it stands", 0.6)  # fmt: skip
        elif node.kind in ("sqrt", "cbrt"):
            yield Edit("S06", put(tree, path, node.parts[0]), "the root is not taken", "with the root", 0.9)
            if node.kind == "sqrt" and not geometry:
                kind = "S49" if context.tags & {"orbit", "circular", "escape", "speed", "period"} else "S01"
                yield Edit(kind, put(tree, path, Op("sqrt", (Op("*", (node.parts[0], exactly(2.0))),))),
                           "a 2 is put under the root (escape speed for circular)", "without it", 0.8, also=("S01",))  # fmt: skip
                yield Edit(kind, put(tree, path, Op("sqrt", (Op("/", (node.parts[0], exactly(2.0))),))),
                           "a 2 under the root is left out or divides", "without that slip", 0.7, also=("S01",))  # fmt: skip


# ── powers of ten, units ─────────────────────────────────────────────────────────────────────────

_RESULT_TENS = (
    (1e3, "S07", 1.0), (1e-3, "S07", 1.0), (1e6, "S07", 0.5), (1e-6, "S07", 0.5), (10.0, "S08", 0.9), (0.1, "S08", 0.9),
    (100.0, "S08", 0.4), (0.01, "S08", 0.4), (1e9, "S07", 0.2), (1e-9, "S07", 0.2), (1e4, "S08", 0.1),
    (1e-4, "S08", 0.1),
)  # fmt: skip


def tens(tree: Node, context: Context) -> Iterator[Edit]:
    """S07, S08, S35: a prefix lost, the point moved, percent for fraction."""
    percent = context.unit == "%" or context.tags & {
        "fraction",
        "residual",
        "growth",
        "efficiency",
        "payload",
    }
    for factor, kind, weight in _RESULT_TENS:
        which = f"{abs(round(math.log10(factor)))} place" + (
            "s" if abs(round(math.log10(factor))) != 1 else ""
        )
        cause = (
            "a unit a thousand times larger or smaller is meant" if kind == "S07" and factor in (1e3, 1e-3)
            else f"the decimal point is moved by {which}"
        )  # fmt: skip
        also: tuple[str, ...] = (
            ("S08",) if kind == "S07" else ("S07",) if factor not in (10.0, 0.1) else ("S15",)
        )
        if factor in (100.0, 0.01) and percent:
            yield Edit("S35", tree, "a percentage is taken as a fraction, or a fraction as a percentage",
                       "in the unit stated", 1.3, factor)  # fmt: skip
        cure = "with the units carried" if kind == "S07" else "with the point in its place"
        yield Edit(kind, tree, cause, cure, weight, factor, also=also)
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or node.constant == node.text or _in_exponent(tree, path):
            continue
        if (
            not (node.half or node.constant)
            or node.constant == "π"
            or (node.bare and node.typed == int(node.typed) and node.typed <= 4)
        ):
            continue
        for factor, kind, weight in (
            (10.0, "S08", 0.8), (0.1, "S08", 0.8), (1e3, "S07", 0.7), (1e-3, "S07", 0.7), (100.0, "S08", 0.2),
            (0.01, "S08", 0.2),
        ):  # fmt: skip
            new = replace(node, typed=node.typed * factor)
            if node.bare and node.page < 0:
                weight *= 0.4
            above = _parent(tree, path)
            if above is not None and above.kind in "+-" and factor < 1.0:
                weight *= 0.3  # a term that all but vanishes was rather left out
            yield Edit(kind, put(tree, path, new), f"{_said(node)} is taken {_times(factor)}",
                       f"with {_said(node)}", weight)  # fmt: skip
        if node.unit == "%":
            new = replace(node, factor=1.0)
            yield Edit("S35", put(tree, path, new), f"{node.text} is taken as the number {node.typed:g}",
                       "as a fraction", 1.0)  # fmt: skip


def _times(factor: float) -> str:
    return f"{factor:g} times too large" if factor > 1 else f"{1 / factor:g} times too small"


def _said(leaf: Leaf) -> str:
    text = leaf.text or f"{leaf.typed:g}"
    if leaf.name and leaf.name != text and not leaf.linked:
        return f"{leaf.name} ({text})"
    return text


_MIXES: tuple[tuple[str, tuple[float, ...], float, str, bool], ...] = (
    # kind, dimension, ratio, words, imperial
    ("S09", FORCE, POUND_FORCE, "pounds-force are taken as newtons", True),
    ("S11", MASS, POUND, "pounds are taken as kilograms", True),
    ("S12", MASS, 0.90718474, "US tons are taken as tonnes", True),
    ("S12", MASS, 1.0160469, "UK tons are taken as tonnes", True),
    ("S13", LENGTH, FOOT, "feet are taken as metres", True),
    ("S13", LENGTH, 1.852, "nautical miles are taken as kilometres", True),
    ("S13", LENGTH, 1.609344, "statute miles are taken as kilometres", True),
    ("S13", LENGTH, 1.852 / 1.609344, "nautical miles are taken as statute miles", True),
    ("S15", PRESSURE, 6.894757293, "psi are taken as kilopascals", True),
    ("S15", PRESSURE, 1.01325, "atmospheres are taken as bar", False),
    ("S15", PRESSURE, 10.0, "bar are taken as megapascals", False),
    ("S15", PRESSURE, 100.0, "bar are taken as kilopascals", False),
    ("S15", PRESSURE, 14.5037738, "bar are taken as psi", True),
    ("S15", PRESSURE, 9.8692327, "atmospheres are taken as megapascals", False),
    ("S02", FORCE, STANDARD_GRAVITY, "kilograms of force are taken as newtons", False),
    ("S13", (1.0, 0.0, -1.0, 0.0, 0.0), 0.514444, "knots are taken as metres per second", False),
    ("S13", (1.0, 0.0, -1.0, 0.0, 0.0), 0.44704, "miles per hour are taken as metres per second", False),
    ("S13", (1.0, 0.0, -1.0, 0.0, 0.0), FOOT, "feet per second are taken as metres per second", True),
    ("S16", (1.0, 0.0, -1.0, 0.0, 0.0), 1 / 3.6, "kilometres per hour are taken as metres per second", False),
    ("S13", LENGTH, 2.54, "inches are taken as centimetres", True),
    ("S13", LENGTH, 12.0, "inches are taken as feet", True),
)  # fmt: skip
_RESULT_MIXES: tuple[tuple[str, float, str, str, bool], ...] = (
    ("S09", POUND_FORCE, "pounds-force are taken as newtons", "in newtons", True),
    ("S11", POUND, "pounds and kilograms are mixed", "in kilograms", True),
    ("S13", FOOT, "feet and metres are mixed", "in metres", True),
    ("S13", 1.852, "nautical miles and kilometres are mixed", "in kilometres", True),
    ("S13", 1.609344, "statute miles and kilometres are mixed", "in kilometres", True),
    ("S13", 1.150779, "nautical and statute miles are mixed", "in the right miles", True),
    ("S12", 0.90718474, "US tons and tonnes are mixed", "in tonnes", True),
    ("S12", 1.0160469, "UK tons and tonnes are mixed", "in tonnes", True),
    ("S42", 60.0, "minutes are taken as seconds", "in seconds", False),
    ("S16", 3600.0, "hours are taken as seconds", "with 3600 seconds to the hour", False),
    ("S54", 86400.0, "days are taken as seconds", "with 86 400 seconds to the day", False),
    ("S54", 24.0, "hours and days are mixed", "with 24 hours to the day", False),
    ("S16", 3.6, "km/h and m/s are mixed", "in the unit stated", False),
)  # fmt: skip


def units(tree: Node, context: Context) -> Iterator[Edit]:
    """S09–S13, S15, S16, S42, S54: one unit taken for another, in a number or in the result."""
    heat = context.tags & {"boiloff", "heat", "latent"} or "boil" in context.words
    for kind, ratio, cause, cure, imperial in _RESULT_MIXES:
        weight = 1.0 if (not imperial or context.imperial) else 0.3
        if kind == "S16" and ratio == 3600.0:
            weight = 1.0 if re_any(context.words, ("hour", "/h", " h", "tsfc", "day")) else 0.3
        if ratio == 3.6:
            weight = 1.0 if "km/h" in context.words or "kph" in context.words else 0.15
        if kind == "S42":
            weight = 1.0 if " min" in context.words or "minute" in context.words else 0.4
        if kind == "S54" and not heat:
            weight = 0.25
        also = ("S54",) if heat and kind in ("S16", "S42") else ("S16",) if kind in ("S42", "S54") else ()
        code = "S54" if heat and kind == "S16" else kind
        yield Edit(code, tree, cause, cure, weight * 0.8, 1 / ratio, also=also)
        yield Edit(code, tree, cause.replace("are taken as", "and").replace("minutes and seconds", "minutes and seconds are mixed")
                   if False else cause, cure, weight * 0.6, ratio, also=also)  # fmt: skip
    if heat:
        for factor in (2.016, 1 / 2.016, 2.016e-3, 1 / 2.016e-3, 16.04, 1 / 16.04, 32.0, 1 / 32.0):
            yield Edit("S54", tree, "latent heat per mole is taken as per mass", "per mass", 0.6, factor)
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or node.constant or _in_exponent(tree, path) or node.typed == 0:
            continue
        dimension = node.dimension
        own = node.unit
        imperial_leaf = own in _IMPERIAL
        for kind, its, ratio, cause, imperial in _MIXES:
            if its != dimension or node.bare:
                continue
            weight = (
                1.1 if imperial_leaf and imperial else 0.9 if (not imperial or context.imperial) else 0.25
            )
            what = cause
            yield Edit(kind, put(tree, path, replace(node, factor=node.factor / ratio)), f"{what} in {_said(node)}",
                       "with the right unit", weight)  # fmt: skip
            yield Edit(kind, put(tree, path, replace(node, factor=node.factor * ratio)), f"{what} in {_said(node)}",
                       "with the right unit", weight * 0.6)  # fmt: skip
        if dimension == TIME and own and node.factor != 1.0:
            kind = "S42" if node.factor == 60.0 else "S54" if heat else "S16"
            yield Edit(kind, put(tree, path, replace(node, factor=1.0)), f"{_said(node)} is taken as seconds",
                       "in seconds", 1.3, also=("S16", "S54", "S42"))  # fmt: skip
        if dimension == (0.0, 0.0, -1.0, 0.0, 0.0) and own and abs(node.factor - 1 / 3600.0) < 1e-9:
            yield Edit("S16", put(tree, path, replace(node, factor=1.0)), f"{_said(node)} is taken as per second",
                       "per hour", 1.3)  # fmt: skip
        if dimension == PRESSURE:
            for shift in (101325.0, -101325.0, 1e5, -1e5):
                yield Edit("S15", put(tree, path, replace(node, shift=node.shift + shift)),
                           f"gauge and absolute pressure are mixed in {_said(node)}", "as absolute pressure", 0.7)  # fmt: skip
        if own in ("°C",):
            yield Edit("S15", put(tree, path, replace(node, shift=0.0)), "degrees Celsius are taken as kelvin",
                       "in kelvin", 0.9, also=("S06",))  # fmt: skip


_IMPERIAL = {
    "lbf", "lb", "lbs", "lbm", "ft", "feet", "foot", "in", "inch", "inches", "psi", "psia", "psf", "mi", "miles", "nmi",
    "slug", "klbf", "US ton", "US tons", "UK tons", "short tons", "long tons", "ton", "tons", "kip", "kips", "ft/s",
    "ft/s2", "ft/s²", "mph", "lb/s", "kgf", "tf", "nautical miles", "nm", "NM", "ksi",
}  # fmt: skip


def imperial_words(text: str) -> bool:
    """Whether a line or page speaks in feet, pounds and miles."""
    low = f" {text.lower()} "
    return re_any(
        low, ("lb", "ft", "feet", "inch", " in ", "psi", "mile", "nmi", "slug", "pound", " ton ", " tons")
    )


def re_any(text: str, pieces: tuple[str, ...]) -> bool:
    return any(piece in text for piece in pieces)


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
        pairs = {"sin": ("cos", "tan"), "cos": ("sin",), "tan": ("sin",), "asin": ("acos",), "acos": ("asin",),
                 "atan": ("asin",)}  # fmt: skip
        for other in pairs[node.kind]:
            kind = "S46" if direction or inverse else "S45" if "rotation" in context.tags else "S14"
            if plane:
                kind = "S47"
            yield Edit(kind, put(tree, path, Op(other, node.parts)), f"{other} is used for {node.kind}",
                       f"with {node.kind}", 0.9, also=("S46", "S45", "S14"))  # fmt: skip
        if inverse:
            yield Edit("S14", tree, "the angle is left in radians", "in degrees", 0.9, DEGREE)
            yield Edit("S14", tree, "degrees are converted twice", "in degrees", 0.6, 1 / DEGREE)
            yield Edit(
                "S46", put(tree, path, argument), "the angle itself is not taken", "with the angle", 0.3
            )
            complement = Op("-", (exactly(math.pi / 2), node))
            yield Edit("S46", put(tree, path, complement), "the angle is counted from the wrong direction",
                       "from the right direction", 0.7)  # fmt: skip
        else:
            if node.kind in ("sin", "tan"):
                yield Edit("S47" if plane else "S14", put(tree, path, argument), "the arc is taken for the chord",
                           f"with {node.kind}", 0.9 if plane else 0.4, also=("S14", "S47"))  # fmt: skip
            if isinstance(argument, Op) and argument.kind == "/" and _is(argument.parts[1], 2.0):
                kind = "S47" if plane else "S01"
                whole = Op(node.kind, (argument.parts[0],))
                yield Edit(kind, put(tree, path, whole), "the angle is not halved", "with half the angle", 1.0,
                           also=("S47", "S01"))  # fmt: skip
                for outer, two in walk(tree):
                    if isinstance(two, Leaf) and two.typed == 2.0 and two.bare and outer[: len(path)] != path:
                        if not _in_exponent(tree, outer):
                            once = put(put(tree, path, whole), outer, exactly(1.0))
                            yield Edit(
                                kind, once, "v·sin(Δi) is used", "with 2·v·sin(Δi/2)", 1.0, also=("S47",)
                            )
            yield Edit("S06", put(tree, path, exactly(1.0)), f"the {node.kind} is left out", f"with the {node.kind}",
                       0.5, also=("S45", "S46", "S14"))  # fmt: skip
    if any_trig:
        yield Edit("S14", tree, "the angle is keyed in degrees with the calculator in radians", "in degrees", 1.3,
                   meaning=Meaning(radians_always=True))  # fmt: skip
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


def _is(node: Node, value: float) -> bool:
    return isinstance(node, Leaf) and node.bare and node.typed == value


# ── geometry ─────────────────────────────────────────────────────────────────────────────────────


def radius_and_diameter(tree: Node, context: Context) -> Iterator[Edit]:
    """S17, S52: the diameter taken for the radius or the radius for the diameter."""
    shape = context.tags & {
        "area", "volume", "tank", "ring", "sphere", "dome", "wall", "stress", "cylinder", "thrust", "ratio",
        "canopy", "parachute", "exit", "throat", "descent", "frustum", "cone", "nozzle", "skin", "pitch", "packing",
    }  # fmt: skip
    chute = context.tags & {"canopy", "parachute", "descent"} or re_any(context.words, ("canopy", "chute"))
    done: set[float] = set()
    pi = any(leaf.constant == "π" for leaf in leaves(tree))
    for path, node in walk(tree):
        if not isinstance(node, Leaf) or node.constant or _in_exponent(tree, path) or node.typed in done:
            continue
        if not (node.dimension == LENGTH or (node.bare and node.half)) or node.typed <= 0:
            continue
        its = tags(node.name) if node.name else frozenset()
        named = its & {"radius", "diameter"}
        above = _parent(tree, path)
        squared = above is not None and above.kind == "^"
        if not (named or squared or (shape and node.dimension == LENGTH)):
            continue
        if its & {"height", "length", "distance", "orbit"} and not named:
            continue
        if not (named or squared and (pi or shape) or (node.dimension == LENGTH and shape)):
            continue
        done.add(node.typed)
        same = [
            p for p, n in walk(tree) if isinstance(n, Leaf) and n.typed == node.typed and n.unit == node.unit
        ]
        weight = 1.2 if named or (pi and squared) else 0.8
        kind, also = ("S52", ("S17",)) if chute else ("S17", ("S52",))
        words = {2.0: "the diameter is taken for the radius", 0.5: "the radius is taken for the diameter"}
        if "diameter" in its or any(
            isinstance(n, Op) and n.kind == "/" and _is(n.parts[1], 4.0) for _, n in walk(tree)
        ):
            # π/4·d²: what went in was twice the diameter's place, or the π r² form was used on d
            words[2.0] = "the diameter is put where the radius belongs"
        for factor in (2.0, 0.5):
            new = tree
            for other in same:
                leaf = _at(tree, other)
                new = put(new, other, replace(leaf, typed=leaf.typed * factor))
            yield Edit(kind, new, f"{words[factor]} ({_said(node)})", "with the right one", weight * (
                1.0 if factor == 2.0 else 0.8), also=also)  # fmt: skip
    if chute and not done:
        yield Edit("S52", tree, "the canopy diameter is taken for its radius", "with the right one", 0.9, 0.5)
        yield Edit("S52", tree, "the canopy diameter is taken for its radius", "with the right one", 0.9, 4.0)
        yield Edit("S52", tree, "the canopy radius is taken for its diameter", "with the right one", 0.8, 2.0)
    if pi:
        for path, node in walk(tree):
            if isinstance(node, Leaf) and node.typed == 4.0 and node.bare and _below(tree, path):
                yield Edit("S17", put(tree, path, exactly(1.0)), "the diameter is squared as if it were the radius",
                           "with the 4 of π/4·d²", 1.1, also=("S52",))  # fmt: skip
                yield Edit("S17", put(tree, path, exactly(2.0)), "only one 2 of the 4 is divided out",
                           "with the 4 of π/4·d²", 0.4, also=("S01",))  # fmt: skip


def _at(tree: Node, path: tuple[int, ...]) -> Leaf:
    node = tree
    for index in path:
        assert isinstance(node, Op)
        node = node.parts[index]
    assert isinstance(node, Leaf)
    return node


def ring(tree: Node, context: Context) -> Iterator[Edit]:
    """S20: other ways to guess how large a ring of n engines is."""
    from wetmass.working.tree import Unfit, evaluate

    for _path, node in walk(tree):
        if not isinstance(node, Op) or node.kind != "+" or not any(_is(part, 1.0) for part in node.parts):
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
                for value, cause in ((math.sqrt(n), "areas are compared"), (n / math.pi, "the circumference is shared out"),
                                     (n / math.pi + 1.0, "the arc is taken for the chord of the ring")):  # fmt: skip
                    yield Edit("S20", exactly(value), cause, "with 1 + 1/sin(π/n)", 1.0)


def own_weight(tree: Node, context: Context) -> Iterator[Edit]:
    """S24: gravity taken off an acceleration once more, or not at all."""
    for path, node in walk(tree):
        if isinstance(node, Leaf) and node.dimension == (1.0, 0.0, -2.0, 0.0, 0.0) and not node.constant:
            for value in (9.81, 9.80665):
                less = replace(node, typed=node.typed - value / node.factor)
                more = replace(node, typed=node.typed + value / node.factor)
                yield Edit("S24", put(tree, path, less), f"gravity is taken off {_said(node)} once more",
                           "with it as it stands", 0.7, also=("S51",))  # fmt: skip
                yield Edit("S24", put(tree, path, more), f"gravity is added to {_said(node)}", "with it as it stands",
                           0.6, also=("S51",))  # fmt: skip


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
    ):  # fmt: skip
        yield Edit(kind, tree, cause, cure, 0.25, factor, also=also)


GENERATORS = [
    plain_factors, ring, own_weight, halves, gravity, counts, pi_and_round_shapes, logarithms, ratios, powers, tens, units, angles, radius_and_diameter,
]  # fmt: skip
