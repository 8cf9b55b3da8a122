"""The concept in sentences: every value of the file is told once, at its place, and can be changed there."""

from pathlib import Path

import pytest

from wetmass.app import structure
from wetmass.app.fields import field
from wetmass.app.saying import change, say, share
from wetmass.app.telling import more, told
from wetmass.concept.document import document
from wetmass.concept.reading import loads
from wetmass.record.refusal import Refusal

EXAMPLES = sorted(Path("examples").glob("*.yaml"))


def read(path):
    return document(path.read_text(encoding="utf-8"), path.name)


def fields(inside):
    """Every field in what is told."""
    if isinstance(inside, dict):
        if "value" in inside and "path" in inside:
            yield inside
            return
        inside = list(inside.values())
    if isinstance(inside, list):
        for one in inside:
            yield from fields(one)


def leaves(node, path=()):
    """(path, text) of every value; points of curves and lists of names are in the file alone."""
    if node.kind == "text":
        yield list(path), node.text
    for key, value in node.entries:
        yield from leaves(value, (*path, key.text))
    if node.items and all(item.kind == "block" for item in node.items):
        for number, item in enumerate(node.items):
            yield from leaves(item, (*path, number))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_value_of_a_file_is_told_once_and_found_where_it_says(path):
    doc = read(path)
    found = [(one["path"], one["value"]) for one in fields(told(doc))]
    expected = list(leaves(doc.root))
    assert sorted(map(str, found)) == sorted(map(str, expected))
    for where, text in found:
        node, gone = doc.reach(where)
        assert (gone, node.text) == (len(where), text)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_numbers_put_together_again_read_as_before(path):
    for one in fields(told(read(path))):
        if one.get("number") is not None:
            unit = f" {one['unit']}" if one["unit"] else ""
            bound = f"{one['bound']} " if one["bound"] else ""
            assert f"{bound}{one['number']}{unit}{one['tail']}".replace(" ", "") == one["value"].replace(
                " ", ""
            )


def test_sentences_read_as_sentences():
    blocks = {block["id"]: block for block in told(read(Path("examples/dunlin.yaml")))["blocks"]}

    def words(sentence):
        return "".join(piece if isinstance(piece, str) else piece["value"] for piece in sentence)

    assert (
        "It is to reach an orbit of 520 km by 520 km, inclined 97.5 deg, going south, inserted with coast."
        in [words(one) for one in blocks["concept" if "concept" in blocks else "where"]["sentences"]]
    )
    second = blocks["stage-1"]["parts"][0]["sentences"]
    assert words(second[0]).startswith("1 engine; each pushes 240 kN in vacuum")


def test_a_wrong_value_is_told_like_any_other():
    doc = read(Path("examples/dunlin.yaml")).set("stages/first/dry mass", "heavy <b>")
    assert "heavy <b>" in [one["value"] for one in fields(told(doc))]
    assert told(document("- a list", "a.yaml"))["blocks"] == []
    assert told(document("stages: none", "a.yaml"))["blocks"]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_whatever_is_offered_can_be_added_and_is_understood_or_refused_in_words(path):
    doc = read(path)
    places = [[], ["limits"], *([["stages", n]] for n in range(len(doc.root.plain()["stages"])))]
    places = [where[0] if where and isinstance(where[0], list) else where for where in places]
    count = 0
    for where in places:
        for offer in more(doc, where):
            if offer["example"] == "…":
                continue
            made, words = structure.add(doc, "key", offer["path"], "")
            assert words.startswith("added")
            count += 1
            try:
                loads(made.text)
            except Refusal as refusal:  # a key that needs another beside it: told, with what to do
                assert all(one.remedy for one in refusal.complaints)
    assert count > 10


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_stage_more_is_a_concept_that_reads(path):
    doc, words = structure.add(read(path), "stage", [], "")
    stages = loads(doc.text).stages
    assert stages[-1].name in words
    assert len({stage.name for stage in stages}) == len(stages)


def test_requirements_and_claims_are_offered_once_each():
    doc = read(Path("examples/dunlin.yaml"))
    keys = [one["key"] for one in structure.offers(doc, "require")]
    assert "payload fraction" in keys
    assert "most" not in keys  # it is said already
    made, _ = structure.add(doc, "require", [], "payload fraction")
    assert "payload fraction" not in [one["key"] for one in structure.offers(made, "require")]
    with pytest.raises(Refusal, match="one of those offered"):
        structure.add(doc, "require", [], "beauty")
    with pytest.raises(Refusal, match="a key that can be said here"):
        structure.add(doc, "key", ["beauty"], "")


def test_a_field_says_what_it_takes():
    mass = field(["stages", 0, "dry mass"], "7.6 t ± 8 %", "first, dry mass")
    assert (mass["number"], mass["unit"], mass["tail"]) == ("7.6", "t", " ± 8 %")
    assert mass["open"]
    assert mass["spread"]
    assert ["kg", 1.0] in mass["units"]
    asked = field(["require", 0, "lift-off mass"], "at most 120 t", "asked")
    assert (asked["bound"], asked["number"], asked["unit"]) == ("at most", "120", "t")
    assert field(["stages", 0, "propellant", "mass"], "find", "")["found"]
    assert "number" not in field(["stages", 0, "dry mass"], "8 to 10 t", "")
    assert field(["stages", 0, "propellant", "pair"], "LOX/LCH4", "")["kind"] == "choice"


def test_changes_are_told_where_they_show():
    assert change(3421.0, 3403.0, "kg") == "−18\xa0kg"
    assert change(3421.04, 3421.01, "kg") == ""  # both read 3 421 kg
    assert share(200.0, 210.0) == "+5\xa0%"
    assert say(0.3048, "m", "feet and pounds") == "1\xa0ft"  # exact by definition
    assert say(1.3, "", "feet and pounds") == "1.3"
