"""How sure the answer is, in pictures: bars are the effects of the record, the bell its standard deviation."""

import dataclasses

import numpy as np

from lesson.pages import dunlin
from wetmass.lesson import charts
from wetmass.lesson.content import lesson_of
from wetmass.lesson.content.blocks import Picture
from wetmass.record.closed import GuessEffect, SpreadOfAnswer

SPREAD = SpreadOfAnswer(
    "payload", 3000.0, 130.0,
    (GuessEffect("first, dry mass", "7.6 t ± 8 %", -120.0), GuessEffect("second, isp", "363 s ± 1 %", 50.0)),
)  # fmt: skip


def values(chart):
    made = chart.to_dict()
    sets = list(made.get("datasets", {}).values())
    return (
        sets
        or [layer["data"]["values"] for layer in made["layer"] if "data" in layer]
        or [made["data"]["values"]]
    )


def test_the_longest_bar_is_on_top_and_as_long_as_its_effect():
    rows = next(rows for rows in values(charts.guesses(SPREAD)) if "size" in rows[0])
    assert [row["size"] for row in rows] == [120.0, 50.0]
    assert rows[0]["text"].startswith("first, dry mass (7.6 t ± 8 %): −120")


def test_the_bell_is_as_wide_as_the_standard_deviation():
    points = next(rows for rows in values(charts.bell(SPREAD)) if len(rows) > 100)
    x, y = (np.array([row[key] for row in points]) for key in ("x", "y"))
    mean = np.average(x, weights=y)
    assert abs(mean - 3000.0) < 1e-6
    # cut off at 3.2 standard deviations, where one in 700 lies beyond
    assert abs(np.sqrt(np.average((x - mean) ** 2, weights=y)) / 130.0 - 1.0) < 0.01


def test_both_are_drawn_and_told_in_the_lesson_where_there_are_guesses():
    concept, closed = dunlin()
    assert closed.spread is not None  # Dunlin's dry mass is a guess
    for spread, names in ((SPREAD, {"bell", "tornado"}), (closed.spread, {"bell"})):
        listed = lesson_of(concept, dataclasses.replace(closed, spread=spread)).sections
        shown = {b.name: b for s in listed for b in s.blocks if isinstance(b, Picture)}
        assert {name for name in ("bell", "tornado") if name in shown} == names
        assert all("<svg" in shown[name].svg() and "first, dry mass" in shown[name].words for name in names)
