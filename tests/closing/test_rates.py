"""What a change of a concept does to its best answer, to first order."""

import functools
import math
from pathlib import Path

import pytest

from wetmass.closing import answered, close, known
from wetmass.closing.rates import rates
from wetmass.closing.spread import effect, spread_of
from wetmass.concept import load, loads
from wetmass.concept.guesses import guesses
from wetmass.concept.names import find
from wetmass.record.constants import STANDARD_GRAVITY

DUNLIN = load(Path(__file__).parents[2] / "examples" / "dunlin.yaml")


@functools.cache
def nominal():
    answer = answered(
        DUNLIN, known=known(answered(DUNLIN))
    )  # gone on with, for a rate holds at the best itself
    return answer, rates(answer), known(answer)


def put(name, value):
    made = DUNLIN.document
    for path, text in find(DUNLIN, name).written(value):
        made = made.set(path, text)
    return loads(made.text)


def slope(name, share=1e-4):
    one, found = find(DUNLIN, name), nominal()[1]
    h = share * one.value
    return (found.change(put(name, one.value + h)) - found.change(put(name, one.value - h))) / (2.0 * h)


@pytest.mark.parametrize(
    "name",
    ["first, dry mass", "second isp", "second, structural fraction", "fairing, mass", "orbit height",
     "lift-off thrust to weight"],
)  # fmt: skip
def test_a_rate_is_the_difference_of_two_closings_of_their_own(name):
    one, start = find(DUNLIN, name), nominal()[2]
    h = 0.01 * one.value
    ends = [answered(put(name, one.value + sign * h), known=start).vehicle.payload for sign in (1.0, -1.0)]
    # a rate holds at the best itself; the search ends within 2e-6 of it in score, where slopes are some 1e-3 off
    # (2.4e-3 for thrust to weight, 1e-4 for most), and the difference has (1 %)² of curvature
    assert slope(name) == pytest.approx((ends[0] - ends[1]) / (2.0 * h), rel=4e-3)


def test_speed_kept_in_reserve_costs_what_the_rocket_equation_says():
    # The flight may stay as it is, burning the same propellant: then all that is kept weighs on the payload.
    # Of m at the end, m·(1 − exp(−Δv/c)) is reserve; its tanks are the structural fraction of it, and a share of
    # what is tanked stays in them.  The best flight costs no more and, by the envelope theorem, no less.
    answer, _, _ = nominal()
    last = answer.vehicle.stages[-1]
    c, reserve = last.vacuum_isp * STANDARD_GRAVITY, 80.0
    tanks, residuals = 0.08 / 0.92, 0.008
    kept = float(answer.found.trial.state[6]) / c * math.exp(-reserve / c)
    expected = -kept * (1.0 + (tanks + residuals) / (1.0 - residuals))
    assert slope("performance reserve") == pytest.approx(
        expected, rel=1e-3
    )  # the optimum is good to some 1e-5


def test_a_concept_without_anything_made_best_has_no_rates():
    told = loads(
        DUNLIN.document.text.replace("{lift-off mass: at most 120 t}", "{lift-off mass: at most 20 t}")
    )
    assert rates(answered(told)) is None


def test_the_spread_of_the_answer_is_that_of_its_guesses():
    found = spread_of(DUNLIN, nominal()[1])
    guess = guesses(DUNLIN)[0]
    assert [one.where for one in found.parts] == ["first, dry mass"]
    # ± 8 % of 7.6 t holds 95 % of a normal distribution, 1.96 standard deviations
    assert found.sigma == pytest.approx(abs(slope("first, dry mass")) * 0.08 * 7600.0 / 1.96, rel=1e-3)
    assert effect(DUNLIN, nominal()[1], guess) < 0.0


def test_a_closed_concept_carries_its_spread_and_says_nothing_is_left_out():
    closed = close(DUNLIN, known=nominal()[2])
    assert closed.spread is not None and closed.spread.aim == "payload"
    assert closed.not_yet == ()
