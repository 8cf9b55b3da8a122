"""Is the optimum the true one, and what does freedom of steering cost?

    python benchmarks/optimum.py [--fine] [--corpus 40 --seed 81 --workers 2 --cold]

For vehicles of every kind (`optimum_kinds.py`): the payload by shooting and by direct collocation at the same
freedom, collocation on a halved mesh, the replay in the exact air, and for plain ones the payload of freer
steering.  Then the drift of energy in a coast, and the identity of the losses.  With `--corpus` sound concepts
made by chance as well (`optimum_corpus.py`).
"""

from __future__ import annotations

import argparse
import math
import platform
import time
from collections.abc import Callable

import numpy as np

from optimum_kinds import KINDS, LOW, ORBITS, SITE, long_burn, problem, short_burn
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.record.mission import Orbit
from wetmass.record.vehicle import Vehicle


def named(build: Callable[[float], Vehicle], orbit: Orbit) -> str:
    """What a row of the first table is called."""
    return f"{build(0.0).name}, {orbit.perigee / 1e3:.0f} × {orbit.apogee / 1e3:.0f} km"


def compared(name: str, ascent: Ascent, fine: bool, freer: bool) -> str:
    """One line of the table."""
    from wetmass.flight.collocation import confirm, phases, solve
    from wetmass.flight.optimum import best

    begun = time.process_time()
    shot = best(ascent)
    shooting = time.process_time() - begun
    if not shot.met:
        return f"{name:<32}shooting: {shot.message}"
    begun = time.process_time()
    checked = confirm.confirmed(ascent, shot.x)
    collocating = time.process_time() - begun
    law, again = checked.solution, checked.replay
    words = [f"{name:<32}{shot.x[-1]:9.2f}", f"{law.payload:9.2f}{_sign(law)}",
             f"{100 * (shot.x[-1] / law.payload - 1):+8.4f} %"]  # fmt: skip
    if fine:
        finer = solve.refined(ascent, law)
        words.append(f"{100 * (finer.payload / law.payload - 1):+8.4f} %{_sign(finer)}")
    words.append(
        f"{max(again.place_miss, again.speed_miss, again.mass_miss):.0e}{'' if again.agrees else '!'}"
    )
    for freedom in (phases.Freedom.LIMITED, phases.Freedom.FREE) if freer else ():
        found = solve.best(ascent, shot.x, freedom)
        words.append(f"{100 * (found.payload / law.payload - 1):+6.2f} %{_sign(found)}")
    words.append(f"{shooting:5.2f} s {collocating:5.2f} s")
    return "  ".join(words)


def _sign(solution) -> str:
    return (
        ""
        if solution.solved and not solution.pressed
        else f" ({solution.status}, pressed {solution.pressed})"
    )


def coasted() -> tuple[float, float]:
    """Drift of the energy integral (with J2) over a coast of one orbit, and the gap of the losses."""
    from wetmass.flight.ascent import start_state
    from wetmass.flight.optimum import best
    from wetmass.flight.program import program
    from wetmass.flight.propagate import fly
    from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, J2, OMEGA

    ascent = problem(short_burn, LOW)
    x = best(ascent).x
    laid = program(short_burn(float(x[-1])))
    control = ascent.control(x)
    y = np.zeros(at.ACCOUNTED)
    y[: at.STEERED] = start_state(SITE)
    y[at.MASS] = laid.lift_off_mass
    none, rows = np.zeros((0, at.STEP_WIDTH)), np.zeros((0, at.ROW_WIDTH))
    marks = np.zeros((laid.mark_rows(), 1 + at.ACCOUNTED))
    fly(0.0, laid.segments, laid.let_go, control, laid.curves, y, np.zeros(at.SUMMARY_WIDTH), marks, rows,
        none, False, at.ACCOUNTED)  # fmt: skip
    air = math.hypot(y[3] + OMEGA * y[1], y[4] - OMEGA * y[0], y[5])
    gap = abs(y[at.IDEAL] - y[at.BACK] - y[at.STEER] - y[at.DRAG] - y[at.GRAVITY] - air) / y[at.IDEAL]

    def energy(s):
        r = math.sqrt(s[0] ** 2 + s[1] ** 2 + s[2] ** 2)
        bulge = 0.5 * J2 * (EARTH_RADIUS_WGS84 / r) ** 2 * (3.0 * (s[2] / r) ** 2 - 1.0)
        return 0.5 * (s[3] ** 2 + s[4] ** 2 + s[5] ** 2) - GM / r * (1.0 - bulge)

    coast = np.zeros((1, at.SEGMENT_WIDTH))
    coast[0, at.LEAST_THROTTLE] = 1.0
    coast[0, at.END], coast[0, at.END_VALUE] = at.ENDS_AT_TIME, 5400.0
    control = control.copy()
    control[at.TOLERANCE], control[at.LONGEST_STEP] = 1e-13, 60.0
    s = np.zeros(at.STEERED)
    s[:] = y[: at.STEERED]
    before = energy(s)
    fly(0.0, coast, np.zeros((0, at.LET_GO_WIDTH)), control, laid.curves, s, np.zeros(at.SUMMARY_WIDTH),
        np.zeros((1, 1 + at.STEERED)), rows, none, False, at.STEERED)  # fmt: skip
    return abs(energy(s) / before - 1.0), gap


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--fine", action="store_true", help="solve on a halved mesh as well")
    parser.add_argument("--corpus", type=int, default=0, help="so many concepts made by chance")
    parser.add_argument("--seed", type=int, default=81)
    parser.add_argument("--first", type=int, default=1, help="number of the first concept")
    parser.add_argument("--workers", type=int, default=1, help="processes at a time")
    parser.add_argument(
        "--cold",
        action="store_true",
        help="collocation from simple guesses as well: is there another optimum",
    )
    parser.add_argument("--only-corpus", action="store_true")
    told = parser.parse_args()
    print(f"machine: {platform.machine()}, Python {platform.python_version()}; processor time")
    if not told.only_corpus:
        drift, gap = coasted()
        halved = ", halved mesh" if told.fine else ""
        print(
            f"payload [kg] by shooting, by collocation at the same freedom, difference{halved}; replay misses;"
        )
        print("  plain ones: q-alpha limited all the way; free; time of shooting and of collocation")
        for build in (short_burn, long_burn):
            for orbit in ORBITS:
                print(compared(named(build, orbit), problem(build, orbit), told.fine, True), flush=True)
        for name, made in KINDS.items():
            print(compared(name, made(), told.fine, False), flush=True)
        print(f"energy integral over a coast of 5400 s drifts by {drift:.1e} of itself")
        print(f"losses: the identity is missed by {gap:.1e} of the ideal speed")
    if told.corpus:
        from optimum_corpus import report

        report(told.corpus, told.seed, told.first, told.workers, told.cold)


if __name__ == "__main__":
    main()
