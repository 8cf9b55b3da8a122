"""Many flights at fixed steering: what the guesses do when nothing is steered, sized or made best anew.

Every sample is built as the nominal vehicle is, its guesses apart, and flown along the nominal programme
(`wetmass.flight.programme`): where it ends tells how often the reserve is enough, and how far orbits scatter.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from wetmass.closing import Answer
from wetmass.closing.close import problem_of
from wetmass.concept.guesses import Guess, guesses
from wetmass.concept.model import Concept
from wetmass.concept.reading import loads
from wetmass.flight.along import END_FELT, END_PRESSURE, END_Q_ALPHA, END_STATUS
from wetmass.flight.programme import Batch, Programme, fly_along, programme
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.record.mission import Orbit
from wetmass.record.refusal import Complaint, Refusal
from wetmass.study.built import Built, built
from wetmass.study.point import settled_home
from wetmass.study.sample import SEED, Pair, drawn, pairs_of, some
from wetmass.study.spread import Chance, chance
from wetmass.vehicle import Assembly

AT_ONCE = 32_768  # flights built and flown at a time
_FAR = 1e-7  # chance beyond which nothing is drawn: a sample of millions ends before


@dataclass(frozen=True)
class Flights:
    """Flights at fixed steering.

    columns  (N, 7): perigee and apogee height [m], inclination [rad], speed above what the orbit asked for needs
             at the height reached [m/s] (below 0: it lacks), greatest dynamic pressure [Pa], felt acceleration
             [m/s²], q-alpha [Pa·rad]; nan where a flight came to nothing
    reserve  speed that the performance reserve is worth [m/s]
    seconds  of flying, vehicles built beforehand apart; where it was flown
    """

    name: str
    guesses: tuple[Guess, ...]
    seed: int
    nominal: np.ndarray  # (7,)
    columns: np.ndarray
    reserve: float
    limits: dict[str, tuple[int, float]]  # name: (column, limit)
    built: Built
    seconds: float
    where: str

    @property
    def surplus(self) -> np.ndarray:
        """Speed above what is needed, less that of the nominal flight [m/s]."""
        return self.columns[:, 3] - self.nominal[3]

    def covers(self, speed: float) -> Chance:
        """The chance that this much speed in reserve makes up for what lacks."""
        lacks = self.surplus
        return chance(int(np.sum(lacks + speed >= 0.0)), len(lacks))

    def kept(self) -> dict[str, Chance]:
        """The chance that each limit is kept."""
        made = {}
        for name, (column, limit) in self.limits.items():
            values = self.columns[:, column]
            made[name] = chance(int(np.sum(values <= 1.002 * limit)), len(values))
        return made


COLUMNS = (
    "perigee height", "apogee height", "inclination", "speed above what is needed", "greatest dynamic pressure",
    "greatest felt acceleration", "greatest q-alpha",
)  # fmt: skip


def flights(
    concept: Concept,
    count: int,
    *,
    seed: int = SEED,
    more: Sequence[str] = (),
    together: Sequence[str] = (),
    answer: Answer | None = None,
    flown: Callable[[Batch], np.ndarray] = fly_along,
    where: str = "every core of this machine",
    said: Callable[[str], None] = lambda words: None,
) -> Flights:
    """So many flights of draws of the guesses, at the steering of the nominal answer.

    flown  who flies a batch: the cores of this machine, or `wetmass.flight.on_gpu.fly_along`

    Raises Refusal without guesses, or for vehicles that no programme by the clock can fly.
    """
    if answer is None:
        said("looking for the nominal answer")
        answer, _ = settled_home(concept)
    said("building vehicles")
    plan, shape, made, found = prepared(concept, answer, more, seed)
    pairs: tuple[Pair, ...] = pairs_of(concept, found, together)
    said("flying")
    table = drawn(found, count, seed, pairs)
    columns, seconds = np.empty((count, len(COLUMNS))), 0.0
    target = answer.problem.orbit
    for begin in range(0, count, AT_ONCE):
        part = table[begin : begin + AT_ONCE]
        values = np.stack([g.drawn(column) for g, column in zip(found, part.T, strict=True)], axis=1)
        batch = _batch(plan, shape, made(values))
        began = time.perf_counter()
        results = flown(batch)
        seconds += time.perf_counter() - began
        columns[begin : begin + AT_ONCE] = told(results, target)
        said(f"{min(begin + AT_ONCE, count)} of {count} flights")
    nominal = told(flown(_batch(plan, shape, made(made.centre[None]))), target)[0]
    reserve = concept.performance_reserve.value if concept.performance_reserve is not None else 0.0
    return Flights(
        concept.name, found, seed, nominal, columns, reserve, _limits(answer), made, seconds, where
    )  # fmt: skip


def prepared(
    concept: Concept, answer: Answer, more: Sequence[str] = (), seed: int = SEED
) -> tuple[Programme, _Own, Built, tuple[Guess, ...]]:
    """The nominal programme, the arrays of the nominal vehicle, those of any other by its guesses, and the guesses.

    Raises Refusal without guesses, or for vehicles that no programme by the clock can fly.
    """
    found = guesses(concept, more)
    some(found)
    plan, own = ready(concept, answer)
    low, high = (np.array([float(g.drawn(np.array([end]))[0]) for g in found]) for end in (_FAR, 1.0 - _FAR))
    centre = np.array([g.nominal for g in found])

    def arrays(values: np.ndarray) -> np.ndarray:
        return _flat(*own(_changes(found, values)))

    made = built(arrays, centre, np.minimum(low, centre), np.maximum(high, centre), seed)
    return plan, own(()), made, found


_Own = tuple[np.ndarray, np.ndarray, float]


def ready(concept: Concept, answer: Answer) -> tuple[Programme, Callable[[Sequence[tuple[str, str]]], _Own]]:
    """The programme of an answer, and the arrays of the same vehicle with other guesses.  Raises Refusal."""
    if answer.reason or not isinstance(answer.problem.orbit, Orbit):
        got = answer.reason or "a climb"
        raise Refusal(Complaint("--flights", got, "a concept that closes, to an orbit", "see wetmass fly"))
    try:
        plan = programme(answer.ascent, answer.found.x)
    except ValueError as error:
        raise Refusal(
            Complaint(
                "--flights", str(error), "a vehicle of rocket stages one after another",
                "leave out --flights: wetmass spread closes every sample instead",
            )
        ) from None  # fmt: skip
    document = concept.document
    assert document is not None

    def own(changes: Sequence[tuple[str, str]]) -> _Own:
        changed = loads(document.with_values(changes), document.name) if changes else concept
        problem, _ = problem_of(changed, Assembly(changed))
        vehicle = problem.vehicle(dict(answer.values))
        return plan.own(answer.ascent.lay_out(answer.found.x, vehicle))

    return plan, own


def _changes(found: Sequence[Guess], values: np.ndarray) -> tuple[tuple[str, str], ...]:
    return tuple(pair for guess, value in zip(found, values, strict=True) for pair in guess.at(float(value)))


def _flat(segments: np.ndarray, drops: np.ndarray, mass: float) -> np.ndarray:
    return np.concatenate([segments.ravel(), drops.ravel(), [mass]])


def _batch(plan: Programme, shape: _Own, arrays: np.ndarray) -> Batch:
    segments, drops, _ = shape
    cut = segments.size
    return Batch(
        plan, np.ascontiguousarray(arrays[:, :cut]).reshape(-1, *segments.shape),
        np.ascontiguousarray(arrays[:, cut : cut + drops.size]).reshape(-1, *drops.shape),
        np.ascontiguousarray(arrays[:, -1]), plan.how(),
    )  # fmt: skip


def _limits(answer: Answer) -> dict[str, tuple[int, float]]:
    limits = answer.problem.limits
    every = (
        ("greatest dynamic pressure", 4, limits.pressure), ("greatest felt acceleration", 5, limits.acceleration),
        ("greatest q-alpha", 6, limits.q_alpha),
    )  # fmt: skip
    return {name: (column, limit) for name, column, limit in every if math.isfinite(limit) and limit < 1e11}


def told(results: np.ndarray, target: Orbit) -> np.ndarray:
    """Columns (N, 7) of results of `along`, as `Flights` explains them."""
    place, speed = results[:, 0:3], results[:, 3:6]
    r, v2 = np.linalg.norm(place, axis=1), np.sum(speed * speed, axis=1)
    spin = np.cross(place, speed)
    h2 = np.sum(spin * spin, axis=1)
    energy = 0.5 * v2 - GM / r
    a = -0.5 * GM / energy
    e = np.sqrt(np.maximum(0.0, 1.0 - h2 / (GM * a)))
    wanted = -GM / (2.0 * EARTH_RADIUS_WGS84 + target.perigee + target.apogee)
    with np.errstate(invalid="ignore"):
        needed = np.sqrt(np.maximum(0.0, 2.0 * (wanted + GM / r)))
    out = np.stack(
        [
            a * (1.0 - e) - EARTH_RADIUS_WGS84, a * (1.0 + e) - EARTH_RADIUS_WGS84,
            np.arccos(np.clip(spin[:, 2] / np.sqrt(h2), -1.0, 1.0)), np.sqrt(v2) - needed,
            results[:, END_PRESSURE], results[:, END_FELT], results[:, END_Q_ALPHA],
        ],
        axis=1,
    )  # fmt: skip
    out[results[:, END_STATUS] > 0.0] = np.nan
    return out
