"""Claims are compared with the result at the precision they are stated to."""

import pytest

import builders
from wetmass.concept.measures import MEASURES, Measure
from wetmass.findings.claims import compare, compared, value_of
from wetmass.findings.left_out import place
from wetmass.record.finding import Weight

CLAIM = "first-stage burnout speed: 2.4 km/s"


def claim(text):
    return builders.concept(swap={CLAIM: text})


@pytest.mark.parametrize(
    ("text", "agrees", "within"),
    [
        # found: 2491 m/s over the turning Earth
        ("first-stage burnout speed: 2.5 km/s", True, 50.0),
        ("first-stage burnout speed: 2.4 km/s", False, 50.0),
        ("first-stage burnout speed: 2490 m/s", True, 5.0),
        ("first-stage burnout speed: 2500 m/s", True, 50.0),  # zeros at the end are not counted as known
        ("first-stage burnout speed: 2.500 km/s", False, 0.5),
        ("first-stage burnout speed: 2.3 km/s ± 10 %", True, 230.0),
        ("first-stage burnout speed: 2.6 km/s (2.48 to 2.7 km/s)", True, 120.0),
        ("lift-off mass: 115.3 t", True, 50.0),
        ("lift-off mass: 1.153e5 kg", True, 50.0),
        ("payload: 2 t", False, 500.0),
    ],
)
def test_a_claim_agrees_within_its_last_digit_or_its_spread(text, agrees, within):
    concept = claim(text)
    (one,) = compare(concept, builders.closed())
    assert one.within == pytest.approx(within)
    assert one.agrees is agrees


def test_a_claim_that_is_off_says_both_numbers_and_by_how_much():
    (one,) = compared(claim(CLAIM), builders.closed())
    assert one.weight is Weight.DOUBT
    assert one.got == "claimed 2.4\u00a0km/s, found 2.49\u00a0km/s"
    assert "3.7\u00a0% too low" in one.remedy  # 2.4/2.491 − 1 = −3.65 %


def test_a_claim_that_agrees_is_noted():
    (one,) = compared(claim("first-stage burnout speed: 2.5 km/s"), builders.closed())
    assert (one.weight, one.remedy) == (Weight.NOTE, "It agrees.")


def test_without_a_flight_a_claim_about_it_is_left_open():
    (one,) = compared(claim(CLAIM), builders.closed(flight=None, closes=False))
    assert one.weight is Weight.NOTE
    assert "cannot be checked" in one.remedy


def test_every_measure_has_a_value_in_a_flown_result():
    closed = builders.closed()
    for measure, meaning in MEASURES.items():
        value = value_of(measure, "first" if meaning.of_stage else "", closed)
        assert value is not None and value > 0.0, measure


def test_measures_of_a_stage_are_those_of_the_vehicle():
    closed = builders.closed()
    # 115.3 t at lift-off, 78 078 kg burnt
    assert value_of(Measure.MASS_RATIO, "first", closed) == pytest.approx(115_300.0 / (115_300.0 - 78_078.0))
    assert value_of(Measure.PROPELLANT_MASS, "second", closed) == pytest.approx(23_472.0)
    assert value_of(Measure.BURN_TIME, "third", closed) is None


def test_a_path_is_said_in_words():
    assert place("stages/first/dry mass") == "first, dry mass"
    assert place("claims") == "claims"
