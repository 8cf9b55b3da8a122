"""Find the best ascent from nothing: a scan of tilts, each brought to the orbit, then the true optimum.

The scan needs no start from the user: for each tilt a damped Newton search brings the flight to the
orbit with three or four of the unknowns.  The best of those start a sequential quadratic programme
(scipy) over all unknowns, with differences of whole flights as derivatives.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from wetmass.flight import goal
from wetmass.flight.ascent import Ascent, Trial
from wetmass.flight.coasting import both_legs, first_leg

DIFFERENCE = 1e-6  # of a scaled unknown, for derivatives
MET = 1e-3  # a condition counts as met: in the scale of `goal`, 1e-5 of radius and speed
STILL = 2e-6  # relative: the score stands still
TILTS = tuple(np.radians(np.geomspace(0.05, 30.0, 16)))
NO_WAY = "no tilt led to the orbit"
PATH_ANGLES = tuple(math.radians(a) for a in (8.0, 15.0, 22.0, 30.0, 38.0, 47.0, 57.0, 68.0))


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
            self._slopes = {key: (equal, at_least, score)}
        return equal, at_least, score


def best(
    ascent: Ascent, start: np.ndarray | None = None, *, told: Callable[[str], None] = lambda _: None
) -> Optimum:
    """The best unknowns of `ascent`; from `start` (unscaled) when given, else from nothing."""
    if start is not None:
        scaled = _Scaled(ascent)
        return _polish(scaled, start / scaled.scale)
    told("looking for ways to the orbit")
    leg = first_leg(ascent) if ascent.coasting else ascent
    scan = _Scaled(leg)
    ways = [s * scan.scale for _, s in sorted(_scan(scan), key=lambda way: way[0])]
    if not ways:
        x = np.array([u.start for u in ascent.unknowns])
        return Optimum(x, ascent.trial(x), False, math.inf, ascent.flights, 0, NO_WAY)
    told("making the best of it")
    results: list[Optimum] = []
    for way in ways[:4]:
        results.append(_refined(ascent, leg, way))
        if sum(r.met for r in results) == 2:
            break
    met = [r for r in results if r.met]
    return min(met, key=lambda r: r.trial.score) if met else min(results, key=lambda r: r.worst)


def _refined(ascent: Ascent, leg: Ascent, x: np.ndarray) -> Optimum:
    """The optimum near the unknowns `x` of `leg`, by way of stricter conditions where that is surer."""
    if ascent.coasting:
        scaled = _Scaled(leg)
        x = both_legs(ascent, _polish(scaled, x / scaled.scale).x)
    scaled = _Scaled(ascent)
    if ascent.place != goal.ANYWHERE or ascent.coasting:
        return _polish(scaled, x / scaled.scale)
    strict = _Scaled(replace(ascent, place=goal.AT_PERIGEE))
    first = _polish(strict, x / strict.scale)
    second = _polish(scaled, first.x / scaled.scale)
    if first.met and not (second.met and second.trial.score < first.trial.score):
        return first
    return second


def _scan(scaled: _Scaled) -> list[tuple[float, np.ndarray]]:
    """(score, scaled unknowns) of the tilts that can be brought to the orbit."""
    ascent = scaled.ascent
    names = [u.name for u in ascent.unknowns]
    base = np.array([u.start for u in ascent.unknowns]) / scaled.scale
    slack = len(names) - 1  # the last open unknown: payload or what is left
    moved = [names.index("off pitch"), names.index("rate up"), slack]
    if len(scaled.trial(base).equal) > 3 or (
        ascent.orbit.inclination is not None and ascent.place == "anywhere"
    ):
        moved.append(names.index("azimuth"))
    found = []
    for tilt in _tilts(scaled, base):
        s = base.copy()
        s[names.index("tilt")] = tilt / scaled.scale[names.index("tilt")]
        s, miss = _newton(scaled, s, moved)
        if miss < 1.0:
            found.append((scaled.trial(s).score + 0.05 * miss, s))
    return found


def _tilts(scaled: _Scaled, base: np.ndarray) -> list[float]:
    """Tilts after which the first stage burns out at each of `PATH_ANGLES` above the horizon."""
    place = [u.name for u in scaled.ascent.unknowns].index("tilt")
    angles = []
    for tilt in TILTS:
        s = base.copy()
        s[place] = tilt / scaled.scale[place]
        angles.append(scaled.ascent.path_angle_after_first_stage(s * scaled.scale))
    falling = np.minimum.accumulate(angles)  # a larger tilt ends flatter
    wanted = [a for a in PATH_ANGLES if falling[-1] < a < falling[0]]
    return [float(np.exp(np.interp(-a, -falling, np.log(TILTS)))) for a in wanted]


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


class _Settled:
    """Ends the search once the score stands still with every condition met, round after round."""

    def __init__(self, scaled: _Scaled) -> None:
        self.scaled, self.last, self.still = scaled, math.inf, 0

    def __call__(self, s: np.ndarray) -> None:
        trial = self.scaled.trial(s)
        worst = max(np.max(np.abs(trial.equal), initial=0.0), np.max(-trial.at_least, initial=0.0))
        quiet = abs(trial.score - self.last) < STILL * max(1.0, abs(trial.score)) and worst < 2e-4
        self.still = self.still + 1 if quiet else 0
        self.last = trial.score
        if self.still >= 3:
            raise StopIteration


def _polish(scaled: _Scaled, s: np.ndarray) -> Optimum:
    from scipy.optimize import minimize

    conditions = [
        {"type": "eq", "fun": lambda v: scaled.trial(v).equal, "jac": lambda v: scaled.slopes(v)[0]},
        {"type": "ineq", "fun": lambda v: scaled.trial(v).at_least, "jac": lambda v: scaled.slopes(v)[1]},
    ]
    s = np.clip(s, scaled.low, scaled.high)
    settled = _Settled(scaled)
    answer = minimize(
        lambda v: scaled.trial(v).score,
        s,
        jac=lambda v: scaled.slopes(v)[2],
        bounds=list(zip(scaled.low, scaled.high, strict=True)),
        constraints=conditions,
        method="SLSQP",
        callback=settled,
        options={"maxiter": 150, "ftol": 1e-10},
    )
    s = np.clip(answer.x, scaled.low, scaled.high)
    trial = scaled.trial(s)
    worst = max(float(np.max(np.abs(trial.equal), initial=0.0)), float(np.max(-trial.at_least, initial=0.0)))
    return Optimum(
        s * scaled.scale,
        trial,
        worst < MET,
        worst,
        scaled.ascent.flights,
        int(answer.nit),
        str(answer.message),
    )
