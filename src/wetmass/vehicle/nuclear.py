"""What a nuclear stage spends apart from steady running: its start, and cooling the core afterwards."""

from __future__ import annotations

from collections.abc import Sequence

from wetmass.concept.model import EngineGroup as Stated
from wetmass.physics.nuclear import JET_SHARE, cool_down, decay_energy, start_up, thermal_power
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.digits import fixed
from wetmass.record.expression import Symbol
from wetmass.record.step import Put, Step
from wetmass.record.vehicle import EngineGroup, Kind, Stage

USUAL_START = 30.0  # s to full thrust: 20 to 60 s in ground tests, from memory
COOLING_SPEED = 4000.0  # m/s, mean of the cooling gas, as `cool_down` takes it: from memory
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


def nuclear_steps(stage: Stage) -> list[Step]:
    """Power of the reactor, heat after shut-down, and the propellant that carries it away, of one engine."""
    groups = [g for g in stage.engines if g.kind is Kind.NUCLEAR]
    p, steps = stage.propellant, []
    for group in groups:
        exhaust = group.vacuum_isp * STANDARD_GRAVITY
        run = max((p.burns + p.reserve) / stage.flow, 1.0)
        power = thermal_power.step(
            part=stage.name, words=f"thermal power of one {group.name}", thrust=group.vacuum_thrust,
            exhaust_speed=exhaust,
        )  # fmt: skip
        left = LEFT_TO_RADIATE * power.result
        spent = cool_down(power.result, run, residual_power=left)
        if not spent.propellant > 0.0:
            continue
        heat = decay_energy.step(
            part=stage.name, power=power.result, run_time=run, start=1.0, end=spent.duration,
            remark=f"Until {fixed(left / 1e3)} kW are left, which radiate.",
        )  # fmt: skip
        share, energy, speed = Symbol("η"), Symbol("E_d"), Symbol("c")
        steps += [
            power, heat,
            Step(
                "m_c", f"propellant that cools one {group.name}", 2.0 * share * energy / speed**2, (
                    Put("η", "jet power over heat taken up", JET_SHARE, ""),
                    Put("E_d", "decay heat", heat.result, "J"),
                    Put("c", "mean exhaust speed of the cooling gas", COOLING_SPEED, "m/s"),
                ), spent.propellant, "kg", spent.source, stage.name, "Its thrust is not counted.",
            ),
        ]  # fmt: skip
    return steps
