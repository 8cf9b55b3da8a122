"""The sections of the lesson, topic by topic."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Any

from wetmass.findings.units import shown, stated
from wetmass.lesson import charts, drawing
from wetmass.lesson.charts.ground import SOURCE as GROUND_SOURCE
from wetmass.lesson.charts.over_time import drawn_until
from wetmass.lesson.page.facts import Facts
from wetmass.lesson.page.markup import figure, heading, link, paragraph, sentence, table, text
from wetmass.lesson.page.order import Order, Placed
from wetmass.lesson.page.working import step
from wetmass.lesson.words import said
from wetmass.record.closed import Closed, Held
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import adding_up, fixed, readable
from wetmass.record.finding import Finding, Weight
from wetmass.record.geometry import Geometry
from wetmass.record.say import said as in_people_units

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


@dataclass(frozen=True, slots=True)
class Matter:
    """All that the sections are made from."""

    concept: Concept
    closed: Closed
    order: Order
    facts: Facts
    geometry: Geometry
    laid_out: bool  # else the geometry is drawn from volumes


def section(topic: str, matter: Matter) -> str:
    """What stands under one heading, without the heading; "" where there is nothing to say."""
    before, after = _ABOUT[topic](matter) if topic in _ABOUT else ("", "")
    return before + steps(matter, topic) + after


def steps(matter: Matter, topic: str) -> str:
    """The steps of a topic, with a heading for each part of the vehicle."""
    made = []
    placed = matter.order.of(topic)
    for part, several in groupby(placed, key=lambda one: one.step.part):
        listed: list[Placed] = list(several)
        level = 3
        if part:
            made.append(f"<h3>{text(heading(said('page/part', part=part)))}</h3>")
            made.append(_stage_picture(matter, topic, part))
            level = 4
        facts = matter.facts.of(part)
        made += [step(one, matter.order, facts, level) for one in listed]
    return "".join(made)


def _stage_picture(matter: Matter, topic: str, part: str) -> str:
    names = [one.name for one in matter.geometry.stages]
    if topic != "tanks" or part not in names:
        return ""
    name = f"stage-{names.index(part) + 1}"
    picture = drawing.stage(matter.geometry, matter.closed.vehicle, part, name).svg()
    return figure(picture, _drawn(matter, said("figures/stage", part=part)))


def _drawn(matter: Matter, words: str) -> str:
    """A caption, saying so where nothing was laid out."""
    return text(words if matter.laid_out else f"{words}  {said('page/volumes')}")


def _guess(matter: Matter) -> tuple[str, str]:
    concept, closed = matter.concept, matter.closed
    made = ""
    if closed.found:
        rows = []
        for one in closed.found:
            value = shown(concept, one.where, one.value, one.unit)
            bound = f" ({one.bound})" if one.bound else ""
            rows.append((text(place(one.where)), text(value + bound)))
        heads = [(said("tables/found_what"), False), (said("tables/found_value"), True)]
        made += table("found", said("tables/found"), heads, rows)
    guessed = list(guesses(concept))
    if guessed:
        heads = [
            (said("tables/guess_what"), False), (said("tables/guess_value"), True),
            (said("tables/guess_spread"), True),
        ]  # fmt: skip
        made += table("guesses", said("tables/guesses"), heads, [tuple(map(text, row)) for row in guessed])
    return made, ""


def place(path: str) -> str:
    """A path as people say it.

    >>> place("stages/first/propellant/mass")
    'first, propellant mass'
    """
    parts = path.removeprefix("stages/").split("/")
    return ", ".join((parts[0], " ".join(parts[1:]))) if len(parts) > 1 else parts[0]


def guesses(concept: Concept) -> Iterator[tuple[str, str, str]]:
    """(where, value, how far it may be off) of every stated value that carries a spread."""
    for where, quantity in _quantities(concept, ""):
        low = readable(quantity.spread.low / quantity.unit.factor)
        high = readable(quantity.spread.high / quantity.unit.factor)
        unit = quantity.unit.text
        value = f"{readable(quantity.value / quantity.unit.factor)}\u00a0{unit}".strip()
        yield where, value, f"{low} to {high}\u00a0{unit}".strip()


def _quantities(model: Any, where: str) -> Iterator[tuple[str, Any]]:
    for field in type(model).model_fields:
        value = getattr(model, field)
        words = field.replace("_", " ")
        for item in value if isinstance(value, (list, tuple)) else (value,):
            name = getattr(item, "name", None)
            here = f"{where}{name}, " if isinstance(name, str) and name else where
            if getattr(item, "spread", None) is not None and hasattr(item, "unit"):
                yield f"{where}{words}", item
            elif hasattr(type(item), "model_fields"):
                yield from _quantities(item, here if isinstance(value, (list, tuple)) else where)


def _tanks(matter: Matter) -> tuple[str, str]:
    picture = drawing.whole(matter.geometry, matter.closed.vehicle)
    words = [said("figures/whole", name=matter.closed.name), said("page/room")]
    if matter.closed.vehicle.strap_ons:
        words.append(said("page/caps"))
    if matter.laid_out and matter.geometry.assumed:
        words.append(said("page/assumed_layout", assumed="; ".join(matter.geometry.assumed)))
    return figure(picture.svg(), _drawn(matter, "  ".join(words)), "tall"), ""


def _engines(matter: Matter) -> tuple[str, str]:
    made = []
    for i, laid in enumerate(matter.geometry.stages, 1):
        if laid.engines:
            picture = drawing.engines(laid, f"engines-{i}").svg()
            told = f"{said('figures/engines', part=laid.name)}  {sentence(drawing.engines_words(laid))}"
            made.append(figure(picture, text(told)))
    return f'<div class="row">{"".join(made)}</div>' if made else "", ""


def _masses(matter: Matter) -> tuple[str, str]:
    vehicle = matter.closed.vehicle
    listed = vehicle.mass_table()
    whole = sum(item.mass for item in listed)
    rounded = adding_up([item.mass for item in listed])
    rows = [
        (
            text(item.part or "–"), text(item.item), fixed(mass),
            f"{fixed(100.0 * item.mass / whole, 1)}\u00a0%",
        )
        for item, mass in zip(listed, rounded, strict=True)
    ]  # fmt: skip
    rows.append((text(said("tables/masses_whole")), "", fixed(sum(rounded)), "100.0\u00a0%"))
    heads = [
        (said("tables/masses_part"), False), (said("tables/masses_item"), False),
        (said("tables/masses_mass"), True), (said("tables/masses_share"), True),
    ]  # fmt: skip
    words = "; ".join(
        f"{item.part} {item.item} {in_people_units(item.mass, 'kg')}".strip() for item in listed
    )
    picture = charts.svg(
        charts.mass_breakdown(vehicle), "chart-masses", said("figures/masses"), sentence(words)
    )
    return (
        figure(picture, text(said("figures/masses")))
        + table("mass-table", said("tables/masses"), heads, rows, marked=[len(rows) - 1]),
        "",
    )


def _flown(matter: Matter) -> tuple[str, str]:
    flight = matter.closed.flight
    if flight is None:
        return paragraph(text(said("page/no_flight"))), ""
    orbit = not matter.concept.mission.climbs
    listed = charts.budget_rows(flight, orbit)
    words = "; ".join(f"{row['words']} {fixed(row['value'])} m/s" for row in listed)
    budget = charts.svg(
        charts.speed_budget(flight, orbit), "budget", said("figures/budget"), sentence(words)
    )  # fmt: skip
    pictures = []
    for quantity in charts.QUANTITIES:
        values = flight.trajectory[quantity.key] / quantity.factor
        told = (
            f"{quantity.words} against time, from {readable(float(values[0]), 3)} to "
            f"{readable(float(values[-1]), 3)} {quantity.unit}, greatest {readable(float(values.max()), 3)}"
        )
        name = f"chart-{quantity.key.replace('_', '-')}"
        pictures.append(charts.svg(charts.over_time(flight, quantity), name, quantity.words, sentence(told)))
    caption = said("figures/over_time")
    if drawn_until(flight)[1]:
        caption += f"  {said('figures/coast_cut')}"
    ground_words = said("figures/ground", net=charts.window(flight).net, source=GROUND_SOURCE)
    ground = charts.svg(
        charts.ground_track(flight), "ground", ground_words,
        sentence("; ".join(
            f"{one['words']} at latitude {readable(one['latitude'], 3)}°, longitude "
            f"{readable(one['longitude'], 3)}°" for one in charts.places(flight)
        )),
    )  # fmt: skip
    after = (
        figure(budget, text(said("figures/budget")))
        + events(matter)
        + f'<figure><div class="row charts">{"".join(pictures)}</div><figcaption>{text(caption)}</figcaption>'
        "</figure>" + figure(ground, text(ground_words))
    )
    return "", after


def events(matter: Matter) -> str:
    """The timeline as a table."""
    flight = matter.closed.flight
    assert flight is not None
    heads = [
        (said("tables/event_number"), True), (said("tables/event_what"), False),
        (said("tables/event_time"), True), (said("tables/event_height"), True),
        (said("tables/event_speed"), True), (said("tables/event_pressure"), True),
        (said("tables/event_felt"), True),
    ]  # fmt: skip
    rows = [
        (
            str(i), text(one.what), fixed(one.time, 1), fixed(one.height / 1e3, 1), fixed(one.air_speed),
            fixed(one.dynamic_pressure / 1e3, 2), fixed(one.felt_acceleration / STANDARD_GRAVITY, 2),
        )
        for i, one in enumerate(flight.events, 1)
    ]  # fmt: skip
    return table("events", said("tables/events"), heads, rows)


def _staging(matter: Matter) -> tuple[str, str]:
    flight = matter.closed.flight
    if flight is None:
        return "", ""
    picture = drawing.staging(matter.geometry, matter.closed.vehicle, flight)
    return figure(picture.svg(), _drawn(matter, said("figures/staging"))), ""


def _answer(matter: Matter) -> tuple[str, str]:
    rows = []
    for one in matter.closed.held:
        asked, got = _asked_and_got(matter.concept, one)
        verdict = "broken" if not one.met else "binds" if one.active else "kept"
        rows.append(
            (
                text(one.what), text(f"{one.relation} {asked}"), _linked(matter, one, got),
                f'<span class="{verdict}">{text(said(f"tables/{verdict}"))}</span>',
            )
        )  # fmt: skip
    if not rows:
        return "", ""
    heads = [
        (said("tables/held_what"), False), (said("tables/held_asked"), True), (said("tables/held_got"), True),
        (said("tables/held_verdict"), False),
    ]  # fmt: skip
    return table("held", said("tables/held"), heads, rows), ""


def _linked(matter: Matter, one: Held, got: str) -> str:
    made = matter.order.made(one.got, "" if one.unit == "1" else one.unit)
    anchor = made.anchor if made else "events" if matter.closed.flight is not None else ""
    return link(anchor, text(got)) if anchor else text(got)


def _asked_and_got(concept: Concept, one: Held) -> tuple[str, str]:
    """In the unit the user chose, what came out with one figure more."""
    typed = stated(concept, one.what)
    if typed is None:
        return in_people_units(one.asked, one.unit), in_people_units(one.got, one.unit)
    _, _, decimals = typed.number.lower().partition("e")[0].partition(".")
    unit = f"\u00a0{typed.unit.text}" if typed.unit.text else ""
    return f"{typed.number}{unit}", f"{fixed(one.got / typed.unit.factor, len(decimals) + 1)}{unit}"


def _sure(matter: Matter) -> tuple[str, str]:
    listed = [one for one in matter.closed.findings if one.weight is not Weight.CAUTION]
    return "".join(_finding(one) for one in listed), ""


def _caution(matter: Matter) -> tuple[str, str]:
    listed = [one for one in matter.closed.findings if one.weight is Weight.CAUTION]
    return "".join(
        paragraph(text(f"{sentence(one.got)} {sentence(one.remedy)}"), "caution") for one in listed
    ), ""  # fmt: skip


def _finding(one: Finding) -> str:
    name = f"{one.part}: {one.rule}" if one.part else one.rule
    against = f" Accepted: {text(sentence(one.accepted))}" if one.accepted else ""
    return (
        f'<article class="finding {one.weight.value}"><h3><span class="badge">'
        f"{text(said(f'weights/{one.weight.value}'))}</span> {text(name)}</h3>"
        f"<p>{text(sentence(one.got))}{against} {text(sentence(one.remedy))}</p>"
        f'<p class="source">{said("page/source")}: {text(one.source)}</p></article>'
    )


_ABOUT = {
    "guess": _guess,
    "tanks": _tanks,
    "engines": _engines,
    "masses": _masses,
    "flown": _flown,
    "staging": _staging,
    "answer": _answer,
    "sure": _sure,
    "caution": _caution,
}
