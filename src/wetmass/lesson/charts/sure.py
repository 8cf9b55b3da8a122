"""What matters and how sure: a tornado of effects, shares of the variance, payloads of many samples."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from wetmass.lesson.charts.studies import HIGH, WIDE, unit_of
from wetmass.lesson.look import LIGHT
from wetmass.record.digits import readable
from wetmass.study.flights import Flights
from wetmass.study.shares import Shares
from wetmass.study.spread import Spread
from wetmass.study.worth import Worth

MOST_BARS = 14


def tornado(worth: Worth) -> Any:
    """A bar a number to either side, the longest on top: what one percent of it does, or its whole spread."""
    import altair as alt

    by_spread = len(worth.guesses) > 1
    if by_spread:
        listed = [
            (guess.words, guess.said(), 2.0 * effect)
            for guess, effect in worth.guesses
            if math.isfinite(effect)
        ]
        words = "two standard deviations of each guess more (blue) or less (orange), to first order"
    else:
        listed = [
            (e.input.words, e.input.said(e.input.value or 0.0), e.percent / 100.0 * worth.value)
            for e in worth.exchanges
        ]
        words = "1 % more of each number (blue) or less (orange), to first order"
    listed = sorted(listed, key=lambda row: -abs(row[2]))[:MOST_BARS]
    factor, unit = unit_of([row[2] for row in listed], "kg")
    rows = []
    for name, stated, effect in listed:
        for sign, colour in ((1.0, "one"), (-1.0, "two")):
            end = sign * effect / factor
            rows.append({
                "words": f"{name} ({stated})", "end": end, "zero": 0.0, "paint": LIGHT[colour],
                "told": f"{'+' if end > 0 else ''}{readable(end, 3)}",
            })  # fmt: skip
    reach = 1.25 * max((abs(row["end"]) for row in rows), default=1.0)
    x = alt.X(
        "zero:Q", title=f"change of {worth.aim}, {unit}", scale=alt.Scale(domain=[-reach, reach], nice=False)
    )
    y = alt.Y("words:N", sort=None, title=None, axis=alt.Axis(labelLimit=330, domain=False, ticks=False))
    base = alt.Chart(alt.Data(values=rows))
    bars = base.mark_bar(height=14).encode(
        x=x, x2="end:Q", y=y, color=alt.Color("paint:N", scale=None), tooltip="told:N"
    )
    end = alt.X("end:Q", scale=alt.Scale(domain=[-reach, reach], nice=False))
    right = base.transform_filter("datum.end >= 0").mark_text(
        align="left", dx=5, fontSize=11, color=LIGHT["quiet"]
    )
    left = base.transform_filter("datum.end < 0").mark_text(
        align="right", dx=-5, fontSize=11, color=LIGHT["quiet"]
    )
    told = [part.encode(x=end, y=y, text="told:N") for part in (right, left)]
    line = alt.Chart(alt.Data(values=[{"zero": 0.0}])).mark_rule(color=LIGHT["ink"]).encode(x="zero:Q")
    title = alt.TitleParams(
        f"{worth.name}: what moves the {worth.aim}", subtitle=words, subtitleColor=LIGHT["quiet"], offset=12
    )
    return alt.layer(bars, line, *told).properties(width=WIDE, height=24 * len(listed), title=title)


def whose(shares: Shares) -> Any:
    """Shares of the variance by guess, alone and in all, with their intervals."""
    import altair as alt

    rows = []
    for one in sorted(shares.shares, key=lambda s: -s.total[0]):
        for kind, (value, low, high), colour in (
            ("alone", one.alone, "one"),
            ("with others", one.total, "two"),
        ):
            rows.append({
                "words": one.words, "kind": kind, "value": value, "low": low, "high": high, "paint": LIGHT[colour]
            })  # fmt: skip
    base = alt.Chart(alt.Data(values=rows))
    y = alt.Y("words:N", sort=None, title=None, axis=alt.Axis(labelLimit=330, domain=False, ticks=False))
    x = alt.X("value:Q", title="share of the variance of the payload", axis=alt.Axis(format="%"))
    colours = alt.Scale(domain=["alone", "with others"], range=[LIGHT["one"], LIGHT["two"]])
    bars = base.mark_bar(height=10).encode(
        x=x, y=y, yOffset=alt.YOffset("kind:N"), color=alt.Color("kind:N", scale=colours, title=None)
    )
    lines = base.mark_rule(color=LIGHT["ink"]).encode(
        x="low:Q", x2="high:Q", y=y, yOffset=alt.YOffset("kind:N")
    )
    title = alt.TitleParams(
        f"{shares.name}: whose spread it is",
        subtitle=f"{shares.closings} closings, seed {shares.seed}; lines are 95 % intervals",
        subtitleColor=LIGHT["quiet"], offset=12,
    )  # fmt: skip
    return alt.layer(bars, lines).properties(width=WIDE, height=34 * len(shares.shares), title=title)


def sureness(spread: Spread, name: str = "payload", unit: str = "kg", flown: Flights | None = None) -> Any:
    """How often each payload comes, with percentiles; below, how they settle with more samples; and below that,
    where flights at fixed steering end."""
    import altair as alt

    values = spread.values(name)
    factor, shown = unit_of(list(values), unit)
    values = values / factor
    low, high = (float(v) for v in np.quantile(values, [0.002, 0.998])) if len(values) else (0.0, 1.0)
    low, high = (low, high) if high > low else (low - 0.5, high + 0.5)
    edges = np.linspace(low, high, min(60, max(10, round(len(values) ** 0.5))) + 1)
    counts, _ = np.histogram(np.clip(values, low, high), edges)
    bars = [
        {
            "x": float(edges[i]),
            "x2": float(edges[i + 1]),
            "share": float(counts[i]) / max(1, len(values)),
            "zero": 0.0,
        }
        for i in range(len(counts))
    ]
    marks = [
        {
            "x": value / factor,
            "text": f"{percent:g} %: {readable(value / factor, 4)}",
            "row": int(percent == 50.0),
        }
        for percent, (value, _, _) in spread.percentiles(name).items()
        if percent in (5.0, 50.0, 95.0)
    ]
    x = alt.X("x:Q", title=f"{name}, {shown}", scale=alt.Scale(domain=[low, high], nice=False, zero=False))
    hist = alt.Chart(alt.Data(values=bars)).mark_bar(color=LIGHT["one"], opacity=0.85).encode(
        x=x, x2="x2:Q", y=alt.Y("share:Q", title="share of samples", axis=alt.Axis(format="%")), y2="zero:Q"
    )  # fmt: skip
    base = alt.Chart(alt.Data(values=marks))
    lines = base.mark_rule(color=LIGHT["two"], strokeWidth=1.5).encode(x=x)
    told = [  # the middle one higher: they may lie close together
        base.transform_filter(f"datum.row == {row}")
        .mark_text(color=LIGHT["two"], align="center", dy=-8 - 13 * row, fontSize=12)
        .encode(x=x, y=alt.value(0), text="text:N")
        for row in (0, 1)
    ]
    closes = spread.closes
    title = alt.TitleParams(
        f"{spread.name}: {name} of {len(spread.outcomes)} samples",
        subtitle=f"every sample closed and made best; {readable(100 * closes.share, 3)} % close; seed {spread.seed}",
        subtitleColor=LIGHT["quiet"], offset=32,
    )  # fmt: skip
    top = alt.layer(hist, lines, *told).properties(width=WIDE, height=HIGH - 60, title=title)
    parts = [top]
    if len(spread.settling(name)) > 1:
        parts.append(_settling(alt, spread, name, factor, shown))
    if flown is not None:
        parts.append(_surplus(alt, flown))
    return alt.vconcat(*parts, spacing=26)


def _surplus(alt: Any, flown: Flights) -> Any:
    """How much speed flights at fixed steering have above the nominal, and what the reserve covers."""
    values = flown.surplus[np.isfinite(flown.surplus)]
    low, high = (float(v) for v in np.quantile(values, [0.001, 0.999]))
    low = min(low, -1.1 * flown.reserve)
    edges = np.linspace(low, high, 71)
    counts, _ = np.histogram(np.clip(values, low, high), edges)
    rows = [
        {"x": float(edges[i]), "x2": float(edges[i + 1]), "share": float(c) / len(flown.surplus), "zero": 0.0}
        for i, c in enumerate(counts)
    ]
    x = alt.X(
        "x:Q",
        title="speed above the nominal at the end, m/s",
        scale=alt.Scale(domain=[low, high], nice=False),
    )
    bars = alt.Chart(alt.Data(values=rows)).mark_bar(color=LIGHT["three"], opacity=0.85).encode(
        x=x, x2="x2:Q", y=alt.Y("share:Q", title="share of flights", axis=alt.Axis(format="%")), y2="zero:Q"
    )  # fmt: skip
    line = alt.Chart(
        alt.Data(values=[{"x": -flown.reserve, "text": "the reserve covers what is right of here"}])
    )
    rule = line.mark_rule(color=LIGHT["two"], strokeWidth=1.5).encode(x=x)
    told = line.mark_text(color=LIGHT["two"], align="left", dx=6, fontSize=12).encode(
        x=x, y=alt.value(8), text="text:N"
    )
    title = alt.TitleParams(
        f"{len(flown.columns):,} flights at the nominal steering".replace(",", "\u2009"), fontSize=12,
        color=LIGHT["quiet"], fontWeight="normal",
    )  # fmt: skip
    return alt.layer(bars, rule, told).properties(width=WIDE, height=170, title=title)


def _settling(alt: Any, spread: Spread, name: str, factor: float, shown: str) -> Any:
    rows = [
        {"n": n, "value": value / factor, "line": line}
        for n, *three in spread.settling(name)
        for line, value in zip(("5 %", "50 %", "95 %"), three, strict=True)
    ]
    base = alt.Chart(alt.Data(values=rows)).encode(
        x=alt.X(
            "n:Q",
            title="samples",
            scale=alt.Scale(type="log", base=2),
            axis=alt.Axis(format="d", values=[row["n"] for row in rows]),
        ),
        y=alt.Y("value:Q", title=f"{name}, {shown}", scale=alt.Scale(zero=False)),
        detail="line:N",
    )
    names = base.transform_filter(f"datum.n == {rows[-1]['n'] if rows else 0}").mark_text(
        align="left", dx=8, fontSize=12, color=LIGHT["two"]
    ).encode(text="line:N")  # fmt: skip
    marks = (base.mark_line(color=LIGHT["two"]), base.mark_circle(color=LIGHT["two"], opacity=1), names)
    title = alt.TitleParams(
        "how it settles with more samples", fontSize=12, color=LIGHT["quiet"], fontWeight="normal"
    )
    return alt.layer(*marks).properties(width=WIDE, height=130, title=title)
