"""`wetmass reach` and `wetmass refuel`: what they print, what they write, and what they refuse."""

import json

import pytest
from typer.testing import CliRunner

from wetmass.cli.study_commands import APP

DUNLIN = "examples/dunlin.yaml"


def run(*words):
    return CliRunner().invoke(APP, [*words])


@pytest.fixture(autouse=True)
def _at_the_root(monkeypatch):
    from pathlib import Path

    monkeypatch.chdir(Path(__file__).parents[2])


def test_reach_writes_a_record_and_a_chart(tmp_path):
    chart = tmp_path / "reach.json"
    done = run("reach", DUNLIN, "--to", "Mars", "--json", "--chart", str(chart))
    assert done.exit_code == 0, done.output
    record = json.loads(done.stdout)
    assert record["format"] == "wetmass reach 1"
    (mars,) = record["destinations"]
    assert mars["to"] == "Mars"
    assert 0.0 < mars["payload"] < 1000.0
    assert record["curve"][0]["payload"] > mars["payload"] > record["curve"][-1]["payload"]
    assert "layer" in json.loads(chart.read_text(encoding="utf-8"))


def test_refuel_says_how_many_tankers_and_what_it_takes_for_granted(tmp_path):
    chart = tmp_path / "refuel.json"
    words = ("refuel", DUNLIN, "--to", "Mars", "--payload", "3 t", "--every", "10 day", "--chart", str(chart))
    done = run(*words)
    assert done.exit_code == 0, done.output
    for said in ("tankers refill it for 3", "a tanker every", "10 days", "direct, without refilling"):
        assert said in " ".join(done.stdout.split())
    assert "hconcat" in json.loads(chart.read_text(encoding="utf-8"))
    again = run(*words)
    assert again.stdout == done.stdout  # the same seed, the same courses


def test_a_payload_that_full_tanks_do_not_carry_is_told():
    done = run("refuel", DUNLIN, "--to", "Moon surface", "--payload", "9 t")
    assert done.exit_code == 1
    assert "Even with full tanks it does not carry" in done.stdout.replace("\n", " ")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("reach", DUNLIN, "--to", "Marz"), 'write "Mars", if that is meant'),
        (("reach", DUNLIN, "--payload", "1 t"), 'add --to "transfer orbit"'),
        (("reach", DUNLIN, "--isp", "3 km"), "a time"),
        (("refuel", DUNLIN, "--to", "Mars", "--payload", "0 kg"), "a mass above 0"),
        (("refuel", DUNLIN, "--to", "Mars", "--payload", "1 t", "--lost", "3"), "0 % to below 100 %"),
    ],
)
def test_what_cannot_be_taken_is_refused_in_words(words, said):
    done = run(*words)
    assert done.exit_code == 2
    assert said in " ".join(done.output.split())
