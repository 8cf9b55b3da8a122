"""Places between: on the way from where a stage comes down to where it was to go, and in words."""

from __future__ import annotations

import math
from collections.abc import Callable

from wetmass.flight.home import places
from wetmass.flight.home.stated import circle
from wetmass.record.mission import Site

ROUNDS = 7  # of halving: 1 % of the distance


def place_words(place: tuple[float, ...]) -> str:
    """A place (latitude, longitude, …) [rad] as people write it, "8.12 deg N, 41.30 deg W".

    >>> place_words((0.1, -0.7))
    '5.73 deg N, 40.11 deg W'
    """
    latitude, longitude = math.degrees(place[0]), math.degrees(place[1])
    north, east = "N" if latitude >= 0.0 else "S", "E" if longitude >= 0.0 else "W"
    return f"{abs(latitude):.2f} deg {north}, {abs(longitude):.2f} deg {east}"


def between(one: tuple[float, float], other: Site, share: float) -> Site:
    """The place a share of the way from one (latitude, longitude) to another, at the other's height."""
    there = (other.latitude, other.longitude)
    far, to = places.distance(one, there), places.bearing(one, there)
    return Site(*circle(Site(*one), share * far, to), other.height)


def farthest(one: tuple[float, float], other: Site, reached: Callable[[Site], bool]) -> Site | None:
    """The place farthest from one towards another that is still reached, to 1 %; None where none is."""
    low, high, found = 0.0, 1.0, None
    for _ in range(ROUNDS):
        share = 0.5 * (low + high)
        place = between(one, other, share)
        if reached(place):
            low, found = share, place
        else:
            high = share
    return found
