"""The steps of the working, in teaching order: what is carried, pushed, burnt, gained, lost and flown."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wetmass.closing.adding import total
from wetmass.closing.arrival import arrival_steps
from wetmass.closing.by_hand import by_hand
from wetmass.closing.measures import burns_of, legs, measured
from wetmass.concept.measures import Measure
from wetmass.concept.model import Concept
from wetmass.flight.ascent import Trial
from wetmass.physics import rocket
from wetmass.record.expression import Symbol
from wetmass.record.flight import Flight
from wetmass.record.geometry import Geometry
from wetmass.record.parts import StageMasses
from wetmass.record.step import Put, Step
from wetmass.record.vehicle import EngineGroup, Stage, Vehicle
from wetmass.vehicle.chamber import chamber_steps
from wetmass.vehicle.geometry import balance_steps, geometry_steps, trims
from wetmass.vehicle.masses import mass_steps
from wetmass.vehicle.nuclear import nuclear_steps

GAINS = "speed gains add up: the rocket equation holds for each stretch from where the last one ended"


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
    ground = {vehicle.stages[0].name, *(s.stage.name for s in vehicle.strap_ons if s.beside == 0)}
    for stage in vehicle.every_stage():
        if stage.name in laid:
            steps += geometry_steps(stated[stage.name], stage, laid[stage.name])
        if stage.name in parts:
            steps += mass_steps(parts[stage.name])
        steps += chamber_steps(stated[stage.name], stage, stage.name in ground)
        steps += nuclear_steps(stage)
        steps.append(
            total("m", f"mass of {_one_of(vehicle, stage)}", [
                ("m_dry", "dry mass", stage.dry_mass),
                ("m_prop", "propellant loaded", stage.propellant.load),
            ], part=stage.name)
        )  # fmt: skip
    steps += _lift_off(vehicle)
    if geometry is not None:
        steps += balance_steps(trims(concept, vehicle, geometry))
    gains = []
    for index in range(len(vehicle.stages)):
        made, gain = _stage_speed(vehicle, index, trial)
        steps += made
        gains.append((f"Δv_{index + 1}", f"ideal gain of the {vehicle.stages[index].name} stage", gain))
    steps.append(total("Δv", "ideal speed gain of all stages", gains, unit="m/s", source=GAINS))
    if flight is not None:
        steps += _flown(flight, concept.mission.climbs)
        steps += _ratio_to_load(vehicle, flight)
        if concept.mission.climbs:
            steps += by_hand(concept, vehicle, flight)[0]
    steps += arrival_steps(concept.mission, concept.site.latitude.value, vehicle.payload)
    return tuple(steps)


def _one_of(vehicle: Vehicle, stage: Stage) -> str:
    """A stage in words; of strap-ons, one."""
    count = next((s.count for s in vehicle.strap_ons if s.stage.name == stage.name), 1)
    return f"one of {count} {stage.name}" if count > 1 else f"the {stage.name} stage"


def _lift_off(vehicle: Vehicle) -> list[Step]:
    first = vehicle.stages[0]
    parts = [(f"m_{i + 1}", f"{s.name} stage", s.gross_mass) for i, s in enumerate(vehicle.stages)]
    parts += [
        (f"m_{s.stage.name.replace(' ', '-')}", f"{s.count} {s.stage.name}", s.gross_mass)
        for s in vehicle.strap_ons
    ]
    parts += [(f"m_{piece.name.replace(' ', '-')}", piece.name, piece.mass) for piece in vehicle.let_go]
    parts.append(("m_payload", "payload", vehicle.payload))
    signs = [1] * len(parts)
    lost = vehicle.mass_above(0) - vehicle.lift_off_mass
    if lost > 0.0:
        parts.append(("m_start", "used before it moves", lost))
        signs.append(-1)
    mass = total("m₀", "mass at lift-off", parts, signs=signs)
    steps = [mass]
    if first.pause > 0.0:  # strap-ons lift it
        thrusts: list[tuple[str, str, float]] = []
    else:
        thrusts = [made for group in first.engines for made in _group_thrust(first, group, 1, steps)]
    for strap in vehicle.strap_ons:
        if strap.beside == 0 and strap.lit_after <= 0.0:
            for group in strap.stage.engines:
                thrusts += _group_thrust(strap.stage, group, strap.count, steps)
    if len(thrusts) > 1:
        named = [(f"F_{'abcdefghijkl'[i % 12]}", words, value) for i, (_, words, value) in enumerate(thrusts)]
        steps.append(total("F", "thrust at lift-off", named, unit="N", source="sum of all that is lit"))
    thrust = vehicle.lift_off_thrust(rocket.SEA_LEVEL_PRESSURE)
    steps.append(
        rocket.thrust_to_weight.step(words="lift-off thrust to weight", thrust=thrust, mass=mass.result)
    )
    return steps


def _group_thrust(
    stage: Stage, group: EngineGroup, times: int, steps: list[Step]
) -> list[tuple[str, str, float]]:
    """(letter, words, thrust at sea level) of a group lit on the ground; its steps are added to `steps`."""
    if not group.lit_on_the_ground:
        return []
    number = group.count * times
    words = f"thrust of one of the {group.name} at sea level"
    if group.jet is not None:
        one = group.jet.static_thrust
    else:
        one_step = rocket.thrust_in_air.step(
            part=stage.name, words=words if group.adapting is None else f"{words}, as a fixed nozzle",
            vacuum_thrust=group.vacuum_thrust, exit_area=group.exit_area,
            ambient_pressure=rocket.SEA_LEVEL_PRESSURE,
        )  # fmt: skip
        steps.append(one_step)
        one = one_step.result
        if group.adapting is not None:
            gain = group.adapting.sea_level_gain
            steps.append(
                total("F₁", words, [
                    ("F_bell", "as a fixed nozzle", one), ("F_gain", "gained by adapting", gain),
                ], unit="N", part=stage.name, source="blend between fixed bell and ideal expansion (ours)")
            )  # fmt: skip
            one += gain
    n, f = Symbol("n"), Symbol("F₁")
    whole = number * one
    puts = (Put("n", "number of engines", float(number), ""), Put("F₁", words, one, "N"))
    steps.append(
        Step(
            "F", f"thrust of the {group.name} at sea level", n * f, puts, whole, "N", "definition", stage.name
        )
    )
    return [("F", group.name, whole)]


def _stage_speed(vehicle: Vehicle, index: int, trial: Trial) -> tuple[list[Step], float]:
    """Exhaust speed, flow, burn time and the ideal gain of one stage, leg by leg as it burns and sheds."""
    stage = vehicle.stages[index]
    if not trial.laid.plain:
        gain = measured(Measure.DELTA_V, index, vehicle, trial)
        words = "ideal speed gain, every engine weighted as it burns"
        flown = Step("Δv", words, None, (), gain, "m/s", "integrated along the flight", stage.name)
        return [flown], gain
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
            ], unit="m/s", part=stage.name, source=GAINS)
        )  # fmt: skip
    return made, gain


def _ratio_to_load(vehicle: Vehicle, flight: Flight) -> list[Step]:
    """Jets burn fuel alone, so a stage with jets is loaded with more of it than its rockets' ratio says."""
    stage = next((s for s in vehicle.stages if any(g.jet or g.ramjet for g in s.engines)), None)
    if stage is None or not flight.jet_fuel > 0.0 or math.isnan(stage.propellant.mixture_ratio):
        return []
    p, j, r = Symbol("m_b"), Symbol("m_j"), Symbol("r")
    burns, fuel, ratio = stage.propellant.burns, flight.jet_fuel, stage.propellant.mixture_ratio
    rockets = burns - fuel
    result = rockets * ratio / (rockets + fuel * (1.0 + ratio))
    return [
        Step("r_b", "oxidiser to fuel of what burns, jets counted", (p - j) * r / (p - j + j * (1 + r)), (
            Put("m_b", "propellant that burns", burns, "kg"), Put("m_j", "fuel burnt by jets", fuel, "kg"),
            Put("r", "mixture ratio of the rockets", ratio, ""),
        ), result, "", "balance of oxidiser and fuel; fuel of jets integrated along the flight", stage.name,
        "The tanks are sized for it; what stays aboard is in the rockets' ratio.")
    ]  # fmt: skip


def _flown(flight: Flight, climbs: bool) -> list[Step]:
    loss = flight.losses
    made = [
        total("v_air", "speed over the turning Earth at the end", [
            ("Δv_flown", "ideal gain as flown", loss.ideal), ("Δv_g", "gravity loss", loss.gravity),
            ("Δv_D", "drag loss", loss.drag), ("Δv_s", "steering loss", loss.steering),
            ("Δv_p", "back-pressure loss", loss.back_pressure),
        ], unit="m/s", signs=[1, -1, -1, -1, -1], source="integrated along the flight"),
        total("v", "speed in axes that do not turn" if climbs else "speed in orbit", [
            ("v_air", "speed over the turning Earth", loss.air_speed_gained),
            ("v_turn", "gain from the Earth's turning", loss.rotation_gain),
        ], unit="m/s", source="integrated along the flight"),
    ]  # fmt: skip
    return made[:1] if climbs else made
