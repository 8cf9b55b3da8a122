"""US Standard Atmosphere 1976 from 86 to 1000 km: the species equations, integrated.

This makes the table that `wetmass.physics.atmosphere` reads (`upper_air_table`, written by
`benchmarks/make_upper_air_table.py`) and is the plain way that checks it.  Nothing here runs in a flight.
Letters follow NASA TM-X-74335, section 1.3 and tables 2, 5, 6, 7; its constants were read in two public
transcriptions (J. Garrido, atmopy, coesa76/constants.py; S. Pietrobon, ussa1976.pas, 1999), which agree.
"""

from __future__ import annotations

import itertools

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

R_STAR = 8314.32  # J/(kmol·K): TM-X-74335, table 2
BOLTZMANN = 1.380622e-23  # J/K: table 2
AVOGADRO = 6.022169e26  # 1/kmol: table 2
M0 = 28.9644  # kg/kmol, sea-level air: table 2
G0 = 9.80665  # m/s²: table 2
R0 = 6_356_766.0  # m, effective radius of the Earth: table 2

GASES = ("N2", "O", "O2", "Ar", "He", "H")
MOLAR_MASS = dict(zip(GASES, (28.0134, 15.9994, 31.9988, 39.948, 4.0026, 1.00797), strict=True))  # table 3
_START = dict(zip(GASES, (1.129794e20, 8.6e16, 3.030898e19, 1.351400e18, 7.5817e14, 8.0e10), strict=True))
#   1/m³ at 86 km, hydrogen at 500 km: table 9 and section 1.3.3
_ALPHA = {"O": 0.0, "O2": 0.0, "Ar": 0.0, "He": -0.40, "H": -0.25}  # thermal diffusion: table 6
_A = {"O": 6.986e20, "O2": 4.863e20, "Ar": 4.487e20, "He": 1.700e21, "H": 3.305e21}  # 1/(m·s): table 6
_B = {"O": 0.750, "O2": 0.750, "Ar": 0.870, "He": 0.691, "H": 0.500}  # table 6
_Q = {"O": -5.809644e-13, "O2": 1.366212e-13, "Ar": 9.434079e-14, "He": -2.457369e-13}  # 1/m³: table 7
_U = {"O": 56_903.11, "O2": 86_000.0, "Ar": 86_000.0, "He": 86_000.0}  # m: table 7
_W = {"O": 2.706240e-14, "O2": 8.333333e-14, "Ar": 8.333333e-14, "He": 6.666667e-13}  # 1/m³: table 7
_SMALL_Q, _SMALL_U, _SMALL_W = -3.416248e-12, 97_000.0, 5.008765e-13  # oxygen atoms below 97 km: table 7
_FLUX = 7.2e11  # 1/(m²·s), upward flux of hydrogen: table 2
_T7, _T9, _T10, _T_INF = 186.8673, 240.0, 360.0, 1000.0  # K: table 5
_Z7, _Z8, _Z9, _Z10, _Z11, _Z12 = 86e3, 91e3, 110e3, 120e3, 500e3, 1000e3  # m: table 5
_LK9 = 0.012  # K/m: table 5
_PARTED = 100e3  # m, mixed air below, gases by themselves above: section 1.3.1
_HYDROGEN_FROM = 150e3  # m, where the standard lets hydrogen begin: section 1.3.3
STEP = 50.0  # m, of the quadrature; halving it moves no density by 1e-8


def kinetic_temperature(height: Array) -> tuple[Array, Array]:
    """Kinetic temperature [K] and its gradient [K/m] at geometric heights of 86 to 1000 km [m].

    Source: NASA TM-X-74335, equations 25 to 31.
    """
    z = np.asarray(height, dtype=float)
    centre, depth, width = 263.1905, -76.3232, -19_942.9  # K, K, m: section 1.2.5
    part = np.clip((z - _Z8) / width, -0.9999, 0.0)
    root = np.sqrt(1.0 - part**2)
    rate = _LK9 / (_T_INF - _T10)
    squeeze = (R0 + _Z10) / (R0 + z)
    left = (_T_INF - _T10) * np.exp(-rate * (z - _Z10) * squeeze)
    layer = [z <= _Z8, z <= _Z9, z <= _Z10]
    warm = np.select(layer, [_T7, centre + depth * root, _T9 + _LK9 * (z - _Z9)], _T_INF - left)
    slope = np.select(layer, [0.0, -depth * part / (width * root), _LK9], rate * squeeze**2 * left)
    return warm, slope


