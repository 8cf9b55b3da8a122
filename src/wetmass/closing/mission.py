"""Site, orbit and limits of a concept as SI records."""

from __future__ import annotations

import math

from wetmass.concept.measures import Relation
from wetmass.concept.model import Concept
from wetmass.record.mission import AirLaunch, Climb, Limits, Orbit, Site


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
    assert mission.apogee is not None
    return Orbit(
        mission.perigee.value,
        mission.apogee.value,
        None if mission.inclination is None else mission.inclination.value,
        mission.going or "",
        mission.insertion,
    )


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
