"""What real launchers carry: predicted, published, error, for every case of the data file, in one command.

    python benchmarks/real_vehicles.py              all cases, with bands (some minutes)
    python benchmarks/real_vehicles.py --quick-band bands to first order, in a fraction of the time
    python benchmarks/real_vehicles.py --no-band    without bands
    python benchmarks/real_vehicles.py --workers 8  several cases at once
    python benchmarks/real_vehicles.py proton vega  only cases whose name holds one of the words
    python benchmarks/real_vehicles.py --profile "saturn_v: Apollo"   also the timeline of what was flown

Figures, sources, the reserve rule and the choice of fair cases: tests/data/vehicles_flyable.yaml and
docs/explanation/real-vehicles.md.  Nothing here is fitted to a payload.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from vehicles import as506
from vehicles.figures import Case, cases
from vehicles.flying import Question, most
from vehicles.tables import Line, head, misses, profile, summary, table


def main(arguments: list[str] | None = None) -> None:
    """Fly the cases asked for and print the tables."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("words", nargs="*", help="only cases whose name holds one of these")
    parser.add_argument(
        "--no-band", action="store_true", help="leave out bands and the reserve's sensitivity"
    )
    parser.add_argument("--quick-band", action="store_true", help="bands to first order only")
    parser.add_argument("--workers", type=int, default=1, metavar="N", help="processes; one case each")
    parser.add_argument("--profile", action="store_true", help="print the timeline of each flight")
    asked = parser.parse_args(arguments)
    began = time.perf_counter()
    chosen = [c for c in cases() if not asked.words or any(word in c.key for word in asked.words)]
    how = "none" if asked.no_band else "quick" if asked.quick_band else "full"
    lines = _lines(chosen, how, asked.workers)
    print(head())
    for fair in (True, False):
        chosen = [line for line in lines if line.case.fair is fair]
        if chosen:
            print(table("Fair cases" if fair else "Apart: printed, not counted", chosen))
    print(summary(lines))
    print(misses(lines))
    for line in lines:
        if line.reconstructed is not None:
            print(as506.table(line.reconstructed.recorded(), as506.flown_events()))
    if asked.profile:
        for line in lines:
            print(profile(line))
    print(f"flown in {time.perf_counter() - began:.0f} s, compiling included")


def _lines(chosen: Sequence[Case], how: str, workers: int) -> list[Line]:
    """Every case flown, in order; by several processes where asked."""
    if workers > 1:
        from numba import cloudpickle  # what a flight is made of holds functions, which pickle alone refuses

        with ProcessPoolExecutor(workers) as pool:
            made = [pool.submit(_packed, case, how) for case in chosen]
            return [cloudpickle.loads(one.result()) for one in made]
    lines = []
    for case in chosen:
        lines.append(_line(case, how))
    return lines


def _packed(case: Case, how: str) -> bytes:
    from numba import cloudpickle

    return cloudpickle.dumps(_line(case, how))


def _line(case: Case, how: str) -> Line:
    question = Question(case)
    flown = most(question)
    print(f"{case.key}: {flown.payload:.0f} kg", file=sys.stderr, flush=True)
    line = Line(case, flown)
    if case.vehicle["id"] == "saturn_v" and "c3_km2_s2" in case.mission["orbit"]:
        kept = case.vehicle["stages"][2]["usable_left_kg"]["v"]
        line.reconstructed = most(Question(case, kept=kept), flown.optimum.x)
    if flown.met and how != "none":
        from vehicles.bands import band, reserve_sensitivity

        question = replace(question, times=flown.times)
        line.band = band(question, flown, search=how == "full")
        line.reserve = reserve_sensitivity(question, flown)
    return line


if __name__ == "__main__":
    main()
