"""The numbers of a line given the letters of a relation, each way that their names and units allow."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from wetmass.working.catalogue import Form, Role
from wetmass.working.relations import Bound, clash, dimension_of, fitness, ideas_of
from wetmass.working.scope import CONSTANTS, constant_leaf
from wetmass.working.tree import Leaf, Node, Op, leaves
from wetmass.working.units import (
    DEGREE,
    LENGTH,
    NONE,
)

CONSTANT_LETTERS = {
    "g0": ("g₀",),
    "g": ("g₀", "g_Moon", "g_Mars"),
    "mu": ("μ", "μ_Moon", "μ_Mars"),
    "muo": ("μ_Moon", "μ_Mars"),
    "RE": ("R_E", "R_Moon", "R_Mars"),
}

_OF_WORLD = {
    (letter, world): letter.replace("mu", "μ").replace("RE", "R") + world
    for letter in ("mu", "RE", "g")
    for world in ("_Moon", "_Mars")
}

# letters that take a value only by its name
_BY_NAME = frozenset(
    [
        "ko",
        "kf",
        "x1",
        "vb",
        "tb",
        "te",
        "SF",
        "eff",
        "lf",
        "cs",
        "cf",
        "Vu",
        "as",
        "C3",
        "xt",
        "u",
        "gr",
        "sf",
        "te2",
        "lf",
        "LD",
        "rs",
        "eff",
        "En",
        "Rg",
        "Tc",
        "azn",
        "cda",
        "vf",
        "bp",
        "nn",
    ]
)

_ANGLES = frozenset(["i", "az", "phi", "di", "th"])

_NAMED = frozenset(
    [
        "propellant", "dry", "payload", "start", "end", "fuel", "oxidiser", "diameter", "radius", "height", "length",  # noqa: E501
        "chamber", "exit", "ambient", "throat", "isp", "loss", "gravity", "density", "stress", "wall", "exhaust",  # noqa: E501
        "drag", "dv",
    ]
)  # fmt: skip


def assigned(form: Form, free: list[Role], mine: list[Leaf], strict: bool, higher: bool) -> Iterator[Bound]:
    own = [leaf for leaf in mine if not leaf.constant]
    fixed: dict[str, Leaf] = {}
    for role in form.roles:
        if role.letter in CONSTANT_LETTERS and role not in free:
            here = next((leaf for leaf in mine if leaf.constant in CONSTANT_LETTERS[role.letter]), None)
            world = next(
                (leaf.constant[1:] for leaf in mine if leaf.constant.endswith(("_Moon", "_Mars"))), ""
            )
            its = _OF_WORLD.get((role.letter, world), CONSTANT_LETTERS[role.letter][0])
            fixed[role.letter] = here or next(constant_leaf(c) for c in CONSTANTS if c.name == its)
    scores = [[_suit(role, leaf, strict, higher) for leaf in own] for role in free]
    if any(not any(pair for pair in row) for row in scores):
        return
    for order in itertools.islice(itertools.permutations(range(len(own))), 720):
        picked = [scores[i][j] for i, j in enumerate(order)]
        if any(pair is None for pair in picked):
            continue
        values = dict(fixed)
        total = 0.0
        for role, pair in zip(free, picked, strict=True):
            assert pair is not None
            values[role.letter] = pair[1]
            total += pair[0]
        if not ordered(values):
            continue
        yield Bound(form, values, total)


def _suit(role: Role, leaf: Leaf, strict: bool, higher: bool) -> tuple[float, Leaf] | None:
    """How well a number of the line suits a letter, and the number as that letter (a radius of a diameter)."""  # noqa: E501
    wanted = dimension_of(role.unit)
    its = ideas_of(leaf)
    named = fitness(role, its) if its else 0.0
    ideas = {idea for option in role.ideas for idea in option}
    if leaf.si < 0.0 and not leaf.angle and leaf.unit != "rad":
        leaf = replace(leaf, typed=abs(leaf.typed))
    share = leaf.unit in ("%", "percent") and not its and role.low < 1.0 and wanted == NONE
    if role.letter in _BY_NAME and not named and not share:
        return None
    angle = role.letter in _ANGLES or role.unit == "rad"
    if angle and (leaf.angle or leaf.unit == "rad") and leaf.dimension == NONE:
        leaf = replace(leaf, angle=True)
        return (3.0 if named else 2.0, leaf) if not its or named or not clash(role, its) else None
    if angle and leaf.bare and 3.2 < leaf.typed < 180:
        return (1.5, replace(leaf, factor=DEGREE, angle=True)) if not its or named else None
    if leaf.dimension == wanted and not (leaf.bare and wanted != NONE):
        inside = role.low <= abs(leaf.si) <= role.high
        if inside and (named or not its or (not clash(role, its) and not (its & _NAMED))):
            if wanted == NONE and not named and (strict or its or not higher):
                return (-1.0, leaf) if role.letter == "cd" and leaf.bare and not its and not strict else None
            return 2.0 + 2.0 * named, leaf
        if wanted == LENGTH and its:
            if "radius" in ideas and "diameter" in its and "orbit" not in ideas:
                return 3.2, replace(leaf, typed=leaf.typed / 2.0, text=f"half of {leaf.text}")
            if "diameter" in ideas and "radius" in its:
                return 3.2, replace(leaf, typed=leaf.typed * 2.0, text=f"twice {leaf.text}")
        return None
    if strict or leaf.page >= 0 or not leaf.bare or wanted == NONE:
        return None
    for factor in (1.0, 1e3, 1e6):
        if role.low <= abs(leaf.typed * factor) <= role.high:
            return 1.0, replace(leaf, factor=factor)
    return None


def spoken(role: Role, mine: list[Leaf]) -> bool:
    """Whether the page names its own value of a constant: the μ or the g of another world."""
    wanted = dimension_of(role.unit)
    return any(
        not leaf.constant and leaf.dimension == wanted and leaf.name and fitness(role, ideas_of(leaf))
        for leaf in mine
    )


def ordered(values: dict[str, Leaf]) -> bool:
    """A start mass is above an end mass, the large radius of a ring above the small."""
    for large, small in (("m0", "m1"), ("Rr", "rr"), ("Dr", "d"), ("v1", "v2"), ("rq", "rp"), ("vj", "vf")):
        if large in values and small in values and values[large].si <= values[small].si:
            return False
    return True


def telling(tree: Node) -> list[Leaf]:
    """The numbers of a line that stand for quantities: small plain factors, π and 180 left out."""
    found: list[Leaf] = []
    all_leaves = leaves(tree)
    turned = any(leaf.constant == "π" for leaf in all_leaves)
    skipped = exponents(tree)
    for leaf in all_leaves:
        if leaf.constant == "π" or id(leaf) in skipped:
            continue
        if leaf.bare and leaf.page < 0 and not leaf.constant:
            if (
                leaf.half == 0.0
                or (leaf.typed == int(leaf.typed) and abs(leaf.typed) <= 4 and "." not in leaf.text)
                or leaf.typed == 0.5
            ):
                continue
            if turned and leaf.typed in (180.0, 6.0, 8.0):
                continue
            if leaf.typed in (1e3, 1e6, 1e-3, 60.0, 3600.0, 86400.0, 1440.0):
                continue  # from one unit to another
        if not any(
            (leaf.page >= 0 and leaf.page == other.page)
            or (leaf.typed == other.typed and leaf.unit == other.unit and leaf.constant == other.constant)
            for other in found
        ):
            found.append(leaf)
    return found


def exponents(node: Node) -> set[int]:
    found: set[int] = set()
    if isinstance(node, Op):
        if node.kind == "^":
            found |= {id(leaf) for leaf in leaves(node.parts[1])}
        for part in node.parts:
            found |= exponents(part)
    return found
