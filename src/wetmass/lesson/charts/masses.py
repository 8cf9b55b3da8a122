"""What the mass on the pad is made of."""

from __future__ import annotations

from typing import Any

from wetmass.lesson.look import LIGHT, SERIES
from wetmass.record.digits import fixed
from wetmass.record.say import said
from wetmass.record.vehicle import Vehicle

WIDE, STEP = 430, 25


def rows(vehicle: Vehicle) -> list[dict[str, Any]]:
    """A bar for each line of the mass table, part by part [kg]."""
    parts = list(dict.fromkeys(item.part for item in vehicle.mass_table() if item.part))
    return [
        {
            "words": f"{item.part}: {item.item}" if item.part else item.item,
            "part": item.part or "payload and what is let go",
            "mass": item.mass,
            "colour": SERIES[parts.index(item.part) % len(SERIES)] if item.part else "five",
        }
        for item in vehicle.mass_table()
    ]  # fmt: skip


def mass_breakdown(vehicle: Vehicle) -> Any:
    """The chart, in tonnes, each bar with its mass and share."""
    import altair as alt

    listed = rows(vehicle)
    whole = sum(row["mass"] for row in listed)
    data = [
        {
            **row, "n": i, "paint": LIGHT[row["colour"]],
            "text": f"{said(row['mass'], 'kg')}, {fixed(100.0 * row['mass'] / whole, 1)} %",
        }
        for i, row in enumerate(listed)
    ]  # fmt: skip
    order = [row["words"] for row in data]
    base = alt.Chart(alt.Data(values=data)).encode(
        y=alt.Y("words:N", sort=order, title=None, axis=alt.Axis(domain=False, ticks=False, labelLimit=260))
    )
    scale = alt.Scale(domain=[0.0, 1.35 * max(row["mass"] for row in data)], nice=False)
    bars = base.mark_bar(height=15).encode(
        x=alt.X("mass:Q", title=None, axis=None, scale=scale), color=alt.Color("paint:N", scale=None)
    )
    told = base.mark_text(align="left", dx=6, color=LIGHT["ink"]).encode(
        x=alt.X("mass:Q", scale=scale), text="text:N"
    )
    return alt.layer(bars, told).properties(width=WIDE, height=STEP * len(data))
