"""A first guess of everything open, from ideal speeds: good enough to start flying from."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.concept.fields import Find
from wetmass.concept.measures import Measure, Relation
from wetmass.concept.model import Concept
from wetmass.concept.quantity import Quantity
from wetmass.physics.earth import EARTH_RADIUS_WGS84, OMEGA
from wetmass.physics.orbits import orbit_speed
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.physics.staging import best_split, greatest_speed_gain
from wetmass.record.mission import Orbit, Site
from wetmass.vehicle import Assembly

USUAL_LOSSES = 1500.0  # m/s, gravity, drag, steering and back-pressure together: common practice
USUAL_STRUCTURE = 0.08  # structural fraction where a stage's is not known yet: common practice
USUAL_LIFT_OFF = 1.35  # thrust over weight at lift-off: common practice
USUAL_UPPER = 0.9  # thrust over weight at an upper stage's ignition: common practice


@dataclass(frozen=True, slots=True)
class Guess:
    """First values of what is open, by path (SI), and the ideal speed they were sized for."""

    values: dict[str, float]
    speed: float  # m/s


def needed_speed(orbit: Orbit, site: Site, reserve: float) -> float:
    """Ideal speed a vehicle needs for the orbit, the usual losses included [m/s]."""
    low, high = orbit.perigee + EARTH_RADIUS_WGS84, orbit.apogee + EARTH_RADIUS_WGS84
    parking = EARTH_RADIUS_WGS84 + 185e3
    if low > parking + 50e3:  # up to the orbit by an ellipse from low down
        first = orbit_speed(parking, parking, high)
        second = orbit_speed(high, low, high) - orbit_speed(high, parking, high)
        speed = first + second
    else:
        speed = orbit_speed(low, low, high)
    inclination = orbit.inclination if orbit.inclination is not None else abs(site.latitude)
    help_of_rotation = OMEGA * EARTH_RADIUS_WGS84 * math.cos(max(inclination, abs(site.latitude)))
    return speed + USUAL_LOSSES - help_of_rotation + reserve


def first_guess(concept: Concept, assembly: Assembly, orbit: Orbit, site: Site) -> Guess:
    """First values of every open value that is a freedom, and of those that follow."""
    reserve = concept.performance_reserve.value if concept.performance_reserve else 0.0
    speed = needed_speed(orbit, site, reserve)
    exhaust, structure = _figures(concept, assembly)
    values: dict[str, float] = {}
    for opened in concept.open_values():
        if opened.what == "engine count" or opened.what == "engine scale":
            values[opened.path] = 1.0
    reach = min(speed, 0.9 * greatest_speed_gain(exhaust, structure))
    split = best_split(reach, exhaust, structure)
    payload = concept.payload.value if isinstance(concept.payload, Quantity) else None
    start = _start_mass(concept, assembly, payload, split.payload_fraction)
    mass = start
    aloft = sum(piece.mass for piece in assembly.vehicle(_filled(concept, values, 1.0)).let_go)
    for index, stage in enumerate(concept.stages):
        carried = mass * split.stage_fractions[index]
        gross = mass - carried
        path = f"stages/{stage.name}/propellant/mass"
        if isinstance(stage.propellant.mass, Find):
            values[path] = _inside(stage.propellant.mass, max(1.0, gross * (1.0 - structure[index])))
        mass = carried
    if payload is not None:
        _grow(concept, assembly, values, speed)
    else:
        values["payload"] = 1.0
        values["payload"] = _inside(concept.payload, _payload_for(assembly, values, speed))
    _size_engines(concept, assembly, values, aloft)
    return Guess(values, speed)


def _figures(concept: Concept, assembly: Assembly) -> tuple[list[float], list[float]]:
    exhaust, structure = [], []
    for stage, engines in zip(concept.stages, assembly.engines, strict=True):
        thrust = sum(engine.vacuum_thrust for engine in engines)
        exhaust.append(thrust / sum(engine.mass_flow for engine in engines))
        share = USUAL_STRUCTURE
        if stage.structural_fraction is not None:
            share = stage.structural_fraction.value
        elif isinstance(stage.dry_mass, Quantity) and isinstance(stage.propellant.mass, Quantity):
            share = stage.dry_mass.value / (stage.dry_mass.value + stage.propellant.mass.value)
        structure.append(min(max(share, 0.005), 0.6))
    return exhaust, structure


def _start_mass(concept: Concept, assembly: Assembly, payload: float | None, fraction: float) -> float:
    """Lift-off mass to size for [kg]."""
    limits = []
    for entry in concept.requirements:
        if entry.measure is Measure.LIFT_OFF_MASS and entry.relation is not Relation.AT_LEAST:
            limits.append(entry.quantity.value)
        if entry.measure is Measure.LIFT_OFF_THRUST_TO_WEIGHT and entry.relation is not Relation.AT_MOST:
            thrust = _ground_thrust(concept, assembly)
            if thrust is not None:
                limits.append(thrust / (entry.quantity.value * STANDARD_GRAVITY))
    if payload:
        limits.append(payload / fraction)
    if limits:
        return min(limits)
    thrust = _ground_thrust(concept, assembly)
    if thrust is not None:
        return thrust / (USUAL_LIFT_OFF * STANDARD_GRAVITY)
    return 100e3


def _ground_thrust(concept: Concept, assembly: Assembly) -> float | None:
    """Thrust on the ground [N], None while an engine count or scale of the bottom stage is open."""
    total = 0.0
    for stated, made in zip(concept.stages[0].engines, assembly.engines[0], strict=True):
        if isinstance(stated.count, Find) or isinstance(stated.scale, Find):
            return None
        scale = stated.scale.value if isinstance(stated.scale, Quantity) else 1.0
        total += stated.count * scale * made.thrust(SEA_LEVEL_PRESSURE)
    return total


def _ideal_gain(assembly: Assembly, values: dict[str, float]) -> float:
    """Ideal speed gain of the vehicle [m/s], what is let go carried to the end; −∞ for nonsense masses."""
    vehicle = assembly.vehicle(values)
    total = 0.0
    for index, stage in enumerate(vehicle.stages):
        start = vehicle.mass_above(index) - stage.propellant.start_loss
        end = start - stage.propellant.burns
        if not 0.0 < end <= start:
            return -math.inf
        total += stage.vacuum_isp * STANDARD_GRAVITY * math.log(start / end)
    return total


def _payload_for(assembly: Assembly, values: dict[str, float], speed: float) -> float:
    """Payload with which the ideal speed gain is `speed` [kg]; a little where even none is too much."""

    def gain(payload: float) -> float:
        return _ideal_gain(assembly, {**values, "payload": payload})

    low, high = 1.0, 10.0
    if gain(low) < speed:
        return 0.002 * assembly.vehicle({**values, "payload": 0.0}).lift_off_mass
    while gain(high) > speed and high < 1e9:
        high *= 2.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if gain(middle) > speed else (low, middle)
    return low


def _grow(concept: Concept, assembly: Assembly, values: dict[str, float], speed: float) -> None:
    """More of every open propellant until a stated payload is carried, or a thousand times the guess."""
    opened = [o for o in concept.open_values() if o.what == "propellant mass"]
    first = {o.path: values[o.path] for o in opened}
    for step in range(60):
        if not opened or _ideal_gain(assembly, values) >= speed:
            return
        for o in opened:
            values[o.path] = _inside(o.find, first[o.path] * 1.12 ** (step + 1))


def _size_engines(concept: Concept, assembly: Assembly, values: dict[str, float], aloft: float) -> None:
    """Open engine counts and scales for the usual thrust-to-weight at each ignition."""
    vehicle = assembly.vehicle(values)
    for opened in concept.open_values():
        if opened.what not in ("engine count", "engine scale"):
            continue
        assert opened.stage is not None
        assert opened.group is not None
        wanted = USUAL_LIFT_OFF if opened.stage == 0 else USUAL_UPPER
        for entry in concept.requirements:
            if opened.stage == 0 and entry.measure is Measure.LIFT_OFF_THRUST_TO_WEIGHT:
                wanted = entry.quantity.value * (1.05 if entry.relation is Relation.AT_LEAST else 1.0)
        pressure = SEA_LEVEL_PRESSURE if opened.stage == 0 else 0.0
        thrust = vehicle.stages[opened.stage].thrust(pressure)
        weight = vehicle.mass_above(opened.stage) * STANDARD_GRAVITY
        grown = values[opened.path] * wanted * weight / thrust
        values[opened.path] = _inside(opened.find, max(grown, 1.0 if opened.what == "engine count" else 0.01))
        vehicle = assembly.vehicle(values)


def _filled(concept: Concept, values: dict[str, float], each: float) -> dict[str, float]:
    return {opened.path: values.get(opened.path, each) for opened in concept.open_values()}


def _inside(find: object, value: float) -> float:
    """`value` moved inside the bounds stated with `find`."""
    assert isinstance(find, Find)
    low = find.low if find.low is not None else -math.inf
    high = find.high if find.high is not None else math.inf
    return min(max(value, low), high)
