"""The curvature of an optimum along what is held: directions in which it is even, and what is left to gain.

Conditions that hold nothing at all (flat in every unknown) are left out, or their multipliers, which are then
anything, would drown the curvature of the rest.
"""

from __future__ import annotations

import numpy as np

from wetmass.flight.scaled import Scaled

STEP = 1e-3  # of a scaled unknown, for curvatures
BOUND = 1e-3  # a condition this near to its limit is held there
IDLE = 1e-7  # of a scaled unknown's slope: a condition flatter than this, in all or in one direction, holds nothing
FLATTEST = 1e-5  # of the greatest curvature: directions flatter than this count as this flat


def even_basis(scaled: Scaled, s: np.ndarray) -> np.ndarray:
    """Directions (columns) along which what is held at `s` stays as it is, stretched so that the Lagrangian's
    curvature is one in each, by differences of its slope; then those across, as they are."""
    held = _held(scaled, s)
    if held is None:
        return np.eye(len(s))
    near, rows, weights, slope = held
    _, spread, turned = np.linalg.svd(rows)
    rank = int(np.sum(spread > IDLE * max(spread[0], 1e-12))) if len(spread) else 0
    if rank == len(s):
        return np.eye(len(s))
    across, along = turned[:rank].T, turned[rank:].T
    curvature = np.zeros((along.shape[1], along.shape[1]))
    for i, way in enumerate(along.T):
        move = _with_room(scaled, s, way)
        equal, at_least, score = scaled.slopes(s + move * way)
        curvature[i] = along.T @ (score + np.vstack([equal, at_least[near]]).T @ weights - slope) / move
    if not np.isfinite(curvature).all():
        return np.eye(len(s))
    values, vectors = np.linalg.eigh(0.5 * (curvature + curvature.T))
    values = np.maximum(np.abs(values), FLATTEST * max(np.max(np.abs(values)), 1e-12))
    return np.hstack([along @ vectors / np.sqrt(values), across])


def lacking(scaled: Scaled, s: np.ndarray, basis: np.ndarray) -> float:
    """What of the score a Newton step from `s` would still gain, with the curvature one along each of `basis`."""
    held = _held(scaled, s)
    if held is None:
        return 0.0
    inside = (s > scaled.low + STEP) & (s < scaled.high - STEP)
    return 0.5 * float(np.sum((basis.T @ (held[3] * inside)) ** 2))


def _held(scaled: Scaled, s: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray] | None:
    """(conditions ≥ 0 that are held, slopes of all that is held, multipliers, slope of the Lagrangian)."""
    equal, at_least, score = scaled.slopes(s)
    if not all(np.isfinite(part).all() for part in (equal, at_least, score)):
        return None
    steep = np.max(np.abs(at_least), axis=1, initial=0.0) > IDLE
    near = np.flatnonzero((scaled.trial(s).at_least < BOUND) & steep)
    while True:
        rows = np.vstack([equal, at_least[near]])
        weights = np.linalg.lstsq(rows.T, -score, rcond=IDLE)[0]
        pulled = weights[len(equal) :]
        if not len(pulled) or not np.max(pulled) > 0.0:
            return near, rows, weights, score + rows.T @ weights
        near = np.delete(near, int(np.argmax(pulled)))  # it would rather be left


def _with_room(scaled: Scaled, s: np.ndarray, way: np.ndarray) -> float:
    """A step for curvatures along `way`, back where there is no room ahead."""
    there = s + STEP * way
    return STEP if ((there >= scaled.low) & (there <= scaled.high)).all() else -STEP
