"""The half section of a tank as points, for drawings and for seeing whether two meet."""

from __future__ import annotations

import math

from wetmass.physics.tanks import (
    AnnularTank,
    ClusterTank,
    CylinderTank,
    Dome,
    FrustumTank,
    NestedTank,
    SphereTank,
    SpheroidTank,
    Tank,
    TorusTank,
)
from wetmass.record.geometry import Point

_ARC = 24  # points of a quarter of an ellipse


def half_section(tank: Tank) -> tuple[Point, ...]:
    """(radius, height) of a tank's inside, from its lowest point on the axis up to the highest.

    Of a ring the line comes back to where it began: it has a hole.
    """
    if isinstance(tank, ClusterTank):
        return half_section(tank.tank)
    if isinstance(tank, NestedTank):
        return half_section(tank.outer)
    if isinstance(tank, TorusTank):
        ring, tube = tank.ring_diameter / 2.0, tank.tube_diameter / 2.0
        turn = [2.0 * math.pi * i / (4 * _ARC) - math.pi / 2.0 for i in range(4 * _ARC + 1)]
        return tuple((ring + tube * math.cos(a), tube + tube * math.sin(a)) for a in turn)
    if isinstance(tank, AnnularTank):
        outer, inner = tank.outer_diameter / 2.0, tank.inner_diameter / 2.0
        return (inner, 0.0), (outer, 0.0), (outer, tank.length), (inner, tank.length), (inner, 0.0)
    if isinstance(tank, (SphereTank, SpheroidTank)):
        half = tank.height / 2.0
        return (*_dome(tank.diameter / 2.0, half, half, -1), *_dome(tank.diameter / 2.0, half, half, 1))
    assert isinstance(tank, (CylinderTank, FrustumTank))
    wide = isinstance(tank, FrustumTank)
    foot = (tank.bottom_diameter if wide else tank.diameter) / 2.0
    head = (tank.top_diameter if wide else tank.diameter) / 2.0
    low = 0.0 if tank.bottom.inward else tank.bottom.height_ratio * foot
    return (*_end(tank.bottom, foot, low, -1), *_end(tank.top, head, low + tank.length, 1))


def _end(dome: Dome, radius: float, rim: float, side: int) -> tuple[Point, ...]:
    """A bottom (side −1, from the axis outwards) or top (side 1, from the rim inwards)."""
    height = dome.height_ratio * radius * (-1.0 if dome.inward else 1.0)
    return _dome(radius, rim, height, side)


def _dome(radius: float, rim: float, height: float, side: int) -> tuple[Point, ...]:
    steps = _ARC if height else 1
    angles = [math.pi / 2.0 * i / steps for i in range(steps + 1)]
    points = [
        (0.0 if i == steps else radius * math.cos(a), rim + side * height * math.sin(a))
        for i, a in enumerate(angles)
    ]
    return tuple(points[::-1] if side < 0 else points)


def reach(tank: Tank, level: float) -> tuple[float, float]:
    """(inner, outer) radius taken up at a height above the tank's foot [m]; (0, 0) beyond its ends."""
    if not 0.0 <= level <= tank.height:
        return 0.0, 0.0
    if isinstance(tank, TorusTank):
        ring, tube = tank.ring_diameter / 2.0, tank.tube_diameter / 2.0
        half = math.sqrt(max(0.0, tube**2 - (level - tube) ** 2))
        return ring - half, ring + half
    if isinstance(tank, AnnularTank):
        return tank.inner_diameter / 2.0, tank.outer_diameter / 2.0
    return 0.0, tank.outline(level)
