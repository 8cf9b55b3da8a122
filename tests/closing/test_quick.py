"""A concept near a solved one, answered to first order at once, and made best from there."""

import functools

import pytest

import wetmass
from wetmass.closing import Nearby, answered, start_from
from wetmass.concept.reading import loads


@functools.cache
def start():
    concept = wetmass.load("examples/dunlin.yaml")
    nearby = Nearby(answered(concept))
    nearby.prepare()
    return concept.document, nearby


def nudged(path, value):
    return loads(start()[0].set(path, value).text)


@pytest.mark.parametrize(
    ("path", "value", "within"),
    [
        ("stages/first/dry mass", "7.7 t", 1e-4),
        ("stages/second/engines/1/isp/vacuum", "360 s", 1e-3),
        ("stages/first/dry mass", "8.0 t", 2e-2),  # a larger step: what is lost is of second order
    ],
)
def test_a_quick_answer_agrees_with_the_flown_one_to_first_order(path, value, within):
    concept = nudged(path, value)
    quick = start()[1].quick(concept)
    assert quick is not None
    assert quick.flight is None
    assert quick.flights < 80  # a search from nothing flies some thousands
    flown = answered(concept)
    assert quick.vehicle.payload == pytest.approx(flown.vehicle.payload, rel=within)
    # it meets what is asked, and is not made best
    assert quick.vehicle.payload <= flown.vehicle.payload * (1.0 + 2e-4)


def test_a_value_dragged_step_by_step_is_followed_in_a_few_flights():
    nearby = Nearby(start()[1].answer)
    nearby.prepare()
    steps = [nearby.quick(nudged("stages/first/dry mass", f"{mass} t")) for mass in (7.7, 7.8, 7.9, 8.0, 8.1)]
    assert all(step is not None and step.flights < 12 for step in steps)
    at_once = Nearby(start()[1].answer).quick(nudged("stages/first/dry mass", "8.1 t"))
    assert at_once.flights > 20  # a step as large as theirs together has to look for the tilt
    flown = answered(nudged("stages/first/dry mass", "8.1 t"))
    assert steps[-1].vehicle.payload == pytest.approx(flown.vehicle.payload, rel=2e-3)


def test_the_search_from_a_quick_answer_finds_what_one_from_nothing_does():
    concept = nudged("mission/apogee", "560 km")
    quick = start()[1].quick(concept)
    again, anew = answered(concept, known=start_from(quick)), answered(concept)
    assert not again.reason
    # the accuracy the optimum is held to
    assert again.vehicle.payload == pytest.approx(anew.vehicle.payload, rel=5e-4)
    assert again.flights < anew.flights


def test_open_engine_counts_start_from_those_found():
    concept = nudged("stages/first/engines/1/count", "find from 6 to 8")
    answer = answered(concept)
    quick = Nearby(answer).quick(concept)
    assert quick is not None
    assert quick.values["stages/first/engines/1/count"] == answer.values["stages/first/engines/1/count"]
    assert quick.vehicle.payload == pytest.approx(answer.vehicle.payload, rel=1e-4)
