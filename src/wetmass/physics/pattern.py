"""How a piece of physics is written here, once, for every way it is run.

A *kernel* is a bare function: floats in, one float (or a tuple of floats) out, no checks, no strings,
no loops over data, branches only through `select`.  It uses the functions of this module instead of
`math`, so the same source runs

- as plain Python on floats,
- compiled (numba), see `wetmass.flight.compiled`,
- on CasADi symbols, for exact derivatives,
- on formula symbols (`wetmass.record.expression`), which grows the formula that is shown.

A *relation* is the public function over a kernel: it checks its arguments, documents them, names its
source, and makes the step of the working (`relation.step(...)`).
"""

from __future__ import annotations

import bisect
import functools
import inspect
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

from wetmass.record.expression import Expression, Operation, Symbol, as_expression
from wetmass.record.step import Put, Step

F = TypeVar("F", bound=Callable[..., Any])

KERNELS: list[Callable[..., Any]] = []
ON_KERNEL: list[Callable[..., Any]] = []  # told of each kernel defined from then on
RANGES: dict[Callable[..., Any], dict[str, Any]] = {}
RELATIONS: dict[str, Relation] = {}


def kernel(function: F | None = None, /, **ranges: Any) -> Any:
    """Mark a bare function as a kernel, so that it is compiled and cross-checked with the others.

    The cross-check draws the arguments from the letters of the relation over the kernel; a kernel
    without one states them itself: `@kernel(height=(0.0, 1e6))`, or gives a table to hand over.
    """
    if function is None:
        return lambda bare: kernel(_ranged(bare, ranges))
    KERNELS.append(function)
    for told in ON_KERNEL:
        told(function)
    return function


def _ranged(function: F, ranges: dict[str, Any]) -> F:
    names = tuple(inspect.signature(function).parameters)
    if names != tuple(ranges):
        raise TypeError(f"{function.__name__}: ranges for {tuple(ranges)} are not the arguments {names}")
    RANGES[function] = ranges
    return function


# ── the functions kernels may use ────────────────────────────────────────────────────────────────


def _one(name: str, plain: Callable[[float], float]) -> Callable[[Any], Any]:
    def function(x: Any) -> Any:
        if isinstance(x, (float, int)):
            return plain(x)
        if isinstance(x, Expression):
            return Operation(name, (x,))
        return getattr(_casadi(), _CASADI_NAMES.get(name, name))(x)

    function.__name__ = function.__qualname__ = name
    function.__doc__ = f"{name}(x), on floats, formula symbols and CasADi symbols."
    return function


_CASADI_NAMES = {"absolute": "fabs", "least": "fmin", "greatest": "fmax"}


def _casadi() -> Any:
    import casadi

    return casadi


sqrt = _one("sqrt", math.sqrt)
exp = _one("exp", math.exp)
log = _one("log", math.log)
log10 = _one("log10", math.log10)
sin = _one("sin", math.sin)
cos = _one("cos", math.cos)
tan = _one("tan", math.tan)
asin = _one("asin", math.asin)
acos = _one("acos", math.acos)
atan = _one("atan", math.atan)
absolute = _one("absolute", abs)


def _two(name: str, plain: Callable[[float, float], float]) -> Callable[[Any, Any], Any]:
    def function(x: Any, y: Any) -> Any:
        if isinstance(x, (float, int)) and isinstance(y, (float, int)):
            return plain(x, y)
        if isinstance(x, Expression) or isinstance(y, Expression):
            return Operation(name, (as_expression(x), as_expression(y)))
        return getattr(_casadi(), _CASADI_NAMES.get(name, name))(x, y)

    function.__name__ = function.__qualname__ = name
    function.__doc__ = f"{name}(x, y), on floats, formula symbols and CasADi symbols."
    return function


atan2 = _two("atan2", math.atan2)
least = _two("least", min)
greatest = _two("greatest", max)


def select(condition: Any, yes: Any, no: Any) -> Any:
    """`yes` where the condition holds, else `no`; both are computed, so both must be finite."""
    if isinstance(condition, Expression):
        return Operation("select", (condition, as_expression(yes), as_expression(no)))
    if isinstance(condition, (bool, int)) or type(condition).__module__ == "numpy":  # of a numpy float
        return yes if condition else no
    return _casadi().if_else(condition, yes, no)


# A table is a float64 array (rows, columns) whose first column rises: the left edge of each piece.


