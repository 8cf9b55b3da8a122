"""The rows of a flight cut at the events that change the rules of the motion, and what each event is."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.beside import row_as_it_burns
from wetmass.flight.program import Program
from wetmass.physics.atmosphere import air_kernel
from wetmass.physics.earth import OMEGA, height_kernel

SHORTEST = 1e-3  # s: a piece shorter than this in the flight is left out


@dataclass(slots=True)
class Piece:
    rows: np.ndarray
    steering: int
    segment: int
    row: np.ndarray
    groups: np.ndarray
    limited: bool
    holds: bool  # for the felt acceleration
    exposed: bool
    ends: tuple[str, float] | None = None
    ends_segment: bool = False
    dropped: float = 0.0
    left: float | None = None

    @property
    def duration(self) -> float:
        return float(self.rows[-1, at.ROW_TIME] - self.rows[0, at.ROW_TIME])


@dataclass(slots=True)
class Cutting:
    """Follows the events of a flight, keeping in mind what each group is doing."""

    laid: Program
    control: np.ndarray
    freedom: ph.Freedom
    payload: float
    groups: np.ndarray = field(init=False)
    begun: np.ndarray = field(init=False)  # BURNT as each segment began
    exposed: bool = False
    limited: bool = False
    holds: bool = False

    def __post_init__(self) -> None:
        self.groups = self.laid.groups.copy()
        self.begun = np.zeros(len(self.laid.segments))

    def pieces(self, rows: np.ndarray) -> list[Piece]:
        """The rows cut at the events that change the rules of the motion."""
        made: list[Piece] = []
        ignored = {at.NO_EVENT, at.LIFT_OFF}
        if self.freedom is not ph.Freedom.LAW:
            ignored |= {at.TILT_ENDS, at.TURN_BEGINS, at.FREE_BEGINS}
            if self.control[at.TILT_FROM] > 0.0:
                ignored.add(at.TILT_BEGINS)
        start = 0
        self._segment_begins(0, rows[0])
        for i in range(1, len(rows)):
            if int(rows[i, at.ROW_EVENT]) in ignored:
                continue
            piece = self._ended(rows[start : i + 1])
            if piece.duration >= SHORTEST:
                made.append(piece)
            elif made:
                self._merge(made[-1], piece)
            start = i
        return made

    @staticmethod
    def _merge(before: Piece, nothing: Piece) -> None:
        """A piece of no length leaves what it let go, and its end where the piece before has none."""
        before.dropped += nothing.dropped
        before.left = nothing.left if nothing.left is not None else before.left
        before.ends_segment |= nothing.ends_segment and before.ends is None

    def _segment_begins(self, index: int, row: np.ndarray) -> None:
        self.begun[index] = row[at.ROW_STATE + at.BURNT]
        for g in self.groups:
            at_once = g[of.ON_WHEN] == of.ON_TIME and g[of.ON_VALUE] <= 0.0
            if at_once and int(g[of.FIRST]) == index and g[of.STATE] == of.WAITING:
                self._light(g, row, index == 0)

    @staticmethod
    def _light(g: np.ndarray, row: np.ndarray, at_start: bool) -> None:
        g[of.STATE], g[of.SINCE] = of.LIT, row[at.ROW_TIME]
        g[of.FULL_SINCE], g[of.LIT_AT_START] = row[at.ROW_STATE + at.FULL], float(at_start)

    def _ended(self, rows: np.ndarray) -> Piece:
        """The piece over `rows`, whose last one is an event; the groups are then as they are after it."""
        last, before = rows[-1], rows[-2]
        event, which = int(last[at.ROW_EVENT]), int(last[at.ROW_EVENT_INDEX])
        segment = int(before[at.ROW_SEGMENT])
        row = row_as_it_burns(segment, self.laid.segments, self.groups)
        piece = Piece(
            rows,
            int(before[at.ROW_PHASE]),
            segment,
            row,
            self.groups.copy(),
            self.limited,
            self.holds,
            self.exposed,
        )
        if event in (at.TILT_BEGINS, at.TILT_ENDS, at.TURN_BEGINS, at.FREE_BEGINS):
            piece.ends = self._steered(event, last)
        elif event in (at.SEGMENT_ENDS, at.FLIGHT_ENDS):
            self._segment_ends(piece, last, event == at.FLIGHT_ENDS)
        elif event == at.LET_GO:
            self._let_go(piece, which)
        elif event == at.LIMIT_CHANGES:
            self._limit_changes(piece, which)
        else:
            self._group_changes(piece, last, event, which)
        return piece

    def _steered(self, event: int, row: np.ndarray) -> tuple[str, float]:
        if event == at.TILT_BEGINS:
            return ph.HEIGHT, float(self.control[at.RISE_HEIGHT])
        if event == at.TILT_ENDS:
            return ph.TILTED, 0.0
        if event == at.TURN_BEGINS:
            return ph.TURNED, 0.0
        if _height(row) < self.control[at.FREE_HEIGHT] - 1.0:
            return ph.PRESSURE, float(self.control[at.FREE_PRESSURE])
        return ph.HEIGHT, float(self.control[at.FREE_HEIGHT])

    def _segment_ends(self, piece: Piece, row: np.ndarray, whole: bool) -> None:
        segment, unburnt = self.laid.segments[piece.segment], False
        self.limited = self.holds = bool(row[at.ROW_THROTTLE] < 1.0 - 1e-9)
        by_group = segment[at.END] == at.ENDS_WITH_GROUP or piece.row[at.SPENT] > 0.0
        piece.ends_segment = not by_group
        if segment[at.END_HEIGHT] > 0.0 and abs(_height(row) - segment[at.END_HEIGHT]) < 1.0:
            piece.ends, piece.ends_segment, unburnt = (ph.HEIGHT, float(segment[at.END_HEIGHT])), False, True
        piece.dropped = 0.0 if whole else float(segment[at.DROPPED])
        for g in self.groups:
            if int(g[of.LAST]) == piece.segment and g[of.STATE] != of.GONE:
                unburnt |= g[of.COUNTED] == 0.0 and g[of.STATE] in (of.WAITING, of.LIT)
                piece.dropped += float(g[of.DROP])
                g[of.STATE] = of.GONE
        if unburnt and not whole:
            piece.left = float(row[at.ROW_STATE + at.MASS]) - self.payload
        if not whole:
            self._segment_begins(piece.segment + 1, row)

    def _let_go(self, piece: Piece, which: int) -> None:
        row = self.laid.let_go[which]
        piece.dropped = float(row[at.LET_GO_MASS])
        self.exposed |= row[at.LET_GO_COVERS] > 0.0
        when = {at.WHEN_HEATING: ph.HEATING, at.WHEN_HEIGHT: ph.HEIGHT, at.WHEN_TIME: ph.SINCE}
        piece.ends = when[int(row[at.LET_GO_WHEN])], float(row[at.LET_GO_VALUE])

    def _limit_changes(self, piece: Piece, which: int) -> None:
        was, self.limited = self.limited, which != at.THROTTLE_FULL
        self.holds = which == at.THROTTLE_FOR_ACCELERATION
        if which == at.THROTTLE_FULL:
            piece.ends = ph.FULL_AGAIN, 0.0
        elif not was and which == at.THROTTLE_FOR_ACCELERATION:
            piece.ends = ph.FELT, 0.0
        elif not was:
            piece.ends = ph.PRESSURE, float(self.control[at.PRESSURE_LIMIT])

    def _group_changes(self, piece: Piece, row: np.ndarray, event: int, which: int) -> None:
        g = self.groups[which]
        if event == at.GROUP_LIT:
            when = {of.ON_TIME: (ph.WAITED, float(which)), of.ON_HEIGHT: (ph.HEIGHT, float(g[of.ON_VALUE])),
                    of.ON_MACH: (ph.MACH, float(g[of.ON_VALUE]))}  # fmt: skip
            piece.ends = when[int(g[of.ON_WHEN])]
            self._light(g, row, False)
            self.limited = self.holds = bool(row[at.ROW_THROTTLE] < 1.0 - 1e-9)
            return
        was_lit = g[of.STATE] == of.LIT
        piece.ends = self._why_out(which, row) if was_lit else (ph.HUNG, float(which))
        g[of.STATE], g[of.SINCE] = of.OUT, row[at.ROW_TIME]
        if event == at.GROUP_LET_GO:
            piece.dropped, g[of.STATE] = float(g[of.DROP]), of.GONE

    def _why_out(self, which: int, row: np.ndarray) -> tuple[str, float]:
        """Which of a group's rules put it out: the one that is met."""
        g, y = self.groups[which], row[at.ROW_STATE : at.ROW_STATE + at.STEERED]
        burnt = y[at.BURNT] - self.begun[int(g[of.FIRST])]
        misses = {
            (ph.LASTED, float(which)): abs(row[at.ROW_TIME] - g[of.SINCE] - g[of.OFF_TIME]),
            (ph.AT_FULL, float(which)): abs(y[at.FULL] - g[of.FULL_SINCE] - g[of.OFF_FULL]),
            (ph.HEIGHT, float(g[of.OFF_HEIGHT])): abs(_height(row) - g[of.OFF_HEIGHT]) / 1e3,
            (ph.MACH, float(g[of.OFF_MACH])): abs(_mach(row) - g[of.OFF_MACH]),
            (ph.STAGE_BURNT, float(which)): abs(burnt / g[of.OFF_BURNT] - 1.0),
        }
        return min(misses, key=lambda why: misses[why])


def _height(row: np.ndarray) -> float:
    return height_kernel(*(float(part) for part in row[at.ROW_STATE : at.ROW_STATE + 3]))


def _mach(row: np.ndarray) -> float:
    x, y, _, vx, vy, vz = (float(part) for part in row[at.ROW_STATE : at.ROW_STATE + 6])
    return math.hypot(vx + OMEGA * y, vy - OMEGA * x, vz) / air_kernel(_height(row))[3]
