"""Ballistic entry into an exponential atmosphere: the closed forms, and bluff bodies' drag.

A steep straight path, no lift, gravity left out beside the drag.  The flights use the exact air and the
turning Earth instead; these relations are for the hand, and check the flights where they hold.
"""

from __future__ import annotations

import math

from wetmass.physics.pattern import Letter, above_zero, exp, kernel, log, not_negative, relation, sin, within

_ALLEN_EGGERS = (
    "H. J. Allen and A. J. Eggers, NACA Report 1381 (1958); as in Fortescue and others, Spacecraft Systems "
    "Engineering, equations 7.18 and 7.19, https://fliphtml5.com/qgguy/rmpp/SPACECRAFT_SYSTEMS_ENGINEERING/258"
)
_SPEED = Letter("v_E", "speed at entry", "m/s", 500.0, 13_000.0)
_ANGLE = Letter("γ", "angle of the path below the horizon", "rad", 0.09, 1.57)
_SCALE = Letter("H", "scale height of the air", "m", 6000.0, 9000.0)
_COEFFICIENT = Letter("β", "ballistic coefficient m/(C_D·A)", "kg/m²", 10.0, 10_000.0)
_GROUND = Letter("ρ₀", "density of the air at the ground", "kg/m³", 1.0, 2.0)

SLOWED_AT_PEAK = math.exp(-0.5)  # speed over entry speed where the deceleration peaks: Allen and Eggers


@kernel
def _ballistic_coefficient(mass, drag_coefficient, area):
    return mass / (drag_coefficient * area)


@relation(
    kernel=_ballistic_coefficient,
    symbol="β",
    words="ballistic coefficient",
    unit="kg/m²",
    letters={
        "mass": Letter("m", "mass", "kg", 1.0, 2e5),
        "drag_coefficient": Letter("C_D", "drag coefficient", "", 0.1, 2.0),
        "area": Letter("A", "reference area", "m²", 0.01, 500.0),
    },
    source="definition",
)
def ballistic_coefficient(mass: float, drag_coefficient: float, area: float) -> float:
    """Ballistic coefficient, m/(C_D·A) [kg/m²].

    mass              of the body                       [kg]
    drag_coefficient  on the reference area
    area              reference area, above zero        [m²]

    Raises ValueError when an argument is not above zero.

    >>> ballistic_coefficient(2000.0, 0.8, 10.0)
    250.0
    """
    above_zero(mass=mass, drag_coefficient=drag_coefficient, area=area)
    return _ballistic_coefficient(mass, drag_coefficient, area)


@kernel
def _peak_deceleration(speed, angle, scale_height):
    return speed**2 * sin(angle) / (2.0 * exp(1.0) * scale_height)


@relation(
    kernel=_peak_deceleration,
    symbol="a_max",
    words="greatest deceleration of a ballistic entry",
    unit="m/s²",
    letters={"speed": _SPEED, "angle": _ANGLE, "scale_height": _SCALE},
    source=_ALLEN_EGGERS,
)
def peak_deceleration(speed: float, angle: float, scale_height: float) -> float:
    """Greatest deceleration of a steep ballistic entry, v_E²·sin γ/(2·e·H) [m/s²].

    speed         through the air at entry                  [m/s]
    angle         of the path below the horizon, to π/2     [rad]
    scale_height  of the exponential air                    [m]

    The mass and the drag do not matter; they set how high it comes.  Straight path: holds from about 5°
    down, and only when the peak lies above the ground (`height_of_peak`).
    Raises ValueError when speed or scale height is not above zero, or angle is not in (0, π/2].

    >>> round(peak_deceleration(7800.0, 0.35, 7200.0) / 9.80665, 1)
    54.3
    """
    above_zero(speed=speed, scale_height=scale_height)
    _angle(angle)
    return _peak_deceleration(speed, angle, scale_height)


@kernel
def _height_of_peak(coefficient, angle, scale_height, ground_density):
    return scale_height * log(ground_density * scale_height / (coefficient * sin(angle)))


@relation(
    kernel=_height_of_peak,
    symbol="h_max",
    words="height of the greatest deceleration",
    unit="m",
    letters={"coefficient": _COEFFICIENT, "angle": _ANGLE, "scale_height": _SCALE, "ground_density": _GROUND},
    source=_ALLEN_EGGERS,
)
def height_of_peak(coefficient: float, angle: float, scale_height: float, ground_density: float) -> float:
    """Height where a ballistic entry slows most, H·ln(ρ₀·H/(β·sin γ)) [m].

    coefficient     ballistic, m/(C_D·A)                     [kg/m²]
    angle           of the path below the horizon, to π/2    [rad]
    scale_height    of the exponential air                   [m]
    ground_density  of the air at height 0                   [kg/m³]

    Below zero where the ground comes first.  Raises ValueError as `peak_deceleration`.

    >>> round(height_of_peak(300.0, 0.349066, 7200.0, 1.225))
    32068
    """
    above_zero(coefficient=coefficient, scale_height=scale_height, ground_density=ground_density)
    _angle(angle)
    return _height_of_peak(coefficient, angle, scale_height, ground_density)


