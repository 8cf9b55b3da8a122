"""The way over the ground, on an outline of the land."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from wetmass.lesson.look import LIGHT
from wetmass.lesson.words import said as worded
from wetmass.record.flight import Flight, Trajectory
from wetmass.record.homecoming import Homecoming

WIDE, HIGH = 540, 268
_LINE, _WORD = 10.0, 60.0  # degrees of the whole Earth that a line of text is high and a few words are long
_LEAST_SPAN, _MOST_SPAN = 75.0, 150.0  # deg across of a part that is shown; beyond it, the whole
_AROUND = 1.9  # the window over the way
BESIDE = 5e3  # m: what comes down as near to the site has no mark of its own


@cache
def land() -> dict[str, Any]:
    """The outline of land as GeoJSON."""
    text = files("wetmass.lesson").joinpath("assets/land.json").read_text(encoding="utf-8")
    return {"type": "MultiPolygon", "coordinates": json.loads(text)["polygons"]}


def places(flight: Flight, ways: Sequence[Homecoming] = ()) -> list[dict[str, Any]]:
    """Where it begins, where each stage is let go and comes down, where it ends.

    Each is {"words", "longitude", "latitude"} [deg].
    """
    import numpy as np

    track = flight.trajectory
    last = flight.stages[-1].name
    wanted = [(worded("drawn/lift_off"), 0.0)]
    wanted += [
        (worded("drawn/part_let_go", part=s.name), s.burnout_time) for s in flight.stages if s.name != last
    ]
    coast = next((e for e in flight.events if "stops to coast" in e.what), None)
    if coast is not None:
        wanted.append((worded("drawn/coast_begins"), coast.time))
    wanted.append((worded("drawn/orbit_reached"), flight.duration))
    turn = np.unwrap(track["longitude"], period=360.0)
    down = [
        {
            "words": worded("drawn/part_comes_down", part=way.stage), "latitude": math.degrees(way.down.latitude),
            "longitude": math.degrees(way.down.longitude),
        }
        for way in ways
        if way.down.distance > BESIDE
    ]  # fmt: skip
    return [
        {
            "words": words, "latitude": float(np.interp(time, track["time"], track["latitude"])),
            "longitude": (float(np.interp(time, track["time"], turn)) + 180.0) % 360.0 - 180.0,
        }
        for words, time in wanted
    ] + down  # fmt: skip


@dataclass(frozen=True, slots=True)
class Window:
    """The part of the Earth that is shown."""

    longitude: float  # deg, of the middle
    latitude: float
    span: float  # deg of longitude across; 360: all of it
    net: int  # deg between two lines of the net

    @property
    def whole(self) -> bool:
        """Whether it is the whole Earth."""
        return self.span >= 360.0

    def projection(self) -> dict[str, Any]:
        """How the chart is projected."""
        if self.whole:
            return {"type": "equalEarth"}
        return {
            "type": "equirectangular", "scale": WIDE / math.radians(self.span),
            "translate": [WIDE / 2, HIGH / 2], "rotate": [-self.longitude, 0.0, 0.0],
            "center": [0.0, self.latitude], "clipExtent": [[0, 0], [WIDE, HIGH]],
        }  # fmt: skip


def window(flight: Flight) -> Window:
    """All of the Earth for a way that leads far round it, else the part that holds it with room around."""
    import numpy as np

    longitude = np.unwrap(flight.trajectory["longitude"], period=360.0)
    latitude = flight.trajectory["latitude"]
    span = max(_LEAST_SPAN, _AROUND * np.ptp(longitude), _AROUND * np.ptp(latitude) * WIDE / HIGH)
    if span > _MOST_SPAN:
        return Window(0.0, 0.0, 360.0, 30)
    east, north = (float(values.max() + values.min()) / 2.0 for values in (longitude, latitude))
    return Window((east + 180.0) % 360.0 - 180.0, north, float(span), 10)


def sided(marks: list[dict[str, Any]], span: float = 360.0) -> list[dict[str, Any]]:
    """Marks with the side their words begin on, so that neighbours do not meet; a third says nothing.

    Words of the first stand behind the way, those of the others before it.  `span` is that of the window.
    """
    line, word = _LINE * span / 360.0, _WORD * span / 360.0
    eastwards = (marks[-1]["longitude"] - marks[0]["longitude"] + 180.0) % 360.0 > 180.0
    made: list[dict[str, Any]] = []
    for mark in marks:
        near = [
            one["side"] for one in made
            if abs(one["latitude"] - mark["latitude"]) < line
            and abs(one["longitude"] - mark["longitude"]) < word
        ]  # fmt: skip
        ahead = eastwards != (mark is marks[0])
        order = ("left", "right") if ahead else ("right", "left")
        free = next((side for side in order if side not in near), None)
        made.append({**mark, "side": free or "left", "words": mark["words"] if free else ""})
    return made


def ground_track(flight: Flight, ways: Sequence[Homecoming] = ()) -> Any:
    """The chart: the Earth, or the part that is flown over, the way up, the ways home, and marks."""
    import altair as alt

    shown = window(flight)
    ground = {"type": "Feature", "properties": {}, "geometry": land()}
    sea = alt.Chart(alt.sphere()).mark_geoshape(fill=LIGHT["sea"], stroke=LIGHT["quiet"], strokeWidth=0.6)
    net = alt.Chart(alt.graticule(step=[shown.net, shown.net])).mark_geoshape(
        stroke=LIGHT["hair"], strokeWidth=0.6, filled=False
    )
    coast = alt.Chart(alt.Data(values=(ground,))).mark_geoshape(fill=LIGHT["land"], stroke=None)
    flown = [
        alt.Chart(alt.Data(values=(_way(track),))).mark_geoshape(
            filled=False, stroke=LIGHT[colour], strokeWidth=2, strokeCap="round"
        )
        for track, colour in ((flight.trajectory, "two"), *((way.trajectory, "three") for way in ways))
    ]
    base = alt.Chart(alt.Data(values=tuple(sided(places(flight, ways), shown.span)))).encode(
        longitude="longitude:Q", latitude="latitude:Q"
    )
    dots = base.mark_circle(color=LIGHT["two"], size=36, opacity=1)
    texts = [
        base.transform_filter(f"datum.side == '{side}'")
        .mark_text(align=side, dx=8 if side == "left" else -8, dy=1, color=LIGHT["ink"], fontSize=13)
        .encode(text="words:N")
        for side in ("left", "right")
    ]
    return (
        alt.layer(sea, net, coast, *flown, dots, *texts)
        .project(**shown.projection())
        .properties(width=WIDE, height=HIGH)
    )


def _way(track: Trajectory) -> dict[str, Any]:
    """The way over the ground as a line of GeoJSON, with fewer points than were recorded."""
    step = max(1, len(track) // 400)
    points = list(zip(track["longitude"][::step], track["latitude"][::step], strict=True))
    points.append((track["longitude"][-1], track["latitude"][-1]))
    line = [[float(a), float(b)] for a, b in points]
    return {"type": "Feature", "properties": {}, "geometry": {"type": "LineString", "coordinates": line}}
