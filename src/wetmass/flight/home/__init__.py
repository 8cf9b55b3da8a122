"""The way home of each stage that is let go.

`come_home` is the one door: what it needs is loaded, and compiled, only when a stage flies.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from wetmass.flight.home.reserve import find_reserve
from wetmass.record.homecoming import By, Homecoming, Released, Way
from wetmass.record.mission import Site

__all__ = ["come_home", "find_reserve"]


def come_home(
    released: Released, way: Way, site: Site, start: Sequence[float] = (), *, advice: bool = True
) -> Homecoming:
    """What becomes of a stage after it is let go.

    released  the stage as it is let go        way   how it is to come down
    site      of lift-off, for distances
    start     `Homecoming.unknowns` of a flight like it, to search from
    advice    look for what would do where this does not, if that takes many flights more

    Raises ValueError when `way` lacks what it needs (parachutes, jets, wings), is from orbit without an
    engine, or the stage cannot be (a mass not above zero, a place inside the Earth).
    """
    _check(released, way)
    if way.from_orbit:
        from wetmass.flight.home.orbit import out_of_orbit

        return out_of_orbit(released, way, site)
    if way.by is By.POWERED:
        from wetmass.flight.home.powered import land

        return land(released, way, site, tuple(start), advice=advice)
    if way.by is By.JETS:
        from wetmass.flight.home.jets import on_jets

        return on_jets(released, way, site)
    if way.by is By.GLIDE:
        from wetmass.flight.home.glide import glide

        return glide(released, way, site)
    from wetmass.flight.home.fall import fall, under_parachutes

    if way.by is By.PARACHUTES:
        return under_parachutes(released, way, site)
    return fall(released, way, site)


def _check(released: Released, way: Way) -> None:
    sizes = {"dry_mass": released.dry_mass, "diameter": released.diameter, "length": released.length}
    for name, value in sizes.items():
        if not 0.0 < value < math.inf:
            raise ValueError(f"{released.name}: {name} must be above 0, got {value}")
    if not 0.0 <= released.propellant < math.inf:
        raise ValueError(f"{released.name}: propellant must be 0 or more, got {released.propellant} kg")
    if len(released.state) != 6 or not all(math.isfinite(value) for value in released.state):
        raise ValueError(f"{released.name}: state must be six finite numbers, got {released.state}")
    if not 6.3e6 < math.dist(released.state[:3], (0.0, 0.0, 0.0)) < 1e9:
        raise ValueError(f"{released.name}: state must lie outside the Earth, got {released.state[:3]} m")
    if way.by is By.PARACHUTES and not way.canopies:
        raise ValueError("way.canopies must say which parachutes the stage sinks under, got none")
