"""Dry masses: by parts from published relations, like a stage that flew, and both beside a stated one.

`DryMasses(concept).filled(...)` puts those that follow from the rest into a vehicle, in microseconds;
`stage_masses(concept, vehicle)` gives every way side by side, `itemised` the mass table by part.
"""

from __future__ import annotations

from wetmass.vehicle.masses.dry import DryMasses
from wetmass.vehicle.masses.steps import mass_steps
from wetmass.vehicle.masses.table import itemised, stage_masses

__all__ = ["DryMasses", "itemised", "mass_steps", "stage_masses"]
