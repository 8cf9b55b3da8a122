"""Shooting against collocation on sound concepts made by chance (`corpus.py`), for `optimum.py`.

Each concept is solved by shooting from nothing, then by collocation from the answer.  With `cold`, collocation
also starts from flights that end anywhere, their first stage left at three path angles: steered freely within
q-alpha, which is what converges, and from there under the law.
"""

from __future__ import annotations

import math
import statistics
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import corpus

BURNOUT_ANGLES = tuple(math.radians(angle) for angle in (20.0, 30.0, 42.0))
NEAR, WORST = 5e-4, 3e-3  # of payload: DESIGN.md


@dataclass(frozen=True, slots=True)
class Row:
    """What came of one concept."""

    number: int
    tags: tuple[str, ...]
    shot: float  # kg; nan: none found
    payload: float  # kg by collocation from the shooting's answer; nan: not solved
    error: str  # what the record of the collocation says
    cold: float  # kg, best of the cold starts at the same freedom; nan: none converged
    seconds: tuple[float, float, float]  # processor time of each

    @property
    def off(self) -> float:
        """Shooting over the better of the confirmed payloads, less 1; nan without any."""
        found = [p for p in (self.payload, self.cold) if p == p]
        return self.shot / max(found) - 1.0 if found else math.nan


def compared(number: int, seed: int, cold: bool) -> Row:
    """Concept `number`, solved both ways."""
    from wetmass.flight.collocation.confirm import confirmed
    from wetmass.flight.optimum import best

    case = corpus.concept(number, seed)
    ascent = case.ascent()
    begun = time.process_time()
    shot = best(ascent)
    first = time.process_time()
    if not shot.met:
        return Row(number, case.tags, math.nan, math.nan, shot.message, math.nan, (first - begun, 0.0, 0.0))
    try:
        checked = confirmed(ascent, shot.x)
        payload, error = checked.payload if not checked.error else math.nan, checked.error
    except Exception as failed:  # a benchmark goes on, and says so
        payload, error = math.nan, f"{type(failed).__name__}: {failed}"
    second = time.process_time()
    other = _cold(ascent) if cold else math.nan
    third = time.process_time()
    return Row(
        number, case.tags, float(shot.x[-1]), payload, error, other,
        (first - begun, second - first, third - second),
    )  # fmt: skip


def _cold(ascent) -> float:
    """The best payload of the cold starts that are solved and confirmed under the law."""
    from wetmass.flight.collocation.confirm import confirmed
    from wetmass.flight.collocation.structure import simple_guess

    found = [math.nan]
    for angle in BURNOUT_ANGLES:
        try:
            checked = confirmed(ascent, simple_guess(ascent, angle), warm=False, iterations=150)
        except Exception:  # a guess that does not fly is no start
            continue
        if not checked.error:
            found.append(checked.payload)
    return max(found, key=lambda value: (value == value, value))


def report(count: int, seed: int, first: int, workers: int, cold: bool) -> None:
    """Print the comparison: median, worst, how many, and each concept that is further off than asked."""
    numbers = range(first, first + count)
    with ProcessPoolExecutor(workers) as crew:
        rows = []
        for row in crew.map(compared, numbers, [seed] * count, [cold] * count):
            rows.append(row)
            print(_line(row), flush=True)
    known = [row for row in rows if row.off == row.off]
    offs = sorted(row.off for row in known)
    print(f"corpus of seed {seed}, {first} to {first + count - 1}: {len(rows)} concepts; shooting answered "
          f"{sum(row.shot == row.shot for row in rows)}, collocation confirmed {len(known)}")  # fmt: skip
    if known:
        sizes = sorted(abs(off) for off in offs)
        print(f"shooting over collocation: median {100 * statistics.median(offs):+.4f} %, of the size "
              f"{100 * statistics.median(sizes):.4f} %, worst {100 * offs[0]:+.3f} %, best {100 * offs[-1]:+.3f} %; "
              f"within 0.05 %: {sum(s <= NEAR for s in sizes)}, within 0.3 %: {sum(s <= WORST for s in sizes)}")  # fmt: skip
    if cold:
        both = [row for row in known if row.cold == row.cold]
        above = [row for row in both if row.cold > row.shot * (1.0 + WORST)]
        print(
            f"cold starts converged and confirmed for {len(both)}; more than 0.3 % above shooting in {len(above)}"
        )
    for row in rows:
        if row.shot == row.shot and row.off != row.off:
            print(f"  {row.number}: {row.error}")


def _line(row: Row) -> str:
    return (
        f"  {row.number:>4}  {row.shot:10.2f}  {row.payload:10.2f}  {row.cold:10.2f}  {100 * row.off:+8.4f} %  "
        f"{row.seconds[0]:.1f} {row.seconds[1]:.1f} {row.seconds[2]:.1f} s  {', '.join(row.tags)}  {row.error[:60]}"
    )
