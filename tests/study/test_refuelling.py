"""Refilling in orbit: sums that must add up, limits, and failures against the exact chance."""

import math

import numpy as np
import pytest

from wetmass.physics.orbits import circular_speed
from wetmass.study import refuelling as study
from wetmass.study.destinations import aimed

SHIP = study.Ship(payload=10e3, empty=5e3, capacity=100e3, aboard=0.0, exhaust=3500.0)
PERFECT = study.Plan(7.0 * study.DAY, lost=0.0, boil_off=0.0, failure=0.0)


def never(number):
    return False


def test_tankers_without_losses_are_a_plain_division():
    for needed in (9.9e3, 10e3, 10.1e3, 55e3):
        done = study.filling(SHIP, needed, 10e3, PERFECT, never)
        assert done.launches == math.ceil(needed / 10e3)
        assert done.time == (done.launches - 1) * PERFECT.cadence


def test_propellant_needed_and_payload_with_full_tanks_are_each_others_inverse():
    speed = 3500.0 * math.log((SHIP.payload + SHIP.empty + SHIP.capacity) / (SHIP.payload + SHIP.empty))
    assert SHIP.needed(speed) == pytest.approx(SHIP.capacity)
    assert SHIP.most_payload(speed) == pytest.approx(SHIP.payload)


def test_boil_off_sets_a_level_that_no_number_of_tankers_passes():
    # each visit brings d, between visits a share 1 − k is lost: the level tends to d/(1 − k), a geometric sum
    plan = study.Plan(10.0 * study.DAY, lost=0.0, boil_off=0.02, failure=0.0)
    level = 10e3 / (1.0 - 0.98**10)
    assert study.filling(SHIP, 0.99 * level, 10e3, plan, never).filled
    assert not study.filling(SHIP, 1.01 * level, 10e3, plan, never).filled


def test_failures_follow_the_negative_binomial_law():
    # three successes needed at a chance of 0.8: P(n launches) = C(n − 1, 2)·0.8³·0.2^(n−3); mean 3/0.8
    chance = np.random.default_rng(5)
    counts = []
    for _ in range(4000):
        lost = chance.random(study.MOST_TANKERS) < 0.2
        counts.append(study.filling(SHIP, 30e3, 10e3, PERFECT, lambda n, lost=lost: lost[n - 1]).launches)
    # mean of 4000 with a deviation of √(3·0.2)/0.8 each: 0.015, four of them
    assert np.mean(counts) == pytest.approx(3.0 / 0.8, abs=0.06)
    assert np.mean(np.array(counts) == 3) == pytest.approx(0.8**3, abs=0.032)


def test_a_ship_that_needs_nothing_gets_no_tanker():
    full = study.Ship(1e3, 1e3, 10e3, aboard=10e3, exhaust=3500.0)
    assert study.filling(full, 5e3, 1e3, PERFECT, never) == study.Filling(0, 0.0, (), True)


def test_speeds_to_destinations_add_their_own_burns():
    fly_by = study.speed_to(aimed("Moon fly-by"), 0.25)
    orbit = study.speed_to(aimed("Moon orbit"), 0.25)
    surface = study.speed_to(aimed("Moon surface"), 0.25)
    assert 0.0 < orbit - fly_by < surface - fly_by
    # escape from a circle costs (√2 − 1) of its speed
    circle = circular_speed(6_378_137.0 + study.PARKING)
    assert study.speed_to(aimed("escape"), 0.0) == pytest.approx((math.sqrt(2.0) - 1.0) * circle)
    assert study.speed_to(aimed("low orbit"), 0.0) == pytest.approx(0.0, abs=1e-9)
