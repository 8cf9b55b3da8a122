"""Charts are valid and drawn without a network; their numbers are those of the record."""

import dataclasses
import itertools
import re
from xml.etree import ElementTree

import numpy as np
import pytest

import builders
from lesson.pages import dunlin
from wetmass.lesson import charts
from wetmass.lesson.charts.ground import sided
from wetmass.lesson.charts.over_time import drawn_until, spread_out
from wetmass.record.flight import COLUMNS


def every():
    _, closed = dunlin()
    flight = closed.flight
    made = {one.key: charts.over_time(flight, one) for one in charts.QUANTITIES}
    return {
        **made,
        "budget": charts.speed_budget(flight),
        "masses": charts.mass_breakdown(closed.vehicle),
        "ground": charts.ground_track(flight),
    }


@pytest.mark.parametrize("name", [*(one.key for one in charts.QUANTITIES), "budget", "masses", "ground"])
def test_a_chart_is_valid_and_drawn(name):
    chart = every()[name]
    chart.to_dict(validate=True)  # against the schema of Vega-Lite
    text = charts.svg(chart, f"c-{name}", "a title", "words <for> it")
    root = ElementTree.fromstring(text)
    assert root.get("role") == "img"
    drawn = [e for e in root.iter() if e.tag.endswith("path") and "d" in e.attrib]
    assert len(drawn) > 2
    assert "words &lt;for&gt; it" in text
    assert not re.search(r"NaN|undefined|null", text)
    assert set(re.findall(r"var\(--(\w+)\)", text))  # colours follow light and dark


def test_what_a_chart_is_drawn_from_is_in_it():
    for chart in every().values():
        assert "url" not in re.sub(r'"\$schema": "[^"]*"', "", chart.to_json())


def test_the_budget_goes_from_the_ideal_to_what_is_flown():
    _, closed = dunlin()
    loss = closed.flight.losses
    rows = charts.budget_rows(closed.flight)
    assert rows[0]["low"] == 0.0
    for one, other in itertools.pairwise(rows):
        if other["kind"] != "sum":
            assert other["low"] == pytest.approx(one["high"])
    sums = [row["value"] for row in rows if row["kind"] == "sum"]
    assert sums[0] == pytest.approx(loss.air_speed_gained, rel=1e-6)  # the identity of the losses
    assert sums[1] == pytest.approx(loss.air_speed_gained + loss.rotation_gain, rel=1e-6)


def test_the_bars_of_the_masses_are_the_mass_table():
    _, closed = dunlin()
    made = charts.mass_breakdown(closed.vehicle).to_dict()
    data = made.get("data", made["layer"][0].get("data"))["values"] if "datasets" not in made else None
    values = data if data is not None else next(iter(made["datasets"].values()))
    assert [row["mass"] for row in values] == [item.mass for item in closed.vehicle.mass_table()]


def test_a_long_coast_is_left_out_and_told():
    _, closed = dunlin()
    until, left_out = drawn_until(closed.flight)
    assert left_out
    assert until == next(e.time for e in closed.flight.events if "stops to coast" in e.what)


def test_a_long_burn_is_not_taken_for_a_coast():
    flight = builders.flight()
    values = flight.trajectory.values.copy()
    times = np.linspace(0.0, flight.duration, len(values))
    values[:, 0] = times
    thrust = [column.key for column in COLUMNS].index("thrust")
    for pushing, left_out in ((240e3, False), (0.0, True)):
        values[:, thrust] = pushing
        track = dataclasses.replace(flight.trajectory, values=values.copy())
        assert drawn_until(dataclasses.replace(flight, trajectory=track))[1] is left_out


def test_a_short_way_is_seen_from_nearer():
    flight = builders.flight()
    longitude = [column.key for column in COLUMNS].index("longitude")
    for reach, whole in ((12.0, False), (150.0, True)):
        values = flight.trajectory.values.copy()
        values[:, longitude] = np.linspace(170.0, 170.0 + reach, len(values))  # over the date line
        track = dataclasses.replace(flight.trajectory, values=values)
        shown = charts.window(dataclasses.replace(flight, trajectory=track))
        assert shown.whole is whole
    assert charts.window(flight).longitude == 0.0


def test_words_of_marks_that_are_near_stand_on_either_side_and_a_third_is_left_out():
    marks = [{"words": w, "latitude": 14.0 - i, "longitude": -40.0} for i, w in enumerate("abc")]
    made = sided(marks)
    assert {one["side"] for one in made[:2]} == {"left", "right"}
    assert [one["words"] for one in made] == ["a", "b", ""]


def test_the_track_begins_at_the_site_and_ends_in_orbit():
    _concept, closed = dunlin()
    marks = charts.places(closed.flight)
    assert marks[0]["words"] == "lift-off" and marks[-1]["words"] == "in orbit"
    assert marks[0]["latitude"] == pytest.approx(14.2, abs=0.01)
    assert marks[0]["longitude"] == pytest.approx(-40.0, abs=0.01)
    assert all(-180.0 <= one["longitude"] <= 180.0 for one in marks)


def test_numbers_of_events_never_stand_on_one_another():
    made = spread_out([0.0, 2.0, 3.0, 80.0], 13.0)
    assert all(b - a >= 13.0 for a, b in itertools.pairwise(made))
    assert made[3] == 80.0
