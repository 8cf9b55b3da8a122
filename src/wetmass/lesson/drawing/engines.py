"""Engines under a stage, seen from below."""

from __future__ import annotations

from wetmass.lesson.drawing import marks
from wetmass.lesson.drawing.svg import Drawing
from wetmass.lesson.words import said as worded
from wetmass.record.geometry import StageGeometry
from wetmass.record.say import said

ACROSS = 190.0  # of the picture's units


def engines(laid: StageGeometry, name: str) -> Drawing:
    """Exits in their places within the circle of the stage, with both diameters."""
    widest = max(laid.diameter, laid.engines_across)
    scale = ACROSS / widest
    drawing = Drawing(name, worded("drawn/engines_title", part=laid.name), words(laid), scale)
    middle = ACROSS / 2.0
    drawing.circle(middle, middle, laid.diameter / 2.0 * scale, "disc")
    for plan in laid.engines:
        for x, y in plan.positions:
            drawing.circle(middle + x * scale, middle - y * scale, plan.exit_diameter / 2.0 * scale, "bell")
            drawing.circle(
                middle + x * scale, middle - y * scale, 0.3 * plan.exit_diameter / 2.0 * scale, "ring"
            )
    if laid.engines_across < laid.diameter * 0.97 and sum(plan.count for plan in laid.engines) > 1:
        drawing.circle(middle, middle, laid.engines_across / 2.0 * scale, "room")
    half = laid.diameter / 2.0 * scale
    marks.across(drawing, ACROSS + 12.0, middle - half, middle + half, said(laid.diameter, "m", 3))
    return drawing


def words(laid: StageGeometry) -> str:
    """What the picture shows."""
    groups = worded("drawn/and").join(
        worded("drawn/exits" if plan.count > 1 else "drawn/exit", count=plan.count, group=plan.group,
               across=said(plan.exit_diameter, "m", 3))
        for plan in laid.engines
    )  # fmt: skip
    return worded(
        "drawn/engines_words", groups=groups, across=said(laid.engines_across, "m", 3),
        diameter=said(laid.diameter, "m", 3),
    )  # fmt: skip
