"""The programme of a flight as flown, and many vehicles flown along it on every core.

`wetmass.flight.along` holds what is compiled, and says what is fixed and what is not.
"""

from __future__ import annotations

import itertools
import os
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.along import (
    BURN_STEP,
    COAST_STEP,
    HOW_WIDTH,
    REGULATES,
    RESULT_WIDTH,
    STATE,
    along_each,
)
from wetmass.flight.ascent import Ascent
from wetmass.flight.program import Program
from wetmass.flight.propagate import fly

NODES = 96  # of each piece of the programme
RECORDED = 1e-10  # tolerance of the flight that the programme is taken from
USUAL_BURN_STEP, USUAL_COAST_STEP = 4.0, 60.0  # s: the end is met to some 0.2 m/s
_EVERY = 1.0  # s between recorded rows
_MOST_ROWS = 20_000


@dataclass(frozen=True)
class Programme:
    """What is the same in every flight along it, arrays as for `along.along`.

    pieces_let_go  (which of the vehicle's let-go masses, segment, seconds since it began), by time
    end            state (STATE,) in which the recorded flight ended
    """

    attitude: np.ndarray
    pieces: np.ndarray
    control: np.ndarray
    curve: np.ndarray
    start: np.ndarray
    regulates: bool
    pieces_let_go: tuple[tuple[int, int, float], ...]
    end: np.ndarray

    def own(self, laid: Program) -> tuple[np.ndarray, np.ndarray, float]:
        """(segments, drops, lift-off mass) of one vehicle."""
        segments = laid.segments.copy()
        segments[:, at.ATTITUDE] = at.FOLLOWS_PROGRAM
        drops = [(s, since, laid.let_go[which, at.LET_GO_MASS]) for which, s, since in self.pieces_let_go]
        return segments, np.array(drops, dtype=float).reshape(-1, 3), float(laid.lift_off_mass)

    def how(self, burn_step: float = USUAL_BURN_STEP, coast_step: float = USUAL_COAST_STEP) -> np.ndarray:
        """Steps and throttling as the compiled flight reads them."""
        made = np.zeros(HOW_WIDTH)
        made[BURN_STEP], made[COAST_STEP], made[REGULATES] = burn_step, coast_step, float(self.regulates)
        return made


def programme(ascent: Ascent, x: np.ndarray) -> Programme:
    """The programme of the flight with the unknowns `x` of `ascent`.

    Raises ValueError for vehicles whose engines follow rules of their own (jets, solids, strap-ons), stages let
    go at a height, and climbs: their events do not go by the clock.
    """
    vehicle = ascent.build(ascent.open_values(x))
    laid = ascent.lay_out(x, vehicle)
    ends = set(laid.segments[:, at.END].astype(int))
    if (
        len(laid.groups)
        or not ends <= {at.ENDS_AT_TIME, at.ENDS_AT_BURNT}
        or np.any(laid.segments[:, at.END_HEIGHT])
    ):
        raise ValueError(
            "engines with rules of their own, strap-ons or ends by height: no programme by the clock"
        )
    control = ascent.control(x, vehicle)
    fine = control.copy()
    fine[at.TOLERANCE], fine[at.LONGEST_STEP] = RECORDED, _EVERY
    y = ascent.started(control, laid, at.STEERED)
    start = y[:STATE].copy()
    rows, marks = np.zeros((_MOST_ROWS, at.ROW_WIDTH)), np.zeros((laid.mark_rows(), 1 + at.STEERED))
    summary = np.zeros(at.SUMMARY_WIDTH)
    _, written = fly(
        0.0, laid.segments, laid.let_go, fine, laid.curves, y, summary, marks, rows,
        np.zeros((0, at.STEP_WIDTH)), False, at.STEERED, laid.groups, laid.traces,
    )  # fmt: skip
    rows, count = rows[:written], len(laid.segments)
    begins = np.concatenate([[0.0], marks[:count, 0]])
    made = list(_pieces(rows, begins))
    let_go = []
    for which in range(len(laid.let_go)):
        time = marks[count + which, 0]
        if time > 0.0:
            s = int(np.searchsorted(begins[:-1], time, side="right") - 1)
            let_go.append((which, s, float(time - begins[s])))
    return Programme(
        np.array([attitude for _, attitude in made]), np.array([piece for piece, _ in made]), control,
        laid.curves[0], start, bool(summary[at.GREATEST_PRESSURE] > 0.999 * control[at.PRESSURE_LIMIT]),
        tuple(sorted(let_go, key=lambda one: one[1:])), y[:STATE].copy(),
    )  # fmt: skip


def _pieces(rows: np.ndarray, begins: np.ndarray) -> Iterator[tuple[tuple[float, float, float], np.ndarray]]:
    """((segment, since, pace), attitude (NODES, 3)) of each smooth piece of a recorded flight."""
    for s in range(len(begins) - 1):
        own = rows[rows[:, at.ROW_SEGMENT] == s]
        times, end = own[:, at.ROW_TIME] - begins[s], begins[s + 1] - begins[s]
        turns = [i for i in range(1, len(own)) if own[i, at.ROW_PHASE] != own[i - 1, at.ROW_PHASE]]
        cuts = [0, *turns, len(own)]
        for first, beyond in itertools.pairwise(cuts):
            if first >= len(own):
                continue
            until = end if beyond == len(own) else times[beyond]
            if until - times[first] > 1e-6:
                pace = (until - times[first]) / (NODES - 1)
                nodes = times[first] + pace * np.arange(NODES)
                where = slice(at.ROW_DIRECTION, at.ROW_DIRECTION + 3)
                yield (
                    (s, times[first], pace),
                    _directions(times[first:beyond], own[first:beyond, where], nodes),
                )


def _directions(times: np.ndarray, directions: np.ndarray, nodes: np.ndarray) -> np.ndarray:
    from scipy.interpolate import interp1d

    apart = np.concatenate([[True], np.diff(times) > 1e-9])
    times, directions = times[apart], directions[apart]
    if len(times) == 1:
        return np.repeat(directions, len(nodes), axis=0)
    kind = "cubic" if len(times) > 3 else "linear"
    found = interp1d(times, directions, axis=0, kind=kind, fill_value="extrapolate")(nodes)
    return found / np.linalg.norm(found, axis=1)[:, None]


@dataclass(frozen=True)
class Batch:
    """Vehicles to be flown along one programme: segments (N, s, ·), drops (N, j, 3), masses (N,)."""

    programme: Programme
    segments: np.ndarray
    drops: np.ndarray
    masses: np.ndarray
    how: np.ndarray

    def __len__(self) -> int:
        return len(self.masses)


def fly_along(batch: Batch, workers: int | None = None) -> np.ndarray:
    """Results (N, RESULT_WIDTH), on every core or so many threads; each flight is the same by any number."""
    results = np.zeros((len(batch), RESULT_WIDTH))
    count = workers or os.cpu_count() or 1
    size = max(1, min(4096, -(-len(batch) // count)))
    p = batch.programme

    def do(begin: int) -> None:
        own = slice(begin, begin + size)
        along_each(
            batch.segments[own], batch.drops[own], p.attitude, p.pieces, p.control, p.curve, batch.how, p.start,
            batch.masses[own], results[own],
        )  # fmt: skip

    with ThreadPoolExecutor(count) as threads:
        list(threads.map(do, range(0, len(batch), size)))
    return results
