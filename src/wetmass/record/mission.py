"""Where from, where to, and within which limits; SI, angles in radians."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AirLaunch:
    """Let go from a carrier in flight above the site, heading as the ascent does."""

    height: float  # m above the ellipsoid
    speed: float  # m/s through the air
    path_angle: float = 0.0  # rad above the horizon


@dataclass(frozen=True, slots=True)
class Site:
    """The place of lift-off and the headings it allows."""

    latitude: float  # rad, geodetic
    longitude: float  # rad, east positive
    height: float = 0.0  # m above the ellipsoid
    heading_from: float = 0.0  # rad, from north over east
    heading_to: float = 2.0 * math.pi  # rad
    launch: AirLaunch | None = None  # None: from the pad


@dataclass(frozen=True, slots=True)
class Orbit:
    """The orbit asked for; heights above 6378.137 km, elements osculating at insertion.

    A way out is an orbit, too: one whose energy is stated in place of its apogee.
    """

    perigee: float  # m
    apogee: float  # m; infinite for an escape
    inclination: float | None = None  # rad; None: whatever costs least
    going: str = ""  # "north", "south" or "": whichever the site allows
    insertion: str = ""  # "direct", "with coast" or "best": whichever is better
    c3: float | None = None  # m²/s², in place of the apogee; after a coast the perigee is then free
    declination: float | None = None  # rad, where the way out heads for: its asymptote, or its apogee
    argument_of_perigee: float | None = None  # rad, from the ascending node; None: free
    perigee_at_equator: bool = False  # at either node
    parking: float | None = None  # m, circle to coast on before the last burn; None: free


@dataclass(frozen=True, slots=True)
class Climb:
    """A height asked for in place of an orbit, and what must hold there."""

    height: float  # m above the ellipsoid
    at_apex: bool = False  # reached coasting up after the last cut-off; else at the cut-off itself
    speed: float | None = None  # m/s over the turning Earth, at the cut-off
    speed_at_least: bool = True  # more than that is right as well
    path_angle: float | None = None  # rad above the horizon at the cut-off; None: straight up all the way
    heading: float | None = None  # rad


@dataclass(frozen=True, slots=True)
class Limits:
    """What the vehicle and its payload must not be put through; infinite where nothing is asked."""

    acceleration: float = math.inf  # felt, m/s²
    pressure: float = math.inf  # dynamic, Pa
    q_alpha: float = math.inf  # dynamic pressure times angle of attack, Pa·rad
    heating: float = math.inf  # free-molecular, W/m²
