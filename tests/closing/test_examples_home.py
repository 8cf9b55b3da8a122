"""The four examples bring their stages home in four ways; what does not hold is told with the number that would do."""

import functools
import itertools
import re
from pathlib import Path

import pytest

import wetmass
from wetmass.closing import bring_home
from wetmass.concept import load, loads
from wetmass.record.digits import THIN_SPACE
from wetmass.record.homecoming import By

EXAMPLES = Path(__file__).parents[2] / "examples"
HOME = {
    "dunlin": ("first", By.POWERED),
    "godwit": ("bottom", By.JETS),
    "turnstone": ("solids", By.PARACHUTES),
    "sanderling": ("first", By.GLIDE),
}


@functools.cache
def brought(name):
    return bring_home(load(EXAMPLES / f"{name}.yaml"))


def changed(name, **swap):
    told = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    for old, new in swap.items():
        assert old in told, old
        told = told.replace(old, new)
    return wetmass.fly(loads(told, f"{name}.yaml"))


@pytest.mark.parametrize("name", HOME)
def test_each_example_comes_home_in_its_own_way(name):
    closed = brought(name)
    stage, by = HOME[name]
    home = next(way for way in closed.home.ways if way.stage == stage)
    assert closed.closes and home.way.by is by and home.comes_home, [str(f) for f in home.findings]
    assert len({by for _, by in HOME.values()}) == 4
    assert all(way.comes_home for way in closed.home.ways)


def test_godwit_flies_back_to_its_site_on_its_fans_and_says_what_that_costs():
    closed = brought("godwit")
    (home,) = closed.home.ways
    (kept,) = closed.home.kept
    assert home.down.missed_by < 1.0 and home.hovers
    cruise = next(burn for burn in home.burns if burn.what == "cruise on jets")
    assert cruise.propellant > 0.8 * home.used  # most of the fuel is the way back
    assert kept.found and kept.met and home.needed <= kept.kept
    assert 0.0 < closed.home.price < kept.kept


def _failing(closed, rule):
    return next(f for f in closed.findings if f.weight == "fails" and f.rule == rule)


def test_too_little_reserve_says_what_would_do():
    line = "where: downrange, propellant: find"
    closed = changed("dunlin", **{line: "where: downrange, propellant: 900 kg"})
    told = _failing(closed, "too little propellant to come home")
    wanted = float(re.search(r"Keep ([\d\u2009]+) kg", told.remedy)[1].replace(THIN_SPACE, ""))
    cured = changed("dunlin", **{line: f"where: downrange, propellant: {wanted + 1:.0f} kg"})
    # with it kept the stage is let go slower, and needs less: it does
    assert all(way.comes_home for way in cured.home.ways)


def test_fans_that_are_too_weak_say_what_thrust_would_do():
    closed = changed(
        "godwit", **{"count: 12, thrust: {sea level: 140 kN}": "count: 2, thrust: {sea level: 140 kN}"}
    )
    told = _failing(closed, "jets too weak to stop the fall")
    wanted = 1e3 * float(
        re.search(r"([\d\u2009]+) kN of static thrust would do", told.remedy)[1].replace(THIN_SPACE, "")
    )
    assert 2 * 140e3 < wanted < 30 * 2 * 140e3


def test_a_throttle_floor_that_is_too_high_says_which_would_do():
    old = "isp: {sea level: 309 s, vacuum: 341 s}, minimum throttle: 45 %"
    small = "count: 7, thrust: {sea level: 210 kN}"
    large = "count: 3, thrust: {sea level: 490 kN}"
    stiff = {old: old.replace("45 %", "100 %"), small: large}
    closed = changed("dunlin", **stiff)
    told = _failing(closed, "throttle floor too high")
    share = float(re.search(r"A floor of (\d+) % would do", told.remedy)[1])
    cured = changed("dunlin", **{old: old.replace("45 %", f"{share:.0f} %"), small: large})
    assert not any(f.rule == told.rule for f in cured.findings)


def test_a_site_out_of_reach_says_which_place_would_do():
    line = "{by: powered landing, where: downrange, propellant: find}"
    closed = changed("dunlin", **{line: "{by: powered landing, where: back to site, propellant: 5 t}"})
    told = _failing(closed, "site out of reach")
    assert re.search(r"a place at [\d.]+ deg N, [\d.]+ deg W would do, [\d,]+ km before it", told.remedy)
    assert "kg" in told.accepted


def test_the_record_says_where_it_would_fall_through_the_ascent():
    closed = brought("dunlin")
    points = closed.home.impact_points
    assert points[0].latitude == pytest.approx(
        closed.flight.trajectory["latitude"][0] * 3.14159265 / 180, abs=1e-5
    )
    waits = [point.falls_for for point in points]
    assert waits[-1] > 600.0 and points[-1].time < closed.flight.duration  # it reaches orbit: no more of them
    # south-bound: the points run ahead of the vehicle, ever farther south
    south = [point.latitude for point in points]
    assert all(b <= a + 1e-4 for a, b in itertools.pairwise(south))
