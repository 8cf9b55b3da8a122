"""Concepts with strap-ons, solids, jets, nuclear stages, climbs and air launches, closed and flown."""

import math
from pathlib import Path

import pytest

import wetmass
from wetmass.concept import load, loads
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.refusal import Refusal
from wetmass.vehicle import Assembly

EXAMPLES = Path(__file__).parent.parent.parent / "examples"

LIFTER = """
name: Lifter
site: {latitude: 14.2 deg N, longitude: 40 deg W, height: 20 m}
mission: {height: 12 km, speed: at least 0.2 km/s}
payload: 40 t
stages:
  - name: bottom
    diameter: 3 m
    dry mass: 20 t
    propellant: {pair: LOX/LCH4, mixture ratio: 3.4, mass: find}
    engines:
      - {name: rockets, count: 2, thrust: {sea level: 600 kN}, isp: {sea level: 310 s, vacuum: 340 s}, minimum throttle: 20 %}
      - {name: fans, kind: turbofan, count: 4, thrust: {sea level: 120 kN}, isp: {sea level: 9500 s}, bypass ratio: 5}
require: [{least: lift-off mass}]
limits: {felt acceleration: 1.4 g}
"""

ORBIT = """
name: Orbiter
site: {latitude: 14.2 deg N, longitude: 40 deg W, height: 20 m}
mission: {perigee: 300 km, apogee: 300 km}
payload: find
stages:
  - name: core
    diameter: 3.6 m
    dry mass: 9 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.6, mass: 110 t}
    engines: [{count: 2, thrust: {sea level: 800 kN}, isp: {sea level: 285 s, vacuum: 315 s}}]
  - name: boosters
    strapped to: core
    count: 2
    diameter: 1.6 m
    dry mass: 2 t
    propellant: {pair: solid, mass: 18 t}
    engines: [{kind: solid, thrust: {vacuum: 700 kN}, isp: {sea level: 240 s, vacuum: 270 s}}]
  - name: top
    diameter: 2.6 m
    dry mass: 2.2 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.6, mass: 24 t}
    engines: [{thrust: {vacuum: 200 kN}, isp: {vacuum: 345 s}, exit diameter: 1.6 m}]
"""


@pytest.fixture(scope="module")
def lifted():
    return wetmass.fly(loads(LIFTER))


@pytest.fixture(scope="module")
def orbited():
    return wetmass.fly(loads(ORBIT))


def step(closed, words):
    return next(s for s in closed.steps if s.words == words)


# ── a bottom stage with rockets and fans, beside the estimate by hand ─────────────────────────────


def test_rockets_and_fans_lift_a_mass_to_a_height(lifted):
    assert lifted.closes, lifted.reason
    end = lifted.flight.events[-1]
    assert end.what == "at the height: last cut-off"
    assert end.height == pytest.approx(12e3, abs=2.0)  # conditions are met to 1e-3 of 10
    assert end.air_speed >= 199.9
    assert math.degrees(end.path_angle) > 88.0  # straight up; the Earth turns below


def test_the_estimate_by_hand_stands_beside_the_flight_and_is_near_it(lifted):
    # √(2h/a) is exact at a steady net acceleration: here the limit of 1.4 g holds nearly all the way,
    # until the propellant is at its end; fans that stop and drag are what the hand leaves out
    share = lifted.flight.stages[0]
    assert step(lifted, "time of the climb, by hand").result == pytest.approx(share.burnout_time, rel=0.05)
    assert step(lifted, "speed at its end, by hand").result == pytest.approx(share.burnout_air_speed, rel=0.1)
    net = step(lifted, "net acceleration upwards, by hand").result
    assert net == pytest.approx(0.4 * STANDARD_GRAVITY, rel=1e-6)
    assert "Flown" in step(lifted, "propellant for the climb, by hand").remark


def test_losses_of_a_climb_are_told_honestly(lifted):
    share = lifted.flight.stages[0]
    # straight up at a steady net acceleration gravity takes g times the time
    assert share.losses.gravity == pytest.approx(9.78 * share.burnout_time, rel=0.01)
    assert abs(lifted.flight.losses.gap) < 1e-5


