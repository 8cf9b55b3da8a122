"""A first guess of everything open, from ideal speeds: good enough to start flying from."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.concept.find import Find
from wetmass.concept.measures import Measure, Relation
from wetmass.concept.model import Concept
from wetmass.concept.quantity import Quantity
from wetmass.flight.goal import energy
from wetmass.physics.earth import EARTH_RADIUS_WGS84, OMEGA
from wetmass.physics.orbits import injection_speed, orbit_speed
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.physics.staging import best_split, greatest_speed_gain
from wetmass.record.mission import Climb, Orbit, Site
from wetmass.record.vehicle import Vehicle
from wetmass.vehicle import Assembly

USUAL_LOSSES = 1500.0  # m/s, gravity, drag, steering and back-pressure together: common practice
USUAL_STRUCTURE = 0.08  # structural fraction where a stage's is not known yet: common practice
USUAL_LIFT_OFF = 1.35  # thrust over weight at lift-off: common practice
USUAL_STRAP_ON = 110.0  # s that strap-ons burn: common practice
JETS_ALONE = 30e3  # m/s, effective exhaust speed of a stage of jets alone, to start from: ours
USUAL_UPPER = 0.9  # thrust over weight at an upper stage's ignition: common practice


@dataclass(frozen=True, slots=True)
class Guess:
    """First values of what is open, by path (SI), and the ideal speed they were sized for."""

    values: dict[str, float]
    speed: float  # m/s


def climbing_speed(climb: Climb, site: Site) -> float:
    """Ideal speed a vehicle needs for a climb [m/s], at a steady net half g; to an apex from energy."""
    rise = max(climb.height - (site.height if site.launch is None else site.launch.height), 100.0)
    at_the_end = climb.speed or 0.0
    if climb.at_apex:
        return 1.3 * math.sqrt(2.0 * STANDARD_GRAVITY * rise) + 200.0
    net = 0.5 * STANDARD_GRAVITY
    steady = math.sqrt(2.0 * net * rise)
    time = math.sqrt(2.0 * rise / net) if steady > at_the_end else 2.0 * rise / at_the_end
    return max(steady, at_the_end) + STANDARD_GRAVITY * time


def needed_speed(orbit: Orbit | Climb, site: Site, reserve: float) -> float:
    """Ideal speed a vehicle needs for the orbit, the usual losses included [m/s]."""
    if isinstance(orbit, Climb):
        return climbing_speed(orbit, site) + reserve
    low = orbit.perigee + EARTH_RADIUS_WGS84
    parking = EARTH_RADIUS_WGS84 + 185e3
    if low > parking + 50e3 and orbit.c3 is None:  # up to the orbit by an ellipse from low down
        high = orbit.apogee + EARTH_RADIUS_WGS84
        first = orbit_speed(parking, parking, high)
        second = orbit_speed(high, low, high) - orbit_speed(high, parking, high)
        speed = first + second
    else:
        speed = injection_speed(energy(orbit), low)
    inclination = orbit.inclination if orbit.inclination is not None else abs(site.latitude)
    help_of_rotation = OMEGA * EARTH_RADIUS_WGS84 * math.cos(max(inclination, abs(site.latitude)))
    given = 0.0 if site.launch is None else site.launch.speed + 0.02 * site.launch.height  # losses spared
    return speed + USUAL_LOSSES - help_of_rotation + reserve - given


def reserve_of(concept: Concept) -> float:
    """The performance reserve it asks for [m/s]."""
    return concept.performance_reserve.value if concept.performance_reserve else 0.0


def first_guess(concept: Concept, assembly: Assembly, orbit: Orbit | Climb, site: Site) -> Guess:
    """First values of every open value that is a freedom, and of those that follow."""
    speed = needed_speed(orbit, site, reserve_of(concept))
    exhaust, structure = _figures(concept, assembly)
    values: dict[str, float] = {}
    for opened in concept.open_values():
        if opened.what == "engine count" or opened.what == "engine scale":
            values[opened.path] = 1.0
    reach = min(speed, 0.9 * greatest_speed_gain(exhaust, structure))
    split = best_split(reach, exhaust, structure)
    payload = concept.payload.value if isinstance(concept.payload, Quantity) else None
    beside = _strap_ons(concept, assembly, values)
    start = _start_mass(concept, assembly, payload, split.payload_fraction)
    mass = max(start - beside, 0.3 * start)
    aloft = sum(piece.mass for piece in assembly.vehicle(_filled(concept, values, 1.0)).let_go)
    for index, stage in enumerate(assembly.core):
        carried = mass * split.stage_fractions[index]
        gross = mass - carried
        path = f"stages/{stage.name}/propellant/mass"
        if isinstance(stage.propellant.mass, Find):
            values[path] = _inside(stage.propellant.mass, max(1.0, gross * (1.0 - structure[index])))
        mass = carried
    _fit_the_ground(concept, assembly, values, start, structure[0])
    if payload is not None:
        _grow(concept, assembly, values, speed)
    else:
        values["payload"] = 1.0
        values["payload"] = _inside(concept.payload, payload_for(assembly, values, speed))
    _size_engines(concept, assembly, values, aloft)
    return Guess(values, speed)


def _fit_the_ground(
    concept: Concept, assembly: Assembly, values: dict[str, float], start: float, structure: float
) -> None:
    """Less propellant in the bottom stage where others, stated, weigh more than their share."""
    bottom = assembly.core[0]
    if not isinstance(bottom.propellant.mass, Find):
        return
    path = f"stages/{bottom.name}/propellant/mass"
    over = assembly.vehicle(_filled(concept, values, 1.0)).lift_off_mass - start
    if over > 0.0:
        least = 0.3 * values[path]
        values[path] = _inside(bottom.propellant.mass, max(least, values[path] - over * (1.0 - structure)))


def _figures(concept: Concept, assembly: Assembly) -> tuple[list[float], list[float]]:
    exhaust, structure = [], []
    for stage, engines in zip(concept.stages, assembly.engines, strict=True):
        if stage.strapped_to is not None:
            continue
        thrust = sum(engine.vacuum_thrust for engine in engines)
        flow = sum(engine.mass_flow for engine in engines)
        exhaust.append(thrust / flow if flow else JETS_ALONE)
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
    bottom = assembly.core[0].name
    for stage, engines in zip(concept.stages, assembly.engines, strict=True):
        if bottom not in (stage.name, stage.strapped_to) or (stage.strapped_to and stage.lit_after):
            continue
        for stated, made in zip(stage.engines, engines, strict=True):
            if isinstance(stated.count, Find) or isinstance(stated.scale, Find):
                return None
            scale = stated.scale.value if isinstance(stated.scale, Quantity) else 1.0
            total += stage.count * stated.count * scale * made.thrust(SEA_LEVEL_PRESSURE)
    return total


def _strap_ons(concept: Concept, assembly: Assembly, values: dict[str, float]) -> float:
    """Mass of all strap-ons [kg]; propellant that is open is taken for the usual time of burning."""
    total = 0.0
    for stage, engines in zip(concept.stages, assembly.engines, strict=True):
        if stage.strapped_to is None:
            continue
        load = stage.propellant.mass
        if isinstance(load, Find):
            flow = 0.0
            for stated, made in zip(stage.engines, engines, strict=True):
                count = 1.0 if isinstance(stated.count, Find) else float(stated.count)
                scale = stated.scale.value if isinstance(stated.scale, Quantity) else 1.0
                flow += count * scale * made.mass_flow
            path = f"stages/{stage.name}/propellant/mass"
            values[path] = _inside(load, flow * USUAL_STRAP_ON)
    vehicle = assembly.vehicle(_filled(concept, values, 1.0))
    for strap in vehicle.strap_ons:
        total += strap.gross_mass
    return total


def _ideal_gain(assembly: Assembly, values: dict[str, float]) -> float:
    """Ideal speed gain of the vehicle [m/s], what is let go carried to the end; −∞ for nonsense masses."""
    return ideal_gain(assembly.vehicle(values))


def ideal_gain(vehicle: Vehicle) -> float:
    """Ideal speed gain at full throttle [m/s], what is let go carried to the end; −∞ for nonsense masses.

    Strap-ons burn beside their stage, each leg with the exhaust speed of all that burns in it.
    """
    total = 0.0
    for index, stage in enumerate(vehicle.stages):
        mass = vehicle.mass_above(index) - stage.propellant.gone_before
        left, flow, push = stage.propellant.burns, stage.flow, stage.vacuum_thrust
        if flow == 0.0 and left > 0.0:  # jets alone
            flow, push = 1.0, JETS_ALONE
        beside = sorted(
            (s for s in vehicle.strap_ons if s.beside == index and s.stage.flow > 0.0),
            key=lambda s: s.stage.propellant.burns / s.stage.flow,
        )
        began = 0.0
        for i, strap in enumerate(beside):
            until = strap.stage.propellant.burns / strap.stage.flow
            lit = beside[i:]
            own = min(left, flow * (until - began))
            burnt = own + sum(s.count * s.stage.flow for s in lit) * (until - began)
            thrust = push * (1.0 if own > 0.0 else 0.0) + sum(s.count * s.stage.vacuum_thrust for s in lit)
            rate = flow * (1.0 if own > 0.0 else 0.0) + sum(s.count * s.stage.flow for s in lit)
            if not mass - burnt > 0.0:
                return -math.inf
            if burnt > 0.0:
                total += thrust / rate * math.log(mass / (mass - burnt))
            mass -= burnt + strap.count * (strap.stage.gross_mass - strap.stage.propellant.burns)
            left, began = left - own, until
        end = mass - left
        if not 0.0 < end <= mass:
            return -math.inf
        total += push / flow * math.log(mass / end) if flow else 0.0
    return total


def payload_for(assembly: Assembly, values: dict[str, float], speed: float) -> float:
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
        name = concept.stages[opened.stage].name
        index = next((i for i, s in enumerate(vehicle.stages) if s.name == name), 0)
        bottom = index == 0
        wanted = USUAL_LIFT_OFF if bottom else USUAL_UPPER
        for entry in concept.requirements:
            if bottom and entry.measure is Measure.LIFT_OFF_THRUST_TO_WEIGHT:
                wanted = entry.quantity.value * (1.05 if entry.relation is Relation.AT_LEAST else 1.0)
        thrust = vehicle.lift_off_thrust() if bottom else vehicle.stages[index].thrust(0.0)
        weight = vehicle.mass_above(index) * STANDARD_GRAVITY
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
