"""What is told of journeys that the ascent does not end, and of a restart that was not asked for."""

import builders
from wetmass.concept.model import Mission
from wetmass.findings import find

CONCEPT = builders.dunlin()


def found(rule, mission):
    concept = CONCEPT.model_copy(update={"mission": Mission.model_validate(mission)})
    return [one for one in find(concept, builders.closed()) if one.rule.startswith(rule)]


def test_what_is_left_to_do_says_whose_it_is():
    (plain,) = found("left to do", {"to": "Moon orbit"})
    assert "into a circle 100 km above the Moon" in plain.got
    assert "does it itself" in plain.remedy
    (own,) = found("left to do", {"to": "Moon orbit", "arrival": {"isp": "320 s"}})
    assert "arrive, its tanks and engine counted" in own.remedy
    (stage,) = found("left to do", {"to": "Moon surface", "arrival": {"by": "last stage"}})
    assert stage.remedy.startswith("Second keeps propellant for it")
    assert "doi 10.1016" in stage.source
    assert not found("left to do", {"to": "Mars"})


def test_a_restart_is_suggested_only_for_a_high_orbit_by_one_burn():
    high = {"perigee": "250 km", "apogee": "35786 km"}
    (one,) = found("one burn to a high orbit", high)
    assert one.part == "second"
    assert "insertion: best" in one.remedy
    assert not found("one burn to a high orbit", {**high, "insertion": "with coast"})
    assert not found("one burn to a high orbit", {**high, "insertion": "best"})
    assert not found(
        "one burn to a high orbit", {"perigee": "500 km", "apogee": "600 km"}
    )  # not above the bound
    assert found("one burn to a high orbit", {"perigee": "500 km", "apogee": "601 km"})
