"""What the mass on the pad is made of."""

from __future__ import annotations

from typing import Any

from wetmass.lesson.charts.budget import bars_under_words
from wetmass.lesson.look import LIGHT, SERIES
from wetmass.record.digits import fixed
from wetmass.record.system import METRIC, System
from wetmass.record.vehicle import Vehicle


def rows(vehicle: Vehicle) -> list[dict[str, Any]]:
    """A bar for each line of the mass table, part by part [kg]."""
    parts = list(dict.fromkeys(item.part for item in vehicle.mass_table() if item.part))
    return [
        {
            "words": f"{item.part}: {item.item}" if item.part else item.item,
            "part": item.part or "",
            "mass": item.mass,
            "colour": SERIES[parts.index(item.part) % len(SERIES)] if item.part else "five",
        }
        for item in vehicle.mass_table()
    ]  # fmt: skip


def mass_breakdown(vehicle: Vehicle, *, beside: bool = False, units: System = METRIC) -> Any:
    """The chart, each bar with its mass and share; words above it, or `beside` it."""
    import altair as alt

    listed = rows(vehicle)
    whole = sum(row["mass"] for row in listed)
    data = [
        {
            **row, "zero": 0.0, "paint": LIGHT[row["colour"]],
            "text": f"{row['words']}: {units.said(row['mass'], 'kg')}, {fixed(100.0 * row['mass'] / whole, 1)} %",
        }
        for row in listed
    ]  # fmt: skip
    return bars_under_words(alt, data, "zero", "mass", beside)
