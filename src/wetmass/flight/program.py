"""A vehicle laid out as the arrays that the compiled flight reads: segments, let-go masses, drag curves."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from wetmass.flight import layout as at
from wetmass.physics.curve import spline_table
from wetmass.record.vehicle import Moment, Stage, Vehicle

_WHEN = {Moment.HEATING: at.WHEN_HEATING, Moment.HEIGHT: at.WHEN_HEIGHT, Moment.TIME: at.WHEN_TIME}


@dataclass(frozen=True, slots=True)
class Program:
    """What is flown, without how it is steered."""

    segments: np.ndarray  # (k, SEGMENT_WIDTH)
    let_go: np.ndarray  # (j, LET_GO_WIDTH)
    curves: np.ndarray  # (c, m, 5)
    lift_off_mass: float  # kg
    names: tuple[str, ...]  # of the segments, for people
    stage_of: tuple[int, ...]  # stage index of each segment
    burns: tuple[bool, ...]  # segment burns, or coasts


@dataclass(frozen=True, slots=True)
class Restart:
    """The last stage stops, coasts and burns again."""

    first_share: float  # of its propellant burnt before the coast [-]
    coast: float  # [s]


def program(vehicle: Vehicle, restart: Restart | None = None) -> Program:
    """Lay out `vehicle`; the last stage burns once, or twice with `restart`."""
    rows: list[np.ndarray] = []
    names: list[str] = []
    stage_of: list[int] = []
    burns: list[bool] = []
    first_of_stage: list[int] = []
    curve_keys: list[tuple[tuple[float, float], ...]] = []

    def add(name: str, index: int, row: np.ndarray, burning: bool) -> None:
        rows.append(row)
        names.append(name)
        stage_of.append(index)
        burns.append(burning)

    last = len(vehicle.stages) - 1
    for index, stage in enumerate(vehicle.stages):
        if stage.drag_curve not in curve_keys:
            curve_keys.append(stage.drag_curve)
        curve = float(curve_keys.index(stage.drag_curve))
        first_of_stage.append(len(rows))
        lost = stage.propellant.start_loss if index > 0 else 0.0  # the bottom stage loses it on the pad
        if stage.pause > 0.0 or lost > 0.0:
            row = _row(stage, curve, ())
            row[at.END], row[at.END_VALUE], row[at.DROPPED] = at.ENDS_AT_TIME, max(stage.pause, 0.0), lost
            add("coast", index, row, False)
        _add_burns(stage, index, curve, rows, add, restart if index == last else None)
        end = rows[-1]
        end[at.DROPPED] += stage.propellant.shut_down_loss
        if index < last:
            p = stage.propellant
            end[at.DROPPED] += stage.dry_mass + p.residuals + p.reserve + p.home
    let_go = np.zeros((len(vehicle.let_go), at.LET_GO_WIDTH))
    for j, piece in enumerate(vehicle.let_go):
        segment = first_of_stage[piece.stage]
        let_go[j] = piece.mass, _WHEN[piece.moment], piece.value, segment
    return Program(
        np.array(rows),
        let_go,
        _curves(tuple(curve_keys)),
        vehicle.lift_off_mass,
        tuple(names),
        tuple(stage_of),
        tuple(burns),
    )


def _add_burns(stage: Stage, index: int, curve: float, rows: list, add, restart: Restart | None) -> None:
    left = stage.propellant.burns
    if restart is not None:
        first, begun = _row(stage, curve, stage.engines), float(len(rows))
        first[at.END], first[at.END_VALUE], first[at.END_SINCE] = (
            at.ENDS_AT_BURNT,
            left * restart.first_share,
            begun,
        )
        add("burn", index, first, True)
        coast = _row(stage, curve, ())
        coast[at.END], coast[at.END_VALUE] = at.ENDS_AT_TIME, restart.coast
        add("coast", index, coast, False)
        again = first.copy()
        again[at.END_VALUE], again[at.ATTITUDE] = left, at.FOLLOWS_SPEED
        add("second burn", index, again, True)
        return
    groups = stage.engines
    stops = sorted({g.stops_after for g in groups if g.stops_after is not None})
    began = 0.0
    for stop in stops:
        flow = sum(g.flow for g in groups)
        if flow * (stop - began) >= left:
            break  # the tanks are empty before this group would stop
        row = _row(stage, curve, groups)
        row[at.END], row[at.END_VALUE], row[at.END_SINCE] = (
            at.ENDS_AT_BURNT,
            flow * (stop - began),
            float(len(rows)),
        )
        add("burn", index, row, True)
        left -= flow * (stop - began)
        began = stop
        groups = tuple(g for g in groups if g.stops_after is None or g.stops_after > stop)
    row = _row(stage, curve, groups)
    row[at.END], row[at.END_VALUE], row[at.END_SINCE] = at.ENDS_AT_BURNT, left, float(len(rows))
    add("burn", index, row, True)


def _row(stage: Stage, curve: float, groups) -> np.ndarray:
    row = np.zeros(at.SEGMENT_WIDTH)
    for group in groups:
        row[at.THROTTLED_THRUST] += group.count * group.vacuum_thrust
        row[at.THROTTLED_FLOW] += group.flow
        row[at.THROTTLED_EXIT] += group.count * group.exit_area
    row[at.LEAST_THROTTLE] = max((g.least_throttle for g in groups), default=1.0)
    row[at.AREA], row[at.CURVE] = stage.drag_area, curve
    return row


_TABLES: dict[tuple[tuple[float, float], ...], np.ndarray] = {}


def _curves(keys: tuple[tuple[tuple[float, float], ...], ...]) -> np.ndarray:
    """Spline tables of the drag curves, padded to one length by repeating the last row."""
    tables = []
    for key in keys:
        if key not in _TABLES:
            mach, drag = zip(*key, strict=True)
            _TABLES[key] = spline_table(np.array(mach), np.array(drag))
        tables.append(_TABLES[key])
    longest = max(len(table) for table in tables)
    return np.array([np.vstack([t, np.repeat(t[-1:], longest - len(t), axis=0)]) for t in tables])
