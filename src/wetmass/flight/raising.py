"""Orbits between a low circle and the one asked for: a way to it in steps, where none is found at once."""

from __future__ import annotations

from dataclasses import replace

from wetmass.flight.goal import energy
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.record.mission import Orbit

LOW = 185e3  # m, height of the circle to begin with
STEPS = (0.0, 0.25, 0.5, 0.75, 0.9, 1.0)  # of the way, in energy and in height of perigee


def raised(orbit: Orbit) -> list[Orbit]:
    """Orbits from a low circle to `orbit`, of the same inclination, evenly apart in energy.

    >>> [round(step.apogee / 1e3) for step in raised(Orbit(200e3, 36e6))]
    [185, 3121, 7753, 16146, 25504, 36000]
    """
    low = min(LOW, orbit.perigee)
    first = -GM / (low + EARTH_RADIUS_WGS84)
    last = energy(orbit)
    found = []
    for share in STEPS:
        perigee = low + share * (orbit.perigee - low)
        c3 = first + share * (last - first)
        if orbit.c3 is not None:
            found.append(replace(orbit, perigee=perigee, c3=c3))
            continue
        apogee = -2.0 * GM / c3 - perigee - 2.0 * EARTH_RADIUS_WGS84
        found.append(replace(orbit, perigee=perigee, apogee=max(apogee, perigee)))
    return found
