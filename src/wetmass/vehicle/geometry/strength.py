"""Walls of a tank from the pressure in it and the load on it: concept figures."""

from __future__ import annotations

from wetmass.physics.materials import UNCREWED, Material, material
from wetmass.physics.walls import tank_walls
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.geometry import TankWalls, Wall
from wetmass.record.vehicle import Vehicle
from wetmass.vehicle.geometry.stack import Stood

USUAL_PRESSURE = 300e3  # Pa over outside, pump-fed stages: common practice
USUAL_MATERIAL = "Al 2219-T87"  # a usual alloy of welded tanks: common practice
WELD = 0.85  # strength of a seam over that of the sheet, where the alloy's is not known: common practice
LEFT_OUT = "bending, drag and the rounding-out by pressure are not counted in the axial load"


def strength_allowed(stuff: Material) -> float:
    """The stress [Pa] that respects the factors on ultimate and yield strength, seams counted."""
    seam = stuff.welded_ultimate / stuff.ultimate if stuff.welded_ultimate else WELD
    return min(stuff.ultimate * seam / UNCREWED.ultimate, stuff.yielding / UNCREWED.yielding)


def felt_while_full(vehicle: Vehicle, index: int, limit: float) -> float:
    """Greatest acceleration felt while a stage is full [m/s²]: at its ignition, or before by those below.

    limit  that engines throttle to keep [m/s²], infinite for none
    """
    felt = [vehicle.lift_off_thrust() / vehicle.lift_off_mass, STANDARD_GRAVITY]
    felt += [felt_at_burn_out(vehicle, below, limit) for below in range(index)]
    if index:
        felt.append(min(limit, vehicle.stages[index].vacuum_thrust / vehicle.mass_above(index)))
    return max(felt)


def felt_at_burn_out(vehicle: Vehicle, index: int, limit: float) -> float:
    """Acceleration felt as a stage burns out at full thrust, or the limit [m/s²]."""
    stage = vehicle.stages[index]
    end = vehicle.mass_above(index) - stage.propellant.gone_before - stage.propellant.burns
    end -= sum(s.gross_mass for s in vehicle.strap_ons if s.beside == index)  # let go by then
    return min(limit, stage.vacuum_thrust / end) if end > 0.0 else 0.0


def walls_of(
    one: Stood, level: float, diameter: float, vehicle: Vehicle, index: int, limit: float, strapped: bool
) -> tuple[TankWalls | None, tuple[str, ...]]:
    """Walls of one tank, and what was assumed for them; None for shapes without a formula here.

    level     of the liquid above its foot [m];  diameter  of the stage [m]
    index     of the stage in the vehicle, or of the one it burns beside where it is strapped on
    strapped  nothing stands on it then
    """
    tank = one.entry.tank
    if one.entry.holds == "solid" and tank.pressure is None:
        return None, ()  # a motor's case holds the chamber's pressure, which is not said
    assumed = []
    if tank.material is None:
        assumed.append(f"tank walls of {USUAL_MATERIAL} (common practice)")
    if tank.pressure is None:
        assumed.append(f"tank pressure {USUAL_PRESSURE / 1e3:.0f} kPa over outside (common practice)")
    stuff = material(tank.material or USUAL_MATERIAL)
    gas = tank.pressure.value if tank.pressure is not None else USUAL_PRESSURE
    felt = felt_while_full(vehicle, index, limit)
    pressure = gas + one.entry.density * felt * level
    load = 0.0
    if len(one.positions) == 1 and one.entry.is_skin(diameter) and not strapped:
        above = vehicle.mass_above(index) - vehicle.stages[index].gross_mass
        above -= sum(s.gross_mass for s in vehicle.strap_ons if s.beside == index)
        load = above * max(felt, felt_at_burn_out(vehicle, index, limit))
    try:
        made = tank_walls(one.one, pressure, stuff, weld_efficiency=WELD, load=max(load, 0.0))
    except ValueError:
        return None, ()
    parts = tuple(Wall(p.part, p.area, p.thickness, p.governed_by, p.mass) for p in made.parts)
    notes = (*made.notes, LEFT_OUT) if load else made.notes
    return TankWalls(stuff.name, pressure, load, parts, made.mass, notes), tuple(assumed)
