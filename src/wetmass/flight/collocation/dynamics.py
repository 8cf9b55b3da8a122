"""The equations of motion on CasADi symbols: the kernels of `physics`, the smooth air, C² drag curves.

The same physics as `wetmass.flight.motion`, in scaled units: the Earth's radius, the speed of a circle at
the ground, the time of one radian on it, and the lift-off mass are each 1.
"""

from __future__ import annotations

import functools
import math
from typing import Any

import casadi
import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.collocation.pieces import Pieces
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


@functools.lru_cache(maxsize=32)
def _drag(curve: bytes) -> Pieces:
    """The cubics of a drag table of `physics.curve`, given as its bytes."""
    table = np.frombuffer(curve).reshape(-1, 5)
    used = np.diff(table[:, 0]) > 0.0  # padding repeats the last row
    edges = np.append(table[:-1, 0][used], table[-1, 0])
    return Pieces(edges, table[:-1][used][:, :0:-1].T[:, :, None])


def _drag_of(curve: np.ndarray) -> Pieces:
    return _drag(np.ascontiguousarray(curve).tobytes())


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


def motion(kind: str, segment: np.ndarray, curve: np.ndarray, tilt_rate: float, mass: float) -> Any:
    """CasADi function of one point: (rates of the scaled state, path numbers).

    Inputs: x (7) scaled state: place, speed, mass over `mass` [kg]; u (3) thrust direction; s throttle;
    t [TIME] since the phase began; p (2) tilt and azimuth [rad].
    Outputs: dx (7) per TIME; path (4): dynamic pressure [Pa], felt acceleration along the thrust [m/s²],
    square of q·α [Pa²rad²], heating [W/m²].
    """
    x, u, s = casadi.SX.sym("x", 7), casadi.SX.sym("u", 3), casadi.SX.sym("s")
    t, p = casadi.SX.sym("t"), casadi.SX.sym("p", 2)
    air_piece, drag_piece = casadi.SX.sym("air", _air().width), casadi.SX.sym("drag", _drag_of(curve).width)
    r, v = place_and_speed(x)
    m = x[6] * mass
    now = _surroundings(r, v, air_piece)
    g = gravity_kernel(*r)
    drag = 0.0
    if segment[at.AREA] > 0.0:
        coefficient = _drag_of(curve).values(now["speed"] / now["sound"], drag_piece)[0]
        drag = now["q"] * segment[at.AREA] * coefficient
    forward = now["forward"]
    if kind == VERTICAL:
        pointing = now["up"]
    elif kind == TILTING:
        pointing = tilted(now["up"], tilt_rate * t * TIME, p[1])
    elif kind == HOLDING:
        pointing = tilted(now["up"], p[0], p[1])
    elif kind == STEERED:
        pointing = (u[0], u[1], u[2])
    else:
        pointing = forward
    push, flow = 0.0, 0.0
    if kind != COASTING:
        throttled = segment[at.THROTTLED_THRUST] - now["pressure"] * segment[at.THROTTLED_EXIT]
        fixed = segment[at.FIXED_THRUST] - now["pressure"] * segment[at.FIXED_EXIT]
        push = fixed + s * throttled
        flow = segment[at.FIXED_FLOW] + s * segment[at.THROTTLED_FLOW]
    rates = [v[i] * (TIME / LENGTH) for i in range(3)]
    rates += [(g[i] + (push * pointing[i] - drag * forward[i]) / m) * (TIME / SPEED) for i in range(3)]
    rates.append(-flow * (TIME / mass))
    along = _dot(pointing, forward)
    q_alpha2 = now["q"] ** 2 * square_of_angle(2.0 * (1.0 - along))
    felt = (push - drag * along) / m
    path = casadi.vertcat(now["q"], felt, q_alpha2, now["heating"])
    inner = casadi.Function(
        "inner",
        [x, u, s, t, p, air_piece, drag_piece],
        [casadi.vertcat(*rates), path],
        {"is_diff_in": [True] * 5 + [False] * 2},
    )
    inputs = [casadi.MX.sym(name, rows) for name, rows in (("x", 7), ("u", 3), ("s", 1), ("t", 1), ("p", 2))]
    here = _air().piece(_height()(inputs[0]))
    around = _drag_of(curve).piece(_mach()(inputs[0], here))
    return casadi.Function("motion", inputs, inner(*inputs, here, around))


def place_and_speed(x: Any) -> tuple[tuple[Any, Any, Any], tuple[Any, Any, Any]]:
    """Unscaled place [m] and speed [m/s] of a scaled state."""
    return tuple(x[i] * LENGTH for i in range(3)), tuple(x[3 + i] * SPEED for i in range(3))  # type: ignore[return-value]
