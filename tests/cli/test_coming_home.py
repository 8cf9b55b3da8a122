"""`wetmass home` as a command: what it prints and writes, each format held against a reader by other hands."""

import csv
import datetime
import json
import math
import re
from functools import cache
from pathlib import Path

import pytest

import wetmass
from wetmass.cli import coming_home, keys
from wetmass.cli.exports import record
from wetmass.cli.layout.home import home_page
from wetmass.cli.tracks import NO_MOMENT, check, lift_off_of, write
from wetmass.closing import bring_home
from wetmass.physics.earth import geodetic
from wetmass.record.refusal import Refusal

FILE = str(Path(__file__).parents[2] / "examples" / "turnstone.yaml")


@cache
def concept():
    return wetmass.load(FILE)


@cache
def closed():
    return bring_home(concept(), falls=60, seed=7)


@pytest.fixture
def answers(monkeypatch):
    """The command is given the answer that is there already; how it was asked."""
    asked = {}

    def gives(_, **more):
        asked.update(more)
        return closed()

    monkeypatch.setattr(wetmass.closing, "bring_home", gives)
    return asked


def test_the_page_tells_strap_ons_their_spread_and_the_impact_point_through_the_ascent():
    page = " ".join(" ".join(line.plain for line in home_page(concept(), closed(), 90).lines).split())
    for words in (
        "2 × solids parachutes: comes home", "core falls", "of 60 falls, seed 7", "Drawn by chance: wind",
        "Impact point through the ascent", "from here on it stays up", "it stays in an orbit of",
        "keeps nobody safe",
    ):  # fmt: skip
        assert words in page, words


def test_json_has_every_way_home_with_its_trajectory_and_no_key_that_is_not_explained(answers, capsys):
    assert coming_home.home(FILE, as_json=True, falls=60, seed=7) == 0
    assert (answers["falls"], answers["seed"]) == (60, 7)
    printed = json.loads(capsys.readouterr().out)
    ways = printed["home"]["ways"]
    assert [way["stage"] for way in ways] == ["solids", "core"]
    assert ways[0]["count"] == 2 and ways[0]["spread"]["seed"] == 7
    columns = [column["key"] for column in ways[1]["trajectory"]["columns"]]
    last = dict(zip(columns, ways[1]["trajectory"]["rows"][-1], strict=True))
    assert last["latitude"] == pytest.approx(math.degrees(ways[1]["down"]["latitude"]), abs=1e-9)
    assert len(printed["home"]["impact_points"]) > 50
    known = set(re.findall(r"^\| `([a-z_0-9]+)` \|", keys.page(), re.MULTILINE)) | {"file", "text"}
    unknown = {key for key in _keys(record(concept(), closed())) if key not in known}
    assert not unknown


def _keys(value):
    if isinstance(value, dict):
        yield from value
        for below in value.values():
            yield from _keys(below)
    elif isinstance(value, list):
        for below in value[:3]:
            yield from _keys(below)


def test_a_folder_gets_maps_ephemerides_and_tables_that_other_readers_take(tmp_path):
    readers = [pytest.importorskip(name) for name in ("geojson", "oem", "lxml.etree")]
    validate = pytest.importorskip("fastkml.validator").validate
    geojson, oem, etree = readers
    moment = datetime.datetime(2027, 3, 20, 12, 30, tzinfo=datetime.UTC)
    written = write(closed(), f"{tmp_path / 'out'}/", moment)
    assert sorted(path.name for path in written) == sorted(
        ["turnstone.geojson", "turnstone.kml"]
        + [f"turnstone-{one}.{kind}" for one in ("ascent", "solids", "core") for kind in ("oem", "csv")]
    )
    texts = {path.name: path.read_text(encoding="utf-8") for path in written}
    places = geojson.loads(texts["turnstone.geojson"])
    assert places.is_valid  # RFC 7946, by the geojson package
    named = [feature["properties"].get("name", "") for feature in places["features"]]
    assert any("instantaneous impact point" in name for name in named)
    area = next(f["properties"] for f in places["features"] if f["properties"].get("seed") == 7)
    spread = closed().home.ways[0].spread
    assert area["falls"] == 60 and "concept study" in area["caution"].lower()
    assert area["azimuth of the longer axis [deg]"] == pytest.approx(math.degrees(spread.heading), abs=0.01)
    # OGC KML 2.2, its schema as it comes with fastkml
    assert validate(element=etree.fromstring(texts["turnstone.kml"].encode())) is True
    down = closed().home.ways[1].down
    for name in ("ascent", "solids", "core"):  # CCSDS 502.0-B, by the oem package
        states = oem.OrbitEphemerisMessage.open(tmp_path / "out" / f"turnstone-{name}.oem").states
        assert states[0].epoch.to_datetime().year == 2027
        if name == "core":
            latitude, longitude, _ = geodetic(*(1e3 * float(v) for v in states[-1].position))
            assert (latitude, longitude) == pytest.approx((down.latitude, down.longitude), abs=1e-8)
    rows = list(csv.reader(texts["turnstone-core.csv"].splitlines()))
    assert rows[0][0] == "time [s]" and len(rows) == len(closed().home.ways[1].trajectory) + 1


def test_a_moment_nobody_stated_is_said_to_be_made_up(tmp_path):
    write(closed(), f"{tmp_path}/", None)
    text = (tmp_path / "turnstone-core.oem").read_text()
    assert f"it is put at {NO_MOMENT:%Y-%m-%d %H:%M} UTC" in text


def test_one_map_is_one_file(tmp_path, answers, capsys):
    out = tmp_path / "tracks.kml"
    assert coming_home.home(FILE, tracks=str(out)) == 0
    assert out.read_text().startswith("<?xml") and str(out) in " ".join(capsys.readouterr().err.split("\n"))


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: check("out.oem"), '"out.oem" ; accepted a file ending in .geojson or .kml, or a folder'),
        (lambda: lift_off_of("tomorrow"), '--lift-off: got "tomorrow" ; accepted a day and a time'),
        (lambda: write(closed(), "/proc/no/", None), "--tracks: got .* which cannot be made"),
    ],
)
def test_what_cannot_be_written_is_refused_in_words(ask, words):
    with pytest.raises(Refusal, match=words):
        ask()