def number_densities(halvings: int = 0) -> tuple[Array, dict[str, Array]]:
    """Number density of each gas [1/m³] on a grid of geometric heights, 86 to 1000 km.

    halvings  how often the step of 50 m is halved

    Returns (heights [m], densities by the names of `GASES`).  Cumulative Simpson quadrature of
    equations 32 to 40 of NASA TM-X-74335; the switches of those equations lie on grid points.
    The standard begins hydrogen at 150 km with 7 parts in a million of the air; here it is faded in
    from 140 km, so that the densities are continuous.
    """
    step = STEP / 2**halvings
    heights = np.arange(0, round((_Z12 - _Z7) / step) + 1) * step + _Z7
    z = np.arange(0, 2 * (len(heights) - 1) + 1) * (step / 2.0) + _Z7  # with the midpoints
    warm, slope = kinetic_temperature(z)
    g = G0 * (R0 / (R0 + z)) ** 2
    eddy = _eddy(z)
    n: dict[str, Array] = {}  # on the grid and its midpoints

    def background(gases: tuple[str, ...]) -> tuple[Array, Array]:
        total = sum(n[gas] for gas in gases)
        return total, sum(n[gas] * MOLAR_MASS[gas] for gas in gases) / total

    def decay(rate_mixed: Array, rate_parted: Array) -> Array:
        # the molar mass that acts jumps at 100 km, so each side is summed by itself
        edge = int(np.searchsorted(z, _PARTED))
        below = _cumulative(rate_mixed[: edge + 1], step)
        return np.exp(-np.concatenate([below, below[-1] + _cumulative(rate_parted[edge:], step)[1:]]))

    weight = g / (R_STAR * warm)
    n["N2"] = _START["N2"] * _T7 / warm * decay(weight * M0, weight * MOLAR_MASS["N2"])
    for gas in GASES[1:5]:
        total, mean = background(("N2",) if gas in ("O", "O2") else ("N2", "O", "O2"))
        diffusion = _A[gas] / total * (warm / 273.15) ** _B[gas]
        thermal = _ALPHA[gas] * R_STAR / g * slope
        share = weight / (diffusion + eddy)
        own = share * diffusion * (MOLAR_MASS[gas] + thermal) + _transport(gas, z)
        n[gas] = _START[gas] * _T7 / warm * decay(own + share * eddy * M0, own + share * eddy * mean)
    total, _ = background(GASES[:5])
    tau = _cumulative(g * MOLAR_MASS["H"] / (R_STAR * warm), step)
    tau -= tau[np.searchsorted(z, _Z11)]
    reference = kinetic_temperature(np.array([_Z11]))[0][0]
    diffusion = _A["H"] / total * (warm / 273.15) ** _B["H"]
    hotter = (warm / reference) ** (1.0 + _ALPHA["H"])
    escaping = np.where(z <= _Z11, _FLUX / diffusion * hotter * np.exp(tau), 0.0)
    risen = _cumulative(escaping, step)
    risen -= risen[np.searchsorted(z, _Z11)]
    risen[z > _Z11] = 0.0  # the standard neglects the flux above 500 km
    fade = np.clip((z - (_HYDROGEN_FROM - 10e3)) / 10e3, 0.0, 1.0)
    n["H"] = (_START["H"] - risen) / hotter * np.exp(-tau) * fade**2 * (3.0 - 2.0 * fade)
    return heights, {gas: n[gas][::2] for gas in GASES}


def upper_air() -> tuple[Array, Array, Array, Array]:
    """Geometric heights [m], kinetic temperature [K], pressure [Pa], mean molar mass [kg/kmol].

    Source: NASA TM-X-74335, equations 33c and 20.
    """
    heights, n = number_densities()
    total = sum(n.values())
    warm = kinetic_temperature(heights)[0]
    molar = sum(n[gas] * MOLAR_MASS[gas] for gas in GASES) / total
    return heights, warm, total * BOLTZMANN * warm, molar


