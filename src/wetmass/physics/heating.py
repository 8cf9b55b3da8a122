"""Heating by the air met at speed, as flux on a surface that faces it."""

from __future__ import annotations

from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation, sqrt

SUTTON_GRAVES_EARTH = 1.7415e-4  # kg½/m, for air: Sutton and Graves 1971, NASA TR R-376 (from memory)

_DENSITY = Letter("ρ", "density of the air", "kg/m³", 0.0, 1e-3)
_SPEED = Letter("v", "speed through the air", "m/s", 0.0, 12_000.0)


@kernel
def free_molecular_kernel(density, speed):
    return 0.5 * density * speed**3


@relation(
    kernel=free_molecular_kernel,
    symbol="q̇",
    words="free-molecular heating",
    unit="W/m²",
    letters={"density": _DENSITY, "speed": _SPEED},
    source="flux of kinetic energy, all taken up; the rule of launch guides for dropping the fairing "
    "(1135 W/m²): common practice",
)
def free_molecular_heating(density: float, speed: float) -> float:
    """Heating where the molecules strike one by one, ½·ρ·v³ [W/m²].

    density  of the air       [kg/m³]
    speed    through the air  [m/s]

    Holds in thin air (fairings are dropped by it, near 110 km); an upper bound lower down.
    Raises ValueError for a negative argument.

    >>> round(free_molecular_heating(1e-8, 6000.0))
    1080
    """
    not_negative(density=density, speed=speed)
    return free_molecular_kernel(density, speed)


@kernel
def _stagnation_heating(density, speed, nose_radius):
    return SUTTON_GRAVES_EARTH * sqrt(density / nose_radius) * speed**3


@relation(
    kernel=_stagnation_heating,
    symbol="q̇_s",
    words="heating of the stagnation point",
    unit="W/m²",
    letters={
        "density": Letter("ρ", "density of the air", "kg/m³", 1e-9, 1e-2),
        "speed": _SPEED,
        "nose_radius": Letter("r_n", "radius of the nose", "m", 0.01, 10.0),
    },
    source="K. Sutton and R. A. Graves, NASA TR R-376, 1971: k = 1.7415e-4 for air (from memory)",
)
def stagnation_heating(density: float, speed: float, nose_radius: float) -> float:
    """Convective heating of a blunt nose in air, k·√(ρ/r_n)·v³ [W/m²], on a cold wall.

    density      of the air, undisturbed  [kg/m³]
    speed        through the air          [m/s]
    nose_radius  of curvature             [m]

    For continuum flow at entry speeds, radiation of the gas left out.  Raises ValueError for a negative
    density or speed, or a radius not above zero.

    >>> round(stagnation_heating(3e-4, 7000.0, 1.0) / 1e4)  # W/cm²
    103
    """
    not_negative(density=density, speed=speed)
    above_zero(nose_radius=nose_radius)
    return _stagnation_heating(density, speed, nose_radius)
