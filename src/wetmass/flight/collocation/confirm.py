"""A solution with its replay, on a mesh as fine as the replay asks for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation.phases import Freedom
from wetmass.flight.collocation.replay import TOLERANCE, Replay, replay
from wetmass.flight.collocation.solve import Solution, best, near

MOST_ROUNDS = 4
SHARE = 0.1  # of the tolerance: an interval that misses more by itself is halved


@dataclass(frozen=True, slots=True)
class Confirmed:
    """What collocation found, and what came of flying it again; `error` says where the two disagree."""

    solution: Solution
    replay: Replay

    @property
    def payload(self) -> float:
        """[kg]; of no use where there is an `error`."""
        return self.solution.payload

    @property
    def error(self) -> str:
        """What is wrong with it, else nothing."""
        solution = self.solution
        if not solution.solved:
            return f"collocation not solved: {solution.status} after {solution.iterations} iterations"
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
    return Confirmed(solution, flown)
