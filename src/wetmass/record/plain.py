"""Formulas and steps as one line of plain text."""

from __future__ import annotations

from collections.abc import Mapping

from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import readable, superscript
from wetmass.record.expression import Expression, Number, Operation, Symbol
from wetmass.record.step import Step
from wetmass.record.tidy import tidy

_SUM, _PRODUCT, _SIGN, _POWER, _ATOM = range(5)
_INFIX = {"add": (" + ", _SUM), "sub": (" − ", _SUM), "mul": ("·", _PRODUCT), "div": ("/", _PRODUCT)}
_COMPARE = {"lt": "<", "le": "≤", "gt": ">", "ge": "≥"}
_WORDS = {"log": "ln", "log10": "log₁₀", "absolute": "abs", "least": "min", "greatest": "max", "sqrt": "√"}


def formula(expression: Expression, shown: Mapping[str, str] | None = None) -> str:
    """The formula in plain text, known constants by name; `shown` replaces letters by what to write instead.

    >>> formula(3.141592653589793 * Symbol("m") * (Symbol("a") - 1.0) ** 2)
    'π·m·(a − 1)²'
    """
    return _write(tidy(expression), shown or {})[0]


def line(step: Step) -> str:
    """One step of the working: letters, numbers put in, result with unit."""
    numbers = {put.symbol: f"{readable(put.value)} {put.unit}".strip() for put in step.inputs}
    left = f"{step.symbol} = "
    result = f"{readable(step.result)} {step.unit}".strip()
    if step.formula is None:
        return left + result
    numbers.setdefault("g₀", f"{readable(STANDARD_GRAVITY, 6)} m/s²")
    bracketed = {name: f"({text})" if " " in text else text for name, text in numbers.items()}
    return f"{left}{formula(step.formula)} = {formula(step.formula, bracketed)} = {result}"


def _write(node: Expression, shown: Mapping[str, str]) -> tuple[str, int]:
    if isinstance(node, Number):
        text = shown.get(node.name, node.name) or readable(node.value, 7)
        return text, _SIGN if text.startswith("−") else _ATOM
    if isinstance(node, Symbol):
        return shown.get(node.name, node.name), _ATOM
    assert isinstance(node, Operation)
    parts = [_write(part, shown) for part in node.parts]
    if node.kind in _INFIX:
        sign, rank = _INFIX[node.kind]
        left = _wrap(parts[0], rank)
        # the right side of − and / binds tighter: a − (b + c), a/(b·c)
        right = _wrap(parts[1], rank + (node.kind in ("sub", "div")))
        return left + sign + right, rank
    if node.kind == "neg":
        return "−" + _wrap(parts[0], _POWER), _SIGN
    if node.kind == "pow":
        exponent = node.parts[1]
        base = _wrap(parts[0], _ATOM)
        if isinstance(exponent, Number) and exponent.value == int(exponent.value) and not exponent.name:
            return base + superscript(int(exponent.value)), _POWER
        return f"{base}^{_wrap(parts[1], _ATOM)}", _POWER
    if node.kind in _COMPARE:
        return f"{parts[0][0]} {_COMPARE[node.kind]} {parts[1][0]}", _SUM
    if node.kind == "select":
        return f"({parts[1][0]} if {parts[0][0]}, else {parts[2][0]})", _ATOM
    name = _WORDS.get(node.kind, node.kind)
    return f"{name}({', '.join(text for text, _ in parts)})", _ATOM


def _wrap(part: tuple[str, int], least: int) -> str:
    text, rank = part
    return text if rank >= least else f"({text})"
