"""Tracks in open formats, each held against its standard."""

import csv as text_rows
import datetime
import io
import itertools
import json
import math
import re
from functools import cache
from xml.etree import ElementTree

import numpy as np
import pytest
from stages import SITE, small_first, upper_in_orbit

from wetmass.flight.home import come_home
from wetmass.flight.home.impact import impact_point, impact_track
from wetmass.flight.home.spread import spread
from wetmass.lesson.tracks import Track, csv, geojson, kml, oem, track_of_home, track_of_impact_points
from wetmass.physics.earth import geodetic
from wetmass.record.homecoming import By, Way

NOON = datetime.datetime(2026, 3, 20, 12, 0, tzinfo=datetime.UTC)


@cache
def _fallen():
    return come_home(small_first(propellant=0.0), Way(By.BALLISTIC), SITE)


@cache
def _tracks():
    home = _fallen()
    chance = spread(small_first(propellant=0.0), Way(By.BALLISTIC), flights=30)
    points = impact_track(home.trajectory)
    return (track_of_home(home, chance), track_of_impact_points("first", points))


# ── GeoJSON: RFC 7946 ────────────────────────────────────────────────────────────────────────────


def _check_position(position):
    assert len(position) in (2, 3)  # 3.1.1
    assert -180.0 <= position[0] <= 180.0 and -90.0 <= position[1] <= 90.0  # 4: longitude first


def _check_geometry(shape):
    kind, c = shape["type"], shape["coordinates"]
    if kind == "Point":
        _check_position(c)
    elif kind == "LineString":
        assert len(c) >= 2  # 3.1.4
        for position in c:
            _check_position(position)
        assert all(abs(b[0] - a[0]) <= 180.0 for a, b in itertools.pairwise(c))  # 3.1.9
    elif kind == "MultiLineString":
        for part in c:
            _check_geometry({"type": "LineString", "coordinates": part})
    else:
        assert kind == "Polygon"
        for ring in c:
            assert len(ring) >= 4 and ring[0] == ring[-1]  # 3.1.6
            area = sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise(ring))
            assert area > 0.0  # 3.1.6: against the clock


def _check_geojson(text):
    made = json.loads(text)
    assert made["type"] == "FeatureCollection" and isinstance(made["features"], list)  # 3.3
    for feature in made["features"]:
        assert feature["type"] == "Feature" and set(feature) >= {"geometry", "properties"}  # 3.2
        _check_geometry(feature["geometry"])
    assert "crs" not in made  # 4
    return made


def test_geojson_keeps_the_rules_of_rfc_7946():
    made = _check_geojson(geojson(_tracks()))
    kinds = [feature["geometry"]["type"] for feature in made["features"]]
    assert {"LineString", "Point", "Polygon"} <= set(kinds)
    impact = next(f for f in made["features"] if f["properties"]["name"] == "impact")
    down = _fallen().down
    assert impact["geometry"]["coordinates"][:2] == pytest.approx(
        [math.degrees(down.longitude), math.degrees(down.latitude)], abs=1e-6
    )


def test_an_independent_reader_takes_the_geojson():
    reader = pytest.importorskip("geojson")
    assert reader.loads(geojson(_tracks())).is_valid


def test_a_line_over_the_antimeridian_is_cut_there():
    home = come_home(upper_in_orbit(), Way(By.BALLISTIC, from_orbit=True), SITE)
    around = Track("around", "", ((0.0, 0.0, 170.0, 0.0), (1.0, 10.0, -170.0, 0.0), (2.0, 12.0, -160.0, 0.0)))
    made = _check_geojson(geojson([around, track_of_home(home)]))
    shape = made["features"][0]["geometry"]
    assert shape["type"] == "MultiLineString"
    assert shape["coordinates"][0][-1][:2] == [180.0, 5.0] and shape["coordinates"][1][0][:2] == [-180.0, 5.0]


def test_the_area_holds_99_percent_of_the_points():
    chance = spread(small_first(propellant=0.0), Way(By.BALLISTIC), flights=200)
    ring = json.loads(geojson([track_of_home(_fallen(), chance)]))["features"][-1]["geometry"]["coordinates"][
        0
    ]

    def inside(x, y):
        odd = False
        for (x0, y0), (x1, y1) in itertools.pairwise(ring):
            if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
                odd = not odd
        return odd

    held = sum(inside(math.degrees(lon), math.degrees(lat)) for lat, lon in chance.points)
    assert 0.97 * 200 <= held <= 200


# ── KML: OGC 07-147r2 ────────────────────────────────────────────────────────────────────────────


def test_kml_is_well_formed_and_says_the_same_places():
    root = ElementTree.fromstring(kml(_tracks()))
    ns = {"k": "http://www.opengis.net/kml/2.2"}
    assert root.tag == "{http://www.opengis.net/kml/2.2}kml"
    line = root.find(".//k:LineString/k:coordinates", ns).text.split()
    assert len(line) == len(_tracks()[0].line)
    longitude, latitude, height = (float(v) for v in line[0].split(","))
    t = _fallen().trajectory
    assert (longitude, latitude) == pytest.approx((t["longitude"][0], t["latitude"][0]), abs=1e-6)
    assert height == pytest.approx(t["height"][0], abs=0.01)


