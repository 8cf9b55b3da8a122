"""US Standard Atmosphere 1976, from the ground to 1000 km.

By the layers of the standard to 86 km of geometric height, with its geopotential height and molar-mass ratio;
above, cubics through its species equations (`wetmass.physics.upper_air`).  A flight reads both from one
table, which meets the layers to 1e-11.  Below the ground the lowest layer goes on; above 1000 km the
logarithm of pressure goes on straight, towards nothing.
The air stands still with the turning Earth.
"""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np

from wetmass.physics.pattern import entry, exp, finite, kernel, piece, sqrt
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


def _bases() -> list[tuple[float, float, float, float]]:
    """Each layer: geopotential height and gradient as given, temperature and logarithm of pressure there."""
    found = []
    warm, pressure = SEA_LEVEL_TEMPERATURE, math.log(SEA_LEVEL_PRESSURE)
    for (base, gradient), (end, _) in itertools.pairwise([*_LAYERS, (geopotential_height(86e3), 0.0)]):
        found.append((base, gradient, warm, pressure))
        pressure += _log_pressure_change(end - base, gradient, warm)
        warm += gradient * (end - base)
    return found


def _log_pressure_change(climb: float, gradient: float, warm: float) -> float:
    """Of a climb [m, geopotential] in one layer: USSA 1976, equations 33a and 33b."""
    if gradient == 0.0:
        return -_G0 * climb / (_RS * warm)
    return -_G0 / (_RS * gradient) * math.log1p(gradient * climb / warm)


def _molar_ratio(height: float) -> tuple[float, float]:
    """M/M₀ and its slope [1/m] on the way up from a geometric height."""
    if height < 80e3:
        return 1.0, 0.0
    step = min(int((height - 80e3) / 500.0), 11)
    slope = (_MOLAR_RATIO[step + 1] - _MOLAR_RATIO[step]) / 500.0
    return _MOLAR_RATIO[step] + slope * (height - 80e3 - 500.0 * step), slope


def layer_air(height: float) -> tuple[float, float, float, float]:
    """What `air` gives, below 86 km, by the layers of the standard as they are written.

    height  geometric  [m]

    The plain way, kept to make the table of `air_kernel` and to check it.  Raises ValueError above 86 km.
    Source: USSA 1976, equations 18, 23, 33a, 33b, 42, 50 and table 8.

    >>> round(layer_air(11_019.1)[0], 3)
    216.65
    """
    if not height <= 86e3:
        raise ValueError(f"height must be at most 86000 m for the layers of the standard, got {height} m")
    geopotential = geopotential_height(height)
    base, gradient, warm, pressure = [row for row in _bases() if row[0] <= max(geopotential, 0.0)][-1]
    molecular = warm + gradient * (geopotential - base)
    pressure = math.exp(pressure + _log_pressure_change(geopotential - base, gradient, warm))
    warmth = _RS * molecular
    kinetic = molecular * _molar_ratio(height)[0]
    return kinetic, pressure, pressure / warmth, math.sqrt(RATIO_OF_SPECIFIC_HEATS * warmth)


# ── the table the flights read ───────────────────────────────────────────────────────────────────


