"""Refusals that no other test asks for: each wrong value once, and the words it is answered with."""

import re

import pytest

from wetmass.concept import loads
from wetmass.concept.tank_shapes import shape_of
from wetmass.physics import engines, staging
from wetmass.physics.earth import geodetic
from wetmass.physics.tanks import inverse
from wetmass.record.refusal import Refusal

TEXT = """
name: Sketch
story: A sketch.
site: {latitude: 14 deg N, longitude: 40 deg W}
mission: {perigee: 300 km, apogee: 300 km}
payload: find
stages:
  - name: first
    diameter: 2 m
    dry mass: 3 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.5, mass: 40 t}
    drag: {curve: [[0, 0.3], [0.8, 0.35], [1.1, 0.6], [3, 0.3]]}
    engines: [{count: 3, thrust: {sea level: 220 kN}, isp: {sea level: 270 s, vacuum: 300 s}}]
  - name: second
    diameter: 2 m
    dry mass: 700 kg
    propellant: {pair: LOX/RP-1, mixture ratio: 2.5, mass: 8 t}
    engines: [{thrust: {vacuum: 120 kN}, isp: {vacuum: 340 s}}]
  - name: sides
    strapped to: first
    count: 2
    diameter: 1 m
    dry mass: 1 t
    propellant: {pair: solid, mass: 9 t}
    engines: [{kind: solid, thrust: {vacuum: 300 kN}, isp: {sea level: 240 s, vacuum: 270 s}}]
"""

