"""How many digits are shown, by rule.

Four significant figures, thousands set apart, no needless zeros; from ten million on, and below a
thousandth, with a power of ten.  The constants of a formula keep seven figures.  Computing goes on with
every digit.
"""

from __future__ import annotations

import math

from wetmass.record.digits import readable

FIGURES = 4
CONSTANT_FIGURES = 7
_MOST, _LEAST = 7, -3  # powers of ten from which on the number is written with one


def digits(value: float, figures: int = FIGURES) -> tuple[str, int]:
    """(text, power of ten) of a number; the power is 0 where none is written.

    >>> digits(115306.37), digits(73e9), digits(0.000255)
    (('115\\u2009300', 0), ('7.3', 10), ('2.55', -4))
    """
    if value == 0.0 or not math.isfinite(value):
        return readable(value, figures), 0
    power = math.floor(math.log10(abs(value)))
    rounded = round(value, figures - 1 - power)
    power = math.floor(math.log10(abs(rounded))) if rounded else power
    if _LEAST <= power < _MOST:
        return readable(value, figures), 0
    return readable(value / 10.0**power, figures), power
