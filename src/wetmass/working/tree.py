"""A side of a line as a tree of numbers and operations, and what it comes to.

Trees are small frozen data; a slip is an edit of a tree (see `slips/edits.py`), and is judged by
evaluating the edited tree again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from wetmass.working.units import DEGREE, NONE, Dimension, times


@dataclass(frozen=True, slots=True)
class Leaf:
    """A number standing in a line.

    `typed` is the number as written, `factor` takes it to SI.  `bare` says no unit was written.
    `half` is half of the last digit written, 0 for an exact number.  A leaf that stands for a value
    of the page has `page` (its index in the scope); a constant of nature has `constant`.
    """

    typed: float
    factor: float = 1.0
    dimension: Dimension = NONE
    bare: bool = True
    half: float = 0.0
    unit: str = ""
    name: str = ""
    text: str = ""
    constant: str = ""
    page: int = -1
    linked: bool = False  # a literal recognised as a value of the page, rather than its name
    angle: bool = False
    shift: float = 0.0  # added after the factor, for °C

    @property
    def si(self) -> float:
        return self.typed * self.factor + self.shift


@dataclass(frozen=True, slots=True)
class Unknown:
    """A name that has no value on the page."""

    name: str


@dataclass(frozen=True, slots=True)
class Op:
    """`kind` is + - * / ^ neg or the name of a function."""

    kind: str
    parts: tuple[Node, ...]


Node = Leaf | Unknown | Op


@dataclass(frozen=True, slots=True)
class Meaning:
    """How the unclear marks of a line are taken: log, and an angle without its unit."""

    log_is_ten: bool = False
    degrees: bool = False  # sin(28.5) is of 28.5°
    raw: bool = False  # numbers as typed, units ignored
    radians_always: bool = False  # the slip itself: degrees keyed in radian mode


PLAIN = Meaning()
DEGREES = Meaning(degrees=True)


class Unfit(ValueError):
    """The tree has no value: an unknown name, a logarithm of a negative number, an overflow."""


@dataclass(frozen=True, slots=True)
class Result:
    """The value of a tree in SI, its dimension, and whether units were left out on the way."""

    value: float
    dimension: Dimension
    bare: bool  # some factor had no unit, so the dimension proves little
    fault: str = ""  # terms of a sum that do not agree, in words


def evaluate(node: Node, meaning: Meaning = PLAIN) -> Result:
    """What a tree comes to.

    Raises Unfit where it has no value.
    """
    try:
        result = _evaluate(node, meaning)
    except (OverflowError, ZeroDivisionError, ValueError) as error:
        if isinstance(error, Unfit):
            raise
        raise Unfit(str(error)) from None
    if isinstance(result.value, complex) or not math.isfinite(result.value):
        raise Unfit("no finite value")
    return result


def number(node: Node, meaning: Meaning = PLAIN) -> float:
    """The value of a tree in SI, without its dimension: as `evaluate`, several times faster.

    Raises Unfit where it has no value.
    """
    try:
        value = _number(node, meaning)
    except (OverflowError, ZeroDivisionError, ValueError) as error:
        if isinstance(error, Unfit):
            raise
        raise Unfit(str(error)) from None
    if isinstance(value, complex) or not math.isfinite(value):
        raise Unfit("no finite value")
    return value


def _number(node: Node, meaning: Meaning) -> float:
    kind = type(node)
    if kind is Leaf:
        if meaning.raw and node.dimension != NONE:
            return node.typed
        return node.typed * node.factor + node.shift
    if kind is Unknown:
        raise Unfit(f"“{node.name}” has no value on the page")
    parts = node.parts
    first = _number(parts[0], meaning)
    name = node.kind
    if name == "*":
        return first * _number(parts[1], meaning)
    if name == "/":
        return first / _number(parts[1], meaning)
    if name == "+":
        return first + _number(parts[1], meaning)
    if name == "-":
        return first - _number(parts[1], meaning)
    if name == "neg":
        return -first
    if name == "^":
        exponent = _number(parts[1], meaning)
        if abs(exponent) > 200:
            raise Unfit("a power beyond 200")
        value = first**exponent
        if isinstance(value, complex):
            raise Unfit("a root of a negative number")
        return value
    if name in ("sqrt", "cbrt"):
        if first < 0:
            raise Unfit("a root of a negative number")
        return first ** (0.5 if name == "sqrt" else 1.0 / 3.0)
    if name == "abs":
        return abs(first)
    if name in ("min", "max"):
        return (min if name == "min" else max)(first, *(_number(part, meaning) for part in parts[1:]))
    if name in ("sin", "cos", "tan"):
        first = _angle(parts[0], first, meaning)
    return _FUNCTIONS["log10" if name == "log" and meaning.log_is_ten else name](first)


def _evaluate(node: Node, meaning: Meaning) -> Result:
    if isinstance(node, Leaf):
        if meaning.raw:
            return Result(node.si if node.dimension == NONE else node.typed, NONE, True)
        return Result(node.si, node.dimension, node.bare and not _whole(node))
    if isinstance(node, Unknown):
        raise Unfit(f"“{node.name}” has no value on the page")
    parts = [_evaluate(part, meaning) for part in node.parts]
    fault = next((part.fault for part in parts if part.fault), "")
    bare = any(part.bare for part in parts)
    if node.kind in "+-":
        return _sum(node, parts, fault, bare)
    first = parts[0]
    if node.kind == "*":
        return Result(first.value * parts[1].value, times(first.dimension, parts[1].dimension), bare, fault)
    if node.kind == "/":
        return Result(
            first.value / parts[1].value, times(first.dimension, parts[1].dimension, -1.0), bare, fault
        )
    if node.kind == "neg":
        return Result(-first.value, first.dimension, bare, fault)
    if node.kind == "^":
        exponent = parts[1].value
        if abs(exponent) > 200:
            raise Unfit("a power beyond 200")
        value = first.value**exponent
        if isinstance(value, complex):
            raise Unfit("a root of a negative number")
        return Result(value, times(NONE, first.dimension, exponent), first.bare, fault)
    if node.kind in ("sqrt", "cbrt"):
        power = 0.5 if node.kind == "sqrt" else 1.0 / 3.0
        if first.value < 0:
            raise Unfit("a root of a negative number")
        return Result(first.value**power, times(NONE, first.dimension, power), first.bare, fault)
    if node.kind == "abs":
        return Result(abs(first.value), first.dimension, bare, fault)
    if node.kind in ("min", "max"):
        value = (min if node.kind == "min" else max)(part.value for part in parts)
        return Result(value, first.dimension, bare, fault)
    argument = first.value
    if node.kind in ("sin", "cos", "tan"):
        argument = _angle(node.parts[0], argument, meaning)
    function = _FUNCTIONS["log10" if node.kind == "log" and meaning.log_is_ten else node.kind]
    if not fault and first.dimension != NONE and not first.bare:
        fault = f"{node.kind}( ) of something that is not a plain number"
    return Result(function(argument), NONE, first.bare, fault)


def _sum(node: Op, parts: list[Result], fault: str, bare: bool) -> Result:
    left, right = parts
    value = left.value + right.value if node.kind == "+" else left.value - right.value
    dimension = left.dimension
    if left.dimension != right.dimension:
        if left.bare or (left.dimension == NONE and _plain(node.parts[0])):
            dimension = right.dimension
        elif not (right.bare or (right.dimension == NONE and _plain(node.parts[1]))):
            from wetmass.working.units import dimension_words

            sign = "added to" if node.kind == "+" else "subtracted from"
            first, second = dimension_words(left.dimension), dimension_words(right.dimension)
            fault = fault or (
                f"{second} is {sign} {first}" if node.kind == "-" else f"{first} is {sign} {second}"
            )
    return Result(value, dimension, bare, fault)


def _plain(node: Node) -> bool:
    return isinstance(node, Leaf) and node.bare


def _whole(leaf: Leaf) -> bool:
    """A small whole number without unit is a count, which has no unit to leave out."""
    return (
        (leaf.typed == int(leaf.typed) and abs(leaf.typed) <= 60) or leaf.constant == "π" or leaf.half == 0.0
    )


def _angle(node: Node, value: float, meaning: Meaning) -> float:
    if meaning.radians_always:
        return _without_degrees(node, value)
    if meaning.degrees and not has_angle(node):
        return value * DEGREE
    return value


def _without_degrees(node: Node, value: float) -> float:
    return value / DEGREE if has_angle(node) or abs(value) < 1.6 else value


def has_angle(node: Node) -> bool:
    """Whether an angle unit or π stands in the tree, so that it is clear how to read it."""
    return any(leaf.angle or leaf.constant == "π" for leaf in leaves(node))


_FUNCTIONS: dict[str, Callable[[float], float]] = {
    "ln": math.log, "log": math.log, "log10": math.log10, "exp": math.exp, "sin": math.sin, "cos": math.cos,
    "tan": math.tan, "asin": math.asin, "acos": math.acos, "atan": math.atan, "sinh": math.sinh,
    "cosh": math.cosh, "tanh": math.tanh, "log2": math.log2,
}  # fmt: skip
FUNCTIONS = frozenset(_FUNCTIONS) | {"sqrt", "cbrt", "abs", "min", "max"}


def walk(node: Node, path: tuple[int, ...] = ()) -> Iterator[tuple[tuple[int, ...], Node]]:
    """Every node with its path from the top."""
    yield path, node
    if isinstance(node, Op):
        for index, part in enumerate(node.parts):
            yield from walk(part, (*path, index))


def leaves(node: Node) -> list[Leaf]:
    """The numbers of a tree in order."""
    return [part for _, part in walk(node) if isinstance(part, Leaf)]


def unknowns(node: Node) -> list[str]:
    """The names without value in a tree."""
    return [part.name for _, part in walk(node) if isinstance(part, Unknown)]


def put(node: Node, path: tuple[int, ...], new: Node) -> Node:
    """The tree with the node at `path` replaced."""
    if not path:
        return new
    assert isinstance(node, Op)
    parts = list(node.parts)
    parts[path[0]] = put(parts[path[0]], path[1:], new)
    return Op(node.kind, tuple(parts))


def mapped(node: Node, change: Callable[[Leaf], Node]) -> Node:
    """The tree with every number changed by `change`."""
    if isinstance(node, Leaf):
        return change(node)
    if isinstance(node, Op):
        return Op(node.kind, tuple(mapped(part, change) for part in node.parts))
    return node


def exactly(value: float) -> Leaf:
    """A pure number that is exact."""
    return Leaf(value, text=f"{value:g}")


def with_unit(leaf: Leaf, other: Leaf) -> Leaf:
    """A bare number read in the unit of its neighbour."""
    return replace(
        leaf, factor=other.factor, dimension=other.dimension, bare=False, unit=other.unit, angle=other.angle
    )


def holds_logarithm(node: Node) -> bool:
    """Whether a logarithm stands in the tree."""
    return any(isinstance(part, Op) and part.kind in ("ln", "log", "log10") for _, part in walk(node))
