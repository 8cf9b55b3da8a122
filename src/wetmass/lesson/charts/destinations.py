"""Payload against the energy to leave, as a chart."""

from __future__ import annotations

from typing import Any

from wetmass.lesson.look import LIGHT
from wetmass.record.say import said
from wetmass.study.destinations import Reach

WIDE, HIGH = 560, 340


def energy_curve(reach: Reach) -> Any:
    """The curve of payload against C3, destinations on it named."""
    import altair as alt

    rows = [
        {"c3": point.c3 / 1e6, "payload": point.payload, "told": f"C3 {point.c3 / 1e6:.4g} km²/s²: {said(point.payload, 'kg')}"}
        for point in reach.curve
        if point.payload > 0.0
    ]  # fmt: skip
    if reach.greatest_c3 == reach.greatest_c3:
        rows.append({"c3": reach.greatest_c3 / 1e6, "payload": 0.0, "told": "no payload left"})
    x = alt.X("c3:Q", title="C3, twice the energy per mass, km²/s²", scale=alt.Scale(nice=True))
    y = alt.Y("payload:Q", title="payload at the last cut-off, kg", scale=alt.Scale(zero=True))
    curve = alt.Chart(alt.Data(values=rows))
    layers = [
        curve.mark_line(color=LIGHT["one"], strokeWidth=2, interpolate="monotone").encode(x=x, y=y),
        curve.mark_circle(color=LIGHT["one"], size=34, opacity=1).encode(x=x, y=y, tooltip="told:N"),
    ]
    named = _named(reach)
    if named:
        marks = alt.Chart(alt.Data(values=named))
        layers += [
            marks.mark_point(color=LIGHT["two"], size=100, strokeWidth=2).encode(x=x, y=y),
            marks.mark_text(color=LIGHT["two"], align="left", dx=9, dy=-9, fontSize=12).encode(
                x=x, y=y, text="name:N"
            ),
        ]
    title = f"{reach.name}: payload against the energy to leave"
    return alt.layer(*layers).properties(width=WIDE, height=HIGH, title=title)


def _named(reach: Reach) -> list[dict[str, Any]]:
    """Destinations whose flight ends on the curve."""
    found = []
    for one in reach.places:
        point = next((p for p in reach.curve if abs(p.payload - one.payload) < 1e-9), None)
        if point is not None and not one.left and not one.reason:
            found.append({"c3": point.c3 / 1e6, "payload": point.payload, "name": one.name})
    return found
