"""Is the orbit reached, can it be reached, and does it last?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept, Mission

_NEAR = 1000.0  # m of perigee or apogee, far more than the integration may miss by
_NEAR_SHARE = 3e-5  # … or of the height: the search meets energy and momentum to 1e-5
_NEAR_ENERGY = 5e3  # m²/s², a 10⁻⁴ of what a circle has
_NEAR_ANGLE = math.radians(0.01)
_TWO_LATITUDES = math.radians(0.2)  # geodetic less geocentric latitude, at most


def asked(mission: Mission) -> str:
    """The orbit asked for, in words."""
    if mission.climbs:
        speed = f" with {mission.speed}" if mission.speed is not None else ""
        return f"{said(mission.height.value, 'm')} up{speed}"
    if mission.leaves:
        return f"{mission.way_out()}{_inclined(mission)}"
    low, high = said(mission.perigee.value, "m"), said(mission.apogee.value, "m")
    heights = low if low == high else f"{low.rpartition(chr(0xA0))[0]} × {high}"
    return heights + _inclined(mission)


def _inclined(mission: Mission) -> str:
    return f", inclined {said(mission.inclination.value, 'rad')}" if mission.inclination else ""


def does_not_close(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """A loop that found no answer says which quantity ran away."""
    if closed.closes or closed.short_by > 0.0:
        return
    reason = (closed.reason or "no answer was found").rstrip(".")
    remedy = "Loosen the requirement that binds, or widen what may be found."
    yield Finding(
        "a concept that does not close",
        Weight.FAILS,
        "",
        reason,
        "",
        remedy,
        "the requirements of the concept file",
    )


def short_of_orbit(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """By how much the orbit is missed, and three ways to reach it."""
    if not closed.short_by > 0.0:
        return
    stage = closed.vehicle.stages[-1]
    end = _end_mass(closed)
    exhaust = stage.vacuum_isp * STANDARD_GRAVITY
    more = end * math.expm1(closed.short_by / exhaust)
    ways = []
    if closed.most_payload is not None and 0.0 < closed.most_payload < closed.payload:
        ways.append(f"carry {said(closed.most_payload, 'kg')} instead of {said(closed.payload, 'kg')}")
    elif closed.most_payload is not None and closed.most_payload <= 0.0:
        ways.append("take more propellant or less dry mass: it would be short without any payload, too")
    ways.append(
        f"put some {said(more, 'kg', 2)} more propellant into {stage.name}, a first estimate that "
        "leaves out its own lifting"
    )
    if closed.flight is not None and closed.flight.losses.ideal > 0.0:
        share = closed.short_by / closed.flight.losses.ideal
        ways.append(f"raise every specific impulse by {said(share, '%', 2)}")
    remedy = "To close it, " + "; or ".join(ways) + "."
    yield Finding(
        "short of the height" if concept.mission.climbs else "short of orbit", Weight.FAILS, "",
        f"{said(closed.short_by, 'm/s', 3)} of ideal speed" + _propellant_lacking(closed),
        f"what is asked for: {asked(concept.mission)}"
        if concept.mission.climbs
        else f"the orbit asked for: {asked(concept.mission)}", remedy, "the mission of the concept file",
    )  # fmt: skip


def beside_the_orbit(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """A flight that says it closes ends in the orbit asked for."""
    flight, mission = closed.flight, concept.mission
    if not closed.closes or flight is None or closed.short_by > 0.0 or mission.climbs:
        return
    orbit = flight.orbit
    inclination = mission.inclination.value if mission.inclination else orbit.inclination
    compared = [("inclination", orbit.inclination, inclination, _NEAR_ANGLE)]
    if mission.leaves:
        energy = (orbit.eccentricity - 1.0) * GM / (orbit.perigee + EARTH_RADIUS_WGS84)
        compared.append(("energy", energy, mission.c3.value, _NEAR_ENERGY))
    else:
        compared += [
            ("perigee", orbit.perigee, mission.perigee.value, _NEAR),
            ("apogee", orbit.apogee, mission.apogee.value, _NEAR),
        ]
    off = [
        name
        for name, got, wanted, near in compared
        if not abs(got - wanted) <= max(near, _NEAR_SHARE * abs(wanted))
    ]
    if off:
        reached = (
            f"{said(orbit.perigee, 'm')} × {said(orbit.apogee, 'm')}, inclined "
            f"{said(orbit.inclination, 'rad')}"
        )
        yield Finding(
            "orbit reached", Weight.FAILS, "", reached, asked(mission),
            f"The {' and '.join(off)} missed: the search stopped early. Please report it, with the file.",
            "the mission of the concept file",
        )  # fmt: skip


def inclination_below_latitude(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """No heading from a place leads to an inclination below its latitude."""
    wanted = concept.mission.inclination
    latitude = abs(concept.site.latitude.value)
    if wanted is None:
        return
    if closed.closes or latitude <= min(wanted.value, math.pi - wanted.value) + _TWO_LATITUDES:
        return  # the plane was turned on the way
    yield Finding(
        "inclination below the site's latitude", Weight.FAILS, "", str(wanted),
        f"{said(latitude, 'rad')} to {said(math.pi - latitude, 'rad')} from this site",
        "Take an inclination within it, a site nearer the equator, or turn the orbit's plane with "
        "a burn in orbit.",
        "spherical trigonometry: cos i = cos latitude · sin heading",
    )  # fmt: skip


def low_perigee(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """An orbit so low that air ends it soon."""
    if concept.mission.climbs:
        return
    perigee = closed.flight.orbit.perigee if closed.flight is not None else concept.mission.perigee.value
    accepted = ranges.LASTING_PERIGEE
    if perigee in accepted or not closed.closes:
        return
    yield Finding(
        "low perigee", Weight.NOTE, "", said(perigee, "m", 3), str(accepted),
        "Fine for a parking orbit that is left within hours; else go higher.", accepted.source,
    )  # fmt: skip


def _end_mass(closed: Closed) -> float:
    stage = closed.vehicle.stages[-1]
    p = stage.propellant
    kept = stage.dry_mass + p.kept
    return kept + closed.payload + sum(item.mass for item in closed.vehicle.other)


def _propellant_lacking(closed: Closed) -> str:
    return f", {said(-closed.left_over, 'kg', 3)} of propellant" if closed.left_over < 0.0 else ""
