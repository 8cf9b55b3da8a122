"""What a concept can say of the way home: every key of every way, and what is refused, with its place."""

from pathlib import Path

import pytest

from wetmass.concept import loads
from wetmass.record.refusal import Refusal

EXAMPLE = (Path(__file__).parents[2] / "examples" / "dunlin.yaml").read_text(encoding="utf-8")
LINE = "home: {by: powered landing, where: downrange, propellant: find}"
BARGE = "[{name: barge, from site: 650 km, heading: 188 deg}]"


def told(home, places="", **swap):
    assert LINE in EXAMPLE
    text = EXAMPLE.replace(LINE, f"home: {home}")
    if places:
        text = text.replace("mission:", f"places: {places}\nmission:", 1)
    for old, new in swap.items():
        assert old in text
        text = text.replace(old, new)
    return loads(text, "d.yaml").stages[0].home


@pytest.mark.parametrize(
    "home",
    [
        "{by: expended}",
        "{by: ballistic, posture: base first, nose radius: 1 m}",
        "{by: parachutes, splash speed: 10 m/s}",
        "{by: parachutes, parachutes: [{name: drogue, drag area: 40 m², opens at: 6 km, reefed: [[50 %, 8 s]]},"
        " {name: mains, drag area: 900 m², opens at: 2 km, count: 3, filling: 3 s}]}",
        "{by: powered landing, propellant: 3 %, margin: 10 %, limits: {felt acceleration: 6 g, heating: 90 kW/m²},"
        " landing engines: 1, braking engines: 3, throttle: 80 %, landing thrust: 2, touch-down speed: 1 m/s,"
        " turn around: 15 s}",
        "{by: powered landing, where: barge, propellant: find at most 9 t}",
        "{by: glide, where: barge, lift to drag: 5, wing area: 60 m², best lift: 0.4, most lift: 1}",
        "{by: expended, from orbit: yes, propellant: 2 t, entry angle: 3 deg, where: barge}",
        "{by: powered landing, from orbit: yes, propellant: find}",
    ],
)
def test_every_way_is_sayable(home):
    assert told(home, BARGE).by == home[5:].split(",")[0].rstrip("}")


@pytest.mark.parametrize(
    ("home", "places", "words"),
    [
        ("{by: powerd landing}", "", r'd.yaml:23:16: stages / first / home / by: .* write "powered landing"'),
        ("{by: powered landing, where: barj}", BARGE,
         r"stages / first / home / where: got \"barj\" ; accepted downrange \| back to site \| barge"),
        ("{by: jets}", "", "home / by: got \"jets\" ; accepted jets only on a stage with turbofans"),
        ("{by: glide, hover: 3 s}", "", "home / hover: got \"3 s\" ; accepted only with by: jets"),
        ("{by: parachutes, where: back to site}", "", "goes where it falls"),
        ("{by: glide, propellant: find}", "", "nothing is burnt on this way down"),
        ("{by: expended, entry angle: 2 deg}", "", "only from orbit"),
        ("{by: parachutes, parachutes: [{name: mains, drag area: 9 m², opens at: 2 km, "
         "reefed: [[40 %, 5 s], [20 %, 5 s]]}]}", "", "a share above the one before, 40 %"),
        ("{by: powered landing, limits: {felt acceleration: 0.5 g}}", "", "above 1 g"),
        ("{by: powered landing, throttle: 130 %}", "", "1 % to 100 %"),
        ("{by: powered landing, where: barge}", "[{name: barge, from site: 650 km}]",
         'places / 1 / heading: got nothing .* add "heading: 188 deg"'),
        ("{by: expended}", "[{name: a, latitude: 3 deg N, longitude: 3 deg W, heading: 3 deg}]",
         "a latitude and longitude, or a distance and heading from the site, not both"),
        ("{by: expended}", "[{name: downrange, latitude: 3 deg N, longitude: 3 deg W}]",
         "places / 1 / name: .* a name that is not taken"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_refused_with_its_place(home, places, words):
    with pytest.raises(Refusal, match=words) as refused:
        told(home, places)
    assert all(one.place is not None for one in refused.value.complaints)


def test_a_solid_cannot_land_on_its_motor():
    solid = (Path(__file__).parents[2] / "examples" / "turnstone.yaml").read_text(encoding="utf-8")
    line = "home: {by: parachutes, splash speed: 22 m/s}"
    assert line in solid
    with pytest.raises(Refusal, match="solids and jets cannot do it"):
        loads(solid.replace(line, "home: {by: powered landing}"))
