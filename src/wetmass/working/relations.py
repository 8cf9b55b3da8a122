"""Recognising the relation behind a line and putting the page's values into it."""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass, replace

from wetmass.working.catalogue import Form, Role, forms, formula_tree
from wetmass.working.labels import with_kind
from wetmass.working.names import meaning, stage_of, tags
from wetmass.working.scope import CONSTANTS, Scope, constant_leaf
from wetmass.working.slips.edits import Edit
from wetmass.working.tree import Leaf, Node, Op, Unknown, leaves
from wetmass.working.units import NONE, UNITS, Dimension, times

MOST_BINDINGS = 24


@dataclass(frozen=True, slots=True)
class Bound:
    """A relation with a number for each letter, and how well they suit."""

    form: Form
    values: dict[str, Leaf]
    score: float
    filled: bool = False  # a letter has its value from elsewhere on the page
    added: str = ""  # that letter

    def tree(self, formula: str) -> Node:
        return _put_in(formula_tree(formula), self.values)


def _put_in(node: Node, values: dict[str, Leaf]) -> Node:
    if isinstance(node, Unknown):
        return values.get(node.name, node)
    if isinstance(node, Op):
        return Op(node.kind, tuple(_put_in(part, values) for part in node.parts))
    return node


_DIMENSIONS: dict[str, Dimension] = {}


def dimension_of(unit: str) -> Dimension:
    """Dimension of a unit such as kg/m3 or 1."""
    if unit not in _DIMENSIONS:
        dimension = NONE
        sign = 1.0
        for part in unit.replace("/", " / ").split():
            if part == "/":
                sign = -1.0
            elif part != "1":
                name, power = (part[:-1], float(part[-1])) if part[-1] in "23" else (part, 1.0)
                dimension = times(dimension, UNITS[name][1], sign * power)
        _DIMENSIONS[unit] = dimension
    return _DIMENSIONS[unit]


def recognised(
    ideas: frozenset[str], dimension: Dimension | None, among: tuple[Form, ...] | None = None
) -> list[Form]:
    """Relations whose result has this name and dimension (None: the unit was left out)."""
    found = []
    for form in among or forms():
        if form.without & ideas:
            continue
        if dimension is not None and dimension_of(form.unit) != dimension:
            continue
        if any(option <= ideas for option in form.ideas):
            found.append(form)
    return found


def bind(form: Form, tree: Node | None, scope: Scope, stage: str) -> list[Bound]:
    """Ways to give the letters of a relation their values, best first."""
    here = (
        [leaf for leaf in leaves(tree) if leaf.half or leaf.page >= 0 or leaf.constant]
        if tree is not None
        else []
    )
    here = [
        leaf
        for leaf in here
        if not (leaf.bare and leaf.page < 0 and not leaf.constant and leaf.typed in (1.0, 2.0, 3.0, 4.0))
        or (any(role.unit == "1" for role in form.roles) and leaf.typed != 1.0)
    ]
    options: list[list[tuple[float, Leaf]]] = []
    for role in form.roles:
        choices = _choices(role, here, scope, stage)
        if not choices:
            return []
        options.append(choices[:5])
    found = []
    for combination in itertools.islice(itertools.product(*options), 4000):
        used = [leaf for _, leaf in combination if not leaf.constant]
        if len({(leaf.page, leaf.typed, leaf.text) for leaf in used}) < len(used):
            continue
        values = {role.letter: leaf for role, (_, leaf) in zip(form.roles, combination, strict=True)}
        if "m0" in values and "m1" in values and values["m0"].si <= values["m1"].si:
            continue
        if "v1" in values and "v2" in values and values["v1"].si <= values["v2"].si:
            continue
        if "Rr" in values and "rr" in values and values["Rr"].si <= values["rr"].si:
            continue
        found.append(Bound(form, values, sum(score for score, _ in combination)))
    found.sort(key=lambda bound: -bound.score)
    return found[:MOST_BINDINGS]


def _choices(role: Role, here: list[Leaf], scope: Scope, stage: str) -> list[tuple[float, Leaf]]:
    dimension = dimension_of(role.unit)
    found: list[tuple[float, Leaf]] = []
    seen = set()
    for leaf in here:
        if leaf.constant and role.letter not in ("g0", "g", "mu", "RE"):
            continue
        its = ideas_of(leaf)
        named = fitness(role, its)
        known = leaf.dimension == dimension and (not leaf.bare or dimension == NONE)
        guess = leaf.bare and leaf.page < 0 and dimension != NONE
        if guess and leaf.typed in (1.0, 2.0, 3.0, 4.0) and leaf.text in ("1", "2", "3", "4"):
            continue  # a factor of the formula
        if not (known or guess) or not role.low <= abs(leaf.si) <= role.high:
            continue
        if its and not named and clash(role, its):
            continue
        if leaf.constant and leaf.constant.startswith("g") != (role.letter in ("g0", "g")):
            continue
        mark = (leaf.typed, leaf.page, leaf.unit)
        if mark in seen:
            continue
        seen.add(mark)
        found.append((3.0 + 2.0 * named + (0.0 if guess else 0.5), leaf))
    for entry in scope.entries:
        leaf = scope.leaf(entry)
        if leaf.dimension != dimension and not (leaf.bare and dimension != NONE):
            continue
        if not role.low <= abs(leaf.si) <= role.high:
            continue
        named = fitness(role, entry.tags)
        if not named or (leaf.typed, entry.index, leaf.unit) in seen:
            continue
        place = 0.6 if stage and entry.stage == stage else (-1.0 if stage and entry.stage else 0.2)
        found.append((2.0 * named + place + 0.001 * entry.index, leaf))
    if not any(leaf.constant or leaf.page >= 0 for _, leaf in found):
        for constant in CONSTANTS:
            if (role.letter, constant.name) in (("g0", "g₀"), ("g", "g₀"), ("mu", "μ"), ("RE", "R_E")):
                found.append((1.0, constant_leaf(constant)))
                break
    found.sort(key=lambda pair: -pair[0])
    return found


