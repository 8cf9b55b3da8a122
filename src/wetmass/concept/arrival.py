"""What is left to do beyond the ascent: the burns at the destination, each at once."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.concept.model import Mission
from wetmass.concept.targets import GEOSTATIONARY, MOON_ORBIT, MOON_SURFACE
from wetmass.physics.earth import EARTH_RADIUS_WGS84
from wetmass.physics.rocket import STANDARD_GRAVITY
from wetmass.physics.transfers import (
    GEOSTATIONARY_HEIGHT,
    MOON_LANDING,
    apogee_burn,
    moon_capture,
    moon_duration,
)

_LANDING_SOURCE = "Acta Astronautica 177 (2020) 351, table 4, doi 10.1016/j.actaastro.2020.07.032 (2.18 km/s less 5 % reserve)"
_AT_ONCE = "patched conics, burn at once"


@dataclass(frozen=True, slots=True)
class Burn:
    """One burn after the ascent."""

    words: str
    speed: float  # m/s
    source: str


def burns(mission: Mission, latitude: float) -> tuple[Burn, ...]:
    """The burns left to do at the destination, in order; none where the ascent ends the journey.

    latitude  of the site [rad]: the inclination flown where the mission states none
    """
    if mission.perigee is None:
        return ()
    low = mission.perigee.value + EARTH_RADIUS_WGS84
    if mission.to == GEOSTATIONARY:
        turn = abs(latitude) if mission.inclination is None else mission.inclination.value
        speed = apogee_burn(low, GEOSTATIONARY_HEIGHT + EARTH_RADIUS_WGS84, turn)
        return (Burn("round the orbit over the equator and turn its plane", speed, _AT_ONCE),)
    if mission.to not in (MOON_ORBIT, MOON_SURFACE) or mission.c3 is None:
        return ()
    found = [Burn("into a circle 100 km above the Moon", moon_capture(mission.c3.value, low), _AT_ONCE)]
    if mission.to == MOON_SURFACE:
        found.append(Burn("from there down to the surface", MOON_LANDING, _LANDING_SOURCE))
    return tuple(found)


def speed_left(mission: Mission, latitude: float) -> float:
    """What those burns add up to [m/s]."""
    return sum(burn.speed for burn in burns(mission, latitude))


def speed_kept(mission: Mission, latitude: float) -> float:
    """What of it the last stage keeps propellant for [m/s]."""
    return speed_left(mission, latitude) if by_last_stage(mission) else 0.0


def by_last_stage(mission: Mission) -> bool:
    """Whether the last stage makes the burns at the destination."""
    return mission.arrival is not None and mission.arrival.by == "last stage"


def ignitions_at_arrival(mission: Mission) -> int:
    """How often the last stage is lit after the ascent."""
    return (2 if mission.to == MOON_SURFACE else 1) if by_last_stage(mission) else 0


def mass_that_arrives(mass: float, speed: float, isp: float) -> float:
    """What is left of the payload once its own engine has given `speed` [m/s] [kg].

    >>> round(mass_that_arrives(4000.0, 1800.0, 320.0))
    2254
    """
    return mass * math.exp(-speed / (isp * STANDARD_GRAVITY))


def time_to_arrival(mission: Mission) -> float:
    """How long the way to the burns at the destination takes [s]; half an orbit, 0 where there are none."""
    from wetmass.physics.orbits import hohmann_duration

    if mission.perigee is None or not burns(mission, 0.0):
        return 0.0
    low = mission.perigee.value + EARTH_RADIUS_WGS84
    if mission.to == GEOSTATIONARY:
        return hohmann_duration(low, GEOSTATIONARY_HEIGHT + EARTH_RADIUS_WGS84)
    return moon_duration(low)
