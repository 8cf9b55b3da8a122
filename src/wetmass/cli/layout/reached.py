"""Destinations as a page of text."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import LEFT, QUIET, RIGHT, Row, Sheet
from wetmass.record.say import said
from wetmass.study.destinations import speed_from_parking

if TYPE_CHECKING:
    from wetmass.closing.elsewhere import Needed, Sent
    from wetmass.study.destinations import Reach, Reached

_DASH = "–"


def page(reach: Reach, width: int) -> Sheet:
    """The table of destinations, and the payload against the energy to leave."""
    sheet = Sheet(width)
    sheet.line(reach.name, "bold")
    sheet.paragraph(
        "The vehicle as its own mission sizes it, sent elsewhere with the most payload. Requirements of the file "
        "were for its own mission and are not asked again; a structure that was made for less payload is not "
        "asked either.",
        indent=0,
    )
    _places(sheet, reach)
    _curve(sheet, reach)
    return sheet


def _places(sheet: Sheet, reach: Reach) -> None:
    sheet.heading("Payload", "at the last cut-off, and what arrives after the burns at the destination")
    isp = said(reach.isp, "s")
    rows = [Row(("", "payload", "left to do", f"own engine, {isp}", "last stage", ""), QUIET)]
    rows += [Row(_cells(one), "" if not one.reason else QUIET) for one in reach.places]
    sheet.table((LEFT, RIGHT, RIGHT, RIGHT, RIGHT, LEFT), rows)
    for one in reach.places:
        if one.reason:
            sheet.paragraph(f"{one.name}: {one.reason.rstrip('.')}.", indent=4, hang=2)
    broken = sorted({what for one in reach.places for what in one.broken})
    if broken:
        sheet.paragraph(f"*  breaks a limit of the file: {', '.join(broken)}", indent=4, hang=3)


def _cells(one: Reached) -> tuple[str, ...]:
    if one.reason:
        return one.name, _DASH, "", "", "", ""
    left = said(one.left, "m/s") if one.left else ""
    arrives = [_mass(value) if one.left else "" for value in (one.by_payload, one.by_stage)]
    way = "restarts" if one.coasts else ""
    return one.name, _mass(one.payload) + ("*" if one.broken else ""), left, *arrives, way


def _mass(value: float) -> str:
    return said(value, "kg") if math.isfinite(value) else _DASH


def _curve(sheet: Sheet, reach: Reach) -> None:
    if not reach.curve:
        return
    aside = "C3 is twice the energy per mass; the speed is an impulse from a circle 185 km high"
    sheet.heading("Payload against the energy to leave", aside)
    rows = [Row(("C3, km²/s²", "speed, km/s", "payload"), QUIET)]
    rows += [
        Row((f"{p.c3 / 1e6:.2f}", f"{speed_from_parking(p.c3) / 1e3:.3f}", _mass(p.payload)))
        for p in reach.curve
        if p.payload > 0.0
    ]
    sheet.table((RIGHT, RIGHT, RIGHT), rows)
    if math.isfinite(reach.greatest_c3):
        text = (
            f"At about {reach.greatest_c3 / 1e6:.3g} km²/s² no payload is left; between the last two points."
        )
        sheet.paragraph(text, indent=4)


def takes(name: str, to: str, wanted: float, there: Sent, needed: Sequence[Needed], width: int) -> Sheet:
    """What it would take to carry a payload to a destination."""
    sheet = Sheet(width)
    sheet.line(name, "bold")
    sheet.paragraph(f"To: {to}. It carries {_mass(there.payload)}; {_mass(wanted)} are asked.", indent=0)
    sheet.heading("What it would take", "one stage's propellant alone, everything else as it is")
    rows = [Row(("", "now", "needed", "more", ""), QUIET)]
    for one in needed:
        if math.isfinite(one.needed):
            more = one.needed - one.load
            sign = "+" if more >= 0.0 else "−"
            rows.append(Row((one.stage, _mass(one.load), _mass(one.needed), f"{sign}{_mass(abs(more))}", "")))
        else:
            best = f"no load does: {_mass(one.best_payload)} at best, with {_mass(one.best_load)}"
            rows.append(Row((one.stage, _mass(one.load), _DASH, "", best)))
    sheet.table((LEFT, RIGHT, RIGHT, RIGHT, LEFT), rows)
    sheet.paragraph(
        "Dry mass follows the propellant where the file lets it follow; engines stay, so a heavier stage climbs "
        "more slowly.",
        indent=2,
    )
    return sheet
