"""What only the flight tells of a stage's propellant: what boiled away between burns, and what jets burnt."""

from __future__ import annotations

from dataclasses import replace

from wetmass.concept.model import Concept
from wetmass.concept.pairs import pair_of
from wetmass.flight.ascent import Trial
from wetmass.flight.layout import DROPPED, JET_FUEL
from wetmass.record.vehicle import Stage, Vehicle


def as_flown(concept: Concept, vehicle: Vehicle, trial: Trial) -> Vehicle:
    """The vehicle with the lines of its propellant that follow from the flight; loads stay as they are."""
    stated = {stage.name: stage for stage in concept.stages}
    made = []
    for index, stage in enumerate(vehicle.stages):
        said = stated[stage.name].propellant
        if stage.boil_rate > 0.0:
            stage = _boiled(stage, index, trial)
        if said.extra_fuel is None and pair_of(said.pair) is not None:
            stage = _with_jet_fuel(stage, index, trial)
        made.append(stage)
    return replace(vehicle, stages=tuple(made))


def _boiled(stage: Stage, index: int, trial: Trial) -> Stage:
    """What leaves as the stage coasts between two burns."""
    laid, p = trial.laid, stage.propellant
    between = [
        s for s in range(1, len(laid.segments) - 1)
        if laid.stage_of[s - 1] == laid.stage_of[s] == laid.stage_of[s + 1] == index
        and laid.burns[s - 1] and not laid.burns[s] and laid.burns[s + 1]
    ]  # fmt: skip
    gone = sum(float(laid.segments[s][DROPPED]) for s in between)
    return replace(stage, propellant=replace(p, burns=p.burns - gone, boil_off_coasting=gone))


def _with_jet_fuel(stage: Stage, index: int, trial: Trial) -> Stage:
    """Fuel that jets burnt on the way up, beside what is kept to come home on them."""
    if not any(g.jet is not None or g.ramjet is not None for g in stage.engines):
        return stage
    laid, p = trial.laid, stage.propellant
    rows = [s for s, owner in enumerate(laid.stage_of) if owner == index]
    before = 0.0 if rows[0] == 0 else float(trial.marks[rows[0] - 1, 1 + JET_FUEL])
    burnt = float(trial.marks[rows[-1], 1 + JET_FUEL]) - before
    return replace(stage, propellant=replace(p, extra_fuel=p.extra_fuel + burnt))
