"""What is known of a solved concept, to start from when another near it is solved.

Starting from it takes some tens of flights instead of thousands.  Many closings of one study all start from
the same nominal answer, never from a neighbour's, so that none depends on which was done first.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from wetmass.closing.guess import ideal_gain, needed_speed
from wetmass.flight.ascent import Ascent
from wetmass.flight.optimum import retilted
from wetmass.record.mission import Climb

if TYPE_CHECKING:
    from wetmass.closing.close import Answer

REACH = 2.0  # how far a scaled unknown that gives way is moved before anything is flown


@dataclass(frozen=True, slots=True)
class Known:
    """Unknowns of an answer by name (SI), and how flat its zero-lift turn ends; plain enough to be sent.

    turn  path angle where the turn ends [rad], None on a climb
    over  ideal speed gain above what such an orbit usually needs [m/s]
    heading  usual for the orbit [rad]; None, like the other two: values are taken as they are
    """

    values: Mapping[str, float]
    turn: float | None
    over: float | None = None
    heading: float | None = None

    @property
    def coasts(self) -> bool:
        """Whether its last stage coasts and burns again."""
        return "coast" in self.values

    def start(self, ascent: Ascent) -> np.ndarray:
        """Unknowns (unscaled) of `ascent` to start from: these where the names agree, its own elsewhere.

        The tilt is the one that ends the turn as flat as before; what gives way, payload say, is what leaves
        the vehicle as much ideal speed above the usual as before; the heading is as far off the usual as before.
        """
        values = dict(self.values)
        if self.heading is not None:
            values["azimuth"] += ascent.launch_heading() - self.heading
        x = np.array([values.get(u.name, u.start) for u in ascent.unknowns])
        if self.over is not None:
            x = _given_way(ascent, x, self.over + needed_speed(ascent.orbit, ascent.site, 0.0))
        return x if self.turn is None else retilted(ascent, x, self.turn)


def known(answer: Answer) -> Known | None:
    """What another concept near can start from; None where this one was not solved."""
    ascent, found = answer.ascent, answer.found
    if not found.met:
        return None
    values = {u.name: float(v) for u, v in zip(ascent.unknowns, found.x, strict=True)}
    if isinstance(ascent.orbit, Climb):
        return Known(values, None)
    gain = ideal_gain(ascent.build(ascent.open_values(found.x)))
    over = gain - needed_speed(ascent.orbit, ascent.site, 0.0)
    return Known(
        values,
        ascent.path_angle_after_turn(found.x),
        over if math.isfinite(over) else None,
        ascent.launch_heading(),
    )


def _given_way(ascent: Ascent, x: np.ndarray, gain: float) -> np.ndarray:
    """The unknowns with the last of them, which gives way, where the ideal speed gain is `gain` [m/s]."""
    last = ascent.unknowns[-1]

    def over(value: float) -> float:
        return ideal_gain(ascent.build([*ascent.open_values(x)[:-1], value])) - gain

    low, high = max(last.low, x[-1] - REACH * last.scale), min(last.high, x[-1] + REACH * last.scale)
    at_low, at_high = over(low), over(high)
    if not (math.isfinite(at_low) and math.isfinite(at_high) and at_low * at_high < 0.0):
        return x
    for _ in range(20):
        middle = 0.5 * (low + high)
        at_middle = over(middle)
        low, high, at_low = (middle, high, at_middle) if at_middle * at_low > 0.0 else (low, middle, at_low)
    return np.array([*x[:-1], middle])
