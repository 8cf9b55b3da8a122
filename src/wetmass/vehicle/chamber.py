"""Engines said by their chamber: what chemistry gives for the pair, and the steps that lead to their figures."""

from __future__ import annotations

from collections.abc import Iterator

from wetmass.concept.model import EngineGroup as Stated
from wetmass.concept.model import Stage as StatedStage
from wetmass.physics import chamber
from wetmass.physics.chamber import USUAL_EFFICIENCY, IdealEngine
from wetmass.physics.chemistry import best_engine
from wetmass.physics.engines import Engine
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.expression import Symbol
from wetmass.record.step import Put, Step
from wetmass.record.vehicle import Stage
from wetmass.vehicle.geometry.engines import as_stated


def chamber_of(stated: Stated, pair: str, mixture_ratio: float) -> IdealEngine | None:
    """What the pair gives in the chamber and nozzle of a group; None where its figures are stated."""
    if stated.area_ratio is None:
        return None
    assert stated.chamber_pressure is not None
    efficiency = USUAL_EFFICIENCY if stated.efficiency is None else stated.efficiency.value
    return best_engine(
        pair, stated.chamber_pressure.value, mixture_ratio, stated.area_ratio.value, efficiency
    )  # fmt: skip


def engine_from(ideal: IdealEngine, stated: Stated) -> Engine:
    """One engine with the thrust that is stated, at sea level or in vacuum."""
    assert stated.thrust is not None
    if stated.thrust.vacuum is not None:
        flow = stated.thrust.vacuum.value / ideal.vacuum_speed
    else:
        assert stated.thrust.sea_level is not None
        flow = stated.thrust.sea_level.value / ideal.speed_in_air(SEA_LEVEL_PRESSURE)
    thrust = flow * ideal.vacuum_speed
    return Engine(thrust, flow, chamber.exit_area(thrust, *_nozzle(ideal)))


def _nozzle(ideal: IdealEngine) -> tuple[float, float, float, float]:
    return ideal.vacuum_speed, ideal.characteristic_speed, ideal.area_ratio, ideal.chamber_pressure


def chambers(stated: StatedStage) -> Iterator[tuple[int, Stated, IdealEngine]]:
    """(position, group, what chemistry gives) of every group of a stage that is said by its chamber."""
    for position, group in enumerate(stated.engines):
        ideal = chamber_of(group, stated.propellant.pair, stated.mixture_ratio or 0.0)
        if ideal is not None:
            yield position, group, ideal


def chamber_steps(stated: StatedStage, stage: Stage, on_the_ground: bool) -> list[Step]:
    """From chamber and nozzle to exhaust speed, specific impulse and exit, for each such group."""
    steps: list[Step] = []
    flown = as_stated(stated, stage.engines)
    for position, _, ideal in chambers(stated):
        name, thrust = flown[position].name, flown[position].vacuum_thrust
        puts = (
            Put("p_c", "pressure in the chamber", ideal.chamber_pressure, "Pa"),
            Put("r", "mixture ratio, oxidiser over fuel by mass", ideal.mixture_ratio, ""),
        )
        wide = Put("ε", "exit area over throat area", ideal.area_ratio, "")
        star, coefficient = ideal.characteristic_speed, ideal.vacuum_coefficient
        nozzle = {
            "vacuum_speed": ideal.vacuum_speed, "characteristic_speed": star,
            "area_ratio": ideal.area_ratio, "chamber_pressure": ideal.chamber_pressure,
        }  # fmt: skip
        vacuum = chamber.delivered_speed.step(
            part=stage.name, words=f"exhaust speed of the {name} in vacuum", symbol="c_vac",
            efficiency=ideal.efficiency, characteristic_speed=star, coefficient=coefficient,
        )  # fmt: skip
        air = chamber.speed_in_air.step(
            part=stage.name, words=f"exhaust speed of the {name} at sea level", symbol="c_sl", **nozzle,
            ambient_pressure=SEA_LEVEL_PRESSURE,
        )  # fmt: skip
        steps += [
            Step("c*", f"ideal characteristic speed of the {name}", None, puts, star, "m/s", ideal.source,
                 stage.name),
            Step("C_F", f"ideal thrust coefficient of the {name} in vacuum", None, (*puts, wide), coefficient,
                 "", ideal.source, stage.name),
            vacuum, _impulse(vacuum, stage.name, f"specific impulse of the {name} in vacuum"),
        ]  # fmt: skip
        if on_the_ground and air.result > 0.0:
            steps += [air, _impulse(air, stage.name, f"specific impulse of the {name} at sea level")]
        steps.append(
            chamber.exit_area.step(
                part=stage.name, words=f"exit of one of the {name}", thrust=thrust, **nozzle
            )
        )  # fmt: skip
    return steps


def _impulse(speed: Step, part: str, words: str) -> Step:
    puts = (
        Put(speed.symbol, speed.words, speed.result, "m/s"),
        Put("g₀", "standard gravity", STANDARD_GRAVITY, "m/s²"),
    )
    formula = Symbol(speed.symbol) / Symbol("g₀")
    return Step("Isp", words, formula, puts, speed.result / STANDARD_GRAVITY, "s", "definition", part)
