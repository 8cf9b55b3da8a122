"""US Standard Atmosphere 1976, from the ground to 1000 km.

Exact by layers to 86 km of geometric height, with the geopotential height and the molar-mass ratio of the
standard; above, cubics through its species equations (`wetmass.physics.upper_air`).  Below the ground the
lowest layer goes on; above 1000 km the logarithm of pressure goes on straight, towards nothing.
The air stands still with the turning Earth.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from wetmass.physics.pattern import entry, exp, finite, kernel, log, piece, sqrt
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE, STANDARD_GRAVITY
from wetmass.physics.upper_air_table import UPPER_AIR

_SOURCE = "U.S. Standard Atmosphere, 1976 (NOAA-S/T 76-1562, NASA-TM-X-74335)"

SEA_LEVEL_TEMPERATURE = 288.15  # K: USSA 1976, table 2
SEA_LEVEL_DENSITY = 1.2250  # kg/m³: USSA 1976, table I
GAS_CONSTANT_USSA76 = 8314.32  # J/(kmol·K): USSA 1976, table 2
MOLAR_MASS_USSA76 = 28.9644  # kg/kmol, of air at sea level: USSA 1976, table 2
EARTH_RADIUS_USSA76 = 6_356_766.0  # m, effective, for geopotential height: USSA 1976, table 2
RATIO_OF_SPECIFIC_HEATS = 1.40  # USSA 1976, table 2
TOP = 1_000_000.0  # m, where the tables of the standard end

_G0 = STANDARD_GRAVITY
_RS = GAS_CONSTANT_USSA76 / MOLAR_MASS_USSA76  # J/(kg·K)
_LAYERS = (  # geopotential height [m], gradient of molecular-scale temperature [K/m]: USSA 1976, table 4
    *((0.0, -6.5e-3), (11e3, 0.0), (20e3, 1.0e-3), (32e3, 2.8e-3)),
    *((47e3, 0.0), (51e3, -2.8e-3), (71e3, -2.0e-3)),
)
_MOLAR_RATIO = (  # M/M₀ at 80, 80.5 … 86 km geometric: USSA 1976, table 8; straight in between
    *(1.0, 0.999996, 0.999989, 0.999971, 0.999941, 0.999909, 0.999870),
    *(0.999829, 0.999786, 0.999741, 0.999694, 0.999641, 0.999579),
)


def geopotential_height(height: float) -> float:
    """Geopotential height of a geometric height, r₀·z/(r₀ + z) [m].

    height  above sea level, geometric  [m]

    Source: USSA 1976, equation 18.

    >>> round(geopotential_height(86_000.0), 1)
    84852.0
    """
    return EARTH_RADIUS_USSA76 * height / (EARTH_RADIUS_USSA76 + height)


def geometric_height(geopotential: float) -> float:
    """Geometric height of a geopotential height [m]; USSA 1976, equation 19.

    >>> round(geometric_height(11_000.0), 1)
    11019.1
    """
    return EARTH_RADIUS_USSA76 * geopotential / (EARTH_RADIUS_USSA76 - geopotential)


# where a slope of the standard jumps, geometric heights [m]: a propagator stops there
LAYER_EDGES: tuple[float, ...] = (
    *(geometric_height(base) for base, _ in _LAYERS[1:]),
    *(86e3, 91e3, 100e3, 110e3, 120e3, TOP),
)


def _table() -> np.ndarray[Any, np.dtype[np.float64]]:
    """Rows: left edge H; four coefficients each of T_M, T, ln p in powers of (H − edge); factor of ln T_M.

    In a layer with gradient L the pressure is p_b·(T_M/T_b)^(−g₀/(R·L)): its logarithm takes the last
    column; in a layer of one temperature, and above 86 km, it is a polynomial.
    """
    rows = []
    warm, pressure = SEA_LEVEL_TEMPERATURE, math.log(SEA_LEVEL_PRESSURE)
    top = geopotential_height(86e3)
    ends = [base for base, _ in _LAYERS[1:]] + [top]
    for (base, gradient), end in zip(_LAYERS, ends, strict=True):
        if gradient == 0.0:
            slope, factor = -_G0 / (_RS * warm), 0.0
        else:
            slope, factor = 0.0, -_G0 / (_RS * gradient)
        start = pressure - factor * math.log(warm)
        rows.append([base, *(warm, gradient, 0.0, 0.0) * 2, start, slope, 0.0, 0.0, factor])
        hotter = warm + gradient * (end - base)
        pressure = start + slope * (end - base) + factor * math.log(hotter)
        warm = hotter
    rows += _thinning(rows[-1])
    # the upper air starts from the pressure of the lower at 86 km: 0.37338 Pa both ways, 2e-6 apart
    rows += [[*row[:9], row[9] + pressure, *row[10:], 0.0] for row in UPPER_AIR]
    return np.array(rows)


def _thinning(layer: list[float]) -> list[list[float]]:
    """The highest layer again from 80 km up, in pieces in which M/M₀ is straight."""
    base, start, gradient = layer[:3]
    pieces = []
    edges = [geopotential_height(80e3 + 500.0 * step) for step in range(13)]
    for step in range(12):
        low, high = edges[step : step + 2]
        ratio = _MOLAR_RATIO[step]
        fall = (_MOLAR_RATIO[step + 1] - ratio) / (high - low)
        warm = start + gradient * (low - base)
        kinetic = (warm * ratio, warm * fall + gradient * ratio, gradient * fall, 0.0)
        pieces.append([low, warm, gradient, 0.0, 0.0, *kinetic, *layer[9:]])
    return pieces


AIR = _table()  # (rows, 14), read by `air_kernel`


@kernel(height=(-5e3, 1.2e6))
def air_kernel(height):
    """Temperature [K], pressure [Pa], density [kg/m³], speed of sound [m/s] at a geometric height [m]."""
    geopotential = EARTH_RADIUS_USSA76 * height / (EARTH_RADIUS_USSA76 + height)
    row = piece(geopotential, AIR)
    u = geopotential - entry(AIR, row, 0)
    molecular = entry(AIR, row, 1) + u * (
        entry(AIR, row, 2) + u * (entry(AIR, row, 3) + u * entry(AIR, row, 4))
    )
    kinetic = entry(AIR, row, 5) + u * (
        entry(AIR, row, 6) + u * (entry(AIR, row, 7) + u * entry(AIR, row, 8))
    )
    pressure = exp(
        entry(AIR, row, 9)
        + u * (entry(AIR, row, 10) + u * (entry(AIR, row, 11) + u * entry(AIR, row, 12)))
        + entry(AIR, row, 13) * log(molecular)
    )
    warmth = _RS * molecular
    return kinetic, pressure, pressure / warmth, sqrt(RATIO_OF_SPECIFIC_HEATS * warmth)


def air(height: float) -> tuple[float, float, float, float]:
    """Temperature [K], pressure [Pa], density [kg/m³] and speed of sound [m/s] of the standard air.

    height  geometric, above sea level; −5 km and up  [m]

    To 86 km this is the standard itself; from there to 1000 km its printed five figures are met (the
    largest difference to them is below 1e-4 in pressure).  Past 1000 km the values are an extension of
    ours.  The speed of sound is that of molecular-scale temperature and γ = 1.4; the standard prints it to
    86 km only, above it serves to scale.  Continuous; at 86 km pressure exactly, density to 1e-6.
    Raises ValueError below −5 km or for a height that is not a number.
    Source: U.S. Standard Atmosphere, 1976 (NASA-TM-X-74335).

    >>> [round(value, 3) for value in air(0.0)]
    [288.15, 101325.0, 1.225, 340.294]
    """
    finite(height=height)
    if height < -5000.0:
        raise ValueError(f"height must be -5000 m or more, got {height} m")
    return air_kernel(height)
