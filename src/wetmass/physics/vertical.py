"""Straight up without air at a steady gravity: the exact solution that shows what gravity costs."""

from __future__ import annotations

from wetmass.physics.pattern import Letter, above_zero, kernel, log, not_negative, relation, within

_EXHAUST = Letter("c", "effective exhaust speed", "m/s", 500.0, 10_000.0)


@kernel
def _vertical_speed_gain(exhaust_speed, ratio, duration, gravity):
    return exhaust_speed * log(ratio) - gravity * duration


@relation(
    kernel=_vertical_speed_gain,
    symbol="v",
    words="speed after a vertical burn",
    unit="m/s",
    letters={
        "exhaust_speed": _EXHAUST,
        "ratio": Letter("R", "mass ratio", "", 1.01, 20.0),
        "duration": Letter("t", "burn time", "s", 0.0, 600.0),
        "gravity": Letter("g", "gravity", "m/s²", 0.0, 10.0),
    },
    source="University of Southampton, EdShare item 4909, http://edshare.soton.ac.uk/id/document/4909",
)
def vertical_speed_gain(exhaust_speed: float, ratio: float, duration: float, gravity: float) -> float:
    """Speed gained in a straight climb without air, c·ln R − g·t [m/s].

    exhaust_speed  effective                                   [m/s]
    ratio          mass at ignition over mass at burn-out, ≥ 1
    duration       of the burn                                 [s]
    gravity        taken as steady                             [m/s²]

    The second term is the gravity loss.  Exact for a steady gravity whatever the thrust does.
    Raises ValueError for a ratio below 1 or another argument out of range.

    >>> round(vertical_speed_gain(4500.0, 10.0, 300.0, 9.81), -2)
    7400.0
    """
    above_zero(exhaust_speed=exhaust_speed)
    within(1.0, float("inf"), ratio=ratio)
    not_negative(duration=duration, gravity=gravity)
    return _vertical_speed_gain(exhaust_speed, ratio, duration, gravity)


@kernel
def _vertical_height_gain(exhaust_speed, ratio, duration, gravity):
    return exhaust_speed * duration * (1.0 - log(ratio) / (ratio - 1.0)) - 0.5 * gravity * duration**2


@relation(
    kernel=_vertical_height_gain,
    symbol="h",
    words="height after a vertical burn",
    unit="m",
    letters={
        "exhaust_speed": _EXHAUST,
        "ratio": Letter("R", "mass ratio", "", 1.01, 20.0),
        "duration": Letter("t", "burn time", "s", 1.0, 600.0),
        "gravity": Letter("g", "gravity", "m/s²", 0.0, 10.0),
    },
    source="rocket equation integrated once more at a steady flow; textbook, from memory",
)
def vertical_height_gain(exhaust_speed: float, ratio: float, duration: float, gravity: float) -> float:
    """Height climbed from rest in a vertical burn without air, c·t·(1 − ln R/(R − 1)) − ½·g·t² [m].

    Arguments as `vertical_speed_gain`, the ratio above 1; the flow is steady.
    Raises ValueError for an argument out of range.

    >>> round(vertical_height_gain(3824.5935, 15.0, 260.001, 9.81), -1)
    470470.0
    """
    above_zero(exhaust_speed=exhaust_speed)
    within(1.0 + 1e-9, float("inf"), ratio=ratio)
    not_negative(duration=duration, gravity=gravity)
    return _vertical_height_gain(exhaust_speed, ratio, duration, gravity)


@kernel
def _coasting_height(speed, gravity):
    return speed**2 / (2.0 * gravity)


@relation(
    kernel=_coasting_height,
    symbol="h_c",
    words="height coasted",
    unit="m",
    letters={
        "speed": Letter("v", "speed upwards", "m/s", 0.0, 9000.0),
        "gravity": Letter("g", "gravity", "m/s²", 1.0, 10.0),
    },
    source="exact for steady gravity; textbook",
)
def coasting_height(speed: float, gravity: float) -> float:
    """Height climbed without thrust or air, v²/(2·g) [m].

    speed    upwards          [m/s]
    gravity  taken as steady  [m/s²]

    Raises ValueError for a negative speed or a gravity not above zero.

    >>> coasting_height(100.0, 10.0)
    500.0
    """
    not_negative(speed=speed)
    above_zero(gravity=gravity)
    return _coasting_height(speed, gravity)
