"""What it carries and what holds it back, how sure that is, and cautions."""

from __future__ import annotations

from wetmass.findings.units import as_typed
from wetmass.lesson.content.blocks import Block, Column, Judgement, Paragraph, Picture, Table
from wetmass.lesson.content.inline import Link, Marked, Words
from wetmass.lesson.content.matter import Matter
from wetmass.lesson.words import said
from wetmass.record.closed import Held, SpreadOfAnswer
from wetmass.record.finding import Weight
from wetmass.record.say import said as in_people_units
from wetmass.record.say import sentence


def answer(matter: Matter) -> list[Block]:
    """Requirements and limits, and what came out."""
    rows = []
    for one in matter.closed.held:
        asked, got = as_typed(matter.concept, one)
        verdict = "broken" if not one.met else "binds" if one.active else "kept"
        rows.append(
            (
                (one.what,), (f"{one.relation} {asked}",), _linked(matter, one, got),
                (Marked(verdict, said(f"tables/{verdict}")),),
            )
        )  # fmt: skip
    if not rows:
        return []
    columns = (
        Column(said("tables/held_what")), Column(said("tables/held_asked"), True),
        Column(said("tables/held_got"), True), Column(said("tables/held_verdict")),
    )  # fmt: skip
    return [Table("held", said("tables/held"), columns, tuple(rows))]


def _linked(matter: Matter, one: Held, got: str) -> Words:
    made = matter.order.made(one.got, "" if one.unit == "1" else one.unit)
    anchor = made.anchor if made else "events" if matter.closed.flight is not None else ""
    return (Link(anchor, got),) if anchor else (got,)


def sure(matter: Matter) -> list[Block]:
    """How far the answer may be off by the guesses, and all findings but cautions."""
    listed = [Judgement(one) for one in matter.closed.findings if one.weight is not Weight.CAUTION]
    return [*_spread(matter.closed.spread), *listed]


def _spread(spread: SpreadOfAnswer | None) -> list[Block]:
    from wetmass.lesson import charts

    if spread is None or not spread.sigma > 0.0:
        return []
    told = said(
        "sure/spread", aim=spread.aim, value=in_people_units(spread.value, "kg"),
        sigma=in_people_units(spread.sigma, "kg", 2),
    )  # fmt: skip
    words = sentence(charts.guesses_words(spread))
    made: list[Block] = [
        Paragraph((told,)),
        Picture("bell", said("sure/bell"), words, said("sure/bell"), lambda: charts.bell(spread), "chart"),
    ]
    if len(spread.parts) > 1:  # one bar alone says nothing that the sentence does not
        made.append(
            Picture(
                "tornado", said("sure/tornado"), words, said("sure/tornado"), lambda: charts.guesses(spread),
                "chart", alone=lambda: charts.guesses(spread, beside=True),
            )
        )  # fmt: skip
    return made


def caution(matter: Matter) -> list[Block]:
    """Cautions."""
    return [
        Paragraph((f"{sentence(one.got)} {sentence(one.remedy)}",), "caution")
        for one in matter.closed.findings
        if one.weight is Weight.CAUTION
    ]
