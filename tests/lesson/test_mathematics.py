"""Formulas as they are written: the same number as the tree, and the same look as in a book."""

import importlib
import math
import pkgutil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import wetmass.physics
from lesson import reading_mathematics as reading
from wetmass.lesson.mathematics import Lines, MathML, Typst, tidy
from wetmass.lesson.mathematics.numbers import digits
from wetmass.physics import rocket
from wetmass.physics.pattern import RELATIONS
from wetmass.record.expression import Number, Operation, Symbol, evaluate
from wetmass.record.plain import formula
from wetmass.record.tidy import size

for _module in pkgutil.walk_packages(wetmass.physics.__path__, "wetmass.physics."):
    importlib.import_module(_module.name)


def _has_formula(relation):
    try:
        return relation.formula is not None
    except TypeError:  # over a table
        return False


SHOWN = sorted(name for name, relation in RELATIONS.items() if _has_formula(relation))


def test_nearly_every_relation_has_a_formula_to_show():
    assert len(SHOWN) > 80


@st.composite
def drawn(draw, name):
    letters = RELATIONS[name].letters
    return {
        key: draw(st.floats(one.low, one.high, allow_nan=False).map(lambda x: x + 0.0))
        for key, one in letters.items()
    }


def _step(name, values):
    try:
        return RELATIONS[name].step(**values)
    except (ValueError, OverflowError, ZeroDivisionError):  # outside what the relation takes together
        return None


def _values(step):
    return {put.symbol: put.value for put in step.inputs}


def _close(one, other):
    # constants are written with 7 figures; differences of near values may lose three of them
    return math.isclose(one, other, rel_tol=2e-4, abs_tol=1e-9 * max(1.0, abs(other)))


@pytest.mark.parametrize("name", SHOWN)
def test_the_tidied_formula_gives_the_number_of_its_step(name):
    @settings(max_examples=25)
    @given(drawn(name))
    def check(values):
        step = _step(name, values)
        if step is None or len(_values(step)) < len(step.inputs):
            return
        whole = evaluate(step.formula, _values(step))
        tidied = evaluate(tidy(step.formula), _values(step))
        assert math.isclose(
            tidied, whole, rel_tol=1e-9, abs_tol=1e-12 * max(map(abs, _values(step).values()))
        )

    check()


READABLE = [
    name for name in SHOWN if size(tidy(RELATIONS[name].formula)) <= 120
]  # longer ones are not written


@pytest.mark.parametrize("name", READABLE)
def test_what_is_written_with_numbers_put_in_gives_the_result(name):
    tree = tidy(RELATIONS[name].formula)

    @settings(max_examples=25)
    @given(drawn(name))
    def check(values):
        step = _step(name, values)
        if step is None or len(_values(step)) < len(step.inputs):
            return
        put = {one.symbol: (one.value, one.unit) for one in step.inputs}
        expected = evaluate(step.formula, _values(step))
        try:
            assert _close(reading.mathml(MathML(put, figures=15).formula(tree)), expected)
            assert _close(reading.mathml("".join(MathML(put, figures=15).chunks(tree))), expected)
            if "select" not in repr(tree):
                assert _close(reading.typst(Typst(put, figures=15).formula(tree)), expected)
        except (ValueError, ZeroDivisionError):  # a difference of two values that round to the same digits
            return

    check()


def test_the_reading_sees_a_wrong_sign_and_a_lost_bracket():
    a, b, c = (Symbol(x) for x in "abc")
    put = {"a": (7.0, "m"), "b": (3.0, "m"), "c": (2.0, "m")}
    right = MathML(put).formula(a - (b + c))
    assert reading.mathml(right) == 2.0
    assert reading.mathml(right.replace("−", "+", 1)) == 12.0
    lost = right.replace("<mrow><mo>(</mo>", "").replace("<mo>)</mo></mrow>", "")
    assert lost != right and reading.mathml(lost) == 6.0
    assert reading.mathml(MathML(put).formula(a - b + c)) == 6.0
    assert reading.typst(Typst(put).formula(a - (b + c))) == 2.0


