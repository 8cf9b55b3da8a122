"""The physics relations of wetmass as relations of the catalogue: their formula, words, units and source."""

from __future__ import annotations

import functools
import importlib
import math

from wetmass.working.names import IDEAS, tags
from wetmass.working.tree import Leaf, Node, Op, Unknown, exactly
from wetmass.working.units import UNITS

_TOPICS = (
    "aerodynamics", "earth", "engines", "entry", "gliding", "heating", "landing", "nozzle", "orbits", "packing",  # noqa: E501
    "parachutes", "propellants", "rocket", "solids", "staging", "tanks", "tanks.inverse", "vertical", "walls",
)  # fmt: skip
_KINDS = {"add": "+", "sub": "-", "mul": "*", "div": "/", "pow": "^", "neg": "neg", "absolute": "abs"}
_SAME = ("sqrt", "exp", "log10", "sin", "cos", "tan", "asin", "acos", "atan")
_LETTERS = {"start_mass": "m0", "end_mass": "m1", "gravity": "g", "mu": "mu"}
TREES: dict[str, Node] = {}
Row = tuple[str, str, str, str, str, tuple[tuple[str, str, str, float, float], ...]]


@functools.cache
def relations() -> tuple[Row, ...]:
    """(words, ideas, unit, key of the tree, source, letters) of each relation that can be put in these terms.

    A letter is (letter, ideas, unit, low, high).
    """
    from wetmass.physics.pattern import RELATIONS

    for topic in _TOPICS:
        importlib.import_module(f"wetmass.physics.{topic}")
    found: list[Row] = []
    for key, relation in RELATIONS.items():
        if not any(key.startswith(f"wetmass.physics.{topic}") for topic in _TOPICS):
            continue
        ideas = " ".join(sorted(tags(relation.words) & IDEAS))
        unit = _unit(relation.unit)
        letters = [_letter(name, letter) for name, letter in relation.letters.items()]
        if not ideas or unit is None or any(letter is None for letter in letters):
            continue
        names = {letter.symbol: _LETTERS.get(name, name) for name, letter in relation.letters.items()}
        tree = _tree(relation.formula, names)
        if tree is None or len(names) != len(letters):
            continue
        mark = f"registry:{key}"
        TREES[mark] = tree
        found.append((relation.words, ideas, unit, mark, relation.source, tuple(x for x in letters if x)))
    return tuple(found)


def _unit(text: str) -> str | None:
    if "(" in text or "·" in text:
        return None
    plain = text.replace("²", "2").replace("³", "3").replace("⁻¹", "") or "1"
    for part in plain.replace("/", " ").split():
        if part != "1" and part.rstrip("23") not in UNITS and part not in UNITS:
            return None
    return plain


def _letter(name: str, letter: object) -> tuple[str, str, str, float, float] | None:
    unit = _unit(letter.unit)  # type: ignore[attr-defined]
    if unit is None:
        return None
    ideas = " ".join(sorted(tags(letter.words) & IDEAS))  # type: ignore[attr-defined]
    low, high = letter.low, letter.high  # type: ignore[attr-defined]
    low = low * 0.1 if low > 0 else low * 10.0
    return _LETTERS.get(name, name), ideas, unit, low, high * 10.0 if high > 0 else high


def _tree(expression: object, names: dict[str, str]) -> Node | None:
    from wetmass.record.expression import Number, Operation, Symbol

    if isinstance(expression, Number):
        if abs(expression.value - math.pi) < 1e-12:
            return Leaf(math.pi, text="π", constant="π", bare=True, half=0.0)
        return exactly(expression.value)
    if isinstance(expression, Symbol):
        return Unknown(names[expression.name]) if expression.name in names else None
    if not isinstance(expression, Operation):
        return None
    kind = _KINDS.get(expression.kind) or (expression.kind if expression.kind in _SAME else "")
    kind = "ln" if expression.kind == "log" else kind
    parts = [_tree(part, names) for part in expression.parts]
    if not kind or any(part is None for part in parts):
        return None
    return Op(kind, tuple(part for part in parts if part is not None))
