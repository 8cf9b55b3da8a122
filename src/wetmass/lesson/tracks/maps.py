"""GeoJSON (RFC 7946) and KML (OGC KML 2.2)."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any
from xml.etree import ElementTree

from wetmass.lesson.tracks.track import Track

KML = "http://www.opengis.net/kml/2.2"


def geojson(tracks: Sequence[Track]) -> str:
    """A FeatureCollection: each track's line, its marks as points, its areas as polygons.

    Positions are longitude and latitude in degrees and height in metres (WGS-84).  A line that crosses the
    antimeridian is cut there, as RFC 7946, section 3.1.9, asks.
    """
    features: list[dict[str, Any]] = []
    for track in tracks:
        parts = [[_position(*point) for point in part] for part in _cut(track.line) if len(part) > 1]
        if parts:
            shape = "LineString" if len(parts) == 1 else "MultiLineString"
            times = [round(row[0], 3) for row in track.line]
            features.append(
                _feature(
                    {"type": shape, "coordinates": parts[0] if len(parts) == 1 else parts},
                    {"name": track.name, "about": track.about, "begins": times[0], "ends": times[-1]},
                )
            )
        for mark in track.marks:
            place = {"type": "Point", "coordinates": _position(mark.latitude, mark.longitude, mark.height)}
            features.append(
                _feature(place, {"name": mark.name, "track": track.name, "time": round(mark.time, 3)})
            )
        for area in track.areas:
            shape = {"type": "Polygon", "coordinates": [[_position(*point)[:2] for point in area.ring]]}
            features.append(_feature(shape, {"name": area.name, "track": track.name, **dict(area.facts)}))
    return json.dumps({"type": "FeatureCollection", "features": features}, indent=1, allow_nan=False) + "\n"


def _feature(geometry: dict[str, Any], properties: dict[str, Any]) -> dict[str, Any]:
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def _position(latitude: float, longitude: float, height: float = 0.0) -> list[float]:
    return [round(longitude, 7), round(latitude, 7), round(height, 2)]


def _cut(line: Sequence[tuple[float, float, float, float]]) -> list[list[tuple[float, float, float]]]:
    """The line as parts that do not cross the antimeridian, each (latitude, longitude, height)."""
    parts: list[list[tuple[float, float, float]]] = [[]]
    for row in line:
        here = (row[1], row[2], row[3])
        if parts[-1]:
            before = parts[-1][-1]
            if abs(here[1] - before[1]) > 180.0:
                edge = 180.0 if before[1] > 0.0 else -180.0
                onward = here[1] + 2.0 * edge
                share = (edge - before[1]) / (onward - before[1]) if onward != before[1] else 0.0
                latitude, height = (before[i] + share * (here[i] - before[i]) for i in (0, 2))
                parts[-1].append((latitude, edge, height))
                parts.append([(latitude, -edge, height)])
        parts[-1].append(here)
    return parts


def kml(tracks: Sequence[Track], name: str = "Tracks") -> str:
    """A KML 2.2 document with a folder a track: its line at its heights, its marks and areas."""
    ElementTree.register_namespace("", KML)
    root = ElementTree.Element(f"{{{KML}}}kml")
    document = _child(root, "Document")
    _child(document, "name", name)
    for track in tracks:
        folder = _child(document, "Folder")
        _child(folder, "name", track.name)
        _child(folder, "description", track.about)
        for part in _cut(track.line):
            if len(part) > 1:
                line = _child(_placemark(folder, track.name), "LineString")
                _child(line, "tessellate", "1")
                _child(line, "altitudeMode", "absolute")
                _child(line, "coordinates", " ".join(_coordinates(*point) for point in part))
        for mark in track.marks:
            placemark = _placemark(folder, mark.name, f"{mark.time:.1f} s after lift-off")
            point = _child(placemark, "Point")
            _child(point, "altitudeMode", "absolute")
            _child(point, "coordinates", _coordinates(mark.latitude, mark.longitude, mark.height))
        for area in track.areas:
            about = "; ".join(f"{key}: {value}" for key, value in area.facts)
            polygon = _child(_placemark(folder, area.name, about), "Polygon")
            outer = _child(_child(polygon, "outerBoundaryIs"), "LinearRing")
            _child(outer, "coordinates", " ".join(_coordinates(*point) for point in area.ring))
    ElementTree.indent(root, " ")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ElementTree.tostring(root, encoding="unicode") + "\n"


def _child(parent: ElementTree.Element, tag: str, text: str | None = None) -> ElementTree.Element:
    child = ElementTree.SubElement(parent, f"{{{KML}}}{tag}")
    child.text = text
    return child


def _placemark(parent: ElementTree.Element, name: str, about: str | None = None) -> ElementTree.Element:
    placemark = _child(parent, "Placemark")
    _child(placemark, "name", name)
    if about is not None:
        _child(placemark, "description", about)
    return placemark


def _coordinates(latitude: float, longitude: float, height: float = 0.0) -> str:
    return f"{longitude:.7f},{latitude:.7f},{height:.2f}"
