"""Flights at fixed steering: along the programme as flown, by any hands, of vehicles told by polynomials."""

import math
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from wetmass.closing import answered
from wetmass.closing.close import problem_of
from wetmass.concept import load
from wetmass.flight.ascent import Steering
from wetmass.flight.programme import Batch, fly_along, programme
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.record.mission import Orbit
from wetmass.record.refusal import Refusal
from wetmass.study.built import built
from wetmass.study.flights import flights, ready, told
from wetmass.vehicle import Assembly

HERE = Path(__file__).parent
DUNLIN = load(HERE.parents[1] / "examples" / "dunlin.yaml")
GUESSES = ["second isp = ± 0.5 %", "second, structural fraction = 8 % (7.8 to 8.3 %)"]


@pytest.fixture(scope="module")
def answer():
    return answered(DUNLIN)


@pytest.fixture(scope="module")
def one(answer):
    """A batch of the nominal vehicle alone."""
    plan, own = ready(DUNLIN, answer)
    segments, drops, mass = own(())
    return Batch(plan, segments[None], drops[None], np.array([mass]), plan.how())


def test_the_programme_of_a_flight_leads_where_the_flight_went(one):
    fine = fly_along(replace(one, how=one.programme.how(0.5, 5.0)))[0]
    # attitude between 96 times of each piece, held by a straight line: some 0.1 m/s at the end
    assert np.linalg.norm(fine[3:6] - one.programme.end[3:6]) < 0.2
    # a burn is over when 1e-7 s of it is left, some 7e-6 kg
    assert fine[6] == pytest.approx(one.programme.end[6], abs=2e-5)


def test_steps_of_half_the_length_err_by_the_order_less(one):
    ends = [fly_along(replace(one, how=one.programme.how(h, 5.0 * h)))[0, 3:6] for h in (2.0, 1.0, 0.25)]
    far, near = (np.linalg.norm(end - ends[2]) for end in ends[:2])
    assert near < far / 6.0  # order 4 gives 16; corners of the air between layers cost some of it
    usual = fly_along(one)[0, 3:6]
    assert np.linalg.norm(usual - ends[2]) < 0.5  # m/s: what the usual steps are said to err


def test_flights_are_the_same_by_any_number_of_threads(one):
    many = Batch(
        one.programme, np.repeat(one.segments, 7, 0), np.repeat(one.drops, 7, 0),
        one.masses * np.linspace(0.999, 1.001, 7), one.how,
    )  # fmt: skip
    assert np.array_equal(fly_along(many, 1), fly_along(many, 3))


def test_a_card_flies_the_same_functions_to_the_same_end():
    # on a card there is none here: numba's own simulator runs the rebuilt functions one by one
    environment = {**os.environ, "NUMBA_ENABLE_CUDASIM": "1"}
    done = subprocess.run(
        [sys.executable, str(HERE / "on_the_card.py")],
        env=environment,
        capture_output=True,
        text=True,
        timeout=200,
    )
    assert done.returncode == 0, done.stderr
    assert float(done.stdout) < 1e-9


def test_vehicles_told_by_polynomials_are_those_built_anew(answer):
    found = flights(DUNLIN, 64, more=GUESSES, answer=answer)
    assert found.built.error < 1e-9
    assert found.columns.shape == (64, 7)
    # all guesses at their values: the nominal orbit, to what the usual steps err
    assert found.nominal[0] == pytest.approx(520e3, abs=1500.0)
    assert abs(found.nominal[3]) < 0.5
    again = flights(DUNLIN, 64, more=GUESSES, answer=answer)
    assert np.array_equal(again.columns, found.columns, equal_nan=True)


def test_a_function_that_is_not_smooth_is_refused():
    def cornered(values):
        return np.array([1.0, 1.0 + abs(values[0] - 0.3)])

    with pytest.raises(Refusal, match="no smooth function of its guesses"):
        built(cornered, np.zeros(1), -np.ones(1), np.ones(1), 1)


def test_smooth_functions_of_several_guesses_are_met():
    def smooth(values):
        a, b, c = values
        return np.array([5.0, a / (1.0 + 0.2 * b), math.exp(0.3 * c) + b, a + b + c, 2.0])

    made = built(smooth, np.array([1.0, 0.0, 0.0]), np.array([0.9, -0.3, -1.0]), np.array([1.2, 0.3, 1.0]), 1)
    assert made.error < 1e-9
    assert sorted(fit.of for fit in made.fits) == [(0, 1), (0, 1, 2), (1, 2)]
    case = np.array([[1.13, -0.21, 0.6]])
    assert made(case)[0] == pytest.approx(smooth(case[0]), rel=1e-9)


def test_a_vehicle_with_engines_of_other_rules_is_refused(answer, monkeypatch):
    solids = load(HERE.parents[1] / "examples" / "turnstone.yaml")
    problem, _ = problem_of(solids, Assembly(solids))
    ascent = problem.ascent(Steering(), False)
    with pytest.raises(ValueError, match="rules of their own"):
        programme(ascent, np.array([u.start for u in ascent.unknowns]))

    def refusing(*given):
        raise ValueError("engines with rules of their own")

    monkeypatch.setattr("wetmass.study.flights.programme", refusing)
    with pytest.raises(Refusal, match="closes every sample instead"):
        flights(DUNLIN, 4, more=GUESSES, answer=answer)


def test_what_an_end_means_is_told_of_a_known_orbit():
    # a circle of 500 km over 60° has one speed, √(GM/r); 10 m/s more are 10 m/s above what it needs
    r = EARTH_RADIUS_WGS84 + 500e3
    v = math.sqrt(GM / r)
    rows = np.zeros((2, 13))
    for row, speed in zip(rows, (v, v + 10.0), strict=True):
        row[0:3] = (r, 0.0, 0.0)
        row[3:6] = (0.0, speed * math.cos(math.pi / 3.0), speed * math.sin(math.pi / 3.0))
    found = told(rows, Orbit(500e3, 500e3))
    assert found[0, :4] == pytest.approx([500e3, 500e3, math.pi / 3.0, 0.0], abs=1e-5, rel=1e-9)
    assert found[1, 3] == pytest.approx(10.0, abs=1e-6)
    # vis-viva: Δa = 2a²vΔv/GM to first order, all of it on the far side
    assert found[1, 1] - 500e3 == pytest.approx(4.0 * r * r * v * 10.0 / GM, rel=5e-3)
