"""Reach on wings and on jets: straight glide, equilibrium glide from great speed, cruise, hover."""

from __future__ import annotations

from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM
from wetmass.physics.pattern import Letter, above_zero, kernel, log, not_negative, relation, within

_BREGUET = (
    "Breguet range equation, R = V/sfc·L/D·ln(Wi/Wf): MIT 16.100, lecture 9 (2002), "
    "https://www.scribd.com/doc/159544087/16100lecture9-Cg"
)
_LIFT = Letter("L/D", "lift to drag", "", 0.5, 20.0)
_SFC = Letter("c_t", "fuel flow over thrust", "kg/(N·s)", 5e-6, 5e-5)
_RATIO = Letter("R_m", "mass at the start over mass at the end", "", 1.0, 2.0)


@kernel
def _glide_reach(height, speed, lift_to_drag, gravity):
    return lift_to_drag * (height + speed**2 / (2.0 * gravity))


@relation(
    kernel=_glide_reach,
    symbol="x",
    words="reach of a glide",
    unit="m",
    letters={
        "height": Letter("h", "height to lose", "m", 0.0, 30e3),
        "speed": Letter("v", "speed to lose", "m/s", 0.0, 700.0),
        "lift_to_drag": _LIFT,
        "gravity": Letter("g", "gravity", "m/s²", 9.0, 10.0),
    },
    source="energy over drag at lift equal to weight; textbook",
)
def glide_reach(height: float, speed: float, lift_to_drag: float, gravity: float = 9.80665) -> float:
    """Level distance of a glide at one lift to drag, L/D·(h + v²/(2·g)) [m].

    height        to lose                                   [m]
    speed         to lose, well below orbital               [m/s]
    lift_to_drag  of the whole glide, above zero
    gravity       taken as steady                           [m/s²]

    Lift equal to weight, a shallow path.  Raises ValueError for a negative height or speed.

    >>> round(glide_reach(10e3, 0.0, 4.0))
    40000
    """
    not_negative(height=height, speed=speed)
    above_zero(lift_to_drag=lift_to_drag, gravity=gravity)
    return _glide_reach(height, speed, lift_to_drag, gravity)


@kernel
def _equilibrium_glide_range(speed, lift_to_drag):
    circular = GM / EARTH_RADIUS_WGS84
    return -0.5 * EARTH_RADIUS_WGS84 * lift_to_drag * log(1.0 - speed**2 / circular)


@relation(
    kernel=_equilibrium_glide_range,
    symbol="x",
    words="range of an equilibrium glide from great speed",
    unit="m",
    letters={"speed": Letter("v", "speed at the start", "m/s", 0.0, 7800.0), "lift_to_drag": _LIFT},
    source="E. Sänger's equilibrium glide, ½·R·(L/D)·ln(1/(1 − v²/v_c²)); Allen, Eggers and Neice, NACA "
    "Report 1382 (1958) (from memory)",
)
def equilibrium_glide_range(speed: float, lift_to_drag: float) -> float:
    """Range of a glide where lift and centrifugal force carry the weight, −½·R·(L/D)·ln(1 − v²/v_c²) [m].

    speed         at the start, below circular speed at the surface  [m/s]
    lift_to_drag  of the whole glide, above zero

    The Earth not turning, height not counted.  Raises ValueError for a speed outside [0, v_c).

    >>> round(equilibrium_glide_range(3000.0, 2.0) / 1e3)
    992
    """
    within(0.0, 0.999999 * (GM / EARTH_RADIUS_WGS84) ** 0.5, speed=speed)
    above_zero(lift_to_drag=lift_to_drag)
    return _equilibrium_glide_range(speed, lift_to_drag)


@kernel
def _cruise_range(speed, headwind, lift_to_drag, fuel_flow, mass_ratio, gravity):
    return (speed - headwind) * lift_to_drag / (fuel_flow * gravity) * log(mass_ratio)


@relation(
    kernel=_cruise_range,
    symbol="R",
    words="range of a cruise on jets",
    unit="m",
    letters={
        "speed": Letter("V", "speed through the air", "m/s", 20.0, 300.0),
        "headwind": Letter("w", "headwind", "m/s", 0.0, 15.0),
        "lift_to_drag": _LIFT,
        "fuel_flow": _SFC,
        "mass_ratio": _RATIO,
        "gravity": Letter("g", "gravity", "m/s²", 9.0, 10.0),
    },
    source=_BREGUET,
)
def cruise_range(
    speed: float,
    headwind: float,
    lift_to_drag: float,
    fuel_flow: float,
    mass_ratio: float,
    gravity: float = 9.80665,
) -> float:
    """Distance over the ground of a cruise on jets, (V − w)·(L/D)/(c_t·g)·ln(m₁/m₂) [m].

    speed         through the air, above the headwind                    [m/s]
    headwind      against the way, 0 or more                             [m/s]
    lift_to_drag  or weight over thrust where thrust carries the weight
    fuel_flow     over thrust, c_t                                       [kg/(N·s)]
    mass_ratio    at the start over at the end, 1 or more
    gravity       taken as steady                                        [m/s²]

    Speed, L/D and c_t held through the cruise.  Raises ValueError when the headwind eats the speed.

    >>> round(cruise_range(230.0, 0.0, 17.0, 0.6 / 3600 / 9.80665, 1.3) / 1e3)
    6155
    """
    above_zero(speed=speed, lift_to_drag=lift_to_drag, fuel_flow=fuel_flow, gravity=gravity)
    not_negative(headwind=headwind)
    within(1.0, float("inf"), mass_ratio=mass_ratio)
    if not headwind < speed:
        raise ValueError(f"headwind must be below the speed, {speed} m/s, to come home, got {headwind} m/s")
    return _cruise_range(speed, headwind, lift_to_drag, fuel_flow, mass_ratio, gravity)


@kernel
def _endurance(lift_to_drag, fuel_flow, mass_ratio, gravity):
    return lift_to_drag / (fuel_flow * gravity) * log(mass_ratio)


@relation(
    kernel=_endurance,
    symbol="E",
    words="endurance on jets",
    unit="s",
    letters={
        "lift_to_drag": _LIFT,
        "fuel_flow": _SFC,
        "mass_ratio": _RATIO,
        "gravity": Letter("g", "gravity", "m/s²", 9.0, 10.0),
    },
    source=f"{_BREGUET}, without the speed",
)
def endurance(lift_to_drag: float, fuel_flow: float, mass_ratio: float, gravity: float = 9.80665) -> float:
    """Time aloft on jets, (L/D)/(c_t·g)·ln(m₁/m₂) [s]; a hover has L/D = 1.

    Arguments as `cruise_range`.

    >>> round(endurance(1.0, 1.2e-5, 1.1), 1)
    809.9
    """
    above_zero(lift_to_drag=lift_to_drag, fuel_flow=fuel_flow, gravity=gravity)
    within(1.0, float("inf"), mass_ratio=mass_ratio)
    return _endurance(lift_to_drag, fuel_flow, mass_ratio, gravity)
