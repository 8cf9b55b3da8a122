"""Slips told by what a page lists or says in words: what is found, what it should be, and the sound neighbour."""

from __future__ import annotations

import pytest
from pages_with_slips import assert_found, assert_sound, numbered

from wetmass.record.working import Verdict
from wetmass.working import check

_TABLE = (
    "| tank | area (m²) | mass (kg) |\n|---|---|---|\n"
    "| fore | 11.2 | 11.2·0.002·2700 = 60.5 |\n| aft | 14.6 | 14.6·0.002·2700 = 78.8 |\n"
    "| side | 9.4 | 9.4·0.002·2700 = 50.8 |\n| belly | 20.1 | 20.1·0.002·{} |"
)
_LIST = "engine: 1.4 t\nbulkhead: 0.6 t\ntanks: 2.3 t\n"

# (kind, page, what the last line should say in SI); every value worked out by hand from the page
FOUND = [
    ("S08", _TABLE.format("270 = 10.9"), 109.0),
    ("S31", _LIST + "dry mass = 1.4 + 2.3 = 3.7 t", 4300.0),
    (
        "S31",
        "payload = 3 t\nupper stage = 9 t\non top of the booster = 9 + 3 = 12 t\nbooster = 40 t\nlift-off mass = 40 + 9 = 49 t",
        52e3,
    ),
    ("S37", "loaded: 52 t of propellant\nusable = 52 · 1.02 = 53.04 t", 50.96e3),
    ("S37", "fairing: 0.4 t\nstack = 61.0 t\nlift-off, the fairing falls off early = 61.0 − 0.4 = 60.6 t", 61.4e3),
    (
        "S31",
        "Top: propellant 14,000, dry 2,000. Satellite 3,000.\ntop stage: 330*9.81*ln(19,000/2,000) = 7,288 m/s",
        4322.0,
    ),
    ("S06", "drag at 400 m/s = 80 kN\nat 200 m/s: 80/2 = 40 kN of drag", 20e3),
    ("S30", "The stage has five engines of 90 kN.\nFor the landing we light the three inner engines.\nPush: 5 × 90 = 450 kN", 270e3),
    ("S24", "thrust = 300 kN\nmass = 20 t\nbraking = 300/20 + 9.81 = 24.81 m/s²", 5.19),
    ("S17", "canopy area = 200 m²\nthat is √(200/π) = 7.98 m across", 15.96),
    ("S49", "escape = 3.10 km/s\nwe come with 2.0 km/s from far away, so 3.10 + 2.0 = 5.10 km/s", 3689.0),
    (
        "S45",
        "orbit 7.80 km/s, losses 1.50 km/s, the Earth's rotation helps with 0.40 km/s, so we need 7.80 + 1.50 + 0.40 = 9.70 km/s",
        8900.0,
    ),
    ("S45", "rotation of the Earth = 400 m/s\ninertial speed heading east = 3000 − 400 = 2600 m/s", 3400.0),
    ("S24", "path angle 10° above the horizon\nmore gravity loss: 100 s · 9.81 m/s² = 981 m/s", 170.3),
    ("S53", "Mars, air there 0.02 kg/m³.\nsink speed = √(2·9,000·3.71/(1.225·0.8·300)) = 15.1 m/s", 118.0),
    ("S05", "The ship is 60 t, exhaust 3.0 km/s: we need 60·(1 − e^(−3.0/3.0)) = 37.9 t of propellant", 103.1e3),
    ("S04", "Five kilos on the booster cost one kilo of payload, so 40 kg · 5 = 200 kg", 8.0),
    ("S30", "Two of them stand beside the core.\nempty booster = 4 t\nmass at the end of the boosters = 50 t\nBoosters fall away: 50 − 4 = 46 t", 42e3),
    ("S34", "eps is dry mass over (dry mass + propellant)\npropellant = 20 t\ndry mass = 0.10 · 20 = 2.0 t", 2222.0),
    ("S39", "we allow 20 % on dry mass, stage 2 then weighs 1.2·(30 + 4) = 40.8 t", 34.8e3),
    ("S35", "600 over 145, that is 4.1 per cent", 4.1),
    ("S02", "Isp 340 s, a kick stage\nso we gain 340 × 1.2 = 408 m/s", 4001.0),
    ("S01", "thrust = 200 kN\nexhaust = 9000 m/s\njet power = 200 kN · 9000 m/s = 1800 MW", 900e6),
]  # fmt: skip

SOUND = [
    _TABLE.format("2700 = 109"),
    _LIST + "dry mass = 1.4 + 0.6 + 2.3 = 4.3 t",
    _LIST + "engine and tanks = 1.4 + 2.3 = 3.7 t",
    "payload = 3 t\nupper stage = 9 t\non top of the booster = 9 + 3 = 12 t\nbooster = 40 t\nlift-off mass = 40 + 12 = 52 t",
    "loaded: 52 t of propellant\nusable = 52 · 0.98 = 50.96 t",
    "drag at 400 m/s = 80 kN\nat 200 m/s: 80/4 = 20 kN of drag",
    "The stage has five engines of 90 kN.\nFor the landing we light the three inner engines.\nPush: 3 × 90 = 270 kN",
    "thrust = 300 kN\nmass = 20 t\nbraking = 300/20 − 9.81 = 5.19 m/s²",
    "canopy area = 200 m²\nthat is 2·√(200/π) = 15.96 m across",
    "Five kilos on the booster cost one kilo of payload, so 40 kg / 5 = 8 kg",
    "escape from the circle = 3.43 km/s, escape √2·3.43 = 4.85 km/s",  # a name, no factor
    "wall: 2.6   # mm, 0.25 * 2600 / 250, stress 250 MPa",
    "2.1 Exhaust speed 365 × 9.80665 = 3579 m/s",  # the number of the paragraph is no factor
]


@pytest.mark.parametrize(("kind", "page", "right"), FOUND, ids=numbered(FOUND))
def test_a_rule_finds_its_slip_and_says_what_it_should_be(kind, page, right):
    assert_found(kind, page, right, rel=6e-3)  # the pages round to three figures


@pytest.mark.parametrize("page", SOUND)
def test_its_sound_neighbour_passes(page):
    assert_sound(page, Verdict.RIGHT, Verdict.APPROXIMATION)


@pytest.mark.parametrize(
    ("page", "stated"),
    [
        ("dry: 4.3   # t, 1.4 + 0.6 + 2.3", "4.3 t"),  # settings with their working behind the mark
        ("nr;what;calc;result;unit\n1;tank radius;;1.85;m\n2;tank;pi*1.85^2*14;150.5;m3", "150.5 m3"),
        ("And 1,890,000 divided by 305 times 9.81, so by 2992, which makes 632 kilos a second.", "632 kg/s"),
        ("Two pi squared, times 1.9, times 0.35 squared: 4.59 m³.", "4.59 m³"),
    ],
)
def test_a_manner_of_writing_is_read(page, stated):
    lines = check(page, "page.txt").lines
    assert lines[-1].verdict is Verdict.RIGHT and lines[-1].stated_text == stated


def test_a_payload_times_the_ratio_less_one_lacks_the_dry_mass_that_the_next_line_gives():
    page = "payload = 2.5 t\nR = 2.2\npropellant = 2.5·(2.2 − 1) = 3.0 t\ndry mass, 10 % of the propellant: 0.3 t"
    line = next(line for line in check(page, "page.txt").lines if line.place.line == 3)
    assert line.verdict is Verdict.OFF and line.likely.kind == "S31"
    assert line.recomputed == pytest.approx(3409.0, rel=1e-3)  # 2.5·1.2/(1 − 0.10·1.2) t
