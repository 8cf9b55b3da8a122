"""`wetmass lesson` writes one file where it was asked to, and says where."""

import pytest

import builders
from lesson.pages import dunlin
from wetmass.cli.lesson import Wanted, lesson, stem, written
from wetmass.record.refusal import Refusal


def test_the_page_is_written_into_a_folder_that_is_made(tmp_path):
    out = tmp_path / "made" / "here"
    concept, closed = builders.dunlin(), builders.closed()
    (target,) = written("some/Snow Bunting.yaml", concept, closed, Wanted(out=str(out)))
    assert target == out / "snow-bunting-lesson.html"
    text = target.read_text(encoding="utf-8")
    assert text.startswith("<!DOCTYPE html>") and text.endswith("</html>\n")
    assert "from Snow Bunting.yaml" in text


def test_a_folder_that_cannot_be_is_refused_with_a_way_out(tmp_path):
    file = tmp_path / "file"
    file.write_text("in the way", encoding="utf-8")
    with pytest.raises(Refusal) as refusal:
        written("d.yaml", builders.dunlin(), builders.closed(), Wanted(out=str(file / "below")))
    words = str(refusal.value)
    assert "--out" in words and "in which nothing can be written" in words and "permissions" in words


def test_names_that_no_file_can_have_are_made_plain():
    assert stem("-", "a/b: c") == "a-b-c"
    assert stem("-", "///") == "concept"


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        (Wanted(film="a.avi"), "a file ending in .mp4, .webm, .gif"),
        (Wanted(tables=("a.ods",)), "a file ending in .xlsx, .csv, .parquet"),
        (Wanted(size="big"), "width x height in pixels"),
    ],
)
def test_what_cannot_be_written_is_refused_before_anything_is_flown(wanted, words, capsys):
    assert lesson("no such file.yaml", wanted) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert words in told and "no such file" not in told


def test_only_frames_that_are_there_can_be_asked_for(tmp_path):
    wanted = Wanted(out=str(tmp_path), frames=str(tmp_path / "f"), only=("step-999",))
    with pytest.raises(Refusal) as refusal:
        written("d.yaml", builders.dunlin(), builders.closed(), wanted)
    assert "step-999" in str(refusal.value) and "title" in str(refusal.value)


def test_everything_that_is_wanted_is_written(tmp_path):
    wanted = Wanted(
        out=str(tmp_path), pdf=True, frames=str(tmp_path / "f"), svg=True, only=("title", "masses"),
        tables=(str(tmp_path / "d.xlsx"), str(tmp_path / "d.csv"), str(tmp_path / "d.json")),
    )  # fmt: skip
    targets = written("d.yaml", *dunlin(), wanted)
    assert all(target.exists() for target in targets)
    names = {path.name for path in (tmp_path / "f").iterdir()}
    assert "001-title.png" in names and "001-title.svg" in names
    assert (tmp_path / "d-lesson.pdf").read_bytes().startswith(b"%PDF")
