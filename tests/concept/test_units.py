"""Units are read strictly, and every accepted unit means what pint says it means."""

import math
import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wetmass.concept import dimensions as d
from wetmass.concept.dimensions import Dimension, dimension_name, si_unit
from wetmass.concept.units import TABLE, unit
from wetmass.record.refusal import Refusal

# our name → pint's, where they differ
_PINT_NAMES = {
    "lbm": "lb",
    "lbs": "lb",
    "°": "degree",
    "g0": "standard_gravity",
    "g₀": "standard_gravity",
    "tf": "1000 * kgf",
    "psf": "lbf / ft**2",
    "sec": "second",
    "kn": "knot",
    "nmi": "nautical_mile",
    "h": "hour",
    "L": "liter",
    "l": "liter",
}
_PINT_BASE = ("[length]", "[mass]", "[time]", "[temperature]", "[substance]", "[current]")


@pytest.fixture(scope="module")
def registry():
    import pint

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return pint.UnitRegistry()


@pytest.mark.parametrize("name", sorted(TABLE))
def test_each_unit_of_the_table_is_what_pint_says(name, registry):
    # pint 0.25 (its own definitions file, from NIST SP 811 and CODATA) is the independent source
    one = registry.parse_expression(_PINT_NAMES.get(name, name)).to_base_units()
    factor, dimension = TABLE[name]
    assert factor == pytest.approx(one.magnitude, rel=1e-14)  # a few roundings of the product
    exponents = one.dimensionality
    assert tuple(exponents.get(base, 0) for base in _PINT_BASE) == tuple(dimension)[:6]


@pytest.mark.parametrize(
    ("text", "factor", "dimension"),
    [
        ("kN", 1e3, d.FORCE),
        ("km²/s²", 1e6, d.SPECIFIC_ENERGY),
        ("kPa·deg", 1e3 * math.pi / 180, d.Q_ALPHA),
        ("kPa*deg", 1e3 * math.pi / 180, d.Q_ALPHA),
        ("W/m²", 1.0, d.HEAT_FLUX),
        ("kg/m^3", 1.0, d.DENSITY),
        ("kg/m3", 1.0, d.DENSITY),
        ("g/cm³", 1e3, d.DENSITY),
        ("m·s⁻²", 1.0, d.ACCELERATION),
        ("m/s**2", 1.0, d.ACCELERATION),
        ("J/(kg·K)", 1.0, d.SPECIFIC_HEAT),
        ("N·s/kg", 1.0, d.SPEED),
        ("1/s", 1.0, d.FREQUENCY),
        ("g0", 9.80665, d.ACCELERATION),
        ("", 1.0, d.NUMBER),
    ],
)
def test_compound_units_are_read(text, factor, dimension):
    read = unit(text)
    assert read.factor == pytest.approx(factor, rel=1e-15)
    assert read.dimension == dimension
    assert read.text == text


def test_g_alone_is_gravity_only_where_an_acceleration_is_expected():
    assert unit("g", d.ACCELERATION).factor == 9.80665
    assert unit("g", d.MASS).factor == 1e-3
    assert unit("g").dimension == d.MASS


@pytest.mark.parametrize(
    ("text", "advice"),
    [
        ("KN", "write kN or kn: capitals matter in units"),
        ("ton", "a ton may be 1000 kg, 2000 lb or 2240 lb"),
        ("nm", "write nmi for nautical miles"),
        ("°C", "write kelvins, 273.15 more"),
        ("furlong", "1 furlong is 201.1684 m"),  # pint: US survey furlong
        ("metrs", "did you mean metres or meters"),
        ("zq/b", "write the value in a unit that is read here"),
        ("W/m²/K", "a/b/c can be read in two ways, write a/(b·c)"),
        ("kg/m·s", "put brackets behind the /"),
        ("N m", "join units with · and one /"),
        ("m 40 cm", "12 m 40 cm is 12.4 m"),
        ("т", "CYRILLIC SMALL LETTER TE"),
        ("m/", "something is missing at its end"),
        ("m^0", "give a power from 1 to 9"),
        ("mg9·mg9·mg9·mg9·mg9·mg9·mg9", "check the powers"),
        ("m" * 80, "shorten the unit"),
    ],
)
def test_what_is_no_unit_is_refused_with_advice(text, advice):
    with pytest.raises(Refusal) as refused:
        unit(text)
    assert advice in refused.value.remedy


def test_a_dimension_has_a_name_in_words():
    assert dimension_name(d.MASS) == "a mass"
    assert dimension_name(d.SPEED) == "a speed"
    assert dimension_name(d.LENGTH / d.TIME) == "a speed"
    assert dimension_name(d.LENGTH**4 / d.TIME) == "a quantity in m⁴/s"
    assert si_unit(d.FORCE) == "m·kg/s²"


_names = st.sampled_from(sorted(TABLE))
_powers = st.sampled_from(["", "²", "^3", "⁻²", "**2"])


@given(st.lists(st.tuples(_names, _powers), min_size=1, max_size=3), st.lists(_names, min_size=1, max_size=2))
@settings(max_examples=200, deadline=None)
def test_a_compound_unit_is_the_product_of_its_parts(above, below):
    text = "·".join(name + power for name, power in above) + "/(" + "·".join(below) + ")"
    exponent = {"": 1, "²": 2, "^3": 3, "⁻²": -2, "**2": 2}
    factor, dimension = 1.0, Dimension()
    for name, power in above:
        factor *= TABLE[name][0] ** exponent[power]
        dimension *= TABLE[name][1] ** exponent[power]
    for name in below:
        factor /= TABLE[name][0]
        dimension /= TABLE[name][1]
    if len(text) > 60 or any(abs(power) > 12 for power in dimension):
        return
    read = unit(text)
    assert read.factor == pytest.approx(factor, rel=1e-13)  # order of the products
    assert read.dimension == dimension


@given(st.text(max_size=80) | st.text("kmgst/·*()^²³⁻ 0123456789%°", max_size=40))
@settings(max_examples=500, deadline=None)
def test_no_text_raises_anything_but_a_refusal(text):
    try:
        read = unit(text)
    except Refusal:
        return
    assert 0.0 < read.factor < math.inf
