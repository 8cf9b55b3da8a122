"""Are the losses those of launchers that flew to low orbits?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.flight import Flight
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_ROWS = (
    ("gravity loss", "gravity", ranges.GRAVITY_LOSS, "Look at thrust to weight and at how steeply it rises."),
    ("drag loss", "drag", ranges.DRAG_LOSS, "Look at the diameter, the drag curve, and the mass behind it."),
    ("steering loss", "steering", ranges.STEERING_LOSS, "Look at the thrust of the upper stage "
    "and at the orbit's height."),
    ("back-pressure loss", "back_pressure", ranges.BACK_PRESSURE_LOSS, "Look at the exit area of "
    "the first engines."),
)  # fmt: skip


def turned_into_height(flight: Flight) -> float:
    """Speed given for height in coasts between two burns of a stage [m/s]; part of the gravity loss.

    Published budgets are of ascents in one burn, or end before the coast.
    """
    events, lost = flight.events, 0.0
    for number, event in enumerate(events):
        if event.what.endswith("stops to coast"):
            again = next((e for e in events[number:] if e.what.endswith("lights again")), event)
            lost += event.air_speed - again.air_speed
    return lost


def implausible(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Each loss against published budgets; orbits above 1000 km have none to be held against."""
    flight = closed.flight
    if flight is None or concept.mission.climbs or not flight.orbit.perigee <= ranges.LOW_ORBIT:
        return
    for rule, name, accepted, remedy in _ROWS:
        loss = getattr(flight.losses, name)
        if name == "gravity":
            loss -= turned_into_height(flight)
        if loss in accepted:
            continue
        high = loss > accepted.high
        advice = remedy if high else "Budgets split the losses in several ways: compare the sum as well."
        # less than usual is a question, more than usual costs payload
        yield Finding(
            rule, Weight.DOUBT if high else Weight.NOTE, "", said(loss, "m/s", 3), str(accepted), advice,
            accepted.source,
        )  # fmt: skip
