"""Quantities are read as people write them, or refused in words that help."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wetmass.concept import dimensions as d
from wetmass.concept.quantity import SpreadKind, exactly, in_user_units
from wetmass.concept.statement import parse_quantity, parse_span
from wetmass.concept.units import TABLE, Unit
from wetmass.record.refusal import Refusal


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("250 t", d.MASS, 250e3),
        ("3.2 km/s", d.SPEED, 3200.0),
        ("60 %", d.NUMBER, 0.6),
        ("309 s", d.TIME, 309.0),
        ("12 500 kg", d.MASS, 12500.0),
        ("12,500 kg", d.MASS, 12500.0),
        ("12\u202f500 kg", d.MASS, 12500.0),
        ("12\u2009500.5 kg", d.MASS, 12500.5),
        ("−40.0 deg", d.ANGLE, -math.radians(40.0)),
        ("4.5 g", d.ACCELERATION, 4.5 * 9.80665),
        ("4.5 g", d.MASS, 0.0045),
        ("120 kPa·deg", d.Q_ALPHA, 120e3 * math.pi / 180),
        ("1135 W/m²", d.HEAT_FLUX, 1135.0),
        ("1.30", d.NUMBER, 1.3),
        (".5 m", d.LENGTH, 0.5),
        ("9.4t", d.MASS, 9400.0),
        ("1.2e6 N", d.FORCE, 1.2e6),
        ("6.67×10⁻¹¹ m", d.LENGTH, 6.67e-11),
        (7, d.NUMBER, 7.0),
        (1.5, d.NUMBER, 1.5),
    ],
)
def test_a_plain_quantity_is_read_into_si(text, dimension, value):
    quantity = parse_quantity(text, dimension)
    assert quantity.value == pytest.approx(value, rel=1e-15)
    assert quantity.spread is None


@pytest.mark.parametrize(
    ("text", "kind", "low", "value", "high"),
    [
        ("9.4 t ± 8 %", SpreadKind.PLUS_MINUS, 8648.0, 9400.0, 10152.0),
        ("9.4 t +/- 500 kg", SpreadKind.PLUS_MINUS, 8900.0, 9400.0, 9900.0),
        ("9.4 ± 0.5 t", SpreadKind.PLUS_MINUS, 8900.0, 9400.0, 9900.0),
        ("8 to 10 t", SpreadKind.RANGE, 8000.0, 9000.0, 10000.0),
        ("800 kg to 1 t", SpreadKind.RANGE, 800.0, 900.0, 1000.0),
        ("9.4 t (8 to 11 t)", SpreadKind.LIKELY, 8000.0, 9400.0, 11000.0),
        ("9.4 t (8 to 11)", SpreadKind.LIKELY, 8000.0, 9400.0, 11000.0),
    ],
)
def test_a_spread_is_read_with_its_ends(text, kind, low, value, high):
    quantity = parse_quantity(text, d.MASS)
    assert quantity.value == pytest.approx(value, rel=1e-15)
    assert quantity.spread is not None and quantity.spread.kind is kind
    assert (quantity.spread.low, quantity.spread.high) == pytest.approx((low, high), rel=1e-15)
    assert str(quantity) == text


def test_a_range_of_two_ends_may_share_its_unit():
    headings = parse_span("0 to 200 deg", d.ANGLE)
    assert (headings.low.value, headings.high.value) == pytest.approx((0.0, math.radians(200.0)))


# text, dimension, word in `got`, word in `accepted`, word in `remedy`
_REFUSED = [
    ("3.7", d.LENGTH, '"3.7"', "a length (m, km, ft)", 'Give a number and a length unit, such as "3.7 m"'),
    ("9.4 t", d.LENGTH, "a mass (t)", "a length (m, km, ft)", '"3.7 m"'),
    ("5", d.ACCELERATION, '"5"', "an acceleration", 'an acceleration unit, such as "4.5 g"'),
    ("120 kPa", d.Q_ALPHA, "a pressure (kPa)", "a pressure times an angle", "120 kPa·deg"),
    ("3030 m/s", d.TIME, "a speed (m/s)", "a time", "divided by 9.80665"),
    ("3.7 m", d.NUMBER, "a length (m)", "a pure number", '"1.3"'),
    ("12 m 40 cm", d.LENGTH, "12 m 40 cm", "one number with one unit", "12.4 m"),
    ("12 ft 4 in", d.LENGTH, "12 ft 4 in", "one number with one unit", "add them up"),
    ("1,5 t", d.MASS, "1,5 t", "a decimal point", '"1.5 t"'),
    ("0,500 t", d.MASS, "0,500 t", "a decimal point", '"0.500 t"'),
    ("12 50 kg", d.MASS, "12 50 kg", "thousands set apart by threes", "odd place"),
    ("1.000.000 m", d.LENGTH, "1.000.000 m", "one plain number", "digits and points"),
    ("1_000 m", d.LENGTH, "1_000 m", "one plain number", "digits and points"),
    ("250 т", d.MASS, "250 т", "a mass", "CYRILLIC SMALL LETTER TE"),
    ("１２ m", d.LENGTH, "１２ m", "a length", "FULLWIDTH DIGIT ONE"),
    ("٣ m", d.LENGTH, "٣ m", "a length", "ARABIC-INDIC DIGIT THREE"),
    ("5 tons", d.MASS, "5 tons", "a mass", "a ton may be"),
    ("3.7 Km", d.LENGTH, "3.7 Km", "a length", "write km: capitals matter"),
    ("nan", d.NUMBER, '"nan"', "a pure number", "a number alone"),
    (".inf", d.NUMBER, '".inf"', "a pure number", "a number alone"),
    ("1e400 m", d.LENGTH, "1e400 m", "a computer can hold", "power of ten"),
    ("1e-400 m", d.LENGTH, "1e-400 m", "zero, or a number above", "power of ten"),
    ("1e40 m", d.LENGTH, "1e40 m", "between 1e-30 and 1e30", "power of ten and the unit"),
    ("", d.LENGTH, "nothing", "a length", '"3.7 m"'),
    ("1" * 200 + " m", d.LENGTH, "1111…", "120 characters at most", '"3.7 m"'),
    ("5 m ± 0 m", d.LENGTH, "± 0 m", "a spread above zero", "leave the ± out"),
    ("5 m ± 1 kg", d.LENGTH, "a mass (kg)", "a length", '"3.7 m"'),
    ("60 % ± 5 %", d.NUMBER, "60 % ± 5 %", "can be read in two ways", '"60 % (57 to 63 %)"'),
    ("10 to 5 m", d.LENGTH, "10 to 5 m", "a range from less to more", "5 to 10"),
    ("20 t (8 to 11 t)", d.MASS, "20 t", "between the two ends", "check the three numbers"),
    (True, d.NUMBER, "True", "a pure number", "a number alone"),
    (float("nan"), d.NUMBER, "nan", "a pure number", "a number alone"),
    (10**400, d.NUMBER, "a huge number", "a pure number", "a number alone"),
]


@pytest.mark.parametrize(
    ("text", "dimension", "got", "accepted", "remedy"), _REFUSED, ids=lambda x: str(x)[:20]
)
def test_a_wrong_statement_is_refused_in_words_that_help(text, dimension, got, accepted, remedy):
    with pytest.raises(Refusal) as refused:
        parse_quantity(text, dimension, "first / height")
    assert refused.value.field == "first / height"
    assert got in refused.value.got
    assert accepted in refused.value.accepted
    assert remedy.casefold() in refused.value.remedy.casefold()


def test_a_spread_is_refused_where_it_has_no_meaning():
    with pytest.raises(Refusal, match="a spread has no meaning here"):
        parse_quantity("38 kPa ± 5 %", d.PRESSURE, spread=False)


_units = st.sampled_from(sorted(TABLE))
_values = st.floats(1e-9, 1e12).flatmap(lambda x: st.sampled_from([x, -x]))


@given(_values, _units, st.integers(2, 9))
@settings(max_examples=400, deadline=None)
def test_what_is_written_for_a_reader_reads_back_to_the_figures_shown(value, name, figures):
    factor, dimension = TABLE[name]
    like = Unit(name, factor, dimension)
    written = in_user_units(value * factor, like, figures)
    read = parse_quantity(written, dimension).value
    # `figures` significant figures are off by half a unit of the last at most
    assert read == pytest.approx(value * factor, rel=0.51 * 10.0 ** (1 - figures))


@given(_values, _units)
@settings(max_examples=400, deadline=None)
def test_what_is_written_for_a_file_reads_back_the_same(value, name):
    factor, dimension = TABLE[name]
    like = Unit(name, factor, dimension)
    read = parse_quantity(exactly(value * factor, like), dimension).value
    assert read == pytest.approx(value * factor, rel=1e-15)  # one division and one product


_pieces = st.sampled_from(
    "1 2.5 12 500 00 , . - + ± +/- % t т kg m/s to ( ) e 1e9 1e999 × 10 ⁻ ² ^ / · * g deg".split()  # noqa: SIM905
)
_many = st.lists(_pieces, max_size=10)
_texts = st.text(max_size=150) | _many.map(" ".join) | _many.map("".join)


@given(_texts, st.sampled_from([d.MASS, d.NUMBER, d.ACCELERATION, d.SPEED, (d.NUMBER, d.MASS)]))
@settings(max_examples=1000, deadline=None)
def test_no_text_raises_anything_but_a_refusal(text, dimension):
    for read in (parse_quantity, parse_span):
        if read is parse_span and isinstance(dimension, tuple) and not isinstance(dimension, d.Dimension):
            continue
        try:
            found = read(text, dimension)
        except Refusal as refusal:
            assert refusal.got and refusal.accepted and refusal.remedy
            continue
        if read is parse_quantity:
            assert math.isfinite(found.value)
            if found.spread is not None:
                assert found.spread.low < found.spread.high
