"""An engine group of the concept as an SI record."""

from __future__ import annotations

import math

from wetmass.concept.model import EngineGroup as Stated
from wetmass.concept.quantity import Quantity
from wetmass.physics.engines import Engine, engine
from wetmass.record.vehicle import EngineGroup


def si(quantity: Quantity | None) -> float | None:
    """The SI value, None where nothing was stated."""
    return None if quantity is None else quantity.value


def one_engine(stated: Stated) -> Engine:
    """One engine of the group at the scale 1, from the figures stated."""
    area = si(stated.exit_area)
    if area is None and stated.exit_diameter is not None:
        area = math.pi / 4.0 * stated.exit_diameter.value**2
    return engine(
        vacuum_thrust=si(stated.thrust.vacuum),
        sea_level_thrust=si(stated.thrust.sea_level),
        vacuum_isp_s=si(stated.isp.vacuum),
        sea_level_isp_s=si(stated.isp.sea_level),
        exit_area=area,
    )


def group(stated: Stated, made: Engine, name: str, count: float, scale: float) -> EngineGroup:
    """The group with its number and scale known; thrust, flow and exit area grow with the scale."""
    return EngineGroup(
        name=name,
        count=count,
        vacuum_thrust=made.vacuum_thrust * scale,
        exit_area=made.exit_area * scale,
        vacuum_isp=made.vacuum_isp_s,
        least_throttle=1.0 if stated.minimum_throttle is None else stated.minimum_throttle.value,
        ignitions=stated.ignitions,
        stops_after=si(stated.stops_after),
    )
