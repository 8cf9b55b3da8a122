"""Engines said by their chamber: what they came out at and by which chemistry, and whether the nozzle fills."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.physics.nozzle import exit_mach, separation
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.closed import Closed
from wetmass.record.digits import readable
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said
from wetmass.vehicle.chamber import chamber_of, chambers
from wetmass.vehicle.engines import adapting, one_engine

if TYPE_CHECKING:
    from wetmass.concept.model import Concept, EngineGroup, Stage


def from_chamber(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Specific impulse of every group said by its chamber, and whether it was computed or read in a table."""
    for stage in concept.stages:
        for _, group, ideal in chambers(stage):
            vacuum = ideal.vacuum_speed / STANDARD_GRAVITY
            ground = ideal.speed_in_air(SEA_LEVEL_PRESSURE) / STANDARD_GRAVITY
            got = f"specific impulse {said(vacuum, 's')} in vacuum"
            if lit_on_the_ground(concept, stage):
                got += f", {said(ground, 's')} at sea level"
            got += f": {said(ideal.efficiency, '%', 3)} of the ideal {said(vacuum / ideal.efficiency, 's')}, {ideal.way}"
            yield Finding(
                "engine from its chamber", Weight.NOTE, _part(stage, group), got, "",
                "Change the efficiency to suit an engine you know.", ideal.source,
            )  # fmt: skip


def flow_separates(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Exit pressure at sea level against two criteria for flow that leaves the wall, where the chamber is known."""
    for stage in concept.stages:
        if not lit_on_the_ground(concept, stage):
            continue
        for group in stage.engines:
            if group.chamber_pressure is None or group.nozzle != "fixed" or group.kind != "rocket":
                continue
            pressure, mach = _exit(stage, group)
            if not 1.5 <= mach <= 6.0:
                continue  # beyond the criteria
            held = separation(pressure, SEA_LEVEL_PRESSURE, mach)
            if held.verdict == "full":
                continue
            low, high = sorted((held.summerfield, held.schmucker))
            words = "leaves" if held.verdict == "separated" else "may leave"
            yield Finding(
                "flow in the nozzle at sea level", Weight.DOUBT, _part(stage, group),
                f"exit at {readable(held.exit_over_ambient, 2)} of the pressure outside: the flow {words} the wall",
                f"at least {readable(high, 2)}, and above {readable(low, 2)} in any case",
                "Take a smaller area ratio, more chamber pressure, or an altitude-adapting nozzle.",
                held.source,
            )  # fmt: skip


def lit_on_the_ground(concept: Concept, stage: Stage) -> bool:
    """Whether engines of the stage burn in the air at sea level."""
    if concept.site.launch is not None:
        return False
    bottom = next(one for one in concept.stages if one.strapped_to is None).name
    return stage.name == bottom or stage.strapped_to == bottom


def _exit(stage: Stage, group: EngineGroup) -> tuple[float, float]:
    """Pressure [Pa] and Mach number at the exit of the full flow."""
    pair, ratio = stage.propellant.pair, stage.mixture_ratio or float("nan")
    ideal = chamber_of(group, pair, ratio)
    if ideal is not None:
        return ideal.exit_pressure, ideal.exit_mach
    assert group.chamber_pressure is not None
    rocket = one_engine(group, pair, ratio).rocket
    assert rocket is not None
    if not rocket.exit_area > 0.0:
        return float("nan"), float("nan")
    nozzle = adapting(rocket, group.chamber_pressure.value, 0.0, pair, ratio)
    return nozzle.pressure_ratio * nozzle.chamber_pressure, exit_mach(nozzle.pressure_ratio, nozzle.gamma)


def _part(stage: Stage, group: EngineGroup) -> str:
    return f"{stage.name}, {group.name}" if group.name else stage.name
