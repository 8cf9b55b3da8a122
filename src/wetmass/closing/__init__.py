"""Find the open values of a concept: close the sizing loop with the flight in it."""

from __future__ import annotations

from wetmass.closing.close import close

__all__ = ["close"]
