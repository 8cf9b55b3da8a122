"""What the page shows of an answer follows the units that were chosen, and says what becomes of every stage."""

import functools
import re
from pathlib import Path

import pytest

import wetmass
from wetmass.app import views
from wetmass.app.homes import homes
from wetmass.closing import bring_home
from wetmass.concept.reading import loads

FEET = "feet and pounds"
POUND, FOOT, NAUTICAL_MILE = 0.45359237, 0.3048, 1852.0  # exact by definition


@functools.cache
def dunlin():
    concept = wetmass.load("examples/dunlin.yaml")
    return concept, bring_home(concept)


def labels(system):
    return re.findall(r"<text[^>]*>([^<]+)</text>", views.drawing(dunlin()[1], system))


def test_the_drawing_is_labelled_in_the_units_that_were_chosen():
    metric, customary = labels("metric"), labels(FEET)
    assert len(metric) == len(customary)
    assert any(text.endswith("\u00a0m") for text in metric)
    assert not any(re.search(r"\u00a0(m|km|kg|t|m³)\b", text) for text in customary)
    high = dunlin()[1].geometry.height
    assert float(customary[0].split("\u00a0")[0]) == pytest.approx(high / FOOT, rel=2e-3)  # three figures
    bar = next(text for text in customary if re.fullmatch(r"[125]0*\u00a0ft", text))  # round in feet
    assert bar


def largest(chart):
    datasets = re.findall(r'"y": ([-+.\de]+)', repr(chart["spec"]).replace("'", '"'))
    return max(map(float, datasets))


def test_the_charts_are_drawn_in_the_units_that_were_chosen():
    concept, closed = dunlin()
    metric, customary = (
        {one["name"]: one for one in views.charts(concept, closed, system)} for system in ("metric", FEET)
    )
    assert metric["mass"]["spec"]["title"]["text"].endswith(", t")
    assert customary["mass"]["spec"]["title"]["text"].endswith(", klb")
    assert largest(metric["mass"]) * 1e3 == pytest.approx(closed.vehicle.lift_off_mass, rel=1e-6)
    for key, factor in (
        ("mass", 1e3 / (1e3 * POUND)), ("height", 1e3 / NAUTICAL_MILE), ("air_speed", 1.0 / FOOT),
        ("felt_acceleration", 1.0),
    ):  # fmt: skip
        assert largest(customary[key]) == pytest.approx(factor * largest(metric[key]), rel=1e-9), key
    assert "ft/s" in repr(customary["budget"])
    assert "m/s" not in repr(customary["budget"])
    assert r"\xa0lb" in repr(customary["masses"])


@pytest.mark.parametrize(("system", "mass"), [("metric", "kg"), (FEET, "lb")])
def test_what_becomes_of_every_stage_is_told(system, mass):
    closed = dunlin()[1]
    told = homes(closed, system)
    assert told["price"].startswith("Coming home costs")
    assert f"\u00a0{mass} of payload" in told["price"]
    way = told["ways"][0]
    assert (way["stage"], way["fails"], way["lacks"]) == ("first", False, "")
    assert way["outcome"] == "powered landing: comes home"
    rows = dict(way["rows"])
    assert f"\u00a0{mass} kept" in rows["propellant"]
    assert way["events"][-1][1] == "touch-down"
    assert way["events"][-1][2] in ("0\u00a0m", "0\u00a0ft")
    assert told["not_flown"][0][0] == "second"


def test_of_what_was_not_flown_home_nothing_is_told():
    from dataclasses import replace

    assert homes(replace(dunlin()[1], home=None), "metric") is None


def test_of_what_does_not_close_it_is_not_told_that_it_carries_its_payload():
    text = Path("examples/dunlin.yaml").read_text(encoding="utf-8")
    heavy = text.replace("payload: find ", "payload: 30 t ").replace(
        "{most: payload}", "{least: lift-off mass}"
    )
    closed = bring_home(loads(heavy, "dunlin.yaml"))  # ten times what it carries
    assert closed.home is not None
    assert not closed.closes
    assert homes(closed, "metric") is None  # nothing of it was flown


def test_a_way_home_of_what_was_flown_and_does_not_close_is_told_with_the_reason():
    from dataclasses import replace

    told = homes(replace(dunlin()[1], closes=False, reason="it is asked for more"), "metric")
    assert told["price"] == "Dunlin does not close: it is asked for more."
    assert len(told["ways"]) == len(dunlin()[1].home.ways) > 0
