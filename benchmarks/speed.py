"""The speed table: each row a time, and the ratio to a yardstick measured in the same run.

    python benchmarks/speed.py [--quick]

The yardstick of one flight is scipy's DOP853 on the same compiled right-hand side.  It is told the moments of
all events, so it looks for none, and takes the widest tolerance of a ladder at which it errs no more at
insertion than our flight does; what both err is held against a flight at 1e-14.  The other rows are held
against what is asked of them.  Medians of processor time, which other work on the machine disturbs less;
flights a second also by the clock.  `--quick` leaves out new processes.
"""

from __future__ import annotations

import argparse
import itertools
import math
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

import numpy as np

from corpus import machine
from optimum import ORBITS, long_burn, problem, short_burn
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.optimum import best

ROOT = Path(__file__).resolve().parent.parent
LADDER = tuple(10.0**-p for p in np.arange(6.0, 12.6, 0.5))  # tolerances tried for scipy
N = at.STEERED


def median(work, times: int, runs: int = 5) -> float:
    """Median over `runs` of the processor seconds that one of `times` calls takes."""
    work()
    taken = []
    for _ in range(runs):
        begun = time.process_time()
        for _ in range(times):
            work()
        taken.append((time.process_time() - begun) / times)
    return statistics.median(taken)


class OneFlight:
    """A solved ascent as the compiled flight takes it, and the same by scipy."""

    def __init__(self, ascent: Ascent, x: np.ndarray) -> None:
        self.ascent = ascent
        self.vehicle, self.laid = ascent.laid(x)
        self.control = ascent.control(x, self.vehicle)
        self.rows = np.zeros((0, at.ROW_WIDTH))

    def ours(self, tolerance: float, rows: np.ndarray | None = None) -> np.ndarray:
        """State at insertion."""
        from wetmass.flight.propagate import fly

        control = self.control.copy()
        control[at.TOLERANCE] = tolerance
        y = self.ascent.started(control, self.laid, N)
        summary, marks = np.zeros(at.SUMMARY_WIDTH), np.zeros((self.laid.mark_rows(), 1 + N))
        rows = np.zeros((0, at.ROW_WIDTH)) if rows is None else rows
        _, self.written = fly(
            0.0, self.laid.segments, self.laid.let_go, control, self.laid.curves, y, summary, marks, rows,
            np.zeros((0, at.STEP_WIDTH)), False, N,
        )  # fmt: skip
        return y

    def stretches(self, tolerance: float) -> list[tuple]:
        """(from, to, segment, curve, mode, mass let go, whether it is aimed anew) between events."""
        rows = np.zeros((4000, at.ROW_WIDTH))
        self.ours(tolerance, rows)
        rows = rows[: self.written]
        c = self.control
        mode = np.zeros(at.MODE_WIDTH)
        mode[[at.MODE_ACCELERATION_LIMIT, at.MODE_PRESSURE_LIMIT]] = (
            c[at.ACCELERATION_LIMIT],
            c[at.PRESSURE_LIMIT],
        )
        mode[[at.MODE_TILT, at.MODE_HELD, at.MODE_TILT_RATE]] = c[at.TILT], c[at.TILT], c[at.TILT_RATE]
        mode[[at.MODE_SIN_AZIMUTH, at.MODE_COS_AZIMUTH]] = math.sin(c[at.AZIMUTH]), math.cos(c[at.AZIMUTH])
        mode[at.MODE_ROUND] = c[at.ROUND]
        events = [row for row in rows if row[at.ROW_EVENT] != at.NO_EVENT]
        found = []
        for row, following in itertools.pairwise(events):
            event = int(row[at.ROW_EVENT])
            mode[at.PHASE] = row[at.ROW_PHASE]
            if event == at.TILT_BEGINS:
                mode[at.TILT_START] = row[at.ROW_TIME]
            if event == at.SEGMENT_ENDS:
                mode[at.SEGMENT_START] = row[at.ROW_TIME]
            throttled = row[at.ROW_THROTTLE] < 1.0
            if event == at.LIMIT_CHANGES:
                mode[at.THROTTLE_MODE] = row[at.ROW_EVENT_INDEX]
            elif event == at.SEGMENT_ENDS:
                mode[at.THROTTLE_MODE] = at.THROTTLE_FOR_ACCELERATION if throttled else at.THROTTLE_FULL
            segment = self.laid.segments[int(row[at.ROW_SEGMENT])]
            found.append((
                row[at.ROW_TIME], following[at.ROW_TIME], segment.copy(), self.laid.curves[int(segment[at.CURVE])],
                mode.copy(), row[at.ROW_SHED], event == at.FREE_BEGINS,
            ))  # fmt: skip
        return found

    def scipy(self, stretches: list[tuple], tolerance: float) -> np.ndarray:
        """State at insertion."""
        from scipy.integrate import DOP853

        from wetmass.flight.motion import rates_seen
        from wetmass.flight.propagate import _aim

        y = self.ascent.started(self.control, self.laid, N)
        floor = np.array([1e3] * 3 + [1e2] * 3 + [1e3] * 2 + [1.0] * 3 + [1e-2] * 3 + [1e3])
        for start, end, segment, curve, mode, shed, aimed in stretches:
            y[at.MASS] -= shed
            if aimed:
                _aim(y, self.control)
            if end <= start:
                continue

            def right_hand_side(t, y, segment=segment, curve=curve, mode=mode):
                dy = np.empty(N)
                rates_seen(t, y, segment, mode, curve, None, None, dy, N)
                return dy

            solver = DOP853(
                right_hand_side, start, y, end, rtol=max(tolerance, 3e-14), atol=tolerance * floor
            )
            while solver.status == "running":
                solver.step()
            y = solver.y
        return y


