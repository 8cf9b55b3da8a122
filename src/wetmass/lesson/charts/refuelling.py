"""A refuelling campaign as a chart: what is aboard over time, and how often how many launches are needed."""

from __future__ import annotations

from collections import Counter
from typing import Any

from wetmass.lesson.look import LIGHT
from wetmass.study.refuelling import DAY, Campaign

WIDE, HIGH = 340, 260


def campaign(made: Campaign) -> Any:
    """Two pictures side by side."""
    import altair as alt

    title = f"{made.name}: refilled for {made.to}"
    return alt.hconcat(_aboard(alt, made), _launches(alt, made)).properties(title=title)


def _aboard(alt: Any, made: Campaign) -> Any:
    rows = [{"day": 0.0, "aboard": made.ship.aboard / 1e3}]
    kept = (1.0 - (made.plan.boil_off or 0.0)) ** (made.plan.cadence / DAY)
    for number, aboard in enumerate(made.nominal.aboard):
        day = number * made.plan.cadence / DAY
        if number:
            rows.append({"day": day, "aboard": made.nominal.aboard[number - 1] * kept / 1e3})
        rows.append({"day": day, "aboard": aboard / 1e3})
    x = alt.X("day:Q", title="days since the first tanker")
    y = alt.Y("aboard:Q", title="propellant aboard, t", scale=alt.Scale(zero=True))
    line = (
        alt.Chart(alt.Data(values=rows))
        .mark_line(color=LIGHT["one"], strokeWidth=2)
        .encode(x=x, y=y, order="day:Q")
    )
    wanted = alt.Chart(
        alt.Data(values=[{"aboard": min(made.needed, made.ship.capacity) / 1e3, "text": "needed"}])
    )
    rule = wanted.mark_rule(color=LIGHT["two"], strokeDash=[5, 4]).encode(y="aboard:Q")
    text = wanted.mark_text(color=LIGHT["two"], align="left", x=6, dy=-8, fontSize=12).encode(
        y="aboard:Q", text="text:N"
    )
    return alt.layer(line, rule, text).properties(width=WIDE, height=HIGH, title="none fails")


def _launches(alt: Any, made: Campaign) -> Any:
    counted = Counter(made.counts)
    rows = [{"n": n, "share": 100.0 * count / made.samples} for n, count in sorted(counted.items())]
    return (
        alt.Chart(alt.Data(values=rows))
        .mark_bar(color=LIGHT["one"])
        .encode(
            x=alt.X("n:O", title="tankers launched", axis=alt.Axis(labelAngle=0)),
            y=alt.Y("share:Q", title="share of all courses, %"),
        )
        .properties(width=WIDE, height=HIGH, title=f"with failures, {made.samples} courses, seed {made.seed}")
    )
