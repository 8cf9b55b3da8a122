"""One step of the working on the page: why, letters, numbers, result, with what, and the source."""

from __future__ import annotations

from html import escape

from wetmass.lesson.content.blocks import Working
from wetmass.lesson.content.results import in_people_units, needs_aside
from wetmass.lesson.mathematics import Lines, MathML
from wetmass.lesson.mathematics.mathml import math
from wetmass.lesson.mathematics.numbers import CONSTANT_FIGURES
from wetmass.lesson.page.markup import line, link, paragraph, text
from wetmass.lesson.words import said
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.say import sentence
from wetmass.record.step import Step


def working(block: Working) -> str:
    """The step as HTML."""
    one, placed = block.placed.step, block.placed
    level = 4 if block.in_part else 3
    lines = Lines.of(one)
    hand = f"<strong>{said('page/by_hand')}.</strong> {line(block.hand)}" if block.hand else ""
    parts = [
        f'<h{level}><a class="no" href="#{placed.anchor}">{said("page/step")}&nbsp;{placed.number}</a> '
        f"{text(sentence(one.words).rstrip('.'))}</h{level}>",
        paragraph(text(placed.kind.why), "why") if placed.first else "",
        '<div class="worked">',
        _equation(one, lines),
        _with(block, lines),
        "</div>",
        paragraph(text(sentence(one.remark)), "remark"),
        paragraph(hand, "hand"),
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
    aside = f' <span class="aside">({escape(in_people_units(one))})</span>' if needs_aside(one) else ""
    rows.append(
        f'<div>{head}</div><div class="result">{math("<mo>=</mo>" + lines.result)}{aside}</div>'
    )  # fmt: skip
    label = escape(one.words, quote=True)
    return f'<div class="eq" role="group" tabindex="0" aria-label="{label}">{"".join(rows)}</div>'


def _pieces(pieces: tuple[str, ...]) -> str:
    first, *rest = pieces
    return "<wbr>".join([math(f"<mo>=</mo>{first}"), *(math(piece) for piece in rest)])


def _with(block: Working, lines: Lines) -> str:
    """What each letter is; its value too where no line shows it; and the step it came from."""
    letters = MathML()
    items = []
    for used in block.used:
        put = used.put
        words = text(put.words)
        if not lines.numbers:
            words += f", {math(letters.quantity(put.value, put.unit))}"
        made = used.made
        where = f" ({link(made.anchor, said('page/from_step', number=made.number))})" if made else ""
        items.append(f"<li>{math(letters.letter(put.symbol))} <span>{words}{where}</span></li>")
    if lines.gravity and not any(used.put.symbol == "g₀" for used in block.used):
        value = math(letters.quantity(STANDARD_GRAVITY, "m/s²", CONSTANT_FIGURES))
        items.append(f"<li>{math(letters.letter('g₀'))} <span>{said('page/gravity')}, {value}</span></li>")
    return f'<ul class="with">{"".join(items)}</ul>' if items else ""
