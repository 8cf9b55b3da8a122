"""The propellant to keep for the way home: what the stage needs that is let go after a flight up with it.

What is kept changes the ascent: the stage is let go slower and nearer, and then needs less.  Closing gives
the function that sizes, flies up and asks for the way home; here its fixed point is found.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from wetmass.record.digits import fixed

FIRST_SLOPE = -1.3  # kg/kg of what lacks: a kilogram kept spares some 0.3 kg, for it slows the ascent (ours)


@dataclass(frozen=True, slots=True)
class Reserve:
    """What was found."""

    kept: float  # kg
    needed: float  # kg, with that much kept
    met: bool  # the two agree
    rounds: int  # flights up and home
    reason: str = ""  # why it was not met


def find_reserve(
    needed: Callable[[float], float | None],
    start: float,
    *,
    most: float = math.inf,
    tolerance: float = 2e-3,
    rounds: int = 12,
) -> Reserve:
    """The propellant kept that is just what the way home needs, needed(kept) = kept [kg].

    needed     kg that would do when so much is kept on the way up; None where nothing would
    start      first guess; most  the most the stage could keep        [kg]
    tolerance  relative, on what is kept

    A secant, held inside a bracket once there is one; what is needed falls as more is kept, so there is one
    answer.  Where it falls by a jump across kept (another number of engines lands it), the upper side is kept.
    Raises ValueError for a start that is negative or above `most`.

    >>> round(find_reserve(lambda kept: 3000.0 - 0.4 * kept, 0.0).kept, 3)
    2142.857
    """
    if not 0.0 <= start <= most:
        raise ValueError(f"start must lie between 0 and {most} kg, got {start} kg")
    low, high = -math.inf, math.inf  # below the answer, above it
    most_needed = 0.0  # just below it
    before: tuple[float, float] | None = None
    kept, last = start, math.nan
    for count in range(1, rounds + 1):
        found = needed(kept)
        if found is None:
            return Reserve(kept, math.nan, False, count, "no way home was found at all")
        last = found
        over = found - kept
        jumped = low <= kept and high - low <= tolerance * kept
        if abs(over) <= tolerance * max(kept, 1.0) or (jumped and over <= 0.0):
            return Reserve(kept, found, True, count)
        if over > 0.0 and kept >= most:
            return Reserve(kept, found, False, count, f"the stage can keep {fixed(most)} kg at most")
        if over > 0.0 and kept >= low:
            low, most_needed = kept, found
        high = high if over > 0.0 else min(high, kept)
        slope = (
            FIRST_SLOPE if before is None or kept == before[0] else (over - before[1]) / (kept - before[0])
        )
        before = (kept, over)
        kept = kept - over / min(slope, -0.2)
        if math.isfinite(low) and math.isfinite(high):
            if high - low <= tolerance * high:
                kept = max(high, most_needed)
            elif not low < kept < high:
                kept = 0.5 * (low + high)
        kept = min(max(kept, 0.0), most)
    return Reserve(kept, last, False, rounds, f"what is kept still changed after {rounds} rounds")
