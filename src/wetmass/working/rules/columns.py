"""A cell of a table beside the other cells of its column: the same working, another constant or power."""

from __future__ import annotations

import math
import re

from wetmass.working.rules.base import Rules
from wetmass.working.tree import Node

_NUMBER = re.compile(r"\d+(?:,\d{3})*(?:\.\d+)?")
_CELL = re.compile(r"^[^=≈]*?([\d(π√½][^=≈]*[-+*/·×^²³√][^=≈]*)[=≈]\s*[~≈]?\s*[\d.,]+")
_FEWEST = 3  # other cells that agree among themselves


class Columns(Rules):
    """Cells against their column."""

    def _unlike_its_column(self, _tree: Node) -> bool:
        """A factor that is the same in all other cells of the column and stands here with a digit lost or gained."""
        rows = self.checker.rows
        line = rows[self.statement.raw.number - 1]
        if not line.lstrip().startswith("|"):
            return False
        at = line[: self.statement.raw.column].count("|")
        mine = _working(line, at)
        if mine is None:
            return False
        others = [
            found
            for number in _table(rows, self.statement.raw.number - 1)
            if (found := _working(rows[number], at)) is not None and found[0] == mine[0]
        ]
        if len(others) < _FEWEST:
            return False
        for place, number in enumerate(mine[1]):
            theirs = {other[1][place] for other in others}
            if len(theirs) != 1 or number in theirs:
                continue
            common = theirs.pop()
            ratio = math.log10(number / common) if number and common else 0.5
            if abs(ratio - round(ratio)) > 1e-9 or abs(ratio) > 3.1:
                continue
            right = self._with(mine, place, common)
            cause = f"{number:g} stands where the other rows of the column have {common:g}"
            return self.tell("S08", cause, f"with {common:g}", right, ("S55", "S07"))
        return False

    def _with(self, mine: tuple[str, tuple[float, ...]], place: int, value: float) -> float:
        """What the cell states with one of its factors replaced; only products are asked for."""
        signs = mine[0].split("#")
        if any(sign.strip() not in ("", "*", "/") for sign in signs):
            raise ValueError("not a product")
        ratio = value / mine[1][place]
        return self.claim.si * (1.0 / ratio if signs[place].strip() == "/" else ratio)


def _working(line: str, at: int) -> tuple[str, tuple[float, ...]] | None:
    """The structure of a cell's working and its numbers in order."""
    cells = line.split("|")
    found = _CELL.match(cells[at]) if 0 < at < len(cells) else None
    if found is None:
        return None
    text = re.sub(r"[·×]", "*", found.group(1))
    return _NUMBER.sub("#", text).replace(" ", ""), tuple(
        float(n.replace(",", "")) for n in _NUMBER.findall(text)
    )


def _table(rows: list[str], here: int) -> list[int]:
    """The other rows of the table a row stands in."""
    first = last = here
    while first > 0 and rows[first - 1].lstrip().startswith("|"):
        first -= 1
    while last + 1 < len(rows) and rows[last + 1].lstrip().startswith("|"):
        last += 1
    return [number for number in range(first, last + 1) if number != here]
