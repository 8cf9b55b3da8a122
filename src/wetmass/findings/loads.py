"""What the flight puts vehicle and payload through, against launchers that flew."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.findings.ranges import Range
from wetmass.findings.units import shown
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.flight import Peak
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_LET_GO = ("burns out", "let go", "separat", "dropped")


def felt_acceleration(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The greatest felt acceleration."""
    if closed.flight is not None:
        yield from _above(
            concept, "felt acceleration", closed.flight.felt_acceleration, "m/s²",
            ranges.FELT_SOLID if _solids(closed) else ranges.FELT_LIQUID,
            "Payloads are built for less: set a limit, and a minimum throttle that can keep it.",
        )  # fmt: skip


def dynamic_pressure(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The greatest dynamic pressure."""
    if closed.flight is not None:
        yield from _above(
            concept, "dynamic pressure", closed.flight.dynamic_pressure, "Pa",
            ranges.PRESSURE_SOLID if _solids(closed) else ranges.PRESSURE_LIQUID,
            "Structure is built for less: set a limit, throttle in thick air, or rise more steeply.",
        )  # fmt: skip


def q_alpha(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The greatest product of dynamic pressure and angle of attack."""
    if closed.flight is not None:
        yield from _above(
            concept, "q-alpha", closed.flight.q_alpha, "Pa·rad", ranges.Q_ALPHA,
            "Bending loads grow with it: set a limit, or steer freely later, in thinner air.",
        )  # fmt: skip


def separation(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Dynamic pressure as something is let go."""
    if closed.flight is None:
        return
    accepted = ranges.SEPARATION_PRESSURE
    strapped = tuple(strap.stage.name for strap in closed.vehicle.strap_ons)  # thrown aside, in thicker air
    pairs = zip(closed.vehicle.stages, closed.vehicle.stages[1:], strict=False)
    hot = {f"{below.name} burns out" for below, above in pairs if above.hot_overlap > 0.0}
    for event in closed.flight.events:
        if event.dynamic_pressure in accepted or not any(word in event.what for word in _LET_GO):
            continue
        if strapped and event.what.startswith(strapped):
            continue
        if event.what in hot:
            continue  # it is let go later, and told then
        yield Finding(
            f"dynamic pressure when {_clause(event.what)}", Weight.DOUBT, "", said(event.dynamic_pressure, "Pa", 3),
            str(accepted), "What is let go in thick air may strike what flies on: fly higher until then.",
            accepted.source,
        )  # fmt: skip


def _above(
    concept: Concept, what: str, peak: Peak, unit: str, accepted: Range, remedy: str
) -> Iterator[Finding]:
    if peak.value in accepted:
        return
    got = (
        f"{shown(concept, what, peak.value, unit, 3)} at {said(peak.time, 's', 3)}, "
        f"{said(peak.height, 'm', 3)} up"
    )
    yield Finding(f"greatest {what}", Weight.DOUBT, "", got, str(accepted), remedy, accepted.source)


def _solids(closed: Closed) -> bool:
    return any(stage.propellant.pair == "solid" for stage in closed.vehicle.stages)


def _clause(event: str) -> str:
    """What happened as a clause: "first let go" as "first is let go"."""
    return re.sub(r"(?<!\bare)(?<!\bis) let go$", " is let go", event)
