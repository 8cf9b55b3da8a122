"""What pages by other hands taught: names, letters, amounts in a name, and slips told by one word."""

from __future__ import annotations

import pytest

from wetmass.record.working import Verdict
from wetmass.working import check

FOUND = [
    # (kind, the page, what the last line should say)
    ("S01", "h1 = 350 km\nr1 = 6728 km\na = 7153 km\ntransfer time = 2π·sqrt(7153³/398600) = 6021 s", 3010.0),
    ("S06", "μ = 398600 km³/s²\nr1 = 6728 km\nsemi-major axis of the transfer a = 7153 km\n"
            "perigee speed v_p = sqrt(398600·(2/6728 + 1/7153)) = 13.20 km/s", 7922.0),
    ("S27", "fuel mass = 12568 kg\nLOX density = 1141 kg/m3\nRP-1 density = 810 kg/m3\n"
            "fuel volume = 12568/1141 = 11.01 m3", 15.52),
    ("S37", "tank volume before = 15.52 m3\nfuel tank volume, 3 % ullage = 15.52*0.97 = 15.05 m3", 16.0),
    ("S04", "p = 1.8 MPa\nburst pressure at 1.5 = 1.8/1.5 = 1.200 MPa", 2.7e6),
    ("S18", "diameter = 2.2 m\ncylinder length = 6.592 m\noverall length = 6.592 + 1.1 = 7.692 m", 8.792),
    ("S46", "thrust = 270.2 kN\ngimbal side force at 5° = 270.2*COS(5°) = 269.2 kN", 23550.0),
    ("S24", "g on the Moon = 1.62 m/s²\nmass = 5200 kg\nhover thrust = 5200·9.81 = 51012 N", 8424.0),
    ("S23", "thrust at sea level: 330 kN\nIsp at sea level: 262 s\nvacuum Isp: 294 s\n"
            "flow: 330000/(9.81·294) = 114.4 kg/s", 128.4),
    ("S35", "residuals = 0.8 %\npropellant = 31.0 t\nusable propellant = 31.0·(1 − 0.08) = 28.52 t", 30752.0),
    ("S42", "boil-off: 305.6 mg/s\nin an hour: 305.6 mg/s · 60 = 18.34 g", 1.1),
    ("S31", "Cd = 0.48\nrho = 1.2 kg/m^3\nfrontal area = 0.01887 m^2\n"
            "drag at 400 m/s = 0.5*1.2*400^2*0.01887 = 1812 N", 869.6),
    ("S25", "stage 1 Δv = 4018 m/s\nstage 2 Δv = 4522 m/s\ntotal Δv = (4018 + 4522)/2 = 4270 m/s", 8540.0),
    ("S01", "```\nacceleration = 12 m/s²\nburn time = 169 s\nheight = acceleration * burn time² = 342.7 km\n```", 171366.0),
]  # fmt: skip

SOUND = [
    "A spherical tank.\nD = 2.4 m\np = 1.8 MPa\nσ = 620 MPa\nA = π·D² = 18.10 m²\n"
    "t = p·D/(4σ) = 1.8·2.4/(4·620) = 1.742 mm",
    "hop distance = 120 km\ng on the Moon = 1.62 m/s²\nspeed for the hop = sqrt(120000·1.62) = 440.9 m/s",
    "thrust = 880 kN\nmass = 15770 kg\nmax accel = 880000/15770/9.81 = 5.69 g",
    "throat heat flux 40 MW/m2 over 0.05 m2 = 40*0.05 = 2.00 MW",
    "thrust 9·180 kN = 1620 kN",
    "row 2: stage 2 propellant = 9800 kg\nrow 3: stage 2 dry = 920 kg\nrow 4: stage 2 burned = 9800 kg",
    "period = 6179 s\nr = 7278 km\nshadow, at most = 6179*asin(6378/7278)/180 = 2101 s",
    "strap-on propellant = 150 t\nnumber of strap-ons = 4\nstrap-on flow = 1551 kg/s\n"
    "strap-on burn time = 150000/1551 = 96.71 s",
]


def worked(page):
    return check(page, "a.md" if "```" in page else "a.txt")


@pytest.mark.parametrize(("kind", "page", "right"), FOUND)
def test_a_slip_of_a_page_by_another_hand_is_found(kind, page, right):
    line = worked(page).lines[-1]
    assert line.verdict is Verdict.OFF, line
    assert kind in {line.likely.kind, *line.likely.same_as}, line.likely
    # stated digits of the page's own values carry at most four figures
    assert line.recomputed == pytest.approx(right, rel=4e-3)


@pytest.mark.parametrize("page", SOUND)
def test_a_sound_page_by_another_hand_passes(page):
    assert [line for line in worked(page).lines if line.verdict in (Verdict.OFF, Verdict.UNCLEAR)] == []


def test_a_relation_known_by_its_units_alone_is_only_asked_about():
    line = worked("a thing = 2·(30 m/s)²/(9.81 m/s²) = 183.5 m").lines[-1]
    assert line.verdict is not Verdict.OFF
    line = worked("v = 30 m/s\na thing = (30 m/s)²/(9.81 m/s²) = 91.7 m").lines[-1]
    assert line.verdict is Verdict.UNCLEAR
    assert "looks like" in line.sentence


def test_a_misspelt_function_beside_an_angle_is_no_exception():
    page = worked("launch azimuth = as6n(cos(97.8)/cos(14.2)) = -8.047°\nmass = 3 t")
    assert page.lines[-1].verdict is Verdict.RIGHT
