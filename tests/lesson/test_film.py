"""The film: to scale, everything within the picture, numbers of the record; and plain words without ffmpeg."""

import builtins
import itertools
import re
import struct
from pathlib import Path

import numpy as np
import pytest

from lesson.pages import dunlin
from wetmass.lesson.drawing.type import box
from wetmass.lesson.film import NoEncoder, film
from wetmass.lesson.film.bodies import EARTH, at
from wetmass.lesson.film.camera import camera
from wetmass.lesson.film.encode import encoder
from wetmass.lesson.film.make import scene, still
from wetmass.lesson.film.scene import ACROSS, HIGH, TALL, WIDE
from wetmass.record.say import said

TEXT = re.compile(
    r'<text x="([-\d.]+)" y="([-\d.]+)" font-size="([\d.]+)" [^>]*text-anchor="(\w+)" font-weight="(\d+)">([^<]*)<'
)


@pytest.fixture(scope="module")
def shown():
    return scene(dunlin()[1])


def moments(shown, count=25):
    return [shown.until * i / (count - 1) for i in range(count)]


def test_a_place_is_where_it_is_on_a_round_earth():
    x, y = at(0.25 * 2.0 * np.pi * EARTH, 100.0)  # a quarter round
    assert x == pytest.approx(EARTH + 100.0) and y == pytest.approx(-EARTH)


def test_everything_that_moves_stays_in_the_window(shown):
    for time in moments(shown):
        seen = camera((shown.up, *shown.home), time, shown.until, ACROSS, TALL)
        for one in (shown.up, *shown.home):
            if time >= one.begins:
                x, y = seen.seen(one.place(min(time, one.ends)))
                assert 0.0 < x < ACROSS and 0.0 < y < TALL, (one.name, time)


def test_both_axes_have_one_scale(shown):
    seen = camera((shown.up,), 120.0, shown.until, ACROSS, TALL)
    (a, b), (c, d) = seen.seen((0.0, 0.0)), seen.seen((30.0, 40.0))
    assert c - a == pytest.approx(30.0 * seen.scale) and b - d == pytest.approx(40.0 * seen.scale)


def test_the_numbers_told_are_those_of_the_record(shown):
    track = dunlin()[1].flight.trajectory
    for row in (len(track) // 5, len(track) // 3):
        time = float(track["time"][row])
        texts = [words for *_, words in TEXT.findall(shown.at(time))]
        assert said(float(np.interp(time, track["time"], track["height"])), "m", 3) in texts


def test_words_of_the_head_and_the_foot_never_meet(shown):
    for time in moments(shown):
        boxes = [
            box(words, float(x), float(y), float(size), anchor, weight == "600")
            for x, y, size, anchor, weight, words in TEXT.findall(
                re.sub(r"<svg x=.*?</svg>", "", shown.at(time))
            )
        ]
        assert len(boxes) >= 13
        for i, one in enumerate(boxes):
            assert one.left >= 0.0 and one.right <= WIDE and one.top >= 0.0 and one.bottom <= HIGH, one
            assert not any(one.meets(other) for other in boxes[i + 1 :]), (time, one)


def test_tanks_empty_and_stages_leave(shown):
    stack = shown.stack
    first = dunlin()[1].flight.stages[0]
    shares = [stack.left("first", time) for time in np.linspace(0.0, first.burnout_time, 30)]
    assert shares[0] == 1.0 and shares[-1] < 0.1 and all(a >= b for a, b in itertools.pairwise(shares))
    assert stack.left("second", first.burnout_time) == 1.0
    assert stack._now(first.burnout_time + 10.0)[0] == ("first",)


def test_a_still_has_the_size_asked_for(shown):
    data = still(shown, 100.0, (640, 360))
    assert struct.unpack(">II", data[16:24]) == (640, 360)


@pytest.mark.parametrize("ending", [".mp4", ".webm", ".gif"])
def test_a_film_is_written_and_lasts_as_long_as_it_should(tmp_path, ending):
    target, done = tmp_path / f"d{ending}", []
    film(dunlin()[1], target, seconds=1.2, rate=10, size=(320, 180), told=lambda i, of: done.append((i, of)))
    assert done[-1] == (12, 12)
    head = target.read_bytes()[:12]
    assert head[4:8] == b"ftyp" if ending == ".mp4" else head.startswith((b"\x1aE\xdf\xa3", b"GIF89a"))
    if ending == ".mp4":
        import imageio_ffmpeg

        frames, seconds = imageio_ffmpeg.count_frames_and_secs(str(target))
        assert frames == 12 and seconds == pytest.approx(1.2, abs=0.1)


def test_without_ffmpeg_the_way_to_get_it_is_told(monkeypatch):
    monkeypatch.setenv("PATH", "")
    real = builtins.__import__

    def without(name, *rest, **more):
        if name.startswith("imageio_ffmpeg"):
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(NoEncoder, match=r"pip install 'wetmass\[video\]'"):
        encoder()


@pytest.mark.parametrize(
    ("name", "size", "words"), [("a.avi", (320, 180), "ends in .mp4"), ("a.mp4", (300, 300), "16 to 9")]
)
def test_a_film_that_cannot_be_is_refused(tmp_path, name, size, words):
    with pytest.raises(ValueError, match=words):
        film(dunlin()[1], Path(tmp_path / name), seconds=1.0, rate=4, size=size)
