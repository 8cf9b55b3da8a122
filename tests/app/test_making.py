"""Things to hand out: each is made whole, tells how far it is, and leaves nothing half made behind."""

import asyncio
import functools
import os
import subprocess
import zipfile
from pathlib import Path

import pypdf
import pytest

from wetmass.app.folder import Folder
from wetmass.app.hall import Hall
from wetmass.app.making import KINDS, Maker, stem
from wetmass.app.page import Page
from wetmass.closing import bring_home, close
from wetmass.concept.reading import loads
from wetmass.lesson.film import film
from wetmass.record.refusal import Refusal

DUNLIN = Path("examples/dunlin.yaml").read_text(encoding="utf-8")
FAR = DUNLIN.replace("payload: find ", "payload: 30 t ").replace("{most: payload}", "{least: lift-off mass}")


@functools.cache
def home():
    return bring_home(loads(DUNLIN, "dunlin.yaml"))


def job(what, folder, text=DUNLIN):
    return {
        "what": what,
        "text": text,
        "file": "dunlin.yaml",
        "folder": str(folder),
        "scratch": str(folder / ".making-1"),
    }


@pytest.fixture
def made(tmp_path, monkeypatch):
    """Makes one thing of Dunlin, which is flown once for all of them; (its path, what was said meanwhile)."""
    monkeypatch.setattr("wetmass.closing.bring_home", lambda concept, told: home())
    # one second of the film, and small: as real as all of it
    monkeypatch.setattr(
        "wetmass.lesson.film.film", functools.partial(film, seconds=1.0, size=(320, 180), rate=10)
    )

    def make(what):
        said = []
        Maker().make(job(what, tmp_path), said.append)
        target = tmp_path / f"dunlin{KINDS[what][0]}"
        assert said[-1] == {"stage": "made", "files": [target.name], "words": f"Written: {target.name}"}
        assert [path.name for path in tmp_path.iterdir()] == [target.name]  # and nothing beside it
        return target, [one for one in said if one["stage"] == "making"]

    return make


def shares(said):
    listed = [one["share"] for one in said if one["share"] is not None]
    assert listed == sorted(listed)
    assert listed[-1] == 1.0
    return listed


def test_the_lesson_as_a_page(made):
    text = made("page")[0].read_text(encoding="utf-8")
    assert text.startswith("<!")
    assert "Dunlin: the lesson" in text
    assert text.rstrip().endswith("</html>")


def test_the_lesson_on_paper(made):
    paper = pypdf.PdfReader(made("paper")[0])
    assert len(paper.pages) > 3
    assert "Dunlin" in paper.pages[0].extract_text()


def test_frames(made, tmp_path):
    (tmp_path / "dunlin-frames").mkdir()  # those of last time give way
    (tmp_path / "dunlin-frames" / "99-old.png").write_bytes(b"")
    folder, said = made("frames")
    frames = sorted(folder.iterdir())
    assert len(frames) == len(shares(said)) > 20
    assert all(frame.read_bytes().startswith(b"\x89PNG") for frame in frames)


def test_a_film(made):
    from wetmass.lesson.film.encode import encoder

    target, said = made("film")
    assert len(shares(said)) == 10
    told = subprocess.run([encoder(), "-i", str(target)], capture_output=True, text=True).stderr
    assert "Video: h264" in told
    assert "320x180" in told


def test_a_workbook(made):
    with zipfile.ZipFile(made("workbook")[0]) as book:
        assert book.testzip() is None
        assert any("<f>" in book.read(name).decode() for name in book.namelist() if "/sheet" in name)


def test_the_flight_as_a_table(made):
    lines = made("flight")[0].read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("time")
    assert len(lines) > 200
    assert len({line.count(",") for line in lines}) == 1


def test_the_working_as_a_script_that_checks_clean(made):
    from wetmass.working import check
    from wetmass.working.notes import outcome

    text = made("working")[0].read_text(encoding="utf-8")
    assert "Dunlin: the working" in text
    page = check(text, "dunlin-working.md")
    assert len(page.lines) > 20
    assert "off" not in {one.verdict.value for one in page.lines}, outcome(page)


@pytest.mark.parametrize("what", ["film", "flight"])
def test_what_was_not_flown_is_refused_in_words(tmp_path, monkeypatch, what):  # ten times what it carries
    monkeypatch.setattr("wetmass.closing.bring_home", lambda concept, told: close(concept))
    with pytest.raises(Refusal, match="make it close first"):
        Maker().make(job(what, tmp_path, FAR), lambda message: None)
    assert not list(tmp_path.iterdir())


def test_nothing_is_written_through_a_link(tmp_path, monkeypatch):
    monkeypatch.setattr("wetmass.closing.bring_home", lambda concept, told: home())
    (tmp_path / "elsewhere").write_text("mine")
    (tmp_path / "dunlin-flight.csv").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(Refusal, match="a plain file or nothing there"):
        Maker().make(job("flight", tmp_path), lambda message: None)
    assert (tmp_path / "elsewhere").read_text() == "mine"


def test_a_name_of_a_file_makes_names_of_what_is_made_of_it():
    assert stem("../../x.yaml") == "x"
    assert stem(".yaml") == "yaml"


# ── asked of the server ──


class Asked:
    """A room whose pages are heard; nothing but making is computed."""

    def __init__(self, folder):
        (folder / "dunlin.yaml").write_text(DUNLIN, encoding="utf-8")
        self.folder = folder
        self.room = Hall(Folder(folder), "dunlin.yaml").room("dunlin.yaml")
        self.page = Page()
        self.room.pages.add(self.page)

    async def hears(self, kind, having=""):
        while True:
            message = await asyncio.wait_for(self.page.waiting.get(), 120)
            if message["type"] == kind and having in message["words"]:
                return message

    def left(self):
        return sorted(os.listdir(self.folder))


@pytest.fixture
def asked(tmp_path, monkeypatch):
    monkeypatch.setenv("WETMASS_STATE", str(tmp_path / "state"))
    work = tmp_path / "work"
    work.mkdir()
    return work


def test_one_thing_at_a_time_is_made_and_can_be_cancelled_without_a_trace(asked):
    async def run():
        one = Asked(asked)
        one.room.handing.make("frames")
        with pytest.raises(Refusal, match="one at a time"):
            one.room.handing.make("flight")
        await one.hears("making", "frame 3 of")
        assert any(name.startswith(".making-") for name in one.left())
        one.room.handing.cancel()
        assert (await one.hears("made"))["words"] == "Cancelled; nothing was written."
        assert one.left() == ["dunlin.yaml"]
        one.room.handing.cancel()  # nothing to cancel: nothing is said
        assert one.page.waiting.empty()
        one.room.handing.make("flight")
        said = await one.hears("made")
        assert said["files"] == ["dunlin-flight.csv"]
        assert one.left() == ["dunlin-flight.csv", "dunlin.yaml"]
        assert "dunlin-flight.csv" in one.room.hall.made

    asyncio.run(run())


def test_making_ends_with_the_last_page(asked):
    async def run():
        one = Asked(asked)
        one.room.handing.make("film")
        await one.hears("making")
        one.room.pages.clear()
        one.room.close()
        assert one.room.handing._maker is None

    asyncio.run(run())