def test_brackets_stand_where_they_must():
    a, b = Symbol("a"), Symbol("b")
    minus = {"a": (7.0, "m"), "b": (-3.0, "m")}
    for tree, value in ((a - b, 10.0), (a * b, -21.0), (b**2, 9.0), (-b, 3.0), ((a + b) ** 2, 16.0)):
        assert reading.mathml(MathML(minus).formula(tree)) == value
        assert reading.typst(Typst(minus).formula(tree)) == value
        assert evaluate(tree, {"a": 7.0, "b": -3.0}) == value


# ── the look ─────────────────────────────────────────────────────────────────────────────────────


def test_known_constants_have_their_names():
    d = Symbol("D")
    assert formula(tidy(math.pi * d * d / 4.0)) == "π·D²/4"
    assert formula(tidy(2.0 * math.pi * d)) == "2·π·D"
    assert formula(tidy(9.80665 * d)) == "g₀·D"
    assert formula(tidy((2.0 / 3.0) * d)) == "2/3·D"
    assert formula(tidy(0.0622 * d)) == "0.0622·D"  # a constant of a fit stays what it is
    assert formula(tidy(Operation("pow", (d, Number(1.0 / 3.0))))) == "D^(1/3)"


def test_units_stand_upright_and_numbers_have_their_thousands_apart():
    text = MathML().quantity(115_306.37, "kg")
    assert "<mn>115\u2009300</mn>" in text and "<mtext>kg</mtext>" in text
    assert Typst().quantity(115_306.37, "kg") == '"115\u2009300" thin "kg"'


def test_minus_is_a_minus_sign():
    assert '<mo form="prefix">−</mo><mn>81.4</mn>' in MathML().quantity(-81.4, "m/s")
    assert "-" not in Typst().quantity(-81.4, "m/s")


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (115306.37, ("115\u2009300", 0)), (1.0 / 3.0, ("0.3333", 0)), (73e9, ("7.3", 10)), (0.0, ("0", 0)),
        (0.000255, ("2.55", -4)), (9_999_999.0, ("1", 7)), (9_999_000.0, ("9\u2009999\u2009000", 0)),
    ],
)  # fmt: skip
def test_digits_by_rule(value, text):
    assert digits(value) == text


def test_letters_have_upright_indices_and_flows_a_dot():
    assert MathML().letter("m_dry") == "<msub><mi>m</mi><mtext>dry</mtext></msub>"
    assert MathML().letter("m₀") == "<msub><mi>m</mi><mn>0</mn></msub>"
    assert MathML().letter("ṁ").startswith("<mover")
    assert MathML().letter("Δv").startswith('<mrow><mi mathvariant="normal">Δ</mi><mi>v</mi>')
    assert MathML().letter("F/W") == "<mfrac><mrow><mi>F</mi></mrow><mrow><mi>W</mi></mrow></mfrac>"
    assert Typst().letter("ṁ_f") == 'dot(m)_("f")'


def test_golden_lines_of_the_rocket_equation():
    # c·ln(m₀/m₁) as any textbook sets it; by hand 3344.1 × ln 4.14323 = 3344.1 × 1.42148 = 4753.6
    step = rocket.ideal_speed_gain.step(exhaust_speed=3344.1, start_mass=115_306.0, end_mass=27_830.0)
    lines = Lines.of(step, Typst)
    assert lines.letters == ("c dot.op ln(frac(m_(0), m_(1)))",)
    assert lines.numbers == (
        '"3\u2009344" thin "m/s" times ln(frac("115\u2009300" thin "kg", "27\u2009830" thin "kg"))',
    )
    assert lines.result == '"4\u2009754" thin "m/s"'
    html = Lines.of(step)
    assert html.letters[0].startswith("<mi>c</mi><mo>⋅</mo><mrow><mi>ln</mi><mo>\u2061</mo><mo>(</mo><mfrac>")


def test_a_long_sum_comes_in_pieces():
    a, b, c = (Symbol(x) for x in "abc")
    assert MathML().chunks(a - b + c) == (
        "<mi>a</mi>", '<mo form="infix">−</mo><mi>b</mi>', '<mo form="infix">+</mo><mi>c</mi>',
    )  # fmt: skip


def test_typst_sets_every_formula():
    import typst

    lines = ["#set page(width: 60cm, height: auto)"]
    for name in SHOWN:
        tree = tidy(RELATIONS[name].formula)
        lines.append(f"$ {Typst().letter(RELATIONS[name].symbol)} = {Typst().formula(tree)} $")
    assert typst.compile("\n".join(lines).encode(), format="svg")
