"""Marks that give a picture its measure: dimension lines, a person, a scale bar, labels with leaders."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wetmass.lesson.drawing.svg import SIZE, SMALL, Drawing
from wetmass.lesson.words import said as worded
from wetmass.record.system import METRIC, System

PERSON = 1.8  # m
LINE = 15.5  # between two lines of text
TICK = 4.0


@dataclass(frozen=True, slots=True)
class Label:
    """A label: its first line in bold, and where its leader points."""

    lines: tuple[str, ...]
    x: float
    y: float


def labels(drawing: Drawing, wanted: Sequence[Label], x: float, top: float, bottom: float) -> None:
    """Labels in a column at x, each as near what it points to as the others let it, none overlapping."""
    order = sorted(wanted, key=lambda one: one.y)
    gap = 7.0
    high = [LINE * len(one.lines) + gap for one in order]
    at = [one.y - h / 2.0 for one, h in zip(order, high, strict=True)]
    for i in range(len(at)):  # downwards, then back up from the bottom
        at[i] = max(at[i], top if i == 0 else at[i - 1] + high[i - 1])
    for i in reversed(range(len(at))):
        at[i] = min(at[i], (bottom if i == len(at) - 1 else at[i + 1]) - high[i])
    for one, y, h in zip(order, at, high, strict=True):
        middle = y + h / 2.0
        drawing.line(((one.x, one.y), (x - 14.0, middle), (x - 5.0, middle)), "lead")
        drawing.circle(one.x, one.y, 1.8, "man")
        for i, text in enumerate(one.lines):
            base = y + gap / 2.0 + 11.5 + i * LINE
            drawing.text(x, base, text, bold=i == 0, quiet=i > 0, size=SIZE if i == 0 else SMALL)


def upright(drawing: Drawing, x: float, low: float, high: float, text: str) -> None:
    """A height between two levels of the picture (y downwards), the figure beside the line, left of it."""
    drawing.line(((x - TICK, low), (x + TICK, low)), "dim")
    drawing.line(((x - TICK, high), (x + TICK, high)), "dim")
    drawing.line(((x, low), (x, high)), "dim")
    drawing.text(x - 6.0, (low + high) / 2.0 + 4.5, text, anchor="end", size=SMALL)


def across(drawing: Drawing, y: float, left: float, right: float, text: str) -> None:
    """A width, the figure below the line."""
    drawing.line(((left, y - TICK), (left, y + TICK)), "dim")
    drawing.line(((right, y - TICK), (right, y + TICK)), "dim")
    drawing.line(((left, y), (right, y)), "dim")
    drawing.text((left + right) / 2.0, y + 16.0, text, anchor="middle", size=SMALL)


def room_for_person(drawing: Drawing) -> float:
    """From the middle of a person to whatever stands beside."""
    return 10.0 + 0.2 * PERSON * drawing.scale


def person(drawing: Drawing, x: float, ground: float) -> None:
    """Somebody 1.8 m tall, feet on the ground at x."""
    s = drawing.scale * PERSON
    drawing.circle(x, ground - 0.92 * s, 0.075 * s, "man")
    body = [
        (-0.13, 0.83), (0.13, 0.83), (0.17, 0.47), (0.12, 0.46), (0.10, 0.72), (0.085, 0.0), (0.01, 0.0),
        (0.0, 0.44), (-0.01, 0.0), (-0.085, 0.0), (-0.10, 0.72), (-0.12, 0.46), (-0.17, 0.47),
    ]  # fmt: skip
    drawing.polygon([(x + a * s, ground - b * s) for a, b in body], "man", words=worded("drawn/person"))


def bar(drawing: Drawing, x: float, y: float, longest: float, units: System = METRIC) -> None:
    """A scale bar of a round length, at most so many units of the picture long."""
    length = units.length * round_length(longest / drawing.scale / units.length)
    end = x + length * drawing.scale
    drawing.line(((x, y - TICK), (x, y), (end, y), (end, y - TICK)), "ground")
    drawing.text(x, y + 15.0, units.said(length, "m"), size=SMALL)


def round_length(most: float) -> float:
    """The longest of 1, 2, 5, 10 … that is not above `most`.

    >>> round_length(7.3), round_length(0.4)
    (5.0, 0.2)
    """
    best = 1e-3
    for power in range(-3, 8):
        for digit in (1, 2, 5):
            length = float(f"{digit}e{power}")
            best = length if length <= most else best
    return best
