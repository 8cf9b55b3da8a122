"""Tanks: shapes, sizes from masses and volumes, stacks."""

from wetmass.physics.tanks.shapes import (
    FLAT,
    HEMISPHERE,
    ROOT_TWO,
    AnnularTank,
    ClusterTank,
    CylinderTank,
    Dome,
    Envelope,
    FrustumTank,
    Liquid,
    NestedTank,
    SphereTank,
    SpheroidTank,
    Tank,
    TorusTank,
)
from wetmass.physics.tanks.sizing import (
    Stack,
    cylinder_length,
    cylinder_volume,
    dome_area,
    frustum_area,
    frustum_volume,
    open_dimensions,
    shared_bulkhead_pair,
    sized,
    stacked,
    tank_volume,
    torus_area,
    torus_volume,
    with_dimension,
)

__all__ = [
    "FLAT", "HEMISPHERE", "ROOT_TWO", "AnnularTank", "ClusterTank", "CylinderTank", "Dome", "Envelope",
    "FrustumTank", "Liquid", "NestedTank", "SphereTank", "SpheroidTank", "Stack", "Tank", "TorusTank",
    "cylinder_length", "cylinder_volume", "dome_area", "frustum_area", "frustum_volume", "open_dimensions",
    "shared_bulkhead_pair", "sized", "stacked", "tank_volume", "torus_area", "torus_volume", "with_dimension",
]  # fmt: skip
