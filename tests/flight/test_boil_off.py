"""Boil-off in one ledger: before ignition, between two burns, and after the last cut-off."""

import pytest

import wetmass
from wetmass.concept import loads
from wetmass.findings import fluids
from wetmass.record.finding import Weight
from wetmass.record.refusal import Refusal
from wetmass.vehicle import Assembly

TEXT = """
name: Boiler
site: {latitude: 14.2 deg N, longitude: 40 deg W}
mission: {perigee: 300 km, apogee: 3000 km, insertion: with coast, stay in orbit: 3 day}
payload: find
stages:
  - name: first
    diameter: 2.6 m
    dry mass: 4 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.4, mass: 60 t}
    engines: [{count: 4, thrust: {sea level: 240 kN}, isp: {sea level: 280 s, vacuum: 315 s}}]
  - name: second
    diameter: 2.6 m
    dry mass: 1.4 t
    pause before ignition: 100 s
    propellant: {pair: LOX/LH2, mixture ratio: 5.5, mass: 10 t, residuals: 50 kg}
    engines: [{thrust: {vacuum: 110 kN}, isp: {vacuum: 445 s}, ignitions: 2}]
    tanks:
      - {holds: LH2, shape: cylinder, boil-off: 120 kg/day}
      - {holds: LOX, shape: cylinder, boil-off: 60 kg/day}
"""
RATE = 180.0 / 86_400.0  # kg/s


@pytest.fixture(scope="module")
def flown():
    closed = wetmass.fly(loads(TEXT))
    assert closed.closes, closed.reason
    return closed


def test_what_boils_before_ignition_and_in_orbit_comes_out_of_what_burns():
    stage = Assembly(loads(TEXT)).vehicle({"payload": 2e3}).stages[1]
    p, first = stage.propellant, 60e3 / Assembly(loads(TEXT)).vehicle({"payload": 2e3}).stages[0].flow
    assert stage.boil_rate == pytest.approx(RATE, rel=1e-12)
    assert p.boil_off == pytest.approx(RATE * (first + 100.0), rel=1e-12)
    assert p.boil_off_in_orbit == pytest.approx(180.0 * 3, rel=1e-12)
    assert p.load == pytest.approx(10e3, rel=1e-12)
    assert p.burns == pytest.approx(10e3 - 50.0 - p.boil_off - 540.0, rel=1e-12)


def test_what_boils_between_the_burns_is_its_rate_times_the_coast(flown):
    events = {event.what: event for event in flown.flight.events}
    stops, again = events["second stops to coast"], events["second lights again"]
    coast = again.time - stops.time
    p = flown.vehicle.stages[1].propellant
    assert p.boil_off_coasting == pytest.approx(RATE * coast, rel=1e-6)
    assert p.load == pytest.approx(10e3, rel=1e-9)


def test_the_ledger_adds_up_to_the_mass_in_orbit(flown):
    end = flown.flight.events[-1]
    p = flown.vehicle.stages[1].propellant
    assert end.mass == pytest.approx(flown.payload + 1400.0 + p.residuals + p.boil_off_in_orbit, rel=1e-9)
    assert sum(item.mass for item in flown.vehicle.mass_table()) == pytest.approx(flown.vehicle.mass_above(0))
    lines = {item.item: item.mass for item in flown.vehicle.mass_table()}
    assert lines["boil-off in orbit"] == pytest.approx(540.0)
    assert lines["boil-off while coasting"] == pytest.approx(p.boil_off_coasting)


def test_boil_off_costs_payload(flown):
    dry = TEXT.replace(", boil-off: 120 kg/day", "").replace(", boil-off: 60 kg/day", "")
    without = wetmass.fly(loads(dry))
    # What waits in orbit is carried there like payload, and is missing from what burns: by the rocket equation
    # of the stage alone, mass ratio R kept, 540·R/(R − 1); a lighter payload helps the first stage a little.
    stage, p = flown.vehicle.stages[1], flown.vehicle.stages[1].propellant
    ratio = (stage.gross_mass + flown.payload) / (stage.dry_mass + p.kept + flown.payload)
    assert 540.0 < without.payload - flown.payload < 543.5 * ratio / (ratio - 1.0)
    told = list(fluids.boil_off_unsaid(loads(dry), without))
    assert [finding.weight for finding in told] == [Weight.DOUBT]
    assert "LOX and LH2" in told[0].got
    assert not list(fluids.boil_off_unsaid(loads(TEXT), flown))


def test_a_stay_is_refused_on_a_climb():
    text = TEXT.replace("perigee: 300 km, apogee: 3000 km, insertion: with coast", "height: 90 km")
    with pytest.raises(Refusal, match="stay in orbit"):
        loads(text)
