"""Site, orbit and limits of a concept as SI records."""

from __future__ import annotations

import math
from dataclasses import replace

from wetmass.concept.arrival import ignitions_at_arrival
from wetmass.concept.measures import Relation
from wetmass.concept.model import Concept
from wetmass.concept.model.orbit_angles import AT_THE_EQUATOR
from wetmass.flight.coasting import must_wait
from wetmass.record.mission import AirLaunch, Climb, Limits, Orbit, Site

LOW_ENOUGH = 300e3  # m: an orbit this low is reached at once (ours: a coast saves nothing there)


def site_of(concept: Concept) -> Site:
    """The place of lift-off; headings as an interval that may pass north, from low to high [rad]."""
    site, launch = concept.site, None
    if site.launch is not None:
        air = site.launch
        launch = AirLaunch(air.height.value, air.speed.value, air.path_angle.value)
    low, high = 0.0, 2.0 * math.pi
    if site.headings is not None:
        low, high = site.headings.low.value, site.headings.high.value
    return Site(site.latitude.value, site.longitude.value, site.height.value, low, high, launch)


def orbit_of(concept: Concept) -> Orbit | Climb:
    """The orbit asked for, or the height to climb to."""
    mission = concept.mission
    if mission.height is not None:
        speed = mission.speed
        return Climb(
            mission.height.value,
            mission.at == "apex",
            None if speed is None else speed.quantity.value,
            speed is None or speed.relation is Relation.AT_LEAST,
            None if mission.path_angle is None else mission.path_angle.value,
            None if mission.heading is None else mission.heading.value,
        )
    assert mission.perigee is not None
    argument = mission.argument_of_perigee
    at_equator = argument == AT_THE_EQUATOR
    return Orbit(
        mission.perigee.value,
        mission.apogee_height,
        None if mission.inclination is None else mission.inclination.value,
        mission.going or "",
        mission.insertion,
        c3=None if mission.c3 is None else mission.c3.value,
        declination=None if mission.declination is None else mission.declination.value,
        argument_of_perigee=None if argument is None or at_equator else argument.value,
        perigee_at_equator=at_equator,
        parking=None if mission.parking is None else mission.parking.value,
    )


def ways_of(concept: Concept, orbit: Orbit | Climb) -> tuple[list[tuple[Orbit | Climb, bool]], list[str]]:
    """Ways to fly to the orbit, (orbit, whether it coasts and burns again), and words on what is left out.

    Two where the concept asks for the best of both; the search flies each.
    """
    if isinstance(orbit, Climb):
        return [(orbit, False)], []
    if orbit.insertion != "best":
        return [(orbit, orbit.insertion == "with coast")], []
    last = next(stage for stage in reversed(concept.stages) if stage.strapped_to is None)
    left = min(g.ignitions for g in last.engines) - ignitions_at_arrival(concept.mission)
    if left > 1:
        coasts = (replace(orbit, insertion="with coast"), True)
        if orbit.parking is not None or must_wait(orbit, site_of(concept)):
            return [coasts], []
        direct = (replace(orbit, insertion="direct"), False)
        return ([direct] if orbit.apogee <= LOW_ENOUGH else [direct, coasts]), []
    said = []
    if orbit.perigee_at_equator or orbit.argument_of_perigee is not None or orbit.declination is not None:
        said.append(f"{last.name} is lit once: where the orbit points is left to the ascent")
    plain = replace(
        orbit, insertion="direct", declination=None, argument_of_perigee=None, perigee_at_equator=False,
        parking=None,
    )  # fmt: skip
    return [(plain, False)], said


def way_like(ways: list[tuple[Orbit | Climb, bool]], coasting: bool) -> tuple[Orbit | Climb, bool]:
    """The way that coasts, or does not, as `coasting` says; the only one where there is one."""
    return next((way for way in ways if way[1] == coasting), ways[0])


def limits_of(concept: Concept) -> Limits:
    """The limits stated, infinite where nothing was."""
    stated = concept.limits
    return Limits(
        acceleration=_or_none(stated.felt_acceleration),
        pressure=_or_none(stated.dynamic_pressure),
        q_alpha=_or_none(stated.q_alpha),
        heating=_or_none(stated.heating),
    )


def _or_none(quantity) -> float:
    return math.inf if quantity is None else quantity.value
