"""Where nothing is laid out: every stage as a plain cylinder as wide as stated, long enough for its load."""

from __future__ import annotations

import math

from wetmass.physics.propellants import PAIRS, bulk_density, density
from wetmass.record.geometry import FairingGeometry, Geometry, Size, StageGeometry, TankGeometry
from wetmass.record.vehicle import Origin, Stage, Vehicle

NOTE = "drawn from volumes"
_SOLID = 1750.0  # kg/m³ of a composite grain: from memory, for the drawing alone
_FREE = 0.05  # of the volume left to gas: common practice, for the drawing alone


def _density(stage: Stage) -> float:
    p = stage.propellant
    pair = PAIRS.get(p.pair)
    if pair is not None and math.isfinite(p.mixture_ratio):
        return bulk_density(
            oxidiser_density=pair.oxidiser.density,
            fuel_density=pair.fuel.density,
            mixture_ratio=p.mixture_ratio,
        )
    try:
        return density(p.pair)
    except ValueError:
        return _SOLID


def from_volumes(vehicle: Vehicle) -> Geometry:
    """A geometry drawn from diameters and volumes alone; every figure of it is an estimate."""
    made: list[StageGeometry] = []
    at = 0.0
    strapped = {strap.stage.name: strap.count for strap in vehicle.strap_ons}
    for stage in vehicle.every_stage():
        across = stage.diameter if stage.diameter > 0.0 else 1.0
        load = max(stage.propellant.load, 0.0)
        volume = load / _density(stage) / (1.0 - _FREE)
        high = max(volume / (math.pi / 4.0 * across**2), 0.05 * across)
        engine = 0.5 * across
        radius = across / 2.0
        tank = TankGeometry(
            stage=stage.name, holds=stage.propellant.pair, shape="cylinder", count=1,
            sizes=(Size("diameter", across, Origin.STATED), Size("length", high, Origin.DERIVED)),
            found="length", density=_density(stage), temperature=None, ullage=_FREE, mass=load,
            needed=volume, volume=volume, wall_area=0.0, wetted_area=0.0, level=high * (1.0 - _FREE),
            surface=math.pi * radius**2, centre=engine + high / 2.0, foot=engine, height=high, across=across,
            envelope=across, hole=0.0, positions=((0.0, 0.0),),
            outline=((0.0, 0.0), (radius, 0.0), (radius, high), (0.0, high)),
            shares_bulkhead=False, inside="", shared_below=False,
        )  # fmt: skip
        foot = 0.0 if stage.name in strapped else at
        laid = StageGeometry(
            name=stage.name, count=strapped.get(stage.name, 1), diameter=across, foot=foot,
            length=engine + high, stated_length=None, engine_length=engine, engine_length_source=NOTE,
            skirts=0.0, tanks=(tank,), engines=(), engines_across=0.0,
        )  # fmt: skip
        made.append(laid)
        if stage.name not in strapped:
            at = laid.top
    shell = None
    if any("fairing" in piece.name for piece in vehicle.let_go):
        shell = _shell(made[-1].diameter, at)
    top = at + (shell.length if shell else 0.0)
    return Geometry(tuple(made), shell, top, max(one.diameter for one in made), (NOTE,))


def _shell(across: float, foot: float) -> FairingGeometry:
    radius, long = across / 2.0, 2.5 * across
    nose = 1.2 * across
    arc = [math.pi / 2.0 * i / 24 for i in range(25)]
    outline = (
        (radius, 0.0),
        *((max(radius * math.cos(a), 0.0), long - nose + nose * math.sin(a)) for a in arc),
    )
    return FairingGeometry(across, long, nose, foot, 0.0, outline)
