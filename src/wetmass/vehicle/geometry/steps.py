"""The working of one stage's geometry, in teaching order: masses, volumes, sizes, walls, engines."""

from __future__ import annotations

import math

from wetmass.concept.model import Stage as Stated
from wetmass.concept.pairs import pair_of, parts_of
from wetmass.physics import packing, propellants, walls
from wetmass.physics.materials import UNCREWED, material
from wetmass.physics.tanks.inverse import (
    annulus_length,
    flat_dome_area,
    frustum_length,
    hemisphere_area,
    sphere_diameter,
    spheroid_height,
)
from wetmass.physics.tanks.sizing import (
    cylinder_length,
    cylinder_volume,
    frustum_volume,
    tank_volume,
    torus_area,
    torus_volume,
)
from wetmass.record.expression import Symbol
from wetmass.record.geometry import EnginePlan, StageGeometry, TankGeometry
from wetmass.record.step import Put, Step
from wetmass.record.vehicle import Stage
from wetmass.vehicle.geometry.strength import WELD, strength_allowed


def geometry_steps(stated: Stated, stage: Stage, laid: StageGeometry) -> list[Step]:
    """Steps from a stage's load to the sizes of its tanks, their walls, and the room its engines need."""
    p = stage.propellant
    steps: list[Step] = []
    volumes = stated.propellant.mixture_ratio_by_volume
    if volumes is not None:
        oxidiser, fuel = (stated.loaded_density(part) for part in parts_of(p.pair))
        steps.append(
            propellants.mass_ratio.step(
                part=stage.name, volume_ratio=volumes.value, oxidiser_density=oxidiser, fuel_density=fuel
            )
        )
    if pair_of(p.pair) is not None and not math.isnan(p.mixture_ratio):  # a single propellant has no ratio
        for relation in (propellants.oxidiser_mass, propellants.fuel_mass):
            steps.append(
                relation.step(
                    part=stage.name, propellant_mass=p.load - p.extra_fuel, mixture_ratio=p.mixture_ratio,
                    remark="Fuel beyond the mixture ratio is taken off first." if p.extra_fuel else "",
                )
            )  # fmt: skip
        if p.extra_fuel:
            steps.append(_with_extra(stage.name, steps[-1].result, p.extra_fuel))
    for tank in laid.tanks:
        steps += _tank(stage.name, tank)
    for plan in laid.engines:
        steps += _engines(stated, stage.name, plan)
    return steps


def _with_extra(part: str, fuel: float, extra: float) -> Step:
    """Fuel in the tanks where jets draw on them, too."""
    puts = (
        Put("m_f", "fuel by the mixture ratio", fuel, "kg"),
        Put("m_x", "fuel beyond it, for jets", extra, "kg"),
    )
    formula = Symbol("m_f") + Symbol("m_x")
    return Step(
        "m_t", "fuel in the tanks", formula, puts, fuel + extra, "kg", "balance of the fuel", part,
        "The jets' fuel is integrated along the flight; what comes home on jets is fuel alone.",
    )  # fmt: skip


def _tank(part: str, tank: TankGeometry) -> list[Step]:
    each = "" if tank.count == 1 else "one "
    words = f"volume of {each or 'the '}{tank.holds} tank{'s' if tank.count > 1 else ''}"
    if each:
        words = f"volume of one of {tank.count} {tank.holds} tanks"
    steps = []
    if tank.mass > 0.0:
        steps.append(
            tank_volume.step(
                part=part,
                words=words,
                symbol=f"V_{tank.holds}",
                mass=tank.mass / tank.count,
                density=tank.density,
                ullage=tank.ullage,
            )
        )
    steps += _size(part, tank, tank.needed / tank.count)
    if tank.walls is not None:
        steps += _walls(part, tank)
    return steps


