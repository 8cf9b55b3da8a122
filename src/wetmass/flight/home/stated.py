"""From what a concept says and a flight did to what the way home needs."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from wetmass.flight.home.impact import states
from wetmass.record.flight import Flight
from wetmass.record.homecoming import By, Released, Way
from wetmass.record.mission import Site
from wetmass.record.vehicle import Stage

USUAL_SLENDERNESS = 6.0  # length over diameter of a stage that states no length: from memory


def way(by: str, where: str, site: Site, places: Mapping[str, Site] | None = None, **more: object) -> Way:
    """The way home a concept states in the words `by` and `where`: "downrange", "back to site", or a place.

    site    of lift-off        places  the named places there are
    more    anything else of `Way`, SI
    Raises ValueError for a place that is not known.

    >>> way("powered landing", "back to site", Site(0.25, -0.7)).place
    Site(latitude=0.25, longitude=-0.7, height=0.0, heading_from=0.0, heading_to=6.283185307179586)
    """
    known = places or {}
    if where == "downrange":
        place = None
    elif where == "back to site":
        place = site
    elif where in known:
        place = known[where]
    else:
        names = ", ".join(["downrange", "back to site", *known])
        raise ValueError(f"where must be one of {names}, got {where!r}")
    return Way(by=By(by), place=place, place_name=where, **more)  # type: ignore[arg-type]


def released(
    stage: Stage, time: float, state: Sequence[float], length: float | None = None, used: int = 1
) -> Released:
    """A stage as it is let go at a time [s] in a state (x … vz, Earth-centred, not turning).

    length  of the stage [m]; 6 diameters where none is stated    used  ignitions used up so far

    What it can use is its homecoming propellant; residuals and performance reserve stay in its mass.
    """
    p = stage.propellant
    return Released(
        name=stage.name,
        time=time,
        state=tuple(float(value) for value in state[:6]),
        dry_mass=stage.dry_mass + p.residuals + p.reserve,
        propellant=p.home,
        diameter=stage.diameter,
        length=length or USUAL_SLENDERNESS * stage.diameter,
        engines=tuple(g for g in stage.engines if g.count > 0),
        ignitions_used=used,
    )


def released_in(flight: Flight, index: int, length: float | None = None) -> Released:
    """Stage `index` (0 lowest) as the recorded flight lets it go: at the end of its last row.

    Raises ValueError where the flight has no such stage at work.
    """
    at_work = np.nonzero(np.round(flight.trajectory["stage"]) == index + 1)[0]
    if len(at_work) == 0:
        raise ValueError(f"stage {index + 1} is never at work in this flight")
    row = states(flight.trajectory)[at_work[-1]]
    stage = flight.vehicle.stages[index]
    burns = (
        2 if index == len(flight.vehicle.stages) - 1 and any("again" in e.what for e in flight.events) else 1
    )
    return released(stage, float(row[0]), row[1:], length, burns)


def circle(centre: Site, distance: float, heading: float) -> tuple[float, float]:
    """Latitude and longitude a distance [m] from a place along a heading [rad], on a sphere of 6371 km."""
    arc = distance / 6.371e6
    latitude = math.asin(
        math.sin(centre.latitude) * math.cos(arc)
        + math.cos(centre.latitude) * math.sin(arc) * math.cos(heading)
    )
    east = math.sin(heading) * math.sin(arc) * math.cos(centre.latitude)
    return latitude, centre.longitude + math.atan2(
        east, math.cos(arc) - math.sin(centre.latitude) * math.sin(latitude)
    )
