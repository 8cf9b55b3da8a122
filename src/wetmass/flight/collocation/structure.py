"""Which arcs an ascent has: arcs at a limit that vanish are taken out, limits that bind get their arc."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.dynamics import COASTING
from wetmass.flight.collocation.mesh import Mesh

BURNOUT_ANGLE = math.radians(28.0)  # of the path above the horizon where the first stage is empty
OVER = 1e-5  # relative: a limit passed by more than this needs an arc


def simple_guess(ascent: Ascent) -> np.ndarray:
    """Unknowns of a flight that leaves well and ends anywhere: the starts stated, one tilt found by halving.

    The tilt is that after which a zero-lift turn leaves the first stage at 28° above the horizon.
    """
    x = np.array([unknown.start for unknown in ascent.unknowns])
    low, high = math.log(1e-3), math.log(0.5)
    for _ in range(14):
        x[0] = math.exp(0.5 * (low + high))
        if ascent.path_angle_after_first_stage(x) > BURNOUT_ANGLE:
            low = math.log(x[0])
        else:
            high = math.log(x[0])
    return x


def joined(one: ph.Phase, other: ph.Phase) -> ph.Phase:
    """Two phases of the same rule as one."""
    duration = one.duration + other.duration
    share = one.duration / duration
    edges = [*(share * e for e in one.mesh.edges), *(share + (1.0 - share) * e for e in other.mesh.edges[1:])]
    return replace(
        other,
        mesh=Mesh(tuple(edges), one.mesh.points),
        duration=duration,
        state=np.hstack([one.state, other.state[:, 1:]]),
        direction=np.hstack([one.direction, other.direction]),
        throttle=np.append(one.throttle, other.throttle),
    )


def _same_rule(one: ph.Phase, other: ph.Phase) -> bool:
    return (one.kind, one.segment, one.throttles, one.exposed) == (
        other.kind, other.segment, other.throttles, other.exposed,
    )  # fmt: skip


def without(phases: list[ph.Phase], i: int) -> list[ph.Phase]:
    """The phases without number `i`, a limit's arc or the full-thrust arc before one, now of no length."""
    gone = phases[i]
    before, after = phases[:i], phases[i + 1 :]
    if gone.throttles and before and before[-1].segment == gone.segment:
        ends = None if gone.ends is not None and gone.ends[0] == ph.FULL_AGAIN else gone.ends
        before[-1] = replace(before[-1], ends=ends, dropped=before[-1].dropped + gone.dropped)
        if ends is None and gone.dropped == 0.0 and after and _same_rule(before[-1], after[0]):
            return [*before[:-1], joined(before[-1], after[0]), *after[1:]]
    return [*before, *after]


def _cut(phase: ph.Phase, place: float, first: dict, second: dict) -> list[ph.Phase]:
    count = phase.mesh.intervals
    parts = []
    for start, end, change in ((0.0, place, first), (place, 1.0, second)):
        mesh = Mesh.even(max(2, math.ceil(count * (end - start))), phase.mesh.points)
        parts.append(replace(phase.on(mesh, start, end), **change))
    return parts


def changed(ascent: Ascent, outline: ph.Outline, paths: tuple[np.ndarray, ...], pressed: tuple[int, ...]):
    """The outline with arcs taken out or put in as a solution asks for; None when it asks for nothing.

    paths    of each phase, (4, size): dynamic pressure, felt acceleration, (q·α)², heating
    pressed  phases that the solution made as short as it may
    """
    phases = list(outline.phases)
    for i in pressed:
        phase = phases[i]
        full_arc = not phase.throttles and phase.ends is not None and phase.ends[0] == ph.FELT
        if phase.throttles or full_arc:
            return replace(outline, phases=tuple(without(phases, i)))
    limits = ascent.limits
    for i, phase in enumerate(phases):
        throttles = outline.program.segments[phase.segment][at.LEAST_THROTTLE] < 1.0
        if phase.throttles or phase.kind == COASTING or not throttles:
            continue
        places = phase.mesh.places()
        over = np.nonzero(paths[i][1] > limits.acceleration * (1.0 + OVER))[0]
        if len(over) and places[over[0]] > 0.0:
            parts = _cut(
                phase,
                float(min(places[over[0]], 0.98)),
                {"throttles": False, "ends": (ph.FELT, 0.0), "dropped": 0.0},
                {"throttles": True},
            )
            return replace(outline, phases=(*phases[:i], *parts, *phases[i + 1 :]))
    return None
