"""Files: only in the folder, never lost, never overwritten unseen."""

import json
import os
from pathlib import Path

import pytest

from wetmass.app.book import Book
from wetmass.app.folder import Folder
from wetmass.app.merging import merged
from wetmass.record.refusal import Refusal

DUNLIN = Path("examples/dunlin.yaml").read_text(encoding="utf-8")
MASS = "stages/first/dry mass"


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "work" / "dunlin.yaml"
    path.parent.mkdir()
    path.write_text(DUNLIN, encoding="utf-8")
    return path


def book(file):
    return Book(file, file.parent.parent / "state")


def nudge(one, value, gesture=""):
    one.change(lambda doc: doc.set(MASS, value), f"mass {value}", gesture)


@pytest.mark.parametrize(
    "name",
    ["../dunlin.yaml", "/etc/passwd", "a/b.yaml", "..\\b.yaml", "C:b.yaml", ".hidden.yaml", "", "x" * 200 + ".yaml",
     "dunlin.txt", "a\nb.yaml", None, 7],
)  # fmt: skip
def test_a_name_that_leads_elsewhere_is_refused(file, name):
    with pytest.raises(Refusal, match="accepted the name of a concept file in this folder"):
        Folder(file.parent).path(name)


def test_a_link_out_of_the_folder_is_refused(file, tmp_path):
    secret = tmp_path / "secret.yaml"
    secret.write_text("name: secret", encoding="utf-8")
    os.symlink(secret, file.parent / "link.yaml")
    folder = Folder(file.parent)
    with pytest.raises(Refusal, match="a link that leads out of the folder"):
        folder.path("link.yaml")
    assert folder.files() == ["dunlin.yaml"]


def test_a_folder_of_that_name_is_refused(file):
    (file.parent / "folder.yaml").mkdir()
    with pytest.raises(Refusal, match="no plain file"):
        Folder(file.parent).path("folder.yaml")


def test_a_value_is_saved_with_every_comment_kept(file):
    one = book(file)
    nudge(one, "7.7 t ± 8 %")
    assert one.unsaved
    assert one.save()
    assert file.read_text(encoding="utf-8") == DUNLIN.replace("7.6 t ± 8 %", "7.7 t ± 8 %")
    assert not one.unsaved


def test_undo_goes_back_a_gesture_at_a_time(file):
    one = book(file)
    for value in ("7.7 t", "7.8 t", "7.9 t"):
        nudge(one, value, "drag")
    nudge(one, "9 t", "another")
    assert one.undo()
    assert one.document.get(MASS) == "7.9 t"
    assert one.undo()
    assert one.text == DUNLIN
    assert not one.undo()
    assert one.redo()
    assert one.document.get(MASS) == "7.9 t"
    nudge(one, "5 t")
    assert not one.redo()


def test_unsaved_work_is_there_again_after_a_killed_server(file):
    one = book(file)
    nudge(one, "7.7 t")
    one.keep_draft()
    again = book(file)  # a new server; the file itself was not written
    assert file.read_text(encoding="utf-8") == DUNLIN
    assert again.document.get(MASS) == "7.7 t"
    assert again.unsaved
    assert "unsaved work" in again.notice
    assert again.undo()
    assert again.text == DUNLIN


def test_saved_work_leaves_no_draft(file):
    one = book(file)
    nudge(one, "7.7 t")
    one.keep_draft()
    one.save()
    assert not list((file.parent.parent / "state").glob("*.json"))
    assert book(file).notice == ""


def test_a_spoiled_draft_does_no_harm(file):
    one = book(file)
    nudge(one, "7.7 t")
    one.keep_draft()
    draft = next((file.parent.parent / "state").glob("*.json"))
    for content in (
        "{",
        json.dumps({"text": 1}),
        json.dumps([]),
        json.dumps({"base": "", "text": "a: [\x00"}),
    ):
        draft.write_text(content, encoding="utf-8")
        assert book(file).text == DUNLIN


def test_a_change_on_the_disk_is_taken_where_nothing_was_changed_here(file):
    one = book(file)
    file.write_text(DUNLIN.replace("520 km", "540 km"), encoding="utf-8")
    assert one.look()
    assert one.document.get("mission/perigee") == "540 km"
    assert not one.unsaved


def test_changes_of_different_lines_are_brought_together(file):
    one = book(file)
    nudge(one, "7.7 t")
    file.write_text(DUNLIN.replace("80 m/s", "90 m/s"), encoding="utf-8")
    assert one.look()
    assert one.document.get(MASS) == "7.7 t"
    assert one.document.get("performance reserve") == "90 m/s"
    assert one.save()
    assert "90 m/s" in file.read_text(encoding="utf-8")


@pytest.mark.parametrize(("take", "kept"), [("ours", "7.7 t"), ("theirs", "7.5 t")])
def test_changes_of_the_same_line_are_asked_about_and_saving_waits(file, take, kept):
    one = book(file)
    nudge(one, "7.7 t")
    theirs = DUNLIN.replace("7.6 t ± 8 %", "7.5 t")
    file.write_text(theirs, encoding="utf-8")
    assert not one.save()
    assert one.asks
    assert file.read_text(encoding="utf-8") == theirs
    one.settle(take)
    assert one.document.get(MASS) == kept
    assert one.save()
    assert kept in file.read_text(encoding="utf-8")


def test_a_file_half_written_by_others_is_left_alone(file):
    one = book(file)
    file.write_text("name: [", encoding="utf-8")
    assert not one.look()
    file.unlink()
    assert not one.look()
    assert one.text == DUNLIN


def test_saving_under_another_name_never_overwrites(file):
    one = book(file)
    nudge(one, "7.7 t")
    with pytest.raises(Refusal, match="there already"):
        one.save_as(file)
    one.save_as(file.parent / "mine.yaml")
    assert "7.7 t" in (file.parent / "mine.yaml").read_text(encoding="utf-8")
    assert file.read_text(encoding="utf-8") == DUNLIN


def test_a_change_that_is_no_yaml_is_refused_and_nothing_is_lost(file):
    one = book(file)
    nudge(one, "7.7 t")
    with pytest.raises(Refusal, match="invisible character"):
        nudge(one, "7\x00 t")
    assert one.document.get(MASS) == "7.7 t"
    with pytest.raises(Refusal, match="64 KiB at most"):
        nudge(one, "x" * 70_000)


def test_lines_that_touch_are_not_merged():
    base = "a\nb\nc\nd\n"
    assert merged(base, "a\nB\nc\nd\n", "a\nb\nC\nd\n") is None
    assert merged(base, "A\nb\nc\nd\n", "a\nb\nc\nD\n") == "A\nb\nc\nD\n"
    assert merged(base, base, "x\n") == "x\n"
