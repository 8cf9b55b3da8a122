"""How sure the answer is, to first order: the bell of what it may be, and a bar for each guess below it."""

from __future__ import annotations

import math
from typing import Any

from wetmass.lesson.charts.budget import WIDE, bars_under_words
from wetmass.lesson.look import LIGHT
from wetmass.lesson.words import said as worded
from wetmass.record.closed import SpreadOfAnswer
from wetmass.record.digits import readable
from wetmass.record.say import said

HIGH = 120
_REACH = 3.2  # standard deviations to either side


def guesses(spread: SpreadOfAnswer, *, beside: bool = False) -> Any:
    """A bar a guess, the longest on top: what one standard deviation of it does; words above or `beside`."""
    import altair as alt

    rows = []
    for one in sorted(spread.parts, key=lambda guess: -abs(guess.effect)):
        sign = "+" if one.effect > 0.0 else ""
        rows.append({
            "zero": 0.0, "size": abs(one.effect), "paint": LIGHT["one" if one.effect > 0.0 else "two"],
            "text": f"{one.where} ({one.stated}): {sign}{said(one.effect, 'kg', 3)}",
        })  # fmt: skip
    return bars_under_words(alt, rows, "zero", "size", beside)


def bell(spread: SpreadOfAnswer) -> Any:
    """How likely each answer is, with the band that holds two of three and the one that holds 95 of 100."""
    import altair as alt

    points = []
    for i in range(161):
        z = _REACH * (i / 80.0 - 1.0)
        points.append({"x": spread.value + z * spread.sigma, "y": math.exp(-0.5 * z * z), "z": abs(z)})
    low, high = points[0]["x"], points[-1]["x"]
    scale = alt.Scale(domain=[low, high], nice=False)
    ticks = [spread.value + z * spread.sigma for z in (-2, -1, 0, 1, 2)]
    x = alt.X("x:Q", title=None, scale=scale, axis=None)
    y = alt.Y("y:Q", axis=None, scale=alt.Scale(domain=[-0.3, 1.05], nice=False))
    base = alt.Chart(alt.Data(values=tuple(points)))
    layers = [
        base.transform_filter(f"datum.z <= {most}").mark_area(color=LIGHT["one"], opacity=strength).encode(
            x=x, y=y, y2=alt.datum(0.0)
        )
        for most, strength in ((2.0, 0.18), (1.0, 0.35))
    ]  # fmt: skip
    layers.append(base.mark_line(color=LIGHT["one"], strokeWidth=2).encode(x=x, y=y))
    marks = [{"x": at, "y": -0.12, "words": said(at, "kg", 3)} for at in ticks]
    layers.append(
        alt.Chart(alt.Data(values=tuple(marks))).mark_text(color=LIGHT["ink"], fontSize=12, baseline="top").encode(
            x=x, y=y, text="words:N"
        )
    )  # fmt: skip
    return alt.layer(*layers).properties(width=WIDE, height=HIGH)


def words(spread: SpreadOfAnswer) -> str:
    """What the pictures tell."""
    return worded(
        "sure/told", aim=spread.aim, value=said(spread.value, "kg"), sigma=said(spread.sigma, "kg", 2),
        share=readable(100.0 * spread.sigma / spread.value, 2),
        guesses="; ".join(f"{one.where} {said(one.effect, 'kg', 3)}" for one in spread.parts),
    )  # fmt: skip
