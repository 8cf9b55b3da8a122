"""Records show themselves in a notebook, and drawings set vehicles side by side."""

import dataclasses
from html.parser import HTMLParser

import pytest

import builders
from lesson.pages import dunlin
from lesson.test_drawing import meetings
from wetmass.lesson import drawing
from wetmass.lesson.notebook import register, shown
from wetmass.record.say import said


class Words(HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.words = []
        self.feed(text)

    def handle_data(self, data):
        self.words.append(data)


def test_a_closed_concept_shows_its_numbers_and_its_picture():
    _, closed = dunlin()
    text = shown(closed)
    words = Words(text).words
    assert said(closed.payload, "kg") in words and said(closed.flight.losses.ideal, "m/s") in words
    assert "<svg" in text and "var(--" not in text  # a notebook knows none of our colours by name


def test_one_that_does_not_close_says_why():
    text = shown(builders.closed(closes=False, flight=None, reason="mass <ran> away"))
    assert "mass &lt;ran&gt; away" in text


def test_a_flight_a_step_a_vehicle_and_a_stage_show_themselves():
    _, closed = dunlin()
    assert all(event.what in shown(closed.flight) for event in closed.flight.events)
    assert "<math" in shown(closed.steps[0])
    assert len(Words(shown(closed.vehicle)).words) > 2 * len(closed.vehicle.stages)
    assert "dry mass" in shown(closed.vehicle.stages[0])
    assert shown("anything else") is None


def test_a_shell_is_told_about_every_kind():
    class Formatter(dict):
        def for_type(self, kind, how):
            self[kind.__name__] = how

    html = Formatter()
    shell = type("Shell", (), {"display_formatter": type("D", (), {"formatters": {"text/html": html}})})
    register(shell)
    assert {"Closed", "Flight", "Step", "Vehicle", "Stage"} == set(html)


def test_vehicles_stand_side_by_side_at_one_scale():
    _, closed = dunlin()
    small = dataclasses.replace(closed.vehicle, name="Smaller")
    one = (closed.geometry, closed.vehicle)
    picture = drawing.beside([one, (closed.geometry, small), one])
    assert not meetings(picture.texts)
    texts = [box.text for box in picture.texts]
    assert texts.count("Dunlin") == 2 and "Smaller" in texts
    assert texts.count(said(closed.geometry.height, "m", 3)) == 3
    with pytest.raises(ValueError, match="one vehicle or more"):
        drawing.beside([])
