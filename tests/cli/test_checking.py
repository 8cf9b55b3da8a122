"""`wetmass check` and `wetmass working`: what they print, and their exit status."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from wetmass.cli.checking import check, working
from wetmass.working import check as checked
from wetmass.working.from_closed import quantities

DUNLIN = Path(__file__).resolve().parent.parent.parent / "examples" / "dunlin.yaml"
FAULTY = "a = 24 m/s²\nt = 120 s\nheight = a·t² = 345.6 km\nspeed = 24 m/s² · 120 s = 2.88 km/s\n"


@pytest.fixture
def faulty(tmp_path):
    path = tmp_path / "climb.txt"
    path.write_text(FAULTY, encoding="utf-8")
    return str(path)


def test_a_missing_half_is_named_and_the_status_is_1(faulty, capsys):
    assert check(faulty) == 1
    said = capsys.readouterr().out
    assert "half missing" in said
    assert "172.8 km" in said


def test_a_clean_working_has_status_0(tmp_path, capsys):
    path = tmp_path / "clean.txt"
    path.write_text("start mass: 412 t\nweight = 412 t · 9.81 m/s² = 4042 kN\n", encoding="utf-8")
    assert check(str(path)) == 0
    assert "all of them hold" in capsys.readouterr().out


def test_a_script_that_is_not_there_is_refused_with_status_2(tmp_path, capsys):
    assert check(str(tmp_path / "none.md")) == 2
    said = capsys.readouterr().err
    assert "SCRIPT" in said
    assert "cannot be read" in said


def test_a_script_that_is_no_text_is_refused(tmp_path, capsys):
    path = tmp_path / "picture.md"
    path.write_bytes(b"\xff\xfe\x00\x89")
    assert check(str(path)) == 2
    assert "UTF-8" in capsys.readouterr().err


def test_json_has_the_slip_of_the_line_and_nothing_else_is_printed(faulty, capsys):
    assert check(faulty, as_json=True) == 1
    page = json.loads(capsys.readouterr().out)
    assert page["clean"] is False
    assert [line["slips"][0]["kind"] for line in page["lines"] if line["verdict"] == "off"] == ["S01"]


def test_the_annotated_copy_keeps_every_line_of_the_script(faulty, tmp_path, capsys):
    out = tmp_path / "notes.md"
    check(faulty, out=str(out))
    capsys.readouterr()
    text = out.read_text(encoding="utf-8")
    assert all(row in text for row in FAULTY.splitlines())
    assert "½ is left out" in text


@pytest.fixture(scope="module")
def dunlin():
    import wetmass

    return wetmass.fly(wetmass.load(DUNLIN))


def test_our_own_working_checks_clean(dunlin):
    from wetmass.working import write

    page = checked(write(dunlin.steps, dunlin.name), "dunlin.md")
    assert len(page.lines) > 50
    assert page.clean, [line.sentence for line in page.lines if line.verdict.value != "right"]


def test_the_command_writes_what_the_check_reads(tmp_path, capsys):
    out = tmp_path / "dunlin.md"
    assert working(str(DUNLIN), out=str(out)) == 0
    assert check(str(out)) == 0
    capsys.readouterr()


def test_a_hand_value_is_held_against_the_closed_concept(dunlin):
    model = quantities(dunlin)
    assert model["payload mass"][0] == dunlin.payload
    time = model["first stage burn time"][0]
    page = checked(
        f"first stage burn time = {time * 1.3:.0f} s\npayload = {dunlin.payload:.0f} kg", "a.txt", model=model
    )
    assert "the model has" in page.lines[0].notes[0]
    assert not page.lines[1].notes


def test_ideal_and_flown_speed_have_names_of_their_own(dunlin):
    model = quantities(dunlin)
    assert model["first stage ideal dv"][0] > model["first stage burnout air speed"][0] > 0.0
