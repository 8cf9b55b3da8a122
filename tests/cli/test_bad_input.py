"""Every command given a file that is none: one clear refusal, exit status 2, never a traceback."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from wetmass.cli.study_commands import APP

DUNLIN = (Path(__file__).parents[2] / "examples" / "dunlin.yaml").read_text(encoding="utf-8")
BAD = {
    "missing": None,
    "a folder": None,
    "empty": b"",
    "of bytes": bytes(range(256)),
    "a packed file": b"PK\x03\x04" + bytes(40),
    "in UTF-16": DUNLIN.encode("utf-16"),
    "in UTF-16 without a mark": DUNLIN.encode("utf-16-be"),
    "in Latin-1": "name: Möwe\n".encode("latin-1"),
    "half merged": DUNLIN.replace("payload: find", "<<<<<<< HEAD\npayload: find\n=======\n").encode(),
    "with a tab": DUNLIN.replace("    diameter", "\tdiameter").encode(),
    "with aliases": b"a: &a [1, 1]\nb: &b [*a, *a]\n",
    "too long": b"# nothing\n" * 20_000,
    "a link to itself": None,
}  # fmt: skip
COMMANDS = {
    "fly": ["fly", "FILE"],
    "home": ["home", "FILE"],
    "working": ["working", "FILE"],
    "lesson": ["lesson", "FILE", "--out", "OUT"],
    "vary": ["vary", "FILE", "payload = 1 to 2 t in 2"],
    "compare": ["compare", "FILE", "FILE"],
    "worth": ["worth", "FILE"],
    "spread": ["spread", "FILE"],
    "reach": ["reach", "FILE"],
    "refuel": ["refuel", "FILE", "--to", "Mars", "--payload", "2 t"],
    "check": ["check", "SCRIPT", "--concept", "FILE"],
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("bad")
    for name, data in BAD.items():
        if data is not None:
            (place / name).write_bytes(data)
    (place / "a folder").mkdir()
    (place / "a link to itself").symlink_to(place / "a link to itself")
    (place / "script.md").write_text("m = 3 t\n", encoding="utf-8")
    return place


def run(folder, command, file):
    words = {"FILE": str(folder / file), "OUT": str(folder / "out"), "SCRIPT": str(folder / "script.md")}
    return CliRunner().invoke(APP, [words.get(word, word) for word in command])


@pytest.mark.parametrize("file", BAD)
@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_refuses_a_file_that_is_none(folder, command, file):
    done = run(folder, COMMANDS[command], file)
    assert done.exit_code == 2, done.output
    told = [line for line in done.output.splitlines() if " ; accepted " in line]
    assert len(told) == 1, done.output
    assert " ; do " in told[0] and f"{folder / file}:" in told[0], done.output
    assert "Traceback" not in done.output and "defect" not in done.output
    assert not (folder / "out").exists()


@pytest.mark.parametrize("file", ["missing", "a folder", "of bytes", "in UTF-16", "in Latin-1"])
def test_a_working_that_is_no_text_is_refused(folder, file):
    done = CliRunner().invoke(APP, ["check", str(folder / file)])
    assert done.exit_code == 2, done.output
    assert "SCRIPT: got " in done.output and " ; do " in done.output


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no such device here")
def test_a_working_without_an_end_is_not_waited_for():
    done = CliRunner().invoke(APP, ["check", "/dev/zero"])
    assert done.exit_code == 2 and "more than 1600000 bytes" in done.output


OPTIONS = {
    "a change that says nothing": (["vary", "FILE", "payload = 1 to 2 t in 2", "--set", "nonsense"], "--set: got "),
    "a change to no value": (["vary", "FILE", "payload = 1 to 2 t in 2", "--set", "payload = much"], "--set, payload: got "),
    "a change of a name that is none": (["vary", "FILE", "payload = 1 to 2 t in 2", "--set", "qqq = 3"], "write one of these"),
    "too many points": (["vary", "FILE", "first, dry mass = 6 to 7 t in 99999999"], "in 2 to 1000 points"),
    "a picture of no kind": (["vary", "FILE", "payload = 1 to 2 t in 2", "--chart", "x.doc"], "--chart: got "),
    "one concept to compare": (["compare", "FILE"], "two or more"),
    "a spread that says nothing": (["spread", "FILE", "--guess", "nonsense"], "--guess: got "),
    "no draws": (["spread", "FILE", "--samples", "0"], "--samples: got "),
    "a place nobody knows": (["reach", "FILE", "--to", "Atlantis"], "--to: got "),
    "a mass that is a length": (["reach", "FILE", "--to", "Mars", "--payload", "5 m"], "--payload: got "),
    "less than nothing": (["refuel", "FILE", "--to", "Mars", "--payload", "2 t", "--every", "-3 day"], "a time above 0"),
    "more than all": (["refuel", "FILE", "--to", "Mars", "--payload", "2 t", "--lost", "300 %"], "below 100 %"),
    "a moment that is none": (["home", "FILE", "--lift-off", "yesterday"], "--lift-off: got "),
    "tracks of no kind": (["home", "FILE", "--tracks", "x.doc"], "--tracks: got "),
    "a picture without a size": (["lesson", "FILE", "--size", "0x0"], "--size: got "),
    "a film of no kind": (["lesson", "FILE", "--film", "x.avi"], "--film: got "),
    "a table of no kind": (["lesson", "FILE", "--table", "x.doc"], "--table: got "),
    "an address that is none": (["app", "FILE", "--host", "999.1.1.1"], "--host: got "),
    "a port that is none": (["app", "FILE", "--port", "-1"], "--port: got "),
}  # fmt: skip


@pytest.mark.parametrize("case", OPTIONS)
def test_an_option_that_cannot_be_taken_is_refused_by_its_name(tmp_path, case):
    command, words = OPTIONS[case]
    file = tmp_path / "dunlin.yaml"
    file.write_text(DUNLIN, encoding="utf-8")
    done = CliRunner().invoke(APP, [str(file) if word == "FILE" else word for word in command])
    assert done.exit_code == 2, done.output
    assert words in done.output and " ; do " in done.output, done.output
