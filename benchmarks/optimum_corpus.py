"""Shooting against collocation on sound concepts made by chance (`corpus.py`), for `optimum.py`.

Each concept is solved by shooting from nothing, then by collocation at the same freedom from the answer.  With
`cold` collocation is asked, too, whether there is another optimum: steered freely within q-alpha, once from the
shooting's answer and then from flights that end anywhere, their first stage left at three path angles.
"""

from __future__ import annotations

import math
import statistics
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import corpus
from wetmass.flight.ascent import Ascent

BURNOUT_ANGLES = tuple(math.radians(angle) for angle in (20.0, 30.0, 42.0))
NEAR, WORST = 5e-4, 3e-3  # of payload: DESIGN.md
COLD_ITERATIONS = 150


@dataclass(frozen=True, slots=True)
class Row:
    """What came of one concept; payloads in kg, nan where there is none that a replay confirms."""

    number: int
    tags: tuple[str, ...]
    shot: float  # by shooting from nothing
    law: float  # by collocation at the same freedom, from the shooting's answer
    error: str  # what the record of that collocation says
    freer: float  # q-alpha limited, from the shooting's answer
    cold: tuple[float, ...]  # likewise, from guesses that are no ascents to the orbit
    seconds: tuple[float, float, float]  # processor time of shooting, collocation, the rest

    @property
    def off(self) -> float:
        """Shooting over collocation, less 1."""
        return self.shot / self.law - 1.0

    @property
    def other(self) -> float:
        """The best of the cold starts over the warm one, less 1: above nothing, there is another optimum."""
        return max(self.cold) / self.freer - 1.0 if self.cold else math.nan


def compared(number: int, seed: int, cold: bool) -> Row:
    """Concept `number`, solved every way."""
    from wetmass.flight.collocation.phases import Freedom
    from wetmass.flight.collocation.structure import simple_guess
    from wetmass.flight.optimum import best

    case = corpus.concept(number, seed)
    ascent = case.ascent()
    times = [time.process_time()]
    shot = best(ascent)
    times.append(time.process_time())
    if not shot.met:
        return Row(
            number, case.tags, math.nan, math.nan, shot.message, math.nan, (), (times[1] - times[0], 0.0, 0.0)
        )
    law, error = _confirmed(ascent, shot.x)
    times.append(time.process_time())
    freer, others = math.nan, []
    if cold:
        freer, _ = _confirmed(ascent, shot.x, freedom=Freedom.LIMITED)
        for angle in BURNOUT_ANGLES:
            guess = simple_guess(ascent, angle)
            found, _ = _confirmed(
                ascent, guess, freedom=Freedom.LIMITED, warm=False, iterations=COLD_ITERATIONS
            )
            others += [found] if found == found else []
    times.append(time.process_time())
    a, b, c, d = times
    return Row(number, case.tags, float(shot.x[-1]), law, error, freer, tuple(others), (b - a, c - b, d - c))


def _confirmed(ascent: Ascent, x, **how) -> tuple[float, str]:
    """(payload [kg] or nan, what is wrong with it)."""
    from wetmass.flight.collocation.confirm import confirmed

    try:
        checked = confirmed(ascent, x, **how)
    except Exception as failed:  # a benchmark goes on, and says so
        return math.nan, f"{type(failed).__name__}: {failed}"
    return (math.nan, checked.error) if checked.error else (checked.payload, "")


def report(count: int, seed: int, first: int, workers: int, cold: bool) -> None:
    """Print each concept, then median, worst and how many."""
    numbers = range(first, first + count)
    print(
        "concept, shooting, collocation [kg], difference; cold starts confirmed, the best over the warm one"
    )
    rows = []
    with ProcessPoolExecutor(workers) as crew:
        for row in crew.map(compared, numbers, [seed] * count, [cold] * count):
            rows.append(row)
            print(_line(row), flush=True)
    offs = sorted(row.off for row in rows if row.off == row.off)
    print(f"corpus of seed {seed}, {first} to {first + count - 1}: shooting answered "
          f"{sum(row.shot == row.shot for row in rows)} of {len(rows)}, collocation confirmed {len(offs)}")  # fmt: skip
    if offs:
        sizes = sorted(abs(off) for off in offs)
        print(f"shooting over collocation: median {100 * statistics.median(offs):+.4f} %, lowest "
              f"{100 * offs[0]:+.4f} %, highest {100 * offs[-1]:+.4f} %; within 0.05 %: "
              f"{sum(s <= NEAR for s in sizes)}, within 0.3 %: {sum(s <= WORST for s in sizes)}")  # fmt: skip
    others = sorted(row.other for row in rows if row.other == row.other)
    if others:
        print(f"another optimum looked for in {len(others)}: cold starts over the warm one from {100 * others[0]:+.3f} % "
              f"to {100 * others[-1]:+.3f} %, more than 0.3 % above it in {sum(o > WORST for o in others)}")  # fmt: skip


def _line(row: Row) -> str:
    words = f"  {row.number:>4}  {row.shot:10.2f}  {row.law:10.2f}  {100 * row.off:+8.4f} %"
    words += f"  {len(row.cold)}  {100 * row.other:+8.4f} %"
    spent = " ".join(f"{second:.1f}" for second in row.seconds)
    return f"{words}  {spent} s  {', '.join(row.tags)}  {row.error[:70]}"
