"""Engines with vacuum figures alone are laid out and weighed by a usual nozzle, which is said."""

import pytest

import wetmass
from wetmass.concept import loads
from wetmass.concept.reference import SMALLEST
from wetmass.record.vehicle import EngineGroup
from wetmass.vehicle.usual_nozzle import AREA_RATIO, NOZZLE_WORDS, area_ratio, exit_area, has_exit


def group(**changed):
    return EngineGroup("engines", 1, 240e3, changed.pop("exit_area", 0.0), 363.0, None, **changed)


def test_an_exit_that_figures_give_is_kept():
    one = group(exit_area=2.0)
    assert has_exit(one) and exit_area(one) == 2.0
    # 2 m² at 7 MPa and a thrust coefficient of 1.75: throat 240 kN / (1.75 × 7 MPa) = 0.01959 m²
    assert area_ratio(one, 7e6) == pytest.approx(2.0 / 0.019592, rel=1e-3)


def test_one_that_none_gives_is_the_usual_one():
    one = group()
    assert not has_exit(one) and area_ratio(one, 7e6) == AREA_RATIO
    assert exit_area(one) == pytest.approx(60 * 0.019592, rel=1e-4)


def test_the_smallest_concept_by_parts_has_a_nozzle_an_interstage_and_no_doubt_about_them():
    by_parts = SMALLEST.replace("dry mass: 3 t", "dry mass: by parts").replace(
        "dry mass: 700 kg", "dry mass: by parts"
    )
    closed = wetmass.fly(loads(by_parts))
    assert closed.closes
    assert NOZZLE_WORDS in closed.geometry.assumed
    far = [one.got for one in closed.findings if one.rule == "mass relations beyond their reach"]
    assert not [got for got in far if "engine" in got or "interstage" in got]
    second = next(stage for stage in closed.geometry.stages if stage.name == "second")
    assert [plan.count for plan in second.engines] == [1]
