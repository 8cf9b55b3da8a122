"""The way home of a stage from the side: height over the distance from the site, beside the way up."""

from __future__ import annotations

from typing import Any

from wetmass.lesson.charts.over_time import THOUSANDS, thinned
from wetmass.lesson.look import LIGHT
from wetmass.lesson.words import said as worded
from wetmass.record.flight import Flight
from wetmass.record.homecoming import Homecoming

WIDE, HIGH = 540, 230


def homecoming(flight: Flight | None, way: Homecoming) -> Any:
    """The chart: the way up as far as it matters, the way down, and each burn as a thick line."""
    import altair as alt

    down = _points(way.trajectory)
    reach = max(point["x"] for point in down)
    least = min(0.0, *(point["x"] for point in down))
    high = max(point["y"] for point in down)
    up = [] if flight is None else [p for p in _points(flight.trajectory) if p["x"] <= down[0]["x"] + 1e-9]
    x = alt.X(
        "x:Q", title=worded("drawn/out"),
        scale=alt.Scale(domain=[least, max(1.04 * reach, 1.0)], nice=False),
        axis=alt.Axis(grid=False, tickCount=6, labelExpr=THOUSANDS),
    )  # fmt: skip
    y = alt.Y(
        "y:Q", title=None, scale=alt.Scale(domain=[0.0, 1.18 * high], nice=False),
        axis=alt.Axis(tickCount=4, domain=False, ticks=False, minExtent=36, labelExpr=THOUSANDS),
    )  # fmt: skip

    def line(points: list[dict[str, float]], colour: str, thick: float, dash: list[int] | None = None) -> Any:
        mark: dict[str, Any] = {"color": LIGHT[colour], "strokeWidth": thick, "strokeCap": "round"}
        if dash:
            mark["strokeDash"] = dash
        return (
            alt.Chart(alt.Data(values=tuple(points)))
            .mark_line(clip=True, **mark)
            .encode(x=x, y=y, order=alt.Order("t:Q"))
        )

    layers = [line(up, "quiet", 1.4, [5, 4])] if len(up) > 1 else []
    layers.append(line(down, "one", 2.0))
    for burn in way.burns:
        lit = _between(way, burn.time, burn.time + burn.duration)
        if len(lit) > 1:
            layers.append(line(lit, "two", 5.0))
    marks = _sided(_marks(way, up), max(1.04 * reach, 1.0) - least, 1.18 * high)
    base = alt.Chart(alt.Data(values=tuple(marks))).encode(x=alt.X("x:Q"), y=alt.Y("y:Q"))
    layers.append(base.mark_circle(color=LIGHT["ink"], size=30, opacity=1))
    for side in ("left", "right"):
        layers.append(
            base.transform_filter(f"datum.side == '{side}'")
            .mark_text(
                align="left" if side == "right" else "right", dx=9 if side == "right" else -9, dy=-8,
                color=LIGHT["ink"], fontSize=13,
            )
            .encode(text="words:N")
        )  # fmt: skip
    title = alt.TitleParams(worded("drawn/height"), anchor="start", offset=12)
    return alt.layer(*layers).properties(width=WIDE, height=HIGH, title=title)


def _points(track: Any) -> list[dict[str, float]]:
    import numpy as np

    times, height = thinned(track["time"], track["height"] / 1e3, 400)
    out = np.interp(times, track["time"], track["downrange"]) / 1e3
    return [
        {"t": float(t), "x": float(x), "y": float(y)} for t, x, y in zip(times, out, height, strict=True)
    ]  # fmt: skip


def _between(way: Homecoming, begins: float, ends: float) -> list[dict[str, float]]:
    return [point for point in _points(way.trajectory) if begins <= point["t"] <= ends]


def _marks(way: Homecoming, up: list[dict[str, float]]) -> list[dict[str, Any]]:
    """The events worth a word: the parting, the highest point, each burn, and the end."""
    track = way.trajectory
    made: list[dict[str, Any]] = []
    for name, time in (
        (worded("drawn/let_go"), float(track["time"][0])),
        (worded("drawn/highest"), way.apogee.time),
        *((burn.what, burn.time) for burn in way.burns),
        (worded("drawn/comes_down"), float(track["time"][-1])),
    ):
        row = int(abs(track["time"] - time).argmin())
        made.append({"words": name, "x": float(track["downrange"][row]) / 1e3,
                     "y": float(track["height"][row]) / 1e3})  # fmt: skip
    return made


def _sided(marks: list[dict[str, Any]], wide: float, high: float) -> list[dict[str, Any]]:
    """On which side of its mark each word stands, so that words neither meet nor leave the picture."""
    boxes: list[tuple[float, float, float, float]] = []
    made = []
    for mark in marks:
        long = 7.0 * len(mark["words"]) + 12.0
        x, y = mark["x"] / wide * WIDE, mark["y"] / high * HIGH
        for side in ("right", "left"):
            box = (x, y, x + long, y + 18.0) if side == "right" else (x - long, y, x, y + 18.0)
            inside = box[0] > 4.0 and box[2] < WIDE + 30.0
            if inside and not any(
                box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in boxes
            ):
                boxes.append(box)
                made.append({**mark, "side": side})
                break
        else:
            made.append({**mark, "side": "none"})
    return made
