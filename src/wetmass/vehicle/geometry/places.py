"""Where the axes of stages stand in plan view."""

from __future__ import annotations

import math

from wetmass.record.geometry import Geometry, Point
from wetmass.record.vehicle import Vehicle


def places(geometry: Geometry, vehicle: Vehicle) -> dict[str, tuple[Point, ...]]:
    """(across, away) of the axis of each stage [m]: one on the axis, what is strapped on evenly round it."""
    strapped = {strap.stage.name: strap for strap in vehicle.strap_ons}
    by_name = {stage.name: stage for stage in geometry.stages}
    made: dict[str, tuple[Point, ...]] = {}
    for stage in geometry.stages:
        strap = strapped.get(stage.name)
        if strap is None:
            made[stage.name] = ((0.0, 0.0),)
            continue
        core = by_name.get(vehicle.stages[strap.beside].name)
        radius = ((core.diameter if core else 0.0) + stage.diameter) / 2.0
        turns = [2.0 * math.pi * i / strap.count for i in range(strap.count)]
        made[stage.name] = tuple((radius * math.cos(a), radius * math.sin(a)) for a in turns)
    return made
