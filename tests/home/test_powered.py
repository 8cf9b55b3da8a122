"""Landing on engines: exact landing burn, the least propellant, limits, findings that say what would do."""

import dataclasses
import math
import re

import numpy as np
import pytest
from stages import SITE, small_first, upper_in_orbit

from wetmass.flight.home import come_home, places
from wetmass.flight.home import layout as at
from wetmass.flight.home.engine_counts import choose
from wetmass.flight.home.legs import Flyer, body, engines, leg, lit
from wetmass.flight.home.search import MET, Search
from wetmass.physics.landing import landing_burn, stopping_height, stopping_time
from wetmass.record.digits import fixed
from wetmass.record.homecoming import By, Posture, Released, Way
from wetmass.record.mission import Site
from wetmass.record.vehicle import EngineGroup

DOWNRANGE = Way(By.POWERED)
BACK = Way(By.POWERED, place=SITE, place_name="back to site")


def test_a_vertical_landing_burn_without_air_is_the_exact_one():
    # exact: v = c·ln(m/(m − ṁt)) − g·t, wetmass.physics.landing; gravity changes 0.2 % over 4 km, the turning
    # Earth takes 0.3 % off at the equator: both are in the g handed over
    engine = EngineGroup("e", 1, 300e3, 0.0, 2900.0 / 9.80665)
    x = 6_378_137.0
    burn_height, seconds, propellant = landing_burn(250.0, 300e3, 18_000.0, 2900.0, gravity=9.774)
    state = (x + burn_height, 0.0, 0.0, -250.0, 7.292115e-5 * (x + burn_height), 0.0)
    stage = Released("s", 0.0, state, 10_000.0, 8000.0, 3.0, 10.0, (engine,))
    made = body(stage, DOWNRANGE)
    row = lit(leg(made, Posture.END_ON, at.SLOWED, 0.02), engines(stage), 1, 1.0, at.AGAINST, 1.0)
    row[at.AREA] = 0.0
    flown = Flyer(stage, made.curves).fly([row], ground=-1e4)
    assert flown.time == pytest.approx(seconds, rel=2e-3)
    assert places.over_ground(flown.state, flown.time)[2] == pytest.approx(0.0, abs=10.0)
    assert 18_000.0 - flown.state[at.MASS] == pytest.approx(propellant, rel=2e-3)


def test_a_landing_burn_of_steady_mass_is_the_limit_of_small_flow():
    height, seconds, _ = landing_burn(250.0, 300e3, 18_000.0, 2.9e7)
    assert height == pytest.approx(stopping_height(250.0, 300e3, 18_000.0), rel=1e-3)
    assert seconds == pytest.approx(stopping_time(250.0, 300e3, 18_000.0), rel=1e-3)


def test_thrust_below_the_weight_is_refused():
    with pytest.raises(ValueError, match="thrust must exceed the weight"):
        stopping_height(250.0, 100e3, 18_000.0)


def test_a_landing_downrange_keeps_every_limit_and_uses_what_it_says():
    home = come_home(small_first(), DOWNRANGE, SITE)
    assert home.comes_home, [str(f) for f in home.findings]
    assert home.down.sinking == pytest.approx(DOWNRANGE.touch_down_speed, abs=0.01)
    assert home.trajectory["height"][-1] == pytest.approx(0.0, abs=0.01)
    assert home.dynamic_pressure.value <= DOWNRANGE.pressure_limit * (1 + 2 * MET)
    assert home.felt_acceleration.value <= DOWNRANGE.acceleration_limit * (1 + 2 * MET)
    assert home.used == pytest.approx(sum(b.propellant for b in home.burns), rel=1e-6)
    assert home.used < home.reserve and home.needed < home.used  # more aboard is more to bring home
    assert [b.what for b in home.burns] == ["braking burn", "landing burn"]
    burn = home.burns[-1]
    # the rocket equation of each burn
    start = small_first().mass - home.burns[0].propellant
    assert burn.speed_given == pytest.approx(
        341.0 * 9.80665 * math.log(start / (start - burn.propellant)), rel=1e-6
    )


def test_with_just_the_propellant_needed_nothing_is_left():
    needed = come_home(small_first(), DOWNRANGE, SITE).needed
    home = come_home(small_first(propellant=needed), DOWNRANGE, SITE)
    assert home.comes_home
    # 0.1 %: the search counts conditions met at a thousandth
    assert home.used == pytest.approx(needed, rel=1e-3)


