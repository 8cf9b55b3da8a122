"""Packing: published ratios, closed forms, and no two engines in one place."""

import math
import re

import pytest
import yaml_cases

from wetmass.physics import packing as p
from wetmass.physics.circle_positions import PACKINGS

# Circle packing in a circle, table of solutions, https://en.wikipedia.org/wiki/Circle_packing_in_a_circle
# (opened): enclosing radius over small radius with the last digit cut off.
PUBLISHED = {
    1: 1.0, 2: 2.0, 4: 2.414, 5: 2.701, 6: 3.0, 7: 3.0, 8: 3.304, 9: 3.613, 10: 3.813, 11: 3.923, 12: 4.029,
    13: 4.236, 14: 4.328, 15: 4.521, 16: 4.615, 17: 4.792, 18: 4.863, 19: 4.863, 20: 5.122,
}  # fmt: skip
CLOSED = {  # the same page
    3: 1 + 2 / math.sqrt(3),
    4: 1 + math.sqrt(2),
    5: 1 + math.sqrt(2 * (1 + 1 / math.sqrt(5))),
    6: 3.0,
    7: 3.0,
    8: 1 + 1 / math.sin(math.pi / 7),
    9: 1 + math.sqrt(2 * (2 + math.sqrt(2))),
    11: 1 + 1 / math.sin(math.pi / 9),
    13: 2 + math.sqrt(5),
    15: 1 + math.sqrt(6 + 2 / math.sqrt(5) + 4 * math.sqrt(1 + 2 / math.sqrt(5))),
    18: 1 + math.sqrt(2) + math.sqrt(6),
    19: 1 + math.sqrt(2) + math.sqrt(6),
}


@pytest.mark.parametrize("n", PUBLISHED)
def test_ratios_are_the_published_ones(n):
    assert math.floor(1e3 * p.best_known(n, 1.0).across + 1e-6) / 1e3 == PUBLISHED[n]


@pytest.mark.parametrize("n", CLOSED)
def test_ratios_meet_the_closed_forms(n):
    assert p.best_known(n, 1.0).across == pytest.approx(CLOSED[n], rel=1e-9)


@pytest.mark.parametrize("n", PACKINGS)
@pytest.mark.parametrize("clearance", [0.0, 0.13])
def test_no_two_circles_overlap_and_all_lie_inside(n, clearance):
    layout = p.best_known(n, 0.9, clearance)
    assert p.nearest_gap(layout) >= clearance - 1e-9
    assert max(2 * math.hypot(*at) + 0.9 for at in layout.positions) <= layout.across + 1e-9


@pytest.mark.parametrize("n", [3, 4, 5])
def test_three_to_five_stand_best_on_one_ring(n):
    assert p.on_ring(n, 1.0).across == pytest.approx(CLOSED[n], rel=1e-12)


@pytest.mark.parametrize(("n", "total"), [(6, 7), (7, 8), (8, 9)])
def test_one_in_the_middle_and_the_rest_on_a_ring_is_best_for_seven_to_nine(n, total):
    layout = p.on_ring(n, 1.0, centre=True)
    assert layout.count == total
    assert layout.across == pytest.approx(CLOSED[total], rel=1e-12)


@pytest.mark.parametrize(
    ("case", "layout"),
    [
        ("packing-ring-3", p.on_ring(3, 1.0)),
        ("packing-ring-4", p.on_ring(4, 1.0)),
        ("packing-centre-8", p.on_ring(7, 1.0, centre=True)),
        ("packing-centre-9", p.on_ring(8, 1.0, centre=True)),
        ("packing-19", p.on_rings((1, 6, 12), 1.0)),
    ],
)
def test_worked_examples_of_packing(case, layout):
    assert layout.count == yaml_cases.inputs(case)["n"]
    assert layout.across == pytest.approx(yaml_cases.answers(case)["R/r"], abs=6e-5)  # printed to four places


def test_rings_within_rings_keep_their_distance_and_nineteen_stand_best_so():
    layout = p.on_rings((1, 6, 12), 1.0, 0.05)
    assert layout.count == 19 and p.nearest_gap(layout) >= 0.05 - 1e-12
    plain = p.on_rings((1, 6, 12), 1.0).across
    assert plain == pytest.approx(CLOSED[19], rel=1e-12)
    assert p.nearest_gap(p.on_rings((3, 9, 14), 0.8)) >= -1e-12
    assert p.on_rings((1,), 2.0).across == 2.0


def test_neighbours_that_swing_together_just_touch():
    swing = math.radians(6.0)
    gap = p.gimbal_clearance(1.4, swing)
    layout = p.on_ring(8, 1.0, gap)
    assert p.nearest_gap(layout) - 2 * 1.4 * math.tan(swing) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("n", range(1, 20))
def test_how_many_fit_is_the_other_side_of_what_ring_is_needed(n):
    room = p.best_known(n, 0.9, 0.1).across
    assert p.how_many_fit(room, 0.9, 0.1).count >= n
    if n not in (1, 7, 19):  # six fit where seven do, eighteen where nineteen do
        less = p.how_many_fit(room * 0.999, 0.9, 0.1)
        assert less.count < n
    assert p.how_many_fit(0.89, 0.9) is None


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: p.ring_radius(1, 1.0), "count must be 2 or more on a ring"),
        (lambda: p.ring_radius(3, 0.0), "pitch must be above 0"),
        (lambda: p.gimbal_clearance(0.0, 0.1), "length must be above 0"),
        (lambda: p.gimbal_clearance(1.0, 1.0), "angle must lie between 0.0 and 0.785"),
        (lambda: p.on_ring(0, 1.0), "count must be a whole number of 1 or more, got 0"),
        (lambda: p.on_ring(3, 1.0, -0.1), "clearance must be 0 or more"),
        (lambda: p.on_rings((), 1.0), "counts must be whole numbers"),
        (lambda: p.on_rings((1, 0), 1.0), "counts must be whole numbers"),
        (
            lambda: p.best_known(21, 1.0),
            "count must be a whole number from 1 to 20, the table's reach, got 21",
        ),
        (lambda: p.best_known(3, 0.0), "diameter must be above 0"),
        (lambda: p.how_many_fit(0.0, 1.0), "across must be above 0"),
        (lambda: p.how_many_fit(30.0, 1.0), "more than 20 may fit into 30.0 m"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        call()
