"""A concept closed: what was asked holds, what was open is found, and what cannot be says why."""

import functools
import math

import pytest

from wetmass.closing import close
from wetmass.concept import loads
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import fixed
from wetmass.record.expression import evaluate
from wetmass.record.vehicle import SEA_LEVEL_PRESSURE

FIRST = "mass: find, residuals: 0.6 %"
SECOND = "mass: find, residuals: 0.8 %"
SMALL = f"""
name: Small
site: {{latitude: 14.2 deg N, longitude: 40 deg W, height: 20 m}}
mission: {{perigee: 250 km, apogee: 250 km, inclination: 30 deg}}
payload: find
fairing: {{mass: 600 kg, diameter: 3.1 m}}
stages:
  - name: first
    diameter: 3.1 m
    dry mass: 7.6 t
    propellant: {{pair: LOX/LCH4, mixture ratio: 3.4, {FIRST}, start loss: 400 kg}}
    engines:
      - {{count: 7, thrust: {{sea level: 210 kN}}, isp: {{sea level: 309 s, vacuum: 341 s}},
         minimum throttle: 45 %}}
  - name: second
    diameter: 3.1 m
    structural fraction: 8 %
    propellant: {{pair: LOX/LCH4, mixture ratio: 3.4, {SECOND}}}
    engines:
      - {{count: 1, thrust: {{vacuum: 240 kN}}, isp: {{vacuum: 363 s}}, exit diameter: 1.6 m,
         minimum throttle: 45 %}}
    pause before ignition: 4 s
performance reserve: 80 m/s
require:
  - {{lift-off thrust to weight: at least 1.30}}
  - {{lift-off mass: at most 120 t}}
  - {{most: payload}}
limits: {{felt acceleration: 4.5 g, dynamic pressure: 38 kPa, q-alpha: 120 kPa·deg}}
"""
SIZED = {FIRST: FIRST.replace("find", "79 t"), SECOND: SECOND.replace("find", "23 t")}
NO_OBJECTIVE = ("  - {most: payload}\n", "")


@functools.cache
def closed(*swaps):
    """The small launcher with (old, new) texts put in, closed once in a run of the tests."""
    text = SMALL
    for old, new in swaps:
        assert old in text, f"{old!r} does not stand in the concept"
        text = text.replace(old, new)
    return close(loads(text, "small.yaml"))


def required(answer):
    """What came of the requirements (limits on the flight are listed beside them)."""
    return [held for held in answer.held if not held.what.startswith("greatest")]


def as_found():
    return closed()


def test_a_concept_closes_and_meets_what_it_requires():
    answer = as_found()
    assert answer.closes, answer.reason
    assert answer.reason == ""
    assert all(held.met for held in required(answer))
    vehicle = answer.vehicle
    push = vehicle.stages[0].thrust(SEA_LEVEL_PRESSURE) / (vehicle.lift_off_mass * STANDARD_GRAVITY)
    assert push >= 1.30 * (1.0 - 1e-4)
    assert vehicle.lift_off_mass <= 120e3 * (1.0 + 1e-4)
    assert answer.payload > 0.0


def test_most_payload_presses_against_at_least_one_requirement():
    # With more thrust or a heavier pad it would carry more: something must be in the way.
    assert any(held.active for held in as_found().held)


def test_the_mass_table_adds_up_exactly_and_lift_off_is_less_what_goes_before():
    vehicle = as_found().vehicle
    total = math.fsum(item.mass for item in vehicle.mass_table())
    assert total == pytest.approx(vehicle.mass_above(0), rel=1e-15)
    assert vehicle.lift_off_mass == pytest.approx(total - 400.0, rel=1e-14)  # the start loss stated
    assert all(item.mass >= 0.0 for item in vehicle.mass_table())


def test_a_structural_fraction_sizes_the_dry_mass():
    second = as_found().vehicle.stages[1]
    assert second.dry_mass / (second.dry_mass + second.propellant.load) == pytest.approx(0.08, rel=1e-12)


def test_every_step_of_the_working_evaluates_to_its_number():
    steps = [step for step in as_found().steps if step.formula is not None]
    assert len(steps) > 15
    for step in steps:
        got = evaluate(step.formula, {put.symbol: put.value for put in step.inputs})
        assert got == pytest.approx(step.result, rel=1e-12), step


def test_the_flight_written_down_is_that_of_the_vehicle_found():
    answer = as_found()
    flight, vehicle = answer.flight, answer.vehicle
    assert flight.orbit.perigee == pytest.approx(
        250e3, abs=600.0
    )  # 1e-5 of radius and speed, four times each
    assert flight.orbit.apogee == pytest.approx(250e3, abs=600.0)
    assert math.degrees(flight.orbit.inclination) == pytest.approx(30.0, abs=1e-3)
    last = vehicle.stages[-1]
    left = vehicle.payload + last.dry_mass + last.propellant.residuals + last.propellant.reserve
    assert flight.events[-1].mass == pytest.approx(left, rel=1e-9)
    assert flight.felt_acceleration.value <= 4.5 * STANDARD_GRAVITY * (1.0 + 2e-3)
    assert flight.dynamic_pressure.value <= 38e3 * (1.0 + 2e-3)
    assert abs(flight.losses.gap) < 1e-6


