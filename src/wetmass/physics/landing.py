"""Vertical landing burn without air: where to light, for how long, with how much propellant."""

from __future__ import annotations

import math

from wetmass.physics.pattern import Letter, above_zero, finite, kernel, not_negative, relation

_EXACT = "exact for steady thrust, mass and gravity; textbook"
_SPEED = Letter("v", "speed downwards at ignition", "m/s", 0.0, 1000.0)
_THRUST = Letter("F", "thrust", "N", 2e5, 1e7)
_MASS = Letter("m", "mass", "kg", 100.0, 1e4)
_GRAVITY = Letter("g", "gravity", "m/s²", 9.0, 10.0)


@kernel
def _stopping_height(speed, thrust, mass, gravity):
    return speed**2 / (2.0 * (thrust / mass - gravity))


@relation(
    kernel=_stopping_height,
    symbol="h",
    words="height to light a vertical landing burn",
    unit="m",
    letters={"speed": _SPEED, "thrust": _THRUST, "mass": _MASS, "gravity": _GRAVITY},
    source=_EXACT,
)
def stopping_height(speed: float, thrust: float, mass: float, gravity: float = 9.80665) -> float:
    """Last height at which a burn of steady mass still stops, v²/(2·(F/m − g)) [m].

    speed    downwards at ignition      [m/s]
    thrust   of the burn, above weight  [N]
    mass     taken as steady            [kg]
    gravity  taken as steady            [m/s²]

    Raises ValueError for a negative speed, or thrust that does not exceed the weight.

    >>> round(stopping_height(250.0, 300e3, 18_000.0), 1)
    4555.4
    """
    not_negative(speed=speed)
    _pushes(thrust, mass, gravity)
    return _stopping_height(speed, thrust, mass, gravity)


@kernel
def _stopping_time(speed, thrust, mass, gravity):
    return speed / (thrust / mass - gravity)


@relation(
    kernel=_stopping_time,
    symbol="t",
    words="time of a vertical landing burn",
    unit="s",
    letters={"speed": _SPEED, "thrust": _THRUST, "mass": _MASS, "gravity": _GRAVITY},
    source=_EXACT,
)
def stopping_time(speed: float, thrust: float, mass: float, gravity: float = 9.80665) -> float:
    """Time of a landing burn of steady mass, v/(F/m − g) [s]; arguments as `stopping_height`.

    >>> round(stopping_time(250.0, 300e3, 18_000.0), 2)
    36.44
    """
    not_negative(speed=speed)
    _pushes(thrust, mass, gravity)
    return _stopping_time(speed, thrust, mass, gravity)


def landing_burn(
    speed: float, thrust: float, mass: float, exhaust_speed: float, gravity: float = 9.80665
) -> tuple[float, float, float]:
    """Height [m], time [s] and propellant [kg] of a vertical landing burn whose mass falls as it burns.

    speed          downwards at ignition              [m/s]
    thrust         steady, above the weight           [N]
    mass           at ignition                        [kg]
    exhaust_speed  effective                          [m/s]
    gravity        taken as steady                    [m/s²]

    v = c·ln(m/(m − ṁ·t)) − g·t is solved for t by Newton's rule from below (it is convex), then
    h = v·t + ½·g·t² − c·t·(1 − ln R/(R − 1)).  No air: with drag the burn is shorter.
    Raises ValueError for a negative speed or thrust that does not exceed the weight.
    Source: rocket equation with gravity, `wetmass.physics.vertical` (textbook).

    >>> [round(part, 1) for part in landing_burn(250.0, 300e3, 18_000.0, 2900.0)]
    [3941.5, 29.6, 3057.2]
    """
    not_negative(speed=speed)
    above_zero(exhaust_speed=exhaust_speed)
    _pushes(thrust, mass, gravity)
    flow = thrust / exhaust_speed
    time = 0.0
    for _ in range(60):
        left = mass - flow * time
        slower = exhaust_speed * math.log(mass / left) - gravity * time - speed
        move = slower / (exhaust_speed * flow / left - gravity)
        while mass - flow * (time - move) <= 0.0:
            move *= 0.5
        time -= move
        if abs(move) < 1e-13 * max(time, 1e-3):
            break
    ratio = mass / (mass - flow * time)
    if ratio - 1.0 < 1e-9:
        risen = 0.0
    else:
        risen = exhaust_speed * time * (1.0 - math.log(ratio) / (ratio - 1.0)) - 0.5 * gravity * time**2
    return speed * time - risen, time, flow * time


def _pushes(thrust: float, mass: float, gravity: float) -> None:
    finite(thrust=thrust)
    above_zero(mass=mass, gravity=gravity)
    if not thrust > mass * gravity:
        raise ValueError(
            f"thrust must exceed the weight, {mass * gravity:.6g} N, to stop a fall, got {thrust} N"
        )
