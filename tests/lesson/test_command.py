"""`wetmass lesson` writes one file where it was asked to, and says where."""

import pytest

import builders
from wetmass.cli.lesson import stem, written
from wetmass.record.refusal import Refusal


def test_the_page_is_written_into_a_folder_that_is_made(tmp_path, capsys):
    out = tmp_path / "made" / "here"
    target = written("some/Snow Bunting.yaml", builders.dunlin(), builders.closed(), str(out))
    assert target == out / "snow-bunting-lesson.html"
    assert capsys.readouterr().out.strip() == str(target)
    text = target.read_text(encoding="utf-8")
    assert text.startswith("<!DOCTYPE html>") and text.endswith("</html>\n")
    assert "from Snow Bunting.yaml" in text


def test_a_folder_that_cannot_be_is_refused_with_a_way_out(tmp_path):
    file = tmp_path / "file"
    file.write_text("in the way", encoding="utf-8")
    with pytest.raises(Refusal) as refusal:
        written("dunlin.yaml", builders.dunlin(), builders.closed(), str(file / "below"))
    words = str(refusal.value)
    assert "--out" in words and "in which nothing can be written" in words and "permissions" in words


def test_names_that_no_file_can_have_are_made_plain():
    assert stem("-", "a/b: c") == "a-b-c"
    assert stem("-", "///") == "concept"
