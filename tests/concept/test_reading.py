"""Dunlin is read as it says, its places are known, and a saved file keeps every byte that was not changed."""

import json
import math
import pickle
import re
import subprocess
import sys
from pathlib import Path

import pytest

from wetmass import concept
from wetmass.concept.find import Find
from wetmass.concept.measures import Measure, Relation
from wetmass.record.refusal import Refusal

FILE = Path(__file__).parents[2] / "examples" / "dunlin.yaml"
DUNLIN = FILE.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def dunlin():
    return concept.load(FILE)


# ── what is read ─────────────────────────────────────────────────────────────────────────────────


def test_dunlin_is_read_as_it_is_written(dunlin):
    assert dunlin.name == "Dunlin"
    assert dunlin.site.latitude.value == pytest.approx(math.radians(14.2))
    assert dunlin.site.longitude.value == pytest.approx(-math.radians(40.0))
    assert dunlin.site.headings.high.value == pytest.approx(math.radians(200.0))
    assert dunlin.mission.perigee.value == 520e3
    assert dunlin.mission.going == "south"
    assert isinstance(dunlin.payload, Find)
    first, second = dunlin.stages
    assert first.engines[0].count == 7
    assert first.engines[0].thrust.sea_level.value == 210e3
    assert first.engines[0].isp.vacuum.value == 341.0
    assert first.propellant.pair == "LOX/LCH4"
    assert first.dry_mass.spread.low == pytest.approx(first.dry_mass.value * 0.92)
    assert isinstance(second.dry_mass, Find) and second.structural_fraction is not None
    assert [tank.shares_bulkhead for tank in first.tanks] == [False, True]
    assert dunlin.limits.q_alpha.value == pytest.approx(120e3 * math.pi / 180)
    assert dunlin.limits.felt_acceleration.value == pytest.approx(4.5 * 9.80665)


def test_requirements_objective_and_claims_become_records(dunlin):
    weight, mass = dunlin.requirements
    assert (weight.measure, weight.stage, weight.relation) == (
        Measure.LIFT_OFF_THRUST_TO_WEIGHT, "", Relation.AT_LEAST,
    )  # fmt: skip
    assert weight.quantity.value == pytest.approx(1.30)
    assert (mass.measure, mass.relation) == (Measure.LIFT_OFF_MASS, Relation.AT_MOST)
    assert (dunlin.objective.sense, dunlin.objective.measure) == ("most", Measure.PAYLOAD)
    assert (dunlin.claims[0].measure, dunlin.claims[0].stage) == (Measure.BURN_OUT_SPEED, "first")


def test_open_values_are_listed_with_what_settles_them(dunlin):
    assert [(one.path, one.what, one.settled) for one in dunlin.open_values()] == [
        ("payload", "payload", False),
        ("stages/first/propellant/mass", "propellant mass", False),
        ("stages/second/dry mass", "dry mass", True),
        ("stages/second/propellant/mass", "propellant mass", False),
    ]


def test_what_is_stated_without_effect_yet_is_listed_never_dropped(dunlin):
    waiting = dict(dunlin.not_yet_computed())
    assert set(waiting) == {"stages/first/dry mass"}
    more = DUNLIN.replace("mass: 600 kg, diameter", "mass: 600 kg ± 5 %, diameter")
    paths = [path for path, _ in concept.loads(more).not_yet_computed()]
    assert "fairing/mass" in paths


def test_a_fairing_without_a_rule_drops_by_the_common_heating(dunlin):
    assert dunlin.fairing.drop_heating.value == 1135.0
    timed = concept.loads(DUNLIN.replace("mass: 600 kg", "mass: 600 kg, drop time: 3 min"))
    assert timed.fairing.drop_heating is None and timed.fairing.drop_time.value == 180.0


def test_open_values_may_carry_bounds():
    bounded = concept.loads(
        DUNLIN.replace("mass: find, residuals: 0.6", "mass: find from 60 to 120 t, residuals: 0.6")
    )
    assert (bounded.stages[0].propellant.mass.low, bounded.stages[0].propellant.mass.high) == (60e3, 120e3)
    counted = concept.loads(DUNLIN.replace("count: 7", "count: find from 5 to 9"))
    assert (counted.stages[0].engines[0].count.low, counted.stages[0].engines[0].count.high) == (5.0, 9.0)


