"""The nozzle of an engine whose figures do not give one: both stated in vacuum, and no exit."""

from __future__ import annotations

from wetmass.record.vehicle import EngineGroup

CHAMBER_PRESSURE = 7e6  # Pa, where nothing is said: gas-generator engines, common practice
THRUST_COEFFICIENT = 1.75  # in vacuum, 1.6 to 1.9: common practice
AREA_RATIO = 60.0  # exit over throat of an engine lit high up, where nothing is said: ours
NOZZLE_WORDS = "nozzles that no figure gives: exit 60 times the throat (our choice) at 7 MPa in the chamber (common practice)"


def exit_area(group: EngineGroup) -> float:
    """Area of one exit [m²]: that of its figures, or else the usual one for its thrust; 0 for jets.

    The flight takes nothing from this: high up the air outside does not press on the exit.
    """
    if has_exit(group):
        return group.exit_area
    return AREA_RATIO * group.vacuum_thrust / (THRUST_COEFFICIENT * CHAMBER_PRESSURE)


def area_ratio(group: EngineGroup, chamber_pressure: float) -> float:
    """Exit over throat area, by its thrust and the pressure in its chamber [Pa]."""
    if not has_exit(group):
        return AREA_RATIO
    return group.exit_area * chamber_pressure * THRUST_COEFFICIENT / max(group.vacuum_thrust, 1.0) + 1e-3


def has_exit(group: EngineGroup) -> bool:
    """Whether its figures give an exit, or it is no rocket."""
    return group.exit_area > 0.0 or not group.vacuum_thrust > 0.0
