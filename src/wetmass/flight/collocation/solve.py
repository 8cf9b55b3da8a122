"""The best ascent by direct collocation: one sparse programme with exact derivatives, solved by IPOPT."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, replace
from typing import Any

import casadi
import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, start_state
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.beside import engines_beside
from wetmass.flight.collocation.conditions import Part, arrive, end_of_phase, since_lit, tilted_for
from wetmass.flight.collocation.cutting import outline as first_outline
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
from wetmass.flight.collocation.mesh import Mesh, interpolation, radau_points
from wetmass.flight.collocation.sparse import Programme
from wetmass.flight.collocation.structure import changed, simple_guess
from wetmass.record.mission import Climb

ACCEPTABLE = "Solved_To_Acceptable_Level"  # IPOPT: within 1e-6, could not go on
SHORTEST_PHASE = 0.02  # s: a phase pressed down to this says that the order of events is another
MOST_CHANGES = 6  # of the order of arcs


@dataclass(frozen=True, slots=True)
class Solution:
    """An ascent found by collocation; `outline` holds the states and controls."""

    payload: float  # kg
    outline: ph.Outline
    status: str  # IPOPT's own word
    solved: bool  # IPOPT met its tolerance
    iterations: int
    breach: float  # largest violation of a condition, in the scaled programme
    build_seconds: float
    solve_seconds: float
    variables: int
    pressed: tuple[int, ...]  # phases at their shortest: their order is in question
    paths: tuple[
        np.ndarray, ...
    ]  # of each phase (5, size): q [Pa], felt [m/s²], (q·α)² [Pa²rad²], heating [W/m²], Mach

    def __repr__(self) -> str:
        return f"<collocation: {self.payload:,.2f} kg, {self.status}, {self.iterations} iterations>"


def solve(
    ascent: Ascent,
    outline: ph.Outline,
    *,
    iterations: int = 400,
    tolerance: float = 1e-8,
    told: int = 0,
    hint: bool = False,
) -> Solution:
    """The most payload over the phases of `outline`, from its guess.

    iterations  at most;  tolerance  of IPOPT, in scaled units;  told  IPOPT's print level
    hint        the guess is near the answer: start with a small barrier
    The solution is a record whatever IPOPT says: read `status` and `solved`.
    """
    begun = time.perf_counter()
    programme = Programme()
    mass = outline.bare_mass + outline.payload
    unit = 0.01 * mass  # of the payload
    payload = programme.variable(1, 1, outline.payload / unit, -0.9 * outline.bare_mass / unit * 0.02, np.inf)
    steer = _steering(programme, ascent, outline)
    before = casadi.vertcat(
        *_start(ascent, steer[1]), (outline.bare_mass + payload * unit) / mass
    )  # fmt: skip
    parts: list[Part] = []
    for phase in outline.phases:
        _add_phase(programme, ascent, outline, phase, before, parts, steer, mass)
        part = parts[-1]
        part.after = casadi.vertcat(part.end[:6], part.end[6] - phase.dropped / mass)
        if phase.left is not None:
            part.after = casadi.vertcat(part.end[:6], (phase.left + payload * unit) / mass)
        before = part.after
    arrive(programme, ascent, parts, len(outline.program.segments))

    solver = programme.solver(-payload, iterations, tolerance, told, hint)
    built = time.perf_counter()
    answer = programme.solved(solver)
    ended = time.perf_counter()
    wanted = [payload, steer, *(k for p in parts for k in (p.x, p.u, p.s, p.duration, p.path))]
    found = programme.values(wanted, answer)
    value = float(found[0][0, 0]) * unit
    phases, pressed = [], []
    for i, phase in enumerate(outline.phases):
        x, u, s, duration = found[2 + 5 * i : 6 + 5 * i]
        state = x * _scales(mass)
        duration = float(duration[0, 0]) * TIME
        if duration < 1.01 * SHORTEST_PHASE:
            pressed.append(i)
        phases.append(replace(phase, duration=duration, state=state, direction=u, throttle=s.ravel()))
    tilt, azimuth = float(found[1][0, 0]), float(found[1][1, 0])
    return Solution(
        value,
        replace(outline, phases=tuple(phases), tilt=tilt, azimuth=azimuth, payload=value),
        answer.status,
        answer.status == "Solve_Succeeded",  # "acceptable" is not enough
        answer.iterations,
        answer.breach,
        built - begun,
        ended - built,
        programme.size,
        tuple(pressed),
        tuple(found[6 + 5 * i] for i in range(len(phases))),
    )


def _scales(mass: float) -> np.ndarray:
    return np.array([LENGTH] * 3 + [SPEED] * 3 + [mass])[:, None]


def _steering(programme: Programme, ascent: Ascent, outline: ph.Outline) -> Any:
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


def _start(ascent: Ascent, azimuth: Any) -> list[Any]:
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


def _add_phase(
    programme: Programme, ascent: Ascent, outline: ph.Outline, phase: ph.Phase, before: Any,
    parts: list[Part], steer: Any, mass: float,
) -> None:  # fmt: skip
    """Variables and conditions of one phase, which joins `parts`; `before` is the scaled state at its start."""
    mesh, size, row = phase.mesh, phase.mesh.size, phase.row
    low = np.broadcast_to([[-12.0]] * 3 + [[-3.0]] * 3 + [[1e-4]], (7, size))
    high = [[12.0]] * 3 + [[3.0]] * 3 + [[10.0]]
    inside = programme.variable(7, size, phase.state[:, 1:] / _scales(mass), low, high)
    x = casadi.horzcat(before, inside)
    duration = programme.variable(1, 1, phase.duration / TIME, SHORTEST_PHASE / TIME, 30.0)
    u: Any = casadi.MX(casadi.DM(phase.direction))
    if phase.kind == STEERED:
        u = programme.variable(3, size, phase.direction, -1.2, 1.2)
        programme.hold(casadi.sum1(u * u) - 1.0)
    s: Any = casadi.MX.ones(1, size)
    if phase.throttles:
        most = np.ones((1, size))
        if phase.ends is not None and phase.ends[0] == ph.FULL_AGAIN:
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
        programme.hold(path[1, :] / limits.acceleration, -np.inf, 1.0)
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


def best(
    ascent: Ascent,
    x: np.ndarray | None = None,
    freedom: ph.Freedom = ph.Freedom.LAW,
    *,
    fineness: float = 1.0,
    warm: bool = True,
    **options: Any,
) -> Solution:
    """The most payload by collocation; from the unknowns `x` of a flight, else from a simple guess.

    warm  `x` is near the answer
    Solved again while arcs at a limit vanish or appear, at most `MOST_CHANGES` times, and where what the
    payload sets apart from the mass (height of the rise, moment of leaving the pad) has moved.
    """
    start = simple_guess(ascent) if x is None else x
    outline = first_outline(ascent, start, freedom, fineness=fineness)
    first = near if warm and x is not None else solve
    solution = first(ascent, outline, **options)
    for _ in range(MOST_CHANGES):
        other = changed(ascent, solution.outline, solution.paths, solution.pressed)
        if other is None and solution.solved:
            other = _laid_anew(ascent, start, solution.outline)
        if other is None:
            break
        solution = (near if solution.solved else solve)(ascent, other, **options)
    return solution


def _laid_anew(ascent: Ascent, x: np.ndarray, outline: ph.Outline) -> ph.Outline | None:
    """The outline with what its payload sets laid out anew; None where nothing moved that matters."""
    x = np.array(x, dtype=float)
    x[-1] += outline.payload - ascent.build(ascent.open_values(x)).payload
    vehicle = ascent.build(ascent.open_values(x))
    laid, control = ascent.lay_out(x, vehicle), ascent.control(x, vehicle)
    height, rate = float(control[at.RISE_HEIGHT]), math.copysign(control[at.TILT_RATE], outline.turn.rate)
    moved = abs(rate / outline.turn.rate - 1.0)
    if len(laid.groups):
        moved = float(
            np.max(np.abs(laid.groups[:, of.VALUES + 3] - outline.program.groups[:, of.VALUES + 3]))
        )
    phases = []
    for phase in outline.phases:
        groups = phase.groups.copy()
        for column in (of.VALUES + 3, of.OFF_TIME):
            groups[:, column] = laid.groups[:, column]
        changes: dict[str, Any] = {"groups": groups}
        if phase.steering == at.VERTICAL and phase.ends is not None and phase.ends[0] == ph.HEIGHT:
            moved = max(moved, abs(phase.ends[1] - height) / 100.0)
            changes["ends"] = (ph.HEIGHT, height)
        phases.append(replace(phase, **changes))
    if moved < 1e-5:
        return None
    bare = laid.lift_off_mass - outline.payload
    turn = replace(outline.turn, rate=rate)
    return replace(outline, phases=tuple(phases), program=laid, bare_mass=bare, turn=turn)


def near(ascent: Ascent, outline: ph.Outline, **options: Any) -> Solution:
    """Solved from a guess near the answer; as from any guess when the small barrier holds it back.

    An answer that is only acceptable to IPOPT stays one: a finer mesh helps it, another start does not.
    """
    solution = solve(ascent, outline, hint=True, **({"iterations": 80} | options))
    if solution.solved or solution.status == ACCEPTABLE:
        return solution
    return solve(ascent, outline, **options)


def refined(ascent: Ascent, solution: Solution, **options: Any) -> Solution:
    """Solved once more with every interval cut in two, but for arcs at a limit, whose throttle then swings.

    Steering read off the coarse mesh swings a little on the fine one: smoothing that takes more iterations.
    """
    meshes: list[Mesh] = [
        phase.mesh if phase.throttles else phase.mesh.halved(list(range(phase.mesh.intervals)))
        for phase in solution.outline.phases
    ]
    return near(ascent, solution.outline.with_meshes(meshes), **({"iterations": 300} | options))
