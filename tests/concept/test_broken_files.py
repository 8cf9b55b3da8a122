"""Broken copies of examples/dunlin.yaml: each gives the right error, at the right line and column.

Every case is made from the file itself, so the file may be retuned: `old` is found in its text, `new`
put in its place, and the place expected is where `at` stands in the broken copy.
"""

import re
from pathlib import Path

import pytest

from wetmass import concept
from wetmass.record.refusal import Refusal

DUNLIN = (Path(__file__).parents[2] / "examples" / "dunlin.yaml").read_text(encoding="utf-8")
PROPELLANT = re.search(r"propellant: (\{.*?\})", DUNLIN)[1]  # of the first stage
DRY = re.search(r"dry mass: (\S.*?)\s+#", DUNLIN)[1]
FRACTION = re.search(r"structural fraction: (\S+ %)", DUNLIN)[1]
LIFT_OFF_MASS = re.search(r"lift-off mass: at most ([^}]*)", DUNLIN)[1]
RATIO = re.search(r"mixture ratio: ([0-9.]+)", DUNLIN)[1]
PERIGEE = re.search(r"perigee: ([^,]*)", DUNLIN)[1]
ISP = re.search(r"isp: \{sea level: (\d+ s), vacuum: (\d+ s)\}", DUNLIN)
SEA_LEVEL, VACUUM = ISP[1], ISP[2]
CLAIM = re.search(r"- \{(first[^:]*):", DUNLIN)[1]