def test_too_little_propellant_says_how_much_would_do():
    home = come_home(small_first(propellant=800.0), DOWNRANGE, SITE)
    short = next(f for f in home.findings if f.rule == "too little propellant to come home")
    assert not home.comes_home
    assert (
        f"{fixed(home.needed)} kg" in short.accepted
        and f"{fixed(home.needed - 800.0)} kg more" in short.remedy
    )
    assert come_home(small_first(propellant=home.needed + 1.0), DOWNRANGE, SITE).comes_home


def test_no_flight_beside_the_answer_needs_less():
    # a second method: random neighbours within the limits, each with its landing burn lit right
    stage = small_first()
    which, made = engines(stage), body(stage, DOWNRANGE)
    search = Search(stage, DOWNRANGE, made, which, choose(DOWNRANGE, which, stage.dry_mass))
    x, met = search.best()
    least = search.conditions(x)[2]
    assert met
    dice = np.random.default_rng(5)
    lower = 0
    for _ in range(150):
        tried = x.copy()
        tried[0] = dice.uniform(30e3, 90e3)
        tried[1] = dice.uniform(0.5, 1.5) * x[1]
        tried = search.settled(search.lit_right(tried))
        if search.worst(tried) < MET and search.conditions(tried)[2] < least * (1.0 - 1e-3):
            lower += 1
    assert lower == 0


def test_a_return_to_the_site_lands_on_it_with_more_propellant_than_downrange():
    far = come_home(small_first(propellant=25_000.0), BACK, SITE)
    assert far.comes_home, [str(f) for f in far.findings]
    assert far.down.missed_by < 20.0  # MET: 10 m of place, twice for the last digits
    assert far.trajectory["height"][-1] == pytest.approx(SITE.height, abs=0.01)
    assert [b.what for b in far.burns] == ["turning burn", "braking burn", "landing burn"]
    assert far.needed > 3.0 * come_home(small_first(), DOWNRANGE, SITE).needed


def test_a_site_out_of_reach_says_which_place_would_do_with_what_is_aboard():
    stage = small_first(propellant=6000.0)
    home = come_home(stage, BACK, SITE)
    assert not home.comes_home
    finding = next(f for f in home.findings if f.rule == "site out of reach")
    assert f"{fixed(home.needed)} kg" in finding.accepted
    found = re.search(r"place at ([\d.]+) deg N, ([\d.]+) deg W", finding.remedy)
    place = Site(math.radians(float(found[1])), -math.radians(float(found[2])), SITE.height)
    there = come_home(stage, dataclasses.replace(BACK, place=place, place_name="nearer"), SITE)
    assert there.comes_home, [str(f) for f in there.findings]
    left = places.distance((place.latitude, place.longitude), (SITE.latitude, SITE.longitude))
    assert f"{fixed(left / 1e3)} km before it" in finding.remedy
    # a tenth of the way farther on takes more than there is: the place is the farthest, to some percent
    far = there.down.distance / 1e3
    assert 0.0 < left / 1e3 < 760.0 and far == pytest.approx(left / 1e3, rel=1e-2)


def test_the_engine_counts_found_take_no_more_than_any_other():
    # a second method: every count there is, one by one
    free = come_home(small_first(), DOWNRANGE, SITE)
    needs = []
    for landing in (1.0, 2.0, 3.0):
        for others in (1.0, 2.0, 3.0, 4.0):
            way = dataclasses.replace(DOWNRANGE, landing_engines=landing, other_engines=others)
            home = come_home(small_first(propellant=0.0), way, SITE)  # shown with just what it needs
            load = home.burns[-1].thrust_to_weight_end if home.burns else math.inf
            if home.needed is not None and load <= DOWNRANGE.landing_load:
                needs.append(home.needed)
    # 0.5 %: counts that spare less than 0.2 % each are not taken
    assert free.needed <= 1.005 * min(needs)


def test_a_named_place_on_the_way_takes_less_than_the_site():
    downrange = come_home(small_first(), DOWNRANGE, SITE).down
    barge = Site(downrange.latitude + math.radians(0.3), downrange.longitude, 0.0)
    home = come_home(small_first(), Way(By.POWERED, place=barge, place_name="barge"), SITE)
    assert home.needed is not None and home.down.missed_by < 20.0
    assert home.needed < 10_000.0


