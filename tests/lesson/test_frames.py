"""Frames: one step or picture each, in order, of the size asked for, nothing cut off or on top of another."""

import functools
import itertools
import struct

import pytest

from lesson.looking import meetings, words
from lesson.pages import dunlin
from wetmass.lesson.content import lesson_of
from wetmass.lesson.content.blocks import Working
from wetmass.lesson.frames import frames_of, pngs, svgs
from wetmass.lesson.frames.render import written
from wetmass.lesson.paper.typeset import compiled


@functools.cache
def lesson():
    return lesson_of(*dunlin())


@pytest.fixture(scope="module")
def looked(tmp_path_factory):
    """Every frame as a page of a PDF, set by the same layout."""
    source, writer = written(lesson(), frames_of(lesson()), dark=True)
    return words(compiled(source, writer.pictures, format="pdf"), tmp_path_factory.mktemp("frames"))


def test_every_step_has_a_frame_of_its_own_in_order():
    _, closed = dunlin()
    shown = [frame.shows for frame in frames_of(lesson())]
    steps = [one.placed.number for one in shown if isinstance(one, Working)]
    assert steps == list(range(1, len(closed.steps) + 1))


def test_frames_are_numbered_in_order_and_no_two_have_one_name():
    frames = frames_of(lesson())
    assert [frame.number for frame in frames] == list(range(1, len(frames) + 1))
    assert len({frame.stem for frame in frames}) == len(frames)
    assert sorted(frame.stem for frame in frames) == [frame.stem for frame in frames]


def test_chosen_frames_keep_their_numbers():
    every = {frame.name: frame.number for frame in frames_of(lesson())}
    chosen = frames_of(lesson(), ["step-3", "chart-*"])
    assert [frame.number for frame in chosen] == [every[frame.name] for frame in chosen]
    assert {frame.name.partition("-")[0] for frame in chosen} == {"step", "chart"}
    assert all(frame.topic == "tanks" for frame in frames_of(lesson(), ["tanks"]))


def test_a_name_that_no_frame_has_is_refused_with_those_there_are():
    with pytest.raises(ValueError, match=r'called "nonsense"; there are title, guess'):
        frames_of(lesson(), ["nonsense"])


@pytest.mark.parametrize("size", [(1920, 1080), (1080, 1920), (1280, 720)])
def test_a_frame_has_as_many_pixels_as_were_asked_for(size):
    (data,) = pngs(lesson(), frames_of(lesson(), ["step-3"]), size=size)
    assert data.startswith(b"\x89PNG")
    assert struct.unpack(">II", data[16:24]) == size


def test_a_size_that_no_screen_has_is_refused():
    with pytest.raises(ValueError, match="240 to 8192 pixels each way"):
        pngs(lesson(), frames_of(lesson(), ["title"]), size=(10, 10))


def test_a_frame_as_svg_needs_no_font():
    (data,) = svgs(lesson(), frames_of(lesson(), ["step-3"]))
    assert data.lstrip().startswith("<svg" if isinstance(data, str) else b"<svg")
    assert b"<text" not in (data.encode() if isinstance(data, str) else data)


def test_one_frame_is_one_picture(looked):
    assert len(looked) == len(frames_of(lesson()))


def test_nothing_is_cut_off(looked):
    for frame, (wide, high, boxes) in zip(frames_of(lesson()), looked, strict=True):
        assert (round(wide), round(high)) == (960, 540)
        for word, left, top, right, bottom in boxes:
            assert left >= 8.0 and right <= wide - 8.0, (frame.stem, word)
            assert top >= 8.0 and bottom <= high - 4.0, (frame.stem, word)


def test_no_two_words_lie_on_one_another(looked):
    found = {
        frame.stem: pairs
        for frame, (_, _, boxes) in zip(frames_of(lesson()), looked, strict=True)
        if not frame.name.startswith("chart-") and (pairs := meetings(boxes))  # words on a slant: below
    }
    assert not found


def test_slanted_words_of_events_stand_a_line_apart():
    from wetmass.lesson import charts

    _, closed = dunlin()
    chart = charts.over_time(closed.flight, charts.QUANTITIES[0], named=True).to_dict()
    until = chart["layer"][0]["encoding"]["x"]["scale"]["domain"][1]
    data = (
        next(iter(chart["datasets"].values())) if "datasets" in chart else chart["layer"][0]["data"]["values"]
    )
    places = [row["at"] / until * chart["width"] for row in data]
    # letters 12 high on a slant of 45 degrees: neighbours clear each other from 12·√2 on
    assert all(b - a >= 12.0 * 2.0**0.5 - 1e-6 for a, b in itertools.pairwise(places))
