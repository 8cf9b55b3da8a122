"""Where an ascent is held to its equations of motion: Radau points in intervals of a phase.

Each interval carries polynomials: the state of degree N through its start and N Radau points, the
controls of degree N − 1 through the points.  The last point is the end of the interval.
Source: D. Garg et al., "A unified framework for the numerical solution of optimal control problems using
pseudospectral methods", Automatica 46 (2010) 1843 (from memory); the points are those of Radau IIA.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@functools.cache
def radau_points(count: int) -> Array:
    """The `count` Radau points of an interval from 0 to 1, the last one 1; shape (count,).

    Roots of P_N − P_{N−1}, Legendre polynomials moved to [0, 1].

    >>> [round(float(point), 6) for point in radau_points(2)]
    [0.333333, 1.0]
    """
    if count < 1:
        raise ValueError(f"count must be at least 1 point, got {count}")
    coefficients = np.zeros(count + 1)
    coefficients[count], coefficients[count - 1] = 1.0, -1.0
    points = np.sort(np.polynomial.legendre.Legendre(coefficients).roots().real)
    points = 0.5 * (points + 1.0)
    points[-1] = 1.0
    points.setflags(write=False)
    return points


def barycentric_weights(points: Array) -> Array:
    """Weights of the barycentric form of the polynomial through values at `points`; shape of points."""
    gaps = points[:, None] - points[None, :]
    np.fill_diagonal(gaps, 1.0)
    return 1.0 / gaps.prod(axis=1)


def interpolation(points: Array, places: Array) -> Array:
    """Matrix (points, places): row of values at `points` @ it = the polynomial's values at `places`."""
    weights = barycentric_weights(points)
    gaps = places[None, :] - points[:, None]
    same = gaps == 0.0
    shares = weights[:, None] / np.where(same, 1.0, gaps)
    shares = np.where(same.any(axis=0)[None, :], same.astype(float), shares)
    return shares / shares.sum(axis=0)[None, :]


@functools.cache
def differentiation(count: int) -> Array:
    """Matrix (count + 1, count): values at 0 and the Radau points @ it = slopes at the Radau points."""
    nodes = np.append(0.0, radau_points(count))
    weights = barycentric_weights(nodes)
    full = (weights[:, None] / weights[None, :]) / (
        nodes[None, :] - nodes[:, None] + np.eye(count + 1)
    )  # [j, i]: slope at node i of the polynomial that is 1 at node j
    np.fill_diagonal(full, 0.0)
    np.fill_diagonal(full, -full.sum(axis=0))
    return full[:, 1:]


@dataclass(frozen=True, slots=True)
class Mesh:
    """Intervals of one phase as shares of its duration, and the points in each."""

    edges: tuple[float, ...]  # from 0 to 1, rising; one more than intervals
    points: int  # Radau points in each interval

    @classmethod
    def even(cls, intervals: int, points: int) -> Mesh:
        """`intervals` of the same length."""
        return cls(tuple(float(edge) for edge in np.linspace(0.0, 1.0, intervals + 1)), points)

    @property
    def intervals(self) -> int:
        return len(self.edges) - 1

    @property
    def size(self) -> int:
        """Radau points of the whole phase."""
        return self.intervals * self.points

    def places(self) -> Array:
        """Shares of the duration at the start and at every Radau point; shape (1 + size,)."""
        edges = np.array(self.edges)
        inside = edges[:-1, None] + np.diff(edges)[:, None] * radau_points(self.points)[None, :]
        return np.append(0.0, inside.ravel())

    def between(self) -> Array:
        """Shares half-way from each place to the next; shape (size,)."""
        places = self.places()
        return 0.5 * (places[1:] + places[:-1])

    def slopes(self) -> Array:
        """Matrix (1 + size, size): values at `places` @ it = slopes over the share at the Radau points."""
        block, n = differentiation(self.points), self.points
        matrix = np.zeros((1 + self.size, self.size))
        for k in range(self.intervals):
            matrix[k * n : k * n + n + 1, k * n : k * n + n] += block / (self.edges[k + 1] - self.edges[k])
        return matrix

    def weights(self) -> Array:
        """Weights of the points for integrals over the share, exact for what the points carry; (size,)."""
        n = self.points
        block = np.linalg.solve(
            np.vander(radau_points(n), n, increasing=True).T, 1.0 / np.arange(1.0, n + 1.0)
        )
        return (np.diff(np.array(self.edges))[:, None] * block[None, :]).ravel()

    def carried(self, places: Array, *, controls: bool) -> Array:
        """Matrix: values at the points of this mesh @ it = values at other `places` (shares, rising).

        controls  the values are given at Radau points alone (size, …), else at the start too (1 + size, …)
        """
        n, nodes = self.points, radau_points(self.points)
        if not controls:
            nodes = np.append(0.0, nodes)
        edges = np.array(self.edges)
        which = np.clip(np.searchsorted(edges, places, side="left") - 1, 0, self.intervals - 1)
        matrix = np.zeros((self.size + (not controls), len(places)))
        for k in np.unique(which):
            mine = which == k
            inside = (places[mine] - edges[k]) / (edges[k + 1] - edges[k])
            matrix[k * n : k * n + len(nodes), mine] = interpolation(nodes, inside)
        return matrix

    def halved(self, which: list[int]) -> Mesh:
        """The mesh with the intervals `which` cut in two."""
        edges = [self.edges[0]]
        for k in range(self.intervals):
            if k in which:
                edges.append(0.5 * (self.edges[k] + self.edges[k + 1]))
            edges.append(self.edges[k + 1])
        return Mesh(tuple(edges), self.points)
