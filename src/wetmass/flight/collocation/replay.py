"""The steering found by collocation, flown again: compiled integration in the exact, layered air.

Nothing is taken from the programme but durations, thrust directions and throttle; place, speed and mass
come from the integration alone.  A disagreement above the stated tolerance is part of the record.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numba import njit

from wetmass.flight import compiled  # noqa: F401  (makes the kernels compilable)
from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent
from wetmass.flight.collocation import dynamics
from wetmass.flight.collocation.mesh import barycentric_weights, radau_points
from wetmass.flight.collocation.phases import HEATING, HEIGHT, SINCE, Outline, Phase
from wetmass.physics.atmosphere import air_kernel
from wetmass.physics.curve import spline_value
from wetmass.physics.earth import AXIS_RATIO_SQUARED, OMEGA, gravity_kernel, height_kernel
from wetmass.record.vehicle import Moment

# How far a replay may end from the collocation's own end, of radius and of speed.  The smooth air differs
# from the layers by up to 0.06 % of density, which alone moves the end by some 1e-5.
TOLERANCE = 3e-5
PARTS = 4  # integration steps in each interval of the mesh

_KINDS = (
    dynamics.VERTICAL,
    dynamics.TILTING,
    dynamics.HOLDING,
    dynamics.ZERO_LIFT,
    dynamics.STEERED,
    dynamics.COASTING,
)
_VERTICAL, _TILTING, _HOLDING, _ZERO_LIFT, _STEERED, _COASTING = range(6)


@dataclass(frozen=True, slots=True)
class Replay:
    """What came of flying the steering again."""

    state: np.ndarray  # (7,) place [m], speed [m/s], mass [kg] at the end
    place_miss: float  # from the collocation's end, over the radius [-]
    speed_miss: float  # likewise, over the speed [-]
    greatest_pressure: float  # Pa, dynamic
    greatest_felt: float  # m/s², along the thrust
    greatest_q_alpha: float  # Pa·rad
    mass_miss: float  # from what the vehicle's mass table leaves at the end, over that [-]
    intervals: tuple[np.ndarray, ...]  # of each phase: misses of each interval flown from its own start [-]
    tolerance: float

    @property
    def agrees(self) -> bool:
        """Whether the end is the collocation's, and all propellant accounted for, within the tolerance."""
        return max(self.place_miss, self.speed_miss, self.mass_miss) <= self.tolerance

    @property
    def error(self) -> str:
        """What to say when it does not agree, else nothing."""
        if self.agrees:
            return ""
        return (
            f"replay of the collocation: ends {self.place_miss:.1e} of the radius and {self.speed_miss:.1e} "
            f"of the speed away, its mass {self.mass_miss:.1e}. Accepted {self.tolerance:.0e}. The mesh is too coarse for this ascent, or "
            "the layered air differs too much from the smooth one; solve again on a finer mesh, and do not "
            "use this payload."
        )


