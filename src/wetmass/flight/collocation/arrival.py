"""When an arrival counts as the orbit asked for: `flight.goal` once more, on CasADi symbols."""

from __future__ import annotations

import math
from typing import Any

import casadi

from wetmass.flight import goal
from wetmass.physics.earth import GM
from wetmass.record.mission import Orbit


def shape_conditions(r: Any, v: Any, orbit: Orbit, place: str) -> list[Any]:
    """The conditions of `goal.shape_conditions` on symbols: each 0 when met.

    r [m] and v [m/s]: three symbols each.
    """
    radius2 = r[0] * r[0] + r[1] * r[1] + r[2] * r[2]
    radius = casadi.sqrt(radius2)
    v2 = v[0] * v[0] + v[1] * v[1] + v[2] * v[2]
    climb = (r[0] * v[0] + r[1] * v[1] + r[2] * v[2]) / radius
    a, e = goal.size_and_shape(orbit)
    if place == goal.ANYWHERE:
        scale = GM / a
        wanted = math.sqrt(GM * a * (1.0 - e * e))
        momentum = radius * casadi.sqrt(v2 - climb * climb)
        return [
            100.0 * (0.5 * v2 - GM / radius + 0.5 * scale) / scale,
            100.0 * (momentum - wanted) / wanted,
        ]
    there = a * (1.0 - e) if place == goal.AT_PERIGEE else a * (1.0 + e)
    speed = math.sqrt(GM * (2.0 / there - 1.0 / a))
    return [
        100.0 * (radius - there) / there,
        100.0 * climb / speed,
        100.0 * (casadi.sqrt(v2) - speed) / speed,
    ]


def cosine_of_inclination(r: Any, v: Any) -> Any:
    """cos i of symbols r [m] and v [m/s]."""
    hx, hy, hz = r[1] * v[2] - r[2] * v[1], r[2] * v[0] - r[0] * v[2], r[0] * v[1] - r[1] * v[0]
    return hz / casadi.sqrt(hx * hx + hy * hy + hz * hz)
