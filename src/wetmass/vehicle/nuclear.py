"""What a nuclear stage spends apart from steady running: its start, and cooling the core afterwards."""

from __future__ import annotations

from collections.abc import Sequence

from wetmass.concept.model import EngineGroup as Stated
from wetmass.physics.nuclear import cool_down, start_up, thermal_power
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.vehicle import EngineGroup, Kind

USUAL_START = 30.0  # s to full thrust: 20 to 60 s in ground tests, from memory
LEFT_TO_RADIATE = 3e-4  # of full power that needs no more propellant: ours


def start_up_loss(group: EngineGroup, stated: Stated) -> float:
    """Propellant of all starts that gives no thrust [kg]; the rest of it pushes as in steady running."""
    duration = USUAL_START if stated.start_up is None else stated.start_up.value
    exhaust = group.vacuum_isp * STANDARD_GRAVITY
    spent = start_up(group.vacuum_thrust, exhaust, duration)
    return group.count * (spent.propellant - spent.impulse / exhaust)


def cooling(groups: Sequence[EngineGroup], burns: float) -> float:
    """Propellant kept to cool the cores after the last cut-off, out of what could burn [kg]."""
    nuclear = [g for g in groups if g.kind is Kind.NUCLEAR]
    flow = sum(g.flow for g in groups)
    if not nuclear or not burns > 0.0 or not flow > 0.0:
        return 0.0
    kept = 0.0
    for _ in range(8):  # what is kept is not burnt, and so makes no heat
        run = max((burns - kept) / flow, 1.0)
        kept = min(sum(_of_one(g, run) * g.count for g in nuclear), 0.5 * burns)
    return kept


def _of_one(group: EngineGroup, run: float) -> float:
    power = thermal_power(group.vacuum_thrust, group.vacuum_isp * STANDARD_GRAVITY)
    return cool_down(power, run, residual_power=LEFT_TO_RADIATE * power).propellant
