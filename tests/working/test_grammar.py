"""The grammar of workings: what people write is read, what they might type never harms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wetmass.record.refusal import Refusal
from wetmass.working import check
from wetmass.working.page import LONGEST_PAGE, RawLine, read
from wetmass.working.scope import Scope
from wetmass.working.statement import parse, split
from wetmass.working.tokens import Unreadable, plain, tokens
from wetmass.working.tree import evaluate, number
from wetmass.working.units import LENGTH, MASS, NONE, SPEED, UNITS


def side(text: str) -> float:
    """SI value of an expression."""
    statement = parse(RawLine(1, 1, text, "", 0, True), f"x = {text} = 1", Scope())
    tree = statement.parts[0].trees[0]
    value = evaluate(tree).value
    assert number(tree) == value  # the fast evaluation and the one with dimensions are one
    return value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2 π² · 6.2 m · (1.4 m)²", 2 * math.pi**2 * 6.2 * 1.4**2),
        ("318 s × 9.81 m/s² × ln(412/148)", 318 * 9.81 * math.log(412 / 148)),
        ("264 t / 1.9 t/s", 264 / 1.9),
        ("1.47e6/112", 1.47e6 / 112),
        ("1.47 x 10^6 N / 112 t", 1.47e6 / 112e3),
        ("411 000 kg + 25,600 kg", 436600.0),
        ("0.5 * 1.225 kg/m^3 * (350 m/s)^2", 0.5 * 1.225 * 350**2),
        ("9.81 m/s/s * 2 min", 9.81 * 120),
        ("120 W · 24 h / 446 kJ/kg", 120 * 86400 / 446e3),
        ("√2 · 7.6 km/s", math.sqrt(2) * 7600),
        ("sqrt(398600 km³/s² / 6778 km)", math.sqrt(398600e9 / 6778e3)),
        ("1 + 1/sin(180°/9)", 1 + 1 / math.sin(math.pi / 9)),
        (
            "asin(cos(51.6°)/cos(14.2°))",
            math.asin(math.cos(math.radians(51.6)) / math.cos(math.radians(14.2))),
        ),
        ("3200 K · (1/50)^((1.2-1)/1.2)", 3200 * 0.02 ** (0.2 / 1.2)),
        ("80 t × (1 - 2 %)", 78400.0),
        ("-2^2", -4.0),
        ("2^-1", 0.5),
        ("6 N s / 3 kg", 2.0),
        ("5 kg·m/s", 5.0),
        ("2³", 8.0),
        ("e^2", math.exp(2)),
        ("log10 100", 2.0),
        ("(300 + 22) t", 322e3),
        ("300 + 22 t", 322e3),
        ("½ · 4", 2.0),
        ("10^3 m", 1000.0),
        ("4/3 pi 2.5^3", 4 / 3 * math.pi * 2.5**3),
        ("1.5 % of 9.25 km/s", 0.015 * 9250),
    ],
)
def test_expressions_people_write_have_the_value_they_mean(text, value):
    assert side(text) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "typed", "half"),
    [
        ("412", 412, 0.5),
        ("3.19", 3.19, 0.005),
        ("3000", 3000, 50),
        ("1.2e6", 1.2e6, 5e4),
        ("0.0450", 0.045, 5e-5),
    ],
)
def test_a_number_carries_half_of_its_last_digit(text, typed, half):
    (token,) = tokens(text)
    assert token.value == pytest.approx(typed)
    assert token.half == pytest.approx(half)


def test_a_decimal_comma_is_named_and_put_right():
    with pytest.raises(Unreadable, match=r"“2,5” has a comma where a decimal point belongs; write 2\.5"):
        tokens("2,5 t")
    page = check("mass = 2,5 t", "a.txt")
    assert page.lines[0].verdict.value == "unclear"
    assert "write 2.5" in page.lines[0].sentence


def test_a_line_may_hold_several_statements():
    assert [piece for _, piece in split("R = 6.2 m, r = 1.4 m; h = 2 m")] == [
        "R = 6.2 m",
        "r = 1.4 m",
        "h = 2 m",
    ]


def test_names_in_greek_and_in_plain_letters_are_one():
    for line in ("Δv = 3 km/s", "delta-v = 3 km/s", "dv = 3 km/s", "ΔV = 3 km/s"):
        page = check(f"{line}\nlosses = 1 km/s\nspeed = Δv - losses = 2 km/s", "a.txt")
        assert page.lines[2].recomputed == pytest.approx(2000.0)


def test_only_working_is_read_from_markdown():
    text = """# Stage 1
We met at 14:30 and spoke of 3 = three things in prose that goes on.

```yaml
m = 3
```

