"""Thrust line against centre of mass: how far engines must swing, at the moments that ask most of them.

Masses stand where they are laid out: liquids in their tanks, dry masses evenly along their stage, the payload
half-way up its fairing (or a diameter above the last stage).  Engines of a stage that states a gimbal swing, all
alike; where no stage states one, the rockets of the stage at work do.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wetmass.concept.model import Concept
from wetmass.concept.model import Stage as Stated
from wetmass.physics.trim import trim_angle
from wetmass.record.geometry import Geometry, Point, StageGeometry
from wetmass.record.step import Step
from wetmass.record.vehicle import SEA_LEVEL_PRESSURE, EngineGroup, Kind, Stage, StrapOn, Vehicle
from wetmass.vehicle.geometry.engines import as_stated
from wetmass.vehicle.geometry.places import places

EVEN = math.radians(0.1)  # a smaller swing is not worth a word: our own choice
SWINGING = (Kind.ROCKET, Kind.SOLID, Kind.NUCLEAR)


@dataclass(frozen=True, slots=True)
class Trim:
    """What one moment of the flight asks of the engines that swing."""

    stage: str  # the stage at work
    when: str  # in words: "at lift-off", "as it burns out", "once 1 of 9 is out, at burn-out"
    offset: float  # m, thrust line from the centre of mass, at rest
    arm: float  # m, from the pivots up to the centre of mass
    fixed_moment: float  # N·m, along the offset
    steered_moment: float  # N·m
    steered_thrust: float  # N
    swing: float | None  # rad; None: no swing can do it
    stated_failure: bool  # the file says that these engines fail
    supposed_failure: bool  # we ask what if one failed


@dataclass(frozen=True, slots=True)
class _Body:
    mass: float
    x: float
    y: float
    z: float


@dataclass(frozen=True, slots=True)
class _Engine:
    thrust: float
    x: float
    y: float
    z: float  # of its pivot
    swings: bool
    group: int  # position of its group in the stage at work, −1 for those strapped on
    rocket: bool


def trims(concept: Concept, vehicle: Vehicle, geometry: Geometry) -> list[Trim]:
    """The swing needed at ignition and burn-out of every stage, with engines out where some are said to fail.

    Where a gimbal is stated for a cluster without such a failure, what one engine out would ask is told as well.
    """
    made: list[Trim] = []
    stated = {one.name: one for one in concept.stages}
    for index, stage in enumerate(vehicle.stages):
        beside = [s for s in vehicle.strap_ons if s.beside == index]
        burning = [s for s in beside if s.lit_after <= 0.0]
        for full in (True, False):
            strapped = beside if full else []
            bodies = list(_bodies(vehicle, geometry, index, 1.0 if full else 0.0, strapped))
            pressure = SEA_LEVEL_PRESSURE if full and index == 0 and concept.site.launch is None else 0.0
            engines: list[_Engine] = []
            if not (full and index == 0 and stage.pause > 0.0):  # else strap-ons lift it
                engines += _engines(stated[stage.name], stage, geometry, vehicle, pressure, True)
            for strap in burning if full else []:
                engines += _engines(stated[strap.stage.name], strap.stage, geometry, vehicle, pressure, False)
            if not any(engine.swings for engine in engines):  # nothing is said of it
                engines = [replace(one, swings=one.rocket and one.group >= 0) for one in engines]
            if not any(engine.swings for engine in engines):
                continue
            when = ("at lift-off" if index == 0 else "at ignition") if full else "as it burns out"
            made.append(_trim(stage.name, when, bodies, engines))
            made += _failures(stated[stage.name], stage, when, bodies, engines)
    return made


def _failures(
    stated: Stated, stage: Stage, when: str, bodies: list[_Body], engines: list[_Engine]
) -> Iterator[Trim]:
    """The same with engines of one group out: those furthest out and next to each other."""
    for position, (kind, group) in enumerate(
        zip(stated.engines, as_stated(stated, stage.engines), strict=True)
    ):
        own = [(i, engine) for i, engine in enumerate(engines) if engine.group == position]
        count = len(own)
        supposed = kind.out is None
        if count < 2 or group.kind not in SWINGING or (supposed and stated.engine_layout.gimbal is None):
            continue
        if not supposed and when != "as it burns out" and kind.out.time.value > 0.0:
            continue  # it fails later: burn-out is the nearer of the two
        number = 1 if kind.out is None else kind.out.count
        gone = _outermost(own, number)
        left = [engine for i, engine in enumerate(engines) if i not in gone]
        words = f"{when} with {number} of {count} out"
        yield _trim(stage.name, words, bodies, left, stated=not supposed, supposed=supposed)


def _outermost(engines: list[tuple[int, _Engine]], number: int) -> set[int]:
    """Those furthest from the axis, next to each other."""
    far = max(math.hypot(e.x, e.y) for _, e in engines)
    first = next(e for _, e in engines if math.hypot(e.x, e.y) > far - 1e-9)
    near = sorted(engines, key=lambda one: math.hypot(one[1].x - first.x, one[1].y - first.y))
    return {i for i, _ in near[:number]}


def _trim(
    name: str, when: str, bodies: Sequence[_Body], engines: Sequence[_Engine], *, stated: bool = False,
    supposed: bool = False,
) -> Trim:  # fmt: skip
    mass = math.fsum(b.mass for b in bodies)
    x, y, z = (math.fsum(b.mass * getattr(b, axis) for b in bodies) / mass for axis in "xyz")
    fixed, steered = [0.0, 0.0], [0.0, 0.0]
    thrust = steered_thrust = lift = 0.0
    for engine in engines:
        into = steered if engine.swings else fixed
        into[0] += engine.thrust * (engine.x - x)
        into[1] += engine.thrust * (engine.y - y)
        thrust += engine.thrust
        if engine.swings:
            steered_thrust += engine.thrust
            lift += engine.thrust * (z - engine.z)
    moment = fixed[0] + steered[0], fixed[1] + steered[1]
    size = math.hypot(*moment)
    along = (moment[0] / size, moment[1] / size) if size > 0.0 else (1.0, 0.0)
    m_f, m_s = (one[0] * along[0] + one[1] * along[1] for one in (fixed, steered))
    arm = lift / steered_thrust if steered_thrust > 0.0 else 0.0
    try:
        swing = trim_angle(m_f, m_s, steered_thrust, arm)
    except ValueError:
        swing = None
    offset = size / thrust if thrust > 0.0 else 0.0
    return Trim(name, when, offset, arm, m_f, m_s, steered_thrust, swing, stated, supposed)


def _bodies(
    vehicle: Vehicle, geometry: Geometry, index: int, left: float, strapped: Sequence[StrapOn]
) -> Iterator[_Body]:
    """Everything that flies while stage `index` burns; `left` of what it burns is still aboard."""
    laid = {stage.name: stage for stage in geometry.stages}
    at = places(geometry, vehicle)
    for number, stage in enumerate(vehicle.stages[index:], index):
        yield from _stage(stage, laid[stage.name], left if number == index else 1.0, (0.0, 0.0))
    later = [s for s in vehicle.strap_ons if s.beside > index]
    for strap in (*strapped, *later):
        for place in at[strap.stage.name]:
            yield from _stage(strap.stage, laid[strap.stage.name], 1.0, place)
    top = laid[vehicle.stages[-1].name].top
    shell = geometry.fairing
    middle = shell.foot + shell.length / 2.0 if shell is not None else top + geometry.width
    yield _Body(vehicle.payload + sum(item.mass for item in vehicle.other), 0.0, 0.0, middle)
    if left > 0.5 or index < len(vehicle.stages) - 1:  # let go on the way up the last stage at the latest
        yield _Body(sum(piece.mass for piece in vehicle.let_go), 0.0, 0.0, middle)


def _stage(stage: Stage, laid: StageGeometry, left: float, axis: Point) -> Iterator[_Body]:
    yield _Body(stage.dry_mass, axis[0], axis[1], laid.foot + laid.length / 2.0)
    p = stage.propellant
    share = (p.load - (1.0 - left) * (p.burns + p.gone_before)) / p.load if p.load > 0.0 else 0.0
    for tank in laid.tanks:
        each = tank.mass / len(tank.positions)
        for x, y in tank.positions:  # a part-filled tank: its centre sinks with its level
            centre = laid.foot + tank.foot + share * (tank.centre - tank.foot)
            yield _Body(share * each, axis[0] + x, axis[1] + y, centre)
    held = sum(tank.mass for tank in laid.tanks)
    yield _Body(share * (p.load - held), axis[0], axis[1], laid.foot + laid.length / 2.0)


def _engines(
    stated: Stated, stage: Stage, geometry: Geometry, vehicle: Vehicle, pressure: float, at_work: bool
) -> Iterator[_Engine]:
    """Every engine lit with the stage, of all of it where it is strapped on."""
    laid = next(one for one in geometry.stages if one.name == stage.name)
    layout = stated.engine_layout
    pivot = laid.foot + (layout.pivot_to_exit.value if layout.pivot_to_exit else laid.engine_length)
    gimbal = layout.gimbal is not None and layout.gimbal.value > 0.0
    plans = {plan.group: plan.positions for plan in laid.engines}
    for x, y in places(geometry, vehicle)[stage.name]:
        for position, group in enumerate(as_stated(stated, stage.engines)):
            if not group.lit_on_the_ground:
                continue
            count = round(group.count)
            spots = plans.get(group.name, ((0.0, 0.0),) * count)
            thrust = _thrust(group, pressure)
            for a, b in spots:
                rocket = group.kind in SWINGING
                yield _Engine(
                    thrust, x + a, y + b, pivot, gimbal and rocket, position if at_work else -1, rocket
                )


def _thrust(group: EngineGroup, pressure: float) -> float:
    """Of one engine [N]; jets only in the air at sea level."""
    return max(group.thrust(pressure), 0.0) / group.count


def balance_steps(made: Sequence[Trim]) -> list[Step]:
    """One step for each moment at which engines must swing, as the vehicle is said; none where all is even."""
    return [
        trim_angle.step(
            part=trim.stage, words=f"swing of the engines {trim.when}", fixed_moment=trim.fixed_moment,
            steered_moment=trim.steered_moment, steered_thrust=trim.steered_thrust, arm=trim.arm,
            remark="Dry masses stand evenly along their stage.",
        )
        for trim in made
        if trim.swing is not None and abs(trim.swing) > EVEN and not trim.supposed_failure
    ]  # fmt: skip
