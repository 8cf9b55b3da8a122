"""Find the best ascent from nothing: a scan of tilts, each brought to the orbit, then the true optimum.

The scan needs no start from the user: for each tilt a damped Newton search brings the flight to the
orbit with three or four of the unknowns.  The best of those start a sequential quadratic programme
(scipy) over all unknowns, with differences of whole flights as derivatives.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from wetmass.flight import goal
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, Trial
from wetmass.flight.coasting import both_legs, first_leg
from wetmass.flight.raising import raised
from wetmass.record.mission import Climb, Orbit

DIFFERENCE = 1e-6  # of a scaled unknown, for derivatives
CURVATURE_STEP = 1e-3  # of a scaled unknown, for curvatures
FLATTEST = 1e-5  # of the greatest curvature: directions flatter than this count as this flat
MOST_WAYS, MOST_VALLEYS = 5, 3  # looked into
SAME_VALLEY = 0.5  # of a scaled unknown: rough optima this near lie in one valley
AGREE = 1e-4  # relative: two searches found the same optimum
REACH = 4.0  # how far a scaled unknown may move in one run
MET = 1e-3  # a condition counts as met: in the scale of `goal`, 1e-5 of radius and speed
TILTS = tuple(np.radians(np.geomspace(0.02, 40.0, 24)))
PULLED_UP_TO = tuple(np.radians(np.linspace(8.0, 84.0, 16)))  # from the vertical, after a launch from the air
NO_WAY = "no tilt led to the orbit"
TURN_ANGLES = tuple(math.radians(a) for a in (12.0, 20.0, 28.0, 36.0, 45.0, 55.0, 66.0, 76.0))
USUAL_TURN_ANGLE = math.radians(35.0)
OFF_PITCHES = (-0.1, 0.1, 0.3, 0.6, 1.0)  # rad, first free direction above the air speed
RATES_UP = (-2.4, -1.2, -0.6, -0.3, -0.1, 0.1)  # of the primer, per 300 s
OTHER_SHARES = (0.35, 0.7, 1.5)  # of what gives way, in a second look
TRIES_EACH, MOST_TRIES = 3, 16  # starts brought on, of one turn and of all


@dataclass(frozen=True, slots=True)
class Optimum:
    """The best unknowns found, and how the search went."""

    x: np.ndarray
    trial: Trial
    met: bool  # every condition holds
    worst: float  # largest breach of a condition
    flights: int
    rounds: int
    message: str


@dataclass
class _Scaled:
    """The problem in scaled unknowns, each flight flown once."""

    ascent: Ascent
    scale: np.ndarray = field(init=False)
    low: np.ndarray = field(init=False)
    high: np.ndarray = field(init=False)
    _trials: dict[bytes, Trial] = field(default_factory=dict)
    _slopes: dict[bytes, tuple[np.ndarray, np.ndarray, np.ndarray]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        unknowns = self.ascent.unknowns
        self.scale = np.array([u.scale for u in unknowns])
        self.low = np.array([u.low for u in unknowns]) / self.scale
        self.high = np.array([u.high for u in unknowns]) / self.scale

    def trial(self, s: np.ndarray) -> Trial:
        key = s.tobytes()
        found = self._trials.get(key)
        if found is None:
            if len(self._trials) > 64:
                self._trials.clear()
            found = self._trials[key] = self.ascent.trial(s * self.scale)
        return found

    def slopes(self, s: np.ndarray, which: Sequence[int] | None = None):
        """(of the conditions = 0, of the conditions ≥ 0, of the score) by differences of flights that
        take the same steps."""
        key = s.tobytes()
        if which is None and key in self._slopes:
            return self._slopes[key]
        here = self.trial(s)
        columns = range(len(s)) if which is None else which
        equal = np.zeros((len(here.equal), len(s)))
        at_least = np.zeros((len(here.at_least), len(s)))
        score = np.zeros(len(s))
        for i in columns:
            d = DIFFERENCE if s[i] + DIFFERENCE <= self.high[i] else -DIFFERENCE
            beside = s.copy()
            beside[i] += d
            there = self.ascent.trial(beside * self.scale, here)
            equal[:, i] = (there.equal - here.equal) / d
            at_least[:, i] = (there.at_least - here.at_least) / d
            score[i] = (there.score - here.score) / d
        if which is None:
            if len(self._slopes) > 16:
                self._slopes.clear()
            self._slopes[key] = (equal, at_least, score)
        return equal, at_least, score


def best(
    ascent: Ascent, start: np.ndarray | None = None, *, told: Callable[[str], None] = lambda _: None
) -> Optimum:
    """The best unknowns of `ascent`; from `start` (unscaled) when given, else from nothing."""
    if start is not None:
        scaled = _Scaled(ascent)
        s = np.clip(start / scaled.scale, scaled.low, scaled.high)
        if not isinstance(ascent.orbit, Climb) and _breach(scaled.trial(s)) > 0.05:
            s, _ = _newton(scaled, s, _moved(scaled, s))
        return _polish(scaled, s)
    if isinstance(ascent.orbit, Climb):
        told("looking for ways up")
        return _climb(ascent)
    told("looking for ways to the orbit")
    easy = _easier(ascent)
    scan = _Scaled(easy)
    answer = None
    for shares in ((1.0,), OTHER_SHARES):  # once more, from lighter and heavier, where nothing was found
        ways = [s for _, s in sorted(_scan(scan, shares), key=lambda way: way[0])]
        told("making the best of it")
        for tried in _improved(ascent, easy, scan, ways):
            if answer is None or _rank(tried) < _rank(answer):
                answer = tried
        if answer is not None and answer.met:
            break
    if answer is None or not answer.met:
        told("raising the orbit in steps")
        start = _raised_start(easy)
        if start is not None:
            tried = _from_easier(ascent, easy, start)
            answer = tried if answer is None or _rank(tried) < _rank(answer) else answer
    flights = ascent.flights + (easy.flights if easy is not ascent else 0)
    if answer is None:
        x = np.array([u.start for u in ascent.unknowns])
        return Optimum(x, ascent.trial(x), False, math.inf, flights, 0, NO_WAY)
    return replace(answer, flights=flights)


def _improved(ascent: Ascent, easy: Ascent, scan: _Scaled, ways: list[np.ndarray]) -> list[Optimum]:
    """Optima from the ways, until two agree."""
    tried: list[Optimum] = []
    for start in _valleys(scan, ways):
        tried.append(_from_easier(ascent, easy, start.x))
        met = sorted(r.trial.score for r in tried if r.met)
        if len(met) > 1 and met[1] - met[0] < AGREE * abs(met[0]):
            break  # two ways, one optimum
    return tried


def _raised_start(easy: Ascent) -> np.ndarray | None:
    """Unknowns for `easy` found on the way from a low circle, each orbit from the one before; None if lost."""
    if not isinstance(easy.orbit, Orbit):
        return None
    x: np.ndarray | None = None
    for orbit in raised(easy.orbit):
        step = replace(easy, orbit=orbit, place=goal.AT_PERIGEE)
        scaled = _Scaled(step)
        if x is None:
            ways = sorted(_scan(scaled), key=lambda way: way[0])
            if not ways:
                return None
            s = ways[0][1]
        else:
            s, _ = _newton(scaled, x / scaled.scale, _moved(scaled, x / scaled.scale), 30)
        answer = _polish(scaled, s, ROUGH)
        if not answer.met:
            return None
        x = answer.x
    return x


def _rank(answer: Optimum) -> tuple[bool, float]:
    """Sorting key, best first: met before unmet, then by score or by how far it is off."""
    return not answer.met, answer.trial.score if answer.met else answer.worst


def _climb(ascent: Ascent) -> Optimum:
    """The best climb, from a handful of starts: tilts where it slants, more and less of what gives way."""
    scaled = _Scaled(ascent)
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
        starts.append((_breach(scaled.trial(s)), len(starts), s))
    tried: list[Optimum] = []
    for _, _, s in sorted(starts)[:8]:
        tried.append(_polish(scaled, s))
        met = sorted(r.trial.score for r in tried if r.met)
        if len(met) > 1 and met[1] - met[0] < AGREE * abs(met[0]):
            break
    answer = min(tried, key=lambda r: (not r.met, r.trial.score if r.met else r.worst))
    return replace(answer, flights=ascent.flights)


def _valleys(scan: _Scaled, ways: list[np.ndarray]) -> list[Optimum]:
    """Rough optima of the ways, one for each valley, best first; two ways into one valley are enough."""
    found: list[Optimum] = []
    for way in ways[:MOST_WAYS]:
        rough = _polish(scan, way, ROUGH)
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
    scaled = _Scaled(ascent)
    start = both_legs(ascent, x) if ascent.coasting else x
    answer = _polish(scaled, start / scaled.scale)
    if easy is ascent or ascent.coasting:
        return answer
    strict = _polish(_Scaled(easy), x / scaled.scale)
    better = answer.met and answer.trial.score <= strict.trial.score
    return answer if better or not strict.met else strict


def _scan(scaled: _Scaled, shares: Sequence[float] = (1.0,)) -> list[tuple[float, np.ndarray]]:
    """(score, scaled unknowns) of starts that can be brought to the orbit.

    Tilts for turns that end at eight angles above the horizon; for each a grid of first free directions and
    rates is flown, and only those that come nearest are brought on.  `shares` are of what gives way.
    """
    ascent = scaled.ascent
    names = [u.name for u in ascent.unknowns]
    tilt, off, rate = names.index("tilt"), names.index("off pitch"), names.index("rate up")
    base = np.array([u.start for u in ascent.unknowns]) / scaled.scale
    moved = _moved(scaled, base)
    seeds: list[tuple[float, int, np.ndarray]] = []
    for number, angle in enumerate(_tilts(scaled, base, TURN_ANGLES)):
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
        s, miss = _newton(scaled, s, moved, 30)
        if miss < 1.0:
            found.append((scaled.trial(s).score + 0.05 * miss, s))
            settled.add(number)
            if len(found) == MOST_WAYS:
                break
    return found


def _moved(scaled: _Scaled, s: np.ndarray) -> list[int]:
    """Unknowns with which a flight is brought to its orbit; the last open one (payload, say) gives way."""
    ascent = scaled.ascent
    names = [u.name for u in ascent.unknowns]
    moved = [names.index("off pitch"), names.index("rate up"), len(names) - 1]
    if len(scaled.trial(s).equal) > 3 or (
        ascent.orbit.inclination is not None and ascent.place == goal.ANYWHERE
    ):
        moved.append(names.index("azimuth"))
    return moved


def _tilts(scaled: _Scaled, base: np.ndarray, angles: Sequence[float]) -> list[float]:
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


def carried_over(one: Ascent, x: np.ndarray, other: Ascent) -> np.ndarray:
    """Unknowns (unscaled) of `other` to start from, taken from those of `one` where the names agree.

    The tilt is the one that ends the turn as flat as before.
    """
    known = {u.name: float(v) for u, v in zip(one.unknowns, x, strict=True)}
    start = np.array([known.get(u.name, u.start) for u in other.unknowns])
    if isinstance(other.orbit, Climb):
        return start
    return retilted(other, start, one.path_angle_after_turn(x))


def retilted(ascent: Ascent, x: np.ndarray, turn: float) -> np.ndarray:
    """The unknowns `x` (unscaled) with the tilt that ends the zero-lift turn at the path angle `turn` [rad]."""
    scaled = _Scaled(ascent)
    start = x.copy()
    tilts = _tilts(scaled, start / scaled.scale, [turn])
    if tilts:
        start[[u.name for u in ascent.unknowns].index("tilt")] = tilts[0]
    return start


def _newton(scaled: _Scaled, s: np.ndarray, moved: list[int], rounds: int = 14) -> tuple[np.ndarray, float]:
    """Damped least-squares search (Levenberg–Marquardt) for equal = 0 over the unknowns `moved`."""
    damping = 0.03
    trial = scaled.trial(s)
    miss = float(np.linalg.norm(trial.equal))
    for _ in range(rounds):
        if miss < 1e-3 or not math.isfinite(miss):
            break
        slope = scaled.slopes(s, moved)[0][:, moved]
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


@dataclass(frozen=True, slots=True)
class Care:
    """How carefully a search is carried on."""

    still: float  # relative: the score stands still
    met: float  # every condition within this
    rounds: int  # in a row
    most: int  # rounds at the most
    first: int  # of the first run
    run: int  # of each later run


ROUGH = Care(still=5e-4, met=1e-2, rounds=2, most=40, first=40, run=40)
FINE = Care(still=2e-6, met=2e-4, rounds=3, most=150, first=15, run=15)


class _Settled:
    """Ends the search once the score stands still with every condition met, round after round."""

    def __init__(self, scaled: _Scaled, care: Care) -> None:
        self.scaled, self.care, self.last, self.still = scaled, care, math.inf, 0
        self.done = False

    def __call__(self, s: np.ndarray) -> None:
        trial = self.scaled.trial(s)
        worst = _breach(trial)
        small = self.care.still * max(1.0, abs(trial.score))
        quiet = abs(trial.score - self.last) < small and worst < self.care.met
        self.still = self.still + 1 if quiet else 0
        self.last = trial.score
        if self.still >= self.care.rounds:
            self.done = True
            raise StopIteration


def _polish(scaled: _Scaled, s: np.ndarray, care: Care = FINE) -> Optimum:
    """Sequential quadratic programming from the scaled unknowns `s`.

    Runs of a few rounds; before each the unknowns are turned and stretched so that the curvature of the
    Lagrangian is one in every direction, without which the search creeps along curved valleys.
    """
    s = np.clip(s, scaled.low, scaled.high)
    settled, rounds, message = _Settled(scaled, care), 0, ""
    while rounds < care.most and not settled.done:
        basis = np.eye(len(s)) if rounds == 0 else _basis(scaled, s)
        answer = _run(scaled, s, basis, settled, min(care.run if rounds else care.first, care.most - rounds))
        moved = np.clip(s + basis @ answer.x, scaled.low, scaled.high)
        rounds, message = rounds + int(answer.nit), str(answer.message)
        if np.max(np.abs(moved - s)) < 1e-9 and rounds > care.first:
            break
        s = moved
    trial = scaled.trial(s)
    worst = _breach(trial)
    return Optimum(
        s * scaled.scale,
        trial,
        worst < max(MET, care.met) and bool(trial.summary[at.STATUS] == at.DONE),
        worst,
        scaled.ascent.flights,
        rounds,
        message,
    )


def _run(scaled: _Scaled, s: np.ndarray, basis: np.ndarray, settled: _Settled, most: int):
    """One run of scipy's SLSQP in coordinates z, s + basis·z."""
    from scipy.optimize import minimize

    straight = np.array_equal(basis, np.eye(len(s)))

    def at(z: np.ndarray) -> np.ndarray:
        return np.clip(s + basis @ z, scaled.low, scaled.high)

    conditions = [
        {"type": "eq", "fun": lambda z: scaled.trial(at(z)).equal,
         "jac": lambda z: scaled.slopes(at(z))[0] @ basis},
        {"type": "ineq", "fun": lambda z: scaled.trial(at(z)).at_least,
         "jac": lambda z: scaled.slopes(at(z))[1] @ basis},
    ]  # fmt: skip
    bounds = list(zip(scaled.low - s, scaled.high - s, strict=True)) if straight else None
    if not straight:
        low, high = np.maximum(scaled.low - s, -REACH), np.minimum(scaled.high - s, REACH)
        walls = np.vstack([basis, -basis])
        room = np.concatenate([-low, high])
        conditions.append({"type": "ineq", "fun": lambda z: walls @ z + room, "jac": lambda z: walls})
    return minimize(
        lambda z: scaled.trial(at(z)).score,
        np.zeros(len(s)),
        jac=lambda z: scaled.slopes(at(z))[2] @ basis,
        bounds=bounds,
        constraints=conditions,
        method="SLSQP",
        callback=lambda z: settled(at(z)),
        options={"maxiter": most, "ftol": 1e-10},
    )


