"""Named destinations, as the keys of a mission they stand for."""

from __future__ import annotations

import math
from typing import Any

from wetmass.concept import dimensions as d
from wetmass.concept.quantity import Quantity
from wetmass.concept.statement import parse_quantity
from wetmass.physics.earth import EARTH_RADIUS_WGS84
from wetmass.physics.transfers import GEOSTATIONARY_HEIGHT, PLANETS, moon_c3, planet_c3
from wetmass.record.refusal import Refusal

LOW, SUN_SYNCHRONOUS = "low orbit", "sun-synchronous orbit"
TRANSFER, GEOSTATIONARY = "transfer orbit", "geostationary orbit"
ESCAPE, FLY_BY, MOON_ORBIT, MOON_SURFACE = "escape", "Moon fly-by", "Moon orbit", "Moon surface"
_PLANETS = tuple(name for name in PLANETS if name != "Earth")

MOONWARDS = (FLY_BY, MOON_ORBIT, MOON_SURFACE)
BODIES = (*MOONWARDS, *_PLANETS)
ARRIVALS = (GEOSTATIONARY, MOON_ORBIT, MOON_SURFACE)
TOWARDS = {
    FLY_BY: " past the Moon",
    MOON_ORBIT: " to an orbit round the Moon",
    MOON_SURFACE: " to the Moon's surface",
    **{name: f" to {name}" for name in _PLANETS},
}
NAMED = (LOW, SUN_SYNCHRONOUS, TRANSFER, GEOSTATIONARY, ESCAPE, *BODIES)

# heights where the user states none: round figures of common practice, not of any one site
_DEFAULTS: dict[str, dict[str, str]] = {
    LOW: {"perigee": "200 km"},
    SUN_SYNCHRONOUS: {"perigee": "600 km", "inclination": "sun-synchronous"},
    TRANSFER: {"perigee": "250 km", "argument of perigee": "at the equator"},
    GEOSTATIONARY: {"perigee": "250 km", "argument of perigee": "at the equator"},
}
_WAY_OUT = {"perigee": "185 km"}
_FAR = f"{GEOSTATIONARY_HEIGHT / 1e3:.0f} km"


def named_keys(data: dict[str, Any]) -> dict[str, Any]:
    """The keys of a mission with those added that its name stands for and nobody stated.

    >>> named_keys({"to": "low orbit"})
    {'to': 'low orbit', 'perigee': '200 km', 'insertion': 'best', 'apogee': '200 km'}
    >>> named_keys({"to": "Mars"})["C3"]
    '8.6720 km²/s²'
    """
    name = data.get("to")
    if not isinstance(name, str) or name.strip() not in NAMED or data.get("height") is not None:
        return data if name is not None else _parked(data)
    name = name.strip()
    full = dict(data)
    if _length(full.get("parking")) is not None:  # a way out and an ellipse begin on the circle it coasts on
        full.setdefault("perigee", full["parking"])
    for key, value in _DEFAULTS.get(name, _WAY_OUT).items():
        full.setdefault(key, value)
    full.setdefault("insertion", "best")
    if name in (LOW, SUN_SYNCHRONOUS):
        full.setdefault("apogee", full["perigee"])
    elif name in (TRANSFER, GEOSTATIONARY):
        full.setdefault("apogee", _FAR)
    elif not {"C3", "c3", "apogee"} & full.keys():  # an apogee is refused: one complaint is enough
        energy = _energy(name, full["perigee"])
        if energy is not None:
            full["C3"] = f"{math.ceil(energy / 100.0) / 1e4:.4f} km²/s²"  # up: a little less falls short
    return full


def _parked(data: dict[str, Any]) -> dict[str, Any]:
    """A way out said by its C3 alone leaves from low down."""
    if ("C3" in data or "c3" in data) and "perigee" not in data:
        return {**data, **_WAY_OUT}
    return data


def _energy(name: str, perigee: Any) -> float | None:
    """C3 of the least energy to get there [m²/s²]; None for a perigee that is refused elsewhere."""
    if name == ESCAPE:
        return 0.0
    if name not in MOONWARDS:
        return planet_c3(name)
    height = _length(perigee)
    if height is None:
        return None
    return moon_c3(height.value + EARTH_RADIUS_WGS84) if 0.0 < height.value < 1e8 else None


def _length(said: Any) -> Quantity | None:
    """A height, None where it cannot be read; what is wrong with it is told by its own field."""
    try:
        return said if isinstance(said, Quantity) else parse_quantity(said, d.LENGTH)
    except Refusal:
        return None
