"""An ascent cut into phases, each smooth inside: read off a flight, which is also the first guess.

The order of the phases is that of the flight; their lengths, the steering and the payload stay open.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, start_state
from wetmass.flight.collocation.dynamics import COASTING, HOLDING, STEERED, TILTING, VERTICAL, ZERO_LIFT
from wetmass.flight.collocation.mesh import Mesh
from wetmass.flight.program import Program
from wetmass.flight.propagate import fly
from wetmass.record.mission import Climb

SHORTEST = 1e-3  # s: a phase shorter than this in the flight is left out
GUESS_STEP = 4.0  # s between rows of the guess
POINTS = 4  # Radau points in an interval


class Freedom(StrEnum):
    """How freely the ascent may be steered."""

    LAW = "zero-lift turn until the air is thin, then free"
    LIMITED = "free from the end of the vertical rise, q-alpha limited"
    FREE = "free from the end of the vertical rise"


HEIGHT, TILTED, TURNED, PRESSURE, HEATING, FELT, FULL_AGAIN, SINCE = (
    "height", "tilted", "turned", "pressure", "heating", "felt", "full again", "since",
)  # fmt: skip

_KINDS = {
    at.VERTICAL: VERTICAL,
    at.TILTING: TILTING,
    at.HOLDING: HOLDING,
    at.ZERO_LIFT: ZERO_LIFT,
    at.FREE: STEERED,
}
# seconds an interval may last at most, by kind: the faster things change, the shorter
_LONGEST = {VERTICAL: 6.0, TILTING: 4.0, HOLDING: 5.0, ZERO_LIFT: 8.0, STEERED: 30.0, COASTING: 300.0}


@dataclass(frozen=True, slots=True)
class Phase:
    """One smooth piece of the ascent, with its first guess."""

    kind: str  # which rule points the thrust, or a coast
    segment: int  # row of the program
    throttles: bool  # the throttle is a control here; else full
    ends: tuple[str, float] | None  # condition at its end besides those of the segment
    dropped: float  # mass let go at its end [kg]
    exposed: bool  # the payload's cover is gone: the heating limit holds
    mesh: Mesh
    duration: float  # s
    state: np.ndarray  # (7, 1 + size) place [m], speed [m/s], mass [kg]
    direction: np.ndarray  # (3, size) of the thrust
    throttle: np.ndarray  # (size,)

    def on(self, mesh: Mesh, start: float, end: float) -> Phase:
        """The part of this phase between two shares of its duration, on another mesh."""
        places = start + (end - start) * mesh.places()
        states = self.state @ self.mesh.carried(places, controls=False)
        controls = self.mesh.carried(places[1:], controls=True)
        return replace(
            self,
            mesh=mesh,
            duration=self.duration * (end - start),
            state=states,
            direction=unit(self.direction @ controls),
            throttle=self.throttle @ controls,
        )


@dataclass(frozen=True, slots=True)
class Outline:
    """All phases, and what stands over them."""

    phases: tuple[Phase, ...]
    program: Program
    freedom: Freedom
    restart: bool  # the last stage burns twice: first share and coast are open
    tilt: float  # rad
    tilt_rate: float  # rad/s
    azimuth: float  # rad
    payload: float  # kg
    bare_mass: float  # kg at lift-off without payload

    def with_meshes(self, meshes: list[Mesh], points: int | None = None) -> Outline:
        """The same on other meshes, the guess carried over by the polynomials of the old ones."""
        changed = []
        for phase, mesh in zip(self.phases, meshes, strict=True):
            mesh = Mesh(mesh.edges, points or mesh.points)
            changed.append(phase.on(mesh, 0.0, 1.0))
        return replace(self, phases=tuple(changed))


def unit(directions: np.ndarray) -> np.ndarray:
    return directions / np.linalg.norm(directions, axis=0)


def outline(
    ascent: Ascent, x: np.ndarray, freedom: Freedom = Freedom.LAW, *, fineness: float = 1.0
) -> Outline:
    """Phases and first guess from the flight of the unknowns `x` (unscaled, as `flight.optimum` gives them).

    fineness  intervals per usual interval
    Raises ValueError when the ascent leaves something else open than the payload.
    """
    payload = _payload(ascent, x)
    vehicle = ascent.build(ascent.open_values(x))
    laid = ascent.lay_out(x, vehicle)
    _refuse(ascent, laid)
    control = ascent.control(x)
    control[at.LONGEST_STEP] = GUESS_STEP
    rows = _flown(ascent, laid, control)
    tables = _tables(rows, laid, control, freedom)
    phases = tuple(_phase(piece, laid, freedom, fineness, _can_throttle(ascent)) for piece in tables)
    return Outline(
        phases,
        laid,
        freedom,
        ascent.coasting,
        float(control[at.TILT]),
        float(control[at.TILT_RATE]),
        float(control[at.AZIMUTH]),
        payload,
        laid.lift_off_mass - payload,
    )


def _can_throttle(ascent: Ascent) -> bool:
    return min(ascent.limits.acceleration, ascent.limits.pressure) < math.inf


def _refuse(ascent: Ascent, laid: Program) -> None:
    """Raise ValueError for what is not written for collocation yet."""
    if isinstance(ascent.orbit, Climb):
        raise ValueError("collocation flies to an orbit, got a climb to a height; use flight.optimum")
    orbit = ascent.orbit
    if ascent.coasting and (orbit.c3 is not None or orbit.parking is not None):
        raise ValueError("collocation knows no parking circle and no way out; use flight.optimum")
    if orbit.perigee_at_equator or orbit.argument_of_perigee is not None or orbit.declination is not None:
        raise ValueError("collocation leaves open where the orbit points; use flight.optimum")
    if ascent.site.launch is not None:
        raise ValueError("collocation starts at a pad, got a start from a carrier; use flight.optimum")
    if not laid.plain:
        names = ", ".join(laid.group_names)
        raise ValueError(
            f"collocation knows rockets of steady thrust that burn with their stage, got {names}; "
            "use flight.optimum"
        )


def _payload(ascent: Ascent, x: np.ndarray) -> float:
    """The payload [kg]; the only thing that may be open."""
    if len(ascent.open_unknowns) != 1:
        names = ", ".join(unknown.name for unknown in ascent.open_unknowns)
        raise ValueError(f"collocation makes the payload best and nothing else, got open: {names}")
    value = ascent.open_values(x)
    here, more = ascent.build(value), ascent.build([float(value[0]) + 1.0])
    if (
        abs(more.payload - here.payload - 1.0) > 1e-6
        or abs(more.lift_off_mass - here.lift_off_mass - 1.0) > 1e-6
    ):
        raise ValueError(
            f"collocation makes the payload best and nothing else, got open: {ascent.open_unknowns[0].name}"
        )
    return here.payload


def _flown(ascent: Ascent, laid: Program, control: np.ndarray) -> np.ndarray:
    y = start_state(ascent.site)
    y[at.MASS] = laid.lift_off_mass
    rows, steps = np.zeros((5000, at.ROW_WIDTH)), np.zeros((0, at.STEP_WIDTH))
    _, written = fly(
        0.0, laid.segments, laid.let_go, control, laid.curves, y, np.zeros(at.SUMMARY_WIDTH),
        np.zeros((laid.mark_rows(), 1 + at.STEERED)), rows, steps, False, at.STEERED,
    )  # fmt: skip
    return rows[:written]


@dataclass(slots=True)
class _Piece:
    rows: np.ndarray
    kind: str
    segment: int
    limited: bool
    ends: tuple[str, float] | None = None
    dropped: float = 0.0
    exposed: bool = False


def _tables(rows: np.ndarray, laid: Program, control: np.ndarray, freedom: Freedom) -> list[_Piece]:
    """The rows of a flight cut at its events."""
    pieces: list[_Piece] = []
    start, exposed, limited = 0, False, False
    ignored = {at.NO_EVENT, at.LIFT_OFF}
    if freedom is not Freedom.LAW:
        ignored |= {at.TILT_ENDS, at.TURN_BEGINS, at.FREE_BEGINS}
    for i in range(1, len(rows)):
        event, which = int(rows[i, at.ROW_EVENT]), int(rows[i, at.ROW_EVENT_INDEX])
        if event in ignored:
            continue
        before = rows[i - 1]
        segment = int(before[at.ROW_SEGMENT])
        phase = int(before[at.ROW_PHASE])
        kind = _KINDS[phase]
        if freedom is not Freedom.LAW and phase != at.VERTICAL:
            kind = STEERED
        if not laid.burns[segment]:
            kind = COASTING
        piece = _Piece(rows[start : i + 1], kind, segment, limited, exposed=exposed)
        if event == at.TILT_BEGINS:
            piece.ends = HEIGHT, control[at.RISE_HEIGHT]
        elif event == at.TILT_ENDS:
            piece.ends = TILTED, 0.0
        elif event == at.TURN_BEGINS:
            piece.ends = TURNED, 0.0
        elif event == at.FREE_BEGINS:
            height = rows[i, at.ROW_STATE : at.ROW_STATE + 3]
            low = np.linalg.norm(height) - 6.378e6 < control[at.FREE_HEIGHT] - 500.0 or (
                _height(height) < control[at.FREE_HEIGHT] - 1.0
            )
            piece.ends = (PRESSURE, control[at.FREE_PRESSURE]) if low else (HEIGHT, control[at.FREE_HEIGHT])
        elif event in (at.SEGMENT_ENDS, at.FLIGHT_ENDS):
            limited = False
            piece.dropped = laid.segments[segment][at.DROPPED] if event == at.SEGMENT_ENDS else 0.0
        elif event == at.LET_GO:
            row = laid.let_go[which]
            piece.dropped = row[at.LET_GO_MASS]
            exposed = True
            when = {at.WHEN_HEATING: HEATING, at.WHEN_HEIGHT: HEIGHT, at.WHEN_TIME: SINCE}
            piece.ends = when[int(row[at.LET_GO_WHEN])], row[at.LET_GO_VALUE]
        elif event == at.LIMIT_CHANGES:
            was, limited = limited, which != at.THROTTLE_FULL
            if which == at.THROTTLE_FOR_ACCELERATION and not was:
                piece.ends = FELT, 0.0
            elif which == at.THROTTLE_FOR_PRESSURE:
                piece.ends = None if was else (PRESSURE, control[at.PRESSURE_LIMIT])
            elif which == at.THROTTLE_FULL:
                piece.ends = FULL_AGAIN, 0.0
        if piece.rows[-1, at.ROW_TIME] - piece.rows[0, at.ROW_TIME] < SHORTEST:
            if pieces:
                pieces[-1].dropped += piece.dropped
        else:
            pieces.append(piece)
        start = i
    return pieces


def _height(place: np.ndarray) -> float:
    from wetmass.physics.earth import height_kernel

    return height_kernel(*(float(part) for part in place))


def _phase(piece: _Piece, laid: Program, freedom: Freedom, fineness: float, can_throttle: bool) -> Phase:
    rows = piece.rows
    times = rows[:, at.ROW_TIME]
    duration = float(times[-1] - times[0])
    longest = _LONGEST[piece.kind]
    if piece.kind == STEERED and (freedom is not Freedom.LAW and laid.stage_of[piece.segment] == 0):
        longest = _LONGEST[ZERO_LIFT]
    mesh = Mesh.even(max(2 if duration > 1.0 else 1, math.ceil(duration * fineness / longest)), POINTS)
    places = times[0] + duration * mesh.places()
    state = np.array([_between(places, times, rows[:, at.ROW_STATE + i], piece, i) for i in range(7)])
    pointing = rows[:, at.ROW_DIRECTION : at.ROW_DIRECTION + 3].copy()
    if len(pointing) > 1:  # the last row may already belong to the next phase
        pointing[-1] = pointing[-2] if len(pointing) < 3 else 2.0 * pointing[-2] - pointing[-3]
    direction = unit(np.array([np.interp(places[1:], times, pointing[:, i]) for i in range(3)]))
    throttle = rows[:, at.ROW_THROTTLE].copy()
    throttle[-1] = throttle[-2]
    return Phase(
        piece.kind,
        piece.segment,
        piece.limited and can_throttle and piece.kind != COASTING,
        piece.ends,
        float(piece.dropped),
        piece.exposed,
        mesh,
        duration,
        state,
        direction,
        np.interp(places[1:], times, throttle),
    )


def _between(places: np.ndarray, times: np.ndarray, values: np.ndarray, piece: _Piece, i: int) -> np.ndarray:
    values = values.copy()
    if i == at.MASS:
        values[-1] += piece.dropped  # the last row is after the drop
    return np.interp(places, times, values)
