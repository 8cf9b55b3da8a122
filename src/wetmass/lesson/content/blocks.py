"""The blocks a lesson is made of.  They hold what is shown; page, paper and frames say how."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from wetmass.lesson.charts.over_time import Axes
from wetmass.lesson.content.inline import Words
from wetmass.lesson.content.order import Placed
from wetmass.lesson.drawing.svg import Drawing
from wetmass.record.finding import Finding
from wetmass.record.step import Put


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Words in a paragraph."""

    words: Words
    kind: str = ""  # "", "caution"


@dataclass(frozen=True, slots=True)
class Part:
    """A heading: from here on it is about one part of the vehicle."""

    words: str


@dataclass(frozen=True, slots=True)
class Used:
    """A number put into a step, and the step that made it."""

    put: Put
    made: Placed | None


@dataclass(frozen=True, slots=True)
class Working:
    """One step of the working."""

    placed: Placed
    used: tuple[Used, ...]
    hand: Words  # what the hand estimate says; () for none
    in_part: bool = False  # stands under the heading of a part


@dataclass(frozen=True, slots=True)
class Column:
    """The head of a column of a table."""

    words: str
    number: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table; the first cell of a row heads it."""

    name: str
    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Words, ...], ...]
    marked: tuple[int, ...] = ()  # rows in bold


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing or a chart, and what is to be seen in it."""

    name: str
    title: str
    words: str  # for those who cannot see it
    caption: str
    make: Callable[[], Any]  # a Drawing, or an altair chart
    kind: str = ""  # "tall", "chart", "wide"
    axes: Axes | None = None  # of a chart against time, in which a cursor can be moved
    alone: Callable[[], Any] | None = None  # drawn otherwise where it fills a screen by itself

    @property
    def drawn(self) -> bool:
        """Whether it is a drawing of ours; else a chart."""
        return self.kind != "chart"

    def svg(self, *, alone: bool = False, colours: dict[str, str] | None = None) -> str:
        """The picture as SVG: colours as variables for the page, or fixed for a file of its own."""
        from wetmass.lesson.look import fixed

        if self.kind == "chart":
            from altair.utils.schemapi import debug_mode

            with debug_mode(False):  # valid by test; looking again takes longer than all else
                made = self.make()
        else:
            made = self.make()
        if isinstance(made, Drawing):
            text = made.svg(alone=alone)
        else:
            from wetmass.lesson import charts

            text = charts.svg(made, self.name, self.title, self.words)
            if self.axes is not None and colours is None:
                a = self.axes
                numbers = " ".join(f"{value:.6g}" for value in (a.wide, a.high, a.until, a.low, a.top))
                text = text.replace("<svg ", f'<svg data-axes="{numbers}" data-unit="{a.unit}" ', 1)
        return text if colours is None else fixed(text, colours)


@dataclass(frozen=True, slots=True)
class Pictures:
    """Several pictures that belong together, under one caption ("" where each has its own)."""

    name: str
    pictures: tuple[Picture, ...]
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Judgement:
    """A finding."""

    finding: Finding


Block = Paragraph | Part | Working | Table | Picture | Pictures | Judgement
