"""Payload against destination: what is further costs more, and as the rocket equation says."""

import functools
import itertools
import math

import pytest

import wetmass
from wetmass.closing.elsewhere import sent
from wetmass.concept import loads
from wetmass.record.refusal import Refusal
from wetmass.study import destinations as study

DUNLIN = "examples/dunlin.yaml"
PLACES = ("low orbit", "transfer orbit", "geostationary orbit", "Moon fly-by", "Moon orbit", "Mars")


@functools.cache
def concept():
    from pathlib import Path

    return wetmass.load(Path(__file__).parents[2] / DUNLIN)


@functools.cache
def reached():
    return study.reach(concept(), places=PLACES)


def place(name):
    return next(one for one in reached().places if one.name == name)


def test_what_is_further_away_gets_less():
    masses = [place(name).payload for name in ("low orbit", "transfer orbit", "Moon fly-by", "Mars")]
    assert masses == sorted(masses, reverse=True)
    curve = [point.payload for point in reached().curve]
    assert curve == sorted(curve, reverse=True)
    assert curve[-1] <= 0.0 < curve[-2]


def test_the_curve_falls_as_the_rocket_equation_says():
    # from one point to the next only the last burn gets longer: end mass × exp(−Δv/v_e), Δv of an impulse at
    # 185 km.  Losses change with the burn and steering is free: 1.5 % of the end mass.
    last = reached().answer.vehicle.stages[-1]
    empty = last.dry_mass + last.propellant.residuals + last.propellant.reserve
    exhaust = last.vacuum_isp * 9.80665
    points = reached().curve
    for one, other in itertools.pairwise(points):
        speed = study.speed_from_parking(other.c3) - study.speed_from_parking(one.c3)
        expected = (one.payload + empty) * math.exp(-speed / exhaust)
        assert other.payload + empty == pytest.approx(expected, rel=0.015)


def test_what_arrives_is_less_than_what_is_sent():
    for name in ("geostationary orbit", "Moon orbit"):
        one = place(name)
        assert one.left > 0.0
        assert one.by_payload == pytest.approx(one.payload * math.exp(-one.left / (study.OWN_ISP * 9.80665)))
        assert 0.0 < one.by_stage < one.payload
    assert place("Mars").by_payload == place("Mars").payload


def test_destinations_beyond_the_headings_are_told_without_flying():
    text = concept().document.text.replace("headings: 0 to 200 deg", "headings: 80 to 100 deg")
    text = text.replace("inclination: 97.5 deg, going: south", "inclination: 15 deg")
    reason = study.beyond_the_headings(loads(text), study.aimed("sun-synchronous orbit"))
    assert "the site's headings reach inclinations from 14." in reason
    assert study.beyond_the_headings(concept(), study.aimed("sun-synchronous orbit")) == ""


def test_what_it_takes_is_confirmed_by_flying_it():
    there, needed = study.what_it_takes(concept(), "low orbit", 4300.0)
    first = next(one for one in needed if one.stage == "first")
    assert there.payload < 4300.0 < first.best_payload
    path = "stages/first/propellant/mass"
    flown = sent(study.sized(concept()), study.aimed("low orbit"), changed={path: first.needed})
    assert flown.payload == pytest.approx(4300.0, rel=2e-3)  # the search stops at 1e-3


def test_an_unknown_destination_and_a_climb_are_refused_in_words():
    with pytest.raises(Refusal, match='write "Mars"'):
        study.aimed("Marz")
    text = concept().document.text
    climbing = text.replace(
        "{perigee: 520 km, apogee: 520 km, inclination: 97.5 deg, going: south, insertion: with coast}",
        "{height: 100 km, at: apex}",
    )
    assert climbing != text
    with pytest.raises(Refusal, match="a mission to an orbit or beyond"):
        study.reach(loads(climbing))
