"""Numbers as people read them: a few significant figures, thousands set apart."""

from __future__ import annotations

import math

THIN_SPACE = "\u2009"


def readable(value: float, figures: int = 4) -> str:
    """`value` to `figures` significant figures, thousands set apart, no needless zeros.

    Whole parts are never rounded away below the figures asked for by more than the figures say:
    123456 to 4 figures is 123 500.  Very large and small numbers take a power of ten.

    >>> readable(703012.5)
    '703\\u2009000'
    >>> readable(0.004567891)
    '0.004568'
    >>> readable(6.67e-11)
    '6.67×10⁻¹¹'
    """
    if not math.isfinite(value):
        return str(value)
    if value == 0.0:
        return "0"
    exponent = math.floor(math.log10(abs(value)))
    rounded = round(value, figures - 1 - exponent)
    if rounded != 0.0:
        exponent = math.floor(math.log10(abs(rounded)))
    if exponent < -4 or exponent > 12:
        mantissa = f"{rounded / 10.0**exponent:.{figures - 1}f}".rstrip("0").rstrip(".")
        return f"{mantissa}×10{superscript(exponent)}"
    decimals = max(0, figures - 1 - exponent)
    text = f"{rounded:,.{decimals}f}".replace(",", THIN_SPACE)
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−")


def superscript(number: int) -> str:
    """A whole number set high, for powers: −11 → ⁻¹¹."""
    return str(number).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
