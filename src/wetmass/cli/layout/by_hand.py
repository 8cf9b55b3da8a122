"""A climb by hand beside what was flown."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import LEFT, QUIET, RIGHT, Row, Sheet
from wetmass.record.closed import Beside, Closed
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def by_hand(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """Time, speed, propellant and losses of the bottom stage, as on a blackboard and as flown."""
    if not closed.by_hand:
        return
    sheet.heading("By hand", "steady acceleration and flow from lift-off on, beside what was flown")
    rows = [Row((closed.vehicle.stages[0].name, "by hand", "flown", "apart", ""), QUIET)]
    rows += [
        Row((f"  {one.words}", said(one.by_hand, one.unit), said(one.flown, one.unit), _apart(one), one.how))
        for one in closed.by_hand
    ]
    sheet.table((LEFT, RIGHT, RIGHT, RIGHT, LEFT), rows)


def _apart(one: Beside) -> str:
    """How far the estimate is from the flight."""
    if not one.flown:
        return ""
    off = one.by_hand / one.flown - 1.0
    return f"{'+' if off >= 0.0 else '−'}{said(abs(off), '%', 2)}"
