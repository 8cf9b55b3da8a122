"""The lesson on paper."""

from __future__ import annotations

from wetmass.lesson.content import Lesson
from wetmass.lesson.look import LIGHT
from wetmass.lesson.paper.blocks import Writer
from wetmass.lesson.paper.typeset import colours, compiled, line, quoted, template
from wetmass.lesson.words import catalogue, said

STANDARD = "ua-1"  # PDF/UA-1: tagged, every picture and formula with words, a title, a language


def pdf(lesson: Lesson, *, file: str = "", version: str = "") -> bytes:
    """A lesson as a PDF: A4, tagged (PDF/UA-1), with an outline and page numbers.

    file     name of the concept's file, for the last page
    version  of the program
    """
    source, writer = written(lesson, file=file, version=version)
    made = compiled(source, writer.pictures, format="pdf", pdf_standards=STANDARD)
    assert isinstance(made, bytes)
    return made


def written(lesson: Lesson, *, file: str = "", version: str = "") -> tuple[str, Writer]:
    """The Typst source, and the writer with its pictures."""
    writer = Writer(LIGHT)
    tiles = "".join(f"({quoted(words)}, {line((number,))}), " for words, number in lesson.tiles)
    portrait = writer.drawn(lesson.portrait)
    foot = [said("page/rounded"), said("page/made_with", version=version, file=file or lesson.name)]
    parts = [
        colours(LIGHT),
        f"#let title = {quoted(lesson.title)}\n#let language = {quoted(catalogue()['language'])}\n"
        f"#let said = (step: {quoted(said('page/step'))}, hand: {quoted(said('page/by_hand'))}, source: "
        f"{quoted(said('page/source'))}, contents: {quoted(said('page/contents'))}, name: {quoted(lesson.name)})\n",
        template("paper.typ"),
        f"#show: paper\n#cover(name: {quoted(lesson.name)}, story: {quoted(lesson.story)}, verdict: "
        f"{line(lesson.verdict)}, closes: {str(lesson.closes).lower()}, tiles: ({tiles}), portrait: {portrait})\n",
    ]
    for one in lesson.sections:
        parts.append(
            f"#topic(name: {quoted(one.name)}, words: {quoted(one.heading)}, lead: {line(one.lead)})\n"
        )
        parts += [writer.block(each) for each in one.blocks]
    parts.append(f"#foot(({''.join(f'{line(words)}, ' for words in foot)}))\n")
    return "".join(parts), writer
