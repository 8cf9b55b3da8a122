"""Verdicts: faults are found and named, sound lines are left in peace."""

from __future__ import annotations

import io
import json

import pytest

from wetmass.record.working import Verdict
from wetmass.working import annotated, as_json, check, check_claims, plain, terminal


def last(text: str, name: str = "a.txt"):
    return check(text, name).lines[-1]


# Invented instances of ../shared/checks/slips.md, recomputed there with g0 = 9.80665; the kind is its number.
INSTANCES = [
    ("S01", "a = 12 m/s²\nt = 60 s\ndistance = ½·a·t² = 43.2 km", 21_600.0),
    ("S02", "Isp = 350 s\nΔv = 350 s · 9.80665 m/s² · ln(4) = 485 m/s", 4758.0),
    ("S03", "c = 3000 m/s\nΔv = 3000 m/s · ln(5) = 2097 m/s", 4828.0),
    ("S04", "c = 3000 m/s\nΔv = 3000 m/s · ln(5) = −4828 m/s", 4828.0),
    ("S05", "m0 = 500 t\nm1 = 100 t\nc = 3300 m/s\nΔv = c·ln(m0/m1) = 4575 m/s", 5311.0),
    ("S07", "F = 2300 kN\nflow = 800 kg/s\nIsp = F/(flow·9.81 m/s²) = 0.293 s", 293.0),
    ("S08", "thrust = 7 · 900 kN = 630 kN", 6.3e6),
    ("S09", "F = 100,000 lbf = 100,000 N", 444_822.0),
    ("S12", "mass = 120 US tons = 120 t", 108_862.0),
    ("S13", "height = 100 nmi = 160.9 km", 185_200.0),
    ("S14", "gain = 465.1 m/s · cos(28.5°) = −453 m/s", 408.7),
    ("S17", "diameter = 4 m\nlength = 20 m\ntank volume = π·4²·20 = 1005 m³", 251.3),
    ("S18", "r = 2 m\ntwo domes = 2 · 2/3 · π · r³ = 16.8 m³", 33.51),
    ("S20", "ratio of ring and engine radius = 1 + 1/sin(180°/9) = 2.92", 3.924),
    ("S22", "speed in orbit = sqrt(398600 km³/s² / (6378 km + 400 km)) = 31.6 km/s", 7669.0),
    ("S24", "thrust = 45 kN\nmass = 15 t\nT/W on the Moon = 45 kN/(15 t·1.62 m/s²) = 0.306", 1.852),
    ("S25", "F1 = 6000 kN\nF2 = 1300 kN\nmean Isp = (6000+1300)/(6000/268 + 1300/362) = 315.0 s", 281.0),
    ("S29", "propellant = 100 t\nO/F = 3.5\nfuel = 100 t/(1 + 3.5) = 28.6 t", 22_222.0),
    ("S31", "lift-off mass = 300 + 22 + 75 + 6 + 12 = 403 t", 415_000.0),
    ("S37", "usable = 80 t · (1 − 2 %) = 81.6 t", 78_400.0),
    ("S45", "to gain = 7784 m/s − 408 m/s = 8192 m/s", 7376.0),
    ("S47", "plane change = 2·7794 m/s·sin(28°/2) = 3809 m/s", 3771.0),
    ("S49", "circular speed = sqrt(398600 km³/s²/6778 km) = 10.845 km/s", 7669.0),
    ("S51", "stopping distance = (250 m/s)²/(2·(300 kN/18 t − 9.81 m/s²)) = 1875 m", 4557.0),
]


@pytest.mark.parametrize(("kind", "text", "right"), INSTANCES)
def test_a_keyed_slip_is_found_named_and_put_right(kind, text, right):
    line = last(text)
    assert line.verdict is Verdict.OFF
    assert kind in {line.likely.kind, *line.likely.same_as}, (line.likely, [slip.kind for slip in line.slips])
    assert line.recomputed == pytest.approx(
        right, rel=2e-3
    )  # the instances are rounded to three or four digits


