"""The steps of the working, in teaching order: what is carried, pushed, burnt, gained, lost and flown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from wetmass.closing.measures import burns_of, legs
from wetmass.concept.model import Concept
from wetmass.flight.ascent import Trial
from wetmass.physics import rocket
from wetmass.record.expression import Expression, Symbol
from wetmass.record.flight import Flight
from wetmass.record.geometry import Geometry
from wetmass.record.parts import StageMasses
from wetmass.record.step import Put, Step
from wetmass.record.vehicle import Vehicle
from wetmass.vehicle.geometry import geometry_steps
from wetmass.vehicle.masses import mass_steps

_SUM = "sum of the mass table"


def steps_of(
    concept: Concept,
    vehicle: Vehicle,
    flight: Flight | None,
    trial: Trial,
    geometry: Geometry | None = None,
    masses: Sequence[StageMasses] = (),
) -> tuple[Step, ...]:
    """Every step, stage by stage from the ground, then the whole vehicle and what was flown.

    geometry, masses  where everything stands, and dry masses by part; their steps are left out without
    """
    steps: list[Step] = []
    stated = {one.name: one for one in concept.stages}
    laid = {one.name: one for one in geometry.stages} if geometry is not None else {}
    parts = {one.stage: one for one in masses}
    for stage in vehicle.stages:
        if stage.name in laid:
            steps += geometry_steps(stated[stage.name], stage, laid[stage.name])
        if stage.name in parts:
            steps += mass_steps(parts[stage.name])
        steps.append(
            total("m", f"mass of the {stage.name} stage", [
                ("m_dry", "dry mass", stage.dry_mass),
                ("m_prop", "propellant loaded", stage.propellant.load),
            ], part=stage.name)
        )  # fmt: skip
    steps += _lift_off(vehicle)
    gains = []
    for index in range(len(vehicle.stages)):
        made, gain = _stage_speed(vehicle, index, trial)
        steps += made
        gains.append((f"Δv_{index + 1}", f"ideal gain of the {vehicle.stages[index].name} stage", gain))
    steps.append(total("Δv", "ideal speed gain of all stages", gains, unit="m/s"))
    if flight is not None:
        steps += _flown(flight)
    return tuple(steps)


def total(
    symbol: str, words: str, parts: Iterable[tuple[str, str, float]], *, unit: str = "kg", part: str = "",
    signs: Iterable[int] | None = None, source: str = _SUM,
) -> Step:  # fmt: skip
    """A step that adds (or, by `signs`, takes away) named parts."""
    listed = list(parts)
    plus = list(signs) if signs is not None else [1] * len(listed)
    formula: Expression | None = None
    result = 0.0
    for (letter, _, value), sign in zip(listed, plus, strict=True):
        term = Symbol(letter)
        if formula is None:
            formula = term if sign > 0 else -term
        else:
            formula = formula + term if sign > 0 else formula - term
        result += sign * value
    puts = tuple(Put(letter, what, value, unit) for letter, what, value in listed)
    return Step(symbol, words, formula, puts, result, unit, source, part)


def _lift_off(vehicle: Vehicle) -> list[Step]:
    first = vehicle.stages[0]
    parts = [(f"m_{i + 1}", f"{s.name} stage", s.gross_mass) for i, s in enumerate(vehicle.stages)]
    parts += [(f"m_{piece.name.replace(' ', '-')}", piece.name, piece.mass) for piece in vehicle.let_go]
    parts.append(("m_payload", "payload", vehicle.payload))
    signs = [1] * len(parts)
    if first.propellant.start_loss:
        parts.append(("m_start", "used before it moves", first.propellant.start_loss))
        signs.append(-1)
    mass = total("m₀", "mass at lift-off", parts, signs=signs)
    steps = [mass]
    thrust = 0.0
    for group in first.engines:
        one = rocket.thrust_in_air.step(
            part=first.name, words=f"thrust of one of the {group.name} at sea level",
            vacuum_thrust=group.vacuum_thrust, exit_area=group.exit_area,
            ambient_pressure=rocket.SEA_LEVEL_PRESSURE,
        )  # fmt: skip
        steps.append(one)
        thrust += group.count * one.result
    n, f = Symbol("n"), Symbol("F₁")
    if len(first.engines) == 1:
        group = first.engines[0]
        steps.append(
            Step("F", "thrust at lift-off", n * f, (
                Put("n", "number of engines", float(group.count), ""),
                Put("F₁", "thrust of one engine at sea level", steps[-1].result, "N"),
            ), thrust, "N", "definition", first.name)
        )  # fmt: skip
    steps.append(
        rocket.thrust_to_weight.step(words="lift-off thrust to weight", thrust=thrust, mass=mass.result)
    )
    return steps


def _stage_speed(vehicle: Vehicle, index: int, trial: Trial) -> tuple[list[Step], float]:
    """Exhaust speed, flow, burn time and the ideal gain of one stage, leg by leg as it burns and sheds."""
    stage = vehicle.stages[index]
    exhaust = rocket.effective_exhaust_speed.step(part=stage.name, isp_s=stage.vacuum_isp)
    flow = rocket.mass_flow.step(part=stage.name, thrust=stage.vacuum_thrust, exhaust_speed=exhaust.result)
    burn = rocket.burn_time.step(
        part=stage.name,
        words="burn time at full thrust",
        propellant=stage.propellant.burns,
        mass_flow=flow.result,
    )
    stretches = [
        leg for segment in burns_of(index, trial) for leg in legs(segment, trial) if 0.0 < leg[1] <= leg[0]
    ]  # a flight that went nowhere has none
    gains = [
        rocket.ideal_speed_gain.step(
            part=stage.name,
            words="ideal speed gain" if len(stretches) == 1 else f"ideal speed gain, stretch {number}",
            exhaust_speed=exhaust.result,
            start_mass=start,
            end_mass=end,
        )
        for number, (start, end) in enumerate(stretches, 1)
    ]
    gain = sum(step.result for step in gains)
    made = [exhaust, flow, burn, *gains]
    if len(gains) > 1:
        made.append(
            total("Δv", "ideal speed gain of the stage", [
                (f"Δv_{'abcdefgh'[i]}", step.words, step.result) for i, step in enumerate(gains)
            ], unit="m/s", part=stage.name)
        )  # fmt: skip
    return made, gain


def _flown(flight: Flight) -> list[Step]:
    loss = flight.losses
    return [
        total("v_air", "speed over the turning Earth at the end", [
            ("Δv_flown", "ideal gain as flown", loss.ideal), ("Δv_g", "gravity loss", loss.gravity),
            ("Δv_D", "drag loss", loss.drag), ("Δv_s", "steering loss", loss.steering),
            ("Δv_p", "back-pressure loss", loss.back_pressure),
        ], unit="m/s", signs=[1, -1, -1, -1, -1], source="integrated along the flight"),
        total("v", "speed in orbit", [
            ("v_air", "speed over the turning Earth", loss.air_speed_gained),
            ("v_turn", "gain from the Earth's turning", loss.rotation_gain),
        ], unit="m/s", source="integrated along the flight"),
    ]  # fmt: skip
