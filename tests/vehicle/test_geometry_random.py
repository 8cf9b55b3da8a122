"""Whatever is said of tanks is refused or laid out: never an exception, and never two answers."""

import math
import random

import pytest

from one_stage import text
from wetmass.concept import loads
from wetmass.concept.tank_shapes import SIZES
from wetmass.record.refusal import Refusal
from wetmass.vehicle import Assembly
from wetmass.vehicle.geometry import geometry_steps, lay_out
from wetmass.vehicle.masses import itemised, mass_steps, stage_masses

KEYS = ("count: 3", "count: 7, centre: yes", "beside: yes", "shares bulkhead: yes", "inside: LOX",
        "stands at: 3 m", "volume: 20 m³", "gap: 0.2 m", "ullage: 30 %")  # fmt: skip
LOADS = ("from tanks", "1 kg", "40 kg", "3 t", "44 t", "900 t", "20 000 t")
LAYOUTS = ("", "engine layout: {way: ring, gimbal: 4 deg}",
           "engine layout: {way: centre and ring, ring diameter: 2 m}", "home: {by: parachutes}")  # fmt: skip
DRY = ("dry mass: 4 t", "dry mass: by parts", "dry mass: like Ariane 5 EPC")


def tank(chance):
    shape = chance.choice(list(SIZES))
    said = [f"holds: {chance.choice(['LOX', 'LCH4'])}", f"shape: {shape}"]
    for size in SIZES[shape]:
        drawn = chance.random()
        if drawn < 0.45:
            said.append(f"{size}: {chance.uniform(0.2, 12.0):.3g} m")
        elif drawn < 0.5:
            said.append(f"{size}: find")
    said += [key for key in KEYS if chance.random() < 0.1]
    return ", ".join(said)


@pytest.mark.parametrize("seed", range(4))
def test_random_tanks_are_refused_or_laid_out(seed):
    chance = random.Random(seed)
    laid_out = 0
    for _ in range(120):
        tanks = [tank(chance) for _ in range(chance.randint(0, 4))]
        written = text(
            *tanks, diameter=f"{chance.uniform(0.5, 12.0):.3g} m", mass=chance.choice(LOADS),
            count=str(chance.randint(1, 40)), dry=chance.choice(DRY),
            more=chance.choice(LAYOUTS),
        )  # fmt: skip
        try:
            made = loads(written)
        except Refusal:
            continue
        built = Assembly(made).vehicle({})
        geometry, (table,) = lay_out(made, built), stage_masses(made, built)
        assert math.isfinite(geometry.height) and math.isfinite(table.by_parts), written
        if table.way == "by parts":
            assert table.by_parts == pytest.approx(table.used, rel=1e-9), written
        itemised(built, (table,))
        geometry_steps(made.stages[0], built.stages[0], geometry.stages[0])
        mass_steps(table)
        laid_out += 1
    assert laid_out > 10
