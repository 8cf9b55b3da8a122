"""Requirements and limits that were not met."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings.units import shown
from wetmass.record.closed import Closed, Held
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_THE_FILE = "the concept file asks for it"


def not_met(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Every requirement and limit that the result does not keep, with what would."""
    for held in closed.held:
        if held.met:
            continue
        got, asked = _told_apart(concept, held)
        yield Finding(
            held.what, Weight.FAILS, "", got, f"{held.relation} {asked}", _remedy(closed, held), _THE_FILE
        )


def _told_apart(concept: Concept, held: Held) -> tuple[str, str]:
    """Both numbers, with figures enough that they differ."""
    for figures in (4, 6, 9):
        got = shown(concept, held.what, held.got, held.unit, figures)
        asked = shown(concept, held.what, held.asked, held.unit, figures)
        if got != asked:
            break
    return got, asked


def _remedy(closed: Closed, held: Held) -> str:
    what = held.what.removeprefix("greatest ")
    if what == "felt acceleration":
        return _throttle(closed, held)
    if what == "dynamic pressure":
        return "Throttle back in thick air, take less thrust at lift-off, or rise more steeply. " + _throttle(
            closed, held
        )
    if what == "q-alpha":
        return "Steer freely later, in thinner air, or allow more."
    if what == "heating":
        return "Keep the fairing longer, or rise more steeply."
    return "Loosen it, or leave open a value that it depends on."


def _throttle(closed: Closed, held: Held) -> str:
    """Whether the engines at work then could have throttled far enough."""
    index = _stage_at_peak(closed, held.what)
    stage = closed.vehicle.stages[index]
    least = max(group.least_throttle for group in stage.engines)
    if least >= 1.0:
        return (
            f"The engines of {stage.name} cannot throttle: give them a minimum throttle, or "
            "stop some of them early."
        )
    if "felt acceleration" not in held.what:
        return f"The engines of {stage.name} throttle to {said(least, '%')} at least."
    needed = least * held.asked / held.got
    return (
        f"The engines of {stage.name} throttle to {said(least, '%')} at least, and "
        f"{said(needed, '%', 2)} would hold it: "
        "lower the minimum throttle, or stop some engines early."
    )


def _stage_at_peak(closed: Closed, what: str) -> int:
    if closed.flight is None:
        return 0
    flight = closed.flight
    time = (flight.felt_acceleration if "felt acceleration" in what else flight.dynamic_pressure).time
    return next(
        (i for i, share in enumerate(flight.stages) if time <= share.burnout_time), len(flight.stages) - 1
    )
