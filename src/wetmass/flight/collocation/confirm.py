"""A solution with its replay, on a mesh as fine as the replay asks for."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation.phases import Freedom
from wetmass.flight.collocation.replay import TOLERANCE, Replay, replay
from wetmass.flight.collocation.solve import Solution, best, near

MOST_ROUNDS = 4
HELD = 0.01  # relative: a limit that throttling holds is passed by less
SHARE = 0.1  # of the tolerance: an interval that misses more by itself is halved


@dataclass(frozen=True, slots=True)
class Confirmed:
    """What collocation found, and what came of flying it again; `error` says where the two disagree."""

    solution: Solution
    replay: Replay
    pressed_by: float = 0.0  # how far the flight it began from passes the limit of dynamic pressure [-]

    @property
    def payload(self) -> float:
        """[kg]; of no use where there is an `error`."""
        return self.solution.payload

    @property
    def error(self) -> str:
        """What is wrong with it, else nothing."""
        solution = self.solution
        if not solution.solved:
            why = f"collocation not solved: {solution.status} after {solution.iterations} iterations"
            if self.pressed_by > HELD:
                why += (
                    f"; the flight it began from passes the limit of dynamic pressure by "
                    f"{100.0 * self.pressed_by:.0f} % at its least throttle, which collocation may not"
                )
            return why
        if solution.pressed:
            return (
                f"collocation: phases {solution.pressed} have no length left; the order of events is another"
            )
        return self.replay.error


def confirmed(
    ascent: Ascent, x: np.ndarray | None = None, freedom: Freedom = Freedom.LAW,
    tolerance: float = TOLERANCE, **options: Any,
) -> Confirmed:  # fmt: skip
    """`solve.best` flown again; intervals that miss by themselves are halved until the replay agrees.

    tolerance  of the replay, of radius, speed and mass;  options  of `solve.best`
    At most `MOST_ROUNDS` meshes; a disagreement that is left is an error in the record.
    """
    solution = best(ascent, x, freedom, **options)
    flown = replay(ascent, solution.outline, tolerance)
    for _ in range(MOST_ROUNDS):
        if flown.agrees or not solution.solved:
            break
        meshes = [
            phase.mesh.halved([int(k) for k in np.flatnonzero(misses > SHARE * tolerance)])
            for phase, misses in zip(solution.outline.phases, flown.intervals, strict=True)
        ]
        finer = near(ascent, solution.outline.with_meshes(meshes), iterations=200)
        if not finer.solved:
            break
        solution, flown = finer, replay(ascent, finer.outline, tolerance)
    passed = 0.0
    if x is not None and ascent.limits.pressure < math.inf:
        passed = float(ascent.trial(x).summary[at.GREATEST_PRESSURE]) / ascent.limits.pressure - 1.0
    return Confirmed(solution, flown, passed)
