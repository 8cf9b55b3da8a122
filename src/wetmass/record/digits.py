"""Numbers as people read them: a few significant figures, thousands set apart."""

from __future__ import annotations

import math
from collections.abc import Sequence

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


def fixed(value: float, decimals: int = 0) -> str:
    """`value` with so many decimals, for a column of a table; thousands set apart, a true minus.

    >>> fixed(-12345.678, 1), fixed(-0.2)
    ('−12\\u2009345.7', '0')
    """
    if not math.isfinite(value):
        return str(value)
    text = f"{value:,.{decimals}f}".replace(",", THIN_SPACE)
    if not text.strip("-0." + THIN_SPACE):
        text = text.lstrip("-")  # a rounded zero has no sign
    return text.replace("-", "−")


def adding_up(values: Sequence[float], step: float = 1.0) -> list[float]:
    """Each value rounded to a whole number of `step`, so that the list adds up to its rounded sum.

    Each stays within one step of its value; those rounded down that were nearest to the next step give way.
    Raises ValueError when a value is not finite or `step` is not above zero.

    >>> adding_up([1.4, 2.4, 3.4])
    [2.0, 2.0, 3.0]
    """
    if not step > 0.0 or not all(map(math.isfinite, values)):
        raise ValueError(f"finite values and a step above 0, got {list(values)} and {step}")
    counts = [value / step for value in values]
    lower = [math.floor(count) for count in counts]
    missing = round(math.fsum(counts)) - sum(lower)
    nearest = sorted(range(len(counts)), key=lambda i: lower[i] - counts[i])
    for i in nearest[:missing]:
        lower[i] += 1
    return [count * step for count in lower]


def superscript(number: int) -> str:
    """A whole number set high, for powers: −11 → ⁻¹¹."""
    return str(number).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
