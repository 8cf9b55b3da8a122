"""The way home that a concept states for a stage, in SI, with the usual for what it leaves open."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from wetmass.closing.mission import site_of
from wetmass.concept.model import Concept
from wetmass.concept.model import Home as StatedHome
from wetmass.concept.model.places import DOWNRANGE, NamedPlace
from wetmass.flight.home.stated import circle, jets_of, usual_canopies, usual_wings, way
from wetmass.record.homecoming import By, Canopies, Posture, Way
from wetmass.record.mission import Site
from wetmass.record.vehicle import Stage


def places_of(concept: Concept) -> dict[str, Site]:
    """The named places of a concept, as a stage comes down to them."""
    site = site_of(concept)
    return {place.name: _place(place, site) for place in concept.places}


def _place(place: NamedPlace, site: Site) -> Site:
    height = place.height.value if place.height is not None else 0.0
    if place.from_site is not None and place.heading is not None:
        return Site(*circle(site, place.from_site.value, place.heading.value), height)
    assert place.latitude is not None
    assert place.longitude is not None
    return Site(place.latitude.value, place.longitude.value, height)


def way_home(concept: Concept, stage: Stage, home: StatedHome | None) -> tuple[Way, tuple[str, ...]]:
    """How a stage is to come down, and what was assumed; None is a stage nothing is said of: it falls."""
    site = site_of(concept)
    if home is None:
        return way(By.BALLISTIC, DOWNRANGE, site), ()
    more: dict[str, Any] = {"from_orbit": home.from_orbit, **_plain(home)}
    assumed: list[str] = []
    if home.posture is not None:
        more["posture"] = Posture(home.posture)
    by = By.BALLISTIC if home.expended else By(home.by)
    if by is By.JETS:
        more["jets"] = jets_of(stage, **_jets(home))
    if by is By.PARACHUTES:
        more["canopies"], more["splash_limit"], said = _canopies(home, stage)
        assumed += said
    if by is By.GLIDE:
        more["wings"], said = usual_wings(stage.dry_mass, **_wings(home))
        assumed += said
    return way(by, home.where, site, places_of(concept), **more), tuple(assumed)


def _given(pairs: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value.value for key, value in pairs.items() if value is not None}


def _plain(home: StatedHome) -> dict[str, Any]:
    """Keys of a way that stand for one number."""
    limits = home.limits
    counts = {"landing_engines": home.landing_engines, "other_engines": home.braking_engines}
    found = _given({
        "margin": home.margin, "entry_angle": home.entry_angle, "nose_radius": home.nose_radius,
        "turn_around": home.turn_around, "throttle": home.throttle, "landing_load": home.landing_thrust,
        "touch_down_speed": home.touch_down_speed, "acceleration_limit": limits.felt_acceleration,
        "pressure_limit": limits.dynamic_pressure, "heating_limit": limits.heating,
    })  # fmt: skip
    return found | {key: float(count) for key, count in counts.items() if count is not None}


def _jets(home: StatedHome) -> dict[str, Any]:
    return {"burst": home.rocket_burst} | _given({
        "speed": home.cruise_speed, "cruise_height": home.cruise_height, "headwind": home.headwind,
        "hover": home.hover, "ceiling": home.relit_below, "lift_to_drag": home.lift_to_drag,
    })  # fmt: skip


def _wings(home: StatedHome) -> dict[str, Any]:
    return _given({
        "area": home.wing_area, "lift_to_drag": home.lift_to_drag, "best_lift": home.best_lift,
        "most_lift": home.most_lift,
    })  # fmt: skip


def _canopies(home: StatedHome, stage: Stage) -> tuple[tuple[Canopies, ...], float | None, list[str]]:
    """Sets of parachutes, the most speed at touch-down, and what was assumed."""
    speed = home.splash_speed.value if home.splash_speed is not None else None
    if home.parachutes:
        sets = tuple(
            Canopies(
                one.name, one.drag_area.value, one.opens_at.value, one.count, one.reefed,
                **_given({"filling": one.filling}),
            )
            for one in home.parachutes
        )  # fmt: skip
        return sets, speed, []
    mass = stage.dry_mass + stage.propellant.residuals + stage.propellant.reserve
    sets = usual_canopies(mass) if speed is None else usual_canopies(mass, speed)
    total = max(one.drag_area for one in sets)
    across = math.sqrt(4.0 * total / (math.pi * 3 * 0.8))
    return sets, None if speed is None else 1.02 * speed, [
        f"parachutes sized for the splash: a drogue at 5 km, three mains of {across:.0f} m (drag coefficient "
        "0.8) at 2 km"
    ]  # fmt: skip
