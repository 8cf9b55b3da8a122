"""What becomes of every stage that is let go: where it comes down, what that took, and what it cost."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.cli.layout.findings import findings_of
from wetmass.cli.layout.sheet import LEFT, QUIET, RIGHT, Row, Sheet
from wetmass.findings.units import shown
from wetmass.record.brought import Brought, Kept
from wetmass.record.digits import fixed
from wetmass.record.homecoming import By, Homecoming
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_GRAVITY = 9.80665  # m/s², exact by definition: CGPM 1901


def home_page(concept: Concept, brought: Brought, width: int) -> Sheet:
    """The ways home of a concept as a page of text."""
    sheet = Sheet(width)
    sheet.heading(f"{brought.closed.name}: the way down of every stage it lets go")
    _price(sheet, concept, brought)
    for home in brought.ways:
        _stage(sheet, home)
    for line in brought.not_flown:
        sheet.line()
        sheet.paragraph(line)
    cautions = dict.fromkeys(caution for home in brought.ways for caution in home.cautions)
    if cautions:
        sheet.heading("Caution")
        for caution in cautions:
            sheet.paragraph(caution)
    return sheet


def _price(sheet: Sheet, concept: Concept, brought: Brought) -> None:
    closed = brought.closed
    if not closed.closes:
        sheet.paragraph(f"{closed.name} does not close with what is kept: {closed.reason}")
        return
    payload = shown(concept, "payload", closed.payload, "kg")
    if not brought.kept or brought.price is None or brought.expended_payload is None:
        sheet.paragraph(f"It carries {payload}; nothing is kept to come home.")
        return
    expended = shown(concept, "payload", brought.expended_payload, "kg")
    sheet.paragraph(
        f"It carries {payload} with what is kept to come home, and {expended} when nothing is: "
        f"coming home costs {said(brought.price, 'kg', 3)} of payload."
    )
    for kept in brought.kept:
        sheet.paragraph(_kept(kept))


def _kept(kept: Kept) -> str:
    mass = said(kept.kept, "kg", 4)
    if not kept.found:
        return f"{kept.stage} keeps {mass}, as stated."
    if kept.met:
        return f"{kept.stage} keeps {mass}, found in {kept.rounds} flights up and home."
    return f"{kept.stage} keeps {mass}, which does not settle it: {kept.reason}."


def _stage(sheet: Sheet, home: Homecoming) -> None:
    sheet.heading(home.stage, _outcome(home))
    _timeline(sheet, home)
    _burns(sheet, home)
    rows = [
        ("comes down", _down(home)),
        ("propellant", _propellant(home)),
        ("greatest dynamic pressure", said(home.dynamic_pressure.value, "Pa", 3)),
        ("greatest felt acceleration", said(home.felt_acceleration.value, "m/s²", 3)),
        ("greatest heating", f"{said(home.heating.value, 'W/m²', 3)} at its foremost point, indicative only"),
        ("late by at most", _margin(home)),
        ("thrust to weight at the ground", _steps(home)),
    ]
    sheet.line()
    sheet.table((LEFT, LEFT), [Row(row) for row in rows if row[1]])
    for finding in home.findings:
        sheet.paragraph(findings_of(finding), hang=2)
    for line in home.assumed:
        sheet.paragraph(f"Assumed: {line}.", QUIET, hang=2)


def _outcome(home: Homecoming) -> str:
    if home.way.by is By.BALLISTIC:
        return "falls"
    where = "" if home.way.place_name == "downrange" else f", {home.way.place_name}"
    return f"{home.way.by}{where}: {'comes home' if home.comes_home else 'does not come home'}"


def _timeline(sheet: Sheet, home: Homecoming) -> None:
    rows = [
        Row(("time", "", "height", "speed", "out", "pressure", "felt"), QUIET),
        Row(("s", "", "km", "m/s", "km", "kPa", "g₀"), QUIET),
    ]
    for event in home.events:
        rows.append(
            Row((
                fixed(event.time, 1), event.what, fixed(event.height / 1e3, 1), fixed(event.air_speed),
                fixed(event.downrange / 1e3, 1), fixed(event.dynamic_pressure / 1e3, 2),
                fixed(event.felt_acceleration / _GRAVITY, 2),
            ))
        )  # fmt: skip
    sheet.table((RIGHT, LEFT, RIGHT, RIGHT, RIGHT, RIGHT, RIGHT), rows)


def _burns(sheet: Sheet, home: Homecoming) -> None:
    if not home.burns:
        return
    sheet.line()
    rows = [
        Row(("", "lit at", "lasts", "engines", "throttle", "burns", "thrust to weight"), QUIET),
        Row(("", "km", "s", "", "%", "kg", ""), QUIET),
    ]
    for burn in home.burns:
        rows.append(
            Row((
                burn.what, fixed(burn.height / 1e3, 2), fixed(burn.duration, 1), fixed(burn.engines),
                fixed(100.0 * burn.throttle), fixed(burn.propellant),
                f"{fixed(burn.thrust_to_weight_start, 2)} to {fixed(burn.thrust_to_weight_end, 2)}",
            ))
        )  # fmt: skip
    sheet.table((LEFT, RIGHT, RIGHT, RIGHT, RIGHT, RIGHT, RIGHT), rows)


def _down(home: Homecoming) -> str:
    down = home.down
    text = f"{said(down.distance, 'm', 4)} from the site, at {said(down.speed, 'm/s', 3)}"
    return (
        text if down.missed_by < 1.0 else f"{text}, {said(down.missed_by, 'm', 3)} beside the place asked for"
    )


def _propellant(home: Homecoming) -> str:
    if home.way.by is By.BALLISTIC or (not home.used and not home.reserve):
        return ""
    text = f"{said(home.used, 'kg', 4)} used of {said(home.reserve, 'kg', 4)} kept"
    return text if home.needed is None else f"{text}; {said(home.needed, 'kg', 4)} would just do"


def _margin(home: Homecoming) -> str:
    return "" if home.ignition_margin is None else f"{said(home.ignition_margin, 's', 2)} at full thrust"


def _steps(home: Homecoming) -> str:
    return "; ".join(
        f"{fixed(step.thrust_to_weight, 2)} with {fixed(step.engines)} at {fixed(100.0 * step.throttle)} %"
        for step in home.throttle_steps[:4]
    )
