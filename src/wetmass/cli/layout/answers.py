"""What was left open and found, and what was asked and came of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import BENDS, LEFT, RIGHT, Row, Sheet
from wetmass.findings.units import as_typed, shown
from wetmass.record.closed import Closed, Held

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def found(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """The open values, each with the bound that stopped it."""
    if not closed.found:
        return
    aim = f"open in the file; made best: {concept.objective}" if concept.objective else "open in the file"
    sheet.heading(
        "Found" if closed.closes else "Not found", aim if closed.closes else "where the search ended"
    )
    sheet.table(
        (LEFT, RIGHT, BENDS),
        [
            Row(
                (
                    _where(one.where),
                    shown(concept, one.where, one.value, one.unit),
                    f"at {one.bound}" if one.bound else "",
                )
            )
            for one in closed.found
        ],
    )


def held(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """Requirements and limits: asked, got, and which of them bind."""
    if not closed.held:
        return
    binds = any(one.active for one in closed.held)
    sheet.heading("Asked", "what binds keeps the rest from getting better" if binds else "")
    sheet.table(
        (LEFT, LEFT, RIGHT, RIGHT, BENDS),
        [Row(("", "", "asked", "got", ""), "dim")]
        + [
            Row(
                (
                    one.what,
                    one.relation,
                    *as_typed(concept, one),
                    _outcome(one),
                ),
                "" if one.met else "red",
            )
            for one in closed.held
        ],
    )


def _where(path: str) -> str:
    """A path as people say it: "stages/first/propellant/mass" is "first, propellant mass"."""
    parts = path.removeprefix("stages/").split("/")
    if len(parts) == 4 and parts[1] == "engines":  # stages/first/engines/1/count
        parts = [parts[0], f"engine {parts[3]}" if parts[2] == "1" else f"{parts[3]} of engines {parts[2]}"]
    return ", ".join((parts[0], " ".join(parts[1:]))) if len(parts) > 1 else parts[0]


def _outcome(one: Held) -> str:
    if not one.met:
        return "not kept"
    return "binds" if one.active else "kept"
