"""Cubic pieces over one variable for CasADi: which piece is looked up, its polynomial is a formula.

Looking up has no slope (MX); the polynomial, whose coefficients are then plain inputs, is scalar
code (SX), which CasADi runs some ten times faster than a B-spline node and differentiates exactly.
"""

from __future__ import annotations

import functools
from typing import Any

import casadi
import numpy as np
from numpy.typing import NDArray


class Pieces:
    """Several cubics side by side over the same edges.

    edges         where pieces begin, rising; shape (n + 1,), the last one the end of the last piece
    coefficients  shape (4, n, m): falling powers of the distance from the piece's left edge

    Outside the edges the values are those at the nearest edge.
    """

    def __init__(self, edges: NDArray[np.float64], coefficients: NDArray[np.float64]) -> None:
        self.edges = np.asarray(edges, dtype=float)
        self.count = coefficients.shape[2]
        flat = np.moveaxis(coefficients, 1, 0).reshape(len(edges) - 1, -1)
        self.width = 1 + flat.shape[1]  # numbers of one piece: left edge, then powers
        self.table = np.column_stack([self.edges[:-1], flat])

    def piece(self, x: Any) -> Any:
        """The numbers (width,) of the piece that the MX scalar `x` falls in; without slope."""
        inside = casadi.fmin(casadi.fmax(x, float(self.edges[0])), float(self.edges[-1]))
        row = casadi.low(casadi.DM(self.edges), inside)
        return casadi.MX(casadi.DM(self.table.ravel()))[row * self.width + casadi.DM(np.arange(self.width))]

    def values(self, x: Any, piece: Any) -> list[Any]:
        """Values of all cubics at `x`, which lies in `piece` (symbols of the same kind)."""
        inside = casadi.fmin(casadi.fmax(x, float(self.edges[0])), float(self.edges[-1]))
        u = inside - piece[0]
        found = []
        for k in range(self.count):
            a, b, c, d = (piece[1 + power * self.count + k] for power in range(4))
            found.append(d + u * (c + u * (b + u * a)))
        return found


@functools.lru_cache(maxsize=64)
def _from_bytes(curve: bytes) -> Pieces:
    table = np.frombuffer(curve).reshape(-1, 5)
    used = np.diff(table[:, 0]) > 0.0  # padding repeats the last row
    edges = np.append(table[:-1, 0][used], table[-1, 0])
    return Pieces(edges, table[:-1][used][:, :0:-1].T[:, :, None])


def curve_pieces(curve: NDArray[np.float64]) -> Pieces:
    """The cubics of a table of `physics.curve`, which may be padded; the same ones for the same table."""
    return _from_bytes(np.ascontiguousarray(curve).tobytes())
