"""The equations of motion on CasADi symbols: the kernels of `physics`, the smooth air, C² drag curves.

The same physics as `wetmass.flight.motion`, in scaled units: the Earth's radius, the speed of a circle at
the ground, the time of one radian on it, and the lift-off mass are each 1.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import Any

import casadi
import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.collocation.beside import Engine, added
from wetmass.flight.collocation.pieces import Pieces, curve_pieces
from wetmass.physics.earth import (
    AXIS_RATIO_SQUARED,
    EARTH_RADIUS_WGS84,
    GM,
    OMEGA,
    gravity_kernel,
    height_kernel,
)
from wetmass.physics.heating import free_molecular_kernel

LENGTH = EARTH_RADIUS_WGS84  # m
SPEED = math.sqrt(GM / EARTH_RADIUS_WGS84)  # m/s
TIME = LENGTH / SPEED  # s

VERTICAL, TILTING, HOLDING, ZERO_LIFT, STEERED, COASTING = (
    "vertical", "tilting", "holding", "zero lift", "steered", "coasting",
)  # fmt: skip

_STILL = 1e-6  # m²/s²: added to the square of the air speed, so that standing still has a slope


@functools.cache
def _air() -> Pieces:
    """The cubics of `physics.smooth_air`: logarithms of pressure, density and speed of sound over height."""
    from wetmass.physics.smooth_air import _spline

    spline = _spline()
    edges = np.unique(spline.t)
    powers = [spline(edges[:-1], power)[:, 1:] / math.factorial(power) for power in (3, 2, 1, 0)]
    return Pieces(edges, np.array(powers))


def _dot(a: Any, b: Any) -> Any:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _surroundings(r: Any, v: Any, air_piece: Any) -> dict[str, Any]:
    """What place r [m] and speed v [m/s] (each of three) mean: height, air, air speed, vertical."""
    height = height_kernel(*r)
    pressure, density, sound = (casadi.exp(part) for part in _air().values(height, air_piece))
    air = (v[0] + OMEGA * r[1], v[1] - OMEGA * r[0], v[2])
    speed = casadi.sqrt(_dot(air, air) + _STILL)
    normal = (r[0], r[1], r[2] * AXIS_RATIO_SQUARED)
    size = casadi.sqrt(_dot(normal, normal))
    return {
        "height": height,
        "pressure": pressure,
        "density": density,
        "sound": sound,
        "speed": speed,
        "forward": tuple(part / speed for part in air),
        "up": tuple(part / size for part in normal),
        "q": 0.5 * density * speed * speed,
        "heating": free_molecular_kernel(density, speed),
    }


@functools.cache
def _height() -> Any:
    """CasADi function: height [m] of a scaled state."""
    x = casadi.SX.sym("x", 7)
    return casadi.Function("height", [x], [height_kernel(*place_and_speed(x)[0])])


@functools.cache
def _mach() -> Any:
    """CasADi function: Mach number of a scaled state and its piece of air."""
    x, piece = casadi.SX.sym("x", 7), casadi.SX.sym("piece", _air().width)
    now = _surroundings(*place_and_speed(x), piece)
    return casadi.Function("mach", [x, piece], [now["speed"] / now["sound"]])


@functools.cache
def surroundings() -> Any:
    """CasADi function of a scaled state: height [m], dynamic pressure [Pa], forward (3), up (3)."""
    x, piece = casadi.SX.sym("x", 7), casadi.SX.sym("piece", _air().width)
    now = _surroundings(*place_and_speed(x), piece)
    found = [now["height"], now["q"], casadi.vertcat(*now["forward"]), casadi.vertcat(*now["up"])]
    inner = casadi.Function("inner", [x, piece], found, {"is_diff_in": [True, False]})
    state = casadi.MX.sym("x", 7)
    return casadi.Function("surroundings", [state], inner(state, _air().piece(_height()(state))))


def tilted(up: Any, tilt: Any, azimuth: Any) -> tuple[Any, Any, Any]:
    """Unit vector `tilt` from the vertical towards `azimuth` (north over east) [rad]."""
    level = 1.0 / casadi.sqrt(up[0] * up[0] + up[1] * up[1])
    north, east = casadi.cos(azimuth), casadi.sin(azimuth)
    towards = (
        -north * up[2] * up[0] * level - east * up[1] * level,
        -north * up[2] * up[1] * level + east * up[0] * level,
        north / level,
    )
    c, s = casadi.cos(tilt), casadi.sin(tilt)
    return tuple(c * u + s * h for u, h in zip(up, towards, strict=True))  # type: ignore[return-value]


def square_of_angle(chord2: Any) -> Any:
    """α² from the square of the chord between two unit vectors, by the series of (2 asin c/2)².

    To 1e-4 up to 57°, smooth at zero, rising all the way to 180°.
    """
    c2 = chord2
    return c2 * (1.0 + c2 * (1.0 / 12.0 + c2 * (1.0 / 90.0 + c2 * (1.0 / 560.0 + c2 / 3150.0))))


@dataclass(frozen=True, slots=True)
class Turn:
    """How the thrust is tilted at the start: from an angle off the vertical, at a rate, to what is held."""

    begin: float  # rad from the vertical; 0 from a pad
    rate: float  # rad/s, below zero to pull up
    lead: float  # rad that is held steeper than the tilt
    upright: bool  # the tilt is less than the lead: what is held is the vertical

    def held(self, tilt: Any) -> Any:
        """Angle from the vertical that is held until the path has the tilt [rad]."""
        return 0.0 if self.upright else tilt - self.lead


@dataclass(frozen=True, slots=True)
class Rule:
    """What makes the motion of one phase: how the thrust points, and what burns."""

    kind: str
    row: np.ndarray  # (SEGMENT_WIDTH,) of the segment as it burns
    curve: np.ndarray  # drag spline
    turn: Turn
    engines: tuple[Engine, ...] = ()  # beside those of the row


def motion(rule: Rule, mass: float) -> Any:
    """CasADi function of one point: (rates of the scaled state, path numbers, counted flow).

    Inputs: x (7) scaled state: place, speed, mass over `mass` [kg]; u (3) thrust direction; s throttle;
    t [TIME] since the tilt began; p (2) tilt and azimuth [rad]; c (engines beside, at least 1) [TIME] since
    each was lit.
    Outputs: dx (7) per TIME; path (5): dynamic pressure [Pa], felt acceleration along the thrust [m/s²],
    square of q·α [Pa²rad²], heating [W/m²], Mach number; flow from the tanks of the stage at work, over
    `mass`, per TIME.
    """
    row, engines = rule.row, rule.engines
    x, u, s = casadi.SX.sym("x", 7), casadi.SX.sym("u", 3), casadi.SX.sym("s")
    t, p, c = casadi.SX.sym("t"), casadi.SX.sym("p", 2), casadi.SX.sym("c", max(1, len(engines)))
    drags = curve_pieces(rule.curve)
    air_piece, drag_piece = casadi.SX.sym("air", _air().width), casadi.SX.sym("drag", drags.width)
    traced = [k for k, engine in enumerate(engines) if engine.trace is not None]
    trace_pieces = [casadi.SX.sym("trace", engines[k].trace.width) for k in traced]  # type: ignore[union-attr]
    r, v = place_and_speed(x)
    m = x[6] * mass
    now = _surroundings(r, v, air_piece)
    g = gravity_kernel(*r)
    pieces = [trace_pieces[traced.index(k)] if k in traced else None for k in range(len(engines))]
    more = added(engines, [c[k] * TIME for k in range(len(engines))], pieces, now)
    drag = more.drag
    if row[at.AREA] > 0.0:
        coefficient = drags.values(now["speed"] / now["sound"], drag_piece)[0]
        drag = drag + now["q"] * row[at.AREA] * coefficient
    forward = now["forward"]
    pointing = _pointing(rule, now, u, t, p)
    push, flow, counted = 0.0, 0.0, 0.0
    if rule.kind != COASTING:
        throttled = row[at.THROTTLED_THRUST] - now["pressure"] * row[at.THROTTLED_EXIT] + more.gained
        fixed = row[at.FIXED_THRUST] - now["pressure"] * row[at.FIXED_EXIT] + more.thrust
        push = fixed + s * throttled
        flow = row[at.FIXED_FLOW] + s * row[at.THROTTLED_FLOW] + more.flow
        counted = row[at.FIXED_COUNTED] + s * row[at.THROTTLED_COUNTED] + more.counted
    rates = [v[i] * (TIME / LENGTH) for i in range(3)]
    rates += [(g[i] + (push * pointing[i] - drag * forward[i]) / m) * (TIME / SPEED) for i in range(3)]
    rates.append(-flow * (TIME / mass))
    along = _dot(pointing, forward)
    q_alpha2 = now["q"] ** 2 * square_of_angle(2.0 * (1.0 - along))
    felt = (push - drag * along) / m
    path = casadi.vertcat(now["q"], felt, q_alpha2, now["heating"], now["speed"] / now["sound"])
    looked_up = [air_piece, drag_piece, *trace_pieces]
    inner = casadi.Function(
        "inner",
        [x, u, s, t, p, c, *looked_up],
        [casadi.vertcat(*rates), path, casadi.SX(counted * (TIME / mass))],
        {"is_diff_in": [True] * 6 + [False] * len(looked_up)},
    )
    inputs = [
        casadi.MX.sym(name, rows)
        for name, rows in (("x", 7), ("u", 3), ("s", 1), ("t", 1), ("p", 2), ("c", max(1, len(engines))))
    ]
    here = _air().piece(_height()(inputs[0]))
    found = [here, drags.piece(_mach()(inputs[0], here))]
    for k in traced:
        begun = float(engines[k].group[of.VALUES + 3])
        found.append(engines[k].trace.piece(inputs[5][k] * TIME + begun))  # type: ignore[union-attr]
    return casadi.Function("motion", inputs, inner(*inputs, *found))


def _pointing(rule: Rule, now: dict[str, Any], u: Any, t: Any, p: Any) -> tuple[Any, ...]:
    """Unit vector of the thrust."""
    if rule.kind == VERTICAL:
        return now["up"]
    if rule.kind == TILTING:
        return tilted(now["up"], rule.turn.begin + rule.turn.rate * t * TIME, p[1])
    if rule.kind == HOLDING:
        return tilted(now["up"], rule.turn.held(p[0]), p[1])
    if rule.kind == STEERED:
        return (u[0], u[1], u[2])
    return now["forward"]


def place_and_speed(x: Any) -> tuple[tuple[Any, Any, Any], tuple[Any, Any, Any]]:
    """Unscaled place [m] and speed [m/s] of a scaled state."""
    return tuple(x[i] * LENGTH for i in range(3)), tuple(x[3 + i] * SPEED for i in range(3))  # type: ignore[return-value]
