"""One phase as variables and conditions of the sparse programme: motion at the Radau points, limits all through."""

from __future__ import annotations

import math
from typing import Any

import casadi
import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, start_state
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.beside import engines_beside
from wetmass.flight.collocation.conditions import Part, end_of_phase, since_lit, tilted_for
from wetmass.flight.collocation.dynamics import (
    HOLDING,
    LENGTH,
    SPEED,
    STEERED,
    TILTING,
    TIME,
    Rule,
    motion,
    square_of_angle,
    surroundings,
)
from wetmass.flight.collocation.mesh import interpolation, radau_points
from wetmass.flight.collocation.sparse import Programme
from wetmass.record.mission import Climb

SHORTEST_PHASE = 0.02  # s: a phase pressed down to this says that the order of events is another


def scales(mass: float) -> np.ndarray:
    return np.array([LENGTH] * 3 + [SPEED] * 3 + [mass])[:, None]


def steering(programme: Programme, ascent: Ascent, outline: ph.Outline) -> Any:
    """Tilt and azimuth (2,) [rad]; held fast where nothing hangs on them."""
    site, turn = ascent.site, outline.turn
    low, high = [1e-5, site.heading_from], [1.3, site.heading_to]
    if turn.begin > 0.0:  # launched from the air: on its side of the lead, see `dynamics.Turn`
        low[0], high[0] = (0.05, turn.lead) if turn.upright else (turn.lead, 1.45)
    kinds = {phase.kind for phase in outline.phases}
    if not kinds & {TILTING, HOLDING}:
        low[0] = high[0] = outline.tilt
        if turn.begin == 0.0:
            low[1] = high[1] = outline.azimuth
    if isinstance(ascent.orbit, Climb):
        low[1] = high[1] = outline.azimuth
    first = [[outline.tilt], [outline.azimuth]]
    return programme.variable(2, 1, first, [[low[0]], [low[1]]], [[high[0]], [high[1]]])


def start(ascent: Ascent, azimuth: Any) -> list[Any]:
    """Scaled place and speed (6) as the flight begins: on the pad, or let go by a carrier heading `azimuth`."""
    rest, launch = start_state(ascent.site), ascent.site.launch
    speed: list[Any] = [float(part) for part in rest[3:6]]
    if launch is not None:
        latitude, longitude = ascent.site.latitude, ascent.site.longitude
        east = (-math.sin(longitude), math.cos(longitude), 0.0)
        up = (math.cos(latitude) * math.cos(longitude), math.cos(latitude) * math.sin(longitude),
              math.sin(latitude))  # fmt: skip
        north = np.cross(up, east)
        for i in range(3):
            level = casadi.cos(azimuth) * north[i] + casadi.sin(azimuth) * east[i]
            way = math.cos(launch.path_angle) * level + math.sin(launch.path_angle) * up[i]
            speed[i] = speed[i] + launch.speed * way
    return [*(float(part) / LENGTH for part in rest[:3]), *(part / SPEED for part in speed)]


