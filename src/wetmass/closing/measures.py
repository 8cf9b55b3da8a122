"""The number behind each measure that a requirement can bind, from a vehicle and a trial flight."""

from __future__ import annotations

import math

from wetmass.concept.measures import Measure
from wetmass.flight.ascent import Trial
from wetmass.flight.layout import DROPPED, MASS
from wetmass.physics.earth import OMEGA
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.vehicle import Vehicle


def measured(measure: Measure, stage: int | None, vehicle: Vehicle, trial: Trial) -> float:
    """The measure in SI; `stage` is the position of the stage, None for the whole vehicle."""
    if stage is None:
        return _of_vehicle(measure, vehicle, trial)
    return _of_stage(measure, stage, vehicle, trial)


def _of_vehicle(measure: Measure, vehicle: Vehicle, trial: Trial) -> float:
    if measure is Measure.LIFT_OFF_MASS:
        return vehicle.lift_off_mass
    if measure is Measure.LIFT_OFF_THRUST_TO_WEIGHT:
        return vehicle.stages[0].thrust(SEA_LEVEL_PRESSURE) / (vehicle.lift_off_mass * STANDARD_GRAVITY)
    if measure is Measure.PAYLOAD:
        return vehicle.payload
    if measure is Measure.PAYLOAD_FRACTION:
        return vehicle.payload / vehicle.lift_off_mass
    if measure is Measure.IDEAL_DELTA_V:
        return sum(_speed_gain(i, trial) for i in range(len(vehicle.stages)))
    raise ValueError(f"{measure} cannot be required")


def _of_stage(measure: Measure, index: int, vehicle: Vehicle, trial: Trial) -> float:
    stage = vehicle.stages[index]
    if measure is Measure.DRY_MASS:
        return stage.dry_mass
    if measure is Measure.PROPELLANT_MASS:
        return stage.propellant.load
    if measure is Measure.STRUCTURAL_FRACTION:
        return stage.structural_fraction
    if measure is Measure.DELTA_V:
        return _speed_gain(index, trial)
    burns = burns_of(index, trial)
    start, end = mass_before(burns[0], trial), trial.marks[burns[-1], 1 + MASS]
    if measure is Measure.MASS_RATIO:
        return start / end
    if measure is Measure.BURN_TIME:
        return sum(float(trial.marks[b, 0]) - time_before(b, trial) for b in burns)
    if measure is Measure.THRUST_TO_WEIGHT:
        pressure = SEA_LEVEL_PRESSURE if index == 0 else 0.0
        return stage.thrust(pressure) / (start * STANDARD_GRAVITY)
    if measure is Measure.BURN_OUT_SPEED:
        return air_speed(trial.marks[burns[-1], 1:])
    raise ValueError(f"{measure} cannot be required")


def burns_of(index: int, trial: Trial) -> list[int]:
    """The segments in which stage `index` burns."""
    laid = trial.laid
    return [s for s, stage in enumerate(laid.stage_of) if stage == index and laid.burns[s]]


def mass_before(segment: int, trial: Trial) -> float:
    """Mass as the segment begins [kg]."""
    if segment == 0:
        return trial.laid.lift_off_mass
    return float(trial.marks[segment - 1, 1 + MASS] - trial.laid.segments[segment - 1, DROPPED])


def time_before(segment: int, trial: Trial) -> float:
    """Time at which the segment begins [s]."""
    return 0.0 if segment == 0 else float(trial.marks[segment - 1, 0])


def air_speed(state) -> float:
    """Speed relative to the turning Earth [m/s]."""
    return math.sqrt((state[3] + OMEGA * state[1]) ** 2 + (state[4] - OMEGA * state[0]) ** 2 + state[5] ** 2)


def _speed_gain(index: int, trial: Trial) -> float:
    """Ideal speed gain of a stage in vacuum, leg by leg between the masses let go [m/s]."""
    total = 0.0
    for segment in burns_of(index, trial):
        thrust, flow = trial.laid.segments[segment, 0], trial.laid.segments[segment, 1]
        for start, end in legs(segment, trial):
            total += thrust / flow * math.log(start / end) if end > 0.0 else math.inf
    return total


def legs(segment: int, trial: Trial) -> list[tuple[float, float]]:
    """(mass before, mass after) [kg] of the stretches of a burn between the masses let go in it."""
    begins, ends = time_before(segment, trial), float(trial.marks[segment, 0])
    first = len(trial.laid.segments)
    gone = sorted(
        (float(trial.marks[first + j, 0]), float(trial.marks[first + j, 1 + MASS]), float(piece[0]))
        for j, piece in enumerate(trial.laid.let_go)
        if begins < trial.marks[first + j, 0] <= ends
    )
    found, mass = [], mass_before(segment, trial)
    for _, before, dropped in gone:
        found.append((mass, before))
        mass = before - dropped
    return [*found, (mass, float(trial.marks[segment, 1 + MASS]))]
