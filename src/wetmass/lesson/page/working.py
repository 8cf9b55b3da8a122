"""One step of the working on the page: why, letters, numbers, result, with what, and the source."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape

from wetmass.lesson.mathematics import Lines, MathML
from wetmass.lesson.mathematics.mathml import math
from wetmass.lesson.mathematics.numbers import CONSTANT_FIGURES
from wetmass.lesson.page.markup import link, paragraph, sentence, step_words, text
from wetmass.lesson.page.order import Order, Placed
from wetmass.lesson.words import said
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.say import said as in_people_units
from wetmass.record.step import Step

_THIN = 0.1  # m: walls and the like are said in millimetres


def step(placed: Placed, order: Order, facts: Mapping[str, str], level: int) -> str:
    """The step as HTML.

    facts  numbers for the sentence about the hand estimate, linked, by name
    level  of its heading
    """
    one = placed.step
    lines = Lines.of(one)
    parts = [
        f'<h{level}><a class="no" href="#{placed.anchor}">{said("page/step")}&nbsp;{placed.number}</a> '
        f"{text(sentence(one.words).rstrip('.'))}</h{level}>",
        paragraph(text(placed.kind.why), "why") if placed.first else "",
        _equation(one, lines),
        _with(placed, lines, order),
        paragraph(text(sentence(one.remark)), "remark"),
        _by_hand(placed, facts),
        f'<p class="source">{said("page/source")}: {text(one.source)}</p>',
    ]
    return f'<article class="step" id="{placed.anchor}">{"".join(parts)}</article>'


def _equation(one: Step, lines: Lines) -> str:
    rows = []
    head = math(lines.symbol)
    for pieces in (lines.letters, lines.numbers):
        if pieces:
            rows.append(f"<div>{head}</div><div>{_pieces(pieces)}</div>")
            head = ""
    other = _in_people_units(one)
    aside = (
        f' <span class="aside">({escape(other)})</span>' if one.unit and not _same_text(one, other) else ""
    )
    rows.append(
        f'<div>{head}</div><div class="result">{math("<mo>=</mo>" + lines.result)}{aside}</div>'
    )  # fmt: skip
    label = escape(one.words, quote=True)
    return f'<div class="eq" role="group" tabindex="0" aria-label="{label}">{"".join(rows)}</div>'


def _pieces(pieces: tuple[str, ...]) -> str:
    first, *rest = pieces
    return "<wbr>".join([math(f"<mo>=</mo>{first}"), *(math(piece) for piece in rest)])


def _in_people_units(one: Step) -> str:
    if one.unit == "m" and abs(one.result) < _THIN:
        return in_people_units(1e3 * one.result, "mm")
    return in_people_units(one.result, one.unit)


def _same_text(one: Step, other: str) -> bool:
    return other.replace("\u00a0", " ").endswith(f" {one.unit}")


def _with(placed: Placed, lines: Lines, order: Order) -> str:
    """What each letter is; its value too where no line shows it; and the step it came from."""
    letters = MathML()
    items = []
    for put in placed.step.inputs:
        words = text(put.words)
        if not lines.numbers:
            words += f", {math(letters.quantity(put.value, put.unit))}"
        made = order.source_of(put, placed)
        where = f" ({link(made.anchor, step_words(made.number))})" if made else ""
        items.append(f"<li>{math(letters.letter(put.symbol))} {words}{where}</li>")
    if lines.gravity and not any(put.symbol == "g₀" for put in placed.step.inputs):
        value = math(letters.quantity(STANDARD_GRAVITY, "m/s²", CONSTANT_FIGURES))
        items.append(f"<li>{math(letters.letter('g₀'))} {said('page/gravity')}, {value}</li>")
    return f'<ul class="with">{"".join(items)}</ul>' if items else ""


def _by_hand(placed: Placed, facts: Mapping[str, str]) -> str:
    if not placed.first or not placed.kind.hand:
        return ""
    try:
        told = text(placed.kind.hand).format_map(facts)
    except KeyError:  # a number that this result does not have
        return ""
    return f'<p class="hand"><strong>{said("page/by_hand")}.</strong> {told}</p>'
