"""Site, orbit and limits of a concept as SI records."""

from __future__ import annotations

import math

from wetmass.concept.model import Concept
from wetmass.record.mission import Limits, Orbit, Site


def site_of(concept: Concept) -> Site:
    """The place of lift-off; headings as an interval that may pass north, from low to high [rad]."""
    site = concept.site
    low, high = 0.0, 2.0 * math.pi
    if site.headings is not None:
        low, high = site.headings.low.value, site.headings.high.value
    return Site(site.latitude.value, site.longitude.value, site.height.value, low, high)


def orbit_of(concept: Concept) -> Orbit:
    """The orbit asked for."""
    mission = concept.mission
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
