"""The best ascent by direct collocation: one sparse programme with exact derivatives, solved by IPOPT."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, replace
from typing import Any

import casadi
import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, start_state
from wetmass.flight.collocation import arrival
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.dynamics import (
    COASTING,
    LENGTH,
    SPEED,
    STEERED,
    TIME,
    motion,
    place_and_speed,
    square_of_angle,
    surroundings,
)
from wetmass.flight.collocation.mesh import Mesh, interpolation, radau_points
from wetmass.flight.collocation.structure import changed, simple_guess
from wetmass.flight.goal import INCLINATION_PLAY, SAME_AS_LATITUDE

ACCEPTABLE = "Solved_To_Acceptable_Level"  # IPOPT: within 1e-6, could not go on
SHORTEST_PHASE = 0.02  # s: a phase pressed down to this says that the order of events is another


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
    ]  # of each phase (4, size): q [Pa], felt [m/s²], (q·α)² [Pa²rad²], heating [W/m²]

    def __repr__(self) -> str:
        return f"<collocation: {self.payload:,.2f} kg, {self.status}, {self.iterations} iterations>"


class _Programme:
    """Variables, conditions and bounds, gathered phase by phase."""

    def __init__(self) -> None:
        self.symbols: list[Any] = []
        self.first: list[np.ndarray] = []
        self.low: list[np.ndarray] = []
        self.high: list[np.ndarray] = []
        self.conditions: list[Any] = []
        self.least: list[np.ndarray] = []
        self.most: list[np.ndarray] = []

    def variable(self, rows: int, columns: int, first: Any, low: Any, high: Any) -> Any:
        symbol = casadi.MX.sym(f"w{len(self.symbols)}", rows, columns)
        self.symbols.append(casadi.vec(symbol))
        shape = (rows, columns)
        first, low, high = (np.broadcast_to(np.asarray(a, float), shape) for a in (first, low, high))
        self.first.append(np.clip(first, low, high).ravel(order="F"))
        self.low.append(low.ravel(order="F"))
        self.high.append(high.ravel(order="F"))
        return symbol

    def hold(self, expression: Any, least: float = 0.0, most: float = 0.0) -> None:
        expression = casadi.vec(expression)
        self.conditions.append(expression)
        self.least.append(np.full(expression.numel(), least))
        self.most.append(np.full(expression.numel(), most))


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
    programme = _Programme()
    mass = outline.bare_mass + outline.payload
    site = ascent.site
    unit = 0.01 * mass  # of the payload
    payload = programme.variable(1, 1, outline.payload / unit, -0.9 * outline.bare_mass / unit * 0.02, np.inf)
    steer = programme.variable(
        2, 1, [[outline.tilt], [outline.azimuth]], [[1e-5], [site.heading_from]], [[1.3], [site.heading_to]]
    )
    rest = start_state(site)
    before = casadi.vertcat(
        *(rest[:3] / LENGTH), *(rest[3:6] / SPEED), (outline.bare_mass + payload * unit) / mass
    )
    made: list[dict[str, Any]] = []
    for phase in outline.phases:
        made.append(_add_phase(programme, ascent, outline, phase, before, steer, mass))
        before = made[-1]["after"]
    _segment_conditions(programme, outline, made, mass)
    _let_go_clocks(programme, outline, made)
    _arrival(programme, ascent, made[-1]["x"][:, -1])

    w, first = casadi.vertcat(*programme.symbols), np.concatenate(programme.first)
    options = {
        "print_time": 0,
        "ipopt.print_level": told,
        "ipopt.sb": "yes",
        "ipopt.max_iter": iterations,
        "ipopt.tol": tolerance,
        "ipopt.constr_viol_tol": 1e-8,
        "ipopt.acceptable_iter": 0,
        "ipopt.mu_strategy": "adaptive",
        "ipopt.linear_solver": "mumps",
    }
    if hint:
        options |= {
            "ipopt.mu_strategy": "monotone",
            "ipopt.mu_init": 1e-5,
            "ipopt.bound_push": 1e-6,
            "ipopt.bound_frac": 1e-6,
        }
    problem = {"x": w, "f": -payload, "g": casadi.vertcat(*programme.conditions)}
    solver = casadi.nlpsol("ascent", "ipopt", problem, options)
    built = time.perf_counter()
    low, high = np.concatenate(programme.least), np.concatenate(programme.most)
    answer = solver(
        x0=first, lbx=np.concatenate(programme.low), ubx=np.concatenate(programme.high), lbg=low, ubg=high
    )
    ended = time.perf_counter()
    seen = solver.stats()
    g = np.array(answer["g"]).ravel()
    breach = float(np.max(np.maximum(np.maximum(low - g, g - high), 0.0), initial=0.0))
    found = casadi.Function(
        "found", [w], [payload, steer, *[m[k] for m in made for k in ("x", "u", "s", "T", "path")]]
    )(answer["x"])
    found = [np.array(part) for part in found]
    phases, pressed = [], []
    for i, phase in enumerate(outline.phases):
        x, u, s, duration = found[2 + 5 * i : 6 + 5 * i]
        state = x * np.array([LENGTH] * 3 + [SPEED] * 3 + [mass])[:, None]
        duration = float(duration[0, 0]) * TIME
        if duration < 1.01 * SHORTEST_PHASE:
            pressed.append(i)
        phases.append(replace(phase, duration=duration, state=state, direction=u, throttle=s.ravel()))
    value = float(found[0][0, 0]) * unit
    return Solution(
        value,
        replace(
            outline,
            phases=tuple(phases),
            tilt=float(found[1][0, 0]),
            azimuth=float(found[1][1, 0]),
            payload=value,
        ),
        seen["return_status"],
        seen["return_status"] == "Solve_Succeeded",  # "acceptable" is not enough
        int(seen["iter_count"]),
        breach,
        built - begun,
        ended - built,
        len(first),
        tuple(pressed),
        tuple(found[6 + 5 * i] for i in range(len(phases))),
    )


def _add_phase(
    programme: _Programme,
    ascent: Ascent,
    outline: ph.Outline,
    phase: ph.Phase,
    before: Any,
    steer: Any,
    mass: float,
) -> dict[str, Any]:
    """Variables and conditions of one phase; `before` is the scaled state at its start."""
    mesh, size = phase.mesh, phase.mesh.size
    segment = outline.program.segments[phase.segment]
    curve = outline.program.curves[int(segment[at.CURVE])]
    scales = np.array([LENGTH] * 3 + [SPEED] * 3 + [mass])[:, None]
    low = np.broadcast_to([[-12.0]] * 3 + [[-3.0]] * 3 + [[1e-4]], (7, size))
    inside = programme.variable(
        7, size, phase.state[:, 1:] / scales, low, [[12.0]] * 3 + [[3.0]] * 3 + [[10.0]]
    )
    x = casadi.horzcat(before, inside)
    duration = programme.variable(1, 1, phase.duration / TIME, SHORTEST_PHASE / TIME, 30.0)
    steered = phase.kind == STEERED
    u: Any = casadi.MX(casadi.DM(phase.direction))
    if steered:
        u = programme.variable(3, size, phase.direction, -1.2, 1.2)
        programme.hold(casadi.sum1(u * u) - 1.0)
    s: Any = casadi.MX.ones(1, size)
    if phase.throttles:
        s = programme.variable(1, size, phase.throttle[None, :], segment[at.LEAST_THROTTLE], 1.0)
    places = mesh.places()[1:]
    rule = motion(phase.kind, segment, curve, outline.tilt_rate, mass).map(size)
    rates, path = rule(inside, u, s, duration * casadi.DM(places[None, :]), casadi.repmat(steer, 1, size))
    programme.hold(casadi.mtimes(x, _sparse(mesh.slopes())) - duration * rates)

    limits = ascent.limits
    felt_matters = (
        limits.acceleration < math.inf and segment[at.LEAST_THROTTLE] < 1.0 and phase.kind != COASTING
    )
    if phase.throttles and felt_matters:
        programme.hold(path[1, :] / limits.acceleration, -np.inf, 1.0)
    if (
        limits.pressure < math.inf
        and segment[at.LEAST_THROTTLE] < 1.0
        and _pressed(phase) > 0.05 * limits.pressure
    ):
        programme.hold(path[0, :] / limits.pressure, -np.inf, 1.0)
    if phase.exposed and limits.heating < math.inf:
        programme.hold(path[3, :] / limits.heating, -np.inf, 1.0)
    q_alpha = limits.q_alpha
    if outline.freedom is not ph.Freedom.FREE:
        q_alpha = min(q_alpha, ascent.steering.q_alpha)
    if steered and q_alpha < math.inf and _pressed(phase) > 100.0:
        programme.hold(path[2, :] / q_alpha**2, -np.inf, 1.0)
        start = u[:, : mesh.points] @ casadi.DM(interpolation(radau_points(mesh.points), np.array([0.0])))
        _, q, forward, _ = surroundings()(before)
        chord2 = casadi.sum1((start - forward) ** 2)
        programme.hold(q**2 * square_of_angle(chord2) / q_alpha**2, -np.inf, 1.0)
    end = inside[:, -1]
    if phase.ends is not None:
        _end_condition(programme, ascent, phase, end, path[:, -1], s[-1], duration, steer, outline.tilt_rate)
    after = casadi.vertcat(end[:6], end[6] - phase.dropped / mass)
    return {"x": x, "u": u, "s": s, "T": duration, "path": path, "after": after}


def _pressed(phase: ph.Phase) -> float:
    """Greatest dynamic pressure of the guess [Pa], by the bare exponential: to choose conditions only."""
    height = np.linalg.norm(phase.state[:3], axis=0) - 6.371e6
    speed = np.linalg.norm(phase.state[3:6], axis=0)
    return float(np.max(0.5 * 1.4 * np.exp(-np.maximum(height - 15e3, -15e3) / 7.5e3 - 1.5) * speed**2 * 1.5))


def _sparse(matrix: np.ndarray) -> Any:
    return casadi.sparsify(casadi.DM(matrix))


def _end_condition(
    programme: _Programme,
    ascent: Ascent,
    phase: ph.Phase,
    end: Any,
    path: Any,
    throttle: Any,
    duration: Any,
    steer: Any,
    tilt_rate: float,
) -> None:
    what, value = phase.ends  # type: ignore[misc]
    if what == ph.SINCE:
        return  # see `_let_go_clocks`
    if what == ph.TILTED:
        programme.hold(duration * (TIME * tilt_rate) - steer[0])
    elif what == ph.HEIGHT:
        programme.hold((surroundings()(end)[0] - value) / 1e3)
    elif what == ph.PRESSURE:
        programme.hold(casadi.log(path[0] / value))
    elif what == ph.HEATING:
        programme.hold(casadi.log(path[3] / value))
    elif what == ph.FELT:
        programme.hold(path[1] / ascent.limits.acceleration - 1.0)
    elif what == ph.FULL_AGAIN:
        programme.hold(throttle - 1.0)
    elif what == ph.TURNED:
        _, _, forward, up = surroundings()(end)
        sine = casadi.norm_2(casadi.cross(up, forward))
        programme.hold(casadi.atan2(sine, casadi.dot(up, forward)) - steer[0])


def _segment_conditions(
    programme: _Programme, outline: ph.Outline, made: list[dict[str, Any]], mass: float
) -> None:
    """Each segment lasts as long, or burns as much, as it says."""
    segments = outline.program.segments
    last = len(segments) - 1
    burnt: dict[int, Any] = {}
    lasting: dict[int, Any] = {}
    for phase, part in zip(outline.phases, made, strict=True):
        k = phase.segment
        lost = part["x"][6, 0] - part["x"][6, -1]
        lost = lost - segments[k][at.FIXED_FLOW] * (TIME / mass) * part["T"]
        burnt[k] = burnt.get(k, 0.0) + lost
        lasting[k] = lasting.get(k, 0.0) + part["T"]
    for k in sorted(burnt):
        segment = segments[k]
        if outline.restart and k in (last - 1, last - 2):
            continue  # first share and coast are open
        if segment[at.END] == at.ENDS_AT_TIME:
            programme.hold(lasting[k] - segment[at.END_VALUE] / TIME)
        elif segment[at.END] == at.ENDS_AT_BURNT:
            since = int(segment[at.END_SINCE])
            total = sum(burnt[j] for j in burnt if since <= j <= k and outline.program.burns[j])
            programme.hold(total - segment[at.END_VALUE] / mass)
        else:
            end = [part for phase, part in zip(outline.phases, made, strict=True) if phase.segment == k][-1]
            programme.hold((surroundings()(end["x"][:, -1])[0] - segment[at.END_VALUE]) / 1e3)


def _let_go_clocks(programme: _Programme, outline: ph.Outline, made: list[dict[str, Any]]) -> None:
    """Masses let go a stated time after a segment began."""
    waiting = [row for row in outline.program.let_go if int(row[at.LET_GO_WHEN]) == at.WHEN_TIME]
    for i, phase in enumerate(outline.phases):
        if phase.ends is None or phase.ends[0] != ph.SINCE:
            continue
        row = next(r for r in waiting if r[at.LET_GO_VALUE] == phase.ends[1])
        since = int(row[at.LET_GO_SEGMENT])
        spent = sum(made[j]["T"] for j in range(i + 1) if outline.phases[j].segment >= since)
        programme.hold(spent - row[at.LET_GO_VALUE] / TIME)


def _arrival(programme: _Programme, ascent: Ascent, end: Any) -> None:
    r, v = place_and_speed(end)
    for condition in arrival.shape_conditions(r, v, ascent.orbit, ascent.place):
        programme.hold(condition)
    wanted = ascent.orbit.inclination
    if wanted is not None:
        cosine = arrival.cosine_of_inclination(r, v)
        if abs(wanted - abs(ascent.site.latitude)) > SAME_AS_LATITUDE:
            programme.hold(100.0 * (cosine - math.cos(wanted)))
        else:
            programme.hold(100.0 * (cosine - math.cos(wanted + INCLINATION_PLAY)), 0.0, np.inf)


def best(
    ascent: Ascent,
    x: np.ndarray | None = None,
    freedom: ph.Freedom = ph.Freedom.LAW,
    *,
    fineness: float = 1.0,
    **options: Any,
) -> Solution:
    """The most payload by collocation; warm from the unknowns `x` of a flight, else from a simple guess.

    Solved again while arcs at a limit vanish or appear, at most six times.
    """
    start = simple_guess(ascent) if x is None else x
    outline = ph.outline(ascent, start, freedom, fineness=fineness)
    solution = _near(ascent, outline, **options) if x is not None else solve(ascent, outline, **options)
    for _ in range(6):
        other = changed(ascent, solution.outline, solution.paths, solution.pressed)
        if other is None:
            break
        solution = (_near if solution.solved else solve)(ascent, other, **options)
    return solution


def _near(ascent: Ascent, outline: ph.Outline, **options: Any) -> Solution:
    """Solved from a guess near the answer; as from any guess when the small barrier holds it back.

    An answer that is only acceptable to IPOPT stays one: a finer mesh helps it, another start does not.
    """
    solution = solve(ascent, outline, hint=True, **({"iterations": 80} | options))
    if solution.solved or solution.status == ACCEPTABLE:
        return solution
    return solve(ascent, outline, **options)


def refined(ascent: Ascent, solution: Solution, **options: Any) -> Solution:
    """Solved once more with every interval cut in two.

    Steering read off the coarse mesh swings a little on the fine one: smoothing that takes more iterations.
    """
    meshes: list[Mesh] = [
        phase.mesh.halved(list(range(phase.mesh.intervals))) for phase in solution.outline.phases
    ]
    return _near(ascent, solution.outline.with_meshes(meshes), **({"iterations": 300} | options))
