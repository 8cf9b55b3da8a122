"""The loop that closes with the way home in it: what is kept is what the way home needs."""

import functools
from pathlib import Path

import pytest

from wetmass.cli.layout.home import home_page
from wetmass.closing.homecoming import bring_home, home_path
from wetmass.concept import load, loads
from wetmass.record.digits import fixed
from wetmass.record.refusal import Refusal

DUNLIN = Path(__file__).parents[2] / "examples" / "dunlin.yaml"
LOW = {"perigee: 520 km, apogee: 520 km": "perigee: 250 km, apogee: 250 km", "with coast": "direct"}


def text(**swap):
    told = DUNLIN.read_text(encoding="utf-8")
    for old, new in {**LOW, **swap}.items():
        assert old in told, old
        told = told.replace(old, new)
    return told


@functools.cache
def brought():
    return bring_home(loads(text(), "dunlin.yaml"))


def test_what_is_found_to_keep_is_what_the_way_home_needs():
    (kept,) = brought().home.kept
    (home,) = brought().home.ways
    assert kept.found and kept.met
    assert home.comes_home and kept.kept >= home.needed
    assert kept.kept == pytest.approx(home.needed, rel=6e-3)  # the loop's 0.2 %, and what is kept over it
    first = brought().vehicle.stages[0].propellant
    assert first.home == pytest.approx(kept.kept)


def test_coming_home_costs_payload_and_says_how_much():
    # carrying the reserve to burn-out costs less than its own mass, and is never free
    (kept,) = brought().home.kept
    assert 0.0 < brought().home.price < kept.kept


def test_a_stage_that_states_no_way_home_falls():
    told = text()
    line = next(line for line in told.splitlines() if "home:" in line)
    fallen = bring_home(loads(told.replace(line + "\n", ""), "dunlin.yaml"))
    fallen = fallen.home
    (home,) = fallen.ways
    assert not fallen.kept and fallen.price == pytest.approx(0.0)
    assert home.way.by == "ballistic" and home.down.distance > 300e3
    assert home.down.sinking > 50.0  # it strikes: nothing slowed it but air


def test_a_stated_reserve_that_is_too_small_says_what_would_do():
    told = text().replace("where: downrange, propellant: find", "where: downrange, propellant: 500 kg")
    (home,) = bring_home(loads(told, "dunlin.yaml")).home.ways
    assert not home.comes_home
    assert home.needed > 500.0
    assert any(f"{fixed(home.needed)}" in finding.remedy for finding in home.findings)


def test_an_unknown_place_is_refused_at_its_place_in_the_file():
    told = text().replace("where: downrange", "where: Puffin Rock")
    with pytest.raises(
        Refusal, match=r"dunlin.yaml:\d+:\d+: stages / first / home / where: got .*Puffin Rock"
    ):
        loads(told, "dunlin.yaml")


def test_the_page_names_the_price_the_burns_and_the_caution():
    concept = loads(text(), "dunlin.yaml")
    page = " ".join(" ".join(line.plain for line in home_page(concept, brought(), 90).lines).split())
    for words in ("Coming home costs", "landing burn", "comes down", "keeps nobody safe"):
        assert words in page
    assert home_path(concept.stages[0]) == "stages/first/home/propellant"


def test_a_stage_left_in_orbit_is_told_and_not_dropped():
    # Sanderling's second stage is let go in a low orbit; its perigee lies above the thick air
    told = bring_home(load(DUNLIN.with_name("sanderling.yaml"))).home
    assert [home.stage for home in told.ways] == ["first"]
    assert any("second: it stays in an orbit of" in line for line in told.not_flown)
