"""Slips that the rest of the page tells: sums by what each value holds, units by words, powers by what was changed."""

from __future__ import annotations

import pytest
from pages_with_slips import assert_found, assert_sound, numbered

from wetmass.record.working import Verdict

# (kind, page, what the last line should say in SI); worked out by hand.  S53: the speed of sound at 11 km is
# 295.1 m/s, U.S. Standard Atmosphere 1976.
FOUND = [
    ("S31", "propellant = 178.7 t\ndry mass = 16 t\nupper stage = 42 t\nsatellite = 5 t\n"
            "lift-off mass = 178.7 + 16 + 42 = 236.7 t", 241.7e3),
    ("S37", "dry mass = 24 t\npropellant = 305 t\nupper stage and payload = 88 t\nfairing = 3.2 t\n"
            "lift-off: 24 + 305 + 88 = 417 t", 420.2e3),
    ("S31", "start = 9.2 + 0.8 + 3.2 = 13.2 t\npropellant = 9.2 t\npayload = 3.2 t\nstart mass: 9.2 + 0.8 + 3.2 = 13.2 t\n"
            "final mass = 13.2 − 9.2 + 3.2 = 7.2 t", 4.0e3),
    ("S31", "The stage keeps 7 t; the 1 t of reserve is already inside those 7 t.\nat cut-off = 18 + 7 + 1 = 26 t", 25e3),
    ("S05", "start = 52 t\nΔv = 3.34 km/s · ln(43.5/8.5) = 5.45 km/s", 6050.0),
    ("S48", "v1 = √(398600/6578) = 7.784 km/s\nv2 = √(398600/42164) = 3.075 km/s\n"
            "kick into the ellipse, first burn = 7.784 − 3.075 = 4.709 km/s", 2455.0),
    ("S46", "sin A = cos 51.6°/cos 14° = 0.640\nA = arccos(0.640) = 50.2°", 0.6945),
    ("S06", "q = 16.0 kPa\nThe air halved the speed, so the pressure is halved as well: 16.0/2 = 8.0 kPa", 4000.0),
    ("S06", "volume = 84.8 m³\nTwice as wide and just as long it holds twice as much, 2 · 84.8 = 169.6 m³", 339.2),
    ("S49", "v = 7.67 km/s\nto leave one must be twice as fast: 2 · 7.67 = 15.34 km/s", 10847.0),
    ("S09", "thrust = 100,000 lbf\nin newtons: 100,000 / 4.448 = 22,482 N", 444822.0),
    ("S12", "propellant = 336,197 lb\nin metric tons: 336,197 / 2000 = 168.1 t", 152496.0),
    ("S10", "thrust = 620,000 lbf\nmass = 480,000 lb\nT/W = 620000/(480000·32.2) = 0.0401", 1.292),
    ("S37", "fuel = 3.45 t\nwith 10 % for reserve: 3.45/1.1 = 3.14 t", 3795.0),
    ("S39", "fuel with 20 % reserve = 1.2 · 21.85 t = 26.2 t\nreserve again 20 %: 1.2 · 26.2 = 31.4 t", 26.2e3),
    ("S53", "at 11 km we do 600 m/s, sound does 340: mach 600/340 = 1.76", 2.033),
    ("S43", "separation at 62 km with 900 m/s: top of the arc 900²/(2·9.81)/1000 = 41.3 km above the sea", 103.3e3),
    ("S15", "the gauge shows 3.0 bar over 1.0 bar, absolute pressure = 3.0 − 1.0 = 2.0 bar", 4e5),
    ("S28", "O/F = 1.65\nmixed density = (1.65·1.44 + 0.875)/2.65 = 1.227 t/m³", 1158.0),
    ("S25", "Isp = (280 s + 420 s)/2 = 350 s", 336.0),
    ("S41", "c = 3139 m/s\nmass = 4.87 t\npropellant for 850 m/s: 4.87 · 850/3139 = 1.32 t", 1156.0),
    ("S22", "Today we go to an orbit that is 450 km above the sea, no higher.\ncircular speed: √(398600/6378) = 7.905 km/s", 7641.0),
    ("S51", "thrust = 600 kN\nmass = 25 t\nSo it stops from 180 m/s within 180²·25/(2·600) = 675 m", 1141.0),
    ("S17", "volume = 94.1 m³\nThe tank is 4 m across, so it has to be 94.1/(π·4²) = 1.87 m tall.", 7.49),
    ("S24", "gravity of the Moon = 1.62 m/s²\nIsp = 312 s\nflow = 96000 N/(312·1.62) = 190 kg/s", 31.4),
    ("S26", "sea level: F = 88.9 + 101.3·0.1385 = 102.9 kN", 74.87e3),
    ("S07", "LOX 85,000 kg\n85,000/1.14 = 74,561 litres, or 746 cubic metres", 74.56),
]  # fmt: skip

SOUND = [
    "propellant = 178.7 t\ndry mass = 16 t\nupper stage with satellite = 47 t\nsatellite = 5 t\n"
    "lift-off mass = 178.7 + 16 + 47 = 241.7 t",
    "The stage keeps 7 t; the 1 t of reserve is already inside those 7 t.\nat cut-off = 18 + 7 = 25 t",
    "start = 52 t\nΔv = 3.34 km/s · ln(52/8.5) = 6.05 km/s",
    "v1 = √(398600/6578) = 7.784 km/s\nv2 = √(398600/42164) = 3.075 km/s\ndifference = 7.784 − 3.075 = 4.709 km/s",
    "q = 16.0 kPa\nThe air halved the speed, so the pressure is a quarter: 16.0/4 = 4.0 kPa",
    "volume = 84.8 m³\nTwice as wide and just as long it holds four times as much, 4 · 84.8 = 339.2 m³",
    "burn = 1198 s\nthe same = 1198/60 = 20.0 min",
    "fuel = 3.45 t\nwith 10 % for reserve: 3.45 · 1.1 = 3.80 t",
    "With 15 % in hand it can lift 236/1.15 = 205 t",
    "at 11 km we do 600 m/s, sound does 295: mach 600/295 = 2.03",
    "mean Isp of the climb = (282 s + 311 s)/2 = 296.5 s",
    "volume = 94.1 m³\nThe tank is 4 m across, so it has to be 94.1/(π·2²) = 7.49 m tall.",
    "the oxygen sits in a cylinder 4 m across and 10 m tall, and that holds π·2²·10 = 125.7 m³.",
    "the exhaust speed, 282 times 9.81, 2766 m/s",
    "radius of the ball: ∛(3·0.176/(4π)) = 0.348 m, so 696 mm across",
]


@pytest.mark.parametrize(("kind", "page", "right"), FOUND, ids=numbered(FOUND))
def test_a_slip_told_by_other_lines_is_found_and_put_right(kind, page, right):
    assert_found(
        kind, page, right, rel=0.01
    )  # the numbers of the pages are rounded to three figures on the way


@pytest.mark.parametrize("page", SOUND)
def test_the_sound_neighbour_passes(page):
    assert_sound(page, Verdict.RIGHT)
