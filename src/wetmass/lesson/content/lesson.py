"""The lesson as a whole: what it says at the top, and its sections in teaching order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from wetmass.lesson import drawing
from wetmass.lesson.content import answer, flown, given, home, shape, weight
from wetmass.lesson.content.blocks import Block, Part, Picture, Used, Working
from wetmass.lesson.content.inline import Link, Span, Words, filled
from wetmass.lesson.content.matter import Matter, heading
from wetmass.lesson.content.order import Placed
from wetmass.lesson.words import said, topics
from wetmass.record.closed import Closed
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import readable
from wetmass.record.say import said as in_people_units
from wetmass.record.vehicle import SEA_LEVEL_PRESSURE

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


@dataclass(frozen=True, slots=True)
class Section:
    """What stands under one heading."""

    name: str
    heading: str
    lead: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Lesson:
    """All of it."""

    title: str
    name: str
    story: str
    closes: bool
    verdict: Words
    tiles: tuple[tuple[str, Span], ...]  # (words, number)
    portrait: Picture
    sections: tuple[Section, ...]


def lesson_of(concept: Concept, closed: Closed) -> Lesson:
    """The lesson of a closed concept."""
    matter = Matter.of(concept, closed)
    made = [
        Section(name, title, lead, tuple(blocks))
        for name, title, lead in topics()
        if (blocks := _blocks(name, matter))
    ]
    facts = matter.facts.of()
    portrait = shape.drawn(drawing.portrait(matter.geometry, closed.vehicle), "")
    return Lesson(
        said("page/title", name=closed.name), closed.name, concept.story or "", closed.closes,
        _verdict(matter, facts), tuple(_tiles(matter, facts)), portrait, tuple(made),
    )  # fmt: skip


_BEFORE: dict[str, Callable[[Matter], list[Block]]] = {
    "guess": given.given, "tanks": shape.whole, "engines": shape.engines, "masses": weight.weight,
    "staging": flown.staging, "home": home.home, "answer": answer.answer, "sure": answer.sure,
    "caution": answer.caution,
}  # fmt: skip
_AFTER: dict[str, Callable[[Matter], list[Block]]] = {"losses": flown.losses, "flown": flown.flown}


def _blocks(topic: str, matter: Matter) -> list[Block]:
    before = _BEFORE[topic](matter) if topic in _BEFORE else []
    after = _AFTER[topic](matter) if topic in _AFTER else []
    return [*before, *steps(matter, topic), *after]


def steps(matter: Matter, topic: str) -> list[Block]:
    """The steps of a topic, with a heading for each part of the vehicle."""
    made: list[Block] = []
    for part, several in groupby(matter.order.of(topic), key=lambda one: one.step.part):
        if part:
            made.append(Part(heading(said("page/part", part=part))))
            picture = shape.one_stage(matter, part) if topic == "tanks" else None
            made += [picture] if picture is not None else []
        facts = matter.facts.of(part)
        for placed in several:
            used = tuple(Used(put, matter.order.source_of(put, placed)) for put in placed.step.inputs)
            made.append(Working(placed, used, _hand(placed, facts), bool(part)))
    return made


def _hand(placed: Placed, facts: dict[str, Span]) -> Words:
    if not placed.first or not placed.kind.hand:
        return ()
    try:
        return filled(placed.kind.hand, facts)
    except KeyError:  # a number that this result does not have
        return ()


def _verdict(matter: Matter, facts: dict[str, Span]) -> Words:
    closed = matter.closed
    spans: dict[str, Span] = {"name": closed.name}
    if not closed.closes:
        return filled(said("verdict/fails"), spans | {"reason": (closed.reason or "").rstrip(".")})
    way = "climbs" if matter.concept.mission.climbs else "closes"
    return filled(said(f"verdict/{way}"), spans | {"payload": facts["payload"], "orbit": _where_to(matter)})


def _where_to(matter: Matter) -> str:
    """The orbit, or the height, in words."""
    mission = matter.concept.mission
    if mission.climbs:
        return said("verdict/height", height=in_people_units(mission.height.value, "m"))
    if mission.leaves:
        words = mission.way_out()
    else:
        low, high = (in_people_units(one.value, "m") for one in (mission.perigee, mission.apogee))
        words = said("verdict/circle", height=low) if low == high else ""
        words = words or said("verdict/ellipse", perigee=low, apogee=high)
    inclination = mission.inclination.value if mission.inclination is not None else None
    if inclination is None and matter.closed.flight is not None:
        inclination = matter.closed.flight.orbit.inclination
    if inclination is not None:
        words += said("verdict/inclined", inclination=in_people_units(inclination, "rad"))
    return words


def _tiles(matter: Matter, facts: dict[str, Span]) -> list[tuple[str, Span]]:
    vehicle = matter.closed.vehicle
    made: list[tuple[str, Span]] = [
        (said("tiles/payload"), facts["payload"]), (said("tiles/lift_off_mass"), facts["lift_off_mass"])
    ]  # fmt: skip
    weight_there = vehicle.lift_off_mass * STANDARD_GRAVITY
    if weight_there > 0.0:
        ratio = readable(vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE) / weight_there, 3)
        step = next((p for p in matter.order.placed if p.step.symbol == "F/W"), None)
        made.append((said("tiles/thrust_to_weight"), Link(step.anchor, ratio) if step else ratio))
    made += [(said(f"tiles/{key}"), facts[key]) for key in ("ideal", "lost") if key in facts]
    height = in_people_units(matter.geometry.height, "m", 3)
    made.append((said("tiles/height"), Link("whole", height)))
    return made