# The same kinds written into the formula: the digits follow, the relation does not hold.
WRITTEN = [
    ("S01", "rho = 0.364 kg/m³\nv = 460 m/s\nmax q = 0.364 · 460² = 77.0 kPa", 38_510.0),
    ("S02", "Isp = 350 s\nm0 = 40 t\nm1 = 10 t\nΔv = 350·ln(40/10) = 485 m/s", 4758.0),
    ("S03", "c = 3000 m/s\nm0 = 50 t\nm1 = 10 t\nΔv = 3000 · log10(50/10) = 2097 m/s", 4828.0),
    ("S17", "diameter = 4 m\nlength = 20 m\ntank volume = π·4²·20 = 1005 m³", 251.3),
    ("S19", "R = 6.2 m\nr = 1.4 m\nring volume = 2·π·R·r² = 76.4 m³", 239.9),
    ("S22", "mu = 398600 km³/s²\naltitude = 400 km\ncircular speed = sqrt(398600/400) = 31.6 km/s", 7669.0),
    (
        "S23",
        "Isp sea level = 270 s\nIsp vacuum = 305 s\nsea-level exhaust speed = 305 · 9.81 = 2992 m/s",
        2648.7,
    ),
    (
        "S28",
        "LOX density: 1141 kg/m³\nLH2 density: 70.8 kg/m³\nO/F: 6\nbulk density = (6·1141 + 70.8)/7 = 988 kg/m³",
        361.0,
    ),
    (
        "S31",
        "stage 1 propellant = 300 t\nstage 1 dry = 22 t\nstage 2 propellant = 75 t\nstage 2 dry = 6 t\n"
        "payload = 12 t\nlift-off mass = 300 + 22 + 75 + 6 = 403 t",
        415_000.0,
    ),
    (
        "S32",
        "stage 1 dry = 22 t\nstage 2 propellant = 75 t\nstage 2 dry = 6 t\npayload = 12 t\n"
        "stage 2 ignition mass = 75 + 6 + 12 + 22 = 115 t",
        93_000.0,
    ),
    (
        "S41",
        "m0 = 30 t\nm1 = 10 t\nF = 500 kN\nburn time = 100 s\nburnout speed = (500/30 − 9.81)·100 = 686 m/s",
        1766.0,
    ),
    ("S48", "v low = 7784 m/s\nv high = 3075 m/s\ntransfer Δv = 7784 − 3075 = 4709 m/s", 3932.0),
]


WRITTEN += [
    ("S30", "engines = 9\nthrust per engine = 845 kN\nGLOW = 549 t\nT/W = 845/(549·9.81) = 0.157", 1.412),
    ("S17", "exit diameter = 0.92 m\nexit area = π/4 · (1.84 m)² = 2.66 m²", 0.665),
    ("S29", "LOX = 158.8 t\nO/F = 2.56\nfuel = 158.8 t · 2.56 = 406.5 t", 62_030.0),
    ("S35", "throttle = 45 %\nminimum thrust = 45 · 210 kN = 9450 kN", 94_500.0),
    ("S53", "rho at 11 km = 0.364 kg/m³\nv = 480 m/s\nq = 0.5·1.225·480² = 141 kPa", 41_930.0),
    ("S15", "T = 15 °C\nm = 300e5·0.45·4.0026/(8314·15) = 433 kg", 22.55),
    ("S23", "## Stage 1\nIsp = 312 s\n## Stage 2\nIsp = 348 s\nc = 9.81 · 312 = 3061 m/s", 3414.0),
    (
        "S24",
        "a0 = 66/4.8 = 13.75 m/s²\nnet a0 = 13.75 − 9.81 = 3.94 m/s²\nheight = 0.5·13.75·10² = 687.5 m",
        197.0,
    ),
    (
        "S40",
        "ideal Δv = 9410 m/s\nsum of losses = 1425 m/s\nspeed at cut-off = 9410 + 1425 = 10835 m/s",
        7985.0,
    ),
    ("S49", "orbital speed = 7.73 km/s\nescape speed = 7.73 · 2 = 15.5 km/s", 10_932.0),
    (
        "S33",
        "stage 1 propellant: 300 t\nstage 1 dry: 22 t\nstage 2 propellant: 75 t\nstage 2 dry: 6 t\nstage 1 Isp: 300 s\n"
        "stage 2 Isp: 345 s\npayload: 12 t\ntotal Δv = (300+345)/2 · 9.80665 · ln(415/40) = 7399 m/s",
        9332.0,
    ),
]  # S33: base case of slips.md, section 5: 9332 m/s


