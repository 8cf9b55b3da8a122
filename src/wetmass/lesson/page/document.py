"""The page as a whole: head, verdict, contents, sections in teaching order, foot."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from wetmass.lesson.drawing import from_volumes
from wetmass.lesson.page.facts import Facts
from wetmass.lesson.page.markup import link, paragraph, text
from wetmass.lesson.page.order import Order
from wetmass.lesson.page.sections import Matter, section
from wetmass.lesson.page.style import style
from wetmass.lesson.words import catalogue, said, topics
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.record.closed import Closed
from wetmass.record.digits import readable
from wetmass.record.say import said as in_people_units

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'"


def page(concept: Concept, closed: Closed, *, file: str = "", version: str = "") -> str:
    """The lesson of a closed concept as one HTML file.

    file     name of the concept's file, for the foot of the page
    version  of the program
    """
    order = Order(closed.steps)
    facts = Facts(closed, order)
    laid_out = closed.geometry is not None and bool(closed.geometry.stages)
    geometry = closed.geometry if laid_out and closed.geometry else from_volumes(closed.vehicle)
    matter = Matter(concept, closed, order, facts, geometry, laid_out)
    made = [(name, heading, lead, section(name, matter)) for name, heading, lead in topics()]
    made = [one for one in made if one[3]]
    contents = "".join(f'<li><a href="#{name}">{text(heading)}</a></li>' for name, heading, _, _ in made)
    body = "".join(
        f'<section id="{name}" aria-labelledby="{name}-heading"><h2 id="{name}-heading">{text(heading)}</h2>'
        f"{paragraph(text(lead), 'lead')}{inside}</section>"
        for name, heading, lead, inside in made
    )
    title = said("page/title", name=closed.name)
    return (
        f'<!DOCTYPE html>\n<html lang="{catalogue()["language"]}"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(title)}</title><style>{style()}</style></head><body>"
        f'<a class="skip" href="#lesson">{said("page/skip")}</a>'
        f'<div class="frame"><header class="top" id="top">{_head(matter)}</header>'
        f'<div class="body"><nav class="contents" aria-labelledby="contents"><h2 id="contents">'
        f"{said('page/contents')}</h2><ol>{contents}</ol></nav>"
        f'<main id="lesson">{body}</main></div>'
        f"<footer><p>{text(said('page/rounded'))}</p>"
        f"<p>{text(said('page/made_with', version=version, file=file or closed.name))}</p>"
        f'<p><a href="#top">{said("page/top")}</a></p></footer></div></body></html>\n'
    )


def _head(matter: Matter) -> str:
    concept, closed = matter.concept, matter.closed
    facts = matter.facts.of()
    name, reason = text(closed.name), text((closed.reason or "").rstrip("."))
    if not closed.closes:
        verdict = said("verdict/fails", name=name, reason=reason)
    else:
        way = "climbs" if concept.mission.climbs else "closes"
        verdict = said(f"verdict/{way}", name=name, payload=facts["payload"], orbit=text(_where_to(matter)))
    kind = "verdict" if closed.closes else "verdict fails"
    tiles = "".join(
        f"<div><dt>{text(said(f'tiles/{key}'))}</dt><dd>{value}</dd></div>"
        for key, value in _tiles(matter, facts)
    )
    return (
        f"<h1>{name}</h1>{paragraph(text(concept.story or ''), 'story')}"
        f'<p class="{kind}">{verdict}</p><dl class="tiles">{tiles}</dl>'
    )


def _where_to(matter: Matter) -> str:
    """The orbit, or the height, in words."""
    mission = matter.concept.mission
    if mission.climbs:
        return said("verdict/height", height=in_people_units(mission.height.value, "m"))
    low, high = (in_people_units(one.value, "m") for one in (mission.perigee, mission.apogee))
    words = said("verdict/circle", height=low) if low == high else ""
    words = words or said("verdict/ellipse", perigee=low, apogee=high)
    inclination = mission.inclination.value if mission.inclination is not None else None
    if inclination is None and matter.closed.flight is not None:
        inclination = matter.closed.flight.orbit.inclination
    if inclination is not None:
        words += said("verdict/inclined", inclination=in_people_units(inclination, "rad"))
    return words


def _tiles(matter: Matter, facts: dict[str, str]) -> list[tuple[str, str]]:
    vehicle = matter.closed.vehicle
    made = [("payload", facts["payload"]), ("lift_off_mass", facts["lift_off_mass"])]
    weight = vehicle.lift_off_mass * STANDARD_GRAVITY
    if weight > 0.0:
        ratio = vehicle.lift_off_thrust(SEA_LEVEL_PRESSURE) / weight
        step = next((p for p in matter.order.placed if p.step.symbol == "F/W"), None)
        words = readable(ratio, 3)
        made.append(("thrust_to_weight", link(step.anchor, words) if step else words))
    made += [(key, facts[key]) for key in ("ideal", "lost") if key in facts]
    height = in_people_units(matter.geometry.height, "m", 3)
    made.append(("height", link("whole", height)))
    return made
