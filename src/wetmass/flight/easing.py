"""Hard ascents reached from easy ones: what makes them hard is brought in by steps, each best from the last.

Upper stages that are weak for what they have to lift leave little room between falling back and climbing too
high; few guesses lead to the orbit.  So they are first given more thrust, which is then taken back; or the
orbit is raised from a low circle.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from wetmass.flight import goal
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.polish import ROUGH, Optimum, polished
from wetmass.flight.raising import eased_orbit
from wetmass.flight.scaled import Scaled
from wetmass.flight.scan import brought, giving_way, scanned
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.mission import Orbit
from wetmass.record.vehicle import Stage, Vehicle

ENOUGH = 0.8  # thrust-to-weight of an upper stage as it is lit with which a scan finds its way surely
WEAK = 0.5  # below this the way is looked for by easing first
FIRST_WAYS = 3  # of the easy problem that are made best
FIRST_STEP, SHORTEST, MOST_STEPS = 1.0 / 3.0, 0.004, 40  # shares of the way; how often it is tried
LONGER, SHORTER = 1.5, 0.4  # the next step, after one that led on and after one that did not
# what is tried where a flight falls back: more pitch [rad], another rate of it [per 300 s], less of what gives way
STEEPER_AND_LIGHTER = ((0.0, 0.1, 0.25), (-0.1, 0.0, 0.1, 0.2), (1.0, 0.8))
LOST = 20.0  # in the scale of the conditions: not worth making the best of
NEAR_ENOUGH = 0.1  # the same: good enough to go on from


def weakest(ascent: Ascent) -> float:
    """Least thrust-to-weight of an upper stage as it is lit, at the first guess; infinite with one stage."""
    vehicle = ascent.build(np.array([u.start for u in ascent.open_unknowns]))
    ratios = [
        sum(g.count * g.vacuum_thrust for g in stage.engines) / (vehicle.mass_above(i) * STANDARD_GRAVITY)
        for i, stage in enumerate(vehicle.stages)
        if i > 0 and vehicle.mass_above(i) > 0.0
    ]
    return min((ratio for ratio in ratios if ratio > 0.0), default=math.inf)


def stronger(ascent: Ascent, factor: float) -> Ascent:
    """The same ascent with `factor` times the thrust, flow and exit area of every upper stage."""
    if factor == 1.0:
        return ascent

    def build(found: Sequence[float]) -> Vehicle:
        vehicle = ascent.build(found)
        return replace(
            vehicle, stages=(vehicle.stages[0], *(_stronger(stage, factor) for stage in vehicle.stages[1:]))
        )

    return replace(ascent, build=build)


def _stronger(stage: Stage, factor: float) -> Stage:
    engines = tuple(
        replace(g, vacuum_thrust=g.vacuum_thrust * factor, exit_area=g.exit_area * factor)
        for g in stage.engines
    )
    return replace(stage, engines=engines)


def from_strong(ascent: Ascent) -> np.ndarray | None:
    """Unknowns of `ascent`, with thrust taken back from upper stages that had enough; None if lost."""
    most = math.log(max(1.0, ENOUGH / weakest(ascent)))
    return _eased(lambda share: stronger(ascent, math.exp((1.0 - share) * most)))


def from_low(ascent: Ascent) -> np.ndarray | None:
    """Unknowns of `ascent`, its orbit raised from a low circle in steps; None if lost."""
    if not isinstance(ascent.orbit, Orbit):
        return None
    orbit = ascent.orbit
    return _eased(lambda share: replace(ascent, orbit=eased_orbit(orbit, share), place=goal.AT_PERIGEE))


@dataclass
class _Reached:
    """Where on the way an optimum was found."""

    share: float
    x: np.ndarray


def _eased(at_share: Callable[[float], Ascent]) -> np.ndarray | None:
    """Unknowns at share 1 of the way, from share 0; the start of each step by what the last two did."""
    easy = at_share(0.0)
    scaled = Scaled(easy)
    firsts = [polished(scaled, s, ROUGH) for _, s in sorted(scanned(scaled), key=_of_score)[:FIRST_WAYS]]
    met = [first for first in firsts if first.met]
    if not met:
        return None
    reached = [_Reached(0.0, min(met, key=lambda r: r.trial.score).x)]
    step = FIRST_STEP
    for _ in range(MOST_STEPS):
        share = min(1.0, reached[-1].share + step)
        there = at_share(share)
        found = _stepped(there, _guess(reached, share)) or _stepped(there, reached[-1].x)
        if found is not None:
            reached.append(_Reached(share, found.x))
            step *= LONGER
        else:
            step *= SHORTER
        if share == 1.0 and found is not None:
            return found.x
        if step < SHORTEST:
            return None
    return None


def flying(scaled: Scaled, s: np.ndarray) -> np.ndarray:
    """The unknowns `s`, or where their flight falls back those beside it that come nearest to the orbit."""
    if scaled.trial(s).summary[at.STATUS] == at.DONE:
        return s
    pitch, rate = _place(scaled, "off pitch"), _place(scaled, "rate up")
    nearest, least = s, math.inf
    for steeper, flatter, share in itertools.product(*STEEPER_AND_LIGHTER):
        tried = s.copy()
        tried[pitch] += steeper / scaled.scale[pitch]
        tried[rate] += flatter / scaled.scale[rate]
        tried[-1] *= share
        tried = np.clip(tried, scaled.low, scaled.high)
        miss = float(np.linalg.norm(scaled.trial(tried).equal))
        if miss < least:
            nearest, least = tried, miss
    return nearest


def brought_from_the_fall(scaled: Scaled, s: np.ndarray) -> tuple[np.ndarray, float]:
    """`scan.brought` from unknowns whose flight may fall back, the tilt moved as well."""
    s = flying(scaled, s)
    return brought(scaled, s, [_place(scaled, "tilt"), *giving_way(scaled, s)], 20)


def _place(scaled: Scaled, name: str) -> int:
    return [u.name for u in scaled.ascent.unknowns].index(name)


def _of_score(way: tuple[float, np.ndarray]) -> float:
    return way[0]


def _guess(reached: list[_Reached], share: float) -> np.ndarray:
    """Straight on from the last two."""
    here = reached[-1]
    if len(reached) == 1:
        return here.x
    before = reached[-2]
    return here.x + (here.x - before.x) * (share - here.share) / (here.share - before.share)


def _stepped(step: Ascent, x: np.ndarray) -> Optimum | None:
    """The optimum of one step from the unknowns `x`; None if lost."""
    scaled = Scaled(step)
    s, miss = brought_from_the_fall(scaled, np.clip(x / scaled.scale, scaled.low, scaled.high))
    found = polished(scaled, s, ROUGH) if miss < LOST else None
    return found if found is not None and (found.met or found.worst < NEAR_ENOUGH) else None
