"""Blocks of a lesson as HTML."""

from __future__ import annotations

from html import escape

from wetmass.lesson.content.blocks import (
    Block,
    Judgement,
    Paragraph,
    Part,
    Picture,
    Pictures,
    Table,
    Working,
)
from wetmass.lesson.page.markup import line, paragraph, text
from wetmass.lesson.page.working import working
from wetmass.lesson.words import said
from wetmass.record.say import sentence


def block(one: Block) -> str:
    """Any block."""
    if isinstance(one, Paragraph):
        return paragraph(line(one.words), one.kind)
    if isinstance(one, Part):
        return f"<h3>{text(one.words)}</h3>"
    if isinstance(one, Working):
        return working(one)
    if isinstance(one, Table):
        return table(one)
    if isinstance(one, Picture):
        return picture(one)
    if isinstance(one, Pictures):
        return pictures(one)
    return judgement(one)


def table(one: Table) -> str:
    """A table with a caption and a heading for each column and row."""
    top = "".join(
        f'<th scope="col"{" class=n" if head.number else ""}>{escape(head.words)}</th>'
        for head in one.columns
    )
    body = []
    for place, row in enumerate(one.rows):
        first = " class=n" if one.columns[0].number else ""
        cells = [f'<th scope="row"{first}>{line(row[0])}</th>']
        cells += [
            f"<td{' class=n' if head.number else ''}>{line(cell)}</td>"
            for cell, head in zip(row[1:], one.columns[1:], strict=True)
        ]
        strong = ' class="sum"' if place in one.marked else ""
        body.append(f'<tr id="{one.name}-{place + 1}"{strong}>{"".join(cells)}</tr>')
    return (
        f'<div class="wide" role="region" tabindex="0" aria-label="{escape(one.caption)}">'
        f'<table id="{one.name}"><caption>{escape(one.caption)}</caption><thead><tr>{top}</tr></thead>'
        f"<tbody>{''.join(body)}</tbody></table></div>"
    )


def picture(one: Picture) -> str:
    """A picture with what is to be seen in it."""
    caption = f"<figcaption>{text(one.caption)}</figcaption>" if one.caption else ""
    return f'<figure class="{one.kind}">{_framed(one)}{caption}</figure>'


def _framed(one: Picture) -> str:
    label = escape(one.caption or one.title)
    return f'<div class="wide" role="region" tabindex="0" aria-label="{label}">{one.svg()}</div>'


def pictures(one: Pictures) -> str:
    """Several side by side, with one caption or one for each."""
    if not one.caption:
        return f'<div class="row">{"".join(map(picture, one.pictures))}</div>'
    drawn = "".join(each.svg() for each in one.pictures)
    moving = ' data-moments="1" tabindex="0" role="group" aria-label="{}"'.format(
        escape(said("page/moments"))
    )  # fmt: skip
    return (
        f'<figure id="{one.name}"><div class="row charts"'
        f"{moving if one.pictures[0].axes else ''}>{drawn}</div>"
        f"<figcaption>{text(one.caption)}</figcaption></figure>"
    )


def judgement(one: Judgement) -> str:
    """A finding."""
    finding = one.finding
    name = f"{finding.part}: {finding.rule}" if finding.part else finding.rule
    against = (
        f" {said('page/accepted')}: {text(sentence(finding.accepted))}" if finding.accepted else ""
    )  # fmt: skip
    return (
        f'<article class="finding {finding.weight.value}"><h3><span class="badge">'
        f"{text(said(f'weights/{finding.weight.value}'))}</span> {text(name)}</h3>"
        f"<p>{text(sentence(finding.got))}{against} {text(sentence(finding.remedy))}</p>"
        f'<p class="source">{said("page/source")}: {text(finding.source)}</p></article>'
    )
