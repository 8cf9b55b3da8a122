"""Engines said by their chamber, and mixture ratios by volume: what they become, and what is refused."""

import sys

import pytest

from wetmass.concept import loads
from wetmass.findings import chambers
from wetmass.physics.chemistry import best_engine
from wetmass.physics.propellants import density
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.refusal import Refusal
from wetmass.vehicle import Assembly
from wetmass.vehicle.chamber import chamber_steps

TEXT = """
name: Sketch
site: {latitude: 14 deg N, longitude: 40 deg W}
mission: {perigee: 300 km, apogee: 300 km}
payload: 1 t
stages:
  - name: only
    diameter: 2 m
    dry mass: 3 t
    propellant: {pair: LOX/RP-1, mixture ratio: 2.4, mass: 40 t}
    engines: [{name: motor, count: 3, thrust: {sea level: 220 kN}, chamber pressure: 8 MPa, area ratio: 16, efficiency: 94 %}]
"""


def made(text=TEXT):
    concept = loads(text)
    return concept, Assembly(concept).vehicle({}).stages[0]


def test_figures_follow_from_chamber_and_nozzle():
    _, stage = made()
    group, ideal = stage.engines[0], best_engine("LOX/RP-1", 8e6, 2.4, 16.0, 0.94)
    assert group.vacuum_isp == pytest.approx(ideal.vacuum_speed / STANDARD_GRAVITY, rel=1e-12)
    assert group.thrust(101_325.0) == pytest.approx(3 * 220e3, rel=1e-12)  # as stated
    one = 220e3 / (ideal.speed_in_air(101_325.0))
    assert group.flow == pytest.approx(3 * one, rel=1e-12)
    throat = one * ideal.characteristic_speed / 8e6
    assert group.exit_area == pytest.approx(16.0 * throat, rel=1e-12)


def test_a_gas_generator_kerosene_engine_comes_out_near_the_one_that_flew():
    # F-1: 7.0 MPa, 16 : 1, mixture ratio 2.27, 263 s at sea level and 304 s in vacuum (NASA figures, from
    #   memory, as in wetmass.physics.stages_flown): the efficiency that meets vacuum must meet sea level, too
    text = TEXT.replace("ratio: 2.4", "ratio: 2.27").replace("8 MPa", "7.0 MPa")
    ideal = best_engine("LOX/RP-1", 7.0e6, 2.27, 16.0, 1.0)
    share = 304.0 * STANDARD_GRAVITY / ideal.vacuum_speed
    _, stage = made(text.replace("94 %", f"{100 * share:.4f} %"))
    group = stage.engines[0]
    at_sea = group.thrust(101_325.0) / (group.flow * STANDARD_GRAVITY)
    assert group.vacuum_isp == pytest.approx(304.0, rel=1e-4)
    assert at_sea == pytest.approx(263.0, rel=0.02)  # figures rounded to a second, ideal throat flow


def test_thrust_may_be_stated_in_vacuum_and_scaled():
    _, stage = made(TEXT.replace("sea level: 220", "vacuum: 250").replace("count: 3", "count: 3, scale: 1.5"))
    assert stage.engines[0].vacuum_thrust == pytest.approx(375e3, rel=1e-12)


def test_without_an_efficiency_the_usual_one_is_taken_and_said():
    concept = loads(TEXT.replace(", efficiency: 94 %", ""))
    assembly = Assembly(concept)
    assert assembly.vehicle({}).stages[0].vacuum_isp == pytest.approx(
        0.95 * best_engine("LOX/RP-1", 8e6, 2.4, 16.0, 1.0).vacuum_speed / STANDARD_GRAVITY
    )
    assert any("95\u00a0% of the ideal exhaust speed" in line for line in assembly.assumed)


def test_the_steps_lead_from_the_chamber_to_the_engine():
    concept, stage = made()
    steps = {step.words: step for step in chamber_steps(concept.stages[0], stage, True)}
    assert steps["specific impulse of the motor in vacuum"].result == pytest.approx(stage.vacuum_isp)
    assert steps["exit of one of the motor"].result == pytest.approx(stage.engines[0].exit_area)
    assert "Cantera" in steps["ideal characteristic speed of the motor"].source
    assert "specific impulse of the motor at sea level" not in {
        step.words for step in chamber_steps(concept.stages[0], stage, False)
    }


def test_the_finding_says_which_chemistry_was_used(monkeypatch):
    concept, _ = made()
    told = next(iter(chambers.from_chamber(concept, None)))
    assert "computed with Cantera" in told.got
    monkeypatch.setitem(sys.modules, "cantera", None)  # as if it were not installed
    told = next(iter(chambers.from_chamber(concept, None)))
    assert told.got.endswith("by the table")
    assert "interpolated in a table" in told.source


def test_flow_that_leaves_the_wall_at_sea_level_is_told_and_a_narrow_nozzle_is_not():
    wide = loads(TEXT.replace("area ratio: 16", "area ratio: 60"))
    told = list(chambers.flow_separates(wide, None))
    assert len(told) == 1
    assert "leaves the wall" in told[0].got
    assert "altitude-adapting" in told[0].remedy
    assert not list(chambers.flow_separates(loads(TEXT), None))


