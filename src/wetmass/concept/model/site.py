"""Where it is launched from: a pad, or a carrier in flight above a place."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block
from wetmass.concept.quantity import Quantity, Span
from wetmass.concept.reads import Reads, ReadsBearing, ReadsSpan
from wetmass.concept.statement import parse_quantity


class AirLaunch(Block):
    """Let go from a carrier in flight above the site, heading as the ascent does."""

    height: Annotated[
        Quantity, Reads(d.LENGTH, at_least="1 km", at_most="40 km", spread=False, example="11 km")
    ] = Field(description="height at which it is let go")
    speed: Annotated[
        Quantity, Reads(d.SPEED, at_least="20 m/s", at_most="2 km/s", spread=False, example="220 m/s")
    ] = Field(description="speed through the air at that moment")
    path_angle: Annotated[
        Quantity, Reads(d.ANGLE, at_least="-10 deg", at_most="80 deg", spread=False, example="25 deg")
    ] = Field(default=parse_quantity("0 deg", d.ANGLE), description="angle of that speed above the horizon")


class Site(Block):
    """Where it is launched from."""

    latitude: Annotated[Quantity, ReadsBearing("90 deg", "N", "S", "14.2 deg N")] = Field(
        description="geodetic latitude of the pad, north above zero"
    )
    longitude: Annotated[Quantity, ReadsBearing("180 deg", "E", "W", "40 deg W")] = Field(
        description="longitude of the pad, east above zero"
    )
    height: Annotated[
        Quantity, Reads(d.LENGTH, at_least="-500 m", at_most="9 km", spread=False, example="20 m")
    ] = Field(default=parse_quantity("0 m", d.LENGTH), description="height of the pad above the ellipsoid")
    headings: Annotated[Span, ReadsSpan(d.ANGLE, "-360 deg", "360 deg", "0 to 200 deg")] | None = Field(
        default=None,
        description="headings the site allows, clockwise from north; all where nothing is said",
    )
    launch: AirLaunch | None = Field(
        default=None, description="from the air, above this place; from the pad where nothing is said"
    )
