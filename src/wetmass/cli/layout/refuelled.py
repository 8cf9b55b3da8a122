"""A refuelling campaign as a page of text."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import BENDS, LEFT, QUIET, RIGHT, Row, Sheet
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.study.refuelling import Campaign

_DAY = 86_400.0


def page(made: Campaign, width: int) -> Sheet:
    """What it needs, how it is filled, what may go wrong, and direct flight beside it."""
    sheet = Sheet(width)
    sheet.line(made.name, "bold")
    sheet.paragraph(_verdict(made), indent=0)
    _stage(sheet, made)
    _tankers(sheet, made)
    _beside(sheet, made)
    _assumed(sheet, made)
    return sheet


def _verdict(made: Campaign) -> str:
    payload = said(made.ship.payload, "kg")
    if not made.possible:
        most = said(max(made.refilled, 0.0), "kg")
        return (
            f"Even with full tanks it does not carry {payload} to: {made.to}. It would need "
            f"{said(made.needed, 'kg')} of propellant and holds {said(made.ship.capacity, 'kg')}; "
            f"with full tanks it carries {most}."
        )
    if not made.nominal.filled:
        return "Tankers bring no more than boils away between them: it is never filled. Send them more often."
    if not made.nominal.launches:
        return f"It carries {payload} to: {made.to} with what is left aboard; no tanker is needed."
    tankers = f"{made.nominal.launches} tanker{'s' if made.nominal.launches > 1 else ''}"
    return f"{tankers} refill it for {payload} to: {made.to}, if none fails; {_spread(made)}."


def _spread(made: Campaign) -> str:
    _, middle, high = made.launches
    if math.isnan(middle):
        return "with failures it is never filled"
    days = made.times[2] / _DAY
    return (
        f"with failures {middle:.0f} launches are the middle and {high:.0f} are enough in 19 of 20 cases, "
        f"over {days:.0f} days"
    )


def _stage(sheet: Sheet, made: Campaign) -> None:
    ship = made.ship
    sheet.heading("The stage on its circle", "200 km high")
    rows = [
        ("speed to the destination, all burns", said(made.speed, "m/s")),
        ("empty, with residuals and reserve", said(ship.empty, "kg")),
        ("payload", said(ship.payload, "kg")),
        ("propellant it needs", said(made.needed, "kg")),
        ("propellant it holds", said(ship.capacity, "kg")),
        ("left aboard on arrival", said(ship.aboard, "kg")),
    ]
    sheet.table((LEFT, RIGHT), [Row(row) for row in rows])


def _tankers(sheet: Sheet, made: Campaign) -> None:
    if not made.nominal.launches:
        return
    arrives = made.delivered * (1.0 - made.plan.lost)
    sheet.heading(
        "Tankers", f"each lifts {said(made.delivered, 'kg')}; {said(arrives, 'kg')} of it arrive in the tanks"
    )
    rows = [Row(("tanker", "day", "aboard after it"), QUIET)]
    shown = made.nominal.aboard[:12]
    rows += [
        Row((str(n), f"{(n - 1) * made.plan.cadence / _DAY:.0f}", said(aboard, "kg")))
        for n, aboard in enumerate(shown, 1)
    ]
    sheet.table((RIGHT, RIGHT, RIGHT), rows)
    if len(made.nominal.aboard) > len(shown):
        sheet.paragraph(f"… and {len(made.nominal.aboard) - len(shown)} more", indent=4)
    low, middle, high = made.launches
    if not math.isnan(middle):
        sheet.paragraph(
            f"With failures, of {made.samples} courses (seed {made.seed}): {low:.0f}, {middle:.0f} and {high:.0f} "
            f"launches at the 5th, 50th and 95th percentile; {said(made.chance_filled, '%', 3)} are filled at all.",
        )


def _beside(sheet: Sheet, made: Campaign) -> None:
    sheet.heading("Beside direct flight", "the last stage makes the burns at the destination")
    direct = "does not get there" if math.isnan(made.direct) else said(made.direct, "kg")
    full = said(made.refilled, "kg") if made.refilled > 0.0 else "nothing"
    rows = [("direct, without refilling", direct), ("most with full tanks", full)]
    sheet.table((LEFT, RIGHT), [Row(row) for row in rows])
    if abs(made.refilled - (made.ship.aboard + made.ship.payload)) < 1e-6 * made.refilled:
        sheet.paragraph("The most is what one launch lifts to the circle.", indent=4)


def _assumed(sheet: Sheet, made: Campaign) -> None:
    plan = made.plan
    sheet.heading("Taken for granted")
    rows = [
        ("a tanker every", f"{plan.cadence / _DAY:g} days"),
        ("lost in the transfer", said(plan.lost, "%", 3)),
        ("boils away in a day", f"{said(plan.boil_off, '%', 3)} of what is aboard"),
        ("a tanker fails", f"{said(plan.failure, '%', 3)} of the time, and its load is lost"),
        ("the stage", "is lit as often as it takes, and nothing of it wears out or freezes"),
        ("burns", "each at once: at a thrust to weight below some 0.3 they cost a few per cent more"),
        ("sources", "none is published for such a service: these are assumptions, give your own"),
    ]
    sheet.table((LEFT, BENDS), [Row(row) for row in rows])
