"""A value in SI, said with the unit people use for its size.

Where the user wrote a unit, that unit is used instead (`wetmass.concept.quantity.in_user_units`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import readable

NO_BREAK = "\u00a0"  # between a number and its unit, so that no line ends there
_DEGREE = math.pi / 180.0

# SI unit → (from this size on, divided by, unit said), the largest size first
_SAID: dict[str, tuple[tuple[float, float, str], ...]] = {
    "kg": ((1e4, 1e3, "t"), (0.0, 1.0, "kg")),
    "m": ((1e4, 1e3, "km"), (0.0, 1.0, "m")),
    "N": ((1e7, 1e6, "MN"), (1e3, 1e3, "kN"), (0.0, 1.0, "N")),
    "Pa": ((1e3, 1e3, "kPa"), (0.0, 1.0, "Pa")),
    "Pa·rad": ((0.0, 1e3 * _DEGREE, "kPa·deg"),),
    "rad": ((0.0, _DEGREE, "°"),),
    "m/s²": ((0.0, STANDARD_GRAVITY, "g₀"),),
    "W/m²": ((1e4, 1e3, "kW/m²"), (0.0, 1.0, "W/m²")),
}


def said(value: float, unit: str, figures: int = 4) -> str:
    """`value` [`unit`, SI] with a unit people use: 118 400 kg → 118.4 t.

    unit     SI, "" for a pure number, "%" for a fraction that is said in percent
    figures  significant figures kept

    >>> said(118_432.0, "kg"), said(31_200.0, "Pa"), said(0.0871, "%", 3)
    ('118.4\\xa0t', '31.2\\xa0kPa', '8.71\\xa0%')
    """
    if unit == "1":  # how SI writes a pure number
        unit = ""
    if unit == "%":
        return f"{readable(100.0 * value, figures)}{NO_BREAK}%"
    for size, factor, name in _SAID.get(unit, ()):
        if abs(value) >= size:
            number = readable(value / factor, figures)
            return number + name if name == "°" else number + NO_BREAK + name
    number = readable(value, figures)
    return f"{number}{NO_BREAK}{unit}" if unit else number


def duration(seconds: float) -> str:
    """A time as people say it: 581 s → 9 min 41 s.

    >>> duration(581.2), duration(42.0), duration(7325.0)
    ('9\\xa0min\\xa041\\xa0s', '42\\xa0s', '2\\xa0h\\xa02\\xa0min')
    """
    whole = round(seconds)
    hours, minutes, rest = whole // 3600, whole % 3600 // 60, whole % 60
    if hours:
        parts = [(hours, "h"), (minutes, "min")]
    else:
        parts = [(minutes, "min"), (rest, "s")]
    shown = [f"{count}{NO_BREAK}{name}" for count, name in parts if count] or [f"0{NO_BREAK}s"]
    return NO_BREAK.join(shown)


def listed(words: Sequence[str]) -> str:
    """Some words as people list them; of one or more.

    >>> listed(["first"]), listed(["first", "second", "third"])
    ('first', 'first, second and third')
    """
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]


def sentence(words: str) -> str:
    """The words with a capital at the start and a stop at the end.

    >>> sentence("a floor of 38 % would hover")
    'A floor of 38 % would hover.'
    """
    words = words.strip()
    words = words[:1].upper() + words[1:]
    return words if not words or words[-1] in ".!?" else f"{words}."
