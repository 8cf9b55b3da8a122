"""Formulas as Typst mathematics, for paper.  What is written stands between two dollar signs."""

from __future__ import annotations

from collections.abc import Sequence

from wetmass.lesson.mathematics.letters import letter
from wetmass.lesson.mathematics.numbers import digits
from wetmass.lesson.mathematics.writer import Writer


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


class Typst(Writer):
    """Typst mathematics of a tidied tree; see `Writer`."""

    def letter(self, symbol: str) -> str:
        if "/" in symbol:
            above, below = symbol.split("/", 1)
            return self.fraction(self.letter(above), self.letter(below))
        if "·" in symbol:
            return " dot.op ".join(self.letter(part) for part in symbol.split("·"))
        one = letter(symbol)
        made = one.single if len(one.single) == 1 else _quoted(one.single)
        if one.single == "π":
            made = "upright(π)"
        if one.dotted:
            made = f"dot({made})"
        if one.below:
            below = one.below if one.below.isdigit() else _quoted(one.below)
            made = f"{made}_({below})"
        if one.starred:
            made = f"{made}^(*)"
        return f"upright(Δ) {made}" if one.difference else made

    def number(self, value: float, figures: int) -> str:
        text, power = digits(abs(value), figures)
        made = _quoted(text)
        if power:
            made = f'{made} times "10"^({"−" if power < 0 else ""}{abs(power)})'
        return f"−{made}" if value < 0.0 else made

    def quantity(self, value: float, unit: str, figures: int | None = None) -> str:
        made = self.number(value, figures or self.figures)
        return f"{made} thin {_quoted(unit)}" if unit else made

    def join(self, left: str, sign: str, right: str) -> str:
        named = {"·": "dot.op", "×": "times", "≤": "<=", "≥": ">="}.get(sign, sign)
        return f"{left} {named} {right}"

    def brackets(self, inside: str) -> str:
        return f"({inside})"

    def negative(self, inside: str) -> str:
        return f"−{inside}"

    def fraction(self, above: str, below: str) -> str:
        return f"frac({above}, {below})"

    def power(self, base: str, exponent: str) -> str:
        return f"{base}^({exponent})"

    def root(self, inside: str, degree: int) -> str:
        return f"sqrt({inside})" if degree == 2 else f"root({degree}, {inside})"

    def absolute(self, inside: str) -> str:
        return f"abs({inside})"

    def function(self, name: str, arguments: Sequence[str]) -> str:
        return f"{name}({', '.join(arguments)})"

    def cases(self, condition: str, yes: str, no: str) -> str:
        return f'cases({yes} "if" {condition}, {no} "else")'
