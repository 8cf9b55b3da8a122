"""The whole vehicle laid out: every tank, engine, stage and the fairing in its place."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wetmass.concept.find import Find
from wetmass.concept.model import Concept
from wetmass.concept.model import Stage as Stated
from wetmass.concept.quantity import Quantity
from wetmass.concept.tank_shapes import SIZES
from wetmass.physics.tanks import dome_area
from wetmass.record.finding import Finding, Weight
from wetmass.record.geometry import (
    EnginePlan,
    FairingGeometry,
    Geometry,
    Size,
    StageGeometry,
    TankGeometry,
)
from wetmass.record.say import said
from wetmass.record.vehicle import Origin, Vehicle
from wetmass.record.vehicle import Stage as Flown
from wetmass.vehicle.geometry import engines as under
from wetmass.vehicle.geometry.contents import boil_off, tanks_of
from wetmass.vehicle.geometry.outline import half_section
from wetmass.vehicle.geometry.overlap import overlaps
from wetmass.vehicle.geometry.stack import BETWEEN, Stood, circle_round, cluster, stand
from wetmass.vehicle.geometry.strength import walls_of
from wetmass.vehicle.usual_nozzle import NOZZLE_WORDS, has_exit

NOSE = 1.2  # diameters, length of a fairing's nose where nothing is said: common practice
FAIRING_LENGTH = 2.5  # diameters, where nothing is said: common practice


def lay_out(concept: Concept, vehicle: Vehicle) -> Geometry:
    """Where everything of a vehicle stands.

    concept  as stated
    vehicle  the same with every value known (SI); stages are matched by name

    What cannot be laid out is told in the stage's `troubles`; nothing is raised for a design that fails.
    """
    assumed: list[str] = []
    flown = {stage.name: (i, stage) for i, stage in enumerate(vehicle.stages)}
    flown |= {s.stage.name: (s.beside, s.stage) for s in vehicle.strap_ons}
    feet: dict[str, float] = {}
    made: dict[str, StageGeometry] = {}
    at = 0.0
    core = [s for s in concept.stages if s.strapped_to is None]
    for stated in core:
        if stated.name in flown:
            feet[stated.name] = at
            index, stage = flown[stated.name]
            made[stated.name] = _stage(concept, vehicle, stated, stage, index, at, assumed)
            at = made[stated.name].top
    for stated in concept.stages:
        if stated.strapped_to is not None and stated.name in flown:
            index, stage = flown[stated.name]
            foot = feet.get(stated.strapped_to, 0.0)
            made[stated.name] = _stage(concept, vehicle, stated, stage, index, foot, assumed)
    fairing = _fairing(concept, at, assumed)
    stages = tuple(made[stage.name] for stage in concept.stages if stage.name in made)
    tops = [stage.top for stage in stages] + ([fairing.foot + fairing.length] if fairing else [])
    widths = [stage.diameter for stage in stages] + ([fairing.diameter] if fairing else [])
    return Geometry(stages, fairing, max(tops), max(widths), tuple(dict.fromkeys(assumed)))


def _stage(
    concept: Concept,
    vehicle: Vehicle,
    stated: Stated,
    flown: Flown,
    index: int,
    foot: float,
    assumed: list[str],
) -> StageGeometry:
    exits = max((under.width(group) for group in flown.engines), default=0.0)
    length, source = under.engine_length(stated.engine_layout, exits)
    if source != "stated" and exits:
        assumed.append(f"engine length {source}")
    if not all(map(has_exit, flown.engines)):
        assumed.append(NOZZLE_WORDS)
    ratio = flown.propellant.mixture_ratio
    tanks = stand(stated, flown.propellant.load, ratio, length, flown.propellant.extra_fuel)
    if words := tanks_of(stated, tanks.small)[1]:
        assumed.append(words)
    if tanks.gaps:
        assumed.append(f"{BETWEEN:g} m between tanks that share no bulkhead (our choice)")
    limit = concept.limits.felt_acceleration
    felt = limit.value if isinstance(limit, Quantity) else math.inf
    laid = tuple(_tank(stated, one, vehicle, index, felt, assumed) for one in tanks.stood)
    engines = under.plans(stated.engine_layout, under.as_stated(stated, flown.engines), stated.diameter.value)
    return StageGeometry(
        name=stated.name,
        count=stated.count,
        diameter=stated.diameter.value,
        foot=foot,
        length=tanks.top,
        stated_length=stated.length.value if stated.length is not None else None,
        engine_length=length,
        engine_length_source=source,
        skirts=max(0.0, tanks.top - length - tanks.barrels) + 0.5 * length,
        tanks=laid,
        engines=engines,
        engines_across=_round_all(engines),
        troubles=(*tanks.troubles, *_overlapping(stated, tanks.stood)),
    )


def _round_all(plans: Sequence[EnginePlan]) -> float:
    return max((plan.across for plan in plans), default=0.0)


def _overlapping(stated: Stated, stood: list[Stood]) -> list[Finding]:
    return [
        Finding(
            "tanks that overlap", Weight.FAILS, stated.name,
            f"{one.entry.holds} tank from {said(one.foot, 'm')} to {said(one.top, 'm')} and "
            f"{other.entry.holds} tank from {said(other.foot, 'm')} to {said(other.top, 'm')} meet by "
            f"{said(depth, 'm', 3)}",
            "no two tanks in the same room",
            "Let one stand higher, make it narrower, widen the hole, or say which is inside which.",
            "geometry, exact",
        )
        for one, other, depth in overlaps(stood)
    ]  # fmt: skip


def _tank(
    stated: Stated, one: Stood, vehicle: Vehicle, index: int, limit: float, assumed: list[str]
) -> TankGeometry:
    entry, tank = one.entry, one.entry.tank
    inside = cluster(one.inside, entry.count)
    volume = inside.volume
    liquid = inside.liquid(min(one.mass / entry.density, volume) if one.mass > 0.0 else 0.0)
    across, hole = circle_round(one)
    walls, taken = walls_of(
        one, liquid.level, stated.diameter.value, vehicle, index, limit, stated.strapped_to is not None
    )
    assumed += taken
    return TankGeometry(
        stage=stated.name,
        holds=entry.holds,
        shape=tank.shape,
        count=entry.count,
        sizes=_sizes(one),
        found=one.found,
        density=entry.density,
        temperature=tank.at.value if tank.at is not None else None,
        ullage=entry.ullage,
        mass=one.mass,
        needed=one.needed * entry.count,
        volume=volume,
        wall_area=inside.wall_area,
        wetted_area=liquid.wetted_area,
        level=liquid.level,
        surface=liquid.surface,
        centre=one.foot + liquid.centre,
        foot=one.foot,
        height=one.one.height,
        across=one.one.envelope.diameter,
        envelope=across,
        hole=hole,
        positions=one.positions,
        outline=half_section(one.one),
        shares_bulkhead=tank.shares_bulkhead,
        shared_below=entry.shares_below,
        inside=stated.held(tank.inside) if tank.inside is not None else "",
        boil_off=boil_off(entry, one.mass),
        walls=walls,
    )


def _sizes(one: Stood) -> tuple[Size, ...]:
    tank, shape = one.entry.tank, one.entry.shape
    known = dict(shape.sizes)
    if one.found:
        known[one.found] = one.value
    if tank.shape == "torus" and "tube diameter" not in known:
        known["tube diameter"] = (known["diameter"] - known["inner diameter"]) / 2.0
    if tank.shape == "torus" and "inner diameter" not in known:
        known["inner diameter"] = known["diameter"] - 2.0 * known["tube diameter"]
    if tank.shape in ("cylinder", "frustum") and "dome height" not in known:
        known["dome height"] = one.one.top.height_ratio * known["diameter"] / 2.0  # type: ignore[attr-defined]
    made = []
    for name in SIZES[tank.shape]:
        stated = getattr(tank, name.replace(" ", "_"))
        if name == one.found:
            origin = Origin.FOUND if isinstance(stated, Find) else Origin.DERIVED
        else:
            origin = Origin.STATED if isinstance(stated, Quantity) else Origin.DERIVED
        made.append(Size(name, known[name], origin))
    return tuple(made)


def _fairing(concept: Concept, at: float, assumed: list[str]) -> FairingGeometry | None:
    stated = concept.fairing
    if stated is None:
        return None
    last = [s for s in concept.stages if s.strapped_to is None][-1]
    diameter = stated.diameter.value if stated.diameter is not None else last.diameter.value
    if stated.length is not None:
        length = stated.length.value
    else:
        length = FAIRING_LENGTH * diameter
        assumed.append(f"fairing {FAIRING_LENGTH:g} diameters long (common practice)")
    nose = stated.nose.value if stated.nose is not None else min(NOSE * diameter, length)
    if stated.nose is None:
        assumed.append(f"nose of the fairing {NOSE:g} diameters long (common practice)")
    nose = min(nose, length)
    straight = length - nose
    area = math.pi * diameter * straight + dome_area(diameter, nose)
    radius = diameter / 2.0
    arc = [math.pi / 2.0 * i / 24 for i in range(25)]
    outline = (
        (radius, 0.0),
        *((radius * math.cos(a) if a < arc[-1] else 0.0, straight + nose * math.sin(a)) for a in arc),
    )
    return FairingGeometry(diameter, length, nose, at, area, outline)


def no_trouble(geometry: Geometry) -> bool:
    """Whether everything could be laid out."""
    return all(trouble.weight is not Weight.FAILS for stage in geometry.stages for trouble in stage.troubles)