@kernel
def _speed_at_height(height, speed, coefficient, angle, scale_height, ground_density):
    met = ground_density * scale_height * exp(-height / scale_height)
    return speed * exp(-met / (2.0 * coefficient * sin(angle)))


@relation(
    kernel=_speed_at_height,
    symbol="v",
    words="speed of a ballistic entry at a height",
    unit="m/s",
    letters={
        "height": Letter("h", "height", "m", 0.0, 120e3),
        "speed": _SPEED,
        "coefficient": _COEFFICIENT,
        "angle": _ANGLE,
        "scale_height": _SCALE,
        "ground_density": _GROUND,
    },
    source=_ALLEN_EGGERS,
)
def speed_at_height(
    height: float, speed: float, coefficient: float, angle: float, scale_height: float, ground_density: float
) -> float:
    """Speed left at a height of a ballistic entry, v_E·exp(−ρ·H/(2·β·sin γ)) [m/s].

    height  above the ground, 0 or more  [m]; the others as in `peak_deceleration` and `height_of_peak`

    Without gravity, so a light body's last speed reads too low: the terminal speed is the floor.
    Raises ValueError as they do.

    >>> round(speed_at_height(0.0, 13_000.0, 4641.9, math.radians(15.0), 1 / 0.000118, 1.0), 1)
    382.1
    """
    above_zero(speed=speed, coefficient=coefficient, scale_height=scale_height, ground_density=ground_density)
    not_negative(height=height)
    _angle(angle)
    return _speed_at_height(height, speed, coefficient, angle, scale_height, ground_density)


def _angle(angle: float) -> None:
    within(1e-12, math.pi / 2.0, angle=angle)


# ── drag of a spent stage ────────────────────────────────────────────────────────────────────────

# Broadside, on length times diameter.  Above Mach 0.7: F. E. Gowen and E. W. Perkins, "Drag of circular
# cylinders for a wide range of Reynolds and Mach numbers", NACA TN 2960 (1953), whose summary gives 2.1 at
# Mach 1 and 1.34 at 2.9 and no effect of length; slow and large: 0.7, A. Roshko, J. Fluid Mechanics 10
# (1961) 345, at Reynolds numbers from 3.5e6.  Between these points, and to Newton's 4/3 far above: ours.
BROADSIDE_MACH = (0.0, 0.35, 0.5, 0.7, 0.85, 1.0, 1.3, 1.7, 2.2, 2.9, 5.0, 10.0)
BROADSIDE_DRAG = (0.70, 0.70, 0.85, 1.25, 1.75, 2.10, 1.80, 1.58, 1.44, 1.34, 1.33, 1.33)
BROADSIDE_SOURCE = (
    "NACA TN 2960 (2.1 at Mach 1, 1.34 at Mach 2.9, summary read in a public copy, "
    "https://vdocuments.us/amp/drag-of-circular-cylinders-for-a-wide-range.html); Roshko 1961: 0.7 slow; "
    "drawn between by us"
)
# Base or flat end first, on the cross-section; from memory in the manner of S. F. Hoerner, Fluid-Dynamic
# Drag, chapters 3 and 16: flat face of a long cylinder, 0.82 slow, rising to the stagnation pressure behind
# a normal shock (0.9 of 1.84) with the base's pressure gone.
END_ON_MACH = (0.0, 0.5, 0.8, 1.0, 1.2, 1.5, 2.0, 3.0, 5.0, 10.0)
END_ON_DRAG = (0.82, 0.86, 0.98, 1.18, 1.38, 1.52, 1.62, 1.66, 1.68, 1.68)
END_ON_SOURCE = "from memory: flat-faced cylinder end-on, after Hoerner, Fluid-Dynamic Drag"

MEAN_BROADSIDE_TUMBLE = 4.0 / (3.0 * math.pi)  # mean of |sin³| over a turn end over end
MEAN_END_TUMBLE = 4.0 / (3.0 * math.pi)  # mean of |cos³|


def tumbling_drag(broadside: float, end_on: float, slenderness: float) -> float:
    """Mean drag coefficient of a cylinder that turns end over end, on its cross-section.

    broadside    coefficient across, on length times diameter
    end_on       coefficient along, on the cross-section
    slenderness  length over diameter, above zero

    Cross-flow principle: the drag of each attitude is that across times |sin³| and that along times
    |cos³| of the angle to the wind; both average 4/(3·π) over a turn in the plane of flight.
    Raises ValueError for a slenderness not above zero or a negative coefficient.
    Source: cross-flow principle, Hoerner, Fluid-Dynamic Drag, chapter 3 (from memory).

    >>> round(tumbling_drag(1.34, 1.66, 4.0), 2)
    3.6
    """
    above_zero(slenderness=slenderness)
    not_negative(broadside=broadside, end_on=end_on)
    side = broadside * slenderness * 4.0 / math.pi
    return MEAN_BROADSIDE_TUMBLE * side + MEAN_END_TUMBLE * end_on
