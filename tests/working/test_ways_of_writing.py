"""A page may be written in many ways: LaTeX, decimal commas, program text, sentences, other tongues, tables."""

from __future__ import annotations

import pytest

from wetmass.record.working import Verdict
from wetmass.working import check
from wetmass.working.names import tags
from wetmass.working.reading import code, commas, latex
from wetmass.working.reading.prose import clauses


def verdicts(text: str, name: str = "page.txt") -> list[str]:
    return [line.verdict.value for line in check(text, name).lines]


def last(text: str, name: str = "page.txt"):
    return check(text, name).lines[-1]


@pytest.mark.parametrize(
    ("written", "level"),
    [
        (r"\Delta v = v_e \ln\frac{m_0}{m_f}", "Δv = v_e ln (m_0/m_f)"),
        (r"\dot m = \frac{F}{I_{sp}\,g_0}", "ṁ = (F/(I_sp g_0))"),
        (r"v = \sqrt{\frac{2\mu}{r}} \\", "v = sqrt( ((2μ)/r))"),
        (r"1 - e^{-\Delta v/c}", "1 - e^(-Δv/c)"),
        (r"\SI{301}{s}", "301 s"),
        (r"\eta = 0{,}4", "η = 0.4"),
    ],
)
def test_latex_is_read_as_its_plain_line(written, level):
    assert latex.level(written).replace(" ", "") == level.replace(" ", "")


def test_a_page_in_latex_holds_and_shows_its_slip():
    text = r"""```
F = 860\,\mathrm{kN}
\dot m = 296.4\,\mathrm{kg/s}
I_{sp} = \frac{F}{\dot m} = \frac{860000}{296.4} = 2901\,\mathrm{s}
```"""
    line = last(text, "page.md")
    assert line.verdict is Verdict.OFF and line.likely.kind == "S02"
    assert line.recomputed == pytest.approx(860000 / 296.4 / 9.80665, rel=1e-6)


def test_decimal_commas_are_told_from_thousands():
    assert commas.level("28,4 t und 110.000 N") == "28.4 t und 110000 N"
    assert commas.uses_commas("28,4 t, 6,0 t, 0,35") and not commas.uses_commas("12,500 kg, 1.25 and 3.4")
    german = "Startmasse = 28,4 t\nBrennschlussmasse = 6,0 t\nAusströmgeschwindigkeit = 4395 m/s\n"
    assert verdicts(german + "Δv = 4395 · ln(28,4/6,0) = 6833 m/s") == ["right"] * 4
    assert last(german + "Δv = 4395 · lg(28,4/6,0) = 2967 m/s").likely.kind == "S03"


@pytest.mark.parametrize(
    ("line", "level"),
    [
        ("ve = isp*9.81      % = 3120 m/s", "ve = isp*9.81 = 3120 m/s"),
        ("m_dry = 210;   % kg", "m_dry = 210 kg"),
        ("m0 = 412e3  # kg, fuelled", "m0 = 412e3 kg"),
        ("dv = math.log(m0/m1)*ve  # 2967 m/s", "dv = log(m0/m1)*ve = 2967 m/s"),
        ("growth = 12 %", "growth = 12 %"),
    ],
)
def test_program_text_keeps_its_units_and_results_in_comments(line, level):
    assert code.level(line) == level


def test_sentences_hold_values_and_sums():
    said = [c.text for c in clauses("With a tube radius of 0.7 m it holds 2 · 3 m³ = 6 m³ of LOX.")]
    assert "tube radius = 0.7 m" in said and any(one.endswith("2 · 3 m³ = 6 m³") for one in said)
    text = (
        "Our rocket weighs 46 t when full, and 31 t of that is propellant.\n"
        "With an exhaust speed of 3400 m/s it gains 3400 · ln(46/31) = 1342 m/s."
    )
    line = last(text)
    assert line.verdict is Verdict.OFF and line.likely.kind == "S05"
    assert line.recomputed == pytest.approx(3810.0, rel=1e-3)  # 3400·ln(46/15)


def test_a_paragraph_goes_on_over_its_lines_and_keeps_their_numbers():
    text = "# Page\n\nThe tube has a radius of\n0.7 m and the barrel is then\nπ · 0.7² = 1.54 m² across.\n"
    (line,) = check(text, "page.md").lines
    assert line.place.line == 5 and line.verdict is Verdict.RIGHT


def test_prose_without_numbers_to_check_is_left_alone():
    text = "We met at 14:30 and spoke of the 3 stages, of 12 engines and of what 1969 was like.\n"
    assert verdicts(text, "page.md") == [] and verdicts(text) == []


@pytest.mark.parametrize(
    ("name", "ideas"),
    [
        ("Brennschlussmasse", {"end", "mass"}),
        ("Treibstoffdurchsatz", {"flow"}),
        ("poussée", {"thrust"}),
        ("vitesse d'éjection", {"speed"}),
        ("velocidad de escape", {"exhaust", "speed"}),
        ("V_fu", {"fuel"}),
    ],
)
def test_names_of_other_tongues_and_short_ones_are_known(name, ideas):
    assert ideas <= tags(name) | ({"exhaust"} if "escape" in tags(name) else set())


def test_a_table_has_its_unit_in_a_column():
    text = (
        "| item | formula | value | unit |\n|---|---|---|---|\n"
        "| total thrust | 12·760 | 9120 | kN |\n| liftoff mass | | 640 | t |\n"
        "| liftoff T/W | 9120/(640·9.81) | 1.453 | |\n"
    )
    assert verdicts(text, "page.md") == ["right"] * 3


def test_a_list_behind_a_stage_gives_its_values():
    text = (
        "Stage 1: 310 t propellant, 24 t dry, Isp 301 s\nStage 2: 78 t propellant, 6.5 t dry, Isp 348 s\n"
        "Payload: 13 t\nStage 1 Δv = 301 · 9.81 · ln((310 + 24)/24) = 7775 m/s"
    )
    line = last(text)
    assert line.likely.kind == "S31" and line.recomputed == pytest.approx(3742, rel=2e-3)


def test_spoken_turns_are_products_and_conversions():
    assert last("Seven engines of 840 kN = 5880 kN").verdict is Verdict.RIGHT
    assert last("Seven engines of 840 kN = 588 kN").likely.kind == "S08"
    assert last("sea-level thrust 845,000 lbf = 845 kN").verdict is Verdict.OFF
    assert last("load: 4.35 m³ at 1180 kg/m³ = 5133 kg").verdict is Verdict.RIGHT
    assert last("lift-off weight 210 t = 2060 kN").verdict is Verdict.RIGHT
