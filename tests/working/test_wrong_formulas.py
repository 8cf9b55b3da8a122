"""A formula that is wrong and worked out correctly is found, its sound sister is left alone.

Each pair: the page above the line, the faulty line, the kinds that name it fairly, a sound line in its place.
"""

from __future__ import annotations

import pytest

from wetmass.record.working import Verdict
from wetmass.working import check

PAIRS = [
    ("a = 24 m/s²\nt = 120 s\n", "height = a·t² = 345.6 km", {"S01"}, "height = 0.5·a·t² = 172.8 km"),
    (
        "tank diameter: 3.7 m\nlength: 12 m\n",
        "tank volume = π·(3.7 m)²·12 m = 516 m³",
        {"S17"},
        "tank volume = π/4·(3.7 m)²·12 m = 129 m³",
    ),
    (
        "mdot = 1250 kg/s\nv_e = 2950 m/s\np_e = 55 kPa\nA_e = 4.2 m²\np_a = 101.3 kPa\n",
        "F_sl = mdot·v_e + (p_a − p_e)·A_e = 3882 kN",
        {"S26", "S56"},
        "F_sl = mdot·v_e + (p_e − p_a)·A_e = 3493 kN",
    ),
    (
        "second stage ignition mass: 38.6 t\nsecond stage burnout mass: 6.2 t\n"
        "vacuum Isp: 348 s\nsea-level Isp: 309 s\n",
        "second stage Δv = 309 s · 9.81 m/s² · ln(38.6/6.2) = 5543 m/s",
        {"S23"},
        "second stage Δv = 348 s · 9.81 m/s² · ln(38.6/6.2) = 6243 m/s",
    ),
    (
        "c = 3410 m/s\nΔv needed = 3200 m/s\nfinal mass = 4.6 t\n",
        "propellant = 4.6 t · exp(3200/3410) = 11.8 t",
        {"S31"},
        "propellant = 4.6 t · (exp(3200/3410) − 1) = 7.16 t",
    ),
    (
        "propellant = 120 t\nresiduals = 1.8 t\ndry mass = 9.8 t\nmass on top = 21 t\n",
        "burnout mass = 9.8 + 21 = 30.8 t",
        {"S37", "S31"},
        "burnout mass = 9.8 + 21 + 1.8 = 32.6 t",
    ),
    (
        "engine count = 9\nthrust each = 68 kN\nlift-off mass = 47 t\n",
        "T/W with one engine out = 9·68/(47·9.81) = 1.33",
        {"S30", "S55"},
        "T/W with one engine out = 8·68/(47·9.81) = 1.18",
    ),
    (
        "v = 250 m/s\nthrust = 300 kN\nlanding mass = 18 t\nbraking acceleration = 300/18 = 16.67 m/s²\n",
        "ignition height = 250²/(2·16.67) = 1875 m",
        {"S51", "S24"},
        "ignition height = 250²/(2·(16.67 − 9.81)) = 4555 m",
    ),
    (
        "mass in orbit = 5.2 t\norbit speed = 7.6 km/s\n",
        "kinetic energy = 5200·7600² = 300 GJ",
        {"S01"},
        "kinetic energy = 0.5·5200·7600² = 150 GJ",
    ),
    (
        "ideal Δv = 9150 m/s\ngravity loss = 1180 m/s\ndrag loss = 110 m/s\nrotation gain = 410 m/s\n",
        "inertial speed = 9150 − 1180 − 110 − 410 = 7450 m/s",
        {"S45"},
        "inertial speed = 9150 − 1180 − 110 + 410 = 8270 m/s",
    ),
    (
        "propellant = 264 t\nfinal mass = 148 t\n",
        "gain = 318·9.81·ln(264/148) = 1805 m/s",
        {"S05", "S31"},
        "gain = 318·9.81·ln(412/148) = 3194 m/s",
    ),
    (
        "capsule mass: 3100 kg\narea: 8.04 m²\nCd: 1.3\n",
        "ballistic coefficient: 3100·1.3/8.04 = 501 kg/m²",
        {"S04", "S06", "S56"},
        "ballistic coefficient: 3100/(1.3·8.04) = 297 kg/m²",
    ),
]


@pytest.mark.parametrize(("above", "faulty", "kinds", "sound"), PAIRS, ids=[pair[1][:32] for pair in PAIRS])
def test_the_wrong_formula_is_named_and_the_right_one_passes(above, faulty, kinds, sound):
    line = check(above + faulty, "a.txt").lines[-1]
    assert line.verdict is Verdict.OFF
    assert line.likely is not None
    assert kinds & {line.likely.kind, *line.likely.same_as}
    page = check(above + sound, "a.txt")
    assert page.clean, [one.sentence for one in page.lines if one.verdict is not Verdict.RIGHT]


@pytest.mark.parametrize(
    "line",
    [
        "burnout speed by the rocket equation: 2877·ln(22/9) = 2572 m/s",  # says that it is ideal
        "distance downrange = 1.1 km/s · 140 s = 154 km",  # steady speed: no half belongs there
        "felt acceleration at lift-off = 1470 kN/118 t = 12.46 m/s²",  # thrust over mass is what is felt
        "mean Isp of sea level and vacuum ≈ (282 + 311)/2 = 296.5 s",
    ],
)
def test_another_sound_method_is_left_alone(line):
    above = "start mass: 22 t\nend mass: 9 t\nburn time: 110 s\nthrust: 340 kN\n"
    assert check(above + line, "a.txt").clean


def test_a_table_with_a_column_of_working_is_read():
    page = check("| what | working | result |\n|---|---|---|\n| area | π·0.12² | 0.0452 m² |\n", "a.md")
    assert [line.name for line in page.lines] == ["area"]
