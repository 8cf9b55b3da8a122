"""Slips told by one rule each: what is found, what it should be, and the sound neighbour that passes."""

from __future__ import annotations

import pytest
from pages_with_slips import assert_found, assert_sound, numbered

from wetmass.record.working import Verdict

# (kind, page, what the last line should say in SI); every value worked out by hand from the page.
# S53: 0.364 kg/m³ at 11 km, U.S. Standard Atmosphere 1976.  S27: at the boiling point at one
# atmosphere 70.8 kg/m³ of hydrogen and 1141 kg/m³ of oxygen, NIST Chemistry WebBook, SRD 69.
FOUND = [
    ("S01", "ring tank: R = 3.1 m, r = 0.8 m\nvolume = π² · 3.1 m · (0.8 m)² = 19.6 m³", 39.16),
    ("S19", "doughnut: R = 1.9 m, r = 0.757 m\nits volume = 2π · 1.9 · 0.757² = 6.841 m³", 21.49),
    ("S17", "barrel 3.6 m across, 9 m long: π · 3.6² · 9 = 366 m³", 91.6),
    ("S17", "outer tanks, diameter = 2.6 m\nlength = 11 m\nV = π·2.6²·11 + 4/3·π·1.3³ = 242.8 m³", 67.6),
    ("S18", "radius = 2.2 m\narea of the domes = 2π·2.2² = 30.4 m²", 60.8),
    ("S17", "tank radius = 2.2 m\nouter diameter = 2.6 m\ndistance between axes = 2.2 + 2.6 = 4.8 m", 3.5),
    ("S19", "cone frustum 2.4 to 1.2 m radius, 3 m high: π · 1.8² · 3 = 30.5 m³", 31.7),
    ("S20", "outer radius of the ring of engines: 0.5 · (1/sin 20°) = 1.46 m", 1.962),
    ("S05", "start mass: 412 t\nend mass: 148 t\nc = 3200 m/s\nΔv = 3200 · ln(412/264) = 1424 m/s", 3276.0),
    ("S31", "dry mass 410 kg, payload 1900 kg\nstart mass = 7443 kg\nΔv = 3140 m/s · ln(7443/410) = 9103 m/s", 3674.0),
    ("S24", "upward acceleration = 9.81 m/s² · 1.227 = 12.04 m/s²", 2.227),
    ("S24", "felt by the crew: 4100 N / 86 kg − 9.81 m/s² = 37.9 m/s²", 47.7),
    ("S24", "pressure at the bottom at 3 g: 1141 kg/m³ · 9.81 m/s² · 8.3 m = 92.9 kPa", 278.7e3),
    ("S51", "braking = 7.78 m/s²\nbraking time from 249 m/s = 249/17.59 = 14.16 s", 32.0),
    ("S53", "max q at 11 km, 480 m/s: ½ · 1.225 · 480² = 141 kPa", 41.9e3),
    ("S13", "orbit 110 nautical miles = 110 · 1.609 = 177 km", 203.7e3),
    ("S48", "v1 = 1.608 km/s\nv2 = 3.075 km/s\nsecond burn = 3.075 + 1.608 = 4.683 km/s", 1467.0),
    ("S49", "C3 = 15 km²/s²\nv_inf = 15 km/s", 3873.0),
    ("S32", "stage 1 burnout mass: 31.9 t\nstage 1 dry mass: 5.1 t\nstage 2 ignition mass: 31.9 t", 26800.0),
    ("S25", "boosters burn beside the core\nmean Isp = (270 + 320)/2 = 295 s", 292.9),
    ("S27", "O/F = 5.8\ntanks = 300 m³\nhydrogen tank = 300/6.8 = 44.1 m³", 220.6),
    ("S45", "site 34°\nneeded to orbit = 7780 + 386 = 8166 m/s", 7394.0),
    ("S30", "core thrust = 2900 kN\nboosters: 3100 kN each\nnumber of boosters = 2\n"
            "booster dry mass = 14 t each\nstack = 240.8 t\nmass without them = 240.8 − 14 = 226.8 t", 212.8e3),
]  # fmt: skip

SOUND = [
    "ring tank: R = 3.1 m, r = 0.8 m\nvolume = 2π² · 3.1 m · (0.8 m)² = 39.2 m³",
    "ring tank, D = 6.2 m, d = 1.6 m\nring volume = π²/4 · 6.2 m · (1.6 m)² = 39.2 m³",
    "radius = 2.2 m\narea of one dome = 2π·2.2² = 30.4 m²",
    "one sphere of diameter 2 m\nits surface = π · 2² = 12.57 m²",
    "six tanks, each 2.8 m across and 11 m long: V = 6 · π/4 · 2.8² · 11 = 406 m³",
    "upward acceleration = 9.81 m/s² · (1.227 − 1) = 2.227 m/s²",
    "felt by the crew: 4100 N / 86 kg = 47.7 m/s²",
    "pressure at the bottom at 3 g: 1141 kg/m³ · 3 · 9.81 m/s² · 8.3 m = 279 kPa",
    "max q at 11 km, 480 m/s, 0.364 kg/m³: ½ · 0.364 · 480² = 41.9 kPa",
    "mean Isp of sea level and vacuum for the climb = (270 + 320)/2 = 295 s",
    "thrust in vacuum = 2064 kN\nexit area = 2.26 m²\nthrust at sea level = 2064 kN − 101.3 kPa · 2.26 m² = 1835 kN",
    "thrust needed for 1.3 g off the pad = 1.3 · 105 t · 9.81 m/s² = 1339 kN",
    "ideal gain of stage 1 = 3562 m/s\nideal gain of stage 2 = 5617 m/s\ntotal = 3562 m/s + 5617 m/s = 9179 m/s",
]


@pytest.mark.parametrize(("kind", "page", "right"), FOUND, ids=numbered(FOUND))
def test_a_rule_finds_its_slip_and_says_what_it_should_be(kind, page, right):
    assert_found(kind, page, right, rel=6e-3)  # the pages round to three figures


@pytest.mark.parametrize("page", SOUND)
def test_its_sound_neighbour_passes(page):
    assert_sound(page, Verdict.RIGHT, Verdict.APPROXIMATION)