def test_the_performance_reserve_is_the_speed_asked_for():
    # Rocket equation backwards from the end: 80 m/s with what is aboard then.
    vehicle = as_found().vehicle
    last = vehicle.stages[-1]
    end = vehicle.payload + last.dry_mass + last.propellant.residuals
    speed = last.vacuum_isp * STANDARD_GRAVITY * math.log((end + last.propellant.reserve) / end)
    assert speed == pytest.approx(80.0, rel=1e-9)


# ── a payload that is stated ─────────────────────────────────────────────────────────────────────


def test_a_payload_that_is_easily_carried_leaves_propellant_over():
    light = closed(("payload: find", "payload: 1 t"), NO_OBJECTIVE, *SIZED.items())
    assert light.closes, light.reason
    assert light.payload == 1000.0
    assert light.left_over > 0.0
    assert light.short_by == 0.0
    assert light.most_payload > 1000.0


def test_a_payload_that_is_too_heavy_falls_short_by_a_stated_speed():
    heavy = closed(("payload: find", "payload: 6 t"), NO_OBJECTIVE, *SIZED.items())
    assert not heavy.closes
    assert heavy.short_by > 0.0
    assert heavy.left_over < 0.0
    assert "falls short of the orbit" in heavy.reason
    assert f"{fixed(heavy.short_by)} m/s" in heavy.reason


def test_the_most_payload_of_the_light_case_is_what_a_search_for_it_finds():
    light = closed(("payload: find", "payload: 1 t"), NO_OBJECTIVE, *SIZED.items())
    most = closed(*SIZED.items())
    assert most.closes
    assert light.most_payload == pytest.approx(most.payload, rel=2e-3)


# ── other things left open ───────────────────────────────────────────────────────────────────────


def test_with_its_payload_stated_the_lightest_vehicle_is_found():
    least = closed(("payload: find", "payload: 2 t"), ("{most: payload}", "{least: lift-off mass}"))
    assert least.closes, least.reason
    assert least.payload == 2000.0
    more = closed(("payload: find", "payload: 2.5 t"), ("{most: payload}", "{least: lift-off mass}"))
    assert more.closes, more.reason
    assert least.vehicle.lift_off_mass < more.vehicle.lift_off_mass < 120e3
    assert all(held.met for held in required(least))


BAND = ("  - {lift-off mass", "  - {lift-off thrust to weight: at most 1.50}\n  - {lift-off mass")


def push_of(answer):
    vehicle = answer.vehicle
    return vehicle.stages[0].thrust(SEA_LEVEL_PRESSURE) / (vehicle.lift_off_mass * STANDARD_GRAVITY)


def test_an_open_engine_count_is_a_whole_number_inside_its_bounds_and_one_more_would_not_be():
    # Engines weigh nothing here (the dry mass is stated), so more is better until the bound is met.
    answer = closed(("{count: 7, ", "{count: find, "), BAND, *SIZED.items())
    assert answer.closes, answer.reason
    count = answer.vehicle.stages[0].engines[0].count
    assert count == int(count)
    assert all(held.met for held in required(answer))
    assert 1.30 <= push_of(answer) <= 1.50
    assert push_of(answer) * (count + 1) / count > 1.50


def test_an_open_engine_scale_is_found_where_its_bound_is_met():
    answer = closed(("{count: 7, ", "{count: 7, scale: find, "), BAND, *SIZED.items())
    assert answer.closes, answer.reason
    (scale,) = (f.value for f in answer.found if f.where.endswith("scale"))
    group = answer.vehicle.stages[0].engines[0]
    assert group.vacuum_thrust == pytest.approx(scale * 210e3 * 341 / 309, rel=1e-9)
    assert all(held.met for held in required(answer))
    assert push_of(answer) == pytest.approx(1.50, rel=2e-4)  # the objective presses against it


# ── what does not close ──────────────────────────────────────────────────────────────────────────


def test_a_vehicle_too_weak_to_lift_itself_says_so():
    weak = closed(("{count: 7, ", "{count: 4, "), ("  - {lift-off thrust to weight: at least 1.30}\n", ""),
                  *SIZED.items())  # fmt: skip
    assert not weak.closes
    assert "does not leave the pad" in weak.reason
    assert "thrust to weight is" in weak.reason


def test_a_vehicle_without_the_speed_for_orbit_says_what_would_close_it():
    short = closed((FIRST, FIRST.replace("find", "20 t")), (SECOND, SECOND.replace("find", "2 t")))
    assert not short.closes
    assert short.reason
    assert "specific impulse" in short.reason