# what is broken: old, new, where the error stands, its field, and words of got, accepted and remedy
BROKEN = {
    "a mistyped key": (
        f"dry mass: {DRY}",
        f"dry mas: {DRY}",
        "dry mas:",
        "stages / first / dry mas",
        'the key "dry mas"',
        "dry mass",
        'write "dry mass"',
    ),
    "a key said twice": (
        "name: Dunlin",
        "name: Dunlin\nname: Dunlin too",
        "name: Dunlin too",
        "name",
        'the key "name" twice',
        "stands on line 5",
        "keep line 5 or line 6",
    ),
    "a missing block": (
        "mission: {",
        "# mission: {",
        "name: Dunlin",
        "mission",
        "nothing",
        "where to: an orbit, an escape, a destination by name, or a height, which every concept needs",
        'add "mission: {to: low orbit',
    ),
    "no unit": (
        "diameter: 3.1 m\n    dry",
        "diameter: 3.1\n    dry",
        "3.1\n    dry",
        "stages / first / diameter",
        '"3.1"',
        "a length (m, km, ft)",
        'a length unit, such as "3.1 m"',
    ),
    "a wrong dimension": (
        f"dry mass: {DRY}",
        "dry mass: 9.4 m",
        "9.4 m",
        "stages / first / dry mass",
        '"9.4 m", a length (m)',
        "a mass (t, kg, lb)",
        "a mass unit",
    ),
    "a pressure for a pressure times an angle": (
        "kPa·deg",
        "kPa",
        "120 kPa}",
        "limits / q-alpha",
        "a pressure (kPa)",
        "a pressure times an angle (kPa·deg",
        '"120 kPa·deg"',
    ),
    "a slipped decimal": (
        f"mixture ratio: {RATIO}, mass",
        f"mixture ratio: {RATIO.replace('.', '')}, mass",
        f"{RATIO.replace('.', '')}, mass",
        "stages / first / propellant / mixture ratio",
        RATIO.replace(".", ""),
        "for LOX/LCH4",
        f"did you mean {RATIO}?",
    ),
    "a pair the wrong way round": (
        "pair: LOX/LCH4",
        "pair: LCH4/LOX",
        "LCH4/LOX",
        "stages / first / propellant / pair",
        '"LCH4/LOX"',
        "(oxidiser first)",
        'write "LOX/LCH4"',
    ),
    "half an engine": (
        "count: 7",
        "count: 7.5",
        "7.5",
        "stages / first / engines / 1 / count",
        '"7.5"',
        "a whole number from 1 to 200",
        "give a whole number",
    ),
    "impulse at sea level above the one in vacuum": (
        f"sea level: {SEA_LEVEL}, vacuum: {VACUUM}",
        f"sea level: {VACUUM}, vacuum: {SEA_LEVEL}",
        f"{VACUUM}, vacuum",
        "stages / first / engines / 1 / isp / sea level",
        f'"{VACUUM}"',
        f"less than in vacuum, {SEA_LEVEL}",
        "swap",
    ),
    "thrust that does not say where": (
        "thrust: {sea level: 210 kN}",
        "thrust: 210 kN",
        "210 kN",
        "stages / first / engines / 1 / thrust",
        '"210 kN"',
        "at sea level, in vacuum, or both",
        "{sea level: 210 kN}",
    ),
    "a forgotten percent sign": (
        f"structural fraction: {FRACTION}",
        f"structural fraction: {FRACTION[:-2]}",
        f"{FRACTION[:-2]}  ",
        "stages / second / structural fraction",
        f'"{FRACTION[:-2]}"',
        "above 0 and below 1",
        f'did you mean "{FRACTION}"?',
    ),
    "a dry mass said in two ways": (
        f"structural fraction: {FRACTION}",
        f"dry mass: 2 t\n    structural fraction: {FRACTION}",
        f"{FRACTION}    ",
        "stages / second / structural fraction",
        f'"{FRACTION}"',
        "not both",
        "delete one of the two",
    ),
    "a perigee in the air": (
        f"perigee: {PERIGEE}",
        "perigee: 52 km",
        "52 km, apogee",
        "mission / perigee",
        '"52 km"',
        "below 100 km air ends an orbit",
        "check the number",
    ),
    "a perigee above the apogee": (
        f"perigee: {PERIGEE}",
        "perigee: 5200 km",
        "5200 km",
        "mission / perigee",
        '"5200 km"',
        "not above the apogee",
        "swap the two",
    ),
    "two stages of one name": (
        "name: second",
        "name: first",
        "first\n    diameter: 3.1 m\n    structural",
        "stages / first / name",
        '"first"',
        "names that differ",
        "rename one of the two",
    ),
    "a requirement that does not say how it binds": (
        f"lift-off mass: at most {LIFT_OFF_MASS}",
        f"lift-off mass: {LIFT_OFF_MASS}",
        f"{LIFT_OFF_MASS}}}",
        "require / 2 / lift-off mass",
        f'"{LIFT_OFF_MASS}"',
        '"at least", "at most" or "exactly"',
        "say how it binds",
    ),
    "a mistyped requirement": (
        "lift-off mass: at",
        "lift-of mass: at",
        "lift-of mass",
        "require / 2 / lift-of mass",
        '"lift-of mass"',
        "a measure of the vehicle",
        'write "lift-off mass"',
    ),
    "a claim of a stage that is not there": (
        CLAIM,
        CLAIM.replace("first", "third"),
        CLAIM.replace("first", "third"),
        f"claims / 1 / {CLAIM.replace('first', 'third')}",
        "third",
        "a stage of this file before the measure: first, second",
        "burn-out speed",
    ),
    "open values and no objective": (
        "  - {most: payload}",
        "  #",
        "- {lift-off thrust",
        "require",
        "3 open values: payload, stages / first / propellant / mass",
        "an objective",
        "add {most: payload}",
    ),
    "an objective that is not open": (
        "payload: find ",
        "payload: 2 t ",
        "{most: payload}",
        "require / 3",
        '"most payload"',
        "the payload is stated, 2 t",
        'write "payload: find"',
    ),
    "a coast without a second ignition": (
        ", ignitions: 2",
        "",
        "{count: 1, thrust",
        "stages / second / engines / 1 / ignitions",
        '"1"',
        "2 or more",
        'add "ignitions: 2"',
    ),
    "a word that is none of the choices": (
        "shape: cylinder",
        "shape: cylindre",
        "cylindre",
        "stages / first / tanks / 1 / shape",
        '"cylindre"',
        "cylinder | sphere | ellipsoid | torus | frustum | ring",
        'write "cylinder"',
    ),
    "a comma within braces": (
        "start loss: 400 kg",
        "start loss: 12,500 kg",
        "12,500 kg",
        "stages / first / propellant / start loss",
        '"12,500 kg"',
        "no comma in a value within { }",
        'write "12500 kg"',
    ),
    "a look-alike letter": (
        "mass: 600 kg",
        "mass: 600 кg",
        "600 кg",
        "fairing / mass",
        '"600 кg"',
        "a mass",
        "CYRILLIC SMALL LETTER KA",
    ),
    "two numbers for one": (
        "diameter: 3.1 m\n    dry",
        "diameter: 3 m 10 cm\n    dry",
        "3 m 10 cm",
        "stages / first / diameter",
        '"3 m 10 cm"',
        "one number with one unit",
        "add them up",
    ),
    "an empty value": (
        "payload: find",
        "payload:",
        "payload:",
        "payload",
        "nothing",
        "a mass (t, kg, lb)",
        'or "find"',
    ),
    "a tab": (
        "payload: find",
        "\tpayload: find",
        "\tpayload",
        "YAML",
        "a tab",
        "spaces for indents",
        "replace the tab by spaces",
    ),
    "a brace that is not closed": (
        "headings: 0 to 200 deg}",
        "headings: 0 to 200 deg",
        ": {perigee",
        "YAML",
        "a block that is not closed",
        "entries between { and }",
        "close the }",
    ),
    "a second colon": (
        "story: Two",
        "story: note: two",
        ": two",
        "YAML",
        "a second colon",
        "one key with one value on a line",
        "put quotes round a text",
    ),
}