def _basis(scaled: _Scaled, s: np.ndarray) -> np.ndarray:
    """Directions in which the Lagrangian's curvature is one, from differences of its slope."""
    equal, at_least, score = scaled.slopes(s)
    near = scaled.trial(s).at_least < 1e-3
    active = np.vstack([equal, at_least[near]])
    if not (np.isfinite(active).all() and np.isfinite(score).all()):
        return np.eye(len(s))
    weights = np.linalg.lstsq(active.T, -score, rcond=None)[0]
    slope = score + active.T @ weights
    curvature = np.zeros((len(s), len(s)))
    for i in range(len(s)):
        beside = s.copy()
        d = CURVATURE_STEP if s[i] + CURVATURE_STEP <= scaled.high[i] else -CURVATURE_STEP
        beside[i] += d
        there = scaled.slopes(beside)
        curvature[i] = (there[2] + np.vstack([there[0], there[1][near]]).T @ weights - slope) / d
    if not np.isfinite(curvature).all():
        return np.eye(len(s))
    values, vectors = np.linalg.eigh(0.5 * (curvature + curvature.T))
    values = np.maximum(np.abs(values), FLATTEST * max(np.max(np.abs(values)), 1e-12))
    return vectors / np.sqrt(values)


def _breach(trial: Trial) -> float:
    """The furthest that a condition is from being met."""
    return max(float(np.max(np.abs(trial.equal), initial=0.0)), float(np.max(-trial.at_least, initial=0.0)))
