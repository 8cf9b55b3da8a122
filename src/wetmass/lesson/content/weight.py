"""What it weighs: a chart and the table that adds up."""

from __future__ import annotations

from wetmass.lesson.content.blocks import Block, Column, Picture, Table
from wetmass.lesson.content.matter import Matter
from wetmass.lesson.words import said
from wetmass.record.digits import adding_up, fixed
from wetmass.record.say import said as in_people_units
from wetmass.record.say import sentence


def weight(matter: Matter) -> list[Block]:
    """Mass on the pad."""
    from wetmass.lesson import charts

    vehicle = matter.closed.vehicle
    listed = vehicle.mass_table()
    whole = sum(item.mass for item in listed)
    rounded = adding_up([item.mass for item in listed])
    rows = [
        (
            (item.part or "–",), (item.item,), (fixed(mass),),
            (f"{fixed(100.0 * item.mass / whole, 1)}\u00a0%",),
        )
        for item, mass in zip(listed, rounded, strict=True)
    ]  # fmt: skip
    rows.append(((said("tables/masses_whole"),), (), (fixed(sum(rounded)),), ("100.0\u00a0%",)))
    columns = (
        Column(said("tables/masses_part")), Column(said("tables/masses_item")),
        Column(said("tables/masses_mass"), True), Column(said("tables/masses_share"), True),
    )  # fmt: skip
    words = "; ".join(
        f"{item.part} {item.item} {in_people_units(item.mass, 'kg')}".strip() for item in listed
    )
    caption = said("figures/masses")
    return [
        Picture(
            "chart-masses",
            caption,
            sentence(words),
            caption,
            lambda: charts.mass_breakdown(vehicle),
            "chart",
            alone=lambda: charts.mass_breakdown(vehicle, beside=True),
        ),
        Table("mass-table", said("tables/masses"), columns, tuple(rows), (len(rows) - 1,)),
    ]