@pytest.mark.parametrize("what", BROKEN)
def test_each_broken_copy_gives_the_right_error_at_its_place(what):
    old, new, at, field, got, accepted, remedy = BROKEN[what]
    assert old in DUNLIN, "the example no longer has what this case breaks"
    broken = DUNLIN.replace(old, new, 1)
    # the first place at or after the change, unless it is an earlier line that is at fault
    start = broken.find(at, DUNLIN.index(old))
    before = broken[: start if start >= 0 else broken.index(at)]
    place = (before.count("\n") + 1, len(before) - before.rfind("\n"))
    with pytest.raises(Refusal) as refused:
        concept.loads(broken, "dunlin.yaml")
    assert len(refused.value.complaints) == 1, str(refused.value)
    one = refused.value.complaints[0]
    assert (one.place.file, one.place.line, one.place.column) == ("dunlin.yaml", *place)
    assert one.field == field
    assert got in one.got
    assert accepted in one.accepted
    assert remedy in one.remedy
    # one screen of 100 columns and 24 lines holds it
    assert len(str(one)) < 100 * 12


def test_all_errors_of_a_file_come_at_once_in_its_order():
    broken = DUNLIN
    for what in ("a mistyped key", "a slipped decimal", "half an engine", "a mistyped requirement",
                 "a pressure for a pressure times an angle", "a claim of a stage that is not there",
                 "a key said twice", "a dry mass said in two ways"):  # fmt: skip
        old, new = BROKEN[what][:2]
        broken = broken.replace(old, new, 1)
    with pytest.raises(Refusal) as refused:
        concept.loads(broken, "dunlin.yaml")
    assert [one.field for one in refused.value.complaints] == [
        "name",
        "stages / first / dry mas",
        "stages / first / propellant / mixture ratio",
        "stages / first / engines / 1 / count",
        "stages / second / structural fraction",
        "require / 2 / lift-of mass",
        "limits / q-alpha",
        BROKEN["a claim of a stage that is not there"][3],
    ]
    lines = [one.place.line for one in refused.value.complaints]
    assert lines == sorted(lines)


def test_a_mistyped_key_does_not_also_count_as_missing():
    with pytest.raises(Refusal) as refused:
        concept.loads(DUNLIN.replace("mission:", "misson:"), "dunlin.yaml")
    assert [one.field for one in refused.value.complaints] == ["misson"]


