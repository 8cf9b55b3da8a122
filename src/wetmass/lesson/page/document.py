"""The page as a whole: head, verdict, contents, sections in teaching order, foot."""

from __future__ import annotations

import base64
import hashlib
from html import escape
from importlib.resources import files

from wetmass.lesson.content import Lesson, Section
from wetmass.lesson.page.blocks import block
from wetmass.lesson.page.markup import line, paragraph, text
from wetmass.lesson.page.style import style
from wetmass.lesson.words import catalogue, said

_POLICY = (
    "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; "
    "script-src 'sha256-{}'"
)


def page(lesson: Lesson, *, file: str = "", version: str = "") -> str:
    """A lesson as one HTML file.

    file     name of the concept's file, for the foot of the page
    version  of the program
    """
    contents = "".join(f'<li><a href="#{one.name}">{text(one.heading)}</a></li>' for one in lesson.sections)
    script = files("wetmass.lesson").joinpath("assets/page.js").read_text(encoding="utf-8")
    mark = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    return (
        f'<!DOCTYPE html>\n<html lang="{catalogue()["language"]}"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY.format(mark)}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(lesson.title)}</title><style>{style()}</style></head><body>"
        f'<a class="skip" href="#lesson">{said("page/skip")}</a>'
        f'<div class="frame"><header class="top" id="top">{_head(lesson)}</header>'
        f'<div class="body"><nav class="contents" aria-labelledby="contents"><h2 id="contents">'
        f"{said('page/contents')}</h2><ol>{contents}</ol></nav>"
        f'<main id="lesson">{"".join(map(_section, lesson.sections))}</main></div>'
        f"<footer><p>{text(said('page/rounded'))}</p>"
        f"<p>{text(said('page/made_with', version=version, file=file or lesson.name))}</p>"
        f'<p><a href="#top">{said("page/top")}</a></p></footer></div><script>{script}</script></body></html>\n'
    )


def _section(one: Section) -> str:
    return (
        f'<section id="{one.name}" aria-labelledby="{one.name}-heading"><h2 id="{one.name}-heading">'
        f"{text(one.heading)}</h2>{paragraph(text(one.lead), 'lead')}{''.join(map(block, one.blocks))}</section>"
    )


def _head(lesson: Lesson) -> str:
    kind = "verdict" if lesson.closes else "verdict fails"
    tiles = "".join(
        f"<div><dt>{text(words)}</dt><dd>{line((number,))}</dd></div>" for words, number in lesson.tiles
    )
    return (
        f'<div class="said"><h1>{text(lesson.name)}</h1>{paragraph(text(lesson.story), "story")}'
        f'<p class="{kind}">{line(lesson.verdict)}</p><dl class="tiles">{tiles}</dl></div>'
        f'<div class="portrait">{lesson.portrait.svg()}</div>'
    )
