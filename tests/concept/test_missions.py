"""What a vehicle may be aimed at: said in a concept file, filled in, or refused in words."""

import math

import pytest

from wetmass.concept import loads
from wetmass.concept.arrival import burns, speed_left
from wetmass.concept.reference import SMALLEST
from wetmass.concept.targets import NAMED
from wetmass.record.refusal import Refusal

LATITUDE = math.radians(14.2)


def mission(text):
    return loads(SMALLEST.replace("{perigee: 300 km, apogee: 300 km}", text)).mission


@pytest.mark.parametrize("name", NAMED)
def test_every_destination_can_be_named_alone(name):
    got = mission(f"{{to: {name}}}")
    assert got.perigee is not None
    assert (got.apogee is None) == (got.c3 is not None)
    assert got.insertion == "best"


def test_what_is_stated_beside_a_name_stands():
    got = mission("{to: sun-synchronous orbit, perigee: 800 km}")
    assert got.perigee.value == got.apogee.value == 800e3
    # 98.6° at 800 km: Vallado's figure for sun-synchronous orbits there, as in the doctest of physics.orbits
    assert math.degrees(got.inclination.value) == pytest.approx(98.6, abs=0.05)
    assert mission("{to: Moon fly-by, C3: -1.39 km²/s²}").c3.value == -1.39e6
    assert mission("{to: transfer orbit, parking: 185 km}").perigee.value == 185e3


def test_sun_synchronous_is_a_word_for_an_inclination():
    plain = mission("{perigee: 500 km, apogee: 900 km, inclination: sun-synchronous}")
    assert plain.sun_synchronous
    assert 97.0 < math.degrees(plain.inclination.value) < 99.0


def test_a_way_out_has_an_apogee_below_escape_and_none_above():
    assert mission("{C3: -2 km²/s²}").apogee_height == pytest.approx(385.8e6, rel=2e-3)  # −2·μ/C3 − r_p − r_e
    assert mission("{C3: 0 km²/s²}").apogee_height == math.inf
    assert "to Mars" in mission("{to: Mars}").way_out()


def test_what_is_left_to_do_is_known_before_flying():
    assert burns(mission("{to: Mars}"), LATITUDE) == ()
    lunar = speed_left(mission("{to: Moon orbit}"), LATITUDE)
    landed = speed_left(mission("{to: Moon surface}"), LATITUDE)
    assert landed - lunar == pytest.approx(2180.0 / 1.05)  # the published table's, less its reserve
    # less turn, less to do
    near = speed_left(mission("{to: geostationary orbit, inclination: 5 deg}"), LATITUDE)
    assert near < speed_left(mission("{to: geostationary orbit}"), LATITUDE)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("{to: Marz}", 'write "Mars", if that is meant'),
        ("{to: Mars, apogee: 300 km}", "no apogee on the way to Mars"),
        ("{C3: 5 km²/s², apogee: 300 km}", "an apogee or a C3, not both"),
        ("{C3: -70 km²/s²}", "-60 km²/s² to 400 km²/s²"),
        ("{C3: -59 km²/s², perigee: 2000 km}", "an energy above that of a circle at the perigee"),
        (
            "{C3: 5 km²/s², declination: 60 deg, inclination: 30 deg}",
            "a plane inclined 30 deg holds no other",
        ),
        ("{perigee: 300 km, apogee: 300 km, declination: 5 deg}", "only beside a C3"),
        ("{perigee: 300 km, apogee: 300 km, argument of perigee: 90 deg}", "a circle has no perigee"),
        ("{perigee: 300 km, apogee: 900 km, parking: 300 km}", "only for an insertion with coast"),
        ("{perigee: 900 km, apogee: 900 km, parking: 300 km, insertion: with coast}", "within 30 km"),
        ("{perigee: 300 km, apogee: 300 km, arrival: {by: payload}}", "only for a destination with one"),
        ("{to: sun-synchronous orbit, perigee: 6500 km}", "lower the orbit, or give an angle"),
        ("{C3: 1 km²/s², inclination: sun-synchronous}", "only for an orbit with an apogee"),
        ("{height: 30 km, to: Mars}", "no to beside a height"),
    ],
)
def test_what_does_not_go_together_is_refused_in_words(said, words):
    with pytest.raises(Refusal) as refused:
        mission(said)
    assert words in str(refused.value)
