"""Strap-ons, solids, jets and engines with rules of their own, flown."""

import itertools
import math

import numpy as np
import pytest

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, Steering
from wetmass.flight.program import program
from wetmass.flight.propagate import fly
from wetmass.physics.atmosphere import air_kernel
from wetmass.physics.earth import OMEGA, geodetic
from wetmass.physics.jets import jet_thrust
from wetmass.physics.nozzle import adapting_thrust, exit_pressure_ratio
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.mission import Climb, Limits, Site
from wetmass.record.vehicle import (
    Adapting,
    EngineGroup,
    Jet,
    Kind,
    LetGo,
    Moment,
    Propellant,
    Ramjet,
    Rules,
    Stage,
    StrapOn,
    Vehicle,
)

NO_DRAG = ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (3.0, 0.0))
SITE = Site(math.radians(14.2), math.radians(-40.0), 20.0)
ISP = 300.0
C = ISP * STANDARD_GRAVITY


def stage(name="core", dry=10e3, burns=100e3, engines=None, drag=NO_DRAG, area=0.0, **more):
    engines = (EngineGroup("engines", 1, 2.5e6, 0.0, ISP),) if engines is None else engines
    return Stage(name, dry, Propellant("LOX/RP-1", 2.5, burns), engines, 3.0, area, drag, **more)


def flown(vehicle, limits=None, longest=2.0, **layout):
    """(state at the end, marks, program, rows) of a flight straight up."""
    ascent = Ascent(
        SITE, Climb(1e5), limits or Limits(), Steering(), lambda _: vehicle, (), lambda v, t: ([], []),
        lambda v, t: 0.0,
    )  # fmt: skip
    laid = program(vehicle, **layout)
    control = ascent.control(np.zeros(0))
    control[at.LONGEST_STEP] = longest
    y = ascent.started(control, laid, at.ACCOUNTED)
    summary, marks = np.zeros(at.SUMMARY_WIDTH), np.zeros((laid.mark_rows(), 1 + at.ACCOUNTED))
    rows = np.zeros((4000, at.ROW_WIDTH))
    _, count = fly(
        0.0, laid.segments, laid.let_go, control, laid.curves, y, summary, marks, rows,
        np.zeros((0, at.STEP_WIDTH)), False, at.ACCOUNTED, laid.groups, laid.traces,
    )  # fmt: skip
    assert summary[at.STATUS] == at.DONE
    return y, marks, laid, rows[:count]


def events(rows, kind):
    return [float(row[at.ROW_TIME]) for row in rows if int(row[at.ROW_EVENT]) == kind]


def strapped(core=None, one=None, **more):
    core = core or stage()
    one = one or stage("booster", 2e3, 20e3, (EngineGroup("motor", 1, 1e6, 0.0, ISP),))
    return Vehicle("v", (core,), 1e3, strap_ons=(StrapOn(one, 2, 0, **more),))


def test_strap_ons_burn_out_when_their_own_tanks_are_empty_and_the_core_when_its_are():
    y, marks, _laid, rows = flown(strapped())
    out = 20e3 * C / 1e6  # propellant over flow, exact
    assert events(rows, at.GROUP_LET_GO) == pytest.approx([out], rel=1e-12)
    assert marks[0, 0] == pytest.approx(100e3 * C / 2.5e6, rel=1e-12)
    assert y[at.MASS] == pytest.approx(10e3 + 1e3, rel=1e-12)


def test_ideal_gain_with_strap_ons_is_the_rocket_equation_leg_by_leg():
    y, *_ = flown(strapped())
    start = 110e3 + 1e3 + 2 * 22e3
    burnt = 2 * 20e3 + 2.5e6 / C * (20e3 * C / 1e6)
    first = C * math.log(start / (start - burnt))
    second = C * math.log((start - burnt - 4e3) / (10e3 + 1e3))
    assert y[at.IDEAL] == pytest.approx(first + second, rel=1e-9)  # exact; the integrator's own error


def test_strap_ons_that_stay_a_while_are_carried_until_they_are_let_go():
    _, marks, laid, rows = flown(strapped(let_go_after=7.0))
    out, gone = events(rows, at.GROUP_OUT), events(rows, at.GROUP_LET_GO)
    assert gone[0] - out[0] == pytest.approx(7.0, abs=1e-9)
    mark = marks[laid.group_mark(0)]
    burnt = 2 * 20e3 + 2.5e6 / C * gone[0]
    assert mark[1 + at.MASS] == pytest.approx(110e3 + 1e3 + 44e3 - burnt, rel=1e-9)


