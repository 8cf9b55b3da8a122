"""Ranges that are said to come from flown launchers do come from them."""

import flown_vehicles
import pytest

from wetmass.findings import ranges
from wetmass.findings.ranges import Range
from wetmass.physics.propellants import PAIRS

ROUNDING = 0.011  # ends are stated to two decimals, rounded outward


def covers(found: Range, values):
    values = list(values)
    assert values
    assert found.low == pytest.approx(min(values), abs=ROUNDING)
    assert found.high == pytest.approx(max(values), abs=ROUNDING)
    assert all(value in found for value in values)


def test_lift_off_thrust_to_weight_is_that_of_the_launchers():
    flown = flown_vehicles.lift_off().values()
    covers(ranges.LIFT_OFF_LIQUID, [ratio for ratio, solid in flown if not solid])
    covers(ranges.LIFT_OFF_SOLID, [ratio for ratio, solid in flown if solid])


def test_ignition_thrust_to_weight_is_that_of_the_upper_stages():
    flown = flown_vehicles.upper().values()
    covers(ranges.IGNITION_LIQUID, [ratio for ratio, _, solid in flown if not solid])
    covers(ranges.IGNITION_SOLID, [ratio for ratio, _, solid in flown if solid])


def test_mass_ratios_are_those_of_the_launchers():
    covers(ranges.UPPER_MASS_RATIO, [ratio for _, ratio, _ in flown_vehicles.upper().values()])
    covers(ranges.FIRST_MASS_RATIO, [ratio for ratio, _ in flown_vehicles.first_ratio().values()])


def test_sea_level_share_is_that_of_stages_lit_on_the_ground():
    covers(ranges.SEA_LEVEL_SHARE, flown_vehicles.sea_level_share().values())


def test_every_pair_with_a_class_is_a_pair_that_can_be_stated():
    assert set(ranges.DELIVERED) <= {*PAIRS, "solid", "hydrazine", "H2O2"}


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (ranges.LIFT_OFF_LIQUID, "1.17 to 1.61"),
        (ranges.GRAVITY_LOSS, "1\u2009000 to 1\u2009700\u00a0m/s"),
        (ranges.Q_ALPHA, "at most 250\u00a0kPa·deg"),
        (ranges.LASTING_PERIGEE, "at least 160\u00a0km"),
        (ranges.RESERVE, "0.75 to 2\u00a0%"),
    ],
)
def test_a_range_says_its_unit_once(found, words):
    assert str(found) == words


def test_every_range_says_where_it_comes_from():
    stated = [value for value in vars(ranges).values() if isinstance(value, Range)]
    assert len(stated) > 15
    assert all(len(one.source) > 20 for one in stated)