def far(y: np.ndarray, other: np.ndarray) -> float:
    """The greater of the relative distances of place and speed."""
    return max(
        float(np.linalg.norm(y[part] - other[part]) / np.linalg.norm(other[part]))
        for part in (slice(0, 3), slice(3, 6))
    )


def one_flight(ascent: Ascent, x: np.ndarray) -> tuple[float, float, str]:
    """(our seconds, scipy's, what both err)."""
    flight = OneFlight(ascent, x)
    exact = flight.ours(1e-14)
    ours = far(flight.ours(ascent.tolerance), exact)
    stretches = flight.stretches(1e-14)
    theirs, tolerance = math.inf, LADDER[0]
    for tolerance in LADDER:
        theirs = far(flight.scipy(stretches, tolerance), exact)
        if theirs <= ours:
            break
    mine = median(lambda: flight.ours(ascent.tolerance), 100)
    yours = median(lambda: flight.scipy(stretches, tolerance), 2)
    return mine, yours, f"errs {ours:.0e}; scipy at {tolerance:.0e} errs {theirs:.0e}"


def warm(ascent: Ascent, x: np.ndarray) -> float:
    """Processor seconds to the best payload of a vehicle whose fairing is 5 % heavier than the solved one's."""
    lighter = ascent.build

    def heavier(found):
        vehicle = lighter(found)
        cover = vehicle.let_go[0]
        return replace(vehicle, let_go=(replace(cover, mass=1.05 * cover.mass),))

    return median(lambda: best(replace(ascent, build=heavier), x), 1)


def flights_a_second(count: int = 10_000) -> tuple[float, float]:
    """(by the clock on all cores, a core-second of processor time), at fixed steering; as `flights.py` flies them."""
    from flights import batch
    from wetmass.flight.programme import fly_along

    flights = batch(count)
    fly_along(replace(flights, masses=flights.masses[:8]))
    clock, core = [], []
    for _ in range(3):
        begun, spent = time.perf_counter(), time.process_time()
        fly_along(flights)
        clock.append(count / (time.perf_counter() - begun))
        core.append(count / (time.process_time() - spent))
    return statistics.median(clock), statistics.median(core)


def started(words: list[str], cache: str, times: int) -> float:
    """Median processor seconds of a new process."""
    taken = []
    for _ in range(times):
        begun = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(
            [sys.executable, *words], check=True, capture_output=True, cwd=ROOT,
            env={**os.environ, "WETMASS_CACHE": cache},
        )  # fmt: skip
        ended = resource.getrusage(resource.RUSAGE_CHILDREN)
        taken.append(ended.ru_utime + ended.ru_stime - begun.ru_utime - begun.ru_stime)
    return statistics.median(taken)


def row(name: str, value: str, ratio: str, note: str) -> None:
    print(f"{name:<44}{value:>12}  {ratio:<28}{note}", flush=True)


def against(seconds: float, asked: float) -> str:
    return f"{seconds / asked:.2f} of the {asked:g} s asked"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="without new processes")
    told = parser.parse_args()
    print(f"machine: {machine()}")
    for build in (short_burn, long_burn):
        for orbit in ORBITS:
            ascent = problem(build, orbit)
            found = best(ascent)
            what = f"{build().name}, {orbit.perigee / 1e3:.0f} × {orbit.apogee / 1e3:.0f} km"
            print(what)
            mine, yours, errs = one_flight(ascent, found.x)
            row(
                "  one flight",
                f"{mine * 1e6:.0f} µs",
                f"{yours / mine:.0f} × scipy's {yours * 1e3:.1f} ms",
                errs,
            )
            cold = median(lambda a=ascent: best(a), 1, 3)
            row(
                "  best payload from nothing",
                f"{cold * 1e3:.0f} ms",
                against(cold, 0.5),
                f"{found.flights} flights",
            )
            near = warm(ascent, found.x)
            row(
                "  best payload from one near it",
                f"{near * 1e3:.1f} ms",
                against(near, 0.05),
                "fairing 5 % heavier",
            )
    clock, core = flights_a_second()
    row("flights a second at fixed steering", f"{clock:.0f}", f"{clock / 25e3:.2f} of the 25000 asked",
        f"all cores, by the clock; {core:.0f} a core-second")  # fmt: skip
    if told.quick:
        return
    fly = ["-m", "wetmass", "fly", "examples/dunlin.yaml", "--quiet"]
    ready = ["-c", "import wetmass; wetmass.load('examples/dunlin.yaml'); import wetmass.flight.optimum"]
    with tempfile.TemporaryDirectory() as cache:
        first = started(ready, cache, 1)
        row("ready, the first time", f"{first:.1f} s", "", "compiles nothing yet")
        first = started(fly, cache, 1)
        row("wetmass fly, the first time", f"{first:.1f} s", "", "compiles")
        later = started(ready, cache, 5)
        row("ready, later", f"{later:.2f} s", against(later, 1.0), "process, imports, concept read")
        later = started(fly, cache, 5)
        row("wetmass fly, later", f"{later:.2f} s", "", "process, search, flight, printed page")


if __name__ == "__main__":
    main()