def test_an_error_is_one_line_in_the_form_that_editors_jump_to():
    with pytest.raises(Refusal) as refused:
        concept.loads(DUNLIN.replace("count: 7", "count: 0"), "dunlin.yaml")
    form = r"dunlin\.yaml:\d+:\d+: stages / first / engines / 1 / count: got .* ; accepted .* ; do .*"
    assert re.fullmatch(form, str(refused.value))


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (
            "  - {lift-off mass",
            "  - {lift-off thrust to weight: at most 1.2}\n  - {lift-off mass",
            "a bound that fits",
        ),
        (
            "  - {lift-off mass",
            "  - {lift-off thrust to weight: at least 1.2}\n  - {lift-off mass",
            "each bound once",
        ),
        ("  - {most: payload}", "  - {most: payload}\n  - {least: lift-off mass}", "one objective"),
        ("{most: payload}", "{most: lift-off mass}", "{most: payload} or {least: lift-off mass}"),
        (
            "{most: payload}",
            "{first thrust to weight: exactly 1.4}\n  - {first delta-v: exactly 3 km/s}\n"
            "  - {payload: exactly 2 t}\n  - {ideal delta-v: exactly 9 km/s}",
            "at most as many exact requirements",
        ),
        ("{most: payload}", "{greatest dynamic pressure: at most 30 kPa}", "put it under limits"),
        ("{most: payload}", "{thrust to weight: at least 1.1}", 'write "first thrust to weight"'),
        ("{most: payload}", "{payload fraction: at least 2}", "a fraction between 0 and 1"),
        ("{most: payload}", "most payload", "one requirement an entry"),
        ("count: 7", "count: 200 ± 1", "a whole number"),
        ("headings: 0 to 200 deg", "headings: 300 to 20 deg", '"-60 to 20 deg" if it goes through north'),
        ("headings: 0 to 200 deg", "headings: 200 deg", "two ends"),
        ("latitude: 14.2 deg N", "latitude: 142 deg N", "-90 deg to 90 deg"),
        ("longitude: 40 deg W", "longitude: 40 deg N", '"40 deg W"'),
        ("drop", "drop", None),
        ("mass: 600 kg", "mass: 600 kg, drop height: 100 km, drop time: 3 min", "one rule for the drop"),
        ("residuals: 0.6 %", "residuals: 60 %", "at most 20 % of the propellant"),
        ("residuals: 0.6 %", "residuals: 0.6", 'did you mean "0.6 %"?'),
        ("mixture ratio: 3.4, mass: find, residuals: 0.6 %", "mass: find", "usual: 3.2 to 3.8"),
        ("pair: LOX/LCH4", "pair: solid", "no mixture ratio"),
        ("mass: find, residuals: 0.6", "mass: find between 1 and 2 t, residuals: 0.6", '"find from A to B"'),
        (
            "mass: find, residuals: 0.6",
            "mass: find from 90 to 60 t, residuals: 0.6",
            "a range from less to more",
        ),
        ("mass: find, residuals: 0.6", "mass: find from 60 to 90, residuals: 0.6", "a mass unit"),
        (f"dry mass: {DRY}", "dry mass: find", "find only beside a structural fraction"),
        (f"dry mass: {DRY}", "", "a dry mass or a structural fraction"),
        (f"dry mass: {DRY}", f"dry mass: {DRY}\n    count: 2", "strapped to another"),
        (f"dry mass: {DRY}", f"dry mass: {DRY}\n    strapped to: secnd", 'did you mean "second"?'),
        ("holds: LOX", "holds: RP-1", "a part of LOX/LCH4"),
        (", exit diameter: 1.6 m", ", exit diameter: 1.6 m, exit area: 2 m²", "not both"),
        (", exit diameter: 1.6 m", ", bypass ratio: 5", "only with kind: turbofan"),
        (
            "thrust: {vacuum: 240 kN}, isp: {vacuum: 363 s}, exit diameter: 1.6 m",
            "thrust: {vacuum: 240 kN}, isp: {sea level: 300 s}",
            "an exit area",
        ),
        (
            "{sea level: 210 kN}, isp: {sea level: 309 s, ",
            "{vacuum: 210 kN}, isp: {",
            "this engine is lit on the ground",
        ),
        ("performance reserve: 80 m/s ", "performance reserve: 80 s ", "a time (s)"),
        ("{felt acceleration: 4.5 g", "{felt acceleration: 4.5 g ± 5 %", "a spread has no meaning here"),
        ("felt acceleration: 4.5 g", "felt acceleration: 0.5 g", "a vehicle on its pad feels 1 g"),
        ("name: Dunlin", "name: 12", "at least one letter"),
        ("going: south", "going: down", "north | south"),
        ("shares bulkhead: true", "shares bulkhead: maybe", "yes or no"),
        ("limits: {", "drag: {", 'the key "drag"'),
        ("    pause before ignition: 4 s", "    drag: {curve: [[0, 0.3], [0.9, 0.4]]}", "at least 4 points"),
        (
            "    pause before ignition: 4 s",
            "    drag: {curve: [[0, 0.3], [2, 0.4], [1, 0.3], [5, 0.2]]}",
            "sort the points",
        ),
        ("    pause before ignition: 4 s", "    drag: {curve: typcal}", 'write "typical"'),
    ],
)
def test_what_cannot_be_meant_is_refused(old, new, words):
    assert old in DUNLIN
    if words is None:
        concept.loads(DUNLIN.replace(old, new, 1))
        return
    with pytest.raises(Refusal) as refused:
        concept.loads(DUNLIN.replace(old, new, 1), "dunlin.yaml")
    assert words in str(refused.value)