def test_words_of_yaml_1_1_are_only_text():
    # in YAML 1.1 `no` is false, 1:30 is 90 and 012 is 10; here each is what the field makes of it
    assert concept.loads(DUNLIN.replace("name: Dunlin", "name: no")).name == "no"
    assert concept.loads(DUNLIN.replace("count: 7", "count: 012")).stages[0].engines[0].count == 12
    with pytest.raises(Refusal):
        concept.loads(DUNLIN.replace("count: 7", "count: 1:30"))


def test_a_concept_with_strap_ons_and_groups_can_be_said():
    text = DUNLIN.replace(
        "stages:  ",
        "also dropped: [{name: tower, mass: 3 t, after ignition of: second, time: 20 s}]\nstages:  ",
    ).replace(
        "\nperformance reserve",
        """
  - name: booster
    diameter: 2 m
    dry mass: 4 t (3.5 to 5 t)
    count: 2
    strapped to: first
    crossfeed: no
    propellant: {pair: solid, mass: 30 to 34 t}
    engines: [{thrust: {vacuum: 900 kN}, isp: {vacuum: 275 s}, exit diameter: 1.1 m, stops after: 90 s}]
    drag: {diameter: 2 m, curve: [[0, 0.3], [0.9, 0.35], [1.2, 0.6], [5, 0.25]]}

performance reserve""",
    )
    read = concept.loads(text)
    booster = read.stages[2]
    assert booster.strapped_to == "first" and booster.count == 2
    assert booster.dry_mass.spread.kind == "likely"
    assert booster.propellant.mass.value == 32e3
    assert booster.drag.curve == ((0.0, 0.3), (0.9, 0.35), (1.2, 0.6), (5.0, 0.25))
    assert read.also_dropped[0].after_ignition_of == "second"
    assert "stages/booster/strapped to" not in dict(read.not_yet_computed())  # it is flown
    assert "stages/booster/propellant/mass" in dict(read.not_yet_computed())  # its spread


def test_a_concept_travels_to_another_process_and_into_json(dunlin):
    copy = pickle.loads(pickle.dumps(dunlin))
    assert copy == dunlin
    assert copy.place("stages/first/dry mass") == dunlin.place("stages/first/dry mass")
    written = json.loads(dunlin.model_dump_json(by_alias=True))
    assert written["stages"][0]["engines"][0]["thrust"]["sea level"]["value"] == 210e3


def test_the_records_are_frozen(dunlin):
    with pytest.raises(Exception, match="frozen"):
        dunlin.stages[0].name = "other"


# ── places ───────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("path", "at"),
    [
        ("name", "Dunlin\nstory"),
        ("stages/first/dry mass", re.search(r"dry mass: (\S.*)", DUNLIN)[1]),
        ("stages/1/dry mass", re.search(r"dry mass: (\S.*)", DUNLIN)[1]),
        ("stages/second/engines/1/isp/vacuum", re.search(r"isp: \{vacuum: (.*)", DUNLIN)[1]),
        ("limits/q-alpha", "120 kPa·deg"),
        ("limits/heating", "{felt acceleration"),  # not said: its block
    ],
)
def test_every_field_knows_its_place(dunlin, path, at):
    before = DUNLIN[: DUNLIN.index(at)]
    place = dunlin.place(path)
    assert (place.line, place.column) == (before.count("\n") + 1, len(before) - before.rfind("\n"))


# ── round trip ───────────────────────────────────────────────────────────────────────────────────


def test_what_is_loaded_is_saved_byte_for_byte(dunlin, tmp_path):
    concept.save(dunlin, tmp_path / "copy.yaml")
    assert (tmp_path / "copy.yaml").read_bytes() == FILE.read_bytes()
    assert list(tmp_path.iterdir()) == [tmp_path / "copy.yaml"]  # nothing left beside it