def test_strap_ons_lit_later_begin_at_their_time():
    _, _, _, rows = flown(strapped(lit_after=12.0))
    assert events(rows, at.GROUP_LIT) == pytest.approx([12.0], abs=1e-9)
    assert events(rows, at.GROUP_LET_GO) == pytest.approx([12.0 + 20e3 * C / 1e6], rel=1e-9)


def test_a_core_lit_after_its_strap_ons_is_lifted_by_them_alone():
    one = stage("booster", 2e3, 40e3, (EngineGroup("motor", 1, 1.5e6, 0.0, ISP),))
    vehicle = strapped(stage(pause=30.0), one)
    y, marks, laid, _rows = flown(vehicle)
    assert laid.burns == (True, True)
    assert marks[0, 0] == pytest.approx(30.0, abs=1e-9)
    assert marks[0, 1 + at.BURNT] == 0.0
    assert y[at.MASS] == pytest.approx(11e3, rel=1e-12)


def test_strap_ons_that_outlast_the_core_burn_on_without_it():
    one = stage("booster", 2e3, 80e3, (EngineGroup("motor", 1, 1e6, 0.0, ISP),))
    y, marks, laid, _ = flown(strapped(one=one))
    assert laid.names == ("burn", "strap-ons alone")
    assert marks[0, 0] == pytest.approx(100e3 * C / 2.5e6, rel=1e-12)
    assert marks[1, 0] == pytest.approx(80e3 * C / 1e6, rel=1e-12)
    assert y[at.MASS] == pytest.approx(11e3, rel=1e-12)


def test_throttled_strap_ons_last_longer_and_still_burn_all_they_have():
    core = stage(engines=(EngineGroup("engines", 1, 2.5e6, 0.0, ISP, 0.3),))
    one = stage("booster", 2e3, 20e3, (EngineGroup("motor", 1, 1e6, 0.0, ISP, 0.3),))
    limits = Limits(acceleration=3.2 * STANDARD_GRAVITY)
    y, marks, laid, rows = flown(strapped(core, one), limits)
    out = events(rows, at.GROUP_LET_GO)[0]
    assert out > 1.02 * 20e3 * C / 1e6
    mark = marks[laid.group_mark(0)]
    # both have burnt in proportion to their flows: 2 × 20 t of the strap-ons, 2.5 times a half of that
    assert mark[1 + at.BURNT] == pytest.approx(40e3 * 2.5 / 2.0, rel=1e-8)
    assert y[at.MASS] == pytest.approx(11e3, rel=1e-9)


def test_crossfeed_leaves_the_core_full_while_strap_ons_burn():
    _, marks, laid, rows = flown(strapped(feeds=True))
    out = events(rows, at.GROUP_LET_GO)[0]
    assert out == pytest.approx(40e3 * C / (2e6 + 2.5e6), rel=1e-12)
    assert marks[laid.group_mark(0), 1 + at.BURNT] == pytest.approx(0.0, abs=1e-6)
    assert marks[0, 0] == pytest.approx(out + 100e3 * C / 2.5e6, rel=1e-9)


# ── solids ───────────────────────────────────────────────────────────────────────────────────────

TRACE = ((0.0, 0.0), (0.5, 1.0), (20.0, 1.2), (40.0, 0.8), (50.0, 0.9), (60.0, 0.0))


def solid(burns=60e3, area=0.0):
    return EngineGroup("motor", 1, burns * C / 60.0, area, ISP, kind=Kind.SOLID, trace=TRACE)


def test_a_solid_with_a_trace_burns_exactly_its_propellant():
    vehicle = Vehicle("v", (stage(dry=5e3, burns=60e3, engines=(solid(),)),), 1e3)
    y, _, laid, _ = flown(vehicle)
    assert y[at.MASS] == pytest.approx(6e3, abs=0.06)  # 1e-6 of the propellant: steps across the knots
    early = vehicle.lift_off_mass - laid.lift_off_mass
    assert y[at.IDEAL] == pytest.approx(C * math.log((66e3 - early) / 6e3), rel=1e-6)


def test_a_solid_leaves_the_pad_once_its_thrust_is_above_the_weight():
    vehicle = Vehicle("v", (stage(dry=5e3, burns=60e3, engines=(solid(),)),), 1e3)
    _, _, laid, rows = flown(vehicle)
    weight = laid.lift_off_mass * STANDARD_GRAVITY
    assert rows[0, at.ROW_THRUST] == pytest.approx(weight, rel=2e-3)  # 20 m above the sea
    assert 0.0 < vehicle.lift_off_mass - laid.lift_off_mass < 500.0
    assert rows[-1, at.ROW_TIME] == pytest.approx(60.0 - laid.groups[0, of.VALUES + 3], abs=1e-9)


