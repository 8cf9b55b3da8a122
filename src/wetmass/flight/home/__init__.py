"""The way home of each stage that is let go.

`come_home` is the one door: what it needs is loaded, and compiled, only when a stage flies.
"""

from __future__ import annotations

from collections.abc import Sequence

from wetmass.record.homecoming import By, Homecoming, Released, Way
from wetmass.record.mission import Site

__all__ = ["come_home"]


def come_home(released: Released, way: Way, site: Site, start: Sequence[float] = ()) -> Homecoming:
    """What becomes of a stage after it is let go.

    released  the stage as it is let go        way   how it is to come down
    site      of lift-off, for distances
    start     `Homecoming.unknowns` of a flight like it, to search from

    Raises ValueError when `way` lacks what it needs (parachutes, jets, wings), or is from orbit without an
    engine.
    """
    if way.from_orbit:
        from wetmass.flight.home.orbit import out_of_orbit

        return out_of_orbit(released, way, site)
    if way.by is By.POWERED:
        from wetmass.flight.home.powered import land

        return land(released, way, site, tuple(start))
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
