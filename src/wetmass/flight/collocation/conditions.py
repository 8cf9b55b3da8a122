"""What must hold where phases end: events, segments, clocks of engine groups, and the arrival."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import casadi
import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation import arrival
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.dynamics import TIME, place_and_speed, surroundings
from wetmass.flight.collocation.sparse import Programme
from wetmass.flight.goal import INCLINATION_PLAY, SAME_AS_LATITUDE
from wetmass.record.mission import Climb


@dataclass(slots=True)
class Part:
    """The symbols of one phase in the programme."""

    phase: ph.Phase
    x: Any  # (7, 1 + size) scaled state
    u: Any  # (3, size) direction of the thrust
    s: Any  # (1, size) throttle
    duration: Any  # [TIME]
    path: Any  # (5, size): q, felt, (q·α)², heating, Mach
    counted: Any  # burnt from the tanks of the stage at work, over the lift-off mass
    full: Any  # ∫ throttle dt [TIME]
    after: Any = None  # (7,) state once what its end lets go is gone

    @property
    def end(self) -> Any:
        """The state before anything is let go."""
        return self.x[:, -1]

    def state_of(self, g: float) -> int:
        """What group `g` is doing: one of WAITING, LIT, OUT, GONE."""
        return int(self.phase.groups[int(g), of.STATE])


def clock(parts: list[Part], wanted: Callable[[Part], bool]) -> Any:
    """Time that the phases `wanted` last together [TIME]."""
    return sum((part.duration for part in parts if wanted(part)), casadi.MX(0.0))


def since_lit(parts: list[Part], g: int) -> Any:
    """Time since group `g` was lit, at the end of `parts` [TIME]."""
    return clock(parts, lambda part: part.state_of(g) == of.LIT)


def tilted_for(parts: list[Part]) -> Any:
    """Time since the tilt began, at the end of `parts` [TIME]."""
    return clock(parts, lambda part: part.phase.steering == at.TILTING)


def burnt_since(parts: list[Part], segment: int) -> Any:
    """Burnt from the tanks of the stage at work since a segment began, over the lift-off mass."""
    return sum((p.counted for p in parts if p.phase.segment >= segment), casadi.MX(0.0))


def end_of_phase(
    programme: Programme, ascent: Ascent, outline: ph.Outline, parts: list[Part], steer: Any, mass: float
) -> None:
    """What the end of the last of `parts` must meet."""
    part = parts[-1]
    if part.phase.ends is not None:
        _event(programme, ascent, outline, parts, steer, mass)
    if part.phase.ends_segment:
        _segment(programme, outline, parts, mass)


def _event(
    programme: Programme, ascent: Ascent, outline: ph.Outline, parts: list[Part], steer: Any, mass: float
) -> None:
    part = parts[-1]
    what, value = part.phase.ends  # type: ignore[misc]
    path = part.path[:, -1]
    if what == ph.TILTED:
        turn = outline.turn
        there = turn.begin + turn.rate * TIME * tilted_for(parts)
        programme.hold(there - turn.held(steer[0]))
    elif what == ph.HEIGHT:
        programme.hold((surroundings()(part.end)[0] - value) / 1e3)
    elif what == ph.PRESSURE:
        programme.hold(casadi.log(path[0] / value))
    elif what == ph.HEATING:
        programme.hold(casadi.log(path[3] / value))
    elif what == ph.MACH:
        programme.hold(path[4] - value)
    elif what == ph.FELT:
        programme.hold(path[1] / ascent.limits.acceleration - 1.0)
    elif what == ph.FULL_AGAIN:
        programme.hold(part.s[-1] - 1.0)
    elif what == ph.TURNED:
        _, _, forward, up = surroundings()(part.end)
        sine = casadi.norm_2(casadi.cross(up, forward))
        programme.hold(casadi.atan2(sine, casadi.dot(up, forward)) - steer[0])
    elif what == ph.SINCE:
        _let_go_by_time(programme, outline, parts, value)
    else:
        _group(programme, what, int(value), parts, mass)


def _group(programme: Programme, what: str, g: int, parts: list[Part], mass: float) -> None:
    """A group is lit, out or let go by its clock, or by what has been burnt."""
    group = parts[-1].phase.groups[g]
    first = int(group[of.FIRST])
    if what == ph.WAITED:
        waited = clock(parts, lambda p: p.phase.segment >= first and p.state_of(g) == of.WAITING)
        programme.hold(waited - group[of.ON_VALUE] / TIME)
    elif what == ph.LASTED:
        programme.hold(since_lit(parts, g) - group[of.OFF_TIME] / TIME)
    elif what == ph.AT_FULL:
        full = sum((p.full for p in parts if p.state_of(g) == of.LIT), casadi.MX(0.0))
        programme.hold(full - group[of.OFF_FULL] / TIME)
    elif what == ph.STAGE_BURNT:
        programme.hold(burnt_since(parts, first) - group[of.OFF_BURNT] / mass)
    else:
        hung = clock(parts, lambda p: p.state_of(g) == of.OUT)
        programme.hold(hung - group[of.DROP_AFTER] / TIME)


def _let_go_by_time(programme: Programme, outline: ph.Outline, parts: list[Part], value: float) -> None:
    """A mass let go a stated time after a segment began."""
    waiting = [row for row in outline.program.let_go if int(row[at.LET_GO_WHEN]) == at.WHEN_TIME]
    since = int(next(row for row in waiting if row[at.LET_GO_VALUE] == value)[at.LET_GO_SEGMENT])
    programme.hold(clock(parts, lambda p: p.phase.segment >= since) - value / TIME)


def _segment(programme: Programme, outline: ph.Outline, parts: list[Part], mass: float) -> None:
    """A segment lasts as long, burns as much or rises as high as it says."""
    k, last = parts[-1].phase.segment, len(outline.program.segments) - 1
    if outline.restart and k in (last - 1, last - 2):
        return  # first share and coast are open
    segment = outline.program.segments[k]
    end = int(segment[at.END])
    if end == at.ENDS_AT_TIME:
        lasted = clock(parts, lambda p: p.phase.segment == k)
        programme.hold(lasted - segment[at.END_VALUE] / TIME)
    elif end == at.ENDS_AT_BURNT:
        programme.hold(burnt_since(parts, int(segment[at.END_SINCE])) - segment[at.END_VALUE] / mass)
    elif end == at.ENDS_AT_HEIGHT:
        programme.hold((surroundings()(parts[-1].end)[0] - segment[at.END_VALUE]) / 1e3)
    elif end == at.ENDS_AT_APEX:
        _, _, forward, up = surroundings()(parts[-1].end)
        speed = arrival.air_speed(*place_and_speed(parts[-1].end))
        programme.hold(casadi.dot(up, forward) * speed / 100.0)


def arrive(programme: Programme, ascent: Ascent, parts: list[Part], segments: int) -> None:
    """The orbit asked for, or the height."""
    r, v = place_and_speed(parts[-1].end)
    orbit = ascent.orbit
    if isinstance(orbit, Climb):
        cut_off = [p for p in parts if p.phase.segment <= segments - (2 if orbit.at_apex else 1)][-1]
        _climbed(programme, orbit, parts[-1].end, cut_off.end)
        return
    for condition in arrival.shape_conditions(r, v, orbit, ascent.place):
        programme.hold(condition)
    wanted = orbit.inclination
    if wanted is not None:
        cosine = arrival.cosine_of_inclination(r, v)
        if abs(wanted - abs(ascent.site.latitude)) > SAME_AS_LATITUDE:
            programme.hold(100.0 * (cosine - math.cos(wanted)))
        else:
            programme.hold(100.0 * (cosine - math.cos(wanted + INCLINATION_PLAY)), 0.0, np.inf)


def _climbed(programme: Programme, climb: Climb, end: Any, cut_off: Any) -> None:
    """`goal.climb_conditions` on symbols."""
    programme.hold(10.0 * (surroundings()(end)[0] / climb.height - 1.0))
    _, _, forward, up = surroundings()(cut_off)
    if climb.speed is not None:
        off = 10.0 * (arrival.air_speed(*place_and_speed(cut_off)) / climb.speed - 1.0)
        programme.hold(off, 0.0, np.inf if climb.speed_at_least else 0.0)
    if climb.path_angle is not None:
        programme.hold(casadi.asin(casadi.dot(up, forward)) - climb.path_angle)
