"""`wetmass fly` as a command: exit statuses, outputs, refusals, and what a defect of ours does."""

import csv
import io
import json
import os
import pty
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from rich.console import Console

import builders
import wetmass
from wetmass.cli import flying
from wetmass.cli.exports import json_text
from wetmass.cli.progress import ONCE, Progress
from wetmass.record.flight import COLUMNS

FILE = str(builders.FILE)


@pytest.fixture
def answers(monkeypatch):
    """Sets what flying gives."""

    def gives(closed):
        def fly(concept, *, told):
            told("flying")
            if isinstance(closed, BaseException):
                raise closed
            return closed

        monkeypatch.setattr(wetmass, "fly", fly)

    gives(builders.closed())
    return gives


def wetmass_command(*arguments, **environment):
    return subprocess.run(
        [sys.executable, "-m", "wetmass", *arguments],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, **environment},
    )


def in_a_terminal(*arguments, **environment):
    """What a command shows in a terminal of 80 columns, with its escapes."""
    main, other = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "wetmass", *arguments],
        stdout=other,
        stderr=other,
        env={**os.environ, "TERM": "xterm-256color", "COLUMNS": "80", **environment},
    )
    os.close(other)
    seen = b""
    while True:
        try:
            piece = os.read(main, 65536)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        seen += piece
    os.close(main)
    process.wait()
    return seen.decode("utf-8")


# ── exit statuses and outputs ────────────────────────────────────────────────────────────────────


def test_a_concept_that_closes_ends_with_0_and_the_page(answers, capsys):
    assert flying.fly(FILE) == 0
    out = capsys.readouterr().out
    assert out.startswith("Dunlin\n")
    assert "Masses" in out


def test_a_concept_that_does_not_close_ends_with_1_and_the_reason(answers, capsys):
    answers(builders.closed(closes=False, flight=None, reason="the propellant ran away"))
    assert flying.fly(FILE) == 1
    assert "does not close: the propellant ran away." in capsys.readouterr().out


def test_quiet_prints_the_verdict_alone(answers, capsys):
    assert flying.fly(FILE, quiet=True) == 0
    shown = capsys.readouterr()
    assert shown.out.count("\n") == 1
    assert shown.out.startswith("Dunlin carries")
    assert shown.err == ""


def test_json_prints_the_whole_record_and_nothing_else(answers, capsys):
    assert flying.fly(FILE, as_json=True) == 0
    read = json.loads(capsys.readouterr().out)
    assert read["payload"] == 3000.0
    assert read["concept"]["text"] == builders.FILE.read_text(encoding="utf-8")
    assert read["vehicle"]["lift_off_mass"] == 115_300.0
    assert [row["mass"] for row in read["vehicle"]["mass_table"]][-1] == 3000.0
    assert len(read["flight"]["trajectory"]["rows"]) == 5
    assert "vehicle" not in read["flight"]


def test_json_has_null_where_a_number_is_not_finite():
    orbit = builders.flight().orbit
    import dataclasses

    escaping = builders.flight(orbit=dataclasses.replace(orbit, apogee=float("inf")))
    text = json_text(builders.dunlin(), builders.closed(flight=escaping))
    assert json.loads(text, parse_constant=pytest.fail)["flight"]["orbit"]["apogee"] is None


def test_csv_has_units_in_its_header_and_a_row_for_each_point(answers, tmp_path, capsys):
    file = tmp_path / "dunlin.csv"
    assert flying.fly(FILE, csv=str(file)) == 0
    assert capsys.readouterr().out.startswith("Dunlin\n")
    rows = list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"))))
    assert rows[0][:3] == ["time [s]", "stage", "height [m]"]
    assert len(rows[0]) == len(COLUMNS)
    assert [float(row[2]) for row in rows[1:]] == [20.0, 130_015.0, 260_010.0, 390_005.0, 520_000.0]


def test_csv_on_the_output_comes_alone(answers, capsys):
    assert flying.fly(FILE, csv="-") == 0
    out = capsys.readouterr().out
    assert out.startswith("time [s],")
    assert len(out.splitlines()) == 6


def test_csv_that_cannot_be_written_is_refused(answers, tmp_path, capsys):
    assert flying.fly(FILE, csv=str(tmp_path / "none" / "x.csv")) == 2
    assert "--csv: got" in capsys.readouterr().err


def test_csv_without_a_flight_says_so(answers, tmp_path, capsys):
    answers(builders.closed(closes=False, flight=None, reason="it ran away"))
    assert flying.fly(FILE, csv=str(tmp_path / "x.csv")) == 1
    assert "no flight to write" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_two_things_on_one_output_are_refused():
    done = wetmass_command("fly", FILE, "--json", "--csv", "-")
    assert done.returncode == 2
    assert "name a file for the CSV" in done.stderr


def test_stopping_it_ends_with_130(answers, capsys):
    answers(KeyboardInterrupt())
    assert flying.fly(FILE) == 130
    assert capsys.readouterr().err == "Stopped.\n"


