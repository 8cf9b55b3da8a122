"""What is flown: where the speed went, the flight event by event and against time, and what is let go."""

from __future__ import annotations

from wetmass.lesson import drawing
from wetmass.lesson.content.blocks import Block, Column, Paragraph, Picture, Pictures, Table
from wetmass.lesson.content.matter import Matter
from wetmass.lesson.content.shape import drawn
from wetmass.lesson.words import said
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import fixed, readable
from wetmass.record.flight import Event, Flight
from wetmass.record.homecoming import Homecoming
from wetmass.record.say import sentence


def losses(matter: Matter) -> list[Block]:
    """The speed budget, from the ideal to what is flown."""
    from wetmass.lesson import charts

    flight = matter.closed.flight
    if flight is None:
        return []
    orbit = not matter.concept.mission.climbs
    words = "; ".join(
        f"{row['words']} {fixed(row['value'])} m/s" for row in charts.budget_rows(flight, orbit)
    )
    caption = said("figures/budget")
    return [
        Picture(
            "budget",
            caption,
            sentence(words),
            caption,
            lambda: charts.speed_budget(flight, orbit),
            "chart",
            alone=lambda: charts.speed_budget(flight, orbit, beside=True),
        )
    ]


def flown(matter: Matter) -> list[Block]:
    """Events, everything against time, and the way over the ground."""
    flight = matter.closed.flight
    if flight is None:
        return [Paragraph((said("page/no_flight"),))]
    return [
        event_table("events", said("tables/events"), flight.events),
        against_time(flight),
        ground(flight, matter.closed.home.ways if matter.closed.home else ()),
    ]


def event_table(name: str, caption: str, events: tuple[Event, ...]) -> Table:
    """The timeline as a table."""
    columns = (
        Column(said("tables/event_number"), True), Column(said("tables/event_what")),
        Column(said("tables/event_time"), True), Column(said("tables/event_height"), True),
        Column(said("tables/event_speed"), True), Column(said("tables/event_pressure"), True),
        Column(said("tables/event_felt"), True),
    )  # fmt: skip
    rows = tuple(
        (
            (str(i),), (one.what,), (fixed(one.time, 1),), (fixed(one.height / 1e3, 1),),
            (fixed(one.air_speed),), (fixed(one.dynamic_pressure / 1e3, 2),),
            (fixed(one.felt_acceleration / STANDARD_GRAVITY, 2),),
        )
        for i, one in enumerate(events, 1)
    )  # fmt: skip
    return Table(name, caption, columns, rows)


def against_time(flight: Flight) -> Pictures:
    """A chart for each quantity."""
    from wetmass.lesson import charts

    pictures = []
    for quantity in charts.QUANTITIES:
        values = flight.trajectory[quantity.key] / quantity.factor
        told = said(
            "drawn/against_time", words=quantity.words, begins=readable(float(values[0]), 3),
            ends=readable(float(values[-1]), 3), unit=quantity.unit, greatest=readable(float(values.max()), 3),
        )  # fmt: skip
        pictures.append(
            Picture(
                f"chart-{quantity.key.replace('_', '-')}", f"{quantity.words}, {quantity.unit}",
                sentence(told), "",
                lambda quantity=quantity: charts.over_time(flight, quantity), "chart",
                charts.axes(flight, quantity),
                lambda quantity=quantity: charts.over_time(flight, quantity, named=True),
            )
        )  # fmt: skip
    caption = said("figures/over_time")
    if charts.drawn_until(flight)[1]:
        caption += f"  {said('figures/coast_cut')}"
    return Pictures("against-time", tuple(pictures), caption)


def ground(flight: Flight, ways: tuple[Homecoming, ...] = ()) -> Picture:
    """The way over the ground."""
    from wetmass.lesson import charts

    caption = said("figures/ground", net=charts.window(flight).net)
    words = "; ".join(
        said("drawn/at_place", words=one["words"], latitude=readable(one["latitude"], 3),
             longitude=readable(one["longitude"], 3))
        for one in charts.places(flight, ways)
    )  # fmt: skip
    return Picture(
        "ground", caption, sentence(words), caption, lambda: charts.ground_track(flight, ways), "chart"
    )


def staging(matter: Matter) -> list[Block]:
    """What is let go when."""
    flight = matter.closed.flight
    if flight is None:
        return []
    picture = drawing.staging(matter.geometry, matter.closed.vehicle, flight)
    return [drawn(picture, matter.drawn(said("figures/staging")))]
