"""How wide a text is, from the widths of the letters of the font that is shipped."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

ASCENT, DESCENT = 0.76, 0.24  # of the size: above and below the line, capitals to tails
_UNKNOWN = 0.65  # ems, for a letter the font has not


@cache
def _widths() -> dict[str, dict[str, float]]:
    text = files("wetmass.lesson").joinpath("assets/widths.json").read_text(encoding="utf-8")
    return json.loads(text)


def width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line of text in the units of `size`.

    >>> 20.0 < width("LOX", 13.0) < 30.0
    True
    """
    table = _widths()["600" if bold else "400"]
    return size * sum(table.get(letter, _UNKNOWN) for letter in text)


@dataclass(frozen=True, slots=True)
class Box:
    """Where a text stands."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether the two overlap."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


def box(text: str, x: float, y: float, size: float, anchor: str, bold: bool) -> Box:
    """The box of a line of text whose base line begins, ends or is centred at (x, y)."""
    wide = width(text, size, bold)
    left = x - {"start": 0.0, "middle": wide / 2.0, "end": wide}[anchor]
    return Box(text, left, y - ASCENT * size, left + wide, y + DESCENT * size)