def test_thrust_of_a_trace_follows_its_shape():
    vehicle = Vehicle("v", (stage(dry=5e3, burns=60e3, engines=(solid(),)),), 1e3)
    _, _, laid, rows = flown(vehicle)
    into = laid.groups[0, of.VALUES + 3]
    impulse = sum(0.5 * (f + g) * (b - a) for (a, f), (b, g) in itertools.pairwise(TRACE))
    for row in rows[1:-1]:
        since = row[at.ROW_TIME] + into
        straight = np.interp(since, *zip(*TRACE, strict=True)) * 60e3 * C / impulse
        # the smooth curve bends round the corners of the straight pieces
        assert row[at.ROW_THRUST] == pytest.approx(straight, abs=0.25 * 60e3 * C / impulse)


def test_solid_strap_ons_with_a_trace_end_by_the_clock():
    one = stage("booster", 2e3, 60e3, (solid(),))
    y, _marks, laid, rows = flown(strapped(one=one))
    into = laid.groups[0, of.VALUES + 3]
    assert events(rows, at.GROUP_LET_GO) == pytest.approx([60.0 - into], abs=1e-9)
    assert y[at.MASS] == pytest.approx(11e3, abs=0.12)  # 1e-6 of the propellant: steps across the knots


# ── jets ─────────────────────────────────────────────────────────────────────────────────────────

FAN = Jet(120e3, 120e3 / (10_000.0 * STANDARD_GRAVITY), 300.0, 1.67, 1.8)


def fans(count=6, rules=None):
    return EngineGroup("fans", count, 0.0, 0.0, 10_000.0, kind=Kind.TURBOFAN, jet=FAN, rules=rules)


def lifter(rules=None, **more):
    rocket = EngineGroup("rockets", 1, 1.5e6, 1.0, ISP, 0.3)
    return Vehicle("v", (stage(burns=60e3, engines=(rocket, fans(rules=rules)), **more),), 20e3)


def test_rockets_and_fans_add_their_thrust_at_lift_off():
    vehicle = lifter()
    _, _, _, rows = flown(vehicle)
    # 20 m above the sea: a thousandth less pressure
    assert rows[0, at.ROW_THRUST] == pytest.approx(1.5e6 - 101_325.0 + 6 * 120e3, rel=3e-3)
    assert vehicle.lift_off_thrust() == pytest.approx(1.5e6 - 101_325.0 + 6 * 120e3, rel=1e-12)


def air(row):
    """(height, Mach, pressure, temperature) at a row."""
    y = row[at.ROW_STATE : at.ROW_STATE + at.ACCOUNTED]
    height = geodetic(*map(float, y[:3]))[2]
    warm, pressure, _, sound = air_kernel(height)
    speed = float(np.linalg.norm(y[3:6] + OMEGA * np.array([y[1], -y[0], 0.0])))
    return height, speed / sound, pressure, warm


def fans_push(row):
    _, mach, pressure, warm = air(row)
    return 6 * jet_thrust(120e3, 300.0, mach, pressure, warm)


def rockets_push(row):
    return row[at.ROW_THROTTLE] * (1.5e6 - air(row)[2])


def test_fans_push_what_their_relation_says():
    _, _, _, rows = flown(lifter(Rules(stops_above=11e3)))
    inside = [row for row in rows[2:] if 200.0 < air(row)[0] < 10.9e3 and air(row)[1] < 0.9]
    assert len(inside) > 5
    for row in inside:
        assert row[at.ROW_THRUST] - rockets_push(row) == pytest.approx(fans_push(row), rel=1e-6)


def test_fans_stop_at_their_ceiling_and_windmill_from_then_on():
    y, _, _laid, rows = flown(lifter(Rules(stops_above=9e3)))
    out = next(i for i, row in enumerate(rows) if int(row[at.ROW_EVENT]) == at.GROUP_OUT)
    assert geodetic(*map(float, rows[out, at.ROW_STATE : at.ROW_STATE + 3]))[2] == pytest.approx(
        9e3, abs=0.01
    )
    assert rows[out, at.ROW_DRAG] > 0.0  # no other drag in this vehicle
    assert rows[out - 1, at.ROW_DRAG] == 0.0
    assert y[at.MASS] == pytest.approx(30e3, rel=1e-9)  # the rockets use up what the fans leave