def replay(ascent: Ascent, outline: Outline, tolerance: float = TOLERANCE) -> Replay:
    """Fly the controls of `outline` from where the ascent starts; see `Replay`."""
    laid = outline.program
    control = np.zeros(at.CONTROL_WIDTH)
    control[at.AZIMUTH] = outline.azimuth
    y = ascent.started(control, laid, at.STEERED)[:7]
    y[6] = outline.bare_mass + outline.payload
    peaks, time, tilted = np.zeros(3), 0.0, 0.0
    intervals: list[np.ndarray] = []
    lit: dict[int, float] = {}  # when each group was lit
    turn, left = outline.turn, _left_at_the_end(ascent, outline)
    for phase in outline.phases:
        groups = _clocked(phase, lit, time)
        points = radau_points(phase.mesh.points)
        weights = barycentric_weights(points)
        least = phase.row[at.LEAST_THROTTLE] if phase.throttles else 1.0
        rule = np.array([
            float(_KINDS.index(phase.kind)), turn.begin, turn.rate, turn.held(outline.tilt), outline.azimuth,
            time - tilted, float(phase.segment), least,
        ])  # fmt: skip
        curve = laid.curves[int(phase.row[at.CURVE])]
        n, clock, misses = phase.mesh.points, time, np.zeros(phase.mesh.intervals)
        for k in range(phase.mesh.intervals):
            length = phase.duration * (phase.mesh.edges[k + 1] - phase.mesh.edges[k])
            columns = slice(k * n, (k + 1) * n)
            directions = np.ascontiguousarray(phase.direction[:, columns])
            throttle = np.ascontiguousarray(phase.throttle[columns])
            law = phase.row, curve, rule, points, weights, directions, throttle, groups, laid.traces
            alone = phase.state[:, k * n].copy()
            _interval(alone, length, clock, law, np.zeros(3))
            place, speed = _misses(alone, phase.state[:, (k + 1) * n])
            misses[k] = max(place, speed, abs(alone[6] - phase.state[6, (k + 1) * n]) / left)
            _interval(y, length, clock, law, peaks)
            clock += length
        intervals.append(misses)
        time += phase.duration
        tilted += phase.duration if phase.steering == at.TILTING else 0.0
        y[6] -= phase.dropped
        if phase.left is not None:
            y[6] = phase.left + outline.payload
    place, speed = _misses(y, outline.phases[-1].state[:, -1])
    return Replay(
        y, place, speed, float(peaks[0]), float(peaks[1]), float(peaks[2]), abs(float(y[6]) - left) / left,
        tuple(intervals), tolerance,
    )  # fmt: skip


def _clocked(phase: Phase, lit: dict[int, float], time: float) -> np.ndarray:
    """The groups of a phase that begins at `time` [s], each with the moment it was lit at in this flight."""
    groups = phase.groups.copy()
    for number, group in enumerate(groups):
        if group[of.STATE] == of.LIT:
            group[of.SINCE] = lit.setdefault(number, time)
    return groups


def _left_at_the_end(ascent: Ascent, outline: Outline) -> float:
    """Mass after the last cut-off by the vehicle's own table [kg]."""
    wanted = outline.payload - ascent.build([0.0]).payload
    vehicle = ascent.build([wanted])
    last = vehicle.stages[-1]
    kept = last.dry_mass + last.propellant.kept + last.propellant.shut_down_loss
    when = {Moment.HEATING: HEATING, Moment.HEIGHT: HEIGHT, Moment.TIME: SINCE}
    gone = {phase.ends for phase in outline.phases}
    pieces = sum(piece.mass for piece in vehicle.let_go if (when[piece.moment], piece.value) not in gone)
    return kept + pieces + sum(item.mass for item in vehicle.other) + vehicle.payload


def _misses(y: np.ndarray, other: np.ndarray) -> tuple[float, float]:
    """How far two states are apart: of the radius, of the speed."""
    return (
        float(np.linalg.norm(y[:3] - other[:3]) / np.linalg.norm(other[:3])),
        float(np.linalg.norm(y[3:6] - other[3:6]) / np.linalg.norm(other[3:6])),
    )


