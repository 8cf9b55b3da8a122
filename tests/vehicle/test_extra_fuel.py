"""Fuel beyond the mixture ratio: jets on the same tank, stated or as flown, in tanks, loads and findings."""

import dataclasses

import pytest

import wetmass
from wetmass.concept import load, loads
from wetmass.findings import fluids
from wetmass.record.finding import Weight
from wetmass.record.refusal import Refusal
from wetmass.vehicle import Assembly
from wetmass.vehicle.geometry import lay_out, load_from_tanks
from wetmass.vehicle.geometry.scaling import Growth

TEXT = """
name: Lifter
site: {latitude: 14.2 deg N, longitude: 40 deg W}
mission: {height: 9 km}
payload: 30 t
stages:
  - name: bottom
    diameter: 3 m
    dry mass: 20 t
    propellant: {pair: LOX/LCH4, mixture ratio: 3.4, mass: 22 t, extra fuel: 400 kg}
    engines:
      - {name: rockets, count: 2, thrust: {sea level: 600 kN}, isp: {sea level: 310 s, vacuum: 340 s}, minimum throttle: 20 %}
      - {name: fans, kind: turbofan, count: 4, thrust: {sea level: 120 kN}, isp: {sea level: 9500 s}, bypass ratio: 5}
    tanks:
      - {holds: LOX, shape: cylinder, ullage: 3 %}
      - {holds: LCH4, shape: cylinder, ullage: 3 %}
limits: {felt acceleration: 1.4 g}
"""


def laid(text):
    concept = loads(text)
    vehicle = Assembly(concept).vehicle({})
    return concept, vehicle.stages[0], lay_out(concept, vehicle).stages[0]


def test_stated_extra_fuel_is_loaded_beyond_the_mixture_ratio():
    _, stage, geometry = laid(TEXT)
    held = {tank.holds: tank.mass for tank in geometry.tanks}
    assert held["LOX"] == pytest.approx((22e3 - 400.0) * 3.4 / 4.4, rel=1e-12)
    assert held["LCH4"] == pytest.approx((22e3 - 400.0) / 4.4 + 400.0, rel=1e-12)
    assert stage.propellant.oxidiser == pytest.approx(held["LOX"], rel=1e-12)


def test_sizes_in_the_closing_loop_are_those_laid_out():
    concept, stage, geometry = laid(TEXT)
    sizes = Growth(concept.stages[0]).at(stage.propellant.load, geometry.engine_length)
    assert sizes.masses == pytest.approx([tank.mass for tank in geometry.tanks], rel=1e-12)
    assert sizes.volumes == pytest.approx([tank.volume for tank in geometry.tanks], rel=1e-9)


def test_a_load_from_tanks_counts_the_extra_fuel():
    concept, _, geometry = laid(TEXT)
    sized = TEXT.replace("mass: 22 t", "mass: from tanks")
    for tank in geometry.tanks:
        old = f"holds: {tank.holds}, shape: cylinder"
        sized = sized.replace(old, f"{old}, length: {tank.size('length')!r} m")
    assert load_from_tanks(loads(sized).stages[0]) == pytest.approx(22e3, rel=1e-9)
    assert concept.stages[0].propellant.extra_fuel.value == 400.0


def test_where_nothing_is_stated_the_fuel_that_jets_burnt_is_in_the_tanks():
    closed = wetmass.fly(loads(TEXT.replace(", extra fuel: 400 kg", "")))
    assert closed.closes, closed.reason
    p = closed.vehicle.stages[0].propellant
    assert p.extra_fuel == pytest.approx(closed.flight.jet_fuel, rel=1e-6)  # flown again to be recorded
    held = {tank.holds: tank.mass for tank in closed.geometry.stages[0].tanks}
    assert held["LOX"] == pytest.approx((p.load - p.extra_fuel) * 3.4 / 4.4, rel=1e-12)
    step = next(s for s in closed.steps if s.words == "fuel in the tanks")
    assert step.result == pytest.approx(held["LCH4"], rel=1e-9)


def test_stated_extra_fuel_that_jets_do_not_burn_or_that_is_short_is_told():
    concept = loads(TEXT)
    closed = wetmass.fly(concept)
    burnt = closed.flight.jet_fuel
    told = list(fluids.jets_fuel(concept, closed))
    assert [finding.weight for finding in told] == [Weight.DOUBT]
    assert ("stays aboard" if burnt < 400.0 else "run out of fuel") in told[0].remedy
    for share, words in ((0.5, "run out of fuel"), (2.0, "stays aboard")):
        other = loads(TEXT.replace("400 kg", f"{share * burnt!r} kg"))
        assert words in next(iter(fluids.jets_fuel(other, closed))).remedy
    right = loads(TEXT.replace("400 kg", f"{burnt!r} kg"))
    assert not list(fluids.jets_fuel(right, closed))
    assert not list(fluids.jets_fuel(right, dataclasses.replace(closed, flight=None)))


def test_what_comes_home_on_jets_is_fuel_alone():
    from pathlib import Path

    concept = load(Path(__file__).parents[2] / "examples" / "godwit.yaml")
    values = {"payload": 17e3, "stages/bottom/propellant/mass": 420e3, "stages/top/propellant/mass": 100e3}
    values["stages/bottom/home/propellant"] = 6e3
    bottom, top = Assembly(concept).vehicle(values).stages
    assert bottom.propellant.extra_fuel == pytest.approx(6e3)
    assert top.propellant.extra_fuel == 0.0


def test_more_extra_fuel_than_a_stage_could_mean_is_refused():
    with pytest.raises(Refusal, match="extra fuel"):
        loads(TEXT.replace("400 kg", "9 t"))
