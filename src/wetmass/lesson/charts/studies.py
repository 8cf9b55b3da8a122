"""What-if grids and comparisons as charts: a line, contours, a carpet, bars."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np

from wetmass.concept.quantity import Quantity
from wetmass.lesson.charts.isolines import finer, round_levels, segments
from wetmass.lesson.look import LIGHT, SERIES
from wetmass.record.digits import readable
from wetmass.study.beside import Beside
from wetmass.study.grid import Axis, Grid

WIDE, HIGH = 520, 340
_RAMP = ("#f2f6f8", "#b9d3e3", "#6fa7c9", "#2f78a8", "#0b4a75")  # of our first hue, light to dark
_GREAT = {"kg": (1e3, "t"), "Pa": (1e3, "kPa"), "N": (1e3, "kN")}
Measure = tuple[str, str]  # name of the number that is shown, SI unit


def unit_of(values: list[float], unit: str) -> tuple[float, str]:
    """(divided by, unit) in which numbers of this size are read."""
    largest = max((abs(v) for v in values if math.isfinite(v)), default=0.0)
    if unit == "m/s²":
        return 9.80665, "g₀"
    if unit == "Pa·rad":
        return 1e3 * math.pi / 180.0, "kPa·deg"
    factor, name = _GREAT.get(unit, (1.0, unit))
    return (factor, name) if largest >= 1e4 else (1.0, unit)


def what_if(grid: Grid, measure: Measure, form: str = "contour") -> Any:
    """The chart of a grid: a line of one number; contours or a carpet of two."""
    import altair as alt

    if len(grid.axes) == 1:
        return _line(alt, grid, measure)
    if any(axis.words for axis in grid.axes):
        return _families(alt, grid, measure)
    return _carpet(alt, grid, measure) if form == "carpet" else _contours(alt, grid, measure)


def _scale(axis: Axis) -> tuple[float, str]:
    stated = axis.input.stated
    return (stated.unit.factor, stated.unit.text) if isinstance(stated, Quantity) else (1.0, "")


def _titled(words: str, unit: str) -> str:
    return f"{words}, {unit}" if unit else words


def _line(alt: Any, grid: Grid, measure: Measure) -> Any:
    axis, (name, unit) = grid.axes[0], measure
    values = [one[name] if one.closes else math.nan for one in grid.outcomes]
    factor, shown = unit_of(values, unit)
    by, own = _scale(axis)
    finite = [v / factor for v in values if math.isfinite(v)]
    floor = min(finite, default=0.0)
    rows = []
    for place, (one, value) in enumerate(zip(grid.outcomes, values, strict=True)):
        x = axis.words[place] if axis.words else axis.values[place] / by
        rows.append({
            "x": x, "z": value / factor if math.isfinite(value) else None, "floor": floor,
            "told": axis.labels[place] + (f": {readable(value / factor, 5)} {shown}" if one.closes else f": {one.reason}"),
        })  # fmt: skip
    at = (
        alt.X("x:N", title=axis.input.words, sort=None, axis=alt.Axis(labelAngle=0))
        if axis.words
        else alt.X("x:Q", title=_titled(axis.input.words, own), scale=alt.Scale(zero=False))
    )
    up = alt.Y("z:Q", title=_titled(name, shown), scale=alt.Scale(zero=False))
    closed = alt.Chart(alt.Data(values=[r for r in rows if r["z"] is not None]))
    layers = [] if axis.words else [closed.mark_line(color=LIGHT["one"], strokeWidth=2).encode(x=at, y=up)]
    layers.append(
        closed.mark_circle(color=LIGHT["one"], size=46, opacity=1).encode(x=at, y=up, tooltip="told:N")
    )
    failed = [r for r in rows if r["z"] is None]
    if failed:
        layers += _crosses(alt, failed, at, alt.Y("floor:Q"))
    if not axis.words and axis.input.value is not None and grid.base.outcome.closes:
        here = [{"x": axis.input.value / by, "z": grid.base.outcome[name] / factor, "text": "as stated"}]
        base = alt.Chart(alt.Data(values=here))
        layers.append(base.mark_point(color=LIGHT["two"], size=110, strokeWidth=2).encode(x=at, y=up))
        layers.append(
            base.mark_text(color=LIGHT["two"], dx=9, dy=-10, align="left", fontSize=12).encode(
                x=at, y=up, text="text:N"
            )
        )
    return alt.layer(*layers).properties(width=WIDE, height=HIGH, title=_title(grid, name, bool(failed)))


def _title(grid: Grid, name: str, failed: bool) -> Any:
    import altair as alt

    under = (
        "every point closed and made best; × does not close" if failed else "every point closed and made best"
    )
    return alt.TitleParams(f"{grid.name}: {name}", subtitle=under, subtitleColor=LIGHT["quiet"], offset=12)


def _crosses(alt: Any, rows: list[dict[str, Any]], x: Any, y: Any) -> list[Any]:
    base = alt.Chart(alt.Data(values=rows))
    return [
        base.mark_point(shape="cross", angle=45, color=LIGHT["bad"], size=70, filled=True, opacity=1).encode(
            x=x, y=y, tooltip="told:N"
        )
    ]


def _table(grid: Grid, name: str) -> np.ndarray:
    first, second = grid.axes
    return np.array(
        [
            [one[name] if (one := grid.at(i, j)).closes else math.nan for j in range(len(second))]
            for i in range(len(first))
        ]
    )


def _contours(alt: Any, grid: Grid, measure: Measure) -> Any:
    (first, second), (name, unit) = grid.axes, measure
    z = _table(grid, name)
    factor, shown = unit_of(list(z.flat), unit)
    z = z / factor
    (bx, ux), (by, uy) = _scale(first), _scale(second)
    x, y = [v / bx for v in first.values], [v / by for v in second.values]
    fx, fy, fz = finer(x, y, z, max(4, 40 // max(len(x), len(y))))
    low, high = (float(f(z)) if np.isfinite(z).any() else 0.0 for f in (np.nanmin, np.nanmax))
    cells = [
        {
            "x": fx[i],
            "x2": fx[i + 1] + 0.1 * (fx[i + 1] - fx[i]),
            "y": fy[j],
            "y2": fy[j + 1] + 0.1 * (fy[j + 1] - fy[j]),
            "z": float(np.mean(fz[i : i + 2, j : j + 2])),
        }
        for i in range(len(fx) - 1)
        for j in range(len(fy) - 1)
        if np.isfinite(fz[i : i + 2, j : j + 2]).all()
    ]
    ax = alt.X("x:Q", title=_titled(first.input.words, ux), scale=alt.Scale(domain=[x[0], x[-1]], nice=False))
    ay = alt.Y(
        "y:Q", title=_titled(second.input.words, uy), scale=alt.Scale(domain=[y[0], y[-1]], nice=False)
    )
    colour = alt.Color(
        "z:Q", scale=alt.Scale(range=list(_RAMP)), title=_titled(name, shown),
        legend=alt.Legend(gradientLength=HIGH - 40, titleColor=LIGHT["quiet"], labelColor=LIGHT["quiet"], titleLimit=400),
    )  # fmt: skip
    layers = [
        alt.Chart(alt.Data(values=cells))
        .mark_rect(clip=True)
        .encode(x=ax, x2="x2:Q", y=ay, y2="y2:Q", color=colour)
    ]
    lines, labels = [], []
    for level in round_levels(low, high):
        pieces = list(segments(fx, fy, fz, level))
        lines += [{"x": a, "y": b, "x2": c, "y2": d} for a, b, c, d in pieces]
        if pieces:
            labels.append({**_middle(pieces, x, y), "text": readable(level, 5)})
    layers.append(
        alt.Chart(alt.Data(values=lines)).mark_rule(color=LIGHT["ink"], strokeWidth=1).encode(
            x=ax, x2="x2:Q", y=ay, y2="y2:Q"
        )
    )  # fmt: skip
    text = alt.Chart(alt.Data(values=labels))
    layers.append(
        text.mark_text(fontSize=12, stroke=LIGHT["card"], strokeWidth=3.5, strokeJoin="round").encode(
            x=ax, y=ay, text="text:N"
        )
    )
    layers.append(text.mark_text(fontSize=12, color=LIGHT["ink"]).encode(x=ax, y=ay, text="text:N"))
    failed = _failed(grid, lambda i, j: {"x": x[i], "y": y[j]})
    if failed:
        layers += _crosses(alt, failed, ax, ay)
    if first.input.value is not None and second.input.value is not None:
        here = {"x": first.input.value / bx, "y": second.input.value / by, "text": "as stated"}
        if x[0] <= here["x"] <= x[-1] and y[0] <= here["y"] <= y[-1]:
            base = alt.Chart(alt.Data(values=[here]))
            layers.append(base.mark_point(color=LIGHT["two"], size=110, strokeWidth=2).encode(x=ax, y=ay))
    return alt.layer(*layers).properties(width=WIDE, height=HIGH, title=_title(grid, name, bool(failed)))


def _middle(pieces: list[tuple[float, ...]], x: list[float], y: list[float]) -> dict[str, float]:
    """The place on a line nearest to the middle of the picture, where its value is written."""
    places = [(0.5 * (a + c), 0.5 * (b + d)) for a, b, c, d in pieces]

    def off(place: tuple[float, float]) -> float:
        return max(
            abs((value - 0.5 * (ends[0] + ends[-1])) / (ends[-1] - ends[0]))
            for value, ends in zip(place, (x, y), strict=True)
        )

    best = min(places, key=off)
    return {"x": best[0], "y": best[1]}


def _failed(grid: Grid, place: Callable[[int, int], dict[str, float]]) -> list[dict[str, Any]]:
    first, second = grid.axes
    return [
        {**place(i, j), "told": f"{first.labels[i]}, {second.labels[j]}: {grid.at(i, j).reason}"}
        for i in range(len(first))
        for j in range(len(second))
        if not grid.at(i, j).closes
    ]


def _carpet(alt: Any, grid: Grid, measure: Measure) -> Any:
    """Two families of lines over a slanted ground: every crossing is a point, read by its height alone."""
    (first, second), (name, unit) = grid.axes, measure
    z = _table(grid, name)
    factor, shown = unit_of(list(z.flat), unit)
    z = z / factor
    across = (
        np.linspace(0.0, 1.0, len(first))[:, None] * 1.0 + np.linspace(0.0, 1.0, len(second))[None, :] * 0.6
    )
    ay = alt.Y("z:Q", title=_titled(name, shown), scale=alt.Scale(zero=False))
    ax = alt.X("x:Q", axis=None, scale=alt.Scale(domain=[-0.12, 1.78]))
    layers = []
    for axis, other, colour, key in ((first, second, "one", 0), (second, first, "two", 1)):
        rows, names = [], []
        for place in range(len(axis)):
            points = [(place, k) if key == 0 else (k, place) for k in range(len(other))]
            line = [
                {"x": float(across[p]), "z": float(z[p]), "line": axis.labels[place], "k": k}
                for k, p in enumerate(points)
                if np.isfinite(z[p])
            ]
            rows += line
            if line:
                names.append({**line[-1], "text": axis.labels[place]})
        layers.append(
            alt.Chart(alt.Data(values=rows)).mark_line(color=LIGHT[colour], strokeWidth=1.6).encode(
                x=ax, y=ay, detail="line:N", order="k:Q"
            )
        )  # fmt: skip
        layers.append(
            alt.Chart(alt.Data(values=names)).mark_text(
                color=LIGHT[colour], align="left", dx=6, dy=0 if key == 0 else 12, fontSize=12
            ).encode(x=ax, y=ay, text="text:N")
        )  # fmt: skip
    title = _title(grid, name, not np.isfinite(z).all())
    title.subtitle = [
        f"blue: {first.input.words} fixed along a line; orange: {second.input.words} fixed along a line",
        "every crossing closed and made best"
        + ("; a gap does not close" if not np.isfinite(z).all() else ""),
    ]
    return alt.layer(*layers).properties(width=WIDE + 60, height=HIGH + 40, title=title)


def _families(alt: Any, grid: Grid, measure: Measure) -> Any:
    """One line for each word, where one of the two inputs has words for values."""
    (first, second), (name, unit) = grid.axes, measure
    z = _table(grid, name)
    factor, shown = unit_of(list(z.flat), unit)
    along, family, table = (second, first, z) if first.words else (first, second, z.T)
    by, own = _scale(along)
    rows = [
        {"x": along.words[k] if along.words else along.values[k] / by, "z": float(table[f, k]) / factor,
         "line": family.labels[f]}
        for f in range(len(family)) for k in range(len(along)) if np.isfinite(table[f, k])
    ]  # fmt: skip
    x = (
        alt.X("x:N", title=along.input.words, sort=None, axis=alt.Axis(labelAngle=0))
        if along.words
        else alt.X("x:Q", title=_titled(along.input.words, own), scale=alt.Scale(zero=False))
    )
    colours = alt.Scale(domain=list(family.labels), range=[LIGHT[SERIES[i % 5]] for i in range(len(family))])
    base = alt.Chart(alt.Data(values=rows)).encode(
        x=x, y=alt.Y("z:Q", title=_titled(name, shown), scale=alt.Scale(zero=False)),
        color=alt.Color("line:N", title=family.input.words, scale=colours),
    )  # fmt: skip
    failed = not np.isfinite(z).all()
    marks = (base.mark_line(strokeWidth=2), base.mark_circle(size=46, opacity=1))
    return alt.layer(*marks).properties(width=WIDE, height=HIGH, title=_title(grid, name, failed))


def side_by_side(beside: Beside, measure: Measure) -> Any:
    """A bar a variant, the first one's value as a line through all."""
    import altair as alt

    name, unit = measure
    values = [one[name] if one.closes else math.nan for one in beside.outcomes]
    factor, shown = unit_of(values, unit)
    rows = []
    for number, (one, value, outcome) in enumerate(
        zip(beside.variants, values, beside.outcomes, strict=True)
    ):
        text = f"{readable(value / factor, 4)} {shown}" if outcome.closes else "does not close"
        if number and outcome.closes and math.isfinite(values[0]):
            text += f" ({'+' if value >= values[0] else '−'}{readable(abs(value - values[0]) / factor, 3)})"
        rows.append({
            "words": one.name, "z": value / factor if math.isfinite(value) else 0.0, "text": text,
            "paint": LIGHT["quiet" if not number else "one" if outcome.closes else "bad"],
        })  # fmt: skip
    base = alt.Chart(alt.Data(values=rows))
    y = alt.Y(
        "words:N",
        sort=None,
        title=None,
        axis=alt.Axis(labelLimit=220, domain=False, ticks=False, labelFontSize=13),
    )
    largest = max([row["z"] for row in rows] + [1e-9])
    x = alt.X(
        "z:Q",
        title=_titled(name, shown),
        scale=alt.Scale(domain=[min(0.0, *(r["z"] for r in rows)), 1.3 * largest]),
    )
    bars = base.mark_bar(height=20).encode(x=x, y=y, color=alt.Color("paint:N", scale=None))
    told = base.mark_text(align="left", dx=6, fontSize=12, color=LIGHT["ink"]).encode(x=x, y=y, text="text:N")
    layers = [bars, told.mark_text(
        align="left", dx=6, fontSize=12, stroke=LIGHT["paper"], strokeWidth=4, strokeJoin="round"
    ), told]  # fmt: skip
    if math.isfinite(values[0]):
        line = alt.Chart(alt.Data(values=[{"z": values[0] / factor}]))
        layers.insert(0, line.mark_rule(color=LIGHT["ink"], strokeDash=[3, 3]).encode(x="z:Q"))
    return alt.layer(*layers).properties(
        width=WIDE, height=44 * len(rows),
        title=alt.TitleParams(f"{name} side by side", subtitle="the dashed line is the first one's", subtitleColor=LIGHT["quiet"], offset=12),
    )  # fmt: skip