def test_fuel_of_the_fans_comes_out_of_the_load(lifted):
    stage = lifted.vehicle.stages[0]
    assert lifted.flight.jet_fuel > 100.0
    burnt = lifted.flight.events[0].mass - lifted.flight.events[-1].mass
    assert burnt == pytest.approx(stage.propellant.burns, rel=1e-6)


def test_tanks_are_loaded_richer_where_jets_share_the_fuel(lifted):
    made = step(lifted, "oxidiser to fuel of what burns, jets counted")
    burns, jets = lifted.vehicle.stages[0].propellant.burns, lifted.flight.jet_fuel
    oxidiser = (burns - jets) * 3.4 / 4.4
    assert made.result == pytest.approx(oxidiser / (burns - oxidiser), rel=1e-12)
    assert made.result < 3.4


@pytest.mark.parametrize("name", ["dunlin", "godwit", "turnstone", "sanderling"])
def test_the_examples_close_and_fly(name):
    closed = wetmass.fly(load(EXAMPLES / f"{name}.yaml"))
    assert closed.closes, closed.reason
    assert all(held.met for held in closed.held)
    assert abs(closed.flight.losses.gap) < 1e-6
    failing = [finding for finding in closed.findings if finding.weight == "fails"]
    assert not failing, failing


# ── strap-ons ────────────────────────────────────────────────────────────────────────────────────


def test_strap_ons_are_flown_and_stand_in_the_mass_table(orbited):
    assert orbited.closes, orbited.reason
    names = [event.what for event in orbited.flight.events]
    assert "boosters engines burn out and are let go" in names or "boosters burn out and are let go" in names
    table = {item.part: item.mass for item in orbited.vehicle.mass_table() if item.item == "dry mass"}
    assert table["2 × boosters"] == pytest.approx(4e3)
    assert sum(item.mass for item in orbited.vehicle.mass_table()) == pytest.approx(
        orbited.vehicle.mass_above(0)
    )


def test_strap_ons_carry_more_than_the_core_alone(orbited):
    alone = ORBIT[: ORBIT.index("  - name: boosters")] + ORBIT[ORBIT.index("  - name: top") :]
    without = wetmass.fly(loads(alone))
    assert orbited.payload > 1.1 * max(without.payload, 0.0)


def test_lift_off_thrust_counts_strap_ons(orbited):
    core, boosters = 2 * 800e3, 2 * 700e3 * 240 / 270
    assert orbited.vehicle.lift_off_thrust() == pytest.approx(core + boosters, rel=1e-9)


# ── launched from the air ────────────────────────────────────────────────────────────────────────


def test_a_launch_from_the_air_starts_at_its_height_and_speed():
    text = ORBIT[: ORBIT.index("  - name: boosters")] + ORBIT[ORBIT.index("  - name: top") :]
    text = text.replace("mass: 110 t", "mass: 90 t").replace(
        "height: 20 m}", "height: 20 m, launch: {height: 12 km, speed: 220 m/s, path angle: 20 deg}}"
    )
    closed = wetmass.fly(loads(text))
    assert closed.closes, closed.reason
    start = closed.flight.events[0]
    assert start.height == pytest.approx(12e3, abs=1e-3)
    assert start.air_speed == pytest.approx(220.0, rel=1e-9)
    assert start.path_angle == pytest.approx(math.radians(20.0), abs=1e-6)
    assert "pulls up" in closed.flight.steering.law
    ground = wetmass.fly(
        loads(text.replace(", launch: {height: 12 km, speed: 220 m/s, path angle: 20 deg}", ""))
    )
    assert closed.payload > ground.payload  # thin air, a wide view of the sky and some speed


# ── climbs ───────────────────────────────────────────────────────────────────────────────────────


def test_a_climb_to_an_apex_coasts_up_to_it():
    text = LIFTER.replace("speed: at least 0.2 km/s", "at: apex").replace("12 km", "90 km")
    closed = wetmass.fly(loads(text))
    assert closed.closes, closed.reason
    end = closed.flight.events[-1]
    assert end.what == "top of the climb"
    assert end.height == pytest.approx(90e3, rel=1e-4)
    assert end.felt_acceleration < 0.1