def test_kml_holds_against_the_published_schema():
    # ogckml22.xsd of OGC 07-147r2, as it comes with the reader
    pytest.importorskip("lxml")
    validate = pytest.importorskip("fastkml.validator").validate
    from lxml import etree

    assert validate(element=etree.fromstring(kml(_tracks()).encode())) is True
    broken = kml(_tracks()).replace("<altitudeMode>absolute", "<altitudeMode>sideways", 1)
    with pytest.raises(AssertionError):  # the schema does see a wrong word
        assert validate(element=etree.fromstring(broken.encode())) is True


# ── OEM: CCSDS 502.0-B-2 ─────────────────────────────────────────────────────────────────────────

EPOCH = r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?"
ROW = re.compile(rf"({EPOCH})((?: -?\d+\.\d+){{6}})$")


def test_oem_keeps_the_order_and_words_of_ccsds_502():
    text = oem(_fallen().trajectory, "FIRST", NOON)
    assert text.isascii() and all(len(line) <= 254 for line in text.splitlines())  # 7.3
    lines = [line for line in text.splitlines() if line]
    assert lines[0] == "CCSDS_OEM_VERS = 2.0"  # 5.2.2: first
    keys = [line.split(" = ")[0] for line in lines if " = " in line]
    assert keys == [  # table 5-2 and 5-3, in their order
        "CCSDS_OEM_VERS", "CREATION_DATE", "ORIGINATOR", "OBJECT_NAME", "OBJECT_ID", "CENTER_NAME",
        "REF_FRAME", "TIME_SYSTEM", "START_TIME", "STOP_TIME",
    ]  # fmt: skip
    assert lines.index("META_START") < lines.index("META_STOP")
    rows = [ROW.match(line) for line in lines[lines.index("META_STOP") + 1 :]]
    assert all(rows)
    epochs = [row.group(1) for row in rows]
    assert epochs == sorted(set(epochs))  # 5.2.4: later and later
    stated = dict(line.split(" = ") for line in lines if " = " in line)
    assert (stated["START_TIME"], stated["STOP_TIME"]) == (epochs[0], epochs[-1])


def test_oem_states_are_those_of_the_flight_in_axes_that_turn():
    lines = oem(_fallen().trajectory, "FIRST", NOON).splitlines()
    last = [1e3 * float(v) for v in lines[-1].split()[1:]]
    latitude, longitude, height = geodetic(*last[:3])
    down = _fallen().down
    assert (latitude, longitude) == pytest.approx((down.latitude, down.longitude), abs=1e-9)
    assert height == pytest.approx(0.0, abs=0.01)
    assert np.linalg.norm(last[3:]) == pytest.approx(down.speed, abs=1e-4)
    minutes, seconds = divmod(down.time, 60.0)
    assert lines[-1].startswith(f"2026-03-20T12:{minutes:02.0f}:{seconds:09.6f}")


def test_an_independent_reader_takes_the_oem(tmp_path):
    reader = pytest.importorskip("oem")
    path = tmp_path / "first.oem"
    path.write_text(oem(_fallen().trajectory, "FIRST", NOON))
    states = reader.OrbitEphemerisMessage.open(path).states
    assert len(states) > 50
    assert np.linalg.norm(states[-1].position) == pytest.approx(6378.0, abs=25.0)


def test_oem_refuses_what_the_standard_cannot_say():
    with pytest.raises(ValueError, match="lift_off must say its time zone"):
        oem(_fallen().trajectory, "FIRST", datetime.datetime(2026, 3, 20))
    with pytest.raises(ValueError, match="name must be printable ASCII"):
        oem(_fallen().trajectory, "Stufe für Möwe", NOON)


# ── CSV: RFC 4180 ────────────────────────────────────────────────────────────────────────────────


def test_csv_reads_back_to_the_last_digit():
    text = csv(_fallen().trajectory)
    assert text.endswith("\r\n") and text.count("\r\n") == text.count("\n")  # 2.1
    rows = list(text_rows.reader(io.StringIO(text, newline="")))
    assert {len(row) for row in rows} == {len(_fallen().trajectory.columns)}  # 2.4
    assert rows[0][2] == "height [m]"
    back = np.array([[float(v) for v in row] for row in rows[1:]])
    assert np.array_equal(back, _fallen().trajectory.values)


# ── impact points ────────────────────────────────────────────────────────────────────────────────


def test_the_impact_track_of_a_fall_ends_where_it_comes_down():
    points = impact_track(_fallen().trajectory)
    assert len(points) == len(_fallen().trajectory)
    end, down = points[-1], _fallen().down
    assert (end.latitude, end.longitude) == pytest.approx((down.latitude, down.longitude), abs=1e-6)
    # without air it would have come down further on
    first = impact_point(small_first().state, small_first().time)
    assert points[0].falls_for == pytest.approx(first.falls_for, abs=1e-6)
