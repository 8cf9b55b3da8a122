"""Where the ideal speed went: a bar for each stage's gain, then what is taken away, down to what is left."""

from __future__ import annotations

from typing import Any

from wetmass.lesson.look import LIGHT, SERIES
from wetmass.record.digits import fixed
from wetmass.record.flight import Flight

WIDE, STEP = 430, 27


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
            add(f"ideal gain, {share.name}", share.ideal, "gain", SERIES[i % len(SERIES)])
    else:
        add("ideal gain", loss.ideal, "gain", "one")
    for words, value in (
        ("gravity", loss.gravity), ("drag", loss.drag), ("steering", loss.steering),
        ("back-pressure", loss.back_pressure),
    ):  # fmt: skip
        add(f"lost to {words}", -value, "loss", "bad")
    made.append(_sum("over the turning Earth", level))
    if orbit:
        add(
            "from the Earth's turning",
            loss.rotation_gain,
            "turn",
            "bad" if loss.rotation_gain < 0.0 else "good",
        )
        made.append(_sum("speed in orbit", level))
    return made


def _sum(words: str, level: float) -> dict[str, Any]:
    return {"words": words, "low": 0.0, "high": level, "value": level, "kind": "sum", "colour": "quiet"}


def speed_budget(flight: Flight, orbit: bool = True) -> Any:
    """The chart, from the ideal to what is flown."""
    import altair as alt

    data = []
    for row in rows(flight, orbit):
        signed = row["kind"] in ("loss", "turn") and row["value"] > 0.0
        text = f"{'+' if signed else ''}{fixed(row['value'])} m/s"
        data.append(
            {
                **row, "text": text, "paint": LIGHT[row["colour"]], "edge": max(row["low"], row["high"]),
            }
        )  # fmt: skip
    order = [row["words"] for row in data]
    base = alt.Chart(alt.Data(values=data)).encode(
        y=alt.Y("words:N", sort=order, title=None, axis=alt.Axis(domain=False, ticks=False, labelLimit=220))
    )
    most = max(row["edge"] for row in data)
    scale = alt.Scale(domain=[0.0, most * 1.22], nice=False)
    bars = base.mark_bar(height=16).encode(
        x=alt.X("low:Q", title=None, scale=scale, axis=None), x2="high:Q",
        color=alt.Color("paint:N", scale=None),
    )  # fmt: skip
    told = base.mark_text(align="left", dx=6, color=LIGHT["ink"]).encode(
        x=alt.X("edge:Q", scale=scale), text="text:N"
    )
    return alt.layer(bars, told).properties(width=WIDE, height=STEP * len(data))