def _table() -> np.ndarray[Any, np.dtype[np.float64]]:
    """Rows: left edge z [m]; powers of (z − edge): four of T_M, four of T, six of ln p.

    Below 86 km the pieces are 1 km long or less and end at the layers' edges; each meets values and slopes
    of the layers at both ends, ln p their curvatures too.
    """
    layers = _bases()
    marks = {1e3 * km for km in range(-5, 80)} | {80e3 + 500.0 * step for step in range(13)}
    edges = sorted(marks | {geometric_height(base) for base, *_ in layers})
    rows = []
    for low, high in itertools.pairwise(edges):
        middle = geopotential_height(0.5 * (low + high))
        layer = [row for row in layers if row[0] <= max(middle, 0.0)][-1]
        ratio, thinning = _molar_ratio(0.5 * (low + high))
        ends = []
        for mark in (low, high):
            base, gradient, warm, start = layer
            climb = geopotential_height(mark) - base
            molecular = warm + gradient * climb
            rate = (EARTH_RADIUS_USSA76 / (EARTH_RADIUS_USSA76 + mark)) ** 2  # dH/dz
            bend = -2.0 * rate / (EARTH_RADIUS_USSA76 + mark)
            share = ratio + thinning * (mark - 0.5 * (low + high))
            k = -_G0 / (_RS * molecular)
            ends.append(
                (
                    (molecular, gradient * rate),
                    (molecular * share, gradient * rate * share + molecular * thinning),
                    (
                        start + _log_pressure_change(climb, gradient, warm),
                        k * rate,
                        k * (bend - rate * rate * gradient / molecular),
                    ),
                )
            )
        parts = [_meeting(one, other, high - low) for one, other in zip(*ends, strict=True)]
        rows.append([low, *itertools.chain(*parts)])
    # the upper air starts from the pressure of the lower at 86 km: 0.37338 Pa both ways, 1e-5 apart
    pressure = ends[1][2][0]
    rows += [[*row[:9], row[9] + pressure, *row[10:], 0.0, 0.0] for row in UPPER_AIR]
    return np.array(rows)


def _meeting(start: tuple[float, ...], end: tuple[float, ...], width: float) -> list[float]:
    """Coefficients, in rising powers, of the polynomial with these derivatives at both ends of a piece."""
    order = len(start)
    low = [start[power] * width**power / math.factorial(power) for power in range(order)]
    powers = range(order, 2 * order)
    left = [[math.perm(power, times) for power in powers] for times in range(order)]
    right = [
        end[times] * width**times - sum(math.perm(power, times) * low[power] for power in range(order))
        for times in range(order)
    ]
    return [value / width**power for power, value in enumerate([*low, *np.linalg.solve(left, right)])]


AIR = _table()  # (rows, 15), read by `air_kernel`


@kernel(height=(-5e3, 1.2e6))
def air_kernel(height):
    """Temperature [K], pressure [Pa], density [kg/m³], speed of sound [m/s] at a geometric height [m]."""
    table = AIR  # named once: a graphics card would keep a copy for each use
    row = piece(height, table)
    u = height - entry(table, row, 0)
    molecular = entry(table, row, 1) + u * (
        entry(table, row, 2) + u * (entry(table, row, 3) + u * entry(table, row, 4))
    )
    kinetic = entry(table, row, 5) + u * (
        entry(table, row, 6) + u * (entry(table, row, 7) + u * entry(table, row, 8))
    )
    low = entry(table, row, 9) + u * (entry(table, row, 10) + u * entry(table, row, 11))
    high = entry(table, row, 12) + u * (entry(table, row, 13) + u * entry(table, row, 14))
    pressure = exp(low + u * u * u * high)
    warmth = _RS * molecular
    return kinetic, pressure, pressure / warmth, sqrt(RATIO_OF_SPECIFIC_HEATS * warmth)


def air(height: float) -> tuple[float, float, float, float]:
    """Temperature [K], pressure [Pa], density [kg/m³] and speed of sound [m/s] of the standard air.

    height  geometric, above sea level; −5 km and up  [m]

    To 86 km this is the standard itself (`layer_air`, met to 1e-11); from there to 1000 km its printed five
    figures are met to 1.4e-4 and mostly to 5e-5.  Past 1000 km the values are an extension of ours.  The
    speed of sound is that of molecular-scale temperature and γ = 1.4; the standard prints it to 86 km only,
    above it serves to scale.  Continuous: at 86 km, where the halves of the standard meet, in pressure
    exactly, in density and temperature to 5e-7.
    Raises ValueError below −5 km or for a height that is not a number.
    Source: U.S. Standard Atmosphere, 1976 (NASA-TM-X-74335).

    >>> [round(value, 3) for value in air(0.0)]
    [288.15, 101325.0, 1.225, 340.294]
    """
    finite(height=height)
    if height < -5000.0:
        raise ValueError(f"height must be -5000 m or more, got {height} m")
    return air_kernel(height)
