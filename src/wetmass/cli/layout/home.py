"""What becomes of every stage that is let go: where it comes down, what that took, and what it cost."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wetmass.cli.layout.findings import findings_of
from wetmass.cli.layout.sheet import BENDS, LEFT, QUIET, RIGHT, Row, Sheet
from wetmass.findings.units import shown
from wetmass.findings.ways import comes_down, outcome, peak, propellant
from wetmass.physics.earth import ground_distance
from wetmass.record.brought import Brought, Kept
from wetmass.record.closed import Closed
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import fixed
from wetmass.record.homecoming import Homecoming, ImpactPoint
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def home_page(concept: Concept, closed: Closed, width: int) -> Sheet:
    """The ways home of a concept as a page of text."""
    sheet = Sheet(width)
    sheet.heading(f"{closed.name}: the way down of every stage it lets go")
    brought = closed.home
    if brought is None:
        return sheet
    _price(sheet, concept, closed, brought)
    for home in brought.ways:
        _stage(sheet, home)
    for line in brought.not_flown:
        sheet.line()
        sheet.paragraph(line)
    _impact_points(sheet, concept, closed, brought)
    cautions = dict.fromkeys(caution for home in brought.ways for caution in home.cautions)
    if cautions:
        sheet.heading("Caution")
        for caution in cautions:
            sheet.paragraph(caution)
    return sheet


def home_section(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """What becomes of each stage, a line each, and the price: a section of the page of `wetmass fly`."""
    brought = closed.home
    if brought is None or not (brought.ways or brought.not_flown):
        return
    sheet.heading("Home", "`wetmass home` shows each way down in full")
    rows = [(_title(home), _short(home)) for home in brought.ways]
    rows += [tuple(line.split(": ", 1)) for line in brought.not_flown]
    if brought.kept:
        rows.append(("price", _price_words(concept, closed, brought)))
    sheet.table((LEFT, BENDS), [Row(row) for row in rows])


def _title(home: Homecoming) -> str:
    return home.stage if home.count == 1 else f"{home.count} × {home.stage}"


def _short(home: Homecoming) -> str:
    text = f"{outcome(home)}, {said(home.down.distance, 'm', 3)} out at {said(home.down.speed, 'm/s', 2)}"
    burnt = propellant(home)
    return f"{text}; {burnt}" if burnt else text


def _price(sheet: Sheet, concept: Concept, closed: Closed, brought: Brought) -> None:
    if not closed.closes:
        sheet.paragraph(f"{closed.name} does not close with what is kept: {closed.reason}")
        return
    if not brought.kept:
        payload = shown(concept, "payload", brought.payload, "kg")
        sheet.paragraph(f"It carries {payload}; nothing is kept to come home.")
        return
    text = _price_words(concept, closed, brought)
    sheet.paragraph(f"{text[0].upper()}{text[1:]}.")
    for kept in brought.kept:
        sheet.paragraph(_kept(kept))


def _price_words(concept: Concept, closed: Closed, brought: Brought) -> str:
    payload = shown(concept, "payload", brought.payload, "kg")
    if brought.price is None or brought.expended_payload is None:
        return f"it carries {payload} with what is kept to come home; it does not close when nothing is"
    expended = shown(concept, "payload", brought.expended_payload, "kg")
    if brought.price > 1e-3 * brought.payload or brought.expended_lift_off_mass is None:
        return (
            f"coming home costs {said(brought.price, 'kg', 3)} of payload: it carries {payload}, and {expended} "
            "when nothing is kept for it"
        )
    heavier = brought.lift_off_mass - brought.expended_lift_off_mass
    return f"coming home costs {said(heavier, 'kg', 3)} at lift-off: it carries {payload} with and without"


def _kept(kept: Kept) -> str:
    mass = said(kept.kept, "kg", 4)
    if not kept.found:
        return f"{kept.stage} keeps {mass}, as stated."
    if kept.met:
        return f"{kept.stage} keeps {mass}, found in {kept.rounds} flights up and home."
    return f"{kept.stage} keeps {mass}, which does not settle it: {kept.reason}."


def _stage(sheet: Sheet, home: Homecoming) -> None:
    sheet.heading(_title(home), outcome(home))
    _timeline(sheet, home)
    _burns(sheet, home)
    rows = [
        ("comes down", comes_down(home)),
        ("propellant", propellant(home)),
        ("apogee", f"{said(home.apogee.value, 'm', 4)} at {fixed(home.apogee.time)} s"),
        ("greatest dynamic pressure", peak(home.dynamic_pressure, "Pa")),
        ("greatest felt acceleration", peak(home.felt_acceleration, "m/s²")),
        ("greatest heating", f"{peak(home.heating, 'W/m²')}; {fixed(home.heat_load / 1e6, 2)} MJ/m² in all"),
        ("… in thin air, ½ρv³", _thin(home)),
        ("parachutes pull with", _forces(home)),
        ("late by at most", _margin(home)),
        ("thrust to weight at the ground", _steps(home)),
        ("can hover", _hovers(home)),
        ("may come down", _spread(home)),
    ]
    sheet.line()
    sheet.table((LEFT, BENDS), [Row(row) for row in rows if row[1]])
    for finding in home.findings:
        sheet.paragraph(findings_of(finding), hang=2)
    if home.spread is not None:
        sheet.paragraph(f"Drawn by chance: {'; '.join(home.spread.assumed)}.", QUIET, hang=2)
    for line in home.assumed:
        sheet.paragraph(f"Assumed: {line}.", QUIET, hang=2)


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
                fixed(event.felt_acceleration / STANDARD_GRAVITY, 2),
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


def _thin(home: Homecoming) -> str:
    greatest = home.molecular_heating
    return peak(greatest, "W/m²") if greatest.value > 0.0 else ""


def _forces(home: Homecoming) -> str:
    return "; ".join(f"{name} {said(force, 'N', 2)}" for name, force in home.opening_forces)


def _hovers(home: Homecoming) -> str:
    if home.hovers is None:
        return ""
    return "yes" if home.hovers else "no: it must come to rest just at the ground"


def _spread(home: Homecoming) -> str:
    if home.spread is None:
        return ""
    s = home.spread
    return (
        f"{said(s.along, 'm', 2)} along {fixed(math.degrees(s.heading))}° and {said(s.across, 'm', 2)} across "
        f"(one standard deviation; {fixed(s.inside_99, 1)} of both hold 99 % of {s.flights} falls, seed {s.seed})"
    )


def _impact_points(sheet: Sheet, concept: Concept, closed: Closed, brought: Brought) -> None:
    """Where it would fall if everything stopped, at each event of the ascent."""
    if closed.flight is None or not brought.impact_points:
        return
    sheet.heading("Impact point through the ascent", "if everything stopped then; air left out")
    rows = [
        Row(("time", "", "falls for", "latitude", "longitude", "out"), QUIET),
        Row(("s", "", "s", "°", "°", "km"), QUIET),
    ]
    points = {round(point.time, 6): point for point in brought.impact_points}
    told = [
        (event, points[round(event.time, 6)])
        for event in closed.flight.events
        if round(event.time, 6) in points
    ]
    last = brought.impact_points[-1]
    for event, point in told:
        rows.append(_impact(fixed(event.time, 1), event.what, point, concept))
    if not told or last.time > told[-1][1].time:
        rows.append(_impact(fixed(last.time, 1), "last: from here on it stays up", last, concept))
    sheet.table((RIGHT, LEFT, RIGHT, RIGHT, RIGHT, RIGHT), rows)


def _impact(time: str, what: str, point: ImpactPoint, concept: Concept) -> Row:
    site = concept.site
    out = ground_distance(site.latitude.value, site.longitude.value, point.latitude, point.longitude)
    return Row((
        time, what, fixed(point.falls_for), fixed(math.degrees(point.latitude), 2),
        fixed(math.degrees(point.longitude), 2), fixed(out / 1e3),
    ))  # fmt: skip


def _margin(home: Homecoming) -> str:
    return "" if home.ignition_margin is None else f"{said(home.ignition_margin, 's', 2)} at full thrust"


def _steps(home: Homecoming) -> str:
    return "; ".join(
        f"{fixed(step.thrust_to_weight, 2)} with {fixed(step.engines)} at {fixed(100.0 * step.throttle)} %"
        for step in home.throttle_steps[:4]
    )