# ideas that say what a value is: a value named by one of these does not serve as another
_TELLING = frozenset(
    [
        "propellant",
        "dry",
        "payload",
        "start",
        "end",
        "fuel",
        "oxidiser",
        "diameter",
        "radius",
        "height",
        "length",
        "sl",
        "vac",
        "used",
        "chamber",
        "exit",
        "ambient",
        "throat",
        "orbit",
        "dv",
        "isp",
        "exhaust",
        "speed",
        "loss",
        "gravity",
        "moon",
        "mars",
        "density",
        "thrust",
        "flow",
        "volume",
        "area",
        "stress",
        "pressure",
    ]
)


# ideas of which a value has one: an exit pressure is no pressure outside
_EITHER = (
    frozenset(["radius", "diameter"]), frozenset(["exit", "ambient", "chamber"]), frozenset(["exit", "throat"]),  # noqa: E501
    frozenset(["start", "end"]), frozenset(["sl", "vac"]), frozenset(["fuel", "oxidiser"]),
    frozenset(["net", "gravity"]), frozenset(["height", "radius"]), frozenset(["length", "diameter"]),
    frozenset(["propellant", "end"]), frozenset(["propellant", "start"]), frozenset(["propellant", "dry"]),
)  # fmt: skip


# ideas of which a plain number that carries one serves as no other
_RATIOS = frozenset(
    ["mixture", "expansion", "twr", "payload", "cd", "cf", "efficiency", "growth", "mach", "gamma"]
)


def clash(role: Role, ideas: frozenset[str]) -> bool:
    """Whether a value's own name says it is not this argument."""
    spoken = {idea for option in role.ideas for idea in option}
    for either in _EITHER:
        if (its := ideas & either) and (own := spoken & either) and not its & own:
            return True
    if role.unit == "1" and (ideas & _RATIOS) - spoken:
        return True
    if (
        role.unit == "kg"
        and "mean" in ideas
        and role.ideas != (frozenset(["mass"]),)
        and "mean" not in spoken
    ):
        return True  # a mean mass is neither that at the start nor that at the end
    telling = ideas & _TELLING
    if role.unit == "kg":
        telling = telling - {"orbit"}  # the mass in orbit is a mass
        if role.ideas == (frozenset(["mass"]),):
            telling = telling - {"start", "end", "dry", "payload"}  # a mass at any moment
    else:
        telling = telling - {"start", "end"}  # the thrust at the start is a thrust
    return bool(telling) and not any(telling & option for option in role.ideas)


def fitness(role: Role, ideas: frozenset[str]) -> float:
    """How well a name suits a role: 1 for its first words, less for looser ones, 0 for none."""
    if clash(role, ideas):
        return 0.0
    for index, option in enumerate(role.ideas):
        if option <= ideas:
            strange = len(ideas - option - {"mass", "total", "burn"})
            return max(0.3, 1.0 - 0.15 * index - 0.1 * strange)
    return 0.0


def wrong_forms(bound: Bound) -> list[Edit]:
    """The wrong forms of a relation as slips ready to be judged."""
    here = bound.values.get("g")
    on_earth = here is not None and 9.7 < here.si < 9.9
    return [
        Edit(wrong.kind, bound.tree(wrong.formula), wrong.cause, wrong.cure, 1.2)
        for wrong in bound.form.wrong
        if not (on_earth and wrong.kind == "S24" and "Earth" in wrong.cause)
    ]


def ideas_of(leaf: Leaf) -> frozenset[str]:
    """The ideas in the name of a number of the line."""
    if not leaf.name:
        return frozenset()
    if leaf.bare or leaf.dimension == NONE:
        ideas = tags(leaf.name)
        return ideas - {"radius"} if "ratio" in ideas else ideas  # "mass ratio R"
    return with_kind(meaning(leaf.name, leaf.dimension), leaf)


def suits(label: str, dimension: Dimension = NONE) -> frozenset[str]:
    """The ideas in the name of a line without the stage; a letter means what has that unit."""
    ideas = {idea for idea in meaning(label, dimension) if not idea.startswith("stage ")}
    head = re.split(r"\s(?:at|with|for|from|when|given|against|after)\s", label, maxsplit=1)[0]
    if head != label and len(tags(head)) > 0:
        # "fuel at O/F 2.56" is a fuel; what follows says where or when
        own = tags(head)
        ideas = (
            set(own)
            | (ideas & (set() if own & {"sl", "vac"} else {"sl", "vac"}))
            | (ideas & {"liftoff", "start", "end", "moon", "mars", "greatest", "mean"})
        )
    return frozenset(idea for idea in ideas if not idea.startswith("stage "))


__all__ = [
    "Bound",
    "bind",
    "clash",
    "fitness",
    "ideas_of",
    "recognised",
    "replace",
    "stage_of",
    "suits",
    "wrong_forms",
]