def _size(part: str, tank: TankGeometry, volume: float) -> list[Step]:
    """The size that was open, or the volume of stated sizes."""
    across = tank.size("diameter")
    to = f"of the {tank.holds} tank"
    nested = not math.isclose(tank.volume, tank.needed, rel_tol=1e-9) and bool(tank.found)
    if nested:  # it holds another tank too, or a stated volume: its size does not follow from its load alone
        return []
    if tank.shape == "cylinder":
        high = tank.size("dome height")
        ends = {"bottom_height": -high if tank.shared_below else high, "top_height": high}
        made = []
        if tank.found == "length":
            made.append(
                cylinder_length.step(
                    part=part, words=f"straight length {to}", symbol=f"L_{tank.holds}",
                    volume=volume, diameter=across, **ends,
                )
            )  # fmt: skip
        elif not tank.found:
            made.append(
                cylinder_volume.step(
                    part=part, words=f"room {to}", symbol=f"V_{tank.holds}",
                    diameter=across, length=tank.size("length"), **ends,
                )
            )  # fmt: skip
        words = f"wall of one dome {to}"
        if math.isclose(high, across / 2.0):
            made.append(hemisphere_area.step(part=part, words=words, radius=across / 2.0))
        elif 0.0 < high < across / 2.0:
            made.append(flat_dome_area.step(part=part, words=words, radius=across / 2.0, height=high))
        return made
    if tank.shape == "sphere" and tank.found:
        return [
            sphere_diameter.step(part=part, words=f"diameter {to}", symbol=f"D_{tank.holds}", volume=volume)
        ]
    if tank.shape == "ellipsoid" and tank.found == "length":
        return [
            spheroid_height.step(
                part=part, words=f"height {to}", symbol=f"h_{tank.holds}", volume=volume, diameter=across
            )
        ]
    if tank.shape == "ring" and tank.found == "length":
        return [
            annulus_length.step(
                part=part, words=f"length {to}", symbol=f"L_{tank.holds}", volume=volume,
                outer_diameter=across, inner_diameter=tank.size("inner diameter"),
            )
        ]  # fmt: skip
    if tank.shape == "torus":
        tube = tank.size("tube diameter")
        sizes = {"ring_diameter": across - tube, "tube_diameter": tube}
        return [
            torus_volume.step(part=part, words=f"room {to}", symbol=f"V_{tank.holds}", **sizes),
            torus_area.step(part=part, words=f"wall {to}", **sizes),
        ]
    if tank.shape == "frustum":
        return _frustum(part, tank, volume, to)
    return []


def _frustum(part: str, tank: TankGeometry, volume: float, to: str) -> list[Step]:
    foot, head, high = tank.size("diameter"), tank.size("top diameter"), tank.size("dome height")
    ratio = 2.0 * high / foot
    domes = math.pi / 12.0 * ratio * (foot**3 + head**3)
    if tank.found == "length":
        return [
            frustum_length.step(
                part=part, words=f"length {to}", symbol=f"L_{tank.holds}", volume=volume - domes,
                bottom_diameter=foot, top_diameter=head,
                remark="The domes hold the rest." if domes else "",
            )
        ]  # fmt: skip
    return [
        frustum_volume.step(
            part=part, words=f"room of the cone {to}", symbol=f"V_{tank.holds}",
            bottom_diameter=foot, top_diameter=head, length=tank.size("length"),
        )
    ]  # fmt: skip


def _walls(part: str, tank: TankGeometry) -> list[Step]:
    assert tank.walls is not None
    stuff = material(tank.walls.material)
    strength = strength_allowed(stuff)
    for wall in tank.walls.parts:
        if wall.part != "barrel" or tank.shape != "cylinder":
            continue
        if wall.governed_by == "pressure":
            return [
                walls.cylinder_wall.step(
                    part=part, words=f"wall of the {tank.holds} tank's barrel", symbol=f"t_{tank.holds}",
                    pressure=tank.walls.pressure, diameter=tank.size("diameter"), strength=strength,
                    weld_efficiency=1.0,
                    remark=f"{stuff.name}; the strength allowed has factors {UNCREWED.ultimate:g} and "
                    f"{UNCREWED.yielding:g} and the seams ({WELD:g} where the alloy's are not known) in it. "
                    f"{walls.CAUTION}",
                )
            ]  # fmt: skip
        return [
            walls.buckling_load.step(
                part=part, words=f"load at which the {tank.holds} tank's barrel buckles",
                radius=tank.size("diameter") / 2.0, thickness=wall.thickness,
                modulus=stuff.modulus, poisson=stuff.poisson,
                remark=f"{UNCREWED.ultimate:g} times the load expected. {walls.CAUTION}",
            )
        ]  # fmt: skip
    return []


def _engines(stated: Stated, part: str, plan: EnginePlan) -> list[Step]:
    steps: list[Step] = []
    layout = stated.engine_layout
    if plan.count > 1 and layout.gimbal is not None and layout.gimbal.value > 0.0:
        gap = layout.gap.value if layout.gap is not None else 0.0
        swing = plan.clearance - gap
        length = swing / (2.0 * math.tan(layout.gimbal.value))
        steps.append(
            packing.gimbal_clearance.step(
                part=part, words=f"room between two of the {plan.group}", length=length,
                angle=layout.gimbal.value,
            )
        )  # fmt: skip
    on_ring = {"ring": plan.count, "centre and ring": plan.count - 1, "ring round the others": plan.count}
    number = on_ring.get(plan.way, 0)
    if number > 1 and layout.ring_diameter is None:
        steps.append(
            packing.ring_radius.step(
                part=part, words=f"least radius of the ring of the {plan.group}",
                count=float(number), pitch=plan.exit_diameter + plan.clearance,
            )
        )  # fmt: skip
    return steps