def _eddy(z: Array) -> Array:
    """Eddy-diffusion coefficient K [m²/s]: NASA TM-X-74335, equation 7."""
    inside = np.clip((z - 95e3) ** 2, 0.0, 399.999e6)
    fading = 120.0 * np.exp(1.0 - 400e6 / (400e6 - inside))
    return np.select([z < 95e3, z < 115e3], [120.0, fading], 0.0)


def _transport(gas: str, z: Array) -> Array:
    """Vertical transport term of equation 37 [1/m]."""
    high = z - _U[gas]
    flux = _Q[gas] * high**2 * np.exp(-_W[gas] * high**3)
    if gas == "O":
        low = np.maximum(_SMALL_U - z, 0.0)
        flux = flux + _SMALL_Q * low**2 * np.exp(-_SMALL_W * low**3)
    return flux


def _cumulative(rate: Array, step: float) -> Array:
    """Integral of `rate` from the first point to each, points half a step apart, by parabolas."""
    first, middle, last = rate[:-2:2], rate[1:-1:2], rate[2::2]
    whole = np.concatenate([[0.0], np.cumsum((first + 4.0 * middle + last) * step / 6.0)])
    half = (5.0 * first + 8.0 * middle - last) * step / 24.0
    out = np.empty_like(rate)
    out[::2], out[1::2] = whole, whole[:-1] + half
    return out


# ── the table ────────────────────────────────────────────────────────────────────────────────────

SEGMENTS = (86e3, 91e3, 100e3, 110e3, 120e3, 1000e3)  # m: where a slope or curvature of the standard jumps
_SPACING = (  # m: from this height on, a row every so many metres
    *((86e3, 1e3), (104e3, 0.5e3), (108e3, 0.25e3), (110e3, 1e3), (120e3, 2e3)),
    *((150e3, 5e3), (200e3, 10e3), (300e3, 20e3), (400e3, 25e3)),
)


def knots() -> Array:
    """Geometric heights of the table's rows [m]."""
    ends = [start for start, _ in _SPACING[1:]] + [_Z12]
    parts = [np.arange(start, end, space) for (start, space), end in zip(_SPACING, ends, strict=True)]
    return np.concatenate([*parts, [_Z12]])


def pieces() -> Array:
    """The air above 86 km as cubics in geometric height, one row per piece.

    Returns (pieces, 13): left edge z [m]; four coefficients each, in rising powers of (z − edge), of
    molecular-scale temperature [K], kinetic temperature [K], and the logarithm of pressure over the
    pressure at 86 km.  Cubic splines through the integrated values at `knots`, one per segment, with the
    slopes of the integrated values at its ends; a last row goes on straight above 1000 km.
    """
    from scipy.interpolate import CubicSpline

    z, warm, pressure, molar = upper_air()
    fields = (warm * M0 / molar, warm, np.log(pressure / pressure[0]))
    rows, ends = [], []
    for low, high in itertools.pairwise(SEGMENTS):
        inside = np.searchsorted(z, [at for at in knots() if low <= at <= high])
        columns = [z[inside[:-1], None]]
        for field in fields:
            slopes = _slope(z, field, inside[0], 1), _slope(z, field, inside[-1], -1)
            spline = CubicSpline(z[inside], field[inside], bc_type=((1, slopes[0]), (1, slopes[1])))
            columns.append(spline.c[::-1].T)
            ends = [*ends[-2:], (field[inside[-1]], slopes[1])]
        rows.append(np.hstack(columns))
    beyond = [z[-1]] + [value for end in ends for value in (*end, 0.0, 0.0)]
    return np.vstack([*rows, beyond])


def _slope(z: Array, field: Array, at: int, side: int) -> float:
    """One-sided slope from five neighbours, by the polynomial through them."""
    near = at + side * np.arange(5)
    scale = abs(z[near[-1]] - z[at])
    return float(np.polyfit((z[near] - z[at]) / scale, field[near] - field[at], 4)[-2] / scale)