def test_the_search_finds_the_same_least_again_from_its_own_answer():
    one = come_home(small_first(), DOWNRANGE, SITE)
    again = come_home(small_first(), DOWNRANGE, SITE, one.unknowns)
    assert again.needed == pytest.approx(one.needed, rel=2e-3)
    assert again.flights < one.flights


def test_a_floor_of_throttle_too_high_says_which_would_do():
    home = come_home(small_first(floor=1.0, thrust=500e3, count=3), DOWNRANGE, SITE)
    finding = next(f for f in home.findings if f.rule == "throttle floor too high")
    assert not home.comes_home
    share = float(finding.remedy.split("A floor of ")[1].split(" %")[0])
    assert not any(
        f.rule == finding.rule
        for f in come_home(small_first(floor=share / 100.0, thrust=500e3, count=3), DOWNRANGE, SITE).findings
    )
    assert home.hovers is False


def test_a_stage_that_can_throttle_below_its_weight_hovers_and_says_so():
    home = come_home(small_first(floor=0.2), DOWNRANGE, SITE)
    assert home.hovers is True
    steps = [s for s in home.throttle_steps if s.engines == 1]
    assert steps[0].throttle == 0.2 and steps[0].thrust_to_weight < 1.0 < steps[-1].thrust_to_weight


def test_engines_too_weak_to_land_say_how_many_would_do():
    home = come_home(small_first(thrust=40e3, count=2), DOWNRANGE, SITE)
    finding = next(f for f in home.findings if f.rule == "engines too weak to land on")
    count = int(finding.remedy.split(" such")[0])
    enough = come_home(small_first(thrust=40e3, count=count), DOWNRANGE, SITE)
    assert not any(f.rule == finding.rule for f in enough.findings)


def test_too_few_ignitions_are_told_with_the_number_that_would_do():
    home = come_home(small_first(ignitions=1), DOWNRANGE, SITE)
    finding = next(f for f in home.findings if f.rule == "too few ignitions")
    assert "ignitions: 3" in finding.remedy and not home.comes_home


def test_a_stage_without_engines_falls_and_says_why():
    stage = dataclasses.replace(small_first(), engines=())
    home = come_home(stage, DOWNRANGE, SITE)
    assert not home.comes_home and home.findings[0].rule == "no engine to land on"


def test_tighter_limits_take_more_propellant():
    gentle = dataclasses.replace(DOWNRANGE, pressure_limit=35e3)
    one, other = (come_home(small_first(), way, SITE) for way in (DOWNRANGE, gentle))
    assert other.needed > one.needed
    assert other.dynamic_pressure.value <= 35e3 * (1 + 2 * MET)


def test_a_limit_of_heating_takes_more_propellant_and_is_kept_and_a_fall_says_by_how_much_it_is_broken():
    free = come_home(small_first(), DOWNRANGE, SITE)
    cool = dataclasses.replace(DOWNRANGE, heating_limit=0.75 * free.heating.value)
    held = come_home(small_first(), cool, SITE)
    assert held.comes_home and held.needed > free.needed
    assert held.heating.value <= cool.heating_limit * (1 + 2 * MET)
    from wetmass.flight.home.stated import usual_canopies

    way = Way(By.PARACHUTES, canopies=usual_canopies(8110.0), heating_limit=10e3)
    home = come_home(small_first(propellant=0.0), way, SITE)
    told = next(f for f in home.findings if f.rule == "heating on the way home")
    assert f"Build it for {home.heating.value / 1e3:.1f} kW/m²" in told.remedy


def test_margin_is_kept_on_top():
    careful = dataclasses.replace(DOWNRANGE, margin=0.1)
    one, other = (come_home(small_first(), way, SITE) for way in (DOWNRANGE, careful))
    assert 1.08 * one.needed < other.needed < 1.3 * one.needed


# ── from orbit ───────────────────────────────────────────────────────────────────────────────────


