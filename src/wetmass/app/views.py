"""Pictures, charts and working of an answer, from the lesson's own makers; markup is theirs, and escaped."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

from wetmass.record.closed import Closed
from wetmass.record.system import SYSTEMS

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def plain(markup: str) -> str:
    """Markup whose styles wait in `data-style`: the page's policy refuses styles in markup, scripts may set them."""
    return re.sub(r'(<[^<>]*?\s)style="', r'\1data-style="', markup)


def drawing(closed: Closed, system: str) -> str:
    """The whole vehicle to scale, as SVG; "" for masses that nothing can hold."""
    from wetmass.lesson.drawing import from_volumes, whole

    laid_out = closed.geometry is not None and bool(closed.geometry.stages)
    try:
        geometry = closed.geometry if laid_out and closed.geometry else from_volumes(closed.vehicle)
        return plain(whole(geometry, closed.vehicle, units=SYSTEMS[system]).svg())
    except (ValueError, ZeroDivisionError, OverflowError):
        return ""


def charts(concept: Concept, closed: Closed, system: str) -> list[dict[str, Any]]:
    """The Vega-Lite specifications of the lesson's charts, each with a name and words for it."""
    from wetmass.lesson import charts as made
    from wetmass.lesson.charts.drawn import themed

    flight = closed.flight
    if flight is None:
        return []
    orbit, units = not concept.mission.climbs, SYSTEMS[system]
    listed: list[tuple[str, str, Any]] = [
        (quantity.key, quantity.words, made.over_time(flight, quantity))
        for quantity in made.quantities(units)
    ]
    listed.append(("budget", "where the speed went", made.speed_budget(flight, orbit, units=units)))
    listed.append(("masses", "where the mass is", made.mass_breakdown(closed.vehicle, units=units)))
    listed.append(
        (
            "ground",
            "track over the ground",
            made.ground_track(flight, closed.home.ways if closed.home else ()),
        )
    )
    return [
        {"name": name, "words": words, "spec": json.loads(json.dumps(themed(chart).to_dict(validate=False)))}
        for name, words, chart in listed
    ]


def working(concept: Concept, closed: Closed, system: str) -> dict[str, Any]:
    """Every step in teaching order, as the lesson lays them out; and where each number in sight is made.

    Steps keep the units of their formulas, whatever `system` the results are told in.
    """
    from wetmass.app.answers import numbers
    from wetmass.lesson.content.blocks import Part, Working
    from wetmass.lesson.content.lesson import steps
    from wetmass.lesson.content.matter import Matter
    from wetmass.lesson.page.blocks import block
    from wetmass.lesson.page.markup import text
    from wetmass.lesson.words import topics

    matter = Matter.of(concept, closed)
    made = []
    for topic, title, _ in topics():
        shown = [block(one) for one in steps(matter, topic) if isinstance(one, (Part, Working))]
        if shown:
            made.append(f'<section><h3 id="topic-{topic}">{text(title)}</h3>{"".join(shown)}</section>')
    anchors = {}
    for one in numbers(concept, closed):
        placed = matter.order.made(one["value"], one["unit"])
        if placed is not None:
            anchors[one["key"]] = placed.anchor
    return {"markup": plain("".join(made)), "anchors": anchors}
