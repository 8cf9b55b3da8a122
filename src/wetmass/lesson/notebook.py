"""What records show of themselves in a notebook: a closed concept, a flight, a step, a stage as HTML.

`shown` gives the text; `register` tells IPython about it, and `wetmass.fly` calls it where IPython runs.
"""

from __future__ import annotations

from typing import Any

from wetmass.lesson.look import LIGHT
from wetmass.lesson.words import said as worded
from wetmass.record.closed import Closed
from wetmass.record.digits import fixed
from wetmass.record.flight import Flight
from wetmass.record.say import said
from wetmass.record.step import Step
from wetmass.record.vehicle import Stage, Vehicle

_TABLE = (
    '<table style="border-collapse:collapse"><caption style="text-align:left;font-weight:600">{}</caption>'
    "<tbody>{}</tbody></table>"
)


def shown(record: Any) -> str | None:
    """A record as HTML; None for one of which there is nothing to show but its words."""
    if isinstance(record, Closed):
        return _closed(record)
    if isinstance(record, Flight):
        return _flight(record)
    if isinstance(record, Step):
        return _step(record)
    if isinstance(record, Vehicle):
        return _masses(record)
    if isinstance(record, Stage):
        return _masses(Vehicle(record.name, (record,), 0.0))
    return None


def register(shell: Any = None) -> None:
    """Tell an IPython shell how records are shown; without one, the shell that runs, where one does."""
    if shell is None:
        from IPython import get_ipython

        shell = get_ipython()
    if shell is None:
        return
    html = shell.display_formatter.formatters["text/html"]
    for kind in (Closed, Flight, Step, Vehicle, Stage):
        html.for_type(kind, shown)


def _table(caption: str, rows: list[tuple[str, ...]]) -> str:
    from html import escape

    body = "".join(
        f'<tr><th scope="row" style="text-align:left">{escape(first)}</th>'
        + "".join(f'<td style="text-align:right">{escape(cell)}</td>' for cell in rest)
        + "</tr>"
        for first, *rest in rows
    )
    return _TABLE.format(escape(caption), body)


def _closed(closed: Closed) -> str:
    if not closed.closes:
        return _table(closed.name, [(worded("notebook/does_not_close"), closed.reason)])
    from wetmass.lesson import drawing
    from wetmass.lesson.look import fixed as drawn_in

    rows = [
        (worded("tiles/payload"), said(closed.payload, "kg")),
        (worded("tiles/lift_off_mass"), said(closed.vehicle.lift_off_mass, "kg")),
    ]
    if closed.flight is not None:
        loss = closed.flight.losses
        rows += [(worded("tiles/ideal"), said(loss.ideal, "m/s")),
                 (worded("tiles/lost"), said(loss.ideal - loss.air_speed_gained, "m/s"))]  # fmt: skip
    for one in closed.held:
        rows.append((one.what, f"{said(one.got, one.unit)} ({one.relation} {said(one.asked, one.unit)})"))
    table = _table(closed.name, rows)
    if closed.geometry is None or not closed.geometry.stages:
        return table
    picture = drawn_in(drawing.portrait(closed.geometry, closed.vehicle, 220.0).svg(), LIGHT)
    return f'<div style="display:flex;gap:2em;align-items:end;background:#fff">{table}{picture}</div>'


def _flight(flight: Flight) -> str:
    rows = [("", *(worded(f"notebook/{key}") for key in ("time", "height", "speed", "mass")))]
    rows += [
        (e.what, fixed(e.time, 1), fixed(e.height / 1e3, 1), fixed(e.air_speed), fixed(e.mass / 1e3, 1))
        for e in flight.events
    ]  # fmt: skip
    return _table(worded("notebook/flight", name=flight.vehicle.name), rows)


def _masses(vehicle: Vehicle) -> str:
    rows = [
        (f"{item.part}, {item.item}".strip(", "), f"{fixed(item.mass)} kg")
        for item in vehicle.mass_table() if item.mass
    ]  # fmt: skip
    return _table(vehicle.name, rows)


def _step(step: Step) -> str:
    from html import escape

    from wetmass.lesson.mathematics import Lines
    from wetmass.lesson.mathematics.mathml import math

    lines = Lines.of(step)
    rows = [
        f"{math(lines.symbol)}{math('<mo>=</mo>' + ''.join(pieces))}"
        for pieces in (lines.letters, lines.numbers, (lines.result,))
        if pieces
    ]
    inside = "".join(f"<div>{row}</div>" for row in rows)
    return f"<div><strong>{escape(step.words)}</strong>{inside}<small>{escape(step.source)}</small></div>"