TRACE = "trace: [[0 s, 0], [1 s, 1], [30 s, 0]]"
SOLID = "engines: [{kind: solid, thrust: {vacuum: 300 kN}, isp: {sea level: 240 s, vacuum: 270 s}}]"
REFUSED = {
    "thrust that the air helps": ("{sea level: 220 kN}", "{sea level: 220 kN, vacuum: 210 kN}", "pushes back on the nozzle"),
    "thrust known at one place alone": (
        "thrust: {sea level: 220 kN}, isp: {sea level: 270 s, vacuum: 300 s}",
        "thrust: {sea level: 220 kN}, isp: {vacuum: 300 s}", "give thrust at every height",
    ),
    "no engines": ("engines: [{thrust: {vacuum: 120 kN}, isp: {vacuum: 340 s}}]", "engines: []", "at least one group of engines"),
    "a drag point with a unit of its own": ("[0.8, 0.35]", "[0.8 km, 0.35]", "a pure number"),
    "a count with bounds outside": ("count: 3", "count: find from 0 to 9", "keep the bounds between 1 and 200"),
    "a count with bounds turned round": ("count: 3", "count: find from 9 to 5", "bounds from less to more"),
    "a count that is half found": ("count: 3", "count: find some", "find from 5 to 9"),
    "bounds that leave no room": ("payload: find", "payload: find from 2 t to 2 t", "bounds that leave room"),
    "a story that never ends": ("story: A sketch.", "story: " + "word " * 500, "shorten it, it has"),
    "a value that is a list": ("diameter: 2 m\n    dry mass: 700", "diameter: [2 m]\n    dry mass: 700", "a list"),
    "strapped to nothing": ("strapped to: first", "strapped to: third", "a stage of this file: first, second"),
    "strap-ons that stop early": ("engines: [{kind: solid,", "engines: [{kind: solid, stops above: 9 km,", "not flown yet"),
    "a trace for one group of two": (SOLID, SOLID.replace("]", f", {{kind: solid, {TRACE}, thrust: {{vacuum: 300 kN}}, isp: {{sea level: 240 s, vacuum: 270 s}}}}]"), "a trace for every group of the stage|thrust trace for every group"),
    "two traces on strap-ons": (
        SOLID,
        f"engines: [{{kind: solid, {TRACE}, thrust: {{vacuum: 300 kN}}, isp: {{sea level: 240 s, vacuum: 270 s}}}}, "
        f"{{kind: solid, {TRACE}, thrust: {{vacuum: 300 kN}}, isp: {{sea level: 240 s, vacuum: 270 s}}}}]",
        "one group with a trace",
    ),
    "an exact value of whole counts alone": (
        "payload: find\n", "payload: 1 t\nrequire: [{lift-off thrust to weight: exactly 1.3}]\n", "whole engine counts never meet",
    ),
    "an objective with nothing open": (
        "payload: find\n", "payload: 1 t\nrequire: [{least: lift-off mass}]\n", "an objective only where a value is open",
    ),
    "a mass ratio below one": (
        "payload: find\n", "payload: find\nrequire: [{first mass ratio: at least 0.5}]\n", "a mass ratio above 1",
    ),
    "a fraction above one": (
        "payload: find\n", "payload: find\nrequire: [{payload fraction: at least 1.5}]\n", "between 0 and 1",
    ),
    "nothing at least": ("payload: find\n", "payload: find\nrequire: [{lift-off mass: at least 0 t}]\n", "above zero"),
    "a requirement without words": ("payload: find\n", "payload: find\nrequire: [{lift-off mass: 90 t}]\n", "at least"),
    "a claim that is a list": ("payload: find\n", "payload: find\nclaims: [{lift-off mass: [90 t]}]\n", "give it as in"),
    "two rules for lighting by place": (
        "engines: [{thrust: {vacuum: 120", "engines: [{lit above: 90 km, lit above mach: 2, thrust: {vacuum: 120", "keep one of the two",
    ),
    "too much extra fuel": ("mass: 8 t", "mass: 8 t, extra fuel: 3 t", "at most 20 % of the propellant"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_each_is_refused_with_what_to_do(case):
    old, new, words = REFUSED[case]
    assert old in TEXT
    text = TEXT.replace(old, new, 1)
    if case == "an exact value of whole counts alone":
        text = text.replace("count: 3", "count: find")
    with pytest.raises(Refusal) as refusal:
        loads(text)
    told = " ".join(f"{c.field} {c.got} {c.accepted} {c.remedy}" for c in refusal.value.complaints)
    assert re.search(words, told), told
    assert all(c.remedy for c in refusal.value.complaints)


def test_a_concept_without_stages_and_one_of_strap_ons_alone():
    head = TEXT[: TEXT.index("stages:")]
    with pytest.raises(Refusal, match="at least one stage"):
        loads(head + "stages: []\n")
    sides = TEXT[TEXT.index("  - name: sides") :].replace("strapped to: first", "strapped to: others")
    others = sides.replace("name: sides", "name: others").replace("strapped to: others", "strapped to: sides")
    with pytest.raises(Refusal, match="not strapped to another"):
        loads(head + "stages:\n" + sides + others)


def test_strap_ons_hang_on_a_stage_that_does_not_hang_itself():
    with pytest.raises(Refusal, match="not strapped to another: first, second"):
        loads(
            TEXT
            + TEXT[TEXT.index("  - name: sides") :]
            .replace("name: sides", "name: more")
            .replace("to: first", "to: sides")
        )


def _tank(**sizes):
    from wetmass.concept.model import Tank

    return shape_of(Tank.model_validate({"holds": "LOX", **sizes}), 3.0)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: _tank(shape="sphere", diameter="2 m").holding(1.0), "every size is stated"),
        (lambda: _tank(shape="sphere").holding(0.0), "volume must be above 0 m³"),
        (lambda: engines.exit_area(1e5, 2e5), "sea_level_thrust must not be above vacuum_thrust"),
        (lambda: staging.best_split(5000.0, [3000.0], [0.1, 0.1]), "must have one entry for each stage"),
        (lambda: inverse.annulus_length(1.0, 2.0, 2.0), "inner_diameter must be below outer_diameter"),
        (lambda: inverse.flat_dome_area(1.0, 1.0), "height must be below the radius"),
        (lambda: geodetic(1.0, 0.0, 0.0), "must be more than 1000 km from the Earth's centre"),
    ],
)
def test_refusals_of_the_physics_say_what_is_wrong(call, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        call()
