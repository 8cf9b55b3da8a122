"""A formula as a tree: what was computed, in a form every presentation can lay out.

A tree is grown by calling a physics kernel with symbols in place of numbers, so the formula shown
is the formula that ran.  Writers (plain text here, others beside it) only read the tree.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass


class Expression:
    """A formula.  Combine with + − × / ** and the functions of `wetmass.physics.pattern`."""

    __slots__ = ()
    __array_ufunc__ = None  # numpy leaves the operators to us

    def __add__(self, other: Operand) -> Expression:
        return Operation("add", (self, as_expression(other)))

    def __radd__(self, other: Operand) -> Expression:
        return Operation("add", (as_expression(other), self))

    def __sub__(self, other: Operand) -> Expression:
        return Operation("sub", (self, as_expression(other)))

    def __rsub__(self, other: Operand) -> Expression:
        return Operation("sub", (as_expression(other), self))

    def __mul__(self, other: Operand) -> Expression:
        return Operation("mul", (self, as_expression(other)))

    def __rmul__(self, other: Operand) -> Expression:
        return Operation("mul", (as_expression(other), self))

    def __truediv__(self, other: Operand) -> Expression:
        return Operation("div", (self, as_expression(other)))

    def __rtruediv__(self, other: Operand) -> Expression:
        return Operation("div", (as_expression(other), self))

    def __pow__(self, other: Operand) -> Expression:
        return Operation("pow", (self, as_expression(other)))

    def __rpow__(self, other: Operand) -> Expression:
        return Operation("pow", (as_expression(other), self))

    def __neg__(self) -> Expression:
        return Operation("neg", (self,))

    def __pos__(self) -> Expression:
        return self

    def __lt__(self, other: Operand) -> Expression:
        return Operation("lt", (self, as_expression(other)))

    def __le__(self, other: Operand) -> Expression:
        return Operation("le", (self, as_expression(other)))

    def __gt__(self, other: Operand) -> Expression:
        return Operation("gt", (self, as_expression(other)))

    def __ge__(self, other: Operand) -> Expression:
        return Operation("ge", (self, as_expression(other)))

    def __bool__(self) -> bool:
        raise TypeError("a formula has no truth value: branch through select(condition, yes, no)")


@dataclass(frozen=True, slots=True)
class Number(Expression):
    """A plain number standing in the formula; `name` is its letter where it has one (π, g₀)."""

    value: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Symbol(Expression):
    """A quantity by its letter, such as ṁ."""

    name: str


@dataclass(frozen=True, slots=True)
class Operation(Expression):
    """`kind` is a key of `MEANING`; `parts` are the operands in order."""

    kind: str
    parts: tuple[Expression, ...]


Operand = Expression | float | int

MEANING: Mapping[str, Callable[..., float]] = {
    "add": operator.add,
    "sub": operator.sub,
    "mul": operator.mul,
    "div": operator.truediv,
    "pow": operator.pow,
    "neg": operator.neg,
    "lt": operator.lt,
    "le": operator.le,
    "gt": operator.gt,
    "ge": operator.ge,
    "sqrt": math.sqrt,
    "exp": math.exp,
    "log": math.log,
    "log10": math.log10,
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
    "asin": math.asin,
    "acos": math.acos,
    "atan": math.atan,
    "atan2": math.atan2,
    "absolute": abs,
    "least": min,
    "greatest": max,
    "select": lambda condition, yes, no: yes if condition else no,
}


def as_expression(value: Operand) -> Expression:
    """`value` itself when it is a formula already, else the number as one."""
    return value if isinstance(value, Expression) else Number(float(value))


def evaluate(expression: Expression, values: Mapping[str, float]) -> float:
    """The number a formula gives with each symbol's value put in.

    Raises KeyError when a symbol has no value.

    >>> evaluate(Symbol("m") * 2.0, {"m": 3.0})
    6.0
    """
    if isinstance(expression, Number):
        return expression.value
    if isinstance(expression, Symbol):
        return values[expression.name]
    assert isinstance(expression, Operation)
    return MEANING[expression.kind](*(evaluate(part, values) for part in expression.parts))


def symbols(expression: Expression) -> tuple[str, ...]:
    """Names of the symbols in a formula, in the order they first appear."""
    if isinstance(expression, Symbol):
        return (expression.name,)
    if isinstance(expression, Operation):
        return tuple(dict.fromkeys(name for part in expression.parts for name in symbols(part)))
    return ()
