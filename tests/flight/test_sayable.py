"""What DESIGN.md says is sayable, said in YAML and flown: each kind closes and does what its words say."""

import math

import pytest

import wetmass
from wetmass.concept import loads

CORE = """
name: {name}
site: {{latitude: 14.2 deg N, longitude: 40 deg W, height: 20 m}}
mission: {{perigee: 300 km, apogee: 300 km}}
payload: find
stages:
  - name: core
    diameter: 3.6 m
    dry mass: 9 t
    propellant: {{pair: LOX/RP-1, mixture ratio: 2.6, mass: 110 t}}
    engines: [{{count: {count}, thrust: {{sea level: {thrust}}}, isp: {{sea level: 285 s, vacuum: 315 s}}{engine}}}]
{between}
  - name: top
    diameter: 2.6 m
    dry mass: 2.2 t
    propellant: {{pair: LOX/RP-1, mixture ratio: 2.6, mass: 24 t}}
    engines: [{{thrust: {{vacuum: 200 kN}}, isp: {{vacuum: 345 s}}, exit diameter: 1.6 m}}]
{top}
"""
SIDES = """
  - name: sides
    strapped to: core
    count: 2
    diameter: 2 m
    dry mass: 2.5 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.6, mass: 30 t}
    engines: [{thrust: {sea level: 500 kN}, isp: {sea level: 285 s, vacuum: 315 s}}]
"""


def flown(name, count=5, thrust="340 kN", engine="", between="", top=""):
    closed = wetmass.fly(loads(CORE.format(**locals())))
    assert closed.closes, closed.reason
    assert abs(closed.flight.losses.gap) < 1e-5
    return closed


def event(closed, words):
    return next(e for e in closed.flight.events if words in e.what)


@pytest.fixture(scope="module")
def plain():
    return flown("Plain", count=8, between=SIDES)


def test_crossfeed_carries_more_and_leaves_the_core_full(plain):
    fed = flown("Fed", count=8, between=SIDES + "    crossfeed: yes\n")
    assert fed.payload > plain.payload  # with thrust enough for a core that is still full
    # while it feeds, nothing is drawn from the core: the strap-ons are out sooner, and the core burns longer
    assert event(fed, "sides burn out").time < event(plain, "sides burn out").time
    out, end = event(fed, "sides burn out"), event(fed, "core burns out")
    flow = fed.vehicle.stages[0].flow
    assert (end.time - out.time) == pytest.approx(fed.vehicle.stages[0].propellant.burns / flow, rel=0.01)


def test_an_engine_out_burns_longer_and_carries_less():
    whole = flown("Whole")
    out = flown("Out", engine=", out: 1 at 60 s")
    assert out.payload < whole.payload
    # four fifths of the flow from 60 s on
    burn = whole.vehicle.stages[0].propellant.burns / whole.vehicle.stages[0].flow
    assert event(out, "core burns out").time == pytest.approx(60.0 + (burn - 60.0) * 5 / 4, rel=1e-6)


def test_hot_staging_leaves_no_pause():
    cold, hot = flown("Cold"), flown("Hot", top="    hot staging: yes")
    assert event(hot, "top lights").time == pytest.approx(event(hot, "core burns out").time, abs=1e-6)
    assert event(hot, "core let go").time - event(hot, "top lights").time == pytest.approx(1.0, abs=0.02)
    assert hot.payload > cold.payload


def test_a_carrier_lifts_to_a_height_lets_go_and_comes_home():
    carrier = """
name: Carried
site: {latitude: 14.2 deg N, longitude: 40 deg W, height: 20 m}
mission: {perigee: 250 km, apogee: 250 km}
payload: find
stages:
  - name: carrier
    diameter: 4 m
    dry mass: 30 t
    let go above: 11 km
    propellant: {pair: LOX/LCH4, mixture ratio: 3.4, mass: 60 t}
    engines:
      - {name: rockets, count: 3, thrust: {sea level: 700 kN}, isp: {sea level: 310 s, vacuum: 340 s}, minimum throttle: 20 %}
      - {name: fans, kind: turbofan, count: 6, thrust: {sea level: 140 kN}, isp: {sea level: 9500 s}, bypass ratio: 5, intake doors: yes}
    home: {by: jets, where: back to site, propellant: 3 t}
  - name: first
    diameter: 3 m
    dry mass: 4.5 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.6, mass: 70 t}
    engines: [{count: 5, thrust: {vacuum: 260 kN}, isp: {vacuum: 320 s}, exit diameter: 0.7 m}]
  - name: second
    diameter: 2.4 m
    dry mass: 1 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.6, mass: 12 t}
    engines: [{thrust: {vacuum: 90 kN}, isp: {vacuum: 350 s}, exit diameter: 1.3 m}]
"""
    closed = wetmass.fly(loads(carrier))
    assert closed.closes, closed.reason
    gone = closed.flight.stages[0]
    assert gone.burnout_height == pytest.approx(11e3, rel=1e-4)
    # what was not burnt by then falls with it, and is not carried on
    first = next(e for e in closed.flight.events if e.what == "first lights")
    above = sum(s.gross_mass for s in closed.vehicle.stages[1:]) + closed.payload
    assert first.mass == pytest.approx(above, rel=1e-6)


