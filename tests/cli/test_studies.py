"""`wetmass vary`, `compare`, `worth` and `spread`: what they print and write, their refusals and exit statuses."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path

import pytest

from wetmass.cli.studies import Options, kept_anew, kept_throughout
from wetmass.cli.sureness import spread, worth
from wetmass.cli.varying import compare, vary

ROOT = Path(__file__).resolve().parents[2]
DUNLIN = str(ROOT / "examples" / "dunlin.yaml")


def load(name, path):
    spec = importlib.util.spec_from_file_location(name, path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def store(tmp_path_factory):
    """Results shared by the tests of this file."""
    return str(tmp_path_factory.mktemp("studies") / "points.db")


def options(store=None, **more):
    return Options(store=store, workers=0, **more)


def test_vary_prints_a_row_a_point_and_draws_it(store, tmp_path, capsys):
    picture, table = tmp_path / "mass.svg", tmp_path / "mass.csv"
    status = vary(
        DUNLIN, ["first, dry mass = 7.4 t, 7.8 t"], options(store, chart=str(picture), table=str(table))
    )
    said = capsys.readouterr().out
    assert status == 0
    assert "first, dry mass varied; every point closed and made best." in said
    assert "7.4 t" in said and "against 2" in said
    assert "Every point keeps what its stages need to come home" in said
    assert picture.read_text().startswith("<svg") and "first, dry mass, t" in picture.read_text()
    rows = table.read_text().splitlines()
    assert rows[0].startswith('"first, dry mass",state,reason,payload') and len(rows) == 3


def test_what_is_kept_to_come_home_is_said_in_words():
    assert kept_throughout({}) == kept_anew({}) == ""
    assert kept_throughout({"first": 2579.3}).endswith("needs: 2\u2009579\u00a0kg in first.")
    both = kept_anew({"first": 2579.3, "boosters": 400.0})
    assert both.endswith("2\u2009579\u00a0kg in first and 400\u00a0kg in boosters.")


def test_vary_of_two_inputs_as_a_record_and_a_page(store, tmp_path, capsys):
    page = tmp_path / "grid.html"
    inputs = ["first, dry mass = 7.4 t, 7.8 t", "second isp = 362 s, 364 s"]
    assert vary(DUNLIN, inputs, options(store, as_json=True, chart=str(page)), form="carpet") == 0
    record = json.loads(capsys.readouterr().out)
    assert record["format"] == "wetmass vary 1" and len(record["points"]) == 4
    assert record["inputs"][0]["values"] == [7400.0, 7800.0]
    assert all(
        point["state"] == "closes" and point["numbers"]["payload"] > 2800.0 for point in record["points"]
    )
    text = page.read_text()
    assert "<script src=" not in text and len(text) > 200_000  # all it needs is in it


def test_compare_says_first_what_differs(store, capsys):
    assert compare([DUNLIN], options(store, changes=["first, dry mass = 7.8 t"])) == 0
    said = capsys.readouterr().out
    assert said.index("Stated differently") < said.index("What comes of it")
    assert "7.6 t ± 8 %" in said and "closes" in said


def test_worth_says_what_a_tonne_costs(tmp_path, capsys):
    picture = tmp_path / "worth.png"
    more = ["second isp = ± 1 %"]
    assert (
        worth(
            DUNLIN,
            ["first, dry mass"],
            options(chart=str(picture)),
            check=False,
            draws=None,
            seed=1,
            more=more,
        )
        == 0
    )
    said = capsys.readouterr().out
    assert "1 t more of first, dry mass costs 17" in said and "Together, if independent" in said
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_spread_says_percentiles_and_chances(store, tmp_path, capsys):
    table = tmp_path / "samples.parquet"
    status = spread(
        DUNLIN,
        options(store, table=str(table), as_json=True),
        samples=4,
        seed=3,
        more=(),
        together=(),
        flights=None,
    )
    record = json.loads(capsys.readouterr().out)
    assert status == 0 and record["seed"] == 3 and record["closes"]["share"] == 1.0
    assert set(record["percentiles"]) == {"5", "25", "50", "75", "95"}
    pyarrow = pytest.importorskip("pyarrow.parquet")
    assert pyarrow.read_table(table).num_rows == 4


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: vary(DUNLIN, ["first, dri mass = 7 t, 8 t"], options()), "first, dry mass"),
        (
            lambda: vary(DUNLIN, ["first, dry mass = 7 t, 8 t"], options(chart="a.gif")),
            "a file ending in .svg",
        ),
        (lambda: vary(DUNLIN, ["first, dry mass = 7 t, 8 t"], options(), form="cube"), "contour or carpet"),
        (lambda: compare([DUNLIN], options()), "two or more"),
        (lambda: spread(DUNLIN, options(), samples=0, seed=1, more=(), together=()), "1 to 1048576"),
    ],
)
def test_what_cannot_be_done_is_refused_with_status_2(ask, words, capsys):
    assert ask() == 2
    assert words in " ".join(capsys.readouterr().err.split())


def test_the_page_shows_what_the_program_prints():
    pages = load("pages_of_studies", ROOT / "tests" / "cli" / "test_pages.py")
    text = pages.write_pages.STUDIES.read_text(encoding="utf-8")
    blocks = {match["command"]: match["text"] for match in pages.write_pages.SHOWN.finditer(text)}
    assert len(blocks) == 4 and all(len(shown.splitlines()) > 8 for shown in blocks.values())
    command = next(command for command in blocks if command.startswith("worth"))
    assert pages.same(blocks[command], pages.write_pages.printed(command), pages.MOST_OFF)
