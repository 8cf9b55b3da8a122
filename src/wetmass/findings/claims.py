"""What someone says of the vehicle, against what was found."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import NO_BREAK, said

if TYPE_CHECKING:
    from wetmass.concept.measures import Claim, Measure
    from wetmass.concept.model import Concept
    from wetmass.concept.quantity import Quantity

_THE_FILE = "the claims of the concept file"


@dataclass(frozen=True, slots=True)
class Compared:
    """A claim beside the result; SI, `found` is None where the result does not say."""

    name: str  # as typed
    claimed: float
    found: float | None
    within: float  # how far off it may be and still agree: its spread, or half of its last digit
    claimed_text: str  # in the user's unit
    found_text: str
    within_text: str

    @property
    def off(self) -> float | None:
        """(claimed − found) / found, None where it cannot be told."""
        return None if self.found in (None, 0.0) else (self.claimed - self.found) / self.found  # type: ignore[operator]

    @property
    def agrees(self) -> bool:
        """Within its own precision."""
        return self.found is not None and abs(self.claimed - self.found) <= self.within


def compare(concept: Concept, closed: Closed) -> tuple[Compared, ...]:
    """Every claim of the file beside what was found."""
    return tuple(_compared(claim, closed) for claim in concept.claims)


def compared(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """A finding for each claim: that it agrees, by how much it does not, or that it cannot be told."""
    for one in compare(concept, closed):
        rule, got = f"claim: {one.name}", f"claimed {one.claimed_text}"
        if one.found is None:
            advice = "The result does not say; without a flight it cannot be checked."
            yield Finding(rule, Weight.NOTE, "", got, "", advice, _THE_FILE)
            continue
        got += f", found {one.found_text}"
        accepted = f"a difference of at most {one.within_text}, as precisely as it is stated"
        if one.agrees:
            yield Finding(rule, Weight.NOTE, "", got, accepted, "It agrees.", _THE_FILE)
            continue
        off = one.off
        by = f"{said(abs(off), '%', 2)} too {'high' if off > 0.0 else 'low'}" if off else "off"
        advice = f"The claim is {by}: say {one.found_text}, or find what the claim takes differently."
        yield Finding(rule, Weight.DOUBT, "", got, accepted, advice, _THE_FILE)


def _compared(claim: Claim, closed: Closed) -> Compared:
    from wetmass.concept.quantity import in_user_units

    def text(value: float, figures: int) -> str:
        return in_user_units(value, claim.quantity, figures).replace(" ", NO_BREAK)

    found, within = value_of(claim.measure, claim.stage, closed), _precision(claim.quantity)
    return Compared(
        name=claim.name,
        claimed=claim.quantity.value,
        found=found,
        within=within,
        claimed_text=str(claim.quantity).replace(" ", NO_BREAK),
        found_text=text(found, 3) if found is not None else "",
        within_text=text(within, 2),
    )


def _precision(stated: Quantity) -> float:
    """Half of the last digit typed, or the half-width of the spread [SI]."""
    if stated.spread is not None:
        return max(stated.spread.high - stated.value, stated.value - stated.spread.low)
    digits = stated.number.replace(" ", "").replace(",", "").lower().partition("e")[0].lstrip("+-")
    whole, _, decimals = digits.partition(".")
    size = abs(float(stated.value / stated.unit.factor))
    typed = abs(float(digits)) or 1.0
    last = 10.0 ** (-len(decimals)) if decimals else 10.0 ** (len(whole) - len(whole.rstrip("0") or "0"))
    return 0.5 * last * (size / typed if size else 1.0) * stated.unit.factor


def value_of(measure: Measure, stage: str, closed: Closed) -> float | None:
    """The measure in a result, SI; None where the result does not say."""
    if stage:
        names = [one.name for one in closed.vehicle.stages]
        return _of_stage(measure, names.index(stage), closed) if stage in names else None
    return _of_vehicle(measure, closed)


def _of_vehicle(measure: Measure, closed: Closed) -> float | None:
    from wetmass.concept.measures import Measure as M

    vehicle, flight = closed.vehicle, closed.flight
    if measure is M.LIFT_OFF_THRUST_TO_WEIGHT:
        return vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE) / (vehicle.lift_off_mass * STANDARD_GRAVITY)
    if measure is M.LIFT_OFF_MASS:
        return vehicle.lift_off_mass
    if measure is M.PAYLOAD:
        return closed.payload
    if measure is M.PAYLOAD_FRACTION:
        return closed.payload / vehicle.lift_off_mass
    if flight is None:
        return None
    flown = {
        M.IDEAL_DELTA_V: flight.losses.ideal,
        M.TIME_TO_ORBIT: flight.duration,
        M.GRAVITY_LOSS: flight.losses.gravity,
        M.DRAG_LOSS: flight.losses.drag,
        M.STEERING_LOSS: flight.losses.steering,
        M.GREATEST_DYNAMIC_PRESSURE: flight.dynamic_pressure.value,
        M.GREATEST_FELT_ACCELERATION: flight.felt_acceleration.value,
    }
    return flown.get(measure)


def _of_stage(measure: Measure, index: int, closed: Closed) -> float | None:
    from wetmass.concept.measures import Measure as M

    stage = closed.vehicle.stages[index]
    start = closed.vehicle.mass_above(index) - stage.propellant.gone_before
    end = start - stage.propellant.burns
    standing = {
        M.DRY_MASS: stage.dry_mass,
        M.PROPELLANT_MASS: stage.propellant.load,
        M.STRUCTURAL_FRACTION: stage.structural_fraction,
        M.MASS_RATIO: start / end if end > 0.0 else math.inf,
    }
    if measure in standing or closed.flight is None:
        return standing.get(measure)
    share = closed.flight.stages[index]
    flown = {
        M.THRUST_TO_WEIGHT: share.thrust_to_weight,
        M.BURN_OUT_SPEED: share.burnout_air_speed,
        M.BURN_OUT_HEIGHT: share.burnout_height,
        M.BURN_TIME: share.burn_time,
        M.DELTA_V: share.ideal,
    }
    return flown.get(measure)
