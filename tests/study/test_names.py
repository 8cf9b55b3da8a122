"""Numbers of a concept by the names people give them, and variants by small changes."""

from pathlib import Path

import pytest

from wetmass.concept import load
from wetmass.concept.names import find, inputs
from wetmass.record.refusal import Refusal
from wetmass.study.beside import differences
from wetmass.study.grid import axis
from wetmass.study.variants import changed, changes_of, variant

EXAMPLES = Path(__file__).parents[2] / "examples"
DUNLIN = load(EXAMPLES / "dunlin.yaml")


@pytest.mark.parametrize(
    ("name", "paths"),
    [
        ("first, dry mass", ["stages/first/dry mass"]),
        ("stages.first.dry_mass", ["stages/first/dry mass"]),
        ("stages/first/dry mass", ["stages/first/dry mass"]),
        ("dry mass of the first stage", ["stages/first/dry mass"]),
        ("second isp", ["stages/second/engines/1/isp/vacuum"]),
        ("first isp", ["stages/first/engines/1/isp/sea level", "stages/first/engines/1/isp/vacuum"]),
        ("vacuum isp of first", ["stages/first/engines/1/isp/vacuum"]),
        ("first engine count", ["stages/first/engines/1/count"]),
        ("orbit height", ["mission/perigee", "mission/apogee"]),
        ("Lift-off mass", ["require/2/lift-off mass"]),
        ("felt acceleration", ["limits/felt acceleration"]),
        ("performance reserve", ["performance reserve"]),
    ],
)
def test_a_name_is_read_as_people_say_it(name, paths):
    assert list(find(DUNLIN, name).paths) == paths


@pytest.mark.parametrize("example", ["dunlin", "godwit", "sanderling", "turnstone"])
def test_every_number_is_found_by_the_name_it_is_listed_under(example):
    concept = load(EXAMPLES / f"{example}.yaml")
    for one in inputs(concept):
        assert set(find(concept, one.words).paths) == set(one.paths), one.words


def test_a_name_that_means_nothing_is_refused_with_the_nearest():
    with pytest.raises(Refusal) as told:
        find(DUNLIN, "first, dri masss")
    assert "first, dry mass" in told.value.accepted


def test_a_name_that_means_two_is_refused_with_both():
    with pytest.raises(Refusal, match=r"2 numbers could mean") as told:
        find(DUNLIN, "isp")
    assert told.value.accepted == "first, isp; second, isp"


def test_figures_that_belong_together_move_by_the_same_amount():
    assert find(DUNLIN, "first isp").written(345.0) == (
        ("stages/first/engines/1/isp/sea level", "313 s"), ("stages/first/engines/1/isp/vacuum", "345 s"),
    )  # fmt: skip


def test_changes_are_made_in_the_text_and_read_anew():
    made = changed(
        DUNLIN,
        changes_of("first, dry mass = 8; second, structural fraction = nothing; second, dry mass = 1.3 t"),
    )
    assert str(made.stages[0].dry_mass) == "8 t"
    assert made.stages[1].structural_fraction is None and made.stages[1].dry_mass.value == 1300.0
    assert "# a guess, and how far it may be off" in made.document.text
    assert changed(DUNLIN, changes_of("lift-off mass = 130 t")).requirements[1].quantity.value == 130e3


def test_a_change_that_makes_no_concept_is_refused():
    with pytest.raises(Refusal, match="a mass"):
        changed(DUNLIN, changes_of("first, dry mass = 8 s"))
    with pytest.raises(Refusal, match=r'write it as in "first, dry mass = 8 t"'):
        changed(DUNLIN, changes_of("first, dry mass"))


def test_a_file_of_changes_makes_a_variant(tmp_path):
    file = tmp_path / "long.yaml"
    file.write_text(
        f"of: {EXAMPLES / 'dunlin.yaml'}\nname: Dunlin, longer burn\nfirst, dry mass: 8 t\n"
        "second:\n  isp: {vacuum: 370 s}\n"
    )
    made = variant(file)
    assert made.name == made.concept.name == "Dunlin, longer burn"
    assert dict(differences([DUNLIN, made.concept])) == {
        "first, dry mass": ("7.6 t ± 8 %", "8 t"), "second, isp, vacuum": ("363 s", "370 s"),
    }  # fmt: skip
    file.write_text("first, dry mass: 8 t\n")
    assert variant(file, DUNLIN).concept.stages[0].dry_mass.value == 8000.0
    with pytest.raises(Refusal, match=r'add "of: dunlin.yaml"'):
        variant(file)


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("first, dry mass = 7 to 8 t in 3", (7000.0, 7500.0, 8000.0)),
        ("first, dry mass = 7, 7.5, 8 t", (7000.0, 7500.0, 8000.0)),
        ("first, dry mass = 7 t or 8 t", (7000.0, 8000.0)),
        ("first, dry mass = 7 or 8", (7000.0, 8000.0)),
        ("second isp = ± 10 % in 3", (326.7, 363.0, 399.3)),
        ("first engine count = 6 to 8", (6.0, 7.0, 8.0)),
    ],
)
def test_values_are_read_as_ranges_lists_and_shares(text, values):
    assert axis(DUNLIN, text).values == pytest.approx(values, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["first, dry mass", "first, dry mass = 8 to 7 t", "first, dry mass = 7 t, 7 t"]
)
def test_values_that_are_no_range_are_refused(text):
    with pytest.raises(Refusal):
        axis(DUNLIN, text)
