"""Which frames there are, in order, and how each is chosen by name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase
from typing import Literal

from wetmass.lesson.content import Lesson
from wetmass.lesson.content.blocks import Block, Judgement, Paragraph, Part, Picture, Pictures, Table, Working

ROWS = 13  # of a table in one frame


@dataclass(frozen=True, slots=True)
class Frame:
    """One frame."""

    number: int
    name: str  # "title", "tanks", "step-3", "whole"
    topic: str  # id of the section; "" for the title
    kicker: str  # what it belongs to, in words
    shows: Block | Literal["title", "topic"]

    @property
    def stem(self) -> str:
        """What its file is called, without an ending.

        >>> Frame(7, "step-3", "tanks", "", "title").stem
        '007-step-3'
        """
        return f"{self.number:03d}-{self.name}"


def frames_of(lesson: Lesson, only: Sequence[str] = ()) -> list[Frame]:
    """All frames in order, or those that `only` names; numbers stay those of the whole lesson.

    only  names of frames or of sections, "*" standing for anything: "step-3", "tanks", "chart-*"

    Raises ValueError for a name that nothing has, with the names there are.
    """
    made = [replace(one, number=i) for i, one in enumerate(_every(lesson), 1)]
    if not only:
        return made
    for name in only:
        if not any(_named(one, name) for one in made):
            known = ", ".join(dict.fromkeys(one.name for one in made))
            raise ValueError(f'no frame and no section is called "{name}"; there are {known}')
    return [one for one in made if any(_named(one, name) for name in only)]


def _named(one: Frame, name: str) -> bool:
    return fnmatchcase(one.name, name) or one.topic == name


def _every(lesson: Lesson) -> Iterator[Frame]:
    yield Frame(0, "title", "", "", "title")
    for section in lesson.sections:
        yield Frame(0, section.name, section.name, section.heading, "topic")
        part = ""
        for block in section.blocks:
            if isinstance(block, Part):
                part = block.words
                continue
            kicker = f"{section.heading}  ·  {part}" if part and _of_part(block) else section.heading
            for name, shown in _parts(block, section.name):
                yield Frame(0, name, section.name, kicker, shown)


def _of_part(block: Block) -> bool:
    return not isinstance(block, Working) or block.in_part


def _parts(block: Block, topic: str) -> Iterator[tuple[str, Block]]:
    """A block as what fits into one frame each."""
    if isinstance(block, Working):
        yield block.placed.anchor, block
    elif isinstance(block, Pictures):
        for picture in block.pictures:
            yield picture.name, _alone(picture)
    elif isinstance(block, Table):
        pieces = -(-len(block.rows) // ROWS)
        each = -(-len(block.rows) // max(pieces, 1))
        for i in range(pieces):
            rows = block.rows[i * each : (i + 1) * each]
            marked = tuple(row - i * each for row in block.marked if i * each <= row < (i + 1) * each)
            name = block.name if pieces == 1 else f"{block.name}-{i + 1}"
            yield name, replace(block, rows=rows, marked=marked)
    elif isinstance(block, Picture):
        yield block.name, _alone(block)
    elif isinstance(block, Judgement):
        rule = re.sub(r"[^\w.]+", "-", block.finding.rule).strip("-")
        yield f"finding-{rule}", block
    elif isinstance(block, Paragraph):
        yield f"words-{topic}", block


def _alone(picture: Picture) -> Picture:
    return replace(picture, make=picture.alone) if picture.alone is not None else picture
