"""The standard air once more as a C² fit, for optimal control, which needs slopes and curvatures.

Cubic splines through the logarithms of `wetmass.physics.atmosphere.air_kernel`, 250 m apart to 120 km.
"""

from __future__ import annotations

import functools
import itertools
from typing import Any

import numpy as np
from numpy.typing import NDArray

from wetmass.physics.atmosphere import TOP, air_kernel

BOTTOM = -5_000.0  # m; with TOP the reach of the fit, constant outside
QUANTITIES = ("temperature", "pressure", "density", "sound speed")
_SPACING = ((BOTTOM, 250.0), (120e3, 2e3), (160e3, 5e3), (250e3, 10e3), (400e3, 25e3))  # m, from a height on


@functools.cache
def _spline() -> Any:
    """scipy's BSpline of the four logarithms over height [m]."""
    from scipy.interpolate import make_interp_spline

    marks = []
    for (start, space), (end, _) in itertools.pairwise([*_SPACING, (TOP, 0.0)]):
        marks += [start + space * step for step in range(round((end - start) / space))]
    marks.append(TOP)
    return make_interp_spline(marks, np.log([air_kernel(mark) for mark in marks]), k=3)


@functools.cache
def _casadi_spline() -> Any:
    """The same spline as a CasADi function, knots and coefficients taken over."""
    import casadi

    spline = _spline()
    return casadi.Function.bspline("smooth_air", [spline.t.tolist()], spline.c.ravel().tolist(), [3], 4)


def smooth_air(height: Any) -> tuple[Any, Any, Any, Any]:
    """Temperature [K], pressure [Pa], density [kg/m³], speed of sound [m/s] by the C² fit.

    height  geometric [m]: a float, a numpy array, or a CasADi MX or DM scalar (not SX)

    Twice continuously differentiable from −5 to 1000 km, constant outside.  The layers of the standard have
    corners and the fit rounds them: `greatest_errors` says by how much (density 0.06 %, at 11 km).

    >>> [round(float(value), 2) for value in smooth_air(0.0)]
    [288.15, 101325.0, 1.22, 340.29]
    """
    if isinstance(height, (float, int, np.ndarray)):
        found = np.exp(_spline()(np.clip(height, BOTTOM, TOP)))
        return tuple(np.moveaxis(found, -1, 0))
    import casadi

    inside = casadi.fmin(casadi.fmax(height, BOTTOM), TOP)
    return tuple(casadi.vertsplit(casadi.exp(_casadi_spline()(inside))))


def greatest_errors(step: float = 25.0) -> dict[str, tuple[float, float]]:
    """Largest relative difference of the fit from the exact layers, and the height [m] where it is.

    step  between the heights looked at  [m]; above 120 km ten times that
    """
    heights: NDArray[np.float64] = np.concatenate(
        [np.arange(BOTTOM, 120e3, step), np.arange(120e3, TOP, 10.0 * step), [TOP]]
    )
    exact = np.array([air_kernel(float(height)) for height in heights])
    off = np.abs(np.column_stack(smooth_air(heights)) / exact - 1.0)
    worst = off.argmax(axis=0)
    return {
        name: (float(off[at, column]), float(heights[at]))
        for column, (name, at) in enumerate(zip(QUANTITIES, worst, strict=True))
    }


def report() -> str:
    """The greatest errors as lines of text.

    >>> print(report().splitlines()[2])
    density: 0.057 % at 10.9 km
    """
    lines = (
        f"{name}: {100 * off:.2g} % at {at / 1e3:.1f} km" for name, (off, at) in greatest_errors().items()
    )
    return "\n".join(lines)