def test_what_the_fans_burn_comes_out_of_the_same_load():
    y, *_ = flown(lifter(Rules(stops_above=9e3)))
    assert y[at.BURNT] == pytest.approx(60e3, rel=1e-9)
    # a bit less than at full static flow all the time to 9 km
    assert 0.0 < y[at.JET_FUEL] < 6 * FAN.static_fuel_flow * 200.0
    assert y[at.JET_FUEL] > 10.0


def test_rockets_make_up_the_rest_when_felt_acceleration_is_limited():
    limits = Limits(acceleration=2.0 * STANDARD_GRAVITY)
    _, _, _, rows = flown(lifter(Rules(stops_above=9e3)), limits)
    throttled = [row for row in rows if 0.31 < row[at.ROW_THROTTLE] < 0.99]
    assert throttled
    for row in throttled:
        felt = (row[at.ROW_THRUST] - row[at.ROW_DRAG]) / row[at.ROW_STATE + at.MASS]
        assert felt == pytest.approx(2.0 * STANDARD_GRAVITY, rel=1e-6)


def test_jets_lit_in_flight_spool_up():
    _, _, _, rows = flown(lifter(Rules(lit_after=5.0, stops_above=9e3)))
    lit = next(i for i, row in enumerate(rows) if int(row[at.ROW_EVENT]) == at.GROUP_LIT)
    assert rows[lit, at.ROW_TIME] == pytest.approx(5.0, abs=1e-9)
    full = 1.5e6 - 1e5
    assert rows[lit, at.ROW_THRUST] == pytest.approx(full, rel=0.01)  # nothing yet
    later = next(row for row in rows[lit:] if row[at.ROW_TIME] > 5.0 + 3.0 * 1.67)
    steady = fans_push(later)
    up = 1.0 - math.exp(-(later[at.ROW_TIME] - 5.0) / 1.67)
    assert later[at.ROW_THRUST] - rockets_push(later) == pytest.approx(up * steady, rel=1e-6)


def test_fans_stop_with_the_propellant_that_is_left():
    _, _, _, rows = flown(lifter(Rules(stops_with=40e3)))
    out = next(row for row in rows if int(row[at.ROW_EVENT]) == at.GROUP_OUT)
    assert out[at.ROW_STATE + at.BURNT] == pytest.approx(20e3, rel=1e-9)


def test_a_ramjet_is_lit_at_its_mach_number():
    rocket = EngineGroup("rockets", 1, 1.5e6, 1.0, ISP)
    ram = EngineGroup(
        "ramjets", 2, 0.0, 0.0, 1500.0, kind=Kind.RAMJET, ramjet=Ramjet(2.0, 2200.0, 4.28e7),
        rules=Rules(lit_above_mach=1.5, stops_above=35e3, stops_above_mach=5.0),
    )  # fmt: skip
    _, _, _, rows = flown(Vehicle("v", (stage(burns=80e3, engines=(rocket, ram)),), 10e3))
    lit = next(i for i, row in enumerate(rows) if int(row[at.ROW_EVENT]) == at.GROUP_LIT)
    without = 1.5e6
    assert rows[lit, at.ROW_THRUST] > without  # above vacuum thrust of the rockets alone
    assert events(rows, at.GROUP_OUT)


# ── nozzles, rules, let go at a height ───────────────────────────────────────────────────────────


def test_an_adapting_nozzle_gains_what_the_relation_says_and_nothing_in_vacuum():
    x = exit_pressure_ratio(25.0, 1.2)
    bell = adapting_thrust(2.5e6, 1.2, x, 101_325.0 / 7e6, 0.0)
    area = (2.5e6 - bell) / 101_325.0
    best = adapting_thrust(2.5e6, 1.2, x, 101_325.0 / 7e6, 0.8)
    made = Adapting(1.2, x, 7e6, 0.8, best - bell)
    engine = EngineGroup("engines", 1, 2.5e6, area, ISP, adapting=made)
    vehicle = Vehicle("v", (stage(engines=(engine,)),), 1e3)
    _, _, _, rows = flown(vehicle)
    assert vehicle.lift_off_thrust() == pytest.approx(best, rel=1e-12)
    assert rows[0, at.ROW_THRUST] == pytest.approx(best, rel=5e-4)  # 20 m above the sea: 240 Pa less
    assert rows[-1, at.ROW_THRUST] == pytest.approx(2.5e6, rel=1e-3)