def test_a_reader_that_has_read_enough_is_no_failure(tmp_path):
    # flown by a stand-in, so that this needs no flight: the page is longer than a pipe holds unread
    script = (
        "import sys\nsys.path.insert(0, sys.argv[1])\nimport builders, wetmass\n"
        "closed = builders.closed(assumed=('words ' * 40_000,))\n"
        "from wetmass.findings import judge\n"
        "wetmass.fly = lambda concept, told: judge(concept, closed)\n"
        "from wetmass.cli.flying import fly\nsys.exit(fly(str(builders.FILE)))\n"
    )
    tests = str(Path(__file__).parents[1])
    process = subprocess.Popen(
        [sys.executable, "-c", script, tests], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout.readline() == b"Dunlin\n"
    process.stdout.close()
    complaints = process.stderr.read()
    process.stderr.close()
    assert (process.wait(), complaints) == (0, b"")


def test_an_output_without_our_letters_gets_the_nearest(tmp_path):
    file = tmp_path / "minus.yaml"
    file.write_text("name: −\n", encoding="utf-8")
    done = wetmass_command("fly", str(file), PYTHONIOENCODING="ascii")
    assert done.returncode == 2
    assert "?" not in done.stderr.replace("did you mean", "")
    assert '"-"' in done.stderr


# ── refusals and defects ─────────────────────────────────────────────────────────────────────────


def broken(tmp_path):
    file = tmp_path / "broken.yaml"
    text = builders.FILE.read_text(encoding="utf-8")
    file.write_text(
        text.replace("payload: find ", "payloda: 1 t ").replace("7.6 t ± 8 %", "7.6 m"), encoding="utf-8"
    )
    return file


def test_a_wrong_file_ends_with_2_and_every_complaint_at_its_place(tmp_path):
    file = broken(tmp_path)
    done = wetmass_command("fly", str(file))
    assert done.returncode == 2
    assert done.stdout == ""
    lines = done.stderr.splitlines()
    assert lines[0].startswith(f"{file}:9:1: payloda: got")
    assert 'write "payload"' in lines[0]
    assert lines[1].startswith(f'{file}:15:15: stages / first / dry mass: got "7.6 m"')
    assert lines[2] == "2 statements to put right; nothing was flown."


def test_a_complaint_fits_the_terminal(tmp_path):
    plain = re.sub(r"\x1b\[[0-9;]*m", "", in_a_terminal("fly", str(broken(tmp_path))))
    assert "payloda: got" in plain.replace("\r\n    ", " ")
    words = [line for line in plain.split("\r\n") if str(tmp_path) not in line]  # a path may be longer
    assert max(map(len, words)) <= 80


def test_no_color_leaves_no_colour(tmp_path):
    colour = re.compile(r"\x1b\[[0-9;]*(3[0-7]|9[0-7]|38;)[0-9;]*m")
    file = tmp_path / "heavy.yaml"
    file.write_text(
        builders.FILE.read_text(encoding="utf-8").replace("count: 7", "count: 2"), encoding="utf-8"
    )
    assert not colour.search(in_a_terminal("fly", str(file), NO_COLOR="1"))
    assert colour.search(in_a_terminal("fly", str(file)))  # what does not hold is red


def test_a_defect_of_ours_says_so_and_keeps_what_repeats_it(answers, capsys, monkeypatch, tmp_path):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    answers(ZeroDivisionError("of ours"))
    assert flying.fly(FILE) == 3
    said = capsys.readouterr().err
    assert said.startswith("This is a defect in the program, please report it.\nZeroDivisionError: of ours\n")
    (kept,) = tmp_path.iterdir()
    assert str(kept) in said
    content = kept.read_text(encoding="utf-8")
    for part in ("wetmass 0", "Traceback", "payload: find", "Python 3"):
        assert part in content


# ── progress ─────────────────────────────────────────────────────────────────────────────────────


def wait_for(condition):
    import time

    for _ in range(400):
        if condition():
            return True
        time.sleep(0.01)
    return False


def test_a_terminal_is_told_what_is_going_on_once_it_takes_a_while():
    file = io.StringIO()
    console = Console(file=file, force_terminal=True, width=100)
    with Progress(console, patience=0.01) as progress:
        progress.says("making the best of it")
        assert wait_for(lambda: "making the best of it …" in file.getvalue())


def test_the_first_compiling_is_told_beside_it_in_one_line():
    file = io.StringIO()
    progress = Progress(Console(file=file, force_terminal=True, width=80), patience=0.01)
    progress.once = True
    with progress:
        progress.says("flying it once more to write it down")
        assert wait_for(lambda: "… (compiling, this first time only)" in file.getvalue())


def test_what_is_quick_is_not_announced():
    file = io.StringIO()
    with Progress(Console(file=file, force_terminal=True), patience=60.0) as progress:
        progress.says("reading")
    assert file.getvalue() == ""


def test_elsewhere_only_the_first_compiling_is_told(monkeypatch):
    from wetmass.flight import compiled

    for first in (True, False):
        monkeypatch.setattr(compiled, "FIRST_TIME", first)
        file = io.StringIO()
        with Progress(Console(file=file, width=200), patience=0.05) as progress:
            progress.compiling()
            progress._timer.join()
        assert file.getvalue() == (f"wetmass: {ONCE}\n" if first else "")
