"""What is known of a solved concept, to start from when another near it is solved.

Starting from it takes some tens of flights instead of thousands.  Many closings of one study all start from
the same nominal answer, never from a neighbour's, so that none depends on which was done first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from wetmass.flight.ascent import Ascent
from wetmass.flight.optimum import retilted
from wetmass.record.mission import Climb

if TYPE_CHECKING:
    from wetmass.closing.close import Answer


@dataclass(frozen=True, slots=True)
class Known:
    """Unknowns of an answer by name (SI), and how flat its zero-lift turn ends; plain enough to be sent.

    turn  path angle where the turn ends [rad], None on a climb
    """

    values: Mapping[str, float]
    turn: float | None

    @property
    def coasts(self) -> bool:
        """Whether its last stage coasts and burns again."""
        return "coast" in self.values

    def start(self, ascent: Ascent) -> np.ndarray:
        """Unknowns (unscaled) of `ascent` to start from: these where the names agree, its own elsewhere.

        The tilt is the one that ends the turn as flat as before.
        """
        x = np.array([self.values.get(u.name, u.start) for u in ascent.unknowns])
        return x if self.turn is None else retilted(ascent, x, self.turn)


def known(answer: Answer) -> Known | None:
    """What another concept near can start from; None where this one was not solved."""
    ascent, found = answer.ascent, answer.found
    if not found.met:
        return None
    values = {u.name: float(v) for u, v in zip(ascent.unknowns, found.x, strict=True)}
    climbs = isinstance(ascent.orbit, Climb)
    return Known(values, None if climbs else ascent.path_angle_after_turn(found.x))
