"""The payload with what stands behind it: reserve, how it was steered, and what it was put through."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import BENDS, LEFT, Row, Sheet
from wetmass.concept.arrival import speed_kept
from wetmass.findings.units import shown
from wetmass.record.closed import Closed
from wetmass.record.flight import Peak
from wetmass.record.say import NO_BREAK, said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def margin(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """Payload, what is left and kept, steering law, greatest loads."""
    sheet.heading("Payload and margin")
    rows = [
        ("payload", _payload(concept, closed)),
        ("spread", _spread(closed)),
        ("kept back", _kept(concept, closed)),
    ]
    if closed.flight is not None:
        flight = closed.flight
        rows += [
            ("burnt by jets", _jets(closed)),
            ("steering", _steering(closed)),
            ("greatest q-alpha", _peak(concept, "q-alpha", flight.q_alpha, "Pa·rad")),
            ("greatest dynamic pressure", _peak(concept, "dynamic pressure", flight.dynamic_pressure, "Pa")),
            (
                "greatest felt acceleration",
                _peak(concept, "felt acceleration", flight.felt_acceleration, "m/s²"),
            ),
        ]
    sheet.table((LEFT, BENDS), [Row(row) for row in rows if row[1]])


def _payload(concept: Concept, closed: Closed) -> str:
    text = shown(concept, "payload", closed.payload, "kg")
    lift_off = closed.vehicle.lift_off_mass
    if lift_off > 0.0:
        text += f", {said(closed.payload / lift_off, '%', 3)} of the lift-off mass"
    if closed.most_payload is not None and closed.payload_asked is not None:
        text += f"; the most it can carry is {shown(concept, 'payload', closed.most_payload, 'kg')}"
    return text


def _spread(closed: Closed) -> str:
    spread = closed.spread
    if spread is None:
        return ""
    text = f"{spread.aim} ± {said(2.0 * spread.sigma, 'kg', 2)} to first order, two standard deviations, by "
    listed = [
        f"{one.where}, {one.stated.replace(' ', NO_BREAK)} ({said(2.0 * abs(one.effect), 'kg', 2)})"
        for one in spread.parts[:4]
    ]
    more = len(spread.parts) - 4
    return text + "; ".join(listed) + (f"; and {more} more" if more > 0 else "")


def _kept(concept: Concept, closed: Closed) -> str:
    stage = closed.vehicle.stages[-1]
    parts = []
    if stage.propellant.reserve > 0.0:
        speed = concept.performance_reserve
        later = speed_kept(concept.mission, concept.site.latitude.value)
        worth = [str(speed)] if speed is not None else []
        worth += [f"{said(later, 'm/s')} at the destination"] if later else []
        parts.append(
            f"{said(stage.propellant.reserve, 'kg', 3)} of propellant in {stage.name}{_worth(worth)}"
        )
    if abs(closed.left_over) >= 0.5:
        kind = "left over beyond it" if closed.left_over > 0.0 else "lacking"
        parts.append(f"{said(abs(closed.left_over), 'kg', 3)} {kind}")
    return "; ".join(parts) or "nothing: no performance reserve is stated"


def _worth(speeds: list[str]) -> str:
    return f", worth {' and '.join(speeds)}" if speeds else ""


def _jets(closed: Closed) -> str:
    assert closed.flight is not None
    fuel = closed.flight.jet_fuel
    return f"{said(fuel, 'kg', 3)} of fuel, out of the propellant loaded" if fuel > 0.5 else ""


def _steering(closed: Closed) -> str:
    assert closed.flight is not None
    used = closed.flight.steering
    return (
        used.law
        if used.law.startswith("straight up")
        else f"{used.law}; heading {said(used.heading, 'rad', 4)}, tilted {said(used.tilt, 'rad', 3)} "
        "from the vertical"
        if "free" not in used.law
        else f"{used.law}; heading {said(used.heading, 'rad', 4)}, tilted {said(used.tilt, 'rad', 3)} "
        "from the vertical, "
        f"free from {said(used.free_from_time, 's', 3)}, {said(used.free_from_height, 'm', 3)} up, "
        f"at {said(used.free_from_pressure, 'Pa', 3)}"
    )


def _peak(concept: Concept, what: str, peak: Peak, unit: str) -> str:
    return (
        f"{shown(concept, what, peak.value, unit, 3)} at {said(peak.time, 's', 3)}, "
        f"{said(peak.height, 'm', 3)} up"
    )