```
mass = 3 t
```
- thrust: 12 kN
<!-- mass = 9 t -->
"""
    assert [(raw.number, raw.text, raw.stage) for raw in read(text)][1:] == [
        (9, "mass = 3 t", "1"),
        (11, "thrust: 12 kN", "1"),
    ]
    assert [line.text for line in check(text).lines] == ["mass = 3 t", "thrust: 12 kN"]


def test_a_page_too_large_is_refused_in_words():
    with pytest.raises(Refusal, match="so that a check stays quick"):
        check("x" * (LONGEST_PAGE + 1))


def test_units_agree_with_those_of_concept_files():
    concept = pytest.importorskip("wetmass.concept.units")
    shared = 0
    for name, (factor, _) in UNITS.items():
        try:
            other = concept.unit(name)
        except Exception:
            continue
        if name in ("psig",):
            continue
        shared += 1
        assert other.factor == pytest.approx(factor, rel=1e-9), name
    assert shared > 40


def test_dimensions_are_told_in_words():
    from wetmass.working.units import dimension_words

    assert dimension_words(MASS) == "a mass"
    assert dimension_words(SPEED) == "a speed"
    assert dimension_words(NONE) == "a plain number"
    assert dimension_words((2.0, 0.0, 1.0, 0.0, 0.0)) == "a quantity in m²·s"
    assert dimension_words(LENGTH) == "a length"


_ALPHABET = list(
    "0123456789.,+-−×·*/÷^²³()[]{}=≈~→:;%°√½πΔρ_ \tabcdefghijklmnopqrstuvwxyzABFIKLMNPRTVW|#`$\\\n"
)
_PIECES = st.sampled_from(
    [
        "m0 = 3 t",
        "ln(",
        "sin(28.5",
        "sqrt(",
        "9.81 m/s²",
        "10^",
        "e^",
        " = ",
        " ≈ ",
        "kg/m³",
        "318 s",
        "(",
        ")",
        "^^",
        "## Stage 1",
        "```",
        "| a | 3 t |",
        "- ",
        "1e400",
        "10^999",
        "9" * 50,
        "²²",
        "asin(3)",
        "1/0",
        "√−1",
        "0^-1",
        "%",
        "about",
        "m0",
        "Isp",
        "Δv = ",
        "2,5",
        "\n",
        "of",
        "\\sqrt{2}",
        "°C",
        "x",
        "/",
        "T/W",
        "nautical miles",
    ]
)


@settings(max_examples=400, deadline=None)
@given(
    st.one_of(
        st.text(_ALPHABET, max_size=120), st.lists(_PIECES, max_size=24).map("".join), st.text(max_size=60)
    )
)
def test_no_text_raises_anything_but_a_refusal(text):
    for name in ("a.md", "a.txt"):
        try:
            page = check(text, name)
        except Refusal:
            continue
        for line in page.lines:
            assert line.verdict
            assert line.verdict.value != "off" or line.sentence


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 400), st.sampled_from(["(", "-", "sqrt(", "2^", "1+", "ln ", "1/", "((1+", "- 3 ("]))
def test_nesting_is_bounded(depth, piece):
    check(f"x = {piece * depth}1 = 2", "a.txt")


@settings(max_examples=150, deadline=None)
@given(
    st.floats(1e-3, 1e6),
    st.floats(1e-3, 1e6),
    st.sampled_from(["+", "−", "×", "/"]),
    st.integers(3, 6),
    st.sampled_from(["", " t", " km/s", " kN", " m³"]),
)
def test_sound_arithmetic_is_right_at_any_stated_precision(a, b, sign, figures, unit):
    shown_a, shown_b = f"{a:.4g}", f"{b:.4g}"
    if "e" in shown_a + shown_b or (unit and shown_b.startswith("9.8")):
        return  # 2.5 t × 9.81 is a weight: said so
    x, y = float(shown_a), float(shown_b)
    value = {"+": x + y, "−": x - y, "×": x * y, "/": x / y}[sign]
    if value == 0 or not 1e-3 < abs(value) < 1e9:
        return
    decimals = max(0, figures - 1 - math.floor(math.log10(abs(value))))
    result = f"{value:.{decimals}f}".replace("-", "−")
    other = shown_b + (unit if sign in "+−" else "")
    page = check(f"alpha = {shown_a}{unit} {sign} {other} = {result}{unit}", "a.txt")
    (line,) = page.lines
    assert line.verdict.value == "right", (line.text, line.sentence)


def test_plain_undoes_typesetting():
    assert plain(r"\Delta v = \sqrt{2}") == "Δ v = sqrt{2}" or "sqrt" in plain(r"\sqrt{2}")


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_no_sound_page_with_its_numbers_shaken_raises(data):
    """Pages of the corpus with numbers, signs and units exchanged at random: closer to what people mistype."""
    import re
    from pathlib import Path

    pages = sorted((Path(__file__).parents[2] / "benchmarks" / "slips" / "sound").iterdir())
    path = data.draw(st.sampled_from(pages))
    rows = path.read_text().split("\n")
    for _ in range(data.draw(st.integers(1, 4))):
        index = data.draw(st.integers(0, len(rows) - 1))
        spots = list(re.finditer(r"\d+\.?\d*|[-+*/·×−^²=(]|\b(?:km|kN|t|m|s|ln|sin)\b", rows[index]))
        if not spots:
            continue
        spot = data.draw(st.sampled_from(spots))
        new = data.draw(
            st.sampled_from(
                ["0", "1", "-1", "1e9", "0.001", "", "(", "/", "^", "log10", "kg", "°", "%", "= 3"]
            )
        )
        rows[index] = rows[index][: spot.start()] + new + rows[index][spot.end() :]
    page = check("\n".join(rows), path.name)
    for line in page.lines:
        assert line.sentence or line.verdict.value in ("right", "approximation")