def test_windows_line_ends_and_a_byte_order_mark_are_kept(tmp_path):
    data = b"\xef\xbb\xbf" + DUNLIN.replace("\n", "\r\n").encode()
    (tmp_path / "a.yaml").write_bytes(data)
    read = concept.load(tmp_path / "a.yaml")
    assert read.place("stages/first/dry mass").line == DUNLIN[: DUNLIN.index("dry mass: 7")].count("\n") + 1
    concept.save(read, tmp_path / "b.yaml")
    assert (tmp_path / "b.yaml").read_bytes() == data
    changed = read.document.set("stages/first/dry mass", "8 t").set("stages/first/length", "20 m")
    concept.save(changed, tmp_path / "c.yaml")
    written = (tmp_path / "c.yaml").read_bytes()
    assert written.count(b"\n") == written.count(b"\r\n")
    assert concept.load(tmp_path / "c.yaml").stages[0].length.value == 20.0


def test_one_value_is_changed_and_the_rest_stays(dunlin):
    typed = re.search(r"dry mass: (\S.*?) +#", DUNLIN)[1]
    changed = dunlin.document.set("stages/first/dry mass", "9,400 kg ± 5 %")
    assert changed.text == DUNLIN.replace(typed, "9,400 kg ± 5 %", 1)
    read = concept.loads(changed.text)
    assert read.stages[0].dry_mass.value == 9400.0
    assert dunlin.document.text == DUNLIN  # the old document is untouched


def test_a_value_within_braces_is_quoted_where_it_must_be(dunlin):
    changed = dunlin.document.set("stages/first/propellant/start loss", "1,400 kg")
    assert 'start loss: "1,400 kg"' in changed.text
    assert concept.loads(changed.text).stages[0].propellant.start_loss.value == 1400.0


@pytest.mark.parametrize(
    "value", ["a: b", "# no comment", "- x", "it's", 'say "hi"', "a\\b", "é — ü", "*a", "[x", "yes "]
)
def test_any_text_survives_being_set_and_read(dunlin, value):
    changed = dunlin.document.set("story", value)
    assert changed.get("story") == value
    assert concept.loads(changed.text).story == " ".join(value.split())


def test_a_value_that_was_not_there_is_added_to_its_block(dunlin):
    in_braces = dunlin.document.set("limits/heating", "1135 W/m²")
    assert concept.loads(in_braces.text).limits.heating.value == 1135.0
    in_lines = dunlin.document.set("stages/second/length", "6 m")
    assert concept.loads(in_lines.text).stages[1].length.value == 6.0
    at_the_root = dunlin.document.set("story", "short").set("fairing/drop time", "3 min")
    assert concept.loads(at_the_root.text).fairing.drop_time.value == 180.0
    added = in_lines.text.splitlines()
    assert [line for line in added if line not in DUNLIN.splitlines()] == ["    length: 6 m"]


def test_an_empty_value_is_filled(dunlin):
    emptied = concept.loads(DUNLIN).document.set("payload", "find")
    text = emptied.text.replace("payload: find", "payload:", 1)
    from wetmass.concept.document import document

    filled = document(text, "x").set("payload", "2 t")
    assert filled.get("payload") == "2 t"
    assert filled.text == DUNLIN.replace("payload: find", "payload: 2 t", 1)


def test_a_wrong_path_is_refused(dunlin):
    with pytest.raises(Refusal, match="name a single value"):
        dunlin.document.set("stages/first", "x")
    with pytest.raises(Refusal, match="name a single value"):
        dunlin.document.set("stages/third/dry mass", "x")


def test_a_place_that_cannot_be_written_is_refused(dunlin, tmp_path):
    with pytest.raises(Refusal, match="choose another place"):
        concept.save(dunlin, tmp_path / "no such folder" / "a.yaml")


# ── start ────────────────────────────────────────────────────────────────────────────────────────


def test_nothing_heavy_is_imported_to_read_a_file():
    code = (
        "import sys; from wetmass import concept; assert 'pydantic' not in sys.modules; "
        f"concept.load({str(FILE)!r}); "
        "print([name for name in ('pint', 'numpy', 'numba', 'casadi', 'rich') if name in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
