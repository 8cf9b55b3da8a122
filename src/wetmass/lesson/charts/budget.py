"""Where the ideal speed went: a bar for each stage's gain, then what is taken away, down to what is left."""

from __future__ import annotations

from typing import Any

from wetmass.lesson.look import LIGHT, SERIES
from wetmass.lesson.words import said as worded
from wetmass.record.flight import Flight
from wetmass.record.system import METRIC, System

WIDE, STEP, ROW = 430, 36, 25


def rows(flight: Flight, orbit: bool = True) -> list[dict[str, Any]]:
    """Bars from the top down: {"words", "low", "high", "value", "kind"}; each begins where the last ended."""
    made: list[dict[str, Any]] = []
    level = 0.0

    def add(words: str, change: float, kind: str, colour: str) -> None:
        nonlocal level
        made.append(
            {
                "words": words,
                "low": level,
                "high": level + change,
                "value": change,
                "kind": kind,
                "colour": colour,
            }
        )
        level += change

    loss = flight.losses
    apart = sum(share.ideal for share in flight.stages)
    if abs(apart - loss.ideal) <= 1e-6 * max(loss.ideal, 1.0):
        for i, share in enumerate(flight.stages):
            add(worded("drawn/ideal_gain_of", part=share.name), share.ideal, "gain", SERIES[i % len(SERIES)])
    else:
        add(worded("drawn/ideal_gain"), loss.ideal, "gain", "one")
    for cause, value in (
        ("gravity", loss.gravity), ("drag", loss.drag), ("steering", loss.steering),
        ("back_pressure", loss.back_pressure),
    ):  # fmt: skip
        add(worded(f"drawn/lost_{cause}"), -value, "loss", "bad")
    made.append(_sum(worded("drawn/over_earth"), level))
    if orbit:
        add(
            worded("drawn/turning"),
            loss.rotation_gain,
            "turn",
            "bad" if loss.rotation_gain < 0.0 else "good",
        )
        made.append(_sum(worded("drawn/in_orbit"), level))
    return made


def _sum(words: str, level: float) -> dict[str, Any]:
    return {"words": words, "low": 0.0, "high": level, "value": level, "kind": "sum", "colour": "quiet"}


def speed_budget(flight: Flight, orbit: bool = True, *, beside: bool = False, units: System = METRIC) -> Any:
    """The chart, from the ideal to what is flown; words above each bar, or `beside` it."""
    import altair as alt

    data = []
    for row in rows(flight, orbit):
        signed = row["kind"] in ("loss", "turn") and row["value"] > 0.0
        text = f"{row['words']}: {'+' if signed else ''}{units.whole(row['value'], 'm/s')}"
        data.append({**row, "text": text, "paint": LIGHT[row["colour"]]})
    return bars_under_words(alt, data, "low", "high", beside)


def bars_under_words(alt: Any, data: list[dict[str, Any]], low: str, high: str, beside: bool = False) -> Any:
    """A bar a row, its words and value in a line above it: reads on a narrow screen as well.

    data    rows with "text", "paint", and the ends of the bar
    beside  words left of the bar instead, for a wide screen
    """
    for place, row in enumerate(data):
        row |= {"top": place * STEP + 16, "foot": place * STEP + 27, "line": place * STEP + 8}
    base = alt.Chart(alt.Data(values=tuple(data)))
    scale = alt.Scale(domain=[0.0, max(1e-9, *(max(row[low], row[high]) for row in data))], nice=False)
    if beside:
        return _beside(alt, data, low, high)
    down = alt.Scale(domain=[0, STEP * len(data)], range=[0, STEP * len(data)])
    bars = base.mark_bar().encode(
        x=alt.X(f"{low}:Q", title=None, axis=None, scale=scale), x2=f"{high}:Q",
        y=alt.Y("top:Q", axis=None, scale=down), y2="foot:Q", color=alt.Color("paint:N", scale=None),
    )  # fmt: skip
    told = base.mark_text(align="left", baseline="middle", color=LIGHT["ink"], fontSize=13).encode(
        x=alt.value(0), y=alt.Y("line:Q", scale=down), text="text:N"
    )
    return alt.layer(bars, told).properties(width=WIDE, height=STEP * len(data))


def _beside(alt: Any, data: list[dict[str, Any]], low: str, high: str) -> Any:
    """A bar a row, its words left of it, its ends where the rows before left off."""
    for place, row in enumerate(data):
        row |= {"top": place * ROW + 5, "foot": place * ROW + ROW - 5, "line": place * ROW + ROW / 2}
    base = alt.Chart(alt.Data(values=tuple(data)))
    scale = alt.Scale(domain=[0.0, max(1e-9, *(max(row[low], row[high]) for row in data))], nice=False)
    down = alt.Scale(domain=[0, ROW * len(data)], range=[0, ROW * len(data)])
    bars = base.mark_bar().encode(
        x=alt.X(f"{low}:Q", title=None, axis=None, scale=scale), x2=f"{high}:Q",
        y=alt.Y("top:Q", axis=None, scale=down), y2="foot:Q", color=alt.Color("paint:N", scale=None),
    )  # fmt: skip
    told = base.mark_text(align="right", baseline="middle", color=LIGHT["ink"], fontSize=13).encode(
        x=alt.value(-14), y=alt.Y("line:Q", scale=down), text="text:N"
    )
    return alt.layer(bars, told).properties(width=WIDE, height=ROW * len(data))
