"""What real launchers carry: predicted, published, error, for every case of the data file, in one command.

    python benchmarks/real_vehicles.py              all cases, with bands (a minute or two)
    python benchmarks/real_vehicles.py --no-band    without bands (some twenty seconds)
    python benchmarks/real_vehicles.py proton vega  only cases whose name holds one of the words
    python benchmarks/real_vehicles.py --profile "saturn_v: Apollo"   also the timeline of what was flown

Figures, sources, the reserve rule and the choice of fair cases: tests/data/vehicles_flyable.yaml and
docs/explanation/real-vehicles.md.  Nothing here is fitted to a payload.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from vehicles.figures import cases
from vehicles.flying import Question, most
from vehicles.tables import Line, beside_as506, head, misses, profile, summary, table


def main(arguments: list[str] | None = None) -> None:
    """Fly the cases asked for and print the tables."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("words", nargs="*", help="only cases whose name holds one of these")
    parser.add_argument(
        "--no-band", action="store_true", help="leave out bands and the reserve's sensitivity"
    )
    parser.add_argument("--profile", action="store_true", help="print the timeline of each flight")
    asked = parser.parse_args(arguments)
    began = time.perf_counter()
    lines = []
    for case in cases():
        if asked.words and not any(word in case.key for word in asked.words):
            continue
        print(f"\r{case.key:<60}", end="", file=sys.stderr, flush=True)
        lines.append(_line(case, not asked.no_band))
    print("\r" + " " * 60 + "\r", end="", file=sys.stderr)
    print(head())
    for fair in (True, False):
        chosen = [line for line in lines if line.case.fair is fair]
        if chosen:
            print(table("Fair cases" if fair else "Apart: printed, not counted", chosen))
    print(summary(lines))
    print(misses(lines))
    for line in lines:
        if line.reconstructed is not None:
            print(beside_as506(line.reconstructed))
    if asked.profile:
        for line in lines:
            print(profile(line))
    print(f"flown in {time.perf_counter() - began:.0f} s, compiling included")


def _line(case, with_band: bool) -> Line:
    question = Question(case)
    flown = most(question)
    print(f"{flown.payload:.0f} kg", end="", file=sys.stderr, flush=True)
    line = Line(case, flown)
    if case.vehicle["id"] == "saturn_v" and "c3_km2_s2" in case.mission["orbit"]:
        kept = case.vehicle["stages"][2]["usable_left_kg"]["v"]
        line.reconstructed = most(Question(case, kept=kept), flown.optimum.x)
    if flown.met and with_band:
        from vehicles.bands import band, reserve_sensitivity

        question = replace(question, times=flown.times)
        line.band = band(question, flown)
        line.reserve = reserve_sensitivity(question, flown)
    return line


if __name__ == "__main__":
    main()
