"""One point of a study: a concept with a few values changed, closed and optimised from the nominal answer."""

from __future__ import annotations

import functools
import hashlib
import json
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from wetmass.closing import Answer, Homeward, Known, answered, answered_home
from wetmass.closing import known as known_from
from wetmass.closing.rates import rates
from wetmass.concept.document import Document, document
from wetmass.concept.model import Concept
from wetmass.concept.reading import loads
from wetmass.record.flight import Flight
from wetmass.record.refusal import Refusal
from wetmass.record.vehicle import Vehicle
from wetmass.study.variants import Change

CLOSES, DOES_NOT_CLOSE, REFUSED, FAILED = "closes", "does not close", "refused", "failed"
BALANCED, MOST_AGAIN = 1e-2, 2  # of a slope of the score of order 1; searches more
ROOMS = ("record", "physics", "concept", "vehicle", "flight", "closing")  # what a result depends on
PAYLOAD, LIFT_OFF_MASS = "payload", "lift-off mass"
KEPT_HOME = "kept to come home"  # of a stage


@dataclass(frozen=True)
class Outcome:
    """What came of one point; every number in SI.

    state    closes | does not close | refused (the values make no concept) | failed (a defect, or a worker died)
    reason   in words, "" when it closes
    numbers  by name: payload, lift-off mass, each open value by path, losses, greatest loads
    kept     requirements and limits by name: how far inside each it is, over what is asked; below 0 is outside
    """

    state: str
    reason: str = ""
    numbers: Mapping[str, float] = field(default_factory=dict)
    kept: Mapping[str, float] = field(default_factory=dict)

    @property
    def closes(self) -> bool:
        return self.state == CLOSES

    @property
    def home(self) -> dict[str, float]:
        """What each stage keeps to come home, of those that keep anything [kg]."""
        ending = f", {KEPT_HOME}"
        return {
            name.removesuffix(ending): kept for name, kept in self.numbers.items() if name.endswith(ending)
        }

    def __getitem__(self, name: str) -> float:
        """A number by name; nan where the point has none."""
        return self.numbers.get(name, math.nan)


@dataclass(frozen=True)
class Base:
    """The nominal concept of a study and its answer: all that a worker is told.  Plain enough to be sent."""

    text: str
    name: str
    known: Known | None
    outcome: Outcome
    home: Homeward | None = None

    @property
    def concept(self) -> Concept:
        return loads(self.text, self.name)

    def key(self, changes: Sequence[Change]) -> str:
        """What a result is kept under: program, concept and changes in one hash."""
        said = json.dumps([version(), self.text, list(changes)], ensure_ascii=False)
        return hashlib.sha256(said.encode()).hexdigest()[:32]


def base_of(concept: Concept) -> Base:
    """The nominal answer of a concept, found from nothing."""
    return base_from(concept, *settled_home(concept))


def base_from(concept: Concept, answer: Answer, home: Homeward) -> Base:
    """The nominal answer of a concept, found already."""
    assert concept.document is not None
    document = concept.document
    return Base(document.text, document.name, known_from(answer), outcome_of(answer), home)


def settled_home(
    concept: Concept, start: Known | None = None, near: Homeward | None = None
) -> tuple[Answer, Homeward]:
    """The answer of a concept with what its stages need to come home kept in them, and that."""
    return answered_home(concept, start, near, settled)


def settled(
    concept: Concept, *, kept: Mapping[str, float] | None = None, known: Known | None = None,
    told: Callable[[str], None] = lambda _: None,
) -> Answer:  # fmt: skip
    """The answer of a concept, searched on from itself while its slopes are out of balance.

    A search ends when its score stands still; in a flat valley that may be some way before the best, and a study
    would take what is left of the way for an effect.
    """
    answer = answered(concept, kept=kept, known=known, told=told)
    for _ in range(MOST_AGAIN):
        found = rates(answer)
        if found is None or found.worth.unbalanced < BALANCED:
            break
        again = answered(concept, kept=kept, known=known_from(answer), told=told)
        if again.reason or not again.found.trial.score < answer.found.trial.score:
            break
        answer = again
    return answer


