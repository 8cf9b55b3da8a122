"""Engines under a stage in plan view: where they stand, and whether the stage is wide enough."""

from __future__ import annotations

import math
from dataclasses import replace

from wetmass.concept.model import EngineLayout as Stated
from wetmass.concept.model import Stage
from wetmass.physics import packing
from wetmass.physics.jets import fan_diameter
from wetmass.record.geometry import EnginePlan
from wetmass.record.vehicle import EngineGroup
from wetmass.vehicle.usual_nozzle import exit_area

ENGINE_LENGTH = 1.8  # exit diameters
ENGINE_LENGTH_SOURCE = (
    "1.8 exit diameters: middle of RS-25, F-1, J-2, RL10B-2, RD-180 and Vulcain 2 (1.5 to 2.5), from memory"
)


def width(group: EngineGroup) -> float:
    """Diameter of the circle that one engine takes up [m]: of its exit, its fan or its intake."""
    area = max(exit_area(group), 0.0)
    if group.ramjet is not None:
        area = max(area, group.ramjet.capture_area)
    across = math.sqrt(4.0 * area / math.pi)
    if group.jet is not None:
        fan = fan_diameter(group.jet.static_thrust, group.jet.jet_speed)
        across = max(across, fan, group.jet.intake_diameter)
    return across


def as_stated(stated: Stage, groups: tuple[EngineGroup, ...]) -> tuple[EngineGroup, ...]:
    """The groups as the concept lists them: those of a group that fail are put back to the others."""
    if all(kind.out is None for kind in stated.engines):
        return groups
    made, left = [], list(groups)
    for kind in stated.engines:
        one = left.pop(0)
        made.append(one if kind.out is None else replace(one, count=one.count + left.pop(0).count))
    return tuple(made)


def engine_length(stated: Stated, exits: float) -> tuple[float, str]:
    """Length of the longest engine [m] and where that comes from; `exits` is the widest exit [m]."""
    if stated.engine_length is not None:
        return stated.engine_length.value, "stated"
    return ENGINE_LENGTH * exits, ENGINE_LENGTH_SOURCE


def clearance(stated: Stated, exits: float) -> float:
    """Free room kept between two exits at rest [m]."""
    gap = stated.gap.value if stated.gap is not None else 0.0
    if stated.gimbal is None or stated.gimbal.value == 0.0:
        return gap
    length = stated.pivot_to_exit.value if stated.pivot_to_exit else engine_length(stated, exits)[0]
    return gap + packing.gimbal_clearance(length, stated.gimbal.value)


def plans(stated: Stated, groups: tuple[EngineGroup, ...], across: float) -> tuple[EnginePlan, ...]:
    """Every group in plan view under a stage of diameter `across` [m].

    The first group stands as stated, each further one on a ring round those before it.
    """
    made: list[EnginePlan] = []
    taken = 0.0
    for group in groups:
        exits, count = width(group), round(group.count)
        if not exits > 0.0 or count < 1:
            continue
        room = clearance(stated, exits)
        laid = _first(stated, count, exits, room) if not made else _around(count, exits, room, taken)
        taken = max(taken, laid.across)
        ring = max(math.hypot(*point) for point in laid.positions)
        made.append(
            EnginePlan(
                group=group.name,
                count=count,
                exit_diameter=exits,
                clearance=room,
                positions=laid.positions,
                ring_radius=ring,
                across=laid.across,
                way=laid.way,
                most_that_fit=_most(across, exits, room),
                source=laid.source,
            )
        )
    return tuple(made)


def _first(stated: Stated, count: int, exits: float, room: float) -> packing.Layout:
    if count == 1:
        return packing.on_ring(1, exits, room)
    if stated.way == "ring":
        laid = packing.on_ring(count, exits, room)
    elif stated.way == "centre and ring" and count > 2:
        laid = packing.on_ring(count - 1, exits, room, centre=True)
    elif count <= packing.MOST:
        laid = packing.best_known(count, exits, room)
    else:
        laid = packing.on_rings(_rings(count), exits, room)
    if stated.ring_diameter is None:
        return laid
    ring = stated.ring_diameter.value / 2.0
    now = max(math.hypot(*point) for point in laid.positions)
    spread = tuple((x * ring / now, y * ring / now) for x, y in laid.positions)
    return packing.Layout(spread, exits, room, 2.0 * ring + exits, laid.way, "stated ring")


def _around(count: int, exits: float, room: float, taken: float) -> packing.Layout:
    """One ring outside everything that stands already."""
    least = taken / 2.0 + room + exits / 2.0
    radius = least if count == 1 else max(least, packing.ring_radius(count, exits + room))
    positions = tuple(
        (radius * math.cos(2.0 * math.pi * i / count), radius * math.sin(2.0 * math.pi * i / count))
        for i in range(count)
    )
    return packing.Layout(
        positions, exits, room, 2.0 * radius + exits, "ring round the others", "geometry, exact"
    )


def _rings(count: int) -> tuple[int, ...]:
    """Rings within rings for many engines: 1, 6, 12, 18 … from the inside, the rest on the last."""
    rings, left, step = [1], count - 1, 6
    while left > 0:
        rings.append(min(step, left))
        left -= rings[-1]
        step += 6
    return tuple(rings)


def _most(across: float, exits: float, room: float) -> int | None:
    try:
        fit = packing.how_many_fit(across, exits, room)
    except ValueError:  # more than the table of packings reaches
        return None
    return fit.count if fit is not None else 0
