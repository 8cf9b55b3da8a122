"""Lines of equal value through a grid of numbers: marching squares, straight within each cell."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

Segment = tuple[float, float, float, float]


def segments(x: Sequence[float], y: Sequence[float], z: np.ndarray, level: float) -> Iterator[Segment]:
    """Pieces (x0, y0, x1, y1) of the line z = level; z (len(x), len(y)), cells with a nan are left out.

    >>> list(segments([0.0, 1.0], [0.0, 1.0], np.array([[0.0, 0.0], [1.0, 1.0]]), 0.25))
    [(0.25, 0.0, 0.25, 1.0)]
    """
    for i in range(len(x) - 1):
        for j in range(len(y) - 1):
            corners = ((x[i], y[j], z[i, j]), (x[i + 1], y[j], z[i + 1, j]),
                       (x[i + 1], y[j + 1], z[i + 1, j + 1]), (x[i], y[j + 1], z[i, j + 1]))  # fmt: skip
            if not all(math.isfinite(corner[2]) for corner in corners):
                continue
            cut = []
            for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
                if (one[2] < level) != (other[2] < level):
                    s = (level - one[2]) / (other[2] - one[2])
                    cut.append((one[0] + s * (other[0] - one[0]), one[1] + s * (other[1] - one[1])))
            if len(cut) == 2:
                yield (*cut[0], *cut[1])
            elif len(cut) == 4:  # a saddle: by the mean of the corners
                middle = sum(corner[2] for corner in corners) / 4.0
                first = 0 if (corners[0][2] < level) == (middle < level) else 1
                for a, b in ((first, (first + 1) % 4), ((first + 2) % 4, (first + 3) % 4)):
                    yield (*cut[a], *cut[b])


def finer(x: Sequence[float], y: Sequence[float], z: np.ndarray, times: int) -> tuple:
    """(x, y, z) with `times` cells for each: a cubic through the points where there are enough, else straight."""
    from scipy.interpolate import RegularGridInterpolator

    fx, fy = (
        np.interp(np.linspace(0, len(a) - 1, times * (len(a) - 1) + 1), np.arange(len(a)), a) for a in (x, y)
    )
    smooth = np.isfinite(z).all() and min(z.shape) >= 4
    rule = RegularGridInterpolator((np.asarray(x), np.asarray(y)), z, "cubic" if smooth else "linear")
    grid = np.stack(np.meshgrid(fx, fy, indexing="ij"), axis=-1)
    return fx, fy, rule(grid)


def round_levels(low: float, high: float, about: int = 8) -> list[float]:
    """Round numbers between two values, about so many.

    >>> round_levels(3010.0, 3790.0, 8)
    [3100.0, 3200.0, 3300.0, 3400.0, 3500.0, 3600.0, 3700.0]
    """
    if not (math.isfinite(low) and math.isfinite(high)) or not high > low:
        return []
    raw = (high - low) / max(1, about)
    power = 10.0 ** math.floor(math.log10(raw))
    step = min((m * power for m in (1.0, 2.0, 2.5, 5.0, 10.0)), key=lambda s: abs(math.log(s / raw)))
    first = math.floor(low / step) + 1
    return [n * step for n in range(first, math.ceil(high / step))]