def solved(base: Base, changes: Sequence[Change]) -> Outcome:
    """One point.  Whatever happens comes back as an outcome: a bad point never loses the others."""
    try:
        text = _document(base.text, base.name).with_values(changes)
        return outcome_of(settled_home(loads(text, base.name), base.known, base.home)[0])
    except Refusal as refusal:
        one = refusal.complaints[0]
        return Outcome(REFUSED, f"{one.field}: got {one.got}; accepted {one.accepted}")
    except Exception as error:
        return Outcome(FAILED, f"{type(error).__name__}: {error}")


@functools.lru_cache(maxsize=4)
def _document(text: str, name: str) -> Document:
    return document(text, name)


def outcome_of(answer: Answer) -> Outcome:
    """The numbers of an answer that studies look at."""
    vehicle, flight = answer.vehicle, answer.flight
    most = answer.most_payload
    numbers = {PAYLOAD: vehicle.payload if most is None else most, LIFT_OFF_MASS: vehicle.lift_off_mass}
    numbers |= {path: float(value) for path, value in answer.values.items() if path != PAYLOAD}
    for stage in vehicle.every_stage():
        numbers[f"{stage.name}, dry mass"] = stage.dry_mass
        numbers[f"{stage.name}, propellant"] = stage.propellant.load
    numbers |= {f"{name}, {KEPT_HOME}": kept for name, kept in kept_home(vehicle).items()}
    if flight is not None:
        numbers |= _flown(flight)
    kept: dict[str, float] = {}
    for one in answer.held:
        room = 1.0 - one.got / one.asked
        kept[one.what] = {"at most": room, "at least": -room}.get(one.relation, -abs(room))
    finite = {name: value for name, value in numbers.items() if math.isfinite(value)}
    state = DOES_NOT_CLOSE if answer.reason else CLOSES
    return Outcome(state, answer.reason, finite, kept)


def kept_home(vehicle: Vehicle) -> dict[str, float]:
    """What each stage keeps to come home, of those that keep anything [kg]."""
    return {one.name: one.propellant.home for one in vehicle.every_stage() if one.propellant.home > 0.0}


def _flown(flight: Flight) -> dict[str, float]:
    loss = flight.losses
    return {
        "ideal delta-v": loss.ideal, "gravity loss": loss.gravity, "drag loss": loss.drag,
        "steering loss": loss.steering, "back-pressure loss": loss.back_pressure,
        "greatest dynamic pressure": flight.dynamic_pressure.value,
        "greatest felt acceleration": flight.felt_acceleration.value,
        "greatest q-alpha": flight.q_alpha.value, "time to orbit": flight.duration,
        **{f"{share.name}, burn-out speed": share.burnout_air_speed for share in flight.stages},
    }  # fmt: skip


def unit(name: str) -> str:
    """SI unit of a number of an outcome, by its name.

    >>> unit("gravity loss"), unit("first, dry mass"), unit("time to orbit")
    ('m/s', 'kg', 's')
    """
    for ending, found in _UNITS.items():
        if name.endswith(ending):
            return found
    return ""


_UNITS = {
    "payload": "kg", "mass": "kg", "propellant": "kg", "loss": "m/s", "delta-v": "m/s", "speed": "m/s",
    KEPT_HOME: "kg", "pressure": "Pa", "acceleration": "m/s²", "q-alpha": "Pa·rad", "time to orbit": "s",
}  # fmt: skip


@functools.cache
def version() -> str:
    """A short hash of every file a result depends on: another program's results are never taken for ours."""
    package, digest = Path(__file__).resolve().parent.parent, hashlib.sha256()
    for path in sorted(path for room in ROOMS for path in (package / room).rglob("*.py")):
        digest.update(str(path.relative_to(package)).encode())
        digest.update(path.read_bytes())
    digest.update(Path(__file__).read_bytes())
    return digest.hexdigest()[:16]
