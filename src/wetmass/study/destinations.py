"""How much a sized vehicle carries where: a table of destinations, and the payload against the energy to leave."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from wetmass.closing import Answer, answered_home
from wetmass.closing.elsewhere import Needed, Sent, expected, propellant_for, sent
from wetmass.concept.arrival import mass_that_arrives, speed_left
from wetmass.concept.model import Concept, Mission
from wetmass.concept.targets import (
    ESCAPE,
    FLY_BY,
    GEOSTATIONARY,
    LOW,
    MOON_ORBIT,
    MOON_SURFACE,
    NAMED,
    SUN_SYNCHRONOUS,
    TRANSFER,
)
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, surface_speed
from wetmass.physics.orbits import circular_speed, reachable_inclinations
from wetmass.physics.transfers import moon_c3, planet_c3
from wetmass.record.refusal import Complaint, Refusal

MARS = "Mars"
USUAL = (
    LOW, SUN_SYNCHRONOUS, TRANSFER, GEOSTATIONARY, FLY_BY, MOON_ORBIT, MOON_SURFACE, ESCAPE, MARS,
)  # fmt: skip
OWN_ISP = 320.0  # s, of the payload's own engine where none is said: storable propellants, common practice
ENERGIES = (0.0, 2.5e6, 5e6, 12e6, 16e6, 20e6, 25e6, 30e6, 40e6, 50e6, 60e6, 80e6, 100e6, 120e6)  # m²/s²
STRAYED = 0.1  # of the payload before: further below the rocket equation the search ended in another valley
LOW_PERIGEE = 185e3  # m, of every way out
_PLAY = math.radians(3.0)  # inclinations this far beyond the headings are still reached by steering
_AT_ARRIVAL = (GEOSTATIONARY, MOON_ORBIT, MOON_SURFACE)


@dataclass(frozen=True, slots=True)
class Reached:
    """One destination."""

    name: str
    payload: float  # kg at the last cut-off of the ascent; nan where it does not get there
    left: float  # m/s still to do at the destination
    by_payload: float  # kg that arrive when the payload's own engine does it; nan where it cannot
    by_stage: float  # kg that arrive when the last stage does it; nan where it cannot
    coasts: bool  # the last stage coasts and burns again
    inclination: float  # rad, flown
    broken: tuple[str, ...]  # limits of the file not kept
    reason: str  # why it does not get there, "" when it does


@dataclass(frozen=True, slots=True)
class Point:
    """Payload for an energy to leave with."""

    c3: float  # m²/s²
    payload: float  # kg


@dataclass(frozen=True, slots=True)
class Reach:
    """Everything a vehicle can be aimed at."""

    name: str
    answer: Answer
    isp: float  # s, of the payload's own engine
    places: tuple[Reached, ...]
    curve: tuple[Point, ...]

    @property
    def greatest_c3(self) -> float:
        """Energy at which no payload is left [m²/s²], between two points; nan where the curve ends before."""
        for one, other in itertools.pairwise(self.curve):
            if one.payload > 0.0 >= other.payload:
                return one.c3 + one.payload / (one.payload - other.payload) * (other.c3 - one.c3)
        return math.nan


def aimed(name: str, by_stage: bool = False) -> Mission:
    """The mission to a destination of that name.  Raises Refusal for one that is not known."""
    if name not in NAMED:
        from wetmass.concept.wording import nearest

        near = nearest(name, NAMED)
        remedy = f'write "{near}", if that is meant' if near else "write one of these"
        raise Refusal(Complaint("--to", f'"{name}"', " | ".join(NAMED), remedy))
    arrival = {"arrival": {"by": "last stage"}} if by_stage else {}
    return Mission.model_validate({"to": name, **arrival})


def out(c3: float, insertion: str = "best") -> Mission:
    """A way out with an energy [m²/s²]."""
    return Mission.model_validate({"C3": f"{c3 / 1e6:.6f} km²/s²", "insertion": insertion})


def reach(
    concept: Concept,
    *,
    isp: float = OWN_ISP,
    places: Sequence[str] = USUAL,
    told: Callable[[str], None] = lambda _: None,
) -> Reach:
    """The vehicle as its own mission sizes it, sent to every place and away with more and more energy.

    isp     of the payload's own engine, for what is left to do at the destination [s]
    places  names of destinations; those the ascent itself ends at lie on the curve where they can

    Raises Refusal for a concept that climbs to a height, or does not close.
    """
    answer = sized(concept, told)
    found: dict[str, Reached] = {}
    told("payload against the energy to leave")
    transfer = sent(answer, aimed(TRANSFER))
    curve, ways = _curve(answer, transfer, told)
    for name in places:
        told(f"to: {name}")
        known = transfer if name in (TRANSFER, GEOSTATIONARY) else _on_the_curve(aimed(name), ways)
        found[name] = _reached(concept, answer, name, isp, known)
    return Reach(concept.name, answer, isp, tuple(found[name] for name in places), curve)


def sized(concept: Concept, told: Callable[[str], None] = lambda _: None) -> Answer:
    """The vehicle as its own mission sizes it.  Raises Refusal for one that is no launcher, or does not close."""
    if concept.mission.climbs:
        raise Refusal(
            Complaint(
                "mission / height", str(concept.mission.height), "a mission to an orbit or beyond",
                "say perigee and apogee, or a destination: the vehicle is sized for it first",
            )
        )  # fmt: skip
    answer, _ = answered_home(concept, told=told)
    if not answer.found.met:
        raise Refusal(
            Complaint("mission", answer.reason, "a concept that reaches its own mission", "see `wetmass fly`")
        )
    return answer


def _curve(
    answer: Answer, transfer: Sent, told: Callable[[str], None]
) -> tuple[tuple[Point, ...], dict[float, Sent]]:
    """Points of rising energy until no payload is left, each started from the one before."""
    energies = sorted({moon_c3(EARTH_RADIUS_WGS84 + LOW_PERIGEE), planet_c3(MARS), *ENERGIES})
    ways: list[Sent] = []
    for c3 in energies:
        told(f"C3 {c3 / 1e6:.3g} km²/s²")
        one = _faster(answer, ways[-1], c3) if ways else _first(answer, transfer, c3)
        if not one.found.met:
            break
        ways.append(one)
        if one.payload <= 0.0:
            break
    for i in range(len(ways) - 2, -1, -1):  # and back: what the next one learnt helps the one before
        again = sent(answer, ways[i].mission, beside=ways[i + 1])
        if again.found.met and again.payload > ways[i].payload:
            ways[i] = again
    points = tuple(Point(c3, way.payload) for c3, way in zip(energies, ways, strict=False))
    return points, dict(zip(energies, ways, strict=False))


def _first(answer: Answer, transfer: Sent, c3: float) -> Sent:
    """The first way out: from the transfer orbit's, and direct; the better."""
    ways = [sent(answer, out(c3, "direct"))]
    if transfer.found.met and transfer.coasts:
        ways.append(sent(answer, out(c3), beside=transfer))
    return max(ways, key=lambda way: (way.found.met, way.payload))


