"""What the map formats draw: a line over the ground, marks on it, and areas."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wetmass.flight.home.stated import circle
from wetmass.record.closed import Closed
from wetmass.record.flight import Event, Flight, Trajectory
from wetmass.record.homecoming import Homecoming, ImpactPoint, Spread
from wetmass.record.mission import Site

CAUTION = "Concept study only; range safety and licensing decide."


@dataclass(frozen=True, slots=True)
class Mark:
    """A named place on a track."""

    name: str
    time: float  # s since lift-off
    latitude: float  # deg
    longitude: float  # deg
    height: float  # m


@dataclass(frozen=True, slots=True)
class Area:
    """A named area over the ground, and what there is to know of it."""

    name: str
    ring: tuple[tuple[float, float], ...]  # latitude, longitude [deg], closed
    facts: tuple[tuple[str, float | str], ...] = ()  # by name


@dataclass(frozen=True, slots=True)
class Track:
    """A line of (time [s], latitude [deg], longitude [deg], height [m]), with marks and areas."""

    name: str
    about: str
    line: tuple[tuple[float, float, float, float], ...]
    marks: tuple[Mark, ...] = ()
    areas: tuple[Area, ...] = ()


def track_of_flight(flight: Flight) -> Track:
    """The ascent, with its events."""
    return Track(
        f"{flight.vehicle.name}, ascent",
        CAUTION,
        _line(flight.trajectory),
        _marks(flight.trajectory, flight.events),
    )


def tracks_of(closed: Closed) -> list[Track]:
    """The ascent, the points where it would fall if all stopped, and the way home of every stage."""
    found = [] if closed.flight is None else [track_of_flight(closed.flight)]
    if closed.home is not None:
        if len(closed.home.impact_points) > 1:
            found.append(track_of_impact_points(closed.name, closed.home.impact_points))
        found += [track_of_home(way) for way in closed.home.ways]
    return found


def track_of_home(home: Homecoming, spread: Spread | None = None) -> Track:
    """The way home of a stage with its events, and the area its place of coming down may lie in."""
    spread = spread or home.spread
    areas = () if spread is None else (area_of(spread),)
    return Track(
        f"{home.stage}, {home.way.by.value}",
        CAUTION,
        _line(home.trajectory),
        _marks(home.trajectory, home.events),
        areas,
    )


def track_of_impact_points(name: str, points: Sequence[ImpactPoint]) -> Track:
    """The instantaneous impact points of a flight; the time is that of the state each belongs to."""
    line = tuple((p.time, math.degrees(p.latitude), math.degrees(p.longitude), 0.0) for p in points)
    return Track(f"{name}, instantaneous impact point", f"Without air and thrust.  {CAUTION}", line)


def _line(trajectory: Trajectory) -> tuple[tuple[float, float, float, float], ...]:
    rows = zip(*(trajectory[key] for key in ("time", "latitude", "longitude", "height")), strict=True)
    line: list[tuple[float, float, float, float]] = []
    for row in rows:
        made = (float(row[0]), float(row[1]), float(row[2]), float(row[3]))
        if not line or made[0] > line[-1][0]:
            line.append(made)
    return tuple(line)


def _marks(trajectory: Trajectory, events: Sequence[Event]) -> tuple[Mark, ...]:
    times = trajectory["time"]
    made = []
    for event in events:
        row = int(abs(times - event.time).argmin())
        latitude, longitude = float(trajectory["latitude"][row]), float(trajectory["longitude"][row])
        made.append(Mark(event.what, event.time, latitude, longitude, event.height))
    return tuple(made)


def area_of(spread: Spread) -> Area:
    """The ellipse that holds 99 % of the places of coming down."""
    return Area(
        f"99 % of {spread.flights} falls, seed {spread.seed}",
        _ellipse(spread),
        (
            ("falls", spread.flights),
            ("seed", spread.seed),
            ("half axis along [m], one standard deviation", round(spread.along, 1)),
            ("half axis across [m], one standard deviation", round(spread.across, 1)),
            ("azimuth of the longer axis [deg]", round(math.degrees(spread.heading), 2)),
            ("both axes times", round(spread.inside_99, 3)),
            ("drawn", "; ".join(spread.assumed)),
            ("caution", CAUTION),
        ),
    )


def _ellipse(spread: Spread, points: int = 72) -> tuple[tuple[float, float], ...]:
    """The ring of the 99 % ellipse, against the clock, closed."""
    middle = Site(spread.latitude, spread.longitude)
    ring = []
    for i in range(points):
        turn = -math.tau * i / points
        a = spread.inside_99 * spread.along * math.cos(turn)
        b = spread.inside_99 * spread.across * math.sin(turn)
        latitude, longitude = circle(middle, math.hypot(a, b), spread.heading + math.atan2(b, a))
        ring.append((math.degrees(latitude), math.degrees(longitude)))
    return (*ring, ring[0])
