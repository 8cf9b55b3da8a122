"""A start near an optimum, brought to the orbit: as it is, with other pitch or less to carry, or by its first leg.

A vehicle a little heavier than the one a start was found for falls back, most of all in a long coast; where it
fell says nothing of the way to the orbit.
"""

from __future__ import annotations

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import COAST_UNKNOWNS, FIRST_OF_COAST
from wetmass.flight.coasting import both_legs, first_leg
from wetmass.flight.easing import brought_from_the_fall
from wetmass.flight.scaled import Scaled, breach
from wetmass.flight.scan import brought, giving_way
from wetmass.record.mission import Climb

NEAR, LOST = 0.05, 20.0  # in the scale of the conditions: good as it is; not to be had by small moves


def brought_near(scaled: Scaled, start: np.ndarray) -> np.ndarray:
    """Scaled unknowns near the orbit, from the unknowns `start` (unscaled)."""
    ascent = scaled.ascent
    s = np.clip(start / scaled.scale, scaled.low, scaled.high)
    if isinstance(ascent.orbit, Climb) or breach(scaled.trial(s)) < NEAR:
        return s
    if scaled.trial(s).summary[at.STATUS] == at.DONE:
        s, miss = brought(scaled, s, giving_way(scaled, s))
        if miss < LOST:
            return s
    if not ascent.coasting:
        return brought_from_the_fall(scaled, s)[0]
    leg = Scaled(first_leg(ascent))
    first = np.delete(s * scaled.scale, range(FIRST_OF_COAST, FIRST_OF_COAST + COAST_UNKNOWNS))
    reached, _ = brought_from_the_fall(leg, np.clip(first / leg.scale, leg.low, leg.high))
    return np.clip(both_legs(ascent, reached * leg.scale) / scaled.scale, scaled.low, scaled.high)