def test_the_burn_out_of_orbit_is_that_of_two_impulses():
    way = Way(By.BALLISTIC, from_orbit=True, entry_angle=math.radians(2.0))
    home = come_home(upper_in_orbit(), way, SITE)
    meets = next(e for e in home.events if e.what == "meets the air")
    # Kepler: the ellipse through 500 km (apogee) whose path at 120 km points 2° down (inertial)
    gm, r1, r2 = 3.986004418e14, 6_878_137.0, 6_378_137.0 + 120e3
    low, high = 0.0, 600.0
    for _ in range(60):
        dv = 0.5 * (low + high)
        v1 = math.sqrt(gm / r1) - dv
        v2 = math.sqrt(v1 * v1 + 2.0 * gm * (1.0 / r2 - 1.0 / r1))
        low, high = (dv, high) if math.acos(min(1.0, r1 * v1 / (r2 * v2))) < math.radians(2.0) else (low, dv)
    # 5 %: oblateness moves the height of 120 km by up to 21 km round a polar orbit
    assert home.burns[0].speed_given == pytest.approx(dv, rel=0.05)
    assert meets.height == pytest.approx(120e3, abs=1.0)
    assert home.comes_home and home.used == pytest.approx(home.needed, rel=1e-3)


def test_a_burn_out_of_orbit_waits_for_the_place():
    place = Site(math.radians(-45.0), math.radians(-140.0))
    way = Way(By.BALLISTIC, from_orbit=True, place=place, place_name="far ocean")
    home = come_home(upper_in_orbit(), way, SITE)
    here = come_home(upper_in_orbit(), dataclasses.replace(way, place=None), SITE)
    assert (
        home.down.missed_by < 1.4e6
    )  # half the distance between two tracks of a day, 2670 km at the equator
    start = places.distance((here.down.latitude, here.down.longitude), (place.latitude, place.longitude))
    assert home.down.missed_by < start
    assert home.events[1].time > 3000.0


def test_a_winged_stage_waits_in_orbit_until_its_glide_leads_to_the_site():
    from wetmass.record.homecoming import Wings

    way = Way(By.GLIDE, from_orbit=True, place=SITE, wings=Wings(12.0, 1.5))
    home = come_home(upper_in_orbit(), way, SITE)
    assert home.comes_home, [str(f) for f in home.findings]
    assert home.down.missed_by < 3e3
    assert home.down.time - 3000.0 < 1.1 * 86_400.0  # 16 turns of the orbit, and the glide


def test_too_little_propellant_to_leave_orbit_says_how_much_would_do():
    home = come_home(upper_in_orbit(propellant=40.0), Way(By.BALLISTIC, from_orbit=True), SITE)
    finding = next(f for f in home.findings if f.rule == "too little propellant to come home")
    assert not home.comes_home and f"{fixed(home.needed)} kg" in finding.accepted


def test_the_landing_burn_may_be_lit_late_by_what_the_throttle_keeps_back():
    home = come_home(small_first(), dataclasses.replace(DOWNRANGE, landing_engines=1.0), SITE)
    # 10 % of thrust kept back: with F/m = a and v, the stop takes v²/2(a − g): the height differs by dh, the
    # time by dh/v; the closed form of steady mass without drag is within a third of the flight with both
    burn = home.burns[-1]
    v, a = burn.air_speed, 9.80665 * burn.thrust_to_weight_start
    late = (stopping_height(v, a, 1.0) - stopping_height(v, a / 0.9, 1.0)) / v
    assert home.ignition_margin == pytest.approx(late, rel=0.35)
    eager = come_home(small_first(), dataclasses.replace(DOWNRANGE, landing_engines=1.0, throttle=1.0), SITE)
    assert eager.ignition_margin == pytest.approx(0.0, abs=0.01)


def test_from_orbit_a_stage_may_sink_under_parachutes_or_glide():
    from wetmass.flight.home.stated import usual_canopies
    from wetmass.record.homecoming import Wings

    under = Way(By.PARACHUTES, from_orbit=True, canopies=usual_canopies(2100.0))
    home = come_home(upper_in_orbit(), under, SITE)
    assert home.down.sinking == pytest.approx(12.0, rel=0.05)
    winged = Way(By.GLIDE, from_orbit=True, wings=Wings(12.0, 1.5), entry_angle=math.radians(1.5))
    glided = come_home(upper_in_orbit(), winged, SITE)
    assert glided.trajectory["height"][-1] == pytest.approx(0.0, abs=0.1)
    # lift flattens the entry: less deceleration than the fall, and farther
    falling = come_home(upper_in_orbit(), dataclasses.replace(winged, by=By.BALLISTIC), SITE)
    entry = [
        h.trajectory["felt_acceleration"][h.trajectory["height"] < 119e3].max() for h in (glided, falling)
    ]
    assert entry[0] < 0.7 * entry[1]
