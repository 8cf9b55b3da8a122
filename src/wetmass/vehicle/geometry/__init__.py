"""From stated tanks and engines to where everything stands: `lay_out(concept, vehicle)`.

Masses, volumes and sizes are solved in whichever direction is open: the load of a stage gives the size
that a tank leaves open, and tanks whose sizes are stated give the load (`load_from_tanks`).
"""

from __future__ import annotations

from wetmass.vehicle.geometry.balance import balance_steps, trims
from wetmass.vehicle.geometry.contents import load_from_tanks
from wetmass.vehicle.geometry.layout import lay_out, no_trouble
from wetmass.vehicle.geometry.steps import geometry_steps

__all__ = ["balance_steps", "geometry_steps", "lay_out", "load_from_tanks", "no_trouble", "trims"]
