"""Home on jets and on wings: stops, cruise, hover, glide, and findings with the number that would do."""

import dataclasses
import math
import re

import pytest
from stages import SITE, fans, heavy_bottom, small_first

from wetmass.flight.home import come_home, places
from wetmass.physics.gliding import cruise_range, endurance, equilibrium_glide_range, glide_reach
from wetmass.record.digits import THIN_SPACE, fixed
from wetmass.record.finding import Weight
from wetmass.record.homecoming import By, Way, Wings
from wetmass.record.mission import Site


def _failed(home):
    return [f for f in home.findings if f.weight is Weight.FAILS]


# ── jets ─────────────────────────────────────────────────────────────────────────────────────────


def test_breguet_gives_the_example_of_a_carrier_aircraft():
    # worked_examples.yaml, breguet-04 (made here, arithmetic): 0.6 lb/lbf/h, L/D 17, 230 m/s, mass ratio 1.3
    assert cruise_range(230.0, 0.0, 17.0, 0.6 / 3600 / 9.80665, 1.3) == pytest.approx(6155.07e3, rel=1e-6)


def test_breguet_gives_a_published_range():
    # askfilo.com, "a jet transport aircraft with a mass of 100,000 kg" (opened): 30 t of fuel, lift to drag 15.5
    # at 150 m/s, 0.8 N/(N·h): 3725 km.  It takes ln(10/7) as 0.356, which is 0.2 % low.
    flow = 0.8 / 3600.0 / 9.80665  # kg/(N·s)
    assert cruise_range(150.0, 0.0, 15.5, flow, 100.0 / 70.0) == pytest.approx(3725e3, rel=3e-3)


def test_range_is_endurance_times_speed_over_the_ground():
    hours = endurance(5.0, 1.5e-5, 1.2)
    assert cruise_range(150.0, 20.0, 5.0, 1.5e-5, 1.2) == pytest.approx(130.0 * hours, rel=1e-12)


def test_a_headwind_as_fast_as_the_flight_is_refused():
    with pytest.raises(ValueError, match="headwind must be below the speed"):
        cruise_range(20.0, 20.0, 5.0, 1.5e-5, 1.2)


def test_jets_stop_the_fall_just_over_the_ground_hover_and_set_down():
    way = Way(By.JETS, jets=fans())
    home = come_home(heavy_bottom(), way, SITE)
    assert home.comes_home, [str(f) for f in home.findings]
    lit_at = next(e for e in home.events if e.what == "jets relit")
    assert lit_at.height <= way.jets.ceiling
    rest = next(e for e in home.events if e.what == "at rest")
    assert rest.height == pytest.approx(30.0, abs=1.0) and rest.air_speed == pytest.approx(2.0, abs=0.01)
    assert home.events[-1].what == "touch-down" and home.trajectory["height"][-1] == 0.0
    # hover and set down: m·(1 − exp(−c·g·t)) with the stand's fuel flow over thrust
    hover = home.burns[-1]
    assert hover.propellant == pytest.approx(rest.mass * -math.expm1(-0.35 / 3600 * (30.0 + 15.0)), rel=1e-3)
    assert home.used == pytest.approx(heavy_bottom().mass - home.trajectory["mass"][-1], rel=1e-6)
    assert home.hovers


def test_jets_too_weak_to_stop_say_what_would_do():
    weak = fans(700e3)
    home = come_home(heavy_bottom(), Way(By.JETS, jets=weak), SITE)
    finding = _failed(home)[0]
    assert finding.rule == "jets too weak to stop the fall"
    would = 1e3 * float(finding.remedy.split(" kN")[0].replace(THIN_SPACE, ""))
    stronger = come_home(heavy_bottom(), Way(By.JETS, jets=fans(1.01 * would)), SITE)
    assert all(f.rule != finding.rule for f in stronger.findings)
    weaker = come_home(heavy_bottom(), Way(By.JETS, jets=fans(0.97 * would)), SITE)
    assert any(f.rule == finding.rule for f in weaker.findings)


def test_a_rocket_burst_lets_weak_jets_land():
    way = Way(By.JETS, jets=fans(500e3, burst=True))
    home = come_home(heavy_bottom(), way, SITE)
    assert home.comes_home
    assert home.down.sinking == pytest.approx(2.0, abs=0.01)
    assert [b.what for b in home.burns] == ["rocket burst"]
    assert any(f.rule == "jets too weak to hover" and f.weight is Weight.NOTE for f in home.findings)


