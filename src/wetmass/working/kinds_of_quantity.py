"""What the unit of a value says about the words round it.

A time is not made a dry mass by standing in "the tanks are dry after 183 s": ideas that no value of its unit
can carry are dropped.  Where the name of a line holds no idea that fits its unit, other words of the line do:
"so it has to be 94.1/(π · 2²) = 7.49 m tall" is a height.
"""

from __future__ import annotations

import re

from wetmass.working.units import (
    ACCELERATION,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    POWER,
    PRESSURE,
    SPEED,
    TIME,
    VOLUME,
    Dimension,
)

_MASSES = frozenset(
    ["propellant", "dry", "payload", "mass", "fuel", "oxidiser", "residual", "load", "lox", "lh2"]
)
_ENDS = frozenset(["start", "end"])
_ROUND = frozenset(["radius", "diameter", "length", "volume", "area"])
_OTHERS = frozenset(["thrust", "flow", "density", "pressure"])

# ideas that a value of this unit cannot carry
FOREIGN: dict[Dimension, frozenset[str]] = {
    TIME: _MASSES | _ENDS | _ROUND | _OTHERS | {"tank", "engine", "speed", "height", "acceleration", "wall"},
    LENGTH: _MASSES | _OTHERS | {"speed", "acceleration", "time"},
    SPEED: _MASSES | _OTHERS | _ROUND | {"tank", "acceleration"},
    ACCELERATION: _MASSES | _OTHERS | _ROUND | {"tank", "speed"},
    PRESSURE: _MASSES | _ENDS | {"thrust", "flow", "speed", "volume"},
    AREA: _MASSES | _ENDS | {"thrust", "flow", "speed"},
    VOLUME: _ENDS | {"dry", "payload", "mass", "thrust", "speed"},
    DENSITY: _ENDS | {"dry", "payload", "mass", "thrust", "speed", "load", "volume"},
    FORCE: (_MASSES - {"load"}) | _ROUND,
    POWER: _MASSES | _ENDS | _ROUND | _OTHERS | {"exhaust", "speed"},
    MASS_FLOW: {"dry", "payload", "mass", "volume", "speed"} | _ENDS,
}

# ideas of which one says what a value of this unit is
TELLING: dict[Dimension, frozenset[str]] = {
    LENGTH: frozenset(["radius", "diameter", "length", "height", "distance", "wall", "axis", "circumference", "range", "coast",
        "stopping", "spacing", "pitch"]),
    TIME: frozenset(["time", "burn", "isp", "period", "coast"]),
    SPEED: frozenset(["speed", "dv", "exhaust", "loss", "gain", "cstar"]),
    ACCELERATION: frozenset(["acceleration", "gravity", "felt", "load"]),
    VOLUME: frozenset(["volume"]),
    AREA: frozenset(["area", "surface", "exit", "throat", "mantle", "cross"]),
    FORCE: frozenset(["thrust", "weight", "drag", "lift"]),
    PRESSURE: frozenset(["pressure", "stress"]),
    MASS: frozenset(["mass", "propellant", "dry", "payload", "fuel", "oxidiser", "load", "used", "start", "end"]),
}  # fmt: skip

_BEHIND = re.compile(
    r"^\s*,?\s*(?:(?:of|in)\s+)?(tall|high|up|long|wide|across|thick|deep|radius|diameter|length|height|left|remain\w*)\b"
)
_SAID_BEHIND = {
    "tall": {"height", "length"}, "high": {"height", "length"}, "up": {"height"}, "long": {"length"},
    "wide": {"diameter"}, "across": {"diameter"}, "thick": {"wall"}, "deep": {"height"}, "radius": {"radius"},
    "diameter": {"diameter"}, "length": {"length"}, "height": {"height"},
}  # fmt: skip


def fitting(ideas: frozenset[str], dimension: Dimension) -> frozenset[str]:
    """The ideas a value of this unit can carry.

    >>> sorted(fitting(frozenset({"dry", "end", "tank", "burn"}), TIME))
    ['burn']
    """
    if dimension == NONE:
        return ideas
    return ideas - FOREIGN.get(dimension, frozenset()) - {"count"}


def told(ideas: frozenset[str], dimension: Dimension) -> bool:
    """Whether the ideas say what a value of this unit is."""
    telling = TELLING.get(dimension)
    return dimension == NONE or telling is None or bool(ideas & telling)


def behind(note: str) -> frozenset[str]:
    """What the words right behind a result say it is.

    >>> sorted(behind(" tall."))
    ['height', 'length']
    """
    match = _BEHIND.match(note.lower())
    return frozenset(_SAID_BEHIND.get(match.group(1), ())) if match else frozenset()
