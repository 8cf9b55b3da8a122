"""The number behind each measure that a requirement can bind, from a vehicle and a trial flight."""

from __future__ import annotations

import math

from wetmass.concept.measures import Measure
from wetmass.flight.ascent import Trial
from wetmass.flight.groups import DROP, LAST
from wetmass.flight.layout import (
    BURNT,
    DROPPED,
    END_HEIGHT,
    END_SINCE,
    END_VALUE,
    FIXED_FLOW,
    FIXED_THRUST,
    IDEAL,
    MASS,
    THROTTLED_FLOW,
    THROTTLED_THRUST,
)
from wetmass.physics.earth import OMEGA
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.vehicle import Stage, Vehicle


def measured(measure: Measure, stage: int | str | None, vehicle: Vehicle, trial: Trial) -> float:
    """The measure in SI; `stage` is its position, or the name of strap-ons; None for the whole vehicle."""
    if stage is None:
        return _of_vehicle(measure, vehicle, trial)
    if isinstance(stage, str):
        return _of_strap_ons(measure, stage, vehicle, trial)
    return _of_stage(measure, stage, vehicle, trial)


def _of_vehicle(measure: Measure, vehicle: Vehicle, trial: Trial) -> float:
    if measure is Measure.LIFT_OFF_MASS:
        return vehicle.lift_off_mass
    if measure is Measure.LIFT_OFF_THRUST_TO_WEIGHT:
        return vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE) / (vehicle.lift_off_mass * STANDARD_GRAVITY)
    if measure is Measure.PAYLOAD:
        return vehicle.payload
    if measure is Measure.PAYLOAD_FRACTION:
        return vehicle.payload / vehicle.lift_off_mass
    if measure is Measure.IDEAL_DELTA_V:
        return sum(_speed_gain(i, trial) for i in range(len(vehicle.stages)))
    raise ValueError(f"{measure} cannot be required")


def _of_stage(measure: Measure, index: int, vehicle: Vehicle, trial: Trial) -> float:
    stage = vehicle.stages[index]
    if measure in (Measure.DRY_MASS, Measure.PROPELLANT_MASS, Measure.STRUCTURAL_FRACTION):
        return _of_masses(measure, stage)
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


def _of_strap_ons(measure: Measure, name: str, vehicle: Vehicle, trial: Trial) -> float:
    number = next(i for i, s in enumerate(vehicle.strap_ons) if s.stage.name == name)
    strap, laid = vehicle.strap_ons[number], trial.laid
    if measure in (Measure.DRY_MASS, Measure.PROPELLANT_MASS, Measure.STRUCTURAL_FRACTION):
        return _of_masses(measure, strap.stage)
    mark = trial.marks[laid.group_mark(laid.strap_on_of.index(number))]
    out = float(mark[0]) - strap.let_go_after
    if measure is Measure.BURN_TIME:
        return out - time_before(laid.stage_of.index(strap.beside), trial) - strap.lit_after
    if measure is Measure.BURN_OUT_SPEED:  # as they are let go
        return air_speed(mark[1:])
    raise ValueError(f"{measure} cannot be required of strap-ons")


def _of_masses(measure: Measure, stage: Stage) -> float:
    return {
        Measure.DRY_MASS: stage.dry_mass,
        Measure.PROPELLANT_MASS: stage.propellant.load,
        Measure.STRUCTURAL_FRACTION: stage.structural_fraction,
    }[measure]


def burns_of(index: int, trial: Trial) -> list[int]:
    """The segments in which stage `index` burns."""
    laid = trial.laid
    return [s for s, stage in enumerate(laid.stage_of) if stage == index and laid.burns[s]]


def mass_before(segment: int, trial: Trial) -> float:
    """Mass as the segment begins [kg]."""
    if segment == 0:
        return trial.laid.lift_off_mass
    laid, before = trial.laid, trial.marks[segment - 1]
    row = laid.segments[segment - 1]
    mass = float(before[1 + MASS] - row[DROPPED])
    if row[END_HEIGHT] > 0.0:  # let go before it was empty
        since = int(row[END_SINCE])
        begun = 0.0 if since == 0 else float(trial.marks[since - 1, 1 + BURNT])
        mass -= max(0.0, float(row[END_VALUE] - (before[1 + BURNT] - begun)))
    for g, group in enumerate(laid.groups):
        if int(group[LAST]) == segment - 1 and trial.marks[laid.group_mark(g), 0] == before[0]:
            mass -= float(group[DROP])
    return mass


def time_before(segment: int, trial: Trial) -> float:
    """Time at which the segment begins [s]."""
    return 0.0 if segment == 0 else float(trial.marks[segment - 1, 0])


def air_speed(state) -> float:
    """Speed relative to the turning Earth [m/s]."""
    return math.sqrt((state[3] + OMEGA * state[1]) ** 2 + (state[4] - OMEGA * state[0]) ** 2 + state[5] ** 2)


def _speed_gain(index: int, trial: Trial) -> float:
    """Ideal speed gain of a stage in vacuum, leg by leg between the masses let go [m/s]."""
    laid, total = trial.laid, 0.0
    if not laid.plain:  # integrated along the flight
        last = max(s for s, stage in enumerate(laid.stage_of) if stage == index)
        first = laid.stage_of.index(index)
        before = 0.0 if first == 0 else float(trial.marks[first - 1, 1 + IDEAL])
        return float(trial.marks[last, 1 + IDEAL]) - before
    for segment in burns_of(index, trial):
        row = laid.segments[segment]
        thrust = row[THROTTLED_THRUST] + row[FIXED_THRUST]
        flow = row[THROTTLED_FLOW] + row[FIXED_FLOW]
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
