"""Fly a program from lift-off to the end of its last segment, every event met exactly.

Between events the motion is smooth and integrated by `stepping.step`.  A signal is a number that is
below zero before its event and reaches zero at it; when one does so inside a step, the step is
repeated to end at the root.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from wetmass.flight import layout as at
from wetmass.flight.motion import air_frame, angle_from_vertical, rates, turned
from wetmass.flight.stepping import step

_MOST_STEPS = 5000
_END, _STEERING, _THROTTLE, _PRESSURE, _FIRST_LET_GO = 0, 1, 2, 3, 4  # places of the signals
_WAITING, _ARMED, _GONE = 0, 1, 2
_QUIET = -1.0


@njit(cache=True, error_model="numpy")
def fly(start, segments, let_go, control, curves, y, summary, marks, rows, steps_taken, replay, n):
    """Fly `segments` from time `start` [s]; the state `y` (n,) is carried to the end in place.

    segments (k, SEGMENT_WIDTH)  let_go (j, LET_GO_WIDTH)  control (CONTROL_WIDTH)
    curves (c, m, 5)  drag splines    summary (SUMMARY_WIDTH)  written here
    marks (k + j, 1 + n)  time and state at the end of each segment, then at each letting go, before anything
        is dropped; written here
    rows (r, ROW_WIDTH)  recorded flight, one row a step and event; r = 0 records nothing
    steps_taken (s, STEP_WIDTH)  the steps of this flight, written here; or, with `replay`, the steps of a
        neighbouring flight to take again, which makes the end a smooth function of the unknowns
    n  STEERED, or ACCOUNTED to keep the losses as well
    Returns (time at the end [s], number of rows written).
    """
    mode = np.zeros(at.MODE_WIDTH)
    mode[at.MODE_ACCELERATION_LIMIT] = control[at.ACCELERATION_LIMIT]
    mode[at.MODE_PRESSURE_LIMIT] = control[at.PRESSURE_LIMIT]
    mode[at.MODE_TILT], mode[at.MODE_TILT_RATE] = control[at.TILT], control[at.TILT_RATE]
    mode[at.MODE_SIN_AZIMUTH], mode[at.MODE_COS_AZIMUTH] = (
        math.sin(control[at.AZIMUTH]),
        math.cos(control[at.AZIMUTH]),
    )
    mode[at.MODE_ROUND] = control[at.ROUND]
    for i in range(at.SUMMARY_WIDTH):
        summary[i] = 0.0
    summary[at.LOWEST_AFTER_TURN] = 1e9

    letting = let_go.shape[0]
    pending = np.zeros(letting, dtype=np.int64)
    let_go_time = np.zeros(letting)  # time of flight at which WHEN_TIME comes
    for j in range(letting):
        let_go_time[j] = 1e9
    begun = np.zeros(segments.shape[0])  # BURNT when each segment began
    before, after = np.zeros(_FIRST_LET_GO + letting), np.zeros(_FIRST_LET_GO + letting)
    k, z, end, rate_at_end = np.zeros((12, n)), np.zeros(n), np.zeros(n), np.zeros(n)

    t, written, index, steps, status = start, 0, 0, 0, at.DONE
    segment = segments[0]
    curve = curves[int(segment[at.CURVE])]
    mode[at.SEGMENT_START] = t
    begun[0] = y[at.BURNT]
    _start_clocks(0, t, let_go, let_go_time)
    h_next, fresh = 1.0, True
    event, event_index = at.LIFT_OFF, 0
    stretch, place = 0, 0
    seen = rates(t, y, segment, mode, curve, k[0], n)

    while True:
        q_before = seen[3]
        throttle, felt, along, q, speed, height = seen[0], seen[1], seen[2], seen[3], seen[4], seen[5]
        heating = q * speed
        alpha = math.acos(min(1.0, max(-1.0, along)))
        summary[at.GREATEST_PRESSURE] = max(summary[at.GREATEST_PRESSURE], q)
        summary[at.GREATEST_FELT] = max(summary[at.GREATEST_FELT], felt)
        summary[at.GREATEST_HEATING] = max(summary[at.GREATEST_HEATING], heating)
        if speed > 30.0:  # a slow start in still air has any angle and no pressure
            summary[at.GREATEST_Q_ALPHA] = max(summary[at.GREATEST_Q_ALPHA], q * alpha)
        if mode[at.PHASE] >= at.ZERO_LIFT:
            summary[at.LOWEST_AFTER_TURN] = min(summary[at.LOWEST_AFTER_TURN], height)
        if q > control[at.FREE_PRESSURE]:
            mode[at.MODE_PRESSED] = 1.0
        for j in range(letting):
            if pending[j] == _WAITING and heating > let_go[j, at.LET_GO_VALUE]:
                pending[j] = _ARMED
        if written < rows.shape[0]:
            rows[written, at.ROW_TIME], rows[written, at.ROW_SEGMENT] = t, index
            rows[written, at.ROW_PHASE], rows[written, at.ROW_THROTTLE] = mode[at.PHASE], throttle
            rows[written, at.ROW_EVENT], rows[written, at.ROW_EVENT_INDEX] = event, event_index
            for i in range(3):
                rows[written, at.ROW_DIRECTION + i] = seen[8 + i]
            for i in range(n):
                rows[written, at.ROW_STATE + i] = y[i]
            written += 1
        if event == at.FLIGHT_ENDS:
            break
        if steps >= _MOST_STEPS:
            status = at.TOO_MANY_STEPS
            break
        if height < -300e3 or y[at.MASS] <= 0.0:
            status = at.FELL
            break

        # ── the nearest event known by time ──
        reach, event, event_index = 1e9, at.NO_EVENT, 0
        if segment[at.END] == at.ENDS_AT_TIME:
            reach, event = mode[at.SEGMENT_START] + segment[at.END_VALUE] - t, at.SEGMENT_ENDS
        elif segment[at.END] == at.ENDS_AT_BURNT and mode[at.THROTTLE_MODE] == at.THROTTLE_FULL:
            left = segment[at.END_VALUE] - (y[at.BURNT] - begun[int(segment[at.END_SINCE])])
            reach = max(0.0, left / segment[at.THROTTLED_FLOW])
            event = at.SEGMENT_ENDS
        if mode[at.PHASE] == at.TILTING:
            left = mode[at.TILT_START] + mode[at.MODE_TILT] / mode[at.MODE_TILT_RATE] - t
            if left < reach:
                reach, event = left, at.TILT_ENDS
        for j in range(letting):
            if pending[j] != _GONE and let_go_time[j] - t < reach:
                reach, event, event_index = let_go_time[j] - t, at.LET_GO, j

        # ── a signal that is up already acts at once; otherwise one accepted step ──
        signals(y, seen, segment, mode, control, let_go, pending, begun, before)
        if not fresh and before[_PRESSURE] >= 0.0:
            before[_PRESSURE] = _QUIET  # falling back from the limit: only a new rise counts
        which = _raised(before)
        fresh = False
        if which >= 0:
            steps += 1
            event, event_index = _event_of(which, mode)
        elif reach > 0.0:
            h, kind = min(h_next, control[at.LONGEST_STEP]), at.STEP_OPEN
            if replay:
                while place + 1 < steps_taken.shape[0] and steps_taken[place, at.STEP_STRETCH] < stretch:
                    place += 1
                if steps_taken[place, at.STEP_STRETCH] == stretch:
                    h, kind = steps_taken[place, at.STEP_SIZE], int(steps_taken[place, at.STEP_KIND])
                    place += 1
                h = min(h, reach)
                if kind != at.STEP_OPEN:
                    h = reach if kind == at.STEP_REACHING else 0.5 * reach
            elif h >= reach:
                h, kind = reach, at.STEP_REACHING
            elif h > 0.6 * reach:
                h, kind = 0.5 * reach, at.STEP_HALF  # two even steps rather than a long one and a crumb
            while True:
                error = step(t, y, h, segment, mode, curve, control[at.TOLERANCE], n, k, z, end)
                steps += 1
                if replay or error <= 1.0 or steps >= _MOST_STEPS:
                    break
                h *= max(0.2, 0.9 * error**-0.125) if error < 1e30 else 0.2
                kind = at.STEP_OPEN
            if not replay:
                h_next = max(h_next if h < h_next else 0.0, h * min(5.0, 0.9 * max(error, 1e-9) ** -0.125))
                if place < steps_taken.shape[0]:
                    steps_taken[place, at.STEP_STRETCH] = stretch
                    steps_taken[place, at.STEP_KIND], steps_taken[place, at.STEP_SIZE] = kind, h
                    place += 1
            else:
                h_next = h
            seen = rates(t + h, end, segment, mode, curve, rate_at_end, n)
            signals(end, seen, segment, mode, control, let_go, pending, begun, after)
            if not q_before < mode[at.MODE_PRESSURE_LIMIT]:
                after[_PRESSURE] = _QUIET
            which = _raised(after)
            rooted = -1
            for _ in range(4):
                if which < 0 or which == rooted:
                    break
                h, seen = _to_the_root(
                    which, t, y, h, segment, mode, curve, control, let_go, pending, begun,
                    n, k, z, end, rate_at_end, before, after,
                )  # fmt: skip
                rooted = which
                after[which] = _QUIET
                which = _raised(after)
            if rooted >= 0:
                event, event_index = _event_of(rooted, mode)
            elif h < reach:
                event, event_index = at.NO_EVENT, 0
            t += h
            for i in range(n):
                y[i], k[0, i] = end[i], rate_at_end[i]

        # ── what the event changes ──
        if event == at.NO_EVENT:
            continue
        stretch += 1
        if event == at.TILT_BEGINS:
            mode[at.PHASE], mode[at.TILT_START] = at.TILTING, t
        elif event == at.TILT_ENDS:
            mode[at.PHASE] = at.HOLDING
        elif event == at.TURN_BEGINS:
            mode[at.PHASE] = at.ZERO_LIFT
        elif event == at.FREE_BEGINS:
            mode[at.PHASE] = at.FREE
            _aim(y, control)
            off = math.sqrt(control[at.OFF_PITCH] ** 2 + control[at.OFF_YAW] ** 2)
            summary[at.SWITCH_Q_ALPHA] = seen[3] * off
        elif event == at.LIMIT_CHANGES:
            mode[at.THROTTLE_MODE] = event_index
        elif event == at.LET_GO:
            pending[event_index] = _GONE
            _mark(marks, segments.shape[0] + event_index, t, y, n)
            y[at.MASS] -= let_go[event_index, at.LET_GO_MASS]
        elif event == at.SEGMENT_ENDS:
            _mark(marks, index, t, y, n)
            y[at.MASS] -= segment[at.DROPPED]
            index += 1
            if index == segments.shape[0]:
                index -= 1
                event = at.FLIGHT_ENDS
            else:
                segment = segments[index]
                curve = curves[int(segment[at.CURVE])]
                mode[at.SEGMENT_START] = t
                mode[at.THROTTLE_MODE], fresh = at.THROTTLE_FULL, True
                begun[index] = y[at.BURNT]
                _start_clocks(index, t, let_go, let_go_time)
        seen = rates(t, y, segment, mode, curve, k[0], n)
        if fresh and _would_exceed(seen, segment, mode):
            mode[at.THROTTLE_MODE] = at.THROTTLE_FOR_ACCELERATION  # lit at less than full thrust
            seen = rates(t, y, segment, mode, curve, k[0], n)

    if not replay and place < steps_taken.shape[0]:
        steps_taken[place, at.STEP_STRETCH] = 1e9  # the list ends here
    summary[at.STEPS] = steps
    summary[at.STATUS] = status
    return t, written


@njit(cache=True, error_model="numpy")
def _mark(marks, place, t, y, n):
    """Note time and state.  Element by element: numba takes seconds to compile a slice set to a slice."""
    marks[place, 0] = t
    for i in range(n):
        marks[place, 1 + i] = y[i]


@njit(cache=True, error_model="numpy")
def _would_exceed(seen, segment, mode):
    """Whether full throttle would pass the limit of felt acceleration."""
    throttles = segment[at.LEAST_THROTTLE] < 1.0 and segment[at.THROTTLED_FLOW] > 0.0
    return throttles and seen[6] > mode[at.MODE_ACCELERATION_LIMIT]


@njit(cache=True, error_model="numpy")
def _start_clocks(index, t, let_go, let_go_time):
    for j in range(let_go.shape[0]):
        if let_go[j, at.LET_GO_WHEN] == at.WHEN_TIME and int(let_go[j, at.LET_GO_SEGMENT]) == index:
            let_go_time[j] = t + let_go[j, at.LET_GO_VALUE]


@njit(cache=True, error_model="numpy")
def signals(y, seen, segment, mode, control, let_go, pending, begun, out):
    """Numbers that reach zero from below at their events, into `out`; `seen` is what `rates` returned."""
    q, speed, height, full, needed = seen[3], seen[4], seen[5], seen[6], seen[7]
    for i in range(out.shape[0]):
        out[i] = _QUIET
    if segment[at.END] == at.ENDS_AT_BURNT and mode[at.THROTTLE_MODE] != at.THROTTLE_FULL:
        out[_END] = (y[at.BURNT] - begun[int(segment[at.END_SINCE])]) / segment[at.END_VALUE] - 1.0
    elif segment[at.END] == at.ENDS_AT_HEIGHT:
        out[_END] = (height - segment[at.END_VALUE]) / 1e3

    phase = mode[at.PHASE]
    if phase == at.VERTICAL:
        out[_STEERING] = (height - control[at.RISE_HEIGHT]) / 1e2
    elif phase == at.HOLDING:
        out[_STEERING] = angle_from_vertical(y) - mode[at.MODE_TILT]
    elif phase == at.ZERO_LIFT:
        out[_STEERING] = (height - control[at.FREE_HEIGHT]) / 1e4
        if mode[at.MODE_PRESSED] > 0.0:
            out[_STEERING] = max(out[_STEERING], 1.0 - q / control[at.FREE_PRESSURE])

    if segment[at.THROTTLED_FLOW] > 0.0 and segment[at.LEAST_THROTTLE] < 1.0:
        if mode[at.THROTTLE_MODE] == at.THROTTLE_FULL:
            out[_THROTTLE] = full / mode[at.MODE_ACCELERATION_LIMIT] - 1.0
        else:
            out[_THROTTLE] = needed - 1.000001  # a hair of play, so that on and off cannot chase each other
        if mode[at.THROTTLE_MODE] != at.THROTTLE_FOR_PRESSURE:
            out[_PRESSURE] = q / mode[at.MODE_PRESSURE_LIMIT] - 1.0

    for j in range(let_go.shape[0]):
        if pending[j] == _ARMED and let_go[j, at.LET_GO_WHEN] == at.WHEN_HEATING:
            out[_FIRST_LET_GO + j] = 1.0 - q * speed / let_go[j, at.LET_GO_VALUE]
        elif pending[j] != _GONE and let_go[j, at.LET_GO_WHEN] == at.WHEN_HEIGHT:
            out[_FIRST_LET_GO + j] = (height - let_go[j, at.LET_GO_VALUE]) / 1e4


@njit(cache=True, error_model="numpy")
def _raised(values):
    """The first signal at or above zero, or −1."""
    for i in range(values.shape[0]):
        if values[i] >= 0.0:
            return i
    return -1


@njit(cache=True, error_model="numpy")
def _event_of(which, mode):
    """(event, index) that a signal stands for."""
    if which == _END:
        return at.SEGMENT_ENDS, 0
    if which == _STEERING:
        phase = mode[at.PHASE]
        if phase == at.VERTICAL:
            return at.TILT_BEGINS, 0
        if phase == at.HOLDING:
            return at.TURN_BEGINS, 0
        return at.FREE_BEGINS, 0
    if which == _THROTTLE:
        return at.LIMIT_CHANGES, at.THROTTLE_FULL if mode[
            at.THROTTLE_MODE
        ] != at.THROTTLE_FULL else at.THROTTLE_FOR_ACCELERATION
    if which == _PRESSURE:
        return at.LIMIT_CHANGES, at.THROTTLE_FOR_PRESSURE
    return at.LET_GO, which - _FIRST_LET_GO


@njit(cache=True, error_model="numpy")
def _to_the_root(
    which, t, y, h, segment, mode, curve, control, let_go, pending, begun,
    n, k, z, end, rate_at_end, before, after,
):  # fmt: skip
    """Repeat the step from `y` so that it ends where signal `which` is zero.  Returns (step, seen)."""
    # first on the cubic through both ends of the step, which costs one evaluation a try
    y1, r1, mid, work = np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n)
    for i in range(n):
        y1[i], r1[i] = end[i], rate_at_end[i]
    low, high, at_low, at_high = 0.0, 1.0, before[which], after[which]
    guess = 0.5
    for _ in range(5):
        guess = low + (high - low) * min(0.98, max(0.02, -at_low / (at_high - at_low)))
        _cubic(guess, h, y, k[0], y1, r1, mid, n)
        signals(mid, rates(t + guess * h, mid, segment, mode, curve, work, n), segment, mode, control,
                let_go, pending, begun, after)  # fmt: skip
        value = after[which]
        if value >= 0.0:
            high, at_high = guess, value
            at_low *= 0.5
        else:
            low, at_low = guess, value
            at_high *= 0.5
        if abs(value) < 1e-7:
            break
    # its slope there, then true steps
    d = 1e-4
    _cubic(guess + d, h, y, k[0], y1, r1, mid, n)
    signals(mid, rates(t + (guess + d) * h, mid, segment, mode, curve, work, n), segment, mode, control,
            let_go, pending, begun, after)  # fmt: skip
    up = after[which]
    _cubic(guess - d, h, y, k[0], y1, r1, mid, n)
    signals(mid, rates(t + (guess - d) * h, mid, segment, mode, curve, work, n), segment, mode, control,
            let_go, pending, begun, after)  # fmt: skip
    slope = (up - after[which]) / (2.0 * d * h)
    tried = guess * h
    seen = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    for _ in range(6):
        step(t, y, tried, segment, mode, curve, control[at.TOLERANCE], n, k, z, end)
        seen = rates(t + tried, end, segment, mode, curve, rate_at_end, n)
        signals(end, seen, segment, mode, control, let_go, pending, begun, after)
        if slope <= 0.0:
            break
        move = -after[which] / slope
        if abs(move) < 1e-10 or tried + move <= 0.0 or tried + move > 1.5 * h:
            break
        tried += move
    return tried, seen


@njit(cache=True, error_model="numpy")
def _cubic(s, h, y0, r0, y1, r1, out, n):
    """State at the fraction `s` of a step, on the cubic through both ends and rates."""
    a, b = (1.0 + 2.0 * s) * (1.0 - s) ** 2, s * s * (3.0 - 2.0 * s)
    c, d = h * s * (1.0 - s) ** 2, h * s * s * (s - 1.0)
    for i in range(n):
        out[i] = a * y0[i] + b * y1[i] + c * r0[i] + d * r1[i]


@njit(cache=True, error_model="numpy")
def _aim(y, control):
    """Set the primer and its rate at the start of free steering, from the air speed's direction."""
    axes = air_frame(y)
    y[8], y[9], y[10] = turned(axes, control[at.OFF_PITCH], control[at.OFF_YAW])
    along, up, side = control[at.RATE_ALONG], control[at.RATE_UP], control[at.RATE_SIDE]
    for i in range(3):
        y[11 + i] = along * axes[i] + up * axes[3 + i] + side * axes[6 + i]
