"""Smooth curves through tables of numbers.

A curve is a float64 array (n, 5): a knot, and four coefficients in rising powers of the distance from it.
It passes through its points, has continuous slope and curvature between the first and the last, arrives at
both level, and is constant beyond them (there slope is continuous, curvature jumps).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wetmass.physics.pattern import entry, greatest, kernel, piece

Table = NDArray[np.float64]

MOST_OVERSHOOT = 1e-3  # of the range of the values; see `overshoot`
_FINEST = 64  # parts an interval is cut into at most


def spline_table(x: ArrayLike, y: ArrayLike) -> Table:
    """The curve through the points (x, y), for `spline_value`, shape (n, 5).

    x  at least two places, rising  [any]
    y  a value at each              [any]

    A cubic spline with level ends.  Where a plain one swings past its points, the intervals are halved,
    with points taken from the monotone curve of Fritsch and Carlson, until no swing is above a thousandth of
    the range of y; `overshoot` measures it.  So n may exceed the number of points.
    Raises ValueError when the x do not rise, or x and y do not pair up or are not finite.
    Source: F. N. Fritsch and R. E. Carlson, SIAM J. Numerical Analysis 17 (1980) 238 (from memory).
    """
    x, y = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    if x.ndim != 1 or x.shape != y.shape or len(x) < 2:
        raise ValueError(
            f"x and y must be two rows of the same two or more numbers, got {x.shape} and {y.shape}"
        )
    if not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise ValueError("x and y must be finite numbers")
    if not (np.diff(x) > 0.0).all():
        raise ValueError(f"x must rise from each place to the next, got {x.tolist()}")
    monotone = _hermite(x, y, _monotone_slopes(x, y))
    parts = 1
    while True:
        fine = np.append((x[:-1, None] + np.diff(x)[:, None] * np.arange(parts) / parts).ravel(), x[-1])
        table = _spline(fine, values(fine, monotone))
        if overshoot(table, x, y) <= MOST_OVERSHOOT or parts >= _FINEST:
            return table
        parts *= 2


@kernel(
    x=(-1.0, 4.0),
    table=np.array([[0.0, 1.0, 0.0, 3.0, -2.0], [1.0, 2.0, 0.0, -3.0, 2.0], [2.0, 1.0, 0.0, 0.0, 0.0]]),
)
def spline_value(x, table):
    """Value of the curve `table` (from `spline_table`) at `x`."""
    row = piece(x, table)
    u = greatest(x - entry(table, row, 0), 0.0)
    return entry(table, row, 1) + u * (
        entry(table, row, 2) + u * (entry(table, row, 3) + u * entry(table, row, 4))
    )


def values(x: ArrayLike, table: Table) -> NDArray[np.float64]:
    """`spline_value` of many places at once, shape of x."""
    x = np.asarray(x, dtype=float)
    row = np.clip(np.searchsorted(table[:, 0], x, side="right") - 1, 0, len(table) - 1)
    knot, c0, c1, c2, c3 = np.moveaxis(table[row], -1, 0)
    u = np.maximum(x - knot, 0.0)
    return c0 + u * (c1 + u * (c2 + u * c3))


def overshoot(table: Table, x: ArrayLike, y: ArrayLike) -> float:
    """How far the curve leaves the span between neighbouring points, over the range of all y.

    Looked for at 33 places in every interval of x.
    """
    x, y = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    places = x[:-1, None] + np.diff(x)[:, None] * np.linspace(0.0, 1.0, 33)
    found = values(places, table)
    low, high = np.minimum(y[:-1], y[1:]), np.maximum(y[:-1], y[1:])
    past = max(float((found - high[:, None]).max()), float((low[:, None] - found).max()), 0.0)
    span = float(np.ptp(y))
    return past / span if span > 0.0 else 0.0


def _hermite(x: Table, y: Table, slope: Table) -> Table:
    """Table of the cubics with these values and slopes at the knots, constant past the last."""
    width = np.diff(x)
    chord = np.diff(y) / width
    bend = (3.0 * chord - 2.0 * slope[:-1] - slope[1:]) / width
    twist = (slope[:-1] + slope[1:] - 2.0 * chord) / width**2
    inside = np.column_stack([x[:-1], y[:-1], slope[:-1], bend, twist])
    return np.vstack([inside, [x[-1], y[-1], 0.0, 0.0, 0.0]])


def _monotone_slopes(x: Table, y: Table) -> Table:
    """Slopes that keep each cubic between its ends: weighted harmonic means, level at turns and ends."""
    width, chord = np.diff(x), np.diff(y) / np.diff(x)
    slope = np.zeros_like(x)
    left, right = chord[:-1], chord[1:]
    same = left * right > 0.0
    one, two = 2.0 * width[1:] + width[:-1], width[1:] + 2.0 * width[:-1]
    mean = (one + two) * left * right / np.where(same, one * right + two * left, 1.0)
    slope[1:-1][same] = mean[same]
    return slope


def _spline(x: Table, y: Table) -> Table:
    """Table of the cubic spline through the points with level ends."""
    width = np.diff(x)
    chord = np.diff(y) / width
    slope = np.zeros_like(x)
    if len(x) > 2:
        system = np.diag(2.0 * (width[:-1] + width[1:]))
        system += np.diag(width[2:], -1) + np.diag(width[:-2], 1)
        slope[1:-1] = np.linalg.solve(system, 3.0 * (width[1:] * chord[:-1] + width[:-1] * chord[1:]))
    return _hermite(x, y, slope)