@njit(cache=True, error_model="numpy")
def _rates(share, since, y, law, dy):
    """Rates of (place, speed, mass) into `dy`; returns (q, felt along the thrust, angle of attack)."""
    segment, curve, rule, points, weights, directions, throttles, groups, traces = law
    least = rule[7]
    x, yy, z = y[0], y[1], y[2]
    gx, gy, gz = gravity_kernel(x, yy, z)
    warm, pressure, density, sound = air_kernel(max(height_kernel(x, yy, z), -1000.0))
    ux, uy, uz = y[3] + OMEGA * yy, y[4] - OMEGA * x, y[5]
    speed = math.sqrt(ux * ux + uy * uy + uz * uz)
    q = 0.5 * density * speed * speed
    drag = 0.0
    if segment[at.AREA] > 0.0:
        drag = q * segment[at.AREA] * spline_value(speed / sound, curve)
    more, _, more_flow, _, _, off, gained = of.beside(
        since, rule[6], groups, traces, speed / sound, pressure, warm, q
    )
    drag += off
    nx, ny, nz = x, yy, z * AXIS_RATIO_SQUARED
    size = 1.0 / math.sqrt(nx * nx + ny * ny + nz * nz)
    nx, ny, nz = nx * size, ny * size, nz * size
    ax, ay, az = nx, ny, nz
    if speed > 1e-3:
        ax, ay, az = ux / speed, uy / speed, uz / speed
    tx, ty, tz, throttle = ax, ay, az, 1.0
    kind = int(rule[0])
    above, tx_, ty_, tz_, s_ = 0.0, 0.0, 0.0, 0.0, 0.0
    for j in range(points.shape[0]):  # barycentric form through the values at the Radau points
        gap = share - points[j]
        if gap == 0.0:
            above, tx_, ty_, tz_, s_ = 1.0, directions[0, j], directions[1, j], directions[2, j], throttles[j]
            break
        part = weights[j] / gap
        above += part
        tx_ += part * directions[0, j]
        ty_ += part * directions[1, j]
        tz_ += part * directions[2, j]
        s_ += part * throttles[j]
    if least < 1.0:
        throttle = min(1.0, max(least, s_ / above))
    if kind == _STEERED:
        size = math.copysign(1.0 / math.sqrt(tx_ * tx_ + ty_ * ty_ + tz_ * tz_), above)
        tx, ty, tz = tx_ * size, ty_ * size, tz_ * size
    elif kind == _VERTICAL:
        tx, ty, tz = nx, ny, nz
    elif kind in (_TILTING, _HOLDING):
        tilt = rule[3] if kind == _HOLDING else rule[1] + rule[2] * (since - rule[5])
        level = 1.0 / math.sqrt(nx * nx + ny * ny)
        north, east = math.cos(rule[4]), math.sin(rule[4])
        c, s = math.cos(tilt), math.sin(tilt)
        tx = c * nx + s * (-north * nz * nx * level - east * ny * level)
        ty = c * ny + s * (-north * nz * ny * level + east * nx * level)
        tz = c * nz + s * north / level
    push, flow = 0.0, 0.0
    if kind != _COASTING:
        push = more + segment[at.FIXED_THRUST] - pressure * segment[at.FIXED_EXIT]
        push += throttle * (gained + segment[at.THROTTLED_THRUST] - pressure * segment[at.THROTTLED_EXIT])
        flow = more_flow + segment[at.FIXED_FLOW] + throttle * segment[at.THROTTLED_FLOW]
    mass = y[6]
    dy[0], dy[1], dy[2] = y[3], y[4], y[5]
    dy[3] = gx + (push * tx - drag * ax) / mass
    dy[4] = gy + (push * ty - drag * ay) / mass
    dy[5] = gz + (push * tz - drag * az) / mass
    dy[6] = -flow
    along = tx * ax + ty * ay + tz * az
    alpha = math.acos(min(1.0, max(-1.0, along))) if kind != _COASTING and speed > 30.0 else 0.0
    return q, (push - drag * along) / mass, alpha


@njit(cache=True, error_model="numpy")
def _interval(y, length, since, law, peaks):
    """Carry `y` in place through one interval by the classical rule of order 4, `PARTS` steps a point."""
    steps = PARTS * law[3].shape[0]
    h = length / steps
    k1, k2, k3, k4, mid = np.zeros(7), np.zeros(7), np.zeros(7), np.zeros(7), np.zeros(7)
    for i in range(steps + 1):
        a, b, c = i / steps, (i + 0.5) / steps, (i + 1.0) / steps
        q, felt, alpha = _rates(a, since + a * length, y, law, k1)
        peaks[0], peaks[1], peaks[2] = max(peaks[0], q), max(peaks[1], felt), max(peaks[2], q * alpha)
        if i == steps:
            break
        for j in range(7):
            mid[j] = y[j] + 0.5 * h * k1[j]
        _rates(b, since + b * length, mid, law, k2)
        for j in range(7):
            mid[j] = y[j] + 0.5 * h * k2[j]
        _rates(b, since + b * length, mid, law, k3)
        for j in range(7):
            mid[j] = y[j] + h * k3[j]
        _rates(c, since + c * length, mid, law, k4)
        for j in range(7):
            y[j] += h / 6.0 * (k1[j] + 2.0 * k2[j] + 2.0 * k3[j] + k4[j])
