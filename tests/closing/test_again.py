"""A concept near a solved one, solved from what is known of it."""

from pathlib import Path

import pytest

from wetmass.closing import answered, known
from wetmass.concept import loads

DUNLIN = (Path(__file__).parents[2] / "examples" / "dunlin.yaml").read_text(encoding="utf-8")


def test_a_near_concept_is_solved_from_the_known_one_in_a_fraction_of_the_flights():
    nominal = answered(loads(DUNLIN))
    heavier = loads(DUNLIN.replace("7.6 t ± 8 %", "7.7 t"))
    cold, warm = answered(heavier), answered(heavier, known=known(nominal))
    assert not cold.reason and not warm.reason
    # both searches end where the score stands still to 2e-6; a valley flat to ten times that is the same answer
    assert warm.vehicle.payload == pytest.approx(cold.vehicle.payload, rel=2e-5)
    assert warm.found.flights < 0.3 * cold.found.flights
