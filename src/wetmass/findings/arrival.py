"""What is left to do where the ascent does not end the journey."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.concept.arrival import burns, by_last_stage, mass_that_arrives, time_to_arrival
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import duration, said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

HIGH = 600e3  # m of apogee above which a restart is worth a word: ours


def left_to_do(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The burns at the destination, and whose they are."""
    mission = concept.mission
    left = burns(mission, concept.site.latitude.value)
    if not left:
        return
    speed = sum(burn.speed for burn in left)
    words = " and ".join(f"{said(burn.speed, 'm/s', 3)} {burn.words}" for burn in left)
    wait = duration(time_to_arrival(mission))
    stage = closed.vehicle.stages[-1]
    if by_last_stage(mission):
        remedy = (
            f"{stage.name} keeps propellant for it and makes it {wait} after its last cut-off here. What boils "
            'off until then is taken off where the mission says "stay in orbit" for as long.'
        )
    elif mission.arrival is not None and mission.arrival.isp is not None:
        there = mass_that_arrives(closed.payload, speed, mission.arrival.isp.value)
        remedy = f"The payload does it itself: {said(there, 'kg')} arrive, its tanks and engine counted, {wait} later."
    else:
        remedy = (
            "The payload given here does it itself: it is the mass at the end of the ascent. Say its specific "
            'impulse (arrival: {isp: 320 s}) to see what arrives, or "by: last stage".'
        )
    got = words if len(left) == 1 else f"{said(speed, 'm/s', 3)}: {words}"
    yield Finding("left to do at the destination", Weight.NOTE, "", got, "", remedy, left[-1].source)


def a_restart_may_pay(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """A high orbit reached by one burn of a stage that could be lit again."""
    mission = concept.mission
    if not closed.closes or mission.climbs or mission.insertion != "direct":
        return
    last = next(stage for stage in reversed(concept.stages) if stage.strapped_to is None)
    ignitions = min(group.ignitions for group in last.engines)
    if ignitions < 2 or mission.apogee_height <= HIGH:
        return
    height = "no end" if mission.leaves else said(mission.apogee_height, "m")
    yield Finding(
        "one burn to a high orbit", Weight.NOTE, last.name, f"{height} by one burn; it can be lit {ignitions} times",
        f"one burn up to some {said(HIGH, 'm')}",
        "A coast and a second burn usually carry more: say insertion: best, and both are flown.",
        "common practice; both are searched here",
    )  # fmt: skip
