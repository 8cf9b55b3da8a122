"""What becomes of each stage that is let go."""

from __future__ import annotations

from wetmass.lesson.content.blocks import Block, Column, Paragraph, Part, Picture, Table
from wetmass.lesson.content.flown import event_table
from wetmass.lesson.content.matter import Matter, heading
from wetmass.lesson.words import said
from wetmass.record.brought import Brought
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import fixed
from wetmass.record.homecoming import By, Homecoming
from wetmass.record.say import duration, sentence
from wetmass.record.say import said as in_people_units


def home(matter: Matter) -> list[Block]:
    """The way down of each stage, and what coming home costs."""
    brought = matter.closed.home
    if brought is None or not (brought.ways or brought.not_flown):
        return []
    made: list[Block] = []
    if brought.kept and brought.price is not None and matter.closed.closes:
        words = said(
            "home/price", price=in_people_units(brought.price, "kg"),
            expended=in_people_units(brought.expended_payload or 0.0, "kg"),
        )  # fmt: skip
        made.append(Paragraph((words,)))
    for number, way in enumerate(brought.ways, 1):
        made += _way(matter, brought, way, number)
    if brought.not_flown:
        made.append(Paragraph((f"{said('home/not_flown')} {sentence('; '.join(brought.not_flown))}",)))
    return made


def _way(matter: Matter, brought: Brought, way: Homecoming, number: int) -> list[Block]:
    from wetmass.lesson import charts

    made: list[Block] = [
        Part(heading(said("page/part", part=way.stage))), Paragraph((told(way, brought),))
    ]  # fmt: skip
    caption = said("home/picture", part=way.stage)
    words = said(
        "drawn/way_home", begins=in_people_units(way.trajectory["height"][0], "m", 3),
        highest=in_people_units(way.apogee.value, "m", 3), out=in_people_units(way.down.distance, "m", 3),
    )  # fmt: skip
    made.append(
        Picture(
            f"home-{number}", caption, sentence(words), caption,
            lambda: charts.homecoming(matter.closed.flight, way), "chart",
        )
    )  # fmt: skip
    made.append(event_table(f"home-events-{number}", said("home/events", part=way.stage), way.events))
    if way.burns:
        made.append(_burns(way, number))
    return made


def _burns(way: Homecoming, number: int) -> Table:
    columns = tuple(
        Column(said(f"home/burn_{key}"), key != "what")
        for key in ("what", "height", "speed", "duration", "propellant", "given")
    )
    rows = tuple(
        (
            (one.what,), (fixed(one.height / 1e3, 1),), (fixed(one.air_speed),), (fixed(one.duration, 1),),
            (fixed(one.propellant),), (fixed(one.speed_given),),
        )
        for one in way.burns
    )  # fmt: skip
    return Table(f"home-burns-{number}", said("home/burns", part=way.stage), columns, rows)


def told(way: Homecoming, brought: Brought) -> str:
    """What became of one stage, in a few sentences."""
    values = {
        "part": way.stage, "place": in_people_units(way.down.distance, "m", 3),
        "time": duration(way.down.time), "speed": in_people_units(way.down.speed, "m/s", 3),
        "felt": fixed(way.felt_acceleration.value / STANDARD_GRAVITY, 1),
        "pressure": in_people_units(way.dynamic_pressure.value, "Pa", 3),
        "used": in_people_units(way.used, "kg", 3), "left": in_people_units(way.left, "kg", 2),
    }  # fmt: skip
    if way.way.by is By.BALLISTIC:
        first = said("home/falls", **values)
    else:
        first = said("home/comes" if way.comes_home else "home/does_not", **values, by=way.way.by.value)
    sentences = [first, said("home/loads", **values)]
    if way.used > 0.0:
        sentences.append(said("home/used", **values))
    kept = next((one for one in brought.kept if one.stage == way.stage), None)
    if kept is not None and not kept.met and kept.reason:
        sentences.append(sentence(kept.reason))
    return "  ".join(sentences)
