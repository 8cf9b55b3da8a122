"""Legs of a flight home as rows for the compiled flight, and one flight of them."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from wetmass.flight.home import layout as at
from wetmass.physics.curve import spline_table, values
from wetmass.physics.entry import (
    BROADSIDE_DRAG,
    BROADSIDE_MACH,
    END_ON_DRAG,
    END_ON_MACH,
    tumbling_drag,
)
from wetmass.record.homecoming import Posture, Released, Way
from wetmass.record.vehicle import Kind

NO_WIND = np.zeros((0, 3))
POSTURES = (Posture.END_ON, Posture.BROADSIDE, Posture.TUMBLING)


@dataclass(frozen=True, slots=True)
class Body:
    """What the air sees of a stage: drag curves on its cross-section, in the order of `POSTURES`."""

    area: float  # m², cross-section
    curves: np.ndarray  # (3, m, 5)
    nose: float  # m


def body(released: Released, way: Way) -> Body:
    """The body of a stage as it falls: a cylinder as long and as wide as it."""
    diameter, length = released.diameter, way.length or released.length
    nose = way.nose_radius or 0.5 * diameter
    return Body(np.pi / 4.0 * diameter**2, drag_curves(round(length / diameter, 6)), nose)


@functools.lru_cache(maxsize=32)
def drag_curves(slenderness: float) -> np.ndarray:
    """Drag over Mach number base first, broadside and tumbling, on the cross-section, (3, m, 5)."""
    mach = np.array(sorted({*END_ON_MACH, *BROADSIDE_MACH}))
    end_on = values(mach, spline_table(END_ON_MACH, END_ON_DRAG))
    across = values(mach, spline_table(BROADSIDE_MACH, BROADSIDE_DRAG))
    side = across * slenderness * 4.0 / np.pi
    tumbling = [tumbling_drag(s, e, slenderness) for s, e in zip(across, end_on, strict=True)]
    tables = [spline_table(mach, row) for row in (end_on, side, tumbling)]
    longest = max(len(table) for table in tables)
    made = np.array([np.vstack([t, np.repeat(t[-1:], longest - len(t), axis=0)]) for t in tables])
    made.setflags(write=True)
    return made


def leg(body: Body, posture: Posture, end: int, value: float = 0.0) -> np.ndarray:
    """A leg without engines, (LEG_WIDTH,)."""
    row = np.zeros(at.LEG_WIDTH)
    row[at.AREA], row[at.CURVE], row[at.DRAG_SHARE] = body.area, POSTURES.index(posture), 1.0
    row[at.NOSE], row[at.THROTTLE] = body.nose, 1.0
    row[at.END], row[at.END_VALUE], row[at.OTHER_END] = end, value, at.NEVER
    return row


@dataclass(frozen=True, slots=True)
class Engines:
    """Rocket engines of a stage that can be lit together: one kind, so many of them."""

    name: str
    count: float  # there are
    thrust: float  # N, vacuum, each
    flow: float  # kg/s, each
    exit_area: float  # m², each
    least_throttle: float
    ignitions: int


def engines(released: Released) -> Engines | None:
    """The kind of engine that brings a stage home: the one that can be lit most often, then the strongest."""
    groups = [g for g in released.engines if g.vacuum_thrust > 0.0 and g.kind is not Kind.SOLID]
    if not groups:
        return None
    g = max(groups, key=lambda one: (one.ignitions, one.count * one.vacuum_thrust))
    return Engines(
        g.name, g.count, g.vacuum_thrust, g.flow / g.count, g.exit_area, g.least_throttle, g.ignitions
    )


def lit(
    row: np.ndarray, which: Engines, count: float, throttle: float, aim: int, drag_share: float
) -> np.ndarray:
    """The leg with `count` engines burning."""
    row[at.THRUST], row[at.FLOW] = count * which.thrust, count * which.flow
    row[at.EXIT], row[at.THROTTLE] = count * which.exit_area, throttle
    row[at.AIM], row[at.DRAG_SHARE] = aim, drag_share
    return row


@dataclass
class Flown:
    """One flight of some legs."""

    status: int
    time: float
    state: np.ndarray  # (WIDTH,)
    summary: np.ndarray
    marks: np.ndarray  # (legs, 1 + WIDTH)
    rows: np.ndarray
    ended: int


@dataclass
class Flyer:
    """Flies legs from where a stage is let go."""

    released: Released
    curves: np.ndarray
    wind: np.ndarray = field(default_factory=lambda: NO_WIND)
    ground: float = 0.0  # m
    flights: int = 0

    def start(self) -> np.ndarray:
        """State (WIDTH,) as the stage is let go."""
        y = np.zeros(at.WIDTH)
        y[:6] = self.released.state
        y[at.MASS] = self.released.mass
        return y

    def fly(
        self,
        legs: Sequence[np.ndarray],
        *,
        start: tuple[float, np.ndarray] | None = None,
        ground: float | None = None,
        longest: float = 2.0,
        tolerance: float = 1e-9,
        record: int = 0,
    ) -> Flown:
        """Fly the legs; `record` is how many rows may be kept."""
        from wetmass.flight.home.propagate import fly

        time, y = (self.released.time, self.start()) if start is None else (start[0], start[1].copy())
        summary, marks = np.zeros(at.SUMMARY_WIDTH), np.zeros((len(legs), 1 + at.WIDTH))
        rows = np.zeros((record, at.ROW_WIDTH))
        self.flights += 1
        end, written, ended = fly(
            time,
            np.array(legs),
            self.curves,
            self.wind,
            y,
            self.ground if ground is None else ground,
            longest,
            tolerance,
            summary,
            marks,
            rows,
        )
        return Flown(int(summary[at.STATUS]), end, y, summary, marks, rows[:written], ended)