def test_a_cruise_home_takes_what_breguet_says():
    # nearer site, lift to drag stated: 290 km back at L/D 3
    way = Way(By.JETS, place=SITE, place_name="back to site", jets=fans(lift_to_drag=4.0, speed=120.0))
    home = come_home(heavy_bottom(), way, SITE)
    assert home.comes_home, [str(f) for f in home.findings]
    assert home.down.missed_by == pytest.approx(0.0, abs=1.0)
    cruise = next(b for b in home.burns if b.what == "cruise on jets")
    start = next(e for e in home.events if e.what == "at rest").mass
    from wetmass.physics.atmosphere import air
    from wetmass.physics.jets import jet_fuel, jet_thrust

    warm, pressure, _, sound = air(1500.0)
    jets = way.jets
    flow = jet_fuel(jets.static_fuel_flow, 120.0 / sound, pressure, warm) / jet_thrust(
        jets.static_thrust, jets.jet_speed, 120.0 / sound, pressure, warm
    )
    sped_up = start * math.exp(-flow * 120.0)  # thrust times time is mass times speed
    reach = cruise_range(120.0, 10.0, 4.0, flow, sped_up / (start - cruise.propellant))
    stopped = next(e for e in home.events if e.what == "at rest")
    assert reach == pytest.approx(stopped.downrange, rel=2e-3)  # a great circle against the ellipsoid


def test_a_place_too_far_for_the_fuel_says_which_lift_to_drag_would_do():
    way = Way(By.JETS, place=SITE, place_name="back to site", jets=fans())
    home = come_home(heavy_bottom(), way, SITE)
    finding = next(f for f in _failed(home) if f.rule == "place out of reach on jets")
    ratio = float(finding.remedy.split("lift to drag of ")[1].split(" ")[0])
    better = come_home(heavy_bottom(), dataclasses.replace(way, jets=fans(lift_to_drag=1.03 * ratio)), SITE)
    assert better.comes_home, [str(f) for f in better.findings]


def test_a_place_out_of_reach_with_no_fuel_says_which_fuel_and_lift_to_drag_would_do():
    way = Way(By.JETS, place=SITE, place_name="back to site", jets=fans())
    home = come_home(heavy_bottom(propellant=100.0), way, SITE)
    finding = next(f for f in _failed(home) if f.rule == "place out of reach on jets")
    found = re.search(r"lift to drag of ([\d.]+) with ([\d\u2009]+) kg", finding.remedy)
    jets = fans(lift_to_drag=1.03 * float(found[1]))
    fuel = 1.03 * float(found[2].replace(THIN_SPACE, ""))
    better = come_home(heavy_bottom(propellant=fuel), dataclasses.replace(way, jets=jets), SITE)
    assert not any(f.rule in (finding.rule, "too little propellant to come home") for f in better.findings)


def test_too_little_fuel_says_how_much_would_do():
    home = come_home(heavy_bottom(propellant=300.0), Way(By.JETS, jets=fans()), SITE)
    finding = next(f for f in _failed(home) if f.rule == "too little propellant to come home")
    assert f"{fixed(home.needed)} kg" in finding.accepted
    assert come_home(heavy_bottom(propellant=home.needed + 1.0), Way(By.JETS, jets=fans()), SITE).comes_home


def test_jets_must_be_said():
    with pytest.raises(ValueError, match=r"way\.jets must say"):
        come_home(heavy_bottom(), Way(By.JETS), SITE)


# ── wings ────────────────────────────────────────────────────────────────────────────────────────

WINGS = Wings(area=250.0, lift_to_drag=5.0)


def _to_go(home, row):
    t = home.trajectory
    return places.distance(
        (math.radians(t["latitude"][row]), math.radians(t["longitude"][row])),
        (home.down.latitude, home.down.longitude),
    )


