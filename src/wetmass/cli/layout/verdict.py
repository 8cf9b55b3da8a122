"""The answer in a sentence or two that a newcomer understands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import STRONG, Sheet
from wetmass.findings.units import shown
from wetmass.record.closed import Closed
from wetmass.record.say import NO_BREAK, duration, said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def verdict(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """Name, story and verdict."""
    sheet.line(closed.name, STRONG)
    if concept.story:
        sheet.paragraph(concept.story, "dim", indent=0)
    sheet.line()
    sheet.paragraph(sentence(concept, closed), indent=0, style=STRONG if closed.closes else f"{STRONG} red")
    unmet = [held.what for held in closed.held if not held.met]
    if closed.closes and unmet:
        sheet.paragraph(f"Not kept: {', '.join(unmet)}.", "red", indent=0)


def sentence(concept: Concept, closed: Closed) -> str:
    """One sentence: what it carries where, or by how much it falls short, and why."""
    name, orbit = closed.name, orbit_words(concept, closed)
    payload = shown(concept, "payload", closed.payload, "kg")
    if closed.short_by > 0.0:
        lacking = said(closed.short_by, "m/s", 3)
        if closed.most_payload is not None and 0.0 < closed.most_payload < closed.payload:
            most = shown(concept, "payload", closed.most_payload, "kg")
            return (
                f"{name} does not reach {orbit} with {payload}: it is {lacking} short, and "
                f"would carry {most}."
            )
        return f"{name} does not reach {orbit} with {payload}: it is {lacking} short."
    if not closed.closes:
        return f"{name} does not close: {(closed.reason or 'no values meet all that is asked').rstrip('.')}."
    text = f"{name} {'lifts' if concept.mission.climbs else 'carries'} {payload} "
    text += f"{'to' if concept.mission.climbs else 'into'} {orbit}"
    if closed.flight is not None:
        text += f", {duration(closed.flight.duration)} after lift-off"
    lift_off = closed.vehicle.lift_off_mass
    share = said(closed.payload / lift_off, "%", 2)
    return (
        f"{text}{_spare(concept, closed)}. It lifts off at {said(lift_off, 'kg')}; {share} of "
        "that is payload."
    )


def orbit_words(concept: Concept, closed: Closed) -> str:
    """The orbit flown, or else asked for: "an orbit 520 km high, inclined 97.5°"."""
    mission = concept.mission
    if mission.climbs:
        return f"a height of {said(mission.height.value, 'm')}"
    inclination = mission.inclination.value if mission.inclination is not None else None
    if closed.closes and closed.flight is not None and inclination is None:
        inclination = closed.flight.orbit.inclination
    if mission.leaves:
        return mission.way_out() + (f", inclined {said(inclination, 'rad')}" if inclination else "")
    low, high = mission.perigee.value, mission.apogee.value
    if low == high:
        words = f"an orbit {said(low, 'm')} high"
    else:
        words = f"an orbit of {said(low, 'm').split(NO_BREAK)[0]}{NO_BREAK}×{NO_BREAK}{said(high, 'm')}"
    return words + (f", inclined {said(inclination, 'rad')}" if inclination is not None else "")


def _spare(concept: Concept, closed: Closed) -> str:
    if closed.payload_asked is None or closed.most_payload is None:
        return ""
    spare = closed.most_payload - closed.payload
    if spare < 0.5e-3 * closed.payload:
        return ""
    return f", and could carry {shown(concept, 'payload', closed.most_payload, 'kg')}"