def test_a_stage_lit_above_a_height_coasts_up_to_it():
    second = stage(
        "second", 2e3, 8e3, (EngineGroup("nuclear", 1, 2e5, 0.0, 850.0, rules=Rules(lit_above=90e3)),)
    )
    y, marks, laid, _rows = flown(Vehicle("v", (stage(burns=60e3), second), 1e3))
    lit = laid.names.index("coast")
    assert geodetic(*map(float, marks[lit, 1:4]))[2] == pytest.approx(90e3, abs=0.01)
    assert y[at.MASS] == pytest.approx(3e3, rel=1e-9)


def test_a_carrier_is_let_go_at_its_height_with_what_it_has_left():
    carrier = stage("carrier", 10e3, 100e3, let_go_above=12e3)
    second = stage("second", 2e3, 8e3, (EngineGroup("engine", 1, 2e5, 0.0, 350.0),))
    y, marks, _laid, _ = flown(Vehicle("v", (carrier, second), 1e3))
    assert geodetic(*map(float, marks[0, 1:4]))[2] == pytest.approx(12e3, abs=0.01)
    assert marks[0, 1 + at.BURNT] < 100e3
    assert y[at.MASS] == pytest.approx(3e3, rel=1e-9)


def test_a_hot_start_pushes_the_empty_stage_for_a_moment():
    first = stage()
    engine = EngineGroup("engine", 1, 2e5, 0.0, 350.0)
    second = stage("second", 2e3, 8e3, (engine,), hot_overlap=1.5)
    y, marks, laid, _ = flown(Vehicle("v", (first, second), 1e3))
    assert laid.names == ("burn", "hot start", "burn")
    assert marks[1, 0] - marks[0, 0] == pytest.approx(1.5, rel=1e-9)
    assert marks[1, 1 + at.MASS] == pytest.approx(10e3 + 11e3 - 1.5 * engine.flow, rel=1e-9)
    assert y[at.MASS] == pytest.approx(3e3, rel=1e-9)


def test_engines_with_nothing_left_to_light_end_their_stage():
    carrier = stage("carrier", 3e3, 5e3, (fans(6, Rules(stops_above=3e3)),))
    second = stage("second", 2e3, 8e3, (EngineGroup("engine", 1, 4e5, 0.0, 350.0),))
    y, marks, _, _ = flown(Vehicle("v", (carrier, second), 1e3))
    assert marks[0, 1 + at.BURNT] < 5e3
    assert y[at.MASS] == pytest.approx(3e3 + 5e3 - marks[0, 1 + at.BURNT], rel=1e-3) or y[at.MASS] > 0.0


def test_losses_add_up_with_every_kind_of_engine_aboard():
    one = stage("booster", 2e3, 60e3, (solid(area=0.5),))
    vehicle = lifter(Rules(stops_above=9e3), drag=((0.0, 0.3), (1.0, 0.5), (2.0, 0.4), (6.0, 0.3)), area=10.0)
    vehicle = Vehicle("v", vehicle.stages, 20e3, strap_ons=(StrapOn(one, 2, 0),))
    y, _, _, rows = flown(vehicle)
    start = rows[0, at.ROW_STATE : at.ROW_STATE + at.ACCOUNTED]

    def air_speed(s):
        return np.linalg.norm(s[3:6] + OMEGA * np.array([s[1], -s[0], 0.0]))

    gained = y[at.IDEAL] - y[at.BACK] - y[at.STEER] - y[at.DRAG] - y[at.GRAVITY]
    assert gained == pytest.approx(air_speed(y) - air_speed(start), rel=1e-5)


@pytest.mark.parametrize("value", [300.0, 1135.0, 5e3, 3e4])
@pytest.mark.parametrize("payload", [500.0, 1500.0, 4000.0, 9000.0, 15_000.0, 25_000.0])
def test_the_state_at_an_event_belongs_to_its_time(payload, value):
    # at full throttle what is burnt tells the time exactly; a heating threshold is a strongly bent signal
    second = stage("second", 2e3, 20e3, (EngineGroup("engine", 1, 2e5, 0.0, 350.0),), pause=4.0)
    piece = LetGo("fairing", 600.0, Moment.HEATING, value)
    vehicle = Vehicle(
        "v",
        (stage(drag=((0.0, 0.3), (1.0, 0.5), (2.0, 0.4), (6.0, 0.3)), area=8.0), second),
        payload,
        (piece,),
    )
    _, marks, laid, _ = flown(vehicle, longest=1e4)
    first = vehicle.stages[0]
    time, burnt = marks[len(laid.segments), 0], marks[len(laid.segments), 1 + at.BURNT]
    told = first.flow * time
    if time > marks[0, 0]:
        told = first.propellant.burns + second.flow * max(0.0, time - marks[1, 0])  # none in the pause
    assert burnt == pytest.approx(told, rel=1e-11)