def test_a_climb_may_slant():
    text = LIFTER.replace("speed: at least 0.2 km/s", "path angle: 50 deg, heading: 90 deg")
    closed = wetmass.fly(loads(text))
    assert closed.closes, closed.reason
    end = closed.flight.events[-1]
    assert math.degrees(end.path_angle) == pytest.approx(50.0, abs=0.1)
    assert end.downrange > 1e3


# ── vehicles ─────────────────────────────────────────────────────────────────────────────────────


def vehicle(text, **values):
    return Assembly(loads(text)).vehicle(values)


def test_nuclear_start_and_cool_down_are_counted():
    text = (EXAMPLES / "turnstone.yaml").read_text(encoding="utf-8")
    made = vehicle(text, payload=30e3, **{"stages/core/propellant/mass": 200e3})
    p = made.stages[-1].propellant
    flow = made.stages[-1].flow
    assert p.start_loss == pytest.approx(
        flow * 30.0 / 2.0 * 0.25, rel=1e-9
    )  # even ramp, a quarter of it lost
    assert 0.01 * p.load < p.shut_down_loss < 0.15 * p.load
    assert p.burns + p.residuals + p.start_loss + p.shut_down_loss + p.reserve == pytest.approx(p.load)


def test_cooling_the_core_is_shown_step_by_step_and_is_what_is_kept():
    from wetmass.vehicle.nuclear import nuclear_steps

    text = (EXAMPLES / "turnstone.yaml").read_text(encoding="utf-8")
    stage = vehicle(text, payload=30e3, **{"stages/core/propellant/mass": 200e3}).stages[-1]
    power, heat, mass = nuclear_steps(stage)
    assert power.result == pytest.approx(420e3 * 880 * STANDARD_GRAVITY / (2 * 0.87), rel=1e-12)
    assert mass.result == pytest.approx(2 * 0.87 * heat.result / 4000.0**2, rel=1e-12)
    assert 2 * mass.result == pytest.approx(stage.propellant.shut_down_loss, rel=1e-3)  # two engines


def test_engines_out_stop_at_their_time():
    made = vehicle(
        ORBIT.replace(
            "count: 2, thrust: {sea level: 800", "count: 2, out: 1 at 60 s, thrust: {sea level: 800"
        ),
        payload=1e3,
    )
    lit, failed = made.stages[0].engines
    assert (lit.count, failed.count, failed.stops_after) == (1, 1, 60.0)
    assert lit.stops_after is None


def test_an_adapting_nozzle_gains_at_sea_level_and_keeps_its_exit():
    text = ORBIT.replace(
        "engines: [{count: 2,",
        "engines: [{count: 2, nozzle: altitude-adapting, adapts: 80 %, chamber pressure: 9 MPa,",
    )
    fixed, adapts = vehicle(ORBIT, payload=1e3).stages[0], vehicle(text, payload=1e3).stages[0]
    assert adapts.thrust(101_325.0) > 1.001 * fixed.thrust(101_325.0)  # its bell is not far over-expanded
    assert adapts.thrust(0.0) == pytest.approx(fixed.thrust(0.0), rel=1e-12)
    ideal = text.replace("adapts: 80 %", "adapts: 0 %")
    assert vehicle(ideal, payload=1e3).stages[0].thrust(101_325.0) == pytest.approx(fixed.thrust(101_325.0))


# ── refusals ─────────────────────────────────────────────────────────────────────────────────────