def test_jets_burn_first_and_rockets_make_up_the_rest():
    lifter = """
name: Rest
site: {latitude: 14.2 deg N, longitude: 40 deg W, height: 20 m}
mission: {height: 8 km}
payload: 40 t
stages:
  - name: bottom
    diameter: 3 m
    dry mass: 22 t
    propellant: {pair: LOX/LCH4, mixture ratio: 3.4, mass: find}
    engines:
      - {name: rockets, count: 2, thrust: {sea level: 600 kN}, isp: {sea level: 310 s, vacuum: 340 s}, minimum throttle: 10 %}
      - {name: fans, kind: turbofan, count: 5, thrust: {sea level: 120 kN}, isp: {sea level: 9500 s}, bypass ratio: 5}
require: [{least: lift-off mass}]
limits: {felt acceleration: 1.3 g}
"""
    closed = wetmass.fly(loads(lifter))
    assert closed.closes, closed.reason
    table = closed.flight.trajectory
    names = [column.key for column in table.columns]
    rows = table.values
    early = rows[(rows[:, names.index("time")] > 1.0) & (rows[:, names.index("time")] < 20.0)]
    throttle = early[:, names.index("throttle")]
    assert (throttle < 0.9).all()  # the rockets, throttled to what is wanting at 1.3 g₀
    burnt = closed.flight.jet_fuel
    # the fans run at full thrust: 5 × 120 kN at 9500 s would burn this much in the time they ran, thinning with height
    off = event(closed, "height").time
    full = 5 * 120e3 / (9500.0 * 9.80665) * off
    assert 0.5 * full < burnt < full


def test_a_turbojet_and_a_ramjet_take_turns():
    climber = """
name: Turns
site: {latitude: 14.2 deg N, longitude: 40 deg W, height: 20 m}
mission: {height: 24 km}
payload: 2 t
stages:
  - name: climber
    diameter: 2.4 m
    dry mass: 9 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.5, mass: find}
    engines:
      - {name: rockets, count: 1, thrust: {sea level: 260 kN}, isp: {sea level: 285 s, vacuum: 315 s}}
      - {name: jets, kind: turbojet, count: 2, thrust: {sea level: 60 kN}, isp: {sea level: 3800 s}, stops above mach: 1.5}
      - {name: rams, kind: ramjet, count: 2, intake area: 0.35 m², lit above mach: 1.5}
require: [{least: lift-off mass}]
"""
    closed = wetmass.fly(loads(climber))
    assert closed.closes, closed.reason
    names = [e.what for e in closed.flight.events]
    assert any("jets stop" in name for name in names), names
    assert any("rams light" in name for name in names), names
    lit, out = event(closed, "rams light"), event(closed, "jets stop")
    assert lit.time == pytest.approx(out.time, abs=0.5)
    without = wetmass.fly(loads(climber.replace("lit above mach: 1.5", "lit above mach: 4.5")))
    assert without.closes
    assert closed.vehicle.lift_off_mass < without.vehicle.lift_off_mass  # air carries part of the way
    assert math.isfinite(closed.flight.jet_fuel)


AFTERBURNING = """
name: Reheated
site: {latitude: 14.2 deg N, longitude: 40 deg W, height: 20 m}
mission: {height: 5 km}
payload: 2 t
stages:
  - name: climber
    diameter: 2.4 m
    dry mass: 9 t
    propellant: {pair: RP-1, mass: find}
    engines:
      - {name: jets, kind: turbojet, afterburner: yes, count: 4, thrust: {sea level: 80 kN}, isp: {sea level: 1850 s}}
require: [{least: lift-off mass}]
"""


def test_afterburning_turbojets_lift_alone_and_drink_for_it():
    wet = wetmass.fly(loads(AFTERBURNING))
    assert wet.closes, wet.reason
    assert any("afterburner" in line for line in wet.assumed)
    jet = wet.vehicle.stages[0].engines[0]
    assert jet.jet.jet_speed == 1000.0
    assert jet.rules.stops_above_mach == 2.0
    dry = wetmass.fly(loads(AFTERBURNING.replace("afterburner: yes, ", "").replace("1850 s", "3700 s")))
    assert dry.closes, dry.reason
    assert wet.flight.jet_fuel > 1.5 * dry.flight.jet_fuel


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("kind: turbojet", "kind: turbofan", "a bypass ratio of at most 1.5"),
        ("kind: turbojet", "kind: turbofan, bypass ratio: 5", "a bypass ratio of at most 1.5"),
        ("kind: turbojet", "kind: ramjet, intake area: 1 m²", "only with kind: turbofan or turbojet"),
    ],
)
def test_afterburners_that_no_engine_has_are_refused(old, new, words):
    from wetmass.record.refusal import Refusal

    with pytest.raises(Refusal, match=words):
        loads(AFTERBURNING.replace(old, new))
