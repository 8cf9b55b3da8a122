"""A stage refilled in orbit: how many tankers, how long, and what it then carries, with what may go wrong.

The stage is launched with its payload to a low circle and has left there what a heavier payload would have
weighed.  Tankers of one kind follow at a steady pace; each brings what it can lift, less what is lost in the
transfer; what is aboard boils away meanwhile; some tankers fail.  When enough is aboard, it leaves.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from wetmass.closing import Answer
from wetmass.closing.elsewhere import sent
from wetmass.concept.arrival import speed_left
from wetmass.concept.model import Concept, Mission
from wetmass.concept.targets import LOW
from wetmass.physics.earth import EARTH_RADIUS_WGS84
from wetmass.physics.orbits import circular_speed, injection_speed, orbit_speed
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.study.destinations import aimed, sized
from wetmass.study.point import kept_home

PARKING = 200e3  # m, the circle it is refilled on: that of a low orbit by name
DAY = 86_400.0  # s
MOST_TANKERS = 400
SAMPLES = 4000
# where the user says nothing; each is an assumption, and named as one beside the result
CADENCE, LOST, BOIL_OFF, FAILURE = 7.0 * DAY, 0.02, 0.001, 0.03


@dataclass(frozen=True, slots=True)
class Plan:
    """How refilling is done."""

    cadence: float = CADENCE  # s between tankers
    lost: float = LOST  # share of what a tanker brings that does not arrive in the tanks
    boil_off: float | None = (
        None  # share of what is aboard that boils away in a day; the concept's where None
    )
    failure: float = FAILURE  # chance that a tanker does not get there


@dataclass(frozen=True, slots=True)
class Ship:
    """The stage to be refilled, with its payload, on the circle."""

    payload: float  # kg
    empty: float  # kg: dry mass, residuals and reserve
    capacity: float  # kg of propellant that burns, tanks full
    aboard: float  # kg left on arrival
    exhaust: float  # m/s

    def needed(self, speed: float) -> float:
        """Propellant for a speed change [kg]; may be more than the tanks hold."""
        return (self.payload + self.empty) * math.expm1(speed / self.exhaust)

    def most_payload(self, speed: float) -> float:
        """Payload with full tanks [kg]; below 0 where not even the stage alone does it."""
        return self.capacity / math.expm1(speed / self.exhaust) - self.empty


@dataclass(frozen=True, slots=True)
class Filling:
    """One course of events: tankers launched, days, and what was aboard after each; or none that fills it."""

    launches: int
    time: float  # s from the first tanker to the last
    aboard: tuple[float, ...]  # kg after each launch
    filled: bool


@dataclass(frozen=True, slots=True)
class Campaign:
    """A refuelling campaign and what it gives."""

    name: str
    to: str
    plan: Plan
    ship: Ship
    delivered: float  # kg a tanker lifts to the circle
    speed: float  # m/s from the circle to the destination, all burns
    needed: float  # kg of propellant for it
    nominal: Filling  # nothing fails
    launches: tuple[float, float, float]  # 5th, 50th and 95th percentile
    times: tuple[float, float, float]  # s, the same
    chance_filled: float  # of all samples
    samples: int
    seed: int
    counts: tuple[int, ...]  # launches of each sample that was filled
    direct: float  # kg the vehicle carries there without refilling; nan where it does not get there
    refilled: float  # kg with full tanks, limited by what reaches the circle
    kept: dict[str, float]  # kg by stage that come home, of the vehicle that carries it up

    @property
    def possible(self) -> bool:
        """Whether full tanks are enough."""
        return self.needed <= self.ship.capacity


def speed_to(mission: Mission, latitude: float, height: float = PARKING) -> float:
    """Speed changes from a circle at `height` to a destination and its own burns, each at once [m/s].

    latitude  of the site [rad]: inclination of the circle

    >>> round(speed_to(aimed("Moon fly-by"), 0.25))
    3131
    """
    radius = EARTH_RADIUS_WGS84 + height
    if mission.leaves:
        assert mission.c3 is not None
        first = injection_speed(mission.c3.value, radius) - circular_speed(radius)
    else:
        assert mission.apogee is not None
        high = mission.apogee.value + EARTH_RADIUS_WGS84
        first = orbit_speed(radius, radius, max(high, radius)) - circular_speed(radius)
    return first + speed_left(mission, latitude)


def filling(ship: Ship, needed: float, delivered: float, plan: Plan, fails: Callable[[int], bool]) -> Filling:
    """Tankers one by one until `needed` is aboard; `fails(n)` says whether the n-th gets lost."""
    kept = math.exp(math.log1p(-(plan.boil_off or 0.0)) * plan.cadence / DAY)
    aboard, course = ship.aboard, []
    if aboard >= needed:
        return Filling(0, 0.0, (), True)
    for number in range(1, MOST_TANKERS + 1):
        if number > 1:
            aboard *= kept
        if not fails(number):
            aboard = min(aboard + delivered * (1.0 - plan.lost), ship.capacity)
        course.append(aboard)
        if aboard >= needed:
            return Filling(number, (number - 1) * plan.cadence, tuple(course), True)
    return Filling(MOST_TANKERS, (MOST_TANKERS - 1) * plan.cadence, tuple(course), False)


def refuel(
    concept: Concept,
    to: str,
    payload: float,
    *,
    tanker: Concept | None = None,
    plan: Plan | None = None,
    seed: int = 1,
    samples: int = SAMPLES,
    told: Callable[[str], None] = lambda _: None,
) -> Campaign:
    """The last stage of `concept` refilled on a low circle for a destination.

    to        name of the destination     payload  to be carried there [kg]
    tanker    the vehicle that brings propellant; the same one where None
    plan      how it is done              seed, samples  of the spread by failures

    Raises Refusal for a destination that is not known, and for concepts that do not close.
    """
    plan = plan or Plan()
    mission = aimed(to)
    answer = sized(concept, told)
    told("payload to the circle")
    low = sent(answer, aimed(LOW))
    told("payload flown directly")
    there = sent(answer, aimed(to, by_stage=speed_left(mission, 0.0) > 0.0))
    told("tankers")
    brings = low.payload if tanker is None else sent(sized(tanker, told), aimed(LOW)).payload
    ship = _ship(answer, payload, low.payload)
    if plan.boil_off is None:
        stated = answer.vehicle.stages[-1].boil_rate * DAY / ship.capacity
        plan = replace(plan, boil_off=stated or BOIL_OFF)
    speed = speed_to(mission, concept.site.latitude.value)
    needed = ship.needed(speed)
    chance = np.random.default_rng(seed)
    nominal = filling(ship, min(needed, ship.capacity), brings, plan, lambda _: False)
    courses = []
    for _ in range(samples):
        lost = chance.random(MOST_TANKERS) < plan.failure
        courses.append(
            filling(ship, min(needed, ship.capacity), brings, plan, lambda n, lost=lost: lost[n - 1])
        )
    filled = [one for one in courses if one.filled]
    counts = tuple(one.launches for one in filled)
    direct = there.payload if not there.reason and there.payload > 0.0 else math.nan
    return Campaign(
        concept.name, to, plan, ship, brings, speed, needed, nominal, _percentiles(counts),
        _percentiles([one.time for one in filled]), len(filled) / samples, samples, seed, counts, direct,
        min(ship.most_payload(speed), low.payload), kept_home(answer.vehicle),
    )  # fmt: skip


def _ship(answer: Answer, payload: float, most: float) -> Ship:
    """The last stage on the circle; a payload lighter than the most leaves that much propellant unburnt."""
    vehicle = answer.vehicle
    last = vehicle.stages[-1]
    p = last.propellant
    empty = last.dry_mass + p.residuals + p.reserve + p.home
    left = min(max(most - payload, 0.0), p.burns)
    return Ship(payload, empty, p.burns, left, last.vacuum_isp * STANDARD_GRAVITY)


def _percentiles(values) -> tuple[float, float, float]:
    if not len(values):
        return math.nan, math.nan, math.nan
    low, middle, high = np.percentile(
        np.asarray(values, dtype=float), [5.0, 50.0, 95.0], method="inverted_cdf"
    )
    return float(low), float(middle), float(high)
