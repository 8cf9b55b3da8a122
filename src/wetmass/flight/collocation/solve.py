"""The best ascent by direct collocation: one sparse programme with exact derivatives, solved by IPOPT."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import casadi
import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.conditions import Part, arrive
from wetmass.flight.collocation.cutting import outline as first_outline
from wetmass.flight.collocation.dynamics import TIME
from wetmass.flight.collocation.mesh import Mesh
from wetmass.flight.collocation.sparse import Programme
from wetmass.flight.collocation.structure import changed, simple_guess
from wetmass.flight.collocation.transcription import SHORTEST_PHASE, add_phase, scales, start, steering

ACCEPTABLE = "Solved_To_Acceptable_Level"  # IPOPT: within 1e-6, could not go on
MOST_CHANGES = 6  # of the order of arcs


@dataclass(frozen=True, slots=True)
class Solution:
    """An ascent found by collocation; `outline` holds the states and controls."""

    payload: float  # kg
    outline: ph.Outline
    status: str  # IPOPT's own word
    solved: bool  # IPOPT met its tolerance
    iterations: int
    pressed: tuple[int, ...]  # phases at their shortest: their order is in question
    # of each phase (5, size): q [Pa], felt [m/s²], (q·α)² [Pa²rad²], heating [W/m²], Mach
    paths: tuple[np.ndarray, ...]

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
    programme = Programme()
    mass = outline.bare_mass + outline.payload
    unit = 0.01 * mass  # of the payload
    payload = programme.variable(1, 1, outline.payload / unit, -0.9 * outline.bare_mass / unit * 0.02, np.inf)
    steer = steering(programme, ascent, outline)
    before = casadi.vertcat(
        *start(ascent, steer[1]), (outline.bare_mass + payload * unit) / mass
    )  # fmt: skip
    parts: list[Part] = []
    for phase in outline.phases:
        add_phase(programme, ascent, outline, phase, before, parts, steer, mass)
        part = parts[-1]
        part.after = casadi.vertcat(part.end[:6], part.end[6] - phase.dropped / mass)
        if phase.left is not None:
            part.after = casadi.vertcat(part.end[:6], (phase.left + payload * unit) / mass)
        before = part.after
    arrive(programme, ascent, parts, len(outline.program.segments))

    answer = programme.solved(-payload, iterations, tolerance, told, hint)
    wanted = [payload, steer, *(k for p in parts for k in (p.x, p.u, p.s, p.duration, p.path))]
    found = programme.values(wanted, answer)
    value = float(found[0][0, 0]) * unit
    phases, pressed = [], []
    for i, phase in enumerate(outline.phases):
        x, u, s, duration = found[2 + 5 * i : 6 + 5 * i]
        state = x * scales(mass)
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
        tuple(pressed),
        tuple(found[6 + 5 * i] for i in range(len(phases))),
    )


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
    guess = simple_guess(ascent) if x is None else x
    outline = first_outline(ascent, guess, freedom, fineness=fineness)
    first = near if warm and x is not None else solve
    solution = first(ascent, outline, **options)
    for _ in range(MOST_CHANGES):
        other = changed(ascent, solution.outline, solution.paths, solution.pressed)
        if other is None and solution.solved:
            other = _laid_anew(ascent, guess, solution.outline)
        if other is None:
            break
        solution = (near if solution.solved else solve)(ascent, other, **options)
    return solution


def _laid_anew(ascent: Ascent, x: np.ndarray, outline: ph.Outline) -> ph.Outline | None:
    """The outline with what its payload sets laid out anew; None where nothing moved that matters."""
    x = np.array(x, dtype=float)
    x[-1] += outline.payload - ascent.build(ascent.open_values(x)).payload
    vehicle, laid = ascent.laid(x)
    control = ascent.control(x, vehicle)
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
        if phase.steering == at.VERTICAL and phase.ends_when(ph.HEIGHT):
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
