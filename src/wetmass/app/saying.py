"""Numbers in the units that the reader chose: those people use with SI, or feet and pounds."""

from __future__ import annotations

from wetmass.record.digits import fixed, readable
from wetmass.record.say import NO_BREAK, said

SYSTEMS = ("metric", "feet and pounds")
_FOOT, _POUND, _GRAVITY = 0.3048, 0.45359237, 9.80665  # exact by definition
_CUSTOMARY: dict[str, tuple[tuple[float, float, str], ...]] = {  # SI unit: from this size on, factor, unit
    "kg": ((0.0, _POUND, "lb"),),
    "m": ((5e4, 1852.0, "nmi"), (0.0, _FOOT, "ft")),
    "m/s": ((0.0, _FOOT, "ft/s"),),
    "N": ((0.0, _POUND * _GRAVITY, "lbf"),),
    "Pa": ((0.0, _POUND * _GRAVITY / _FOOT**2, "psf"),),
    "m³": ((0.0, _FOOT**3, "ft³"),),
}


def say(value: float, unit: str, system: str = "metric", figures: int = 4, exact: bool = False) -> str:
    """A value in SI, as the reader wants it.

    exact  masses to the whole kilogram or pound, for columns that add up

    >>> say(1000.0, "kg", "feet and pounds"), say(3421.2, "kg")
    ('2\\u2009205\\xa0lb', '3\\u2009421\\xa0kg')
    """
    if system == "feet and pounds":
        for size, factor, name in _CUSTOMARY.get(unit, ()):
            if abs(value) >= size:
                number = fixed(value / factor) if exact else readable(value / factor, figures)
                return f"{number}{NO_BREAK}{name}"
    if exact and unit == "kg":
        return f"{fixed(value)}{NO_BREAK}kg"
    return said(value, unit, figures)


def change(before: float, after: float, unit: str, system: str = "metric") -> str:
    """What a value changed by, with its sign; "" where both read the same."""
    moved = after - before
    if say(before, unit, system) == say(after, unit, system):
        return ""
    text = say(abs(moved), unit, system, 3)
    return ("+" if moved > 0.0 else "−") + text


def share(before: float, after: float) -> str:
    """The same in percent of what it was."""
    if before == 0.0:
        return ""
    moved = 100.0 * (after / before - 1.0)
    return ("+" if moved > 0.0 else "−") + readable(abs(moved), 2) + f"{NO_BREAK}%"
