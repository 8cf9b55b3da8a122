"""What-if grids and comparisons of whole closings."""

from pathlib import Path

import pytest

from wetmass.closing import answered, bring_home
from wetmass.concept import load, loads
from wetmass.study.beside import compare
from wetmass.study.crew import Crew
from wetmass.study.grid import vary
from wetmass.study.point import DOES_NOT_CLOSE, REFUSED, base_of, solved
from wetmass.study.variants import Variant, changed, changes_of

DUNLIN = load(Path(__file__).parents[2] / "examples" / "dunlin.yaml")


@pytest.fixture(scope="module")
def base():
    return base_of(DUNLIN)


def test_a_point_of_a_grid_is_what_the_concept_gives_closed_on_its_own(base):
    grid = vary(DUNLIN, ["first, dry mass = 7 t, 8 t"], base=base, crew=Crew(0))
    alone = bring_home(loads(DUNLIN.document.text.replace("7.6 t ± 8 %", "8 t")))
    # where the first stage is let go moves in a flat valley: some 10 kg kept more or less, 1.5 kg of payload
    assert grid.at(1)["payload"] == pytest.approx(alone.payload, abs=2.5)
    assert grid.at(1).home["first"] == pytest.approx(alone.home.kept[0].kept, rel=1e-2)
    assert grid.at(0)["payload"] > base.outcome["payload"] > grid.at(1)["payload"]
    assert grid.at(0).home["first"] < base.outcome.home["first"] < grid.at(1).home["first"]


def test_with_what_comes_home_stated_a_point_is_what_the_concept_gives_to_the_last_digits():
    text = DUNLIN.document.text.replace("propellant: find}", "propellant: 2.58 t}")
    grid = vary(loads(text), ["first, dry mass = 7.6 t, 8 t"], crew=Crew(0))
    alone = answered(loads(text.replace("7.6 t ± 8 %", "8 t")))
    # both searches end where the score stands still to 2e-6; a valley flat to ten times that is the same answer
    assert grid.at(1)["payload"] == pytest.approx(alone.vehicle.payload, rel=2e-5)
    assert grid.at(0)["payload"] == pytest.approx(grid.base.outcome["payload"], rel=2e-5)
    assert grid.at(0).home == grid.at(1).home == {"first": 2580.0}


def test_a_point_far_from_the_nominal_one_finds_its_own_way_home(base):
    text = (("stages/first/home/where", "back to site"),)
    found = solved(base, text)
    assert found.closes  # the nominal one keeps a fifth of what turning back takes
    assert (
        found.home["first"] > 3.0 * base.outcome.home["first"] and found["payload"] < base.outcome["payload"]
    )


def test_a_point_whose_stage_cannot_come_home_does_not_close(base):
    found = solved(base, (("stages/first/home/landing engines", "1"), ("stages/first/dry mass", "12 t")))
    assert found.state == DOES_NOT_CLOSE and "come home" in found.reason


def test_points_that_do_not_close_are_kept_with_the_reason(base):
    grid = vary(DUNLIN, ["first, dry mass = 40 t, 7.6 t"], base=base, crew=Crew(0))
    assert grid.at(0).state == DOES_NOT_CLOSE and "felt acceleration" in grid.at(0).reason
    # the same valley, come to from elsewhere
    assert grid.at(1).closes and grid.at(1)["payload"] == pytest.approx(base.outcome["payload"], abs=2.5)


def test_values_that_make_no_concept_are_kept_as_refused(base):
    grid = vary(DUNLIN, ["first, isp, sea level = 309 s, 345 s"], base=base, crew=Crew(0))
    assert grid.at(1).state == REFUSED and "less than in vacuum" in grid.at(1).reason


def test_two_inputs_run_over_every_pair_the_last_fastest(base):
    grid = vary(
        DUNLIN,
        ["performance reserve = 60 m/s, 100 m/s", "second isp = 360 s, 366 s"],
        base=base,
        crew=Crew(0),
    )
    payload = [[grid.at(i, j)["payload"] for j in range(2)] for i in range(2)]
    assert payload[0][0] > payload[1][0] and payload[0][1] > payload[0][0]  # less kept back; a better engine
    assert [one["payload"] for one in grid.outcomes] == [*payload[0], *payload[1]]


def test_variants_stand_side_by_side_with_what_differs(base):
    heavier = changed(DUNLIN, changes_of("first, dry mass = 8 t"))
    beside = compare([Variant("as it is", DUNLIN), Variant("heavier", heavier)], crew=Crew(0))
    assert beside.differences == (("first, dry mass", ("7.6 t ± 8 %", "8 t")),)
    assert beside.outcomes[0] == base.outcome
    assert beside.outcomes[1]["payload"] < beside.outcomes[0]["payload"]
