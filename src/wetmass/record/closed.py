"""The answer to a concept: what was found, what was flown, what holds."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.record.brought import Brought
from wetmass.record.finding import Finding
from wetmass.record.flight import Flight
from wetmass.record.geometry import Geometry
from wetmass.record.parts import StageMasses
from wetmass.record.step import Step
from wetmass.record.vehicle import Vehicle


@dataclass(frozen=True, slots=True)
class Found:
    """A value that was open and has been found."""

    where: str  # "payload", "first, propellant mass"
    value: float  # SI
    unit: str  # SI unit, "" for a count
    bound: str = ""  # "" or which bound stopped it: "the least allowed", "the most allowed"


@dataclass(frozen=True, slots=True)
class Held:
    """A requirement or limit, and what came out."""

    what: str  # "lift-off thrust to weight"
    relation: str  # "at least", "at most", "exactly"
    asked: float  # SI
    got: float  # SI
    unit: str
    met: bool
    active: bool  # it is what stops the objective from getting better


@dataclass(frozen=True, slots=True)
class GuessEffect:
    """What the spread of one guess does to the answer, to first order."""

    where: str  # "first, dry mass"
    stated: str  # "7.6 t ± 8 %"
    effect: float  # kg by which the answer moves for one standard deviation more


@dataclass(frozen=True, slots=True)
class SpreadOfAnswer:
    """How far the best answer may be off by the guesses of the concept, to first order.

    From the slopes at the best answer, steering and sizes made best anew; guesses are taken as independent and
    small. `wetmass spread` closes sample by sample instead.
    """

    aim: str  # what is made best: "payload", "lift-off mass"
    value: float  # kg, of it
    sigma: float  # kg, one standard deviation; about 95 % lies within two
    parts: tuple[GuessEffect, ...]  # each guess, the one that matters most first


@dataclass(frozen=True, slots=True)
class Beside:
    """A quantity as estimated by hand, beside what was flown."""

    words: str
    by_hand: float  # SI
    flown: float  # SI
    unit: str
    how: str  # the estimate in letters: "√(2·h/a)"


@dataclass(frozen=True, slots=True)
class Closed:
    """A concept closed and flown, or the reason why it would not close."""

    name: str
    closes: bool
    reason: str  # "" when it closes; else which quantity ran away and what bound was met
    vehicle: Vehicle
    flight: Flight | None
    payload: float  # kg delivered, as flown
    payload_asked: float | None  # kg, when the concept states one
    most_payload: float | None  # kg that the vehicle can carry to this orbit
    left_over: float  # kg of last-stage propellant left above reserve and residuals; below 0: short of
    short_by: float  # m/s of ideal speed that lack, 0 when the orbit is reached
    found: tuple[Found, ...]
    held: tuple[Held, ...]
    steps: tuple[Step, ...]
    findings: tuple[Finding, ...] = ()
    not_yet: tuple[tuple[str, str], ...] = ()  # (key, why) of what the file says and is not computed yet
    spread: SpreadOfAnswer | None = None  # by the guesses of the file, to first order; None without any
    assumed: tuple[str, ...] = ()  # defaults of ours that were used, in words
    geometry: Geometry | None = None  # where everything stands; None for masses that nothing can hold
    masses: tuple[StageMasses, ...] = ()  # dry mass of every stage by each way there is
    home: Brought | None = None  # how every stage let go comes down; None: not asked, as in `closing.close`
    by_hand: tuple[Beside, ...] = ()  # of a climb, its bottom stage
    flights: int = 0  # how many flights the search flew
    seconds: float = 0.0  # and how long it took

    def __repr__(self) -> str:
        if not self.closes:
            return f"<Closed {self.name}: does not close — {self.reason}>"
        return f"<Closed {self.name}: {self.payload:,.0f} kg; {self.flight!r}>"
