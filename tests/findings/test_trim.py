"""Thrust line against centre of mass: swings by hand, what is told, and what is not."""

import dataclasses
import math
import re

import pytest

from builders import closed
from wetmass.concept import loads
from wetmass.findings import trim
from wetmass.physics.trim import trim_angle
from wetmass.record.finding import Weight
from wetmass.vehicle import Assembly
from wetmass.vehicle.geometry import balance_steps, lay_out, trims

TEXT = """
name: Sketch
site: {latitude: 14 deg N, longitude: 40 deg W}
mission: {perigee: 300 km, apogee: 300 km}
payload: 2 t
stages:
  - name: only
    diameter: 4 m
    dry mass: 4 t
    propellant: {pair: LOX/LCH4, mixture ratio: 3.4, mass: 44 t}
    engines: [{count: 4, thrust: {sea level: 200 kN}, isp: {sea level: 300 s, vacuum: 340 s}}]
    engine layout: {way: ring, gimbal: 6 deg, engine length: 2 m, ring diameter: 2.4 m}
    tanks:
      - {holds: LOX, shape: cylinder, ullage: 3 %}
      - {holds: LCH4, shape: cylinder, ullage: 3 %}
"""


def laid(text):
    concept = loads(text)
    vehicle = Assembly(concept).vehicle({})
    geometry = lay_out(concept, vehicle)
    return concept, vehicle, geometry, trims(concept, vehicle, geometry)


def told(text):
    concept, vehicle, geometry, _ = laid(text)
    result = dataclasses.replace(closed(), vehicle=vehicle, geometry=geometry)
    return list(trim.gimbal(concept, result))


def centre_by_hand(vehicle, geometry, left):
    """Height of the centre of mass: liquids in their tanks, the dry mass half-way up, the payload on top."""
    stage, flown = geometry.stages[0], vehicle.stages[0]
    masses = [(flown.dry_mass, stage.length / 2.0), (vehicle.payload, stage.top + geometry.width)]
    for tank in stage.tanks:
        masses.append((left * tank.mass, tank.foot + left * (tank.centre - tank.foot)))
    return sum(m * z for m, z in masses) / sum(m for m, _ in masses)


def test_an_even_cluster_needs_no_swing():
    *_, made = laid(TEXT)
    assert all(one.swing == pytest.approx(0.0, abs=1e-12) for one in made if not one.supposed_failure)


def test_one_engine_out_of_four_swings_as_by_hand():
    _, vehicle, geometry, made = laid(TEXT.replace("count: 4", "count: 4, out: 1 at 60 s"))
    out = next(one for one in made if one.stated_failure)
    # three of four on a ring of 1.2 m push 1.2/3 = 0.4 m off the axis
    assert out.when == "as it burns out with 1 of 4 out"
    assert out.offset == pytest.approx(0.4, rel=1e-12)
    arm = centre_by_hand(vehicle, geometry, 0.0) - 2.0
    assert out.arm == pytest.approx(arm, rel=1e-9)
    assert out.swing == pytest.approx(math.atan(0.4 / arm), rel=1e-9)
    assert [step.result for step in balance_steps(made)] == [pytest.approx(out.swing)]


def test_a_failure_at_ignition_is_held_against_the_full_stage_too():
    _, vehicle, geometry, made = laid(TEXT.replace("count: 4", "count: 4, out: 1 at 0 s"))
    full = next(one for one in made if one.when == "at lift-off with 1 of 4 out")
    arm = centre_by_hand(vehicle, geometry, 1.0) - 2.0
    assert full.swing == pytest.approx(math.atan(0.4 / arm), rel=1e-9)


def test_neighbours_that_fail_pull_further_than_one():
    *_, made = laid(TEXT.replace("count: 4", "count: 4, out: 2 at 60 s"))
    out = next(one for one in made if one.stated_failure)
    assert out.offset == pytest.approx(1.2 / math.sqrt(2.0), rel=1e-12)  # two neighbours are left


def test_a_swing_within_the_gimbal_is_a_note_and_one_beyond_it_a_doubt():
    failing = TEXT.replace("count: 4", "count: 4, out: 1 at 60 s")
    (within,) = told(failing)
    assert within.weight is Weight.NOTE
    assert "for steering" in within.remedy and "the gimbal stated" in within.accepted
    (beyond,) = told(failing.replace("gimbal: 6 deg", "gimbal: 1 deg"))
    assert beyond.weight is Weight.DOUBT
    assert "cannot be held straight" in beyond.remedy


