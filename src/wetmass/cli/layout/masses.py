"""The mass table, by item; every line adds up as printed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import LEFT, QUIET, RIGHT, STRONG, Row, Sheet
from wetmass.record.closed import Closed
from wetmass.record.constants import POUND
from wetmass.record.digits import adding_up, fixed
from wetmass.record.vehicle import MassItem, Origin

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_FIGURES = 6  # of the whole; the rows are rounded so that they add up to it
_WHO = {Origin.STATED: "", Origin.FOUND: "found", Origin.DERIVED: "derived", Origin.ASSUMED: "assumed"}


def masses(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """Items by part with sums and shares, down to the mass at lift-off."""
    unit, factor = _unit(concept)
    items = closed.vehicle.mass_table()
    whole = math.fsum(item.mass for item in items)
    if not (whole > 0.0 and math.isfinite(whole)):
        return
    step = 10.0 ** max(0, math.floor(math.log10(whole / factor)) + 1 - _FIGURES)
    rounded = adding_up([item.mass / factor for item in items], step)
    total = math.fsum(rounded)
    sheet.heading("Masses", "on the pad, fully tanked" if closed.closes else "where the search ended")
    rows = [Row(("", unit, "share"), QUIET)]
    parts: dict[str, list[tuple[MassItem, float]]] = {}
    for item, mass in zip(items, rounded, strict=True):
        parts.setdefault(item.part, []).append((item, mass))
    for part, entries in parts.items():
        if part:
            rows.append(Row((part, "", "")))
        rows += [Row((("  " if part else "") + item.item, *_cells(mass, total))) for item, mass in entries]
        if part and len(entries) > 1:
            rows.append(Row(("  together", *_cells(math.fsum(m for _, m in entries), total)), STRONG))
    rows.append(Row(("on the pad", *_cells(total, total)), STRONG))
    lost = closed.vehicle.stages[0].propellant.start_loss / factor
    if lost > 0.0:
        # rounded as its own row above, so that the difference is exact as printed
        entry = next((m for i, m in zip(items, rounded, strict=True) if i.item == "start loss"), lost)
        rows.append(Row(("  less the start loss", fixed(-entry), ""), QUIET))
        rows.append(Row(("at lift-off", fixed(total - entry), ""), STRONG))
    sheet.table((LEFT, RIGHT, RIGHT), rows)


def _cells(mass: float, total: float) -> tuple[str, str]:
    return fixed(mass), f"{fixed(100.0 * mass / total, 1)}\u00a0%"


def _unit(concept: Concept) -> tuple[str, float]:
    """Pounds where the file is written in pounds, else kilograms."""
    stated = [stage.dry_mass for stage in concept.stages] + [
        stage.propellant.mass for stage in concept.stages
    ]
    written = [unit.text for value in stated if (unit := getattr(value, "unit", None)) is not None]
    pounds = sum(text in ("lb", "lbs", "lbm") for text in written)
    return ("lb", POUND) if 2 * pounds > len(written) else ("kg", 1.0)