@pytest.mark.parametrize(("kind", "text", "right"), WRITTEN)
def test_a_written_slip_is_found_by_the_relation_behind_the_line(kind, text, right):
    line = last(text)
    assert line.verdict is Verdict.OFF
    assert kind in {line.likely.kind, *line.likely.same_as}, (line.likely, [slip.kind for slip in line.slips])
    assert line.recomputed == pytest.approx(right, rel=3e-3)


def test_two_slips_at_once_are_told_together():
    # a public forum thread in slips.md, S04: ln(750/2500) reported as 2.2 km/s, sign and initial mass both wrong
    line = last("dry = 750 kg\nfuel = 2600 kg\nc = 1.8 km/s\nΔv = c·ln((dry + fuel)/dry) = −2.24 km/s")
    assert line.verdict is Verdict.OFF
    assert {"S04", "S05"} & {line.likely.kind, *line.likely.same_as}


@pytest.mark.parametrize(
    "text",
    [
        "c = 3.04 km/s\nΔv = c · ln 3.42 = 3.74 km/s",  # effective exhaust speed in place of Isp·g₀
        "Isp = 320 s\nc = 9.8 · 320 = 3136 m/s",  # handbook constants at two to four digits
        "c = 9.81 m/s² · 320 s = 3139 m/s",
        "c = 320 s · g0 = 3138 m/s",
        "r = 2.0 m\narea = 3.14 · 2.0² = 12.6 m²",
        "Isp sl = 309 s\nIsp vac = 341 s\nmean over the burn = (309 + 341)/2 = 325 s",  # a stated average
        "F = 7 x 210 kN = 1.47 x 10^6 N",
        "a = F/m = 1470/112 = 13.1 m/s²",
        "Δv ≈ 318 · 9.81 · ln(412/148) → 3.2 km/s",
        "gravity loss about 1.2 km/s",
    ],
)
def test_sound_lines_are_left_in_peace(text):
    page = check(text, "a.txt")
    assert page.clean, [line.sentence for line in page.lines]


def test_the_unit_of_the_result_is_held_against_that_of_the_working():
    line = last("a = 300 kN / 18 t = 16.7 m/s")
    assert line.verdict is Verdict.OFF
    assert "an acceleration" in line.sentence and "a speed" in line.sentence


def test_terms_of_a_sum_must_agree():
    # slips.md S24, a public forum thread: a speed subtracted from a distance
    line = last("x = 120 m/s − 40 m = 80 m")
    assert line.verdict is Verdict.OFF
    assert "subtracted from" in line.sentence


def test_a_value_stated_twice_must_be_the_same():
    line = last("dry mass: 9.4 t\nsecond look, dry mass: 9.8 t")
    assert line.verdict is Verdict.OFF
    assert "Line 1 states dry mass as 9.4 t" in line.sentence


def test_stages_keep_their_own_values():
    page = check("## Stage 1\n- Isp: 300 s\n\n## Stage 2\n- Isp: 345 s\n- c = Isp · 9.81 m/s² = 3384 m/s\n")
    assert page.clean


