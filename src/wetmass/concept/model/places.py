"""Places a stage may come home to."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any

from pydantic import Field

from wetmass.concept import dimensions as d
from wetmass.concept.block import Judged
from wetmass.concept.fields import Line
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads, ReadsBearing
from wetmass.concept.wording import shown
from wetmass.record.refusal import Complaint

DOWNRANGE, BACK = "downrange", "back to site"
_Name = Annotated[str, Line(40, name=True, example="barge")]


class NamedPlace(Judged):
    """A place a stage may come home to: where it lies, or how far from the site and which way."""

    called, needs_too = "place", ("latitude", "longitude")

    name: _Name = Field(description="what to call it; `where` of a way home uses the name")
    latitude: Annotated[Quantity, ReadsBearing("90 deg", "N", "S", "8.1 deg N")] | None = Field(
        default=None, description="geodetic latitude, north above zero"
    )
    longitude: Annotated[Quantity, ReadsBearing("180 deg", "E", "W", "41 deg W")] | None = Field(
        default=None, description="longitude, east above zero"
    )
    from_site: Annotated[
        Quantity, Reads(d.LENGTH, at_least="100 m", at_most="19 000 km", spread=False, example="650 km")
    ] | None = Field(default=None, description="distance from the site, instead of latitude and longitude")  # fmt: skip
    heading: Annotated[
        Quantity, Reads(d.ANGLE, at_least="0 deg", at_most="360 deg", spread=False, example="188 deg")
    ] | None = Field(default=None, description="which way from the site, clockwise from north")  # fmt: skip
    height: (
        Annotated[Quantity, Reads(d.LENGTH, at_least="-500 m", at_most="6 km", spread=False, example="5 m")]
        | None
    ) = Field(default=None, description="height above the ellipsoid; 0 where nothing is said")

    @classmethod
    def judge(cls, data: dict[str, Any]) -> tuple[list[Complaint], dict[str, Any]]:
        lies = [key for key in ("latitude", "longitude") if key in data]
        away = [key for key in ("from site", "heading") if key in data]
        if lies and away:
            accepted = "a latitude and longitude, or a distance and heading from the site, not both"
            return [
                Complaint(key, shown(data[key]), accepted, "keep one pair, delete this key") for key in away
            ], data
        pair, got = (("from site", "heading"), away) if away else (("latitude", "longitude"), lies)
        missing = [key for key in pair if key not in got]
        examples = {
            "latitude": "8.1 deg N",
            "longitude": "41 deg W",
            "from site": "650 km",
            "heading": "188 deg",
        }
        return [
            Complaint(key, "nothing", f"both {pair[0]} and {pair[1]}", f'add "{key}: {examples[key]}"')
            for key in missing
        ], data


def unknown_places(stages: Iterable[Any], places: Iterable[NamedPlace]) -> list[Complaint]:
    """Ways home that lead to a place nobody named, and names given twice."""
    found, known = [], []
    for number, place in enumerate(places, 1):
        if place.name in (DOWNRANGE, BACK):
            accepted = f"a name that is not taken: {DOWNRANGE} and {BACK} mean something already"
            found.append(Complaint(f"places / {number} / name", shown(place.name), accepted, "rename it"))
        if place.name in known:
            found.append(
                Complaint(f"places / {number} / name", shown(place.name), "names that differ", "rename one")
            )
        known.append(place.name)
    names = (DOWNRANGE, BACK, *known)
    for number, stage in enumerate(stages, 1):
        if stage.home is not None and stage.home.where not in names:
            remedy = "write one of these, or add the place to places"
            found.append(
                Complaint(
                    f"stages / {number} / home / where", shown(stage.home.where), " | ".join(names), remedy
                )
            )
    return found
