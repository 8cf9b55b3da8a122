"""Which arcs an ascent has, and in which order: arcs that vanish are taken out, events that meet change places.

A limit that binds outside its arc gets one.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.dynamics import COASTING
from wetmass.flight.collocation.mesh import Mesh
from wetmass.record.mission import Climb

BURNOUT_ANGLE = math.radians(28.0)  # of the path above the horizon where the first stage is empty
OVER = 1e-5  # relative: a limit passed by more than this needs an arc
AT_ONCE = 0.5  # s that a phase is given which was of no length


def simple_guess(ascent: Ascent, burnout: float = BURNOUT_ANGLE) -> np.ndarray:
    """Unknowns of a flight that leaves well and ends anywhere: the starts stated, one tilt found by halving.

    The tilt is that after which a zero-lift turn leaves the first stage at `burnout` above the horizon [rad].
    """
    x = np.array([unknown.start for unknown in ascent.unknowns])
    if isinstance(ascent.orbit, Climb):
        return x
    bounds = (1e-3, 0.5) if ascent.site.launch is None else (0.1, 1.4)
    low, high = (math.log(bound) for bound in bounds)
    for _ in range(14):
        x[0] = math.exp(0.5 * (low + high))
        if ascent.path_angle_after_first_stage(x) > burnout:
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
    settings = [(p.kind, p.segment, p.throttles, p.holds, p.exposed) for p in (one, other)]
    return settings[0] == settings[1] and np.array_equal(one.groups, other.groups)


def without(phases: list[ph.Phase], i: int) -> list[ph.Phase]:
    """The phases without number `i`, a limit's arc or the full-thrust arc before one, now of no length."""
    gone = phases[i]
    before, after = phases[:i], phases[i + 1 :]
    if gone.throttles and before and before[-1].segment == gone.segment:
        ends = None if gone.ends_when(ph.FULL_AGAIN) else gone.ends
        last = before[-1] = replace(
            before[-1], ends=ends, dropped=before[-1].dropped + gone.dropped, left=gone.left,
            ends_segment=gone.ends_segment,
        )  # fmt: skip
        nothing = ends is None and not last.ends_segment and last.dropped == 0.0
        if nothing and after and _same_rule(last, after[0]):
            return [*before[:-1], joined(last, after[0]), *after[1:]]
    return [*before, *after]


def swapped(phases: list[ph.Phase], i: int) -> list[ph.Phase] | None:
    """The phases with the events at both ends of number `i` in the other order; None where they hang together.

    Each event changes some of the settings of a phase; where those of the two have nothing in common, the
    short phase between them gets the settings before both, with what the second event changes.
    """
    if not 0 < i < len(phases) - 1:
        return None
    before, short, after = phases[i - 1 : i + 2]
    if before.left is not None or short.left is not None:
        return None
    first, second = _settings(before, short), _settings(short, after)
    if not first or not second or set(first) & set(second):
        return None
    size = short.mesh.size
    between = replace(
        before, **second, ends=before.ends, ends_segment=before.ends_segment, dropped=before.dropped,
        mesh=short.mesh, duration=AT_ONCE, state=short.state, direction=after.direction[:, :1] * np.ones(size),
        throttle=np.full(size, before.throttle[-1]),
    )  # fmt: skip
    sooner = replace(before, ends=short.ends, ends_segment=short.ends_segment, dropped=short.dropped)
    return [*phases[: i - 1], sooner, between, *phases[i + 1 :]]


def _settings(one: ph.Phase, other: ph.Phase) -> dict:
    """What differs in the rules of two phases, as it is in the other."""
    changed: dict = {}
    for name in ("steering", "throttles", "holds", "exposed"):
        if getattr(one, name) != getattr(other, name):
            changed[name] = getattr(other, name)
    if one.segment != other.segment or not np.array_equal(one.groups, other.groups):
        changed |= {"segment": other.segment, "groups": other.groups, "row": other.row}
    return changed


def _cut(phase: ph.Phase, place: float, first: dict, second: dict) -> list[ph.Phase]:
    count = phase.mesh.intervals
    parts = []
    for start, end, change in ((0.0, place, first), (place, 1.0, second)):
        mesh = Mesh.even(max(2, math.ceil(count * (end - start))), phase.mesh.points)
        parts.append(replace(phase.on(mesh, start, end), **change))
    return parts


def changed(ascent: Ascent, outline: ph.Outline, paths: tuple[np.ndarray, ...], pressed: tuple[int, ...]):
    """The outline with arcs taken out, put in or put in order as a solution asks; None when it asks for nothing.

    paths    of each phase, (5, size): dynamic pressure, felt acceleration, (q·α)², heating, Mach
    pressed  phases that the solution made as short as it may
    """
    phases = list(outline.phases)
    for i in pressed:
        phase = phases[i]
        if phase.throttles or phase.ends_when(ph.FELT):
            return replace(outline, phases=tuple(without(phases, i)))
        other = swapped(phases, i)
        if other is not None:
            return replace(outline, phases=tuple(other))
    turn, lead = outline.turn, outline.turn.lead
    if turn.begin > 0.0 and abs(outline.tilt - lead) < 1e-6:
        return replace(outline, turn=replace(turn, upright=not turn.upright))
    for i, phase in enumerate(phases):
        if phase.throttles or phase.kind == COASTING or not phase.row[at.LEAST_THROTTLE] < 1.0:
            continue
        over = np.nonzero(paths[i][1] > ascent.limits.acceleration * (1.0 + OVER))[0]
        if not len(over):
            continue
        if over[0] == 0:
            parts = [replace(phase, throttles=True, holds=outline.freedom is ph.Freedom.LAW)]
        else:
            parts = _cut(
                phase,
                float(min(phase.mesh.places()[over[0]], 0.98)),
                {"throttles": False, "ends": (ph.FELT, 0.0), "dropped": 0.0, "ends_segment": False,
                 "left": None},
                {"throttles": True, "holds": outline.freedom is ph.Freedom.LAW},
            )  # fmt: skip
        return replace(outline, phases=(*phases[:i], *parts, *phases[i + 1 :]))
    return None
