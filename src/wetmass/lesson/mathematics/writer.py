"""What both writers share: walking the tree, and where brackets are needed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wetmass.lesson.mathematics.numbers import CONSTANT_FIGURES, FIGURES, digits
from wetmass.record.expression import Expression, Number, Operation, Symbol

SUM, PRODUCT, POWER, ATOM = range(4)
Written = tuple[str, int]
Values = Mapping[str, tuple[float, str]]  # symbol → (value, unit)

COMPARE = {"lt": "<", "le": "≤", "gt": ">", "ge": "≥"}
FUNCTIONS = {
    "log": "ln", "log10": "log", "exp": "exp", "sin": "sin", "cos": "cos", "tan": "tan", "asin": "arcsin",
    "acos": "arccos", "atan": "arctan", "atan2": "arctan", "least": "min", "greatest": "max",
}  # fmt: skip
GRAVITY_UNIT = "m/s²"


def terms(node: Expression) -> list[tuple[str, Expression]]:
    """A sum as its terms with their signs.

    >>> [sign for sign, _ in terms(Symbol("a") + Symbol("b") - Symbol("c"))]
    ['', '+', '−']
    """
    if isinstance(node, Operation) and node.kind in ("add", "sub"):
        return [*terms(node.parts[0]), ("+" if node.kind == "add" else "−", node.parts[1])]
    return [("", node)]


class Writer:
    """Walks a tidied tree.  With `values`, numbers stand in place of letters.

    figures  significant figures of the values put in
    """

    def __init__(self, values: Values | None = None, figures: int = FIGURES) -> None:
        self.values, self.figures = values, figures
        self.constant_figures = max(figures, CONSTANT_FIGURES)

    def formula(self, node: Expression) -> str:
        """The formula alone."""
        return self.write(node)[0]

    def chunks(self, node: Expression) -> tuple[str, ...]:
        """The formula in pieces, one for each term of a sum, so that a long one can go on below."""
        pieces = []
        for sign, term in terms(node):
            written = self.write(term)
            pieces.append(self.signed(sign, self.wrap(written, PRODUCT)) if sign else written[0])
        return tuple(pieces)

    def write(self, node: Expression) -> Written:
        """Text, and how tightly it binds."""
        if isinstance(node, Number):
            return self._number(node)
        if isinstance(node, Symbol):
            if self.values is None or node.name not in self.values:
                return self.letter(node.name), ATOM
            value, unit = self.values[node.name]
            return self.quantity(value, unit), PRODUCT if unit and value >= 0.0 else self._rank(value)
        assert isinstance(node, Operation)
        if node.kind in ("add", "sub"):
            return self._sum(node)
        if node.kind == "mul":
            return self._product(node)
        return self._other(node)

    def _number(self, node: Number) -> Written:
        if node.name == "g₀" and self.values is not None:
            return self.quantity(node.value, GRAVITY_UNIT, self.constant_figures), PRODUCT
        if node.name:
            return self.letter(node.name), ATOM
        return self.number(node.value, self.constant_figures), self._rank(node.value, self.constant_figures)

    def _rank(self, value: float, figures: int | None = None) -> int:
        if value < 0.0:
            return SUM
        return PRODUCT if digits(value, figures or self.figures)[1] else ATOM

    def _sum(self, node: Operation) -> Written:
        left = self.write(node.parts[0])
        right = self.write(node.parts[1])
        sign = "+" if node.kind == "add" else "−"
        return self.join(left[0], sign, self.wrap(right, SUM + 1)), SUM

    def _product(self, node: Operation) -> Written:
        left, right = self.write(node.parts[0]), self.write(node.parts[1])
        between = "·" if self.values is None else "×"
        return self.join(self.wrap(left, PRODUCT), between, self.wrap(right, PRODUCT)), PRODUCT

    def _other(self, node: Operation) -> Written:
        kind, parts = node.kind, node.parts
        if kind == "div":
            return self.fraction(self.formula(parts[0]), self.formula(parts[1])), PRODUCT
        if kind == "neg":
            return self.negative(self.wrap(self.write(parts[0]), PRODUCT)), SUM
        if kind == "pow":
            return self._power(node)
        if kind == "sqrt":
            return self.root(self.formula(parts[0]), 2), ATOM
        if kind == "absolute":
            return self.absolute(self.formula(parts[0])), ATOM
        if kind in COMPARE:
            return self.join(self.formula(parts[0]), COMPARE[kind], self.formula(parts[1])), SUM
        if kind == "select":
            return self.cases(*(self.formula(part) for part in parts)), ATOM
        return self.function(FUNCTIONS[kind], [self.formula(part) for part in parts]), ATOM

    def _power(self, node: Operation) -> Written:
        base, exponent = node.parts
        if (
            isinstance(exponent, Operation)
            and exponent.kind == "div"
            and exponent.parts[0] == Number(1.0)
            and isinstance(exponent.parts[1], Number)
            and exponent.parts[1].value > 2.0
        ):
            return self.root(self.formula(base), int(exponent.parts[1].value)), ATOM
        return self.power(self.wrap(self.write(base), ATOM), self.formula(exponent)), POWER

    def wrap(self, written: Written, least: int) -> str:
        """In brackets where it binds less tightly than `least`."""
        return written[0] if written[1] >= least else self.brackets(written[0])

    def signed(self, sign: str, term: str) -> str:
        """A further term of a sum with its sign."""
        return self.join("", sign, term)

    # ── what each language writes its own way ────────────────────────────────────────────────────

    def letter(self, symbol: str) -> str:
        """A quantity's letter."""
        raise NotImplementedError

    def number(self, value: float, figures: int) -> str:
        """A pure number."""
        raise NotImplementedError

    def quantity(self, value: float, unit: str, figures: int | None = None) -> str:
        """A number with its unit, upright."""
        raise NotImplementedError

    def join(self, left: str, sign: str, right: str) -> str:
        """Two parts with a sign between them."""
        raise NotImplementedError

    def brackets(self, inside: str) -> str:
        """In brackets."""
        raise NotImplementedError

    def negative(self, inside: str) -> str:
        """With a minus before it."""
        raise NotImplementedError

    def fraction(self, above: str, below: str) -> str:
        """One above the other."""
        raise NotImplementedError

    def power(self, base: str, exponent: str) -> str:
        """Base to an exponent."""
        raise NotImplementedError

    def root(self, inside: str, degree: int) -> str:
        """Square root, or one of another degree."""
        raise NotImplementedError

    def absolute(self, inside: str) -> str:
        """Between bars."""
        raise NotImplementedError

    def function(self, name: str, arguments: Sequence[str]) -> str:
        """A function by its usual name."""
        raise NotImplementedError

    def cases(self, condition: str, yes: str, no: str) -> str:
        """One thing where a condition holds, else another."""
        raise NotImplementedError
