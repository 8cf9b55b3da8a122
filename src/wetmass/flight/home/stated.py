"""From what a concept says and a flight did to what the way home needs."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from wetmass.flight.home.impact import states
from wetmass.physics.atmosphere import SEA_LEVEL_DENSITY
from wetmass.physics.parachutes import drag_area_for
from wetmass.record.flight import Flight
from wetmass.record.homecoming import By, Canopies, Jets, Released, Way, Wings
from wetmass.record.mission import Site
from wetmass.record.vehicle import Stage

USUAL_SLENDERNESS = 6.0  # length over diameter of a stage that states no length: from memory
USUAL_SPLASH = 12.0  # m/s under parachutes whose size is not stated: ours
USUAL_WING_LOADING = 250.0  # kg/m² of the dry stage, where no wing area is stated: ours
USUAL_LIFT_TO_DRAG = 4.5  # of a winged stage, slow: from memory


def way(by: str, where: str, site: Site, places: Mapping[str, Site] | None = None, **more: object) -> Way:
    """The way home a concept states in the words `by` and `where`: "downrange", "back to site", or a place.

    site    of lift-off        places  the named places there are
    more    anything else of `Way`, SI
    Raises ValueError for a place that is not known.

    >>> way("powered landing", "back to site", Site(0.25, -0.7)).place.latitude
    0.25
    """
    known = {} if places is None else places
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


def way_for(
    stage: Stage, by: str, where: str, site: Site, places: Mapping[str, Site] | None = None, **more: object
) -> tuple[Way, tuple[str, ...]]:
    """The way home of a stage, with the usual for what a concept does not say, and what was assumed.

    Jets are those of the stage; parachutes and wings are sized by its dry mass where `more` has none.
    Raises ValueError for jets where the stage has none, and for an unknown place.
    """
    assumed: list[str] = []
    if by == By.JETS and "jets" not in more:
        more["jets"] = jets_of(stage)
    if by == By.PARACHUTES and "canopies" not in more:
        more["canopies"] = usual_canopies(stage.dry_mass)
        assumed.append(
            f"parachutes sized for {USUAL_SPLASH:.0f} m/s at sea level: drogue at 5 km, three mains at 2 km"
        )
    if by == By.GLIDE and "wings" not in more:
        more["wings"], said = usual_wings(stage.dry_mass)
        assumed += said
    return way(by, where, site, places, **more), tuple(assumed)


def usual_wings(
    dry_mass: float, *, area: float | None = None, lift_to_drag: float | None = None, **more: float
) -> tuple[Wings, list[str]]:
    """Wings for a stage [kg], of the usual loading and lift to drag where none is given; what was assumed."""
    assumed = []
    if area is None:
        assumed.append(f"wings of {USUAL_WING_LOADING:.0f} kg/m²")
    if lift_to_drag is None:
        assumed.append(f"lift to drag {USUAL_LIFT_TO_DRAG:g} (from memory)")
    made = Wings(area or dry_mass / USUAL_WING_LOADING, lift_to_drag or USUAL_LIFT_TO_DRAG, **more)
    return made, assumed


def jets_of(stage: Stage, **more: object) -> Jets:
    """The turbofans and turbojets of a stage as one; `more` is anything else of `Jets`.

    Raises ValueError where it has none.
    """
    groups = [(g.count, g.jet) for g in stage.engines if g.jet is not None]
    if not groups:
        raise ValueError(
            f"{stage.name}: coming home on jets takes turbofans or turbojets, the stage has none"
        )
    thrust = sum(count * jet.static_thrust for count, jet in groups)
    return Jets(
        static_thrust=thrust,
        jet_speed=sum(count * jet.static_thrust * jet.jet_speed for count, jet in groups) / thrust,
        static_fuel_flow=sum(count * jet.static_fuel_flow for count, jet in groups),
        spool_time=max(jet.spool_time for _, jet in groups),
        **more,  # type: ignore[arg-type]
    )


def usual_canopies(mass: float, speed: float = USUAL_SPLASH) -> tuple[Canopies, ...]:
    """A ribbon drogue and three mains that let a mass [kg] sink at a speed [m/s] at sea level."""
    mains = drag_area_for(mass, speed, SEA_LEVEL_DENSITY)
    return (
        Canopies("drogue", 0.04 * mains, 5000.0, 1, ((0.5, 8.0),), 1.5),
        Canopies("mains", mains, 2000.0, 3, ((0.1, 8.0), (0.4, 6.0)), 2.0),
    )


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


def released_in(flight: Flight, name: str | int, length: float | None = None) -> Released:
    """A stage, by name or number (0 lowest), as the recorded flight lets it go; one of those strapped on.

    Raises ValueError where the flight never lets it go.
    """
    if isinstance(name, int):
        name = flight.vehicle.stages[name].name
    stage = next(s for s in flight.vehicle.every_stage() if s.name == name)
    time = let_go_at(flight, name)
    if time is None:
        raise ValueError(f"{name} is never let go in this flight")
    # the row at burn-out counts for the stage above already: it is found by its time
    row = states(flight.trajectory)[np.argmin(np.abs(flight.trajectory["time"] - time))]
    lit = sum(e.what in (f"{name} lights", f"{name} lights again") for e in flight.events)
    return released(stage, float(row[0]), row[1:], length, max(1, lit))


def let_go_at(flight: Flight, name: str) -> float | None:
    """When a stage is let go [s]: at its burn-out, or where the timeline says later; None: never."""
    told = [e.time for e in flight.events if e.what in (f"{name} let go", f"{name} burn out and are let go")]
    if told:
        return told[-1]
    share = next((one for one in flight.stages if one.name == name), None)
    return None if share is None else share.burnout_time


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
