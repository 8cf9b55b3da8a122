"""Engines with rules of their own on CasADi symbols: `flight.groups.beside` once more, exact in its slopes.

Which of them are on is the same all through a phase; what a thrust trace gives depends on the time since the
motor was lit, which the programme counts over phases.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import casadi
import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.collocation.pieces import Pieces, curve_pieces
from wetmass.physics.jets import (
    jet_fuel_kernel,
    jet_thrust_kernel,
    ramjet_fuel_kernel,
    ramjet_thrust_kernel,
    windmill_drag_kernel,
)
from wetmass.physics.nozzle import adapting_gain_kernel

_GAS = 1.4 * 287.053  # m²/(s²K): square of the speed of sound over the temperature, below 86 km


@dataclass(frozen=True, slots=True)
class Engine:
    """A group that is on, or drags, in a phase."""

    number: int  # row among the groups of the program
    group: np.ndarray  # (groups.WIDTH,)
    trace: Pieces | None

    @property
    def lit(self) -> bool:
        return int(self.group[of.STATE]) == of.LIT


def engines_beside(segment: int, groups: np.ndarray, traces: np.ndarray) -> tuple[Engine, ...]:
    """The groups that add more in `segment` than its row says, each in the state it has there."""
    found = []
    for number, group in enumerate(groups):
        if not group[of.FIRST] <= segment <= group[of.LAST] or group[of.KIND] == of.ROCKET:
            continue
        windmills = group[of.KIND] == of.JET and group[of.STATE] == of.OUT and group[of.VALUES + 2] > 0.0
        if group[of.STATE] == of.LIT or windmills:
            trace = curve_pieces(traces[int(group[of.VALUES])]) if group[of.KIND] == of.TRACE else None
            found.append(Engine(number, group, trace))
    return tuple(found)


@dataclass(slots=True)
class Added:
    """What engines beside the plain rockets of a segment add."""

    thrust: Any = 0.0  # N
    flow: Any = 0.0  # kg/s
    counted: Any = 0.0  # of it from the tanks of the stage at work [kg/s]
    drag: Any = 0.0  # N
    gained: Any = 0.0  # thrust of engines that throttle [N]


def added(
    engines: tuple[Engine, ...], clocks: list[Any], pieces: list[Any], now: dict[str, Any]
) -> Added:  # fmt: skip
    """Sum over `engines`.

    clocks  s since each was lit;  pieces  of its trace, None without one;  now  surroundings on symbols
    """
    sum_of = Added()
    mach, pressure = now["speed"] / now["sound"], now["pressure"]
    temperature = now["sound"] * now["sound"] / _GAS
    for engine, clock, piece in zip(engines, clocks, pieces, strict=True):
        _add(sum_of, engine, clock, piece, mach, pressure, temperature, now["q"])
    return sum_of


def _add(
    total: Added, engine: Engine, clock: Any, piece: Any, mach: Any, pressure: Any, temperature: Any, q: Any
) -> None:
    group, kind = engine.group, int(engine.group[of.KIND])
    values = [float(value) for value in group[of.VALUES : of.VALUES + 5]]
    if kind == of.ADAPTING:
        gain = adapting_gain_kernel(
            float(group[of.THRUST]), values[0], values[1], casadi.fmin(pressure / values[2], 0.5), values[3]
        )
        if group[of.LEAST] < 1.0:
            total.gained += gain
        else:
            total.thrust += gain
        return
    if not engine.lit:
        total.drag += values[4] * windmill_drag_kernel(values[2], casadi.fmin(mach, 2.0), q, values[3])
        return
    if kind == of.TRACE:
        assert engine.trace is not None
        push = values[1] * casadi.fmax(0.0, engine.trace.values(clock + values[3], piece)[0])
        burnt = push / values[2]
        push = casadi.fmax(0.0, push - pressure * float(group[of.EXIT]))
    elif kind == of.JET:
        here = casadi.fmin(mach, 2.0)
        up = 1.0 if group[of.LIT_AT_START] > 0.0 else 1.0 - casadi.exp(-clock / values[1])
        thrust = jet_thrust_kernel(float(group[of.THRUST]), values[0], here, pressure, temperature)
        push = up * casadi.fmax(0.0, thrust)
        burnt = up * jet_fuel_kernel(float(group[of.FLOW]), here, pressure, temperature)
    else:
        push = ramjet_thrust_kernel(values[0], mach, pressure, temperature, *values[1:4])
        burnt = ramjet_fuel_kernel(values[0], mach, pressure, temperature, *values[1:3])
    total.thrust += push
    total.flow += burnt
    total.counted += burnt * float(group[of.COUNTED])


def row_as_it_burns(segment: int, segments: np.ndarray, groups: np.ndarray) -> np.ndarray:
    """The row of a segment with the plain rockets that are strapped on and lit; states of nozzles are set."""
    live = np.zeros(at.SEGMENT_WIDTH)
    of.row_now(segment, segments, groups if len(groups) else None, live)
    return live
