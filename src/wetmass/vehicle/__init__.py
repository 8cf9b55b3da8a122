"""A concept whose open values are filled in, as plain SI records."""

from __future__ import annotations

from wetmass.vehicle.assembly import Assembly

__all__ = ["Assembly"]
