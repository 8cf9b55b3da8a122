"""Frames as PNG or SVG, set by Typst."""

from __future__ import annotations

from collections.abc import Sequence

from wetmass.lesson.content import Lesson
from wetmass.lesson.frames.frame import Frame
from wetmass.lesson.look import DARK, LIGHT
from wetmass.lesson.paper.blocks import Writer
from wetmass.lesson.paper.typeset import colours, compiled, line, quoted, template
from wetmass.lesson.words import catalogue, said

SIZE = (1920, 1080)  # pixels
HIGH = 540.0  # points of a frame, whatever its pixels
SMALLEST, LARGEST = 240, 8192  # pixels


def pngs(
    lesson: Lesson, frames: Sequence[Frame], *, dark: bool = True, size: tuple[int, int] = SIZE
) -> list[bytes]:
    """Each frame as a PNG of `size` pixels.  Raises ValueError for a size that no screen has."""
    return _made(lesson, frames, dark, size, "png", 72.0 * size[1] / HIGH)


def svgs(
    lesson: Lesson, frames: Sequence[Frame], *, dark: bool = True, size: tuple[int, int] = SIZE
) -> list[bytes]:
    """Each frame as an SVG, letters as outlines, so that it looks the same everywhere."""
    return _made(lesson, frames, dark, size, "svg", None)


def _made(
    lesson: Lesson, frames: Sequence[Frame], dark: bool, size: tuple[int, int], format: str, ppi: float | None
) -> list[bytes]:
    wide, high = size
    if not (SMALLEST <= wide <= LARGEST and SMALLEST <= high <= LARGEST):
        raise ValueError(f"a size of {SMALLEST} to {LARGEST} pixels each way, got {wide} × {high}")
    if not frames:
        return []
    source, writer = written(lesson, frames, dark=dark, shape=wide / high)
    made = compiled(source, writer.pictures, format=format, **({"ppi": ppi} if ppi else {}))
    return made if isinstance(made, list) else [made]  # type: ignore[list-item]


def written(
    lesson: Lesson, frames: Sequence[Frame], *, dark: bool, shape: float = 16.0 / 9.0
) -> tuple[str, Writer]:
    """The Typst source of these frames, and the writer with its pictures."""
    look = DARK if dark else LIGHT
    writer = Writer(look, links=False)
    parts = [
        colours(look),
        f"#let title = {quoted(lesson.title)}\n#let language = {quoted(catalogue()['language'])}\n"
        f"#let said = (step: {quoted(said('page/step'))}, hand: {quoted(said('page/by_hand'))}, source: "
        f"{quoted(said('page/source'))}, name: {quoted(lesson.name)})\n#let first = {quoted(frames[0].kicker)}\n#let shape = {shape:.6f}\n",
        template("frame.typ"),
        "#show: frames\n",
    ]
    leads = {section.name: section for section in lesson.sections}
    for i, one in enumerate(frames):
        parts.append(f"#kicker.update({quoted(one.kicker)})\n")  # the head of a page is set as it begins
        parts.append("#pagebreak()\n" if i else "")
        parts.append(f"#counter(page).update({one.number})\n")
        if one.shows == "title":
            tiles = "".join(
                f"({quoted(words)}, {line((number,), links=False)}), " for words, number in lesson.tiles
            )
            parts.append(
                f"#cover(name: {quoted(lesson.name)}, story: {quoted(lesson.story)}, verdict: "
                f"{line(lesson.verdict, links=False)}, closes: {str(lesson.closes).lower()}, "
                f"tiles: ({tiles}), portrait: {writer.drawn(lesson.portrait)})\n"
            )
        elif one.shows == "topic":
            section = leads[one.topic]
            parts.append(f"#topic(words: {quoted(section.heading)}, lead: {line(section.lead)})\n")
        else:
            parts.append(writer.block(one.shows))
    return "".join(parts), writer