def test_with_a_gimbal_stated_one_engine_out_is_asked_of_unasked():
    (supposed,) = told(TEXT)
    assert supposed.weight is Weight.NOTE
    assert "with 1 of 4 out" in supposed.got
    assert told(TEXT.replace("gimbal: 6 deg, ", "")) == []  # nothing is said, nothing is asked


def test_without_a_gimbal_stated_the_common_range_is_named():
    text = TEXT.replace("gimbal: 6 deg, ", "").replace("count: 4", "count: 4, out: 1 at 60 s")
    (one,) = told(text)
    assert "8" in one.accepted and "Shuttle" in one.source
    assert "engine layout" in one.remedy


def test_tanks_side_by_side_of_different_weight_are_lopsided():
    beside = TEXT.replace(
        "      - {holds: LOX, shape: cylinder, ullage: 3 %}\n      - {holds: LCH4, shape: cylinder, ullage: 3 %}",
        "      - {holds: LOX, shape: sphere, ullage: 3 %}\n      - {holds: LCH4, shape: sphere, beside: yes, ullage: 3 %}",
    )
    _, vehicle, geometry, made = laid(beside)
    full = next(one for one in made if one.when == "at lift-off")
    tanks = geometry.stages[0].tanks
    total = vehicle.stages[0].gross_mass + vehicle.payload
    off = abs(sum(tank.mass * tank.positions[0][0] for tank in tanks)) / total
    assert full.offset == pytest.approx(off, rel=1e-9)
    assert full.offset > 0.1


STRAPPED = TEXT + """
  - name: side
    strapped to: only
    count: COUNT
    diameter: 1.2 m
    dry mass: 1 t
    propellant: {pair: solid, mass: 9 t}
    engines: [{kind: solid, thrust: {vacuum: 300 kN}, isp: {sea level: 240 s, vacuum: 270 s}}]
"""  # fmt: skip


def test_one_strap_on_is_balanced_by_the_engines_that_swing():
    _, vehicle, _, made = laid(STRAPPED.replace("COUNT", "1"))
    full = next(one for one in made if one.when == "at lift-off")
    side = vehicle.strap_ons[0].stage
    at = (4.0 + 1.2) / 2.0
    total = vehicle.mass_above(0)
    shift = side.gross_mass * at / total
    push = side.thrust(101_325.0)
    assert full.fixed_moment == pytest.approx(push * (at - shift), rel=1e-9)
    assert full.steered_moment == pytest.approx(-4 * 200e3 * shift, rel=1e-9)
    # the balance itself
    m, s, f, arm, d = full.fixed_moment, full.steered_moment, full.steered_thrust, full.arm, full.swing
    assert m + s * math.cos(d) == pytest.approx(f * arm * math.sin(d), rel=1e-9)
    burnt = next(one for one in made if one.when == "as it burns out")
    assert burnt.swing == pytest.approx(0.0, abs=1e-12)  # it is let go by then


def test_two_strap_ons_are_even():
    *_, made = laid(STRAPPED.replace("COUNT", "2"))
    assert next(one for one in made if one.when == "at lift-off").swing == pytest.approx(0.0, abs=1e-9)


def test_more_than_the_engines_can_balance_is_told_as_such():
    text = (
        (STRAPPED.replace("COUNT", "1"))
        .replace("count: 4", "count: 1")
        .replace("way: ring, ", "")
        .replace(", ring diameter: 2.4 m", "")
    )
    text = text.replace("sea level: 200 kN", "sea level: 20 kN")
    found = [one for one in told(text) if one.weight is Weight.DOUBT]
    assert found and "more than the engines that swing can balance" in found[0].got


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: trim_angle(0.0, 0.0, 1.0, 0.0), "arm must be above 0"),
        (lambda: trim_angle(math.nan, 0.0, 1.0, 1.0), "fixed_moment must be a finite number"),
        (lambda: trim_angle(0.0, 0.0, -1.0, 1.0), "steered_thrust must be 0 or more"),
        (lambda: trim_angle(2.0, 0.0, 1.0, 1.0), "fixed_moment must be below 1 N·m"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        call()