def test_a_slow_glide_goes_as_far_as_its_energy_over_drag():
    # the last part, slower than Mach 0.6: L/D·(h + v²/2g), less what speed is left at the end
    home = come_home(heavy_bottom(propellant=0.0), Way(By.GLIDE, wings=WINGS), SITE)
    t = home.trajectory
    slow = next(i for i in range(len(t)) if t["mach"][i] < 0.6 and t["leg"][i] == 2.0)
    end = t["air_speed"][-1]
    expected = glide_reach(t["height"][slow], t["air_speed"][slow], 5.0) - 5.0 * end**2 / (2 * 9.80665)
    # 4 %: lift is the weight times the cosine of an 11° slope, which is 2 %
    assert _to_go(home, slow) == pytest.approx(expected, rel=0.04)


def test_a_fast_glide_goes_as_far_as_saengers_equilibrium():
    # E. Sänger: −½·R·(L/D)·ln(1 − v²/v_c²), and the height times L/D
    home = come_home(heavy_bottom(propellant=0.0), Way(By.GLIDE, wings=WINGS), SITE)
    t = home.trajectory
    fast = next(i for i in range(len(t)) if t["leg"][i] == 2.0 and t["time"][i] > 440.0)
    assert t["air_speed"][fast] > 950.0
    expected = equilibrium_glide_range(t["air_speed"][fast], 5.0) + 5.0 * t["height"][fast]
    assert _to_go(home, fast) == pytest.approx(
        expected, rel=0.05
    )  # the turning Earth adds 3 % to an eastward speed


def _place_in(remedy):
    """The place a finding says would do."""
    found = re.search(r"place at ([\d.]+) deg ([NS]), ([\d.]+) deg ([EW])", remedy)
    north, east = (1 if found[2] == "N" else -1), (1 if found[4] == "E" else -1)
    return Site(north * math.radians(float(found[1])), east * math.radians(float(found[3])))


def test_a_place_out_of_reach_of_the_glide_says_how_short_and_which_place_would_do():
    way = Way(By.GLIDE, wings=Wings(60.0, 4.0), place=SITE)
    home = come_home(small_first(propellant=0.0), way, SITE)
    finding = _failed(home)[0]
    assert finding.rule == "place out of reach of the glide" and "km short" in finding.got
    assert "lift to drag" in finding.remedy
    place = _place_in(finding.remedy)
    assert not _failed(come_home(small_first(propellant=0.0), dataclasses.replace(way, place=place), SITE))


def test_a_place_in_reach_is_glided_to_or_the_lift_to_drag_that_would_do_is_told():
    first = come_home(heavy_bottom(propellant=0.0), Way(By.GLIDE, wings=WINGS), SITE).down
    near = Site(first.latitude + math.radians(0.4), first.longitude - math.radians(1.0))
    home = come_home(
        heavy_bottom(propellant=0.0), Way(By.GLIDE, wings=WINGS, place=near, place_name="near"), SITE
    )
    assert not _failed(home)
    assert home.trajectory["height"][-1] == pytest.approx(0.0, abs=0.01)
    assert home.down.missed_by < 3e3  # the last circle over the place
    assert home.down.speed < 120.0
    poor = dataclasses.replace(WINGS, lift_to_drag=1.2)
    short = come_home(
        heavy_bottom(propellant=0.0), Way(By.GLIDE, wings=poor, place=near, place_name="near"), SITE
    )
    ratio = float(_failed(short)[0].remedy.split("lift to drag of ")[1].split(" ")[0])
    better = dataclasses.replace(poor, lift_to_drag=1.05 * ratio)
    way = Way(By.GLIDE, wings=better, place=near, place_name="near")
    assert not _failed(come_home(heavy_bottom(propellant=0.0), way, SITE))


def test_wings_pull_out_before_they_turn():
    # a place to the side costs height to turn to, never the pull-out: the loads stay those of the straight glide
    straight = come_home(heavy_bottom(propellant=0.0), Way(By.GLIDE, wings=WINGS), SITE)
    aside = Site(straight.down.latitude + math.radians(2.0), straight.down.longitude - math.radians(2.5))
    turned = come_home(heavy_bottom(propellant=0.0), Way(By.GLIDE, wings=WINGS, place=aside), SITE)
    assert turned.dynamic_pressure.value < 1.1 * straight.dynamic_pressure.value
    assert turned.felt_acceleration.value < 1.2 * straight.felt_acceleration.value


def test_wings_must_be_said():
    with pytest.raises(ValueError, match=r"way\.wings must say"):
        come_home(heavy_bottom(), Way(By.GLIDE), SITE)