def add_phase(
    programme: Programme, ascent: Ascent, outline: ph.Outline, phase: ph.Phase, before: Any,
    parts: list[Part], steer: Any, mass: float,
) -> None:  # fmt: skip
    """Variables and conditions of one phase, which joins `parts`; `before` is the scaled state at its start."""
    mesh, size, row = phase.mesh, phase.mesh.size, phase.row
    low = np.broadcast_to([[-12.0]] * 3 + [[-3.0]] * 3 + [[1e-4]], (7, size))
    high = [[12.0]] * 3 + [[3.0]] * 3 + [[10.0]]
    inside = programme.variable(7, size, phase.state[:, 1:] / scales(mass), low, high)
    x = casadi.horzcat(before, inside)
    duration = programme.variable(1, 1, phase.duration / TIME, SHORTEST_PHASE / TIME, 30.0)
    u: Any = casadi.MX(casadi.DM(phase.direction))
    if phase.kind == STEERED:
        u = programme.variable(3, size, phase.direction, -1.2, 1.2)
        programme.hold(casadi.sum1(u * u) - 1.0)
    s: Any = casadi.MX.ones(1, size)
    if phase.throttles:
        most = np.ones((1, size))
        if phase.ends_when(ph.FULL_AGAIN):
            most[0, -1] = 1.1  # held at 1 by the end's own condition: twice the same would leave no room
        s = programme.variable(1, size, phase.throttle[None, :], row[at.LEAST_THROTTLE], most)
        between = casadi.sparsify(casadi.DM(mesh.carried(mesh.between(), controls=True)))
        programme.hold(casadi.mtimes(s, between), row[at.LEAST_THROTTLE], 1.0)
    engines = engines_beside(phase.segment, phase.groups, outline.program.traces)
    rule = Rule(phase.kind, row, outline.program.curves[int(row[at.CURVE])], outline.turn, engines)
    elapsed = duration * casadi.DM(mesh.places()[1:][None, :])
    tilting = elapsed + (tilted_for(parts) if phase.kind == TILTING else 0.0)
    clocks = [elapsed + (since_lit(parts, e.number) if e.lit else 0.0) for e in engines]
    rates, path, counted = motion(rule, mass).map(size)(
        inside, u, s, tilting, casadi.repmat(steer, 1, size), casadi.vertcat(*(clocks or [elapsed]))
    )
    programme.hold(casadi.mtimes(x, casadi.sparsify(casadi.DM(mesh.slopes()))) - duration * rates)
    weights = casadi.DM(mesh.weights())
    parts.append(
        Part(phase, x, u, s, duration, path, duration * casadi.mtimes(counted, weights),
             duration * casadi.mtimes(s, weights))
    )  # fmt: skip
    _path_limits(programme, ascent, outline, parts[-1], before)
    end_of_phase(programme, ascent, outline, parts, steer, mass)


def _path_limits(
    programme: Programme, ascent: Ascent, outline: ph.Outline, part: Part, before: Any
) -> None:  # fmt: skip
    """The limits on felt acceleration, dynamic pressure, heating and q-alpha all through a phase."""
    phase, path, limits = part.phase, part.path, ascent.limits
    can_throttle = phase.row[at.LEAST_THROTTLE] < 1.0
    if phase.throttles and limits.acceleration < math.inf:
        least = 1.0 if phase.holds else -np.inf
        programme.hold(path[1, :] / limits.acceleration, least, 1.0)
    if limits.pressure < math.inf and can_throttle and _pressed(phase) > 0.05 * limits.pressure:
        met = phase.ends == (ph.PRESSURE, limits.pressure)  # at its last point, by the end's own condition
        programme.hold(path[0, : -1 if met else None] / limits.pressure, -np.inf, 1.0)
    if phase.exposed and limits.heating < math.inf:
        programme.hold(path[3, :] / limits.heating, -np.inf, 1.0)
    q_alpha = limits.q_alpha
    if outline.freedom is not ph.Freedom.FREE:
        q_alpha = min(q_alpha, ascent.steering.q_alpha)
    if not (q_alpha < math.inf and _pressed(phase) > 100.0):
        return
    tilted = phase.kind in (TILTING, HOLDING)
    if tilted and (ascent.site.launch is None or limits.q_alpha < math.inf):  # as `Ascent.trial` asks
        programme.hold(path[2, :] / q_alpha**2, -np.inf, 1.0)
    if phase.kind == STEERED:
        programme.hold(path[2, :] / q_alpha**2, -np.inf, 1.0)
        n = phase.mesh.points
        start = part.u[:, :n] @ casadi.DM(interpolation(radau_points(n), np.array([0.0])))
        _, q, forward, _ = surroundings()(before)
        chord2 = casadi.sum1((start - forward) ** 2)
        programme.hold(q**2 * square_of_angle(chord2) / q_alpha**2, -np.inf, 1.0)


def _pressed(phase: ph.Phase) -> float:
    """Greatest dynamic pressure of the guess [Pa], by the bare exponential: to choose conditions only."""
    height = np.linalg.norm(phase.state[:3], axis=0) - 6.371e6
    speed = np.linalg.norm(phase.state[3:6], axis=0)
    return float(np.max(0.5 * 1.4 * np.exp(-np.maximum(height - 15e3, -15e3) / 7.5e3 - 1.5) * speed**2 * 1.5))
