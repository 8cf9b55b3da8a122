"""A flight cut at its events into the phases of `phases`: their order, what burns in each, the first guess."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation import dynamics
from wetmass.flight.collocation import phases as ph
from wetmass.flight.collocation.events import Cutting, Piece
from wetmass.flight.collocation.mesh import Mesh
from wetmass.flight.program import Program
from wetmass.flight.propagate import fly
from wetmass.record.mission import Climb

GUESS_STEP = 4.0  # s between rows of the guess
POINTS = 4  # Radau points in an interval

# seconds an interval may last at most, by kind: the faster things change, the shorter
_LONGEST = {
    dynamics.VERTICAL: 6.0, dynamics.TILTING: 4.0, dynamics.HOLDING: 5.0,
    dynamics.ZERO_LIFT: 8.0, dynamics.STEERED: 30.0, dynamics.COASTING: 300.0,
}  # fmt: skip
_LONGEST_BESIDE = 4.0  # while a thrust trace or a jet sets the thrust


def outline(
    ascent: Ascent, x: np.ndarray, freedom: ph.Freedom = ph.Freedom.LAW, *, fineness: float = 1.0
) -> ph.Outline:
    """Phases and first guess from the flight of the unknowns `x` (unscaled, as `flight.optimum` gives them).

    fineness  intervals per usual interval
    Raises ValueError when the ascent leaves something else open than the payload.
    """
    payload = _payload(ascent, x)
    vehicle, laid = ascent.laid(x)
    _refuse(ascent)
    control = ascent.control(x, vehicle)
    control[at.LONGEST_STEP] = GUESS_STEP
    pieces = Cutting(laid, control, freedom, payload).pieces(_flown(ascent, laid, control))
    throttles = min(ascent.limits.acceleration, ascent.limits.pressure) < math.inf
    return ph.Outline(
        tuple(_phase(piece, laid, freedom, fineness, throttles) for piece in pieces),
        laid,
        freedom,
        ascent.coasting,
        _turn(control),
        float(control[at.TILT]),
        float(control[at.AZIMUTH]),
        payload,
        laid.lift_off_mass - payload,
    )


def _refuse(ascent: Ascent) -> None:
    """Raise ValueError for what is not written for collocation yet."""
    orbit = ascent.orbit
    if isinstance(orbit, Climb):
        return
    if ascent.coasting and (orbit.c3 is not None or orbit.parking is not None):
        raise ValueError("collocation knows no parking circle and no way out; use flight.optimum")
    if orbit.perigee_at_equator or orbit.argument_of_perigee is not None or orbit.declination is not None:
        raise ValueError("collocation leaves open where the orbit points; use flight.optimum")


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


def _turn(control: np.ndarray) -> dynamics.Turn:
    """How the steering program `control` tilts the thrust."""
    begin, lead = float(control[at.TILT_FROM]), float(control[at.LEAD])
    held = max(0.0, control[at.TILT] - lead)
    rate = float(control[at.TILT_RATE]) * (1.0 if held >= begin else -1.0)
    return dynamics.Turn(begin, rate, lead, upright=begin > 0.0 and control[at.TILT] <= lead)


def _flown(ascent: Ascent, laid: Program, control: np.ndarray) -> np.ndarray:
    y = ascent.started(control, laid, at.STEERED)
    rows, steps = np.zeros((5000, at.ROW_WIDTH)), np.zeros((0, at.STEP_WIDTH))
    _, written = fly(
        0.0, laid.segments, laid.let_go, control, laid.curves, y, np.zeros(at.SUMMARY_WIDTH),
        np.zeros((laid.mark_rows(), 1 + at.STEERED)), rows, steps, False, at.STEERED, laid.groups, laid.traces,
    )  # fmt: skip
    return rows[:written]


def _phase(
    piece: Piece, laid: Program, freedom: ph.Freedom, fineness: float, can_throttle: bool
) -> ph.Phase:  # fmt: skip
    rows, duration = piece.rows, piece.duration
    times = rows[:, at.ROW_TIME]
    burning = piece.row[at.BURNING] > 0.0
    phase = ph.Phase(
        piece.steering, piece.segment, piece.row, piece.limited and can_throttle and burning, piece.ends,
        piece.ends_segment, float(piece.dropped), piece.exposed, Mesh.even(1, POINTS), duration,
        np.empty(0), np.empty(0), np.empty(0), piece.groups, piece.left,
        piece.holds and freedom is ph.Freedom.LAW, freedom is not ph.Freedom.LAW,
    )  # fmt: skip
    longest = _LONGEST[phase.kind]
    if phase.kind == dynamics.STEERED and freedom is not ph.Freedom.LAW and laid.stage_of[piece.segment] == 0:
        longest = _LONGEST[dynamics.ZERO_LIFT]
    if piece.row[at.BESIDE] > 0.0:
        longest = min(longest, _LONGEST_BESIDE)
    fewest = 2 if duration > 1.0 and not phase.throttles else 1  # a throttle with room to swing swings
    mesh = Mesh.even(max(fewest, math.ceil(duration * fineness / longest)), POINTS)
    places = times[0] + duration * mesh.places()
    state = np.array([np.interp(places, times, _column(piece, i)) for i in range(7)])
    pointing = rows[:, at.ROW_DIRECTION : at.ROW_DIRECTION + 3].copy()
    if len(pointing) > 1:  # the last row may already belong to the next phase
        pointing[-1] = pointing[-2] if len(pointing) < 3 else 2.0 * pointing[-2] - pointing[-3]
    direction = ph.unit(np.array([np.interp(places[1:], times, pointing[:, i]) for i in range(3)]))
    throttle = rows[:, at.ROW_THROTTLE].copy()
    throttle[-1] = throttle[-2]
    return replace(
        phase, mesh=mesh, state=state, direction=direction, throttle=np.interp(places[1:], times, throttle)
    )


def _column(piece: Piece, i: int) -> np.ndarray:
    values = piece.rows[:, at.ROW_STATE + i].copy()
    if i == at.MASS:
        values[-1] += piece.rows[-1, at.ROW_SHED]  # the last row is after what was let go
    return values
