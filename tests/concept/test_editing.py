"""Keys and entries come and go, and comments stay."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

import wetmass
from wetmass.concept.document import document
from wetmass.concept.editing import copied, moved, with_entry, with_key, without
from wetmass.concept.reading import loads
from wetmass.record.refusal import Refusal

EXAMPLES = [f"examples/{name}.yaml" for name in ("dunlin", "godwit", "sanderling", "turnstone")]
TEXT = """\
# the head stays
name: A
site: {latitude: 14 deg N, longitude: 40 deg W}   # here
stages:   # from below
  - name: one
    # why
    diameter: 3 m
    tanks:
      - {holds: LOX, shape: sphere}   # cold
      - {holds: LCH4, shape: sphere}

  - name: two
    diameter: 2 m
    engines: [{count: 1}, {count: 2}]
require:
  - {most: payload}
"""


def doc(text=TEXT):
    return document(text, "a.yaml")


def comments(text):
    return sorted(line[line.index("#") :] for line in text.splitlines() if "#" in line)


def test_a_key_goes_and_everything_else_stays():
    made = without(doc(), "site/longitude")
    assert "site: {latitude: 14 deg N}   # here" in made.text
    made = without(doc(), "stages/one/diameter")
    assert "    # why\n    tanks:" in made.text
    assert comments(made.text) == comments(TEXT)


def test_the_first_key_of_an_entry_leaves_the_entry():
    made = without(doc(), "stages/one/name")
    assert [item.get("name") is None for item in made.root.plain() and made.reach(["stages"])[0].items] == [
        True,
        False,
    ]


def test_an_entry_goes_with_its_line():
    made = without(doc(), "stages/one/tanks/1")
    assert "cold" not in made.text
    assert made.get("stages/one/tanks/1/holds") == "LCH4"
    made = without(doc(), ["stages", 0])
    assert made.get("stages/1/name") == "two"
    made = without(doc(), "stages/two/engines/2")
    assert "engines: [{count: 1}]" in made.text
    made = without(doc(), "stages/two/engines/1")
    assert "engines: [{count: 2}]" in made.text


def test_an_emptied_list_goes_with_its_key():
    made = without(without(doc(), "stages/one/tanks/1"), "stages/one/tanks/1")
    assert "tanks" not in made.text
    assert "require" not in without(doc(), "require/1").text


def test_entries_come_where_they_are_put():
    made = with_entry(doc(), "stages/one/tanks", "{holds: fuel, shape: torus}", 1)
    assert [t["holds"] for t in made.root.plain()["stages"][0]["tanks"]] == ["LOX", "fuel", "LCH4"]
    made = with_entry(doc(), "stages/two/engines", "{count: 3}")
    assert "engines: [{count: 1}, {count: 2}, {count: 3}]" in made.text
    made = with_entry(doc(), "stages", "name: three\ndiameter: 1 m")
    assert [s["name"] for s in made.root.plain()["stages"]] == ["one", "two", "three"]
    made = with_entry(doc(), "claims", "{payload: 1 t}")
    assert made.root.plain()["claims"] == [{"payload": "1 t"}]
    made = with_entry(doc(), "stages/two/tanks", "{holds: LOX, shape: sphere}")
    assert made.root.plain()["stages"][1]["tanks"] == [{"holds": "LOX", "shape": "sphere"}]


def test_a_block_comes_as_a_key():
    made = with_key(doc(), "stages/two/home", "{by: ballistic}")
    assert made.root.plain()["stages"][1]["home"] == {"by": "ballistic"}
    made = with_key(doc(), "site/height", "20 m")
    assert "longitude: 40 deg W, height: 20 m}   # here" in made.text
    assert with_key(doc("name: A"), "payload", "find").text == "name: A\npayload: find\n"


def test_a_copy_stands_behind_with_a_name_of_its_own():
    made = copied(doc(), "stages/one", "one more")
    assert [s["name"] for s in made.root.plain()["stages"]] == ["one", "one more", "two"]
    assert made.text.count("# cold") == 2
    assert len(copied(doc(), "stages/two/engines/1").root.plain()["stages"][1]["engines"]) == 3


def test_neighbours_change_places():
    made = moved(doc(), "stages/two", -1)
    assert [s["name"] for s in made.root.plain()["stages"]] == ["two", "one"]
    assert comments(made.text) == comments(TEXT)
    made = moved(doc(), "stages/one/tanks/1", 1)
    assert "- {holds: LOX, shape: sphere}   # cold\n\n" in made.text
    assert moved(doc(), "stages/one", -1).text == TEXT
    assert moved(moved(doc(), "stages/one", 1), "stages/one", -1).text == TEXT


@pytest.mark.parametrize("path", ["stages/nine", "site/nothing", "name/deeper", []])
def test_what_is_not_there_is_refused(path):
    with pytest.raises(Refusal, match="a key or an entry of this file"):
        without(doc(), path)


def test_a_file_without_a_last_line_end_is_kept_whole():
    made = with_entry(doc("stages:\n  - name: a"), "stages", "name: b")
    assert [s["name"] for s in made.root.plain()["stages"]] == ["a", "b"]


@given(st.sampled_from(EXAMPLES), st.integers(0, 10**6))
def test_a_stage_copied_and_taken_away_leaves_the_file_as_it_was(file, draw):
    start = wetmass.load(file).document
    number = draw % len(start.root.plain()["stages"])
    again = without(copied(start, ["stages", number], "another"), ["stages", number + 1])
    assert again.text == start.text


def test_a_copied_stage_still_reads():
    start = wetmass.load(EXAMPLES[0]).document
    assert [s.name for s in loads(copied(start, "stages/second", "third").text).stages] == [
        "first",
        "second",
        "third",
    ]