def piece(x: Any, table: Any) -> Any:
    """Row of the piece `x` falls in: the last whose edge is not above `x`, else the first."""
    if isinstance(x, (float, int)):
        return max(bisect.bisect_right(table[:, 0], x) - 1, 0)
    if isinstance(x, Expression):
        raise TypeError("a table has no formula: its relation is shown by number only")
    index = 0.0
    for edge in table[1:, 0]:
        index = index + (x >= edge)
    return index


def entry(table: Any, row: Any, column: int) -> Any:
    """The number in a table at `row` (from `piece`) and `column`."""
    if isinstance(row, int):
        return float(table[row, column])
    return _casadi().conditional(row, [float(x) for x in table[:, column]], float(table[-1, column]))


MATHEMATICS: dict[str, Callable[..., Any]] = {
    function.__name__: function
    for function in (
        sqrt, exp, log, log10, sin, cos, tan, asin, acos, atan, absolute, atan2, least, greatest, select,
    )
}  # fmt: skip


# ── relations ────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Letter:
    """How one argument is shown, and the range on which the executions are compared."""

    symbol: str
    words: str
    unit: str
    low: float
    high: float


class Relation:
    """A checked physics function that can also show its working.  Made by `@relation`."""

    def __init__(
        self,
        function: Callable[..., float],
        kernel: Callable[..., Any],
        symbol: str,
        words: str,
        unit: str,
        letters: dict[str, Letter],
        source: str,
    ) -> None:
        functools.update_wrapper(self, function)
        names = tuple(inspect.signature(function).parameters)
        if names != tuple(letters):
            raise TypeError(f"{function.__name__}: letters {tuple(letters)} are not the arguments {names}")
        self.function, self.kernel = function, kernel
        self.symbol, self.words, self.unit = symbol, words, unit
        self.letters, self.source = letters, source
        self.defaults = {
            name: parameter.default
            for name, parameter in inspect.signature(function).parameters.items()
            if parameter.default is not parameter.empty
        }

    def __call__(self, *args: float, **kwargs: float) -> float:
        return self.function(*args, **kwargs)

    @functools.cached_property
    def formula(self) -> Expression:
        """The formula, grown by running the kernel on symbols."""
        return as_expression(self.kernel(*(Symbol(letter.symbol) for letter in self.letters.values())))

    def step(
        self, *, part: str = "", remark: str = "", symbol: str = "", words: str = "", **values: float
    ) -> Step:
        """The step of the working for these arguments (by name), with its checked result."""
        values = self.defaults | values
        result = self.function(**values)
        inputs = tuple(
            Put(letter.symbol, letter.words, float(values[name]), letter.unit)
            for name, letter in self.letters.items()
        )
        return Step(
            symbol or self.symbol, words or self.words, self.formula, inputs, float(result), self.unit,
            self.source, part, remark,
        )  # fmt: skip


def relation(
    *, kernel: Callable[..., Any], symbol: str, words: str, unit: str, letters: dict[str, Letter], source: str
) -> Callable[[Callable[..., float]], Relation]:
    """Turn a checked function over `kernel` into a `Relation`.

    The kernel takes the same arguments in the same order.  `letters` has an entry per argument.
    """

    def decorate(function: Callable[..., float]) -> Relation:
        made = Relation(function, kernel, symbol, words, unit, letters, source)
        RELATIONS[f"{function.__module__}.{function.__name__}"] = made
        return made

    return decorate


# ── checks shared by the public functions ────────────────────────────────────────────────────────


def above_zero(**values: float) -> None:
    """Raise ValueError naming the first value that is not a finite number above zero."""
    for name, value in values.items():
        if not 0.0 < value < math.inf:  # also catches nan
            raise ValueError(f"{name} must be above 0, got {value}")


def not_negative(**values: float) -> None:
    """Raise ValueError naming the first value that is not a finite number of zero or more."""
    for name, value in values.items():
        if not 0.0 <= value < math.inf:
            raise ValueError(f"{name} must be 0 or more, got {value}")


def finite(**values: float) -> None:
    """Raise ValueError naming the first value that is not a finite number."""
    for name, value in values.items():
        if not math.isfinite(value):
            raise ValueError(f"{name} must be a finite number, got {value}")


def within(low: float, high: float, **values: float) -> None:
    """Raise ValueError naming the first value outside [low, high]."""
    for name, value in values.items():
        if not low <= value <= high:
            raise ValueError(f"{name} must lie between {low} and {high}, got {value}")
