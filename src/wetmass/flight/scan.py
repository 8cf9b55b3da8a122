"""Ways to the orbit from nothing: tilts, a grid of first directions and rates, and those nearest brought on."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Sequence

import numpy as np

from wetmass.flight import goal
from wetmass.flight.ascent import Ascent
from wetmass.flight.scaled import Scaled

TILTS = tuple(np.radians(np.geomspace(0.02, 40.0, 24)))
PULLED_UP_TO = tuple(np.radians(np.linspace(8.0, 84.0, 16)))  # from the vertical, after a launch from the air
TURN_ANGLES = tuple(math.radians(a) for a in (12.0, 20.0, 28.0, 36.0, 45.0, 55.0, 66.0, 76.0))
USUAL_TURN_ANGLE = math.radians(35.0)
OFF_PITCHES = (-0.1, 0.1, 0.3, 0.6, 1.0)  # rad, first free direction above the air speed
RATES_UP = (-2.4, -1.2, -0.6, -0.3, -0.1, 0.1)  # of the primer, per 300 s
TRIES_EACH, MOST_TRIES = 3, 16  # starts brought on, of one turn and of all
MOST_WAYS = 5


def scanned(scaled: Scaled, shares: Sequence[float] = (1.0,)) -> list[tuple[float, np.ndarray]]:
    """(score, scaled unknowns) of starts that can be brought to the orbit.

    Tilts for turns that end at eight angles above the horizon; for each a grid of first free directions and
    rates is flown, and only those that come nearest are brought on.  `shares` are of what gives way.
    """
    ascent = scaled.ascent
    names = [u.name for u in ascent.unknowns]
    tilt, off, rate = names.index("tilt"), names.index("off pitch"), names.index("rate up")
    base = np.array([u.start for u in ascent.unknowns]) / scaled.scale
    moved = giving_way(scaled, base)
    seeds: list[tuple[float, int, np.ndarray]] = []
    for number, angle in enumerate(tilts_of(scaled, base, TURN_ANGLES)):
        for pitch, up, share in itertools.product(OFF_PITCHES, RATES_UP, shares):
            s = base.copy()
            s[-1] *= share
            s[[tilt, off, rate]] = np.array([angle, pitch, up]) / scaled.scale[[tilt, off, rate]]
            seeds.append((float(np.linalg.norm(ascent.trial(s * scaled.scale).equal)), number, s))
    found: list[tuple[float, np.ndarray]] = []
    tries: Counter[int] = Counter()
    settled: set[int] = set()
    each, most = TRIES_EACH * len(shares), MOST_TRIES * len(shares)
    for _, number, s in sorted(seeds, key=lambda seed: seed[0]):
        if number in settled or tries[number] == each or tries.total() == most:
            continue
        tries[number] += 1
        s, miss = brought(scaled, s, moved, 30)
        if miss < 1.0:
            found.append((scaled.trial(s).score + 0.05 * miss, s))
            settled.add(number)
            if len(found) == MOST_WAYS:
                break
    return found


def giving_way(scaled: Scaled, s: np.ndarray) -> list[int]:
    """Unknowns with which a flight is brought to its orbit; the last open one (payload, say) gives way."""
    ascent = scaled.ascent
    names = [u.name for u in ascent.unknowns]
    moved = [names.index("off pitch"), names.index("rate up"), len(names) - 1]
    if len(scaled.trial(s).equal) > 3 or (
        ascent.orbit.inclination is not None and ascent.place == goal.ANYWHERE
    ):
        moved.append(names.index("azimuth"))
    return moved


def brought(
    scaled: Scaled, s: np.ndarray, moved: list[int], rounds: int = 14, enough: float = 1e-3
) -> tuple[np.ndarray, float]:
    """Damped least-squares search (Levenberg–Marquardt) for equal = 0 over the unknowns `moved`."""
    damping = 0.03
    trial = scaled.trial(s)
    miss = float(np.linalg.norm(trial.equal))
    for _ in range(rounds):
        if miss < enough or not math.isfinite(miss):
            break
        slope = scaled.slopes(s, moved if len(moved) < len(s) else None)[0][:, moved]
        gram, pull = slope.T @ slope, slope.T @ trial.equal
        for _ in range(5):
            move = -np.linalg.solve(gram + damping * np.diag(np.diag(gram) + 1e-6), pull)
            tried = s.copy()
            tried[moved] = np.clip(s[moved] + np.clip(move, -2.0, 2.0), scaled.low[moved], scaled.high[moved])
            there = scaled.trial(tried)
            reached = float(np.linalg.norm(there.equal))
            if reached < miss:
                s, trial, miss = tried, there, reached
                damping = max(damping / 5.0, 1e-9)
                break
            damping = min(damping * 6.0, 1e6)
        else:
            break
    return s, miss


def tilts_of(scaled: Scaled, base: np.ndarray, angles: Sequence[float]) -> list[float]:
    """Tilts whose zero-lift turn ends at each of `angles` above the horizon; the nearest where none does."""
    choice = TILTS if scaled.ascent.site.launch is None else PULLED_UP_TO
    place = [u.name for u in scaled.ascent.unknowns].index("tilt")
    ends = []
    for tilt in choice:
        s = base.copy()
        s[place] = tilt / scaled.scale[place]
        ends.append(scaled.ascent.path_angle_after_turn(s * scaled.scale))
    falling = np.minimum.accumulate(ends)  # a larger tilt ends flatter
    wanted = [a for a in angles if falling[-1] < a < falling[0]]
    if not wanted:
        return [float(choice[int(np.argmin(np.abs(np.array(ends) - USUAL_TURN_ANGLE)))])]
    return [float(np.exp(np.interp(-a, -falling, np.log(choice)))) for a in wanted]


def retilted(ascent: Ascent, x: np.ndarray, turn: float) -> np.ndarray:
    """The unknowns `x` (unscaled) with the tilt that ends the zero-lift turn at the path angle `turn` [rad]."""
    scaled = Scaled(ascent)
    start = x.copy()
    tilts = tilts_of(scaled, start / scaled.scale, [turn])
    if tilts:
        start[[u.name for u in ascent.unknowns].index("tilt")] = tilts[0]
    return start
