"""Formulas as MathML Core, presentation only, for HTML without any script."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from wetmass.lesson.mathematics.letters import letter
from wetmass.lesson.mathematics.numbers import digits
from wetmass.lesson.mathematics.writer import Writer

_GAP = '<mspace width="0.2em"/>'
_OPEN, _SHUT = "<mo>(</mo>", "<mo>)</mo>"
_APPLY = "<mo>\u2061</mo>"  # function application, read out, not seen
_UPRIGHT_GREEK = "π"


def _row(*parts: str) -> str:
    return f"<mrow>{''.join(parts)}</mrow>"


class MathML(Writer):
    """MathML of a tidied tree; see `Writer`."""

    def letter(self, symbol: str) -> str:
        """Slanted letter, upright index; a ratio such as F/W as a fraction."""
        if "/" in symbol:
            above, below = symbol.split("/", 1)
            return self.fraction(self.letter(above), self.letter(below))
        if "·" in symbol:
            return _row("<mo>⋅</mo>".join(self.letter(part) for part in symbol.split("·")))
        one = letter(symbol)
        made = (
            f"<mi>{escape(one.single)}</mi>"
            if one.single != _UPRIGHT_GREEK
            else f'<mi mathvariant="normal">{one.single}</mi>'
        )
        if one.dotted:
            made = f'<mover accent="true">{made}<mo stretchy="false">˙</mo></mover>'
        below = f"<mtext>{escape(one.below)}</mtext>" if not one.below.isdigit() else f"<mn>{one.below}</mn>"
        if one.starred:
            made = f"<msup>{made}<mo>*</mo></msup>" if not one.below else made
        if one.below:
            made = f"<msub>{made}{below}</msub>"
        return _row('<mi mathvariant="normal">Δ</mi>', made) if one.difference else made

    def number(self, value: float, figures: int) -> str:
        """Digits, with a power of ten where one is needed."""
        text, power = digits(abs(value), figures)
        made = f"<mn>{text}</mn>"
        if power:
            sign = "<mo>−</mo>" if power < 0 else ""
            exponent = _row(sign, f"<mn>{abs(power)}</mn>")
            made = _row(made, "<mo>×</mo>", f"<msup><mn>10</mn>{exponent}</msup>")
        return _row('<mo form="prefix">−</mo>', made) if value < 0.0 else made

    def quantity(self, value: float, unit: str, figures: int | None = None) -> str:
        """Digits and an upright unit."""
        made = self.number(value, figures or self.figures)
        return _row(made, _GAP, f"<mtext>{escape(unit)}</mtext>") if unit else made

    def join(self, left: str, sign: str, right: str) -> str:
        return f"{left}<mo>{escape(sign.replace('·', '⋅'))}</mo>{right}"

    def signed(self, sign: str, term: str) -> str:
        return f'<mo form="infix">{sign}</mo>{term}'

    def brackets(self, inside: str) -> str:
        return _row(_OPEN, inside, _SHUT)

    def negative(self, inside: str) -> str:
        return f'<mo form="prefix">−</mo>{inside}'

    def fraction(self, above: str, below: str) -> str:
        return f"<mfrac>{_row(above)}{_row(below)}</mfrac>"

    def power(self, base: str, exponent: str) -> str:
        return f"<msup>{_row(base)}{_row(exponent)}</msup>"

    def root(self, inside: str, degree: int) -> str:
        if degree == 2:
            return f"<msqrt>{inside}</msqrt>"
        return f"<mroot>{_row(inside)}<mn>{degree}</mn></mroot>"

    def absolute(self, inside: str) -> str:
        return _row("<mo>|</mo>", inside, "<mo>|</mo>")

    def function(self, name: str, arguments: Sequence[str]) -> str:
        return _row(f"<mi>{name}</mi>", _APPLY, _OPEN, "<mo>,</mo>".join(arguments), _SHUT)

    def cases(self, condition: str, yes: str, no: str) -> str:
        rows = (
            f"<mtr><mtd>{yes}</mtd><mtd><mtext>if </mtext>{condition}</mtd></mtr>"
            f"<mtr><mtd>{no}</mtd><mtd><mtext>else</mtext></mtd></mtr>"
        )
        return _row("<mo>{</mo>", f"<mtable>{rows}</mtable>")


def math(inside: str) -> str:
    """The element that holds a formula: in the line, its fractions as large as on a blackboard."""
    return f'<math displaystyle="true">{_row(inside)}</math>'
