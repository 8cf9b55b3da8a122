"""When an arrival counts as the orbit asked for: `flight.goal` once more, on CasADi symbols."""

from __future__ import annotations

import math
from typing import Any

import casadi

from wetmass.flight import goal
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, OMEGA
from wetmass.record.mission import Orbit


def shape_conditions(r: Any, v: Any, orbit: Orbit, place: str) -> list[Any]:
    """The conditions of `goal.shape_conditions` on symbols: each 0 when met.

    r [m] and v [m/s]: three symbols each.
    """
    radius2 = r[0] * r[0] + r[1] * r[1] + r[2] * r[2]
    radius = casadi.sqrt(radius2)
    v2 = v[0] * v[0] + v[1] * v[1] + v[2] * v[2]
    climb = (r[0] * v[0] + r[1] * v[1] + r[2] * v[2]) / radius
    c3, low = goal.energy(orbit), orbit.perigee + EARTH_RADIUS_WGS84
    if place == goal.ANYWHERE:
        scale = goal.energy_scale(orbit)
        wanted = low * math.sqrt(c3 + 2.0 * GM / low)
        momentum = radius * casadi.sqrt(v2 - climb * climb)
        return [
            100.0 * (0.5 * v2 - GM / radius - 0.5 * c3) / scale,
            100.0 * (momentum - wanted) / wanted,
        ]
    there = low if place == goal.AT_PERIGEE else orbit.apogee + EARTH_RADIUS_WGS84
    speed = math.sqrt(c3 + 2.0 * GM / there)
    return [
        100.0 * (radius - there) / there,
        100.0 * climb / speed,
        100.0 * (casadi.sqrt(v2) - speed) / speed,
    ]


def cosine_of_inclination(r: Any, v: Any) -> Any:
    """cos i of symbols r [m] and v [m/s]."""
    hx, hy, hz = r[1] * v[2] - r[2] * v[1], r[2] * v[0] - r[0] * v[2], r[0] * v[1] - r[1] * v[0]
    return hz / casadi.sqrt(hx * hx + hy * hy + hz * hz)


def air_speed(r: Any, v: Any) -> Any:
    """Speed over the turning Earth of symbols r [m] and v [m/s], in m/s."""
    ux, uy = v[0] + OMEGA * r[1], v[1] - OMEGA * r[0]
    return casadi.sqrt(ux * ux + uy * uy + v[2] * v[2])
