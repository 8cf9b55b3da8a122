"""The same formula, said as a person would write it: D·D as D², 6.283… as 2π, 9.80665 as g₀.

Only the writing changes: the tidied tree gives the same number (tested on every relation).
"""

from __future__ import annotations

import math
from fractions import Fraction

from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.expression import Expression, Number, Operation

_CLOSE = 1e-12  # relative: a constant is taken for a multiple of π or a fraction only where it is one
_LARGEST = 12  # of numerator and denominator
_PLAIN_DIGITS = 6  # a constant written with so few digits stays as it is written
PI, EULER, GRAVITY = Number(math.pi, "π"), Number(math.e, "e"), Number(STANDARD_GRAVITY, "g₀")
_BASES = (None, PI, Operation("pow", (PI, Number(2.0))), EULER)
_BASE_VALUES = (1.0, math.pi, math.pi**2, math.e)


def tidy(node: Expression) -> Expression:
    """The formula with known constants by name, powers for repeated factors and roots for fractional powers.

    >>> from wetmass.record.expression import Symbol
    >>> from wetmass.record.plain import formula
    >>> d = Symbol("D")
    >>> formula(tidy(math.pi * d * d))
    'π·D²'
    """
    if isinstance(node, Number):
        return node if node.name else _constant(node.value)
    if not isinstance(node, Operation):
        return node
    parts = tuple(tidy(part) for part in node.parts)
    if node.kind == "mul":
        return _product([*_factors(parts[0]), *_factors(parts[1])])
    if node.kind == "pow":
        return _power(parts[0], parts[1])
    if node.kind == "div" and parts[1] == Number(1.0):
        return parts[0]
    return Operation(node.kind, parts)


def size(node: Expression) -> int:
    """How many numbers, letters and signs a formula has."""
    return 1 + sum(size(part) for part in node.parts) if isinstance(node, Operation) else 1


def _constant(value: float) -> Expression:
    if value == STANDARD_GRAVITY:
        return GRAVITY
    if not math.isfinite(value) or value == 0.0 or _few_digits(value):
        return Number(value)
    for base, worth in zip(_BASES, _BASE_VALUES, strict=True):
        share = Fraction(abs(value) / worth).limit_denominator(_LARGEST)
        if 0 < share.numerator <= _LARGEST and math.isclose(abs(value), float(share) * worth, rel_tol=_CLOSE):
            made = _fraction(share, base)
            return Operation("neg", (made,)) if value < 0.0 else made
    return Number(value)


def _few_digits(value: float) -> bool:
    return float(f"{value:.{_PLAIN_DIGITS - 1}e}") == value


def _fraction(share: Fraction, base: Expression | None) -> Expression:
    top = Number(float(share.numerator))
    if base is not None:
        above: Expression = base if share.numerator == 1 else Operation("mul", (top, base))
    else:
        above = top
    if share.denominator == 1:
        return above
    return Operation("div", (above, Number(float(share.denominator))))


def _factors(node: Expression) -> list[Expression]:
    if isinstance(node, Operation) and node.kind == "mul":
        return [*_factors(node.parts[0]), *_factors(node.parts[1])]
    return [node]


def _product(factors: list[Expression]) -> Expression:
    """Repeated factors as powers, numbers before letters; a half stays a half."""
    counted: dict[Expression, float] = {}
    for factor in factors:
        base, times = factor, 1.0
        if isinstance(factor, Operation) and factor.kind == "pow":
            exponent = factor.parts[1]
            if isinstance(exponent, Number) and exponent.value == int(exponent.value) and not exponent.name:
                base, times = factor.parts[0], exponent.value
        if isinstance(base, Number) and not base.name:
            base, times = factor, 1.0
            counted[base] = counted.get(base, 0.0) + times
            continue
        counted[base] = counted.get(base, 0.0) + times
    made = [
        base if times == 1.0 else Operation("pow", (base, Number(times))) for base, times in counted.items()
    ]
    made.sort(key=lambda one: 0 if _numeric(one) else 1)
    made = [_halved(one) for one in made]
    whole = made[0]
    for factor in made[1:]:
        whole = Operation("mul", (whole, factor))
    return whole


def _numeric(node: Expression) -> bool:
    if isinstance(node, Number):
        return node.name != "g₀"
    return isinstance(node, Operation) and node.kind != "neg" and all(_numeric(part) for part in node.parts)


def _halved(node: Expression) -> Expression:
    if node == Number(0.5):
        return Operation("div", (Number(1.0), Number(2.0)))
    return node


def _power(base: Expression, exponent: Expression) -> Expression:
    if exponent == Number(0.5):
        return Operation("sqrt", (base,))
    return Operation("pow", (base, exponent))
