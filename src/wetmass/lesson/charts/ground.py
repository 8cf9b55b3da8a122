"""The way over the ground, on an outline of the land."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any

from wetmass.lesson.look import LIGHT
from wetmass.record.flight import Flight

WIDE, HIGH = 540, 268
_LINE, _WORD = 8.0, 60.0  # degrees that a line of text is high and a few words are long
SOURCE = "outline of land: Natural Earth, public domain"


@cache
def land() -> dict[str, Any]:
    """The outline of land as GeoJSON."""
    text = files("wetmass.lesson").joinpath("assets/land.json").read_text(encoding="utf-8")
    return {"type": "MultiPolygon", "coordinates": json.loads(text)["polygons"]}


def places(flight: Flight) -> list[dict[str, Any]]:
    """Where it begins, where each stage stops, where it ends: {"words", "longitude", "latitude"} [deg]."""
    import numpy as np

    track = flight.trajectory
    last = flight.stages[-1].name
    wanted = [("lift-off", 0.0)]
    wanted += [(f"{s.name} let go", s.burnout_time) for s in flight.stages if s.name != last]
    coast = next((e for e in flight.events if "stops to coast" in e.what), None)
    if coast is not None:
        wanted.append(("coast begins", coast.time))
    wanted.append(("in orbit", flight.duration))
    turn = np.unwrap(track["longitude"], period=360.0)
    return [
        {
            "words": words, "latitude": float(np.interp(time, track["time"], track["latitude"])),
            "longitude": (float(np.interp(time, track["time"], turn)) + 180.0) % 360.0 - 180.0,
        }
        for words, time in wanted
    ]  # fmt: skip


def sided(marks: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Marks with the side their words stand on, so that neighbours do not meet; a third one says nothing."""
    made: list[dict[str, Any]] = []
    for mark in marks:
        near = [
            one["side"] for one in made
            if abs(one["latitude"] - mark["latitude"]) < _LINE
            and abs(one["longitude"] - mark["longitude"]) < _WORD
        ]  # fmt: skip
        free = next((side for side in ("left", "right") if side not in near), None)
        made.append({**mark, "side": free or "left", "words": mark["words"] if free else ""})
    return made


def ground_track(flight: Flight) -> Any:
    """The chart: the whole Earth, the way flown, its marks."""
    import altair as alt

    track = flight.trajectory
    step = max(1, len(track) // 400)
    line = [
        [float(a), float(b)]
        for a, b in zip(track["longitude"][::step], track["latitude"][::step], strict=True)
    ]  # fmt: skip
    line.append([float(track["longitude"][-1]), float(track["latitude"][-1])])
    way = {"type": "Feature", "properties": {}, "geometry": {"type": "LineString", "coordinates": line}}
    ground = {"type": "Feature", "properties": {}, "geometry": land()}
    marks = sided(places(flight))
    sea = alt.Chart(alt.sphere()).mark_geoshape(fill=LIGHT["sea"], stroke=LIGHT["quiet"], strokeWidth=0.6)
    net = alt.Chart(alt.graticule(step=[30, 30])).mark_geoshape(
        stroke=LIGHT["hair"], strokeWidth=0.6, filled=False
    )
    coast = alt.Chart(alt.Data(values=[ground])).mark_geoshape(fill=LIGHT["land"], stroke=None)
    flown = alt.Chart(alt.Data(values=[way])).mark_geoshape(
        filled=False, stroke=LIGHT["two"], strokeWidth=2, strokeCap="round"
    )
    base = alt.Chart(alt.Data(values=marks)).encode(longitude="longitude:Q", latitude="latitude:Q")
    dots = base.mark_circle(color=LIGHT["two"], size=36, opacity=1)
    texts = [
        base.transform_filter(f"datum.side == '{side}'")
        .mark_text(align=side, dx=8 if side == "left" else -8, dy=1, color=LIGHT["ink"], fontSize=13)
        .encode(text="words:N")
        for side in ("left", "right")
    ]
    return (
        alt.layer(sea, net, coast, flown, dots, *texts)
        .project(type="equalEarth")
        .properties(width=WIDE, height=HIGH)
    )