def _faster(answer: Answer, last: Sent, c3: float, halvings: int = 3) -> Sent:
    """Away with more energy than `last`; by way of one half between where the search strays."""
    one = sent(answer, out(c3), beside=last)
    strayed = one.payload < expected(last, one.problem.guess.speed) - STRAYED * abs(last.payload)
    if not halvings or (one.found.met and not strayed):
        return one
    assert last.mission.c3 is not None
    halfway = _faster(answer, last, 0.5 * (last.mission.c3.value + c3), halvings - 1)
    return _faster(answer, halfway, c3, 0) if halfway.found.met else one


def _reached(concept: Concept, answer: Answer, name: str, isp: float, known: Sent | None) -> Reached:
    mission = aimed(name)
    reason = beyond_the_headings(concept, mission)
    if reason:
        return _not(name, reason)
    there = known or sent(answer, mission)
    left = speed_left(mission, concept.site.latitude.value)
    if there.reason or there.payload <= 0.0:
        return _not(name, there.reason or "it gets there without any payload only", left)
    own = mass_that_arrives(there.payload, left, isp) if left else there.payload
    by_stage = there.payload
    if left:
        by_stage = math.nan
        if _lit_often_enough(concept, name):
            whole = sent(answer, aimed(name, by_stage=True), beside=there)
            by_stage = whole.payload if not whole.reason and whole.payload > 0.0 else math.nan
    assert there.flight is not None
    return Reached(
        name, there.payload, left, own, by_stage, there.coasts, there.flight.orbit.inclination, there.broken, ""
    )  # fmt: skip


def _not(name: str, reason: str, left: float = math.nan) -> Reached:
    return Reached(name, math.nan, left, math.nan, math.nan, False, math.nan, (), reason)


def _on_the_curve(mission: Mission, ways: dict[float, Sent]) -> Sent | None:
    """The flight of the curve that goes there already."""
    if mission.c3 is None or mission.perigee is None or mission.perigee.value != LOW_PERIGEE:
        return None
    return next((way for c3, way in ways.items() if abs(c3 - mission.c3.value) < 200.0), None)


def _lit_often_enough(concept: Concept, name: str) -> bool:
    """Whether the last stage has ignitions left for the burns at the destination."""
    last = next(stage for stage in reversed(concept.stages) if stage.strapped_to is None)
    return min(group.ignitions for group in last.engines) > (2 if name == MOON_SURFACE else 1)


def beyond_the_headings(concept: Concept, mission: Mission) -> str:
    """Why no heading of the site leads near the inclination, "" where one does or none is asked."""
    headings = concept.site.headings
    if mission.inclination is None or isinstance(mission.inclination, str) or headings is None:
        return ""
    latitude = concept.site.latitude.value
    speed = circular_speed(EARTH_RADIUS_WGS84 + LOW_PERIGEE)
    low, high = headings.low.value, headings.high.value
    if high < low:
        high += math.tau
    least, most = reachable_inclinations(latitude, low, high, speed, surface_speed(latitude))
    if least - _PLAY <= mission.inclination.value <= most + _PLAY:
        return ""
    return (
        f"the site's headings reach inclinations from {math.degrees(least):.1f}° to {math.degrees(most):.1f}°, "
        f"and {math.degrees(mission.inclination.value):.1f}° is asked"
    )


def what_it_takes(
    concept: Concept, name: str, payload: float, *, told: Callable[[str], None] = lambda _: None
) -> tuple[Sent, tuple[Needed, ...]]:
    """What the vehicle carries to a destination now, and for each stage the propellant that would carry `payload`.

    Everything else stays as the vehicle's own mission sized it.
    """
    answer = sized(concept, told)
    mission = aimed(name)
    there = sent(answer, mission, told=told)
    if there.reason:
        raise Refusal(Complaint("--to", f'"{name}"', "a destination it reaches at all", there.reason))
    stages = [stage.name for stage in concept.stages]
    return there, tuple(propellant_for(answer, there, payload, stage, told=told) for stage in stages)


def speed_from_parking(c3: float, height: float = LOW_PERIGEE) -> float:
    """Impulse from a circle at `height` [m] to an energy [m/s]: the second axis of the curve."""
    radius = EARTH_RADIUS_WGS84 + height
    return float(np.sqrt(c3 + 2.0 * GM / radius)) - circular_speed(radius)
