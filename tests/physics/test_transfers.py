"""Ways to other bodies against published figures, limits and conservation laws."""

import math

import pytest

from wetmass.physics import orbits, transfers
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM

LOW = EARTH_RADIUS_WGS84 + 407e3  # the circle of the published table


def test_moon_injection_is_near_the_published_table():
    # 3.276 km/s from a 407 km circle with 5 % reserve in it, so 3.120: Acta Astronautica 177 (2020) 351,
    # table 4 (after Mueller 2012).  Theirs is a way of some four to five days, ours the slowest: 1 to 2 % less.
    ours = orbits.injection_speed(transfers.moon_c3(LOW), LOW) - orbits.circular_speed(LOW)
    assert ours == pytest.approx(3276.0 / 1.05, rel=0.02)
    assert ours < 3276.0 / 1.05


def test_capture_at_the_moon_is_below_the_published_one_but_near():
    # 0.952 km/s with 5 % reserve in the same table: a faster way there arrives faster
    slow = transfers.moon_capture(transfers.moon_c3(LOW), LOW)
    assert 0.88 < slow / transfers.MOON_CAPTURE_PRINTED < 1.0
    fast = transfers.moon_capture(-1.39e6, LOW)  # the energy AS-506 flew with, tests/data/flights.yaml
    assert fast > slow


def test_escape_from_the_moon_is_the_least_capture():
    # met without any speed, the burn is escape less circular speed: (√2 − 1)·√(μ/r)
    radius = transfers.MOON_RADIUS + 100e3
    circle = math.sqrt(transfers.GM_MOON / radius)
    got = transfers.capture_burn(0.0, radius, transfers.GM_MOON)
    assert got == pytest.approx((math.sqrt(2.0) - 1.0) * circle)


@pytest.mark.parametrize(
    ("planet", "excess"),
    # Hohmann excess speeds at the Earth, km/s: circles in one plane, by hand from vis-viva:
    # v_E·(√(2r/(1+r)) − 1) with v_E = 29.785 km/s and r in astronomical units
    [("Mars", 2.945), ("Venus", -2.495), ("Jupiter", 8.793)],
)
def test_planet_energies_are_the_square_of_the_excess_speed(planet, excess):
    assert transfers.planet_c3(planet) == pytest.approx((1e3 * excess) ** 2, rel=1e-3)  # 3 figures above


def test_way_to_the_moon_meets_it_with_the_difference_of_two_parallel_speeds():
    low = EARTH_RADIUS_WGS84 + 185e3
    body = orbits.circular_speed(transfers.MOON_DISTANCE, GM + transfers.GM_MOON)
    there = orbits.orbit_speed(transfers.MOON_DISTANCE, low, transfers.MOON_DISTANCE)
    got = transfers.meeting_speed(transfers.moon_c3(low), low, transfers.MOON_DISTANCE, body)
    assert got == pytest.approx(body - there)  # at apogee both run level


def test_apogee_burn_without_a_turn_is_hohmanns_second():
    low, high = EARTH_RADIUS_WGS84 + 250e3, 42_164e3
    assert transfers.apogee_burn(low, high, 0.0) == pytest.approx(orbits.hohmann_second(low, high))
    assert transfers.apogee_burn(low, high, math.radians(28.5)) > transfers.apogee_burn(low, high, 0.1)


def test_a_way_out_that_falls_short_of_the_moon_is_refused():
    low = EARTH_RADIUS_WGS84 + 185e3
    with pytest.raises(ValueError, match=r"c3 must lie between .* got -3000000"):
        transfers.meeting_speed(-3e6, low, transfers.MOON_DISTANCE, 1000.0)
