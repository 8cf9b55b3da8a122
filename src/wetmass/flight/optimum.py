"""Find the best ascent from nothing: a scan of tilts, each brought to the orbit, then the true optimum.

The scan needs no start from the user: for each tilt a damped Newton search brings the flight to the
orbit with three or four of the unknowns.  The best of those start a sequential quadratic programme
(scipy) over all unknowns, with differences of whole flights as derivatives.
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from wetmass.flight import goal
from wetmass.flight.ascent import Ascent
from wetmass.flight.coasting import both_legs, first_leg
from wetmass.flight.easing import ENOUGH, WEAK, from_low, from_strong, weakest
from wetmass.flight.near import brought_near
from wetmass.flight.polish import ROUGH, Optimum, polished
from wetmass.flight.scaled import Scaled, breach
from wetmass.flight.scan import retilted, scanned
from wetmass.record.mission import Climb

MOST_WAYS, MOST_VALLEYS = 5, 3  # looked into
SAME_VALLEY = 0.5  # of a scaled unknown: rough optima this near lie in one valley
AGREE = 1e-4  # relative: two searches found the same optimum
NO_WAY = "no tilt led to the orbit"
OTHER_SHARES = (0.35, 0.7, 1.5)  # of what gives way, in a second look


def best(
    ascent: Ascent, start: np.ndarray | None = None, *, told: Callable[[str], None] = lambda _: None
) -> Optimum:
    """The best unknowns of `ascent`; from `start` (unscaled) when given, else from nothing."""
    if start is not None:
        scaled = Scaled(ascent)
        return polished(scaled, brought_near(scaled, start))
    if isinstance(ascent.orbit, Climb):
        told("looking for ways up")
        return _climb(ascent)
    easy = _easier(ascent)
    answer = _from_nothing(ascent, easy, told)
    if answer is None:
        x = np.array([u.start for u in ascent.unknowns])
        return Optimum(x, ascent.trial(x), False, math.inf, ascent.flights, 0, NO_WAY)
    return replace(answer, flights=ascent.flights)


def _from_nothing(ascent: Ascent, easy: Ascent, told: Callable[[str], None]) -> Optimum | None:
    """The best answer of the ways there are to one, tried until one meets every condition."""
    by_thrust = functools.partial(_by_thrust, ascent, easy, told)
    by_height = functools.partial(_by_easing, ascent, easy, from_low, told, "raising the orbit in steps")
    ways = [functools.partial(_by_scan, ascent, easy, told, shares) for shares in ((1.0,), OTHER_SHARES)]
    weak = weakest(easy)
    if weak < WEAK:
        ways.insert(0, by_thrust)
    elif weak < ENOUGH:
        ways.append(by_thrust)
    best_yet = None
    for way in (*ways, by_height):
        for tried in way():
            if best_yet is None or _rank(tried) < _rank(best_yet):
                best_yet = tried
        if best_yet is not None and best_yet.met:
            break
    return best_yet


def _by_scan(
    ascent: Ascent, easy: Ascent, told: Callable[[str], None], shares: tuple[float, ...]
) -> list[Optimum]:
    told("looking for ways to the orbit")
    scan = Scaled(easy)
    ways = [s for _, s in sorted(scanned(scan, shares), key=lambda way: way[0])]
    told("making the best of it")
    return _improved(ascent, easy, scan, ways)


def _by_thrust(ascent: Ascent, easy: Ascent, told: Callable[[str], None]) -> list[Optimum]:
    """By thrust taken back in steps; also with the last burn ending anywhere from the first step on.

    A weak stage may do far better to end its burn on the way out than near the perigee, and no small change
    leads from the one to the other.
    """
    found = _by_easing(ascent, easy, from_strong, told, "taking thrust back in steps")
    if easy is not ascent and not ascent.coasting:
        start = from_strong(ascent)
        if start is not None:
            scaled = Scaled(ascent)
            found.append(polished(scaled, start / scaled.scale))
    return found


def _by_easing(
    ascent: Ascent, easy: Ascent, way: Callable[[Ascent], np.ndarray | None], told: Callable[[str], None],
    words: str,
) -> list[Optimum]:  # fmt: skip
    told(words)
    start = way(easy)
    return [] if start is None else [_from_easier(ascent, easy, start)]


def _improved(ascent: Ascent, easy: Ascent, scan: Scaled, ways: list[np.ndarray]) -> list[Optimum]:
    """Optima from the ways, until two agree."""
    tried: list[Optimum] = []
    for start in _valleys(scan, ways):
        tried.append(_from_easier(ascent, easy, start.x))
        met = sorted(r.trial.score for r in tried if r.met)
        if len(met) > 1 and met[1] - met[0] < AGREE * abs(met[0]):
            break  # two ways, one optimum
    return tried


def _rank(answer: Optimum) -> tuple[bool, float]:
    """Sorting key, best first: met before unmet, then by score or by how far it is off."""
    return not answer.met, answer.trial.score if answer.met else answer.worst


def _climb(ascent: Ascent) -> Optimum:
    """The best climb, from a handful of starts: tilts where it slants, more and less of what gives way."""
    scaled = Scaled(ascent)
    base = np.array([u.start for u in ascent.unknowns]) / scaled.scale
    names = [u.name for u in ascent.unknowns]
    tilts = (0.02, 0.05, 0.1, 0.2, 0.4, 0.7) if "tilt" in names else (0.0,)
    starts = []
    for tilt, share, first in itertools.product(tilts, (1.0, 0.6, 0.3), (1.0, 0.4, 2.5)):
        s = base.copy()
        if "tilt" in names:
            s[names.index("tilt")] = tilt / scaled.scale[names.index("tilt")]
        s[-1] *= share
        if len(ascent.open_unknowns) > 1:
            s[-2] *= first
        elif first != 1.0:
            continue
        s = np.clip(s, scaled.low, scaled.high)
        starts.append((breach(scaled.trial(s)), len(starts), s))
    tried: list[Optimum] = []
    for _, _, s in sorted(starts)[:8]:
        tried.append(polished(scaled, s))
        met = sorted(r.trial.score for r in tried if r.met)
        if len(met) > 1 and met[1] - met[0] < AGREE * abs(met[0]):
            break
    answer = min(tried, key=lambda r: (not r.met, r.trial.score if r.met else r.worst))
    return replace(answer, flights=ascent.flights)


def _valleys(scan: Scaled, ways: list[np.ndarray]) -> list[Optimum]:
    """Rough optima of the ways, one for each valley, best first; two ways into one valley are enough."""
    found: list[Optimum] = []
    for way in ways[:MOST_WAYS]:
        rough = polished(scan, way, ROUGH)
        beside = [f for f in found if np.max(np.abs(f.x - rough.x) / scan.scale) < SAME_VALLEY]
        if rough.met and any(f.met for f in beside):
            break
        found.append(rough)
    return sorted(found, key=lambda r: (not r.met, r.trial.score))[:MOST_VALLEYS]


def _easier(ascent: Ascent) -> Ascent:
    """A stricter or shorter problem that is surer to be solved from nothing: its answer starts `ascent`."""
    if ascent.coasting:
        return first_leg(ascent)
    if ascent.place == goal.ANYWHERE:
        return replace(ascent, place=goal.AT_PERIGEE)
    return ascent


def _from_easier(ascent: Ascent, easy: Ascent, x: np.ndarray) -> Optimum:
    """The optimum of `ascent` from the unknowns of its easier problem."""
    scaled = Scaled(ascent)
    start = both_legs(ascent, x) if ascent.coasting else x
    answer = polished(scaled, start / scaled.scale)
    if easy is ascent or ascent.coasting:
        return answer
    strict = polished(Scaled(easy), x / scaled.scale)
    better = answer.met and answer.trial.score <= strict.trial.score
    return answer if better or not strict.met else strict


def carried_over(one: Ascent, x: np.ndarray, other: Ascent) -> np.ndarray:
    """Unknowns (unscaled) of `other` to start from, taken from those of `one` where the names agree.

    The tilt is the one that ends the turn as flat as before.
    """
    known = {u.name: float(v) for u, v in zip(one.unknowns, x, strict=True)}
    start = np.array([known.get(u.name, u.start) for u in other.unknowns])
    if isinstance(other.orbit, Climb):
        return start
    return retilted(other, start, one.path_angle_after_turn(x))
