"""Is there thrust enough, and not far too much, when a stage is lit?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.closed import Closed
from wetmass.record.digits import readable
from wetmass.record.finding import Finding, Weight
from wetmass.record.vehicle import Stage

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def lift_off(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Thrust at sea level over weight at lift-off, against launchers that flew."""
    vehicle = closed.vehicle
    if concept.site.launch is not None:
        return
    ratio = vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE) / (vehicle.lift_off_mass * STANDARD_GRAVITY)
    accepted = ranges.LIFT_OFF_SOLID if _solid(vehicle.stages[0]) else ranges.LIFT_OFF_LIQUID
    got = readable(ratio, 3)
    rule, part = "lift-off thrust to weight", vehicle.stages[0].name
    told = any(not held.met and held.what == rule for held in closed.held)
    if ratio <= 1.0 and not told:
        remedy = "It does not leave the pad. Add engines, or thrust, or lift less."
        yield Finding(
            rule, Weight.FAILS, part, got, "above 1", remedy, "weight is held up only by thrust above it"
        )
    elif 1.0 < ratio < accepted.low:
        remedy = "It climbs slowly and loses speed to gravity. More thrust or less mass would help."
        yield Finding(rule, Weight.DOUBT, part, got, str(accepted), remedy, accepted.source)
    elif ratio > accepted.high:
        remedy = "More engine than launchers lift off with: check whether its mass is in the dry mass."
        yield Finding(rule, Weight.DOUBT, part, got, str(accepted), remedy, accepted.source)


def ignition(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Thrust over weight as each upper stage is lit, against upper stages that flew."""
    if not closed.closes:
        return  # what the search ended with is no vehicle
    for index, stage in enumerate(closed.vehicle.stages[1:], 1):
        if closed.flight is not None:
            ratio = closed.flight.stages[index].thrust_to_weight
        else:
            mass = closed.vehicle.mass_above(index) - stage.propellant.gone_before
            ratio = stage.vacuum_thrust / (mass * STANDARD_GRAVITY)
        accepted = ranges.IGNITION_SOLID if _solid(stage) else ranges.IGNITION_LIQUID
        if ratio in accepted:
            continue
        if ratio < accepted.low:
            remedy = "It falls back while it burns. More thrust, or less above it, would help."
        else:
            remedy = "More engine than upper stages carry: check whether its mass is in the dry mass."
        yield Finding(
            "thrust to weight at ignition", Weight.DOUBT, stage.name, readable(ratio, 3), str(accepted),
            remedy, accepted.source,
        )  # fmt: skip


def _solid(stage: Stage) -> bool:
    return stage.propellant.pair == "solid"