def test_rounding_carried_down_is_told_with_its_cost():
    # 'Predicting model rocket height (with and without drag)', forum thread of 15 July 2010 (slips.md S44):
    #   46 m/s printed for 46.96 m/s
    line = last(
        "thrust = 4.2 N\nmass = 0.08 kg\nnet = 4.2/0.08 − 9.81 = 42.69 m/s²\nspeed = 42.69 · 1.1 = 46 m/s"
    )
    assert line.verdict is Verdict.OFF
    assert line.likely.kind == "S44"
    sound = last("ratio = 412/148 = 2.8\nc = 3120 m/s\nΔv = c · ln(ratio) = 3212 m/s")
    assert sound.verdict is Verdict.APPROXIMATION
    assert "rounded further up cost" in sound.sentence


def test_putting_a_line_right_moves_all_that_follow():
    page = check(
        "Δv1 = 331 s × 9.81 m/s² × ln(128.4/39.2) = 1.67 km/s\nΔv2 = 4.10 km/s\ntotal = Δv1 + Δv2 = 5.77 km/s",
        "a.txt",
    )
    (effect,) = page.lines[0].effects
    assert (effect.line, effect.name, effect.before, effect.after, effect.final) == (
        3,
        "total",
        "5.77 km/s",
        "7.953 km/s",
        True,
    )
    assert page.lines[2].verdict is Verdict.RIGHT  # it follows from the page's own numbers


def test_published_ranges_are_held_even_where_every_line_follows():
    line = last("thrust = 630 kN\nmass = 450 t\nlift-off T/W = 630/(450 · 9.81) = 0.143")
    assert line.verdict is Verdict.OFF
    assert "1.15 to 1.8" in line.sentence
    assert line.likely.kind == "S08"
    # 1.77 pounds a litre taken as kilograms a litre: Air Canada 143, 1983 (slips.md S11)
    line = last("density of kerosene: 1.77 kg/l")
    assert line.verdict is Verdict.OFF and "S11" in {slip.kind for slip in line.slips}


def test_the_models_value_stands_beside_the_line():
    page = check("burn time = 89.2 t / 452.7 kg/s = 197 s", "a.txt", model={"burn time": (171.0, "as flown")})
    assert "the model has 171 s for burn time (as flown)" in page.lines[0].notes[0]


def test_another_definition_is_different_not_wrong():
    line = last("propellant = 100 t\ndry mass = 11.1 t\nstructural fraction = 11.1/100 = 0.111")
    assert line.verdict is Verdict.APPROXIMATION
    assert line.likely.kind == "S34"


def test_claims_are_checked_by_the_same_slips():
    model = {
        "first stage ideal dv": (3853.0, "closed"),
        "insertion speed": (7600.0, "flown"),
        "lift-off mass": (128.4e3, ""),
    }
    page = check_claims({"first stage Δv": "1.67 km/s", "lift-off mass": "128 t", "colour": "3 km"}, model)
    assert [line.verdict.value for line in page.lines] == ["off", "right", "unclear"]
    assert "the model has 3.853 km/s" in page.lines[0].sentence
    assert "no value named “colour”" in page.lines[2].sentence


def test_the_notes_say_what_the_records_say():
    page = check(
        "# T\n\n```\nm0 = 412 t\nm1 = 148 t\nΔv = 318 s · 9.81 m/s² · ln(412/148) = 1.39 km/s\n```\n", "t.md"
    )
    copy = annotated(page)
    for row in page.text.split("\n"):
        assert row in copy.split("\n")
    assert "↳ ✗ The common logarithm for the natural one?" in copy
    assert "Three lines read: two hold, one asks for a second look (line 6)." in copy
    data = json.loads(as_json(page))
    assert data["counts"]["off"] == 1
    assert data["lines"][2]["slips"][0]["kind"] == "S03"
    assert "1.39 km/s" in plain(page)
    from rich.console import Console

    console = Console(width=140, record=True, file=io.StringIO())
    console.print(terminal(page))
    assert "common logarithm" in console.export_text().lower()


def test_a_check_loads_nothing_heavy():
    import subprocess
    import sys

    code = (
        "import sys; from wetmass.working import check, annotated; annotated(check('m = 3 t = 3000 kg', 'a.txt'));"
        "print([m for m in ('numpy','scipy','numba','casadi','pint','rich','pydantic') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
