"""Orbits between a low circle and the one asked for: a way to it in steps, where none is found at once."""

from __future__ import annotations

from dataclasses import replace

from wetmass.flight.goal import energy
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.record.mission import Orbit

LOW = 185e3  # m, height of the circle to begin with


def eased_orbit(orbit: Orbit, share: float) -> Orbit:
    """The orbit at `share` of the way from a low circle to `orbit`, of the same inclination.

    Shares are counted in energy and in height of perigee.

    >>> [round(eased_orbit(Orbit(200e3, 36e6), share).apogee / 1e3) for share in (0.0, 0.5, 1.0)]
    [185, 7753, 36000]
    """
    if share == 1.0:
        return orbit
    low = min(LOW, orbit.perigee)
    first, last = -GM / (low + EARTH_RADIUS_WGS84), energy(orbit)
    perigee, c3 = low + share * (orbit.perigee - low), first + share * (last - first)
    if orbit.c3 is not None:
        return replace(orbit, perigee=perigee, c3=c3)
    apogee = -2.0 * GM / c3 - perigee - 2.0 * EARTH_RADIUS_WGS84
    return replace(orbit, perigee=perigee, apogee=max(apogee, perigee))
