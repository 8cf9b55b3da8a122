"""A climb by hand, as on a blackboard, beside what was flown: √(2h/a), mean flow, rocket equation."""

from __future__ import annotations

import math

from wetmass.concept.model import Concept
from wetmass.physics import rocket
from wetmass.record.closed import Beside
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import fixed
from wetmass.record.expression import Operation, Symbol
from wetmass.record.flight import Flight
from wetmass.record.step import Put, Step
from wetmass.record.vehicle import SEA_LEVEL_PRESSURE, Vehicle

HAND = "steady acceleration, steady flow: a blackboard estimate"
FLOWN = "integrated along the flight"


def by_hand(concept: Concept, vehicle: Vehicle, flight: Flight) -> tuple[list[Step], tuple[Beside, ...]]:
    """Time, speed, propellant and ideal gain of the bottom stage's climb by hand, each beside the flight's.

    The acceleration is that of lift-off, or of the limit of felt acceleration where that is less; the climb
    ends where the bottom stage does.  Nothing where it does not rise at all.
    """
    share = flight.stages[0]
    mass, thrust = vehicle.lift_off_mass, vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE)
    limit = concept.limits.felt_acceleration
    felt = thrust / mass
    if limit is not None:
        felt = min(felt, limit.value)
    net = felt - STANDARD_GRAVITY
    rise = share.burnout_height - flight.events[0].height
    if net <= 0.0 or rise <= 0.0:
        return [], ()
    part = vehicle.stages[0].name
    h, a, t, g = Symbol("h"), Symbol("a"), Symbol("t"), Symbol("g₀")
    time, speed = math.sqrt(2.0 * rise / net), math.sqrt(2.0 * rise * net)
    flow = _flow(vehicle)
    mean = flow * felt * mass / thrust
    burnt = mean * time
    exhaust = thrust / flow
    left = mass - burnt
    q, f = Symbol("ṁ"), Symbol("F")
    made = [
        Step("a", "net acceleration upwards, by hand", Symbol("n") - g, (
            Put("n", "felt acceleration at lift-off", felt, "m/s²"),
            Put("g₀", "gravity", STANDARD_GRAVITY, "m/s²"),
        ), net, "m/s²", HAND, part),
        Step("t", "time of the climb, by hand", Operation("sqrt", (2 * h / a,)), (
            Put("h", "height climbed by the stage", rise, "m"), Put("a", "net acceleration", net, "m/s²"),
        ), time, "s", HAND, part, f"Flown: {flight.stages[0].burnout_time:.1f} s."),
        Step("v", "speed at its end, by hand", a * t, (
            Put("a", "net acceleration", net, "m/s²"), Put("t", "time of the climb", time, "s"),
        ), speed, "m/s", HAND, part, f"Flown: {share.burnout_air_speed:.0f} m/s."),
        Step("c", "effective exhaust speed of all engines at lift-off", f / q, (
            Put("F", "thrust at lift-off", thrust, "N"), Put("ṁ", "flow at full throttle", flow, "kg/s"),
        ), exhaust, "m/s", "definition; fuel of jets counts, the air they take in does not", part),
        Step("m_p", "propellant for the climb, by hand", q * t, (
            Put("ṁ", "mean flow", mean, "kg/s"), Put("t", "time of the climb", time, "s"),
        ), burnt, "kg", HAND, part, f"Flown: {fixed(_burnt(vehicle, flight))} kg."),
    ]  # fmt: skip
    rows = [
        Beside("time of the climb", time, share.burnout_time, "s", "√(2·h/a)"),
        Beside("burn-out speed", speed, share.burnout_air_speed, "m/s", "a·t"),
        Beside("propellant burnt", burnt, _burnt(vehicle, flight), "kg", "mean flow times time"),
    ]
    if left > 0.0:
        gain = exhaust * math.log(mass / left)
        made.append(
            rocket.ideal_speed_gain.step(
                part=part, words="ideal speed gain of that propellant, by hand", exhaust_speed=exhaust,
                start_mass=mass, end_mass=left, remark=f"Flown: {share.ideal:.0f} m/s.",
            )
        )  # fmt: skip
        made.append(
            Step("Δv_l", "speed lost on the way, by hand", Symbol("Δv") - Symbol("v"), (
                Put("Δv", "ideal speed gain", gain, "m/s"), Put("v", "speed at its end", speed, "m/s"),
            ), gain - speed, "m/s", HAND, part,
            f"Flown: {share.ideal - share.losses.air_speed_gained:.0f} m/s, of which gravity "
            f"{share.losses.gravity:.0f} m/s.")
        )  # fmt: skip
        flown_loss = share.ideal - share.losses.air_speed_gained
        rows += [
            Beside("ideal speed gain", gain, share.ideal, "m/s", "c·ln(m₀/m₁)"),
            Beside("speed lost", gain - speed, flown_loss, "m/s", "ideal gain less burn-out speed"),
        ]
    return made, tuple(rows)


def _flow(vehicle: Vehicle) -> float:
    """At lift-off at full throttle, fuel of jets counted [kg/s]."""
    stages = [(1, vehicle.stages[0])] if vehicle.stages[0].pause <= 0.0 else []
    stages += [(s.count, s.stage) for s in vehicle.strap_ons if s.beside == 0 and s.lit_after <= 0.0]
    total = 0.0
    for count, stage in stages:
        for g in stage.engines:
            if g.lit_on_the_ground:
                total += count * (g.flow + (g.count * g.jet.static_fuel_flow if g.jet is not None else 0.0))
    return total


def _burnt(vehicle: Vehicle, flight: Flight) -> float:
    """Propellant that left from lift-off to the end of the bottom stage's burn [kg]."""
    end = min(
        (e for e in flight.events if abs(e.time - flight.stages[0].burnout_time) < 1e-6),
        key=lambda e: -e.mass, default=flight.events[-1],
    )  # fmt: skip
    gone = sum(s.count * (s.stage.gross_mass - s.stage.propellant.burns) for s in vehicle.strap_ons)
    return flight.events[0].mass - end.mass - (gone if vehicle.strap_ons else 0.0)