def test_flow_is_judged_from_stated_figures_and_a_chamber_pressure_alike():
    # 304 s and 263 s by stated figures with their chamber pressure: 16 : 1 at 7 MPa flows full
    stated = "isp: {sea level: 263 s, vacuum: 304 s}, chamber pressure: 7 MPa"
    text = TEXT.replace("chamber pressure: 8 MPa, area ratio: 16, efficiency: 94 %", stated)
    assert not list(chambers.flow_separates(loads(text), None))
    wide = loads(text.replace("{sea level: 263 s, vacuum: 304 s}", "{sea level: 190 s, vacuum: 310 s}"))
    assert list(chambers.flow_separates(wide, None))  # so much lost to the air: a very wide exit


# ── mixture ratio by volume ──────────────────────────────────────────────────────────────────────


def test_a_ratio_by_volume_is_converted_by_the_densities_as_loaded():
    text = TEXT.replace("mixture ratio: 2.4", "mixture ratio by volume: 1.7")
    _, stage = made(text)
    assert stage.propellant.mixture_ratio == pytest.approx(1.7 * density("LOX") / density("RP-1"), rel=1e-12)
    cold = text + "    tanks: [{holds: LOX, shape: cylinder, at: 66 K}, {holds: RP-1, shape: cylinder}]\n"
    _, chilled = made(cold)
    ratio = 1.7 * density("LOX", 66.0) / density("RP-1")
    assert chilled.propellant.mixture_ratio == pytest.approx(ratio, rel=1e-12)
    assert chilled.propellant.mixture_ratio > stage.propellant.mixture_ratio


def test_the_conversion_is_a_step_of_the_working():
    import wetmass

    text = TEXT.replace("mixture ratio: 2.4", "mixture ratio by volume: 1.7").replace(
        "payload: 1 t", "payload: find"
    )
    closed = wetmass.fly(loads(text))
    step = next(s for s in closed.steps if s.words == "mixture ratio by mass")
    assert step.result == pytest.approx(1.7 * density("LOX") / density("RP-1"), rel=1e-12)
    tank = next(t for t in closed.geometry.stages[0].tanks if t.holds == "LOX")
    other = next(t for t in closed.geometry.stages[0].tanks if t.holds == "RP-1")
    liquid = [t.mass / t.density for t in (tank, other)]
    assert liquid[0] / liquid[1] == pytest.approx(1.7, rel=1e-9)  # the volumes are as was said


REFUSED = {
    "isp beside an area ratio": ("area ratio: 16", "isp: {vacuum: 300 s}, area ratio: 16", "it follows from the chamber"),
    "an exit beside an area ratio": ("area ratio: 16", "exit diameter: 1 m, area ratio: 16", "it follows from the chamber"),
    "two thrusts": ("sea level: 220 kN", "sea level: 220 kN, vacuum: 250 kN", "the other follows from the chamber"),
    "no chamber pressure": ("chamber pressure: 8 MPa, ", "", "which an engine with an area ratio needs"),
    "an efficiency alone": (
        "chamber pressure: 8 MPa, area ratio: 16", "isp: {sea level: 263 s, vacuum: 304 s}", "only with an area ratio"
    ),
    "a solid from a chamber": ("name: motor", "name: motor, kind: solid", "only with kind: rocket"),
    "a narrow nozzle": ("area ratio: 16", "area ratio: 2", "4 to 400"),
    "an efficiency above one": ("94 %", "104 %", "50 % to 100 %"),
    "a low chamber pressure": ("8 MPa", "500 kPa", "chamber pressure must lie between"),
    "a ratio beyond the table": ("ratio: 2.4", "ratio: 1.2", "mixture ratio must lie between 1.6"),
    "a pair without a table": ("LOX/RP-1", "LOX/kerosene", "no performance table for LOX/kerosene"),
    "a single propellant": ("pair: LOX/RP-1, mixture ratio: 2.4", "pair: hydrazine", "no performance is known of hydrazine"),
    "a nozzle too wide for the ground": ("area ratio: 16", "area ratio: 200", "the air outside takes more"),
    "no thrust": ("thrust: {sea level: 220 kN}, ", "", "which every group of engines needs"),
    "two mixture ratios": ("ratio: 2.4", "ratio: 2.4, mixture ratio by volume: 1.7", "not both"),
    "a ratio by volume beyond sense": ("mixture ratio: 2.4", "mixture ratio by volume: 17", "oxidiser to fuel by volume"),
    "a ratio by volume of one propellant": (
        "pair: LOX/RP-1, mixture ratio: 2.4", "pair: hydrazine, mixture ratio by volume: 1", "is a single propellant"
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_does_not_go_together_is_refused_with_what_to_do(case):
    old, new, words = REFUSED[case]
    assert old in TEXT
    with pytest.raises(Refusal) as refusal:
        loads(TEXT.replace(old, new, 1))
    told = " ".join(f"{c.field} {c.got} {c.accepted} {c.remedy}" for c in refusal.value.complaints)
    assert words in told, told
    assert all(c.remedy for c in refusal.value.complaints)