REFUSED = {
    "fans in vacuum": (
        LIFTER, "thrust: {sea level: 120 kN}", "thrust: {vacuum: 120 kN}", "there is no air in vacuum",
    ),
    "a ramjet without an intake": (
        LIFTER, "kind: turbofan, count: 4, thrust: {sea level: 120 kN}, isp: {sea level: 9500 s}, bypass ratio: 5",
        "kind: ramjet, count: 4", "which every ramjet needs",
    ),
    "no thrust": (ORBIT, "thrust: {vacuum: 200 kN}, ", "", "which every group of engines needs"),
    "a trace on a liquid": (
        ORBIT, "engines: [{thrust: {vacuum: 200 kN}", "engines: [{trace: [[0 s, 0], [1 s, 1], [9 s, 0]], thrust: {vacuum: 200 kN}",
        "only with kind: solid",
    ),
    "a trace that does not begin": (
        ORBIT, "{kind: solid,", "{kind: solid, trace: [[1 s, 0], [2 s, 1], [9 s, 0]],", "0 s, the ignition",
    ),
    "a trace going back": (
        ORBIT, "{kind: solid,", "{kind: solid, trace: [[0 s, 0], [9 s, 1], [2 s, 0]],", "a time after the one before",
    ),
    "a throttled solid": (ORBIT, "{kind: solid,", "{kind: solid, minimum throttle: 50 %,", "rocket or nuclear"),
    "an adapting nozzle without figures": (
        ORBIT, "engines: [{count: 2,", "engines: [{count: 2, nozzle: altitude-adapting,", "adapts: 80 %",
    ),
    "all engines out": (ORBIT, "engines: [{count: 2,", "engines: [{count: 2, out: 2 at 60 s,", "leave one that burns"),
    "engines out without a time": (ORBIT, "engines: [{count: 2,", "engines: [{count: 2, out: 1,", "1 at 60 s"),
    "two rules for lighting": (
        ORBIT, "engines: [{thrust: {vacuum: 200", "engines: [{lit above: 90 km, lit after: 3 s, thrust: {vacuum: 200",
        "one rule for lighting it",
    ),
    "strapped to strap-ons": (ORBIT, "strapped to: core", "strapped to: core\n    lit after: 5 s\n    let go above: 9 km",
                              "not for strap-ons"),
    "crossfeed of a stage": (ORBIT, "- name: top", "- name: top\n    crossfeed: yes", "only for strap-ons"),
    "crossfeed from a solid": (ORBIT, "strapped to: core", "strapped to: core\n    crossfeed: yes", "a solid feeds nothing"),
    "jets strapped on": (
        ORBIT, "engines: [{kind: solid, thrust: {vacuum: 700 kN}, isp: {sea level: 240 s, vacuum: 270 s}}]",
        "engines: [{kind: turbojet, thrust: {sea level: 70 kN}, isp: {sea level: 4000 s}}]", "not flown yet",
    ),
    "delta-v of strap-ons": (
        ORBIT, "\nstages:", "\nrequire: [{boosters delta-v: at least 1 km/s}]\nstages:", "they push together",
    ),
    "an orbit and a height": (LIFTER, "height: 12 km", "height: 12 km, perigee: 300 km", "no perigee beside a height"),
    "a speed for an orbit": (ORBIT, "apogee: 300 km", "apogee: 300 km, speed: 7 km/s", "only beside a height"),
    "a mission without an apogee": (ORBIT, ", apogee: 300 km", "", "which every mission to an orbit needs"),
    "a heading without a slant": (LIFTER, "height: 12 km", "height: 12 km, heading: 90 deg", "only with a path angle"),
    "a speed that is no speed": (LIFTER, "at least 0.2 km/s", "at least 200 m", "speed"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_flown_is_refused_with_what_to_do(case):
    text, old, new, words = REFUSED[case]
    assert old in text
    with pytest.raises(Refusal) as refusal:
        loads(text.replace(old, new, 1))
    told = " ".join(f"{c.field} {c.got} {c.accepted} {c.remedy}" for c in refusal.value.complaints)
    assert words in told


def test_heating_without_the_fairing_is_kept_and_costs_payload():
    text = ORBIT.replace("\nstages:", "\nfairing: {mass: 800 kg}\nstages:").replace("300 km", "180 km")
    free = wetmass.fly(loads(text))
    assert free.flight.exposed_heating.value > 1000.0  # the fairing goes at 1135 W/m²
    later = text.replace("mass: 800 kg", "mass: 800 kg, drop heating: 600 W/m²")
    kept = wetmass.fly(loads(later + "limits: {heating: 700 W/m²}\n"))
    assert kept.closes, kept.reason
    assert kept.flight.exposed_heating.value < 1.01 * 700.0
    assert kept.payload < free.payload
