"""Fly a program from lift-off to the end of its last segment, every event met exactly.

Between events the motion is smooth and integrated by `stepping.step`.  A signal is a number that is
below zero before its event and reaches zero at it; when one does so inside a step, the step is
repeated to end at the root.
"""

from __future__ import annotations

import math

import numpy as np

from wetmass.flight import groups as of
from wetmass.flight import layout as at
from wetmass.flight.compiled import entrance, inside
from wetmass.flight.motion import air_frame, angle_from_vertical, falling, rates, turned
from wetmass.flight.stepping import step
from wetmass.physics.atmosphere import LAYER_EDGES, air_kernel
from wetmass.physics.earth import AXIS_RATIO_SQUARED, OMEGA, height_kernel

_EDGES = np.array([edge for edge in LAYER_EDGES if edge < 75e3])  # m: slopes of the air jump there
_THIN = 40e3  # m: above, an edge matters less and may be met less exactly
_AT_EDGE, _AT_THIN_EDGE = 20.0, 100.0  # m: as near to an edge as a step needs to end
_FAR_EDGE, _FAR_THIN_EDGE = 3.0, 12.0  # s: one further off is first approached half the way, to see it better
_SHORT_STEP = 0.25  # s, while the dynamic pressure is held
_MOST_STEPS = 5000
_MOST_TRIES = 12  # to a root; 2 or 3 do nearly always
_CRUMB = 1e-4  # s, to see the slope of a signal
_SMALL_MOVE = 0.01  # s, that an event is moved by without another step to it
_WHEN_FREE = 10.0  # of the tolerance, in free steering: what a step errs there does not grow
_SLOW, _WHEN_SLOW = 300.0, 0.3  # m/s, of the tolerance: a zero-lift turn magnifies what slow flight errs
_END, _STEERING, _THROTTLE, _PRESSURE, _FIRST_LET_GO = 0, 1, 2, 3, 4  # places of the signals
_WAITING, _ARMED, _GONE = 0, 1, 2
_QUIET = -1.0


NO_GROUPS = np.zeros((0, of.WIDTH))
NO_TRACES = np.zeros((0, 1, 5))


def fly(
    start: float, segments: np.ndarray, let_go: np.ndarray, control: np.ndarray, curves: np.ndarray,
    y: np.ndarray, summary: np.ndarray, marks: np.ndarray, rows: np.ndarray, steps_taken: np.ndarray,
    replay: bool, n: int, groups: np.ndarray = NO_GROUPS, traces: np.ndarray = NO_TRACES,
) -> tuple[float, int]:  # fmt: skip
    """Fly `segments` from time `start` [s]; the state `y` (n,) is carried to the end in place.

    segments (k, SEGMENT_WIDTH)  let_go (j, LET_GO_WIDTH)  control (CONTROL_WIDTH)
    curves (c, m, 5)  drag splines    summary (SUMMARY_WIDTH)  written here
    marks (k + j + g, 1 + n)  time and state at the end of each segment, then at each letting go, then as each
        group is let go, before anything is dropped; written here as far as it has rows
    rows (r, ROW_WIDTH)  recorded flight, one row a step and event; r = 0 records nothing
    steps_taken (s, STEP_WIDTH)  the steps of this flight, written here; or, with `replay`, the steps of a
        neighbouring flight to take again, which makes the end a smooth function of the unknowns
    n  STEERED, or ACCOUNTED to keep the losses as well
    groups (g, groups.WIDTH)  engines with rules of their own    traces (s, m, 5)  thrust traces
    Returns (time at the end [s], number of rows written).
    """
    return _fly(
        start, segments, let_go, control, curves, y, summary, marks, rows, steps_taken, replay, n,
        groups.copy() if len(groups) else None, traces if len(groups) else None,
    )  # fmt: skip


@entrance
def _fly(
    start, segments, let_go, control, curves, y, summary, marks, rows, steps_taken, replay, n, groups, traces
):
    """As `fly`; `groups` keeps what each group is doing."""
    mode = np.zeros(at.MODE_WIDTH)
    mode[at.MODE_ACCELERATION_LIMIT] = control[at.ACCELERATION_LIMIT]
    mode[at.MODE_PRESSURE_LIMIT] = control[at.PRESSURE_LIMIT]
    mode[at.MODE_TILT], mode[at.MODE_TILT_RATE] = control[at.TILT], control[at.TILT_RATE]
    mode[at.MODE_SIN_AZIMUTH], mode[at.MODE_COS_AZIMUTH] = (
        math.sin(control[at.AZIMUTH]),
        math.cos(control[at.AZIMUTH]),
    )
    mode[at.MODE_ROUND] = control[at.ROUND]
    mode[at.MODE_TILT_FROM] = control[at.TILT_FROM]
    mode[at.MODE_HELD] = max(0.0, control[at.TILT] - control[at.LEAD])
    for i in range(at.SUMMARY_WIDTH):
        summary[i] = 0.0
    summary[at.LOWEST_AFTER_TURN] = 1e9

    letting = let_go.shape[0]
    pending = np.zeros(letting, dtype=np.int64)
    let_go_time = np.zeros(letting)  # time of flight at which WHEN_TIME comes
    for j in range(letting):
        let_go_time[j] = 1e9
    begun = np.zeros(segments.shape[0])  # BURNT when each segment began
    count = np.int64(0)
    if groups is not None:  # known when it is compiled: vehicles without groups carry none of this
        count = groups.shape[0]
    signalling = _FIRST_LET_GO + letting + count
    before, after = np.zeros(signalling), np.zeros(signalling)
    segment_start = np.zeros(segments.shape[0])
    k, z, end, rate_at_end = np.zeros((12, n)), np.zeros(n), np.zeros(n), np.zeros(n)

    # whole numbers of a plain type: with literal ones numba compiles what they are handed to twice
    none, index, rooted = np.int64(0), np.int64(0), np.int64(-1)
    t, written, steps, status = start, 0, 0, at.DONE
    segment = np.zeros(at.SEGMENT_WIDTH)
    curve = curves[0]
    if control[at.TILT_FROM] > 0.0:  # from the air: it pulls up at once
        mode[at.PHASE], mode[at.TILT_START] = at.TILTING, t
    h_next = 1.0
    event, event_index = at.LIFT_OFF, none
    stretch, place = 0, 0
    seen = mode[at.SEEN :]
    # what an event leaves to be worked out, each in one place: numba compiles every place anew
    begins, changed, fresh, stale = True, True, True, True
    shed, exposed, warm = 0.0, 0.0, np.zeros(4)
    felt_before = 0.0

    while True:
        if begins:
            curve = curves[int(segments[index, at.CURVE])]
            mode[at.SEGMENT_START], mode[at.MODE_SEGMENT] = t, index
            mode[at.THROTTLE_MODE], fresh, changed = at.THROTTLE_FULL, True, True
            begun[index], segment_start[index] = y[at.BURNT], t
            _start_clocks(index, t, let_go, let_go_time)
            if groups is not None:
                _light_at_once(index, t, y, groups)
            begins = False
        if changed:
            of.row_now(index, segments, groups, segment)
            changed = False
        while stale:
            rates(t, y, segment, mode, curve, groups, traces, k[0], n, at.LOOK)
            stale = (
                fresh and mode[at.THROTTLE_MODE] == at.THROTTLE_FULL and _would_exceed(seen, segment, mode)
            )
            if stale:
                mode[at.THROTTLE_MODE] = at.THROTTLE_FOR_ACCELERATION  # lit at less than full thrust
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
        if exposed > 0.0:
            _expose(warm, t, y, k[0], heating, summary)
        if written < rows.shape[0]:
            rows[written, at.ROW_TIME], rows[written, at.ROW_SEGMENT] = t, index
            rows[written, at.ROW_PHASE], rows[written, at.ROW_THROTTLE] = mode[at.PHASE], throttle
            rows[written, at.ROW_EVENT], rows[written, at.ROW_EVENT_INDEX] = event, event_index
            for i in range(3):
                rows[written, at.ROW_DIRECTION + i] = seen[8 + i]
            for i in range(n):
                rows[written, at.ROW_STATE + i] = y[i]
            rows[written, at.ROW_THRUST], rows[written, at.ROW_DRAG] = seen[12], seen[13]
            rows[written, at.ROW_BURNING] = segment[at.BURNING]
            rows[written, at.ROW_SHED], rows[written, at.ROW_EXPOSED] = shed, exposed
            rows[written, at.ROW_FELT_BEFORE] = felt_before
            written += 1
        if event == at.FLIGHT_ENDS:
            break
        if steps >= _MOST_STEPS:
            status = at.TOO_MANY_STEPS
            break
        if height < -300e3 or y[at.MASS] <= 0.0:
            status = at.FELL
            break

        shed, felt_before = 0.0, 0.0

        # ── the nearest event known by time ──
        reach, event, event_index = 1e9, at.NO_EVENT, none
        if segment[at.END] == at.ENDS_AT_TIME:
            reach, event = mode[at.SEGMENT_START] + segment[at.END_VALUE] - t, at.SEGMENT_ENDS
        elif segment[at.END] == at.ENDS_AT_BURNT and mode[at.THROTTLE_MODE] == at.THROTTLE_FULL:
            flow = segment[at.THROTTLED_COUNTED] + segment[at.FIXED_COUNTED]
            if segment[at.BESIDE] == 0.0 and flow > 0.0:
                left = segment[at.END_VALUE] - (y[at.BURNT] - begun[int(segment[at.END_SINCE])])
                reach, event = max(0.0, left / flow), at.SEGMENT_ENDS
        if mode[at.PHASE] == at.TILTING:
            turn = abs(mode[at.MODE_HELD] - mode[at.MODE_TILT_FROM]) / mode[at.MODE_TILT_RATE]
            left = mode[at.TILT_START] + turn - t
            if left < reach:
                reach, event = left, at.TILT_ENDS
        for j in range(letting):
            if pending[j] != _GONE and let_go_time[j] - t < reach:
                reach, event, event_index = let_go_time[j] - t, at.LET_GO, j
        if groups is not None:
            for g in range(count):
                if groups[g, of.FIRST] <= index <= groups[g, of.LAST]:
                    throttled = mode[at.THROTTLE_MODE] != at.THROTTLE_FULL
                    left, which = of.reach_of(g, t, y, throttled, segment_start, groups)
                    if left < reach:
                        reach, event, event_index = max(0.0, left), which, g
                    corner = of.to_the_corner(g, t, groups, traces)
                    if corner < reach:
                        reach, event, event_index = corner, at.NO_EVENT, none

        # ── a signal that is up already acts at once; otherwise one accepted step ──
        signals(y, seen, index, segment, mode, control, let_go, pending, begun, groups, before)
        if not fresh and before[_PRESSURE] >= 0.0:
            before[_PRESSURE] = _QUIET  # falling back from the limit: only a new rise counts
        which = _raised(before)
        fresh = False
        if which >= 0:
            steps += 1
            event, event_index = _event_of(which, mode, letting, groups)
        elif reach > 0.0:
            h, kind = min(h_next, control[at.LONGEST_STEP]), at.STEP_OPEN
            tolerance = control[at.TOLERANCE]
            if mode[at.PHASE] == at.FREE:
                tolerance *= _WHEN_FREE
            elif speed < _SLOW:
                tolerance *= _WHEN_SLOW
            if not replay:
                edge = _to_an_edge(y, k[0], height)
                if h > edge:
                    h = edge if edge < (_FAR_EDGE if height < _THIN else _FAR_THIN_EDGE) else 0.5 * edge
            if mode[at.THROTTLE_MODE] == at.THROTTLE_FOR_PRESSURE:
                h = min(h, _SHORT_STEP)  # the law has corners where one layer of air meets the next
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
                error = step(t, y, h, segment, mode, curve, groups, traces, tolerance, n, k, z, end)
                steps += 1
                if replay or error <= 1.0 or steps >= _MOST_STEPS:
                    break
                h *= max(0.2, 0.9 * error**-0.125) if error < 1e30 else 0.2
                h_next, kind = h, at.STEP_OPEN
            if not replay:
                h_next = max(h_next if h < h_next else 0.0, h * min(5.0, 0.9 * max(error, 1e-9) ** -0.125))
                if place < steps_taken.shape[0]:
                    steps_taken[place, at.STEP_STRETCH] = stretch
                    steps_taken[place, at.STEP_KIND], steps_taken[place, at.STEP_SIZE] = kind, h
                    place += 1
            else:
                h_next = h
            rates(t + h, end, segment, mode, curve, groups, traces, rate_at_end, n, at.LOOK)
            signals(end, seen, index, segment, mode, control, let_go, pending, begun, groups, after)
            if not q_before < mode[at.MODE_PRESSURE_LIMIT]:
                after[_PRESSURE] = _QUIET
            which = _raised(after)
            rooted = none - 1
            for _ in range(4):
                if which < 0 or which == rooted:
                    break
                h = _to_the_root(
                    which, t, y, h, index, segment, mode, curve, control, let_go, pending, begun,
                    groups, traces, n, k, z, end, rate_at_end, before, after, seen,
                )  # fmt: skip
                rooted = which
                after[which] = _QUIET
                which = _raised(after)
            if rooted >= 0:
                event, event_index = _event_of(rooted, mode, letting, groups)
            elif h < reach:
                event, event_index = at.NO_EVENT, none
            t += h
            for i in range(n):
                y[i], k[0, i] = end[i], rate_at_end[i]

        # ── what the event changes ──
        if event == at.NO_EVENT:
            continue
        stretch += 1
        stale, shed, felt_before = True, y[at.MASS], seen[1]
        summary[at.GREATEST_FELT] = max(summary[at.GREATEST_FELT], felt_before)  # greatest as it burns out
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
            exposed = max(exposed, let_go[event_index, at.LET_GO_COVERS])
            _mark(marks, segments.shape[0] + event_index, t, y, n)
            y[at.MASS] -= let_go[event_index, at.LET_GO_MASS]
        elif event == at.SEGMENT_ENDS:
            _mark(marks, index, t, y, n)
            y[at.MASS] -= segment[at.DROPPED]
            if segment[at.END_HEIGHT] > 0.0:  # let go before it was empty
                burnt = y[at.BURNT] - begun[int(segment[at.END_SINCE])]
                y[at.MASS] -= max(0.0, segment[at.END_VALUE] - burnt)
            if groups is not None:
                for g in range(count):
                    if int(groups[g, of.LAST]) == index and groups[g, of.STATE] != of.GONE:
                        y[at.MASS] -= of.unburnt(g, t, y, groups, traces)
                        _let_go_group(g, t, y, n, segments.shape[0] + letting, marks, groups)
            index += 1
            if index == segments.shape[0]:
                index -= 1
                event = at.FLIGHT_ENDS
            else:
                begins = True
        if groups is not None:
            if event == at.GROUP_LIT:
                _light(event_index, t, y, groups, index < 0)
                mode[at.THROTTLE_MODE], fresh, changed = at.THROTTLE_FULL, True, True
            elif event == at.GROUP_OUT:
                groups[event_index, of.STATE], groups[event_index, of.SINCE] = of.OUT, t
                if groups[event_index, of.DROP] > 0.0 and groups[event_index, of.DROP_AFTER] <= 0.0:
                    event = at.GROUP_LET_GO
                changed = True
            if event == at.GROUP_LET_GO:
                _let_go_group(event_index, t, y, n, segments.shape[0] + letting, marks, groups)
                changed = True
        shed -= y[at.MASS]

    if not replay and place < steps_taken.shape[0]:
        steps_taken[place, at.STEP_STRETCH] = 1e9  # the list ends here
    summary[at.STEPS] = steps
    summary[at.STATUS] = status
    return t, written


@inside
def _to_an_edge(y, rate, height):
    """Time until the next edge between layers of air is met, climbing on as now [s]; 1e9 for never."""
    if height > _EDGES[-1]:
        return 1e9
    nx, ny, nz = y[0], y[1], y[2] * AXIS_RATIO_SQUARED
    size = 1.0 / math.sqrt(nx * nx + ny * ny + nz * nz)
    nx, ny, nz = nx * size, ny * size, nz * size
    climb = nx * y[3] + ny * y[4] + nz * y[5]
    level = y[3] * y[3] + y[4] * y[4] + y[5] * y[5] - climb * climb
    lift = nx * rate[3] + ny * rate[4] + nz * rate[5] + level * size
    if climb <= 0.0:
        return 1e9
    for i in range(_EDGES.shape[0]):
        above = _EDGES[i] - height
        if above > (_AT_EDGE if height < _THIN else _AT_THIN_EDGE):
            inside = climb * climb + 2.0 * lift * above
            return 2.0 * above / (climb + math.sqrt(inside)) if inside > 0.0 else 1e9
    return 1e9


@inside
def _mark(marks, place, t, y, n):
    """Note time and state.  Element by element: numba takes seconds to compile a slice set to a slice."""
    if place < marks.shape[0]:
        marks[place, 0] = t
        for i in range(n):
            marks[place, 1 + i] = y[i]


@inside
def _expose(seen, t, y, rate, heating, summary):
    """Keep the greatest heating: of the samples, and of the tops of cubics between two of them.

    seen (4,)  time, logarithm and its slope at the sample before, and whether there was one; kept up to date here
    """
    value = math.log(max(heating, 1e-12))
    x, yy, z = y[0] + _CRUMB * y[3], y[1] + _CRUMB * y[4], y[2] + _CRUMB * y[5]
    vx, vy, vz = y[3] + _CRUMB * rate[3], y[4] + _CRUMB * rate[4], y[5] + _CRUMB * rate[5]
    thinner = air_kernel(height_kernel(x, yy, z))[2] / air_kernel(height_kernel(y[0], y[1], y[2]))[2]
    ux, uy = y[3] + OMEGA * y[1], y[4] - OMEGA * y[0]
    before = ux * ux + uy * uy + y[5] * y[5]
    after = (vx + OMEGA * yy) ** 2 + (vy - OMEGA * x) ** 2 + vz * vz
    slope = (math.log(thinner) + 1.5 * math.log(after / before)) / _CRUMB
    t0, v0, slope0 = seen[0], seen[1], seen[2]
    first, h = seen[3] == 0.0, t - t0
    seen[0], seen[1], seen[2], seen[3] = t, value, slope, 1.0
    peak, risen = value, False
    if not first and h > 0.0:
        risen = value > v0
        if slope0 > 0.0 and slope < 0.0:  # the top of the cubic with these values and slopes
            bend, twist = (
                3.0 * (value - v0) / h - 2.0 * slope0 - slope,
                slope0 + slope - 2.0 * (value - v0) / h,
            )
            root = math.sqrt(max(bend * bend - 3.0 * twist * slope0, 0.0))
            s = min(1.0, max(0.0, slope0 / (root - bend)))
            peak, risen = max(v0 + s * h * (slope0 + s * (bend + s * twist)), value, v0), True
    summary[at.EXPOSED_HEATING] = max(summary[at.EXPOSED_HEATING], math.exp(peak))
    if risen:
        summary[at.RISEN_HEATING] = max(summary[at.RISEN_HEATING], math.exp(peak))


@inside
def _light(g, t, y, groups, at_start):
    groups[g, of.STATE], groups[g, of.SINCE] = of.LIT, t
    groups[g, of.FULL_SINCE], groups[g, of.LIT_AT_START] = y[at.FULL], 1.0 if at_start else 0.0


@inside
def _light_at_once(index, t, y, groups):
    """Light the groups that are lit as segment `index` begins; on the pad they are up to speed by then."""
    for g in range(groups.shape[0]):
        at_once = groups[g, of.ON_WHEN] == of.ON_TIME and groups[g, of.ON_VALUE] <= 0.0
        if at_once and int(groups[g, of.FIRST]) == index and groups[g, of.STATE] == of.WAITING:
            _light(g, t, y, groups, index == 0)


@inside
def _let_go_group(g, t, y, n, first, marks, groups):
    _mark(marks, first + g, t, y, n)
    y[at.MASS] -= groups[g, of.DROP]
    groups[g, of.STATE], groups[g, of.SINCE] = of.GONE, t


@inside
def _would_exceed(seen, segment, mode):
    """Whether full throttle would pass the limit of felt acceleration."""
    throttles = segment[at.LEAST_THROTTLE] < 1.0 and segment[at.THROTTLED_FLOW] > 0.0
    return throttles and seen[6] > mode[at.MODE_ACCELERATION_LIMIT]


@inside
def _start_clocks(index, t, let_go, let_go_time):
    for j in range(let_go.shape[0]):
        if let_go[j, at.LET_GO_WHEN] == at.WHEN_TIME and int(let_go[j, at.LET_GO_SEGMENT]) == index:
            let_go_time[j] = t + let_go[j, at.LET_GO_VALUE]


@inside
def signals(y, seen, index, segment, mode, control, let_go, pending, begun, groups, out):
    """Numbers that reach zero from below at their events, into `out`; `seen` is what `rates` returned."""
    q, speed, height, full, needed = seen[3], seen[4], seen[5], seen[6], seen[7]
    for i in range(out.shape[0]):
        out[i] = _QUIET
    throttled = mode[at.THROTTLE_MODE] != at.THROTTLE_FULL
    if segment[at.END] == at.ENDS_AT_BURNT:
        if throttled or segment[at.BESIDE] > 0.0:
            out[_END] = (y[at.BURNT] - begun[int(segment[at.END_SINCE])]) / segment[at.END_VALUE] - 1.0
        if segment[at.SPENT] > 0.0:
            out[_END] = 0.0
        if segment[at.END_HEIGHT] > 0.0:
            out[_END] = max(out[_END], (height - segment[at.END_HEIGHT]) / 1e3)
    elif segment[at.END] == at.ENDS_AT_HEIGHT:
        out[_END] = (height - segment[at.END_VALUE]) / 1e3
    elif segment[at.END] == at.ENDS_WITH_GROUP:
        if groups is not None:
            out[_END] = 0.0 if groups[int(segment[at.END_VALUE]), of.STATE] >= of.OUT else -1.0
    elif segment[at.END] == at.ENDS_AT_APEX:
        out[_END] = 1e-3 * falling(y)

    phase = mode[at.PHASE]
    if phase == at.VERTICAL:
        out[_STEERING] = (height - control[at.RISE_HEIGHT]) / 1e2
    elif phase == at.HOLDING:
        out[_STEERING] = angle_from_vertical(y) - mode[at.MODE_TILT]
        if mode[at.MODE_TILT_FROM] > mode[at.MODE_TILT]:
            out[_STEERING] = -out[_STEERING]  # pulled up: the path rises to it
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
    if groups is not None:
        for g in range(groups.shape[0]):
            if groups[g, of.FIRST] <= index <= groups[g, of.LAST]:
                place = _FIRST_LET_GO + let_go.shape[0] + g
                out[place] = of.signal_of(g, y, height, seen[11], throttled, begun, groups)


@inside
def _raised(values):
    """The first signal at or above zero, or −1."""
    for i in range(values.shape[0]):
        if values[i] >= 0.0:
            return i
    return -1


@inside
def _event_of(which, mode, letting, groups):
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
    if groups is not None:  # noqa: SIM102
        if which >= _FIRST_LET_GO + letting:
            g = which - _FIRST_LET_GO - letting
            return at.GROUP_LIT if groups[g, of.STATE] == of.WAITING else at.GROUP_OUT, g
    return at.LET_GO, which - _FIRST_LET_GO


@inside
def _to_the_root(
    which, t, y, h, index, segment, mode, curve, control, let_go, pending, begun,
    groups, traces, n, k, z, end, rate_at_end, before, after, seen,
):  # fmt: skip
    """Repeat the step from `y` so that it ends where signal `which` is zero; `seen` there.  Returns the step."""
    # first on the cubic through both ends of the step, which costs one evaluation a try
    y1, r1, mid, work, last = np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(at.SEEN_WIDTH)
    for i in range(n):
        y1[i], r1[i] = end[i], rate_at_end[i]
    low, high, at_low, at_high = 0.0, 1.0, before[which], after[which]
    guess = 0.5
    for _ in range(5):
        guess = low + (high - low) * min(0.98, max(0.02, -at_low / (at_high - at_low)))
        _cubic(guess, h, y, k[0], y1, r1, mid, n)
        rates(t + guess * h, mid, segment, mode, curve, groups, traces, work, n, at.LOOK)
        signals(mid, seen, index, segment, mode, control, let_go, pending, begun, groups, after)
        value = after[which]
        if value >= 0.0:
            high, at_high = guess, value
            at_low *= 0.5
        else:
            low, at_low = guess, value
            at_high *= 0.5
        if abs(value) < 1e-5:
            break
    # a true step to there, then crumbs of a step along the slope of the signal
    tried, whole = guess * h, True
    for i in range(_MOST_TRIES):
        if whole:
            step(t, y, tried, segment, mode, curve, groups, traces, control[at.TOLERANCE], n, k, z, end)
        rates(t + tried, end, segment, mode, curve, groups, traces, rate_at_end, n, at.LOOK)
        signals(end, seen, index, segment, mode, control, let_go, pending, begun, groups, after)
        value = after[which]
        for j in range(at.SEEN_WIDTH):
            last[j] = seen[j]
        if i == _MOST_TRIES - 1:
            break  # what is handed back is always the state at `tried`
        for j in range(n):
            mid[j] = end[j] + _CRUMB * rate_at_end[j]
        rates(t + tried + _CRUMB, mid, segment, mode, curve, groups, traces, work, n, at.LOOK)
        signals(mid, seen, index, segment, mode, control, let_go, pending, begun, groups, after)
        slope = (after[which] - value) / _CRUMB
        move = -value / slope if slope > 0.0 else 0.0
        if abs(move) < 1e-10 or tried + move <= 0.0 or tried + move > 1.5 * h:
            break
        tried += move
        whole = abs(move) > _SMALL_MOVE
        if not whole:  # by the mean of the rates at both ends, which is exact to move³
            share = 0.5 * move * move / _CRUMB
            for j in range(n):
                end[j] += move * rate_at_end[j] + share * (work[j] - rate_at_end[j])
    for j in range(at.SEEN_WIDTH):
        seen[j] = last[j]
    return tried


@inside
def _cubic(s, h, y0, r0, y1, r1, out, n):
    """State at the fraction `s` of a step, on the cubic through both ends and rates."""
    a, b = (1.0 + 2.0 * s) * (1.0 - s) ** 2, s * s * (3.0 - 2.0 * s)
    c, d = h * s * (1.0 - s) ** 2, h * s * s * (s - 1.0)
    for i in range(n):
        out[i] = a * y0[i] + b * y1[i] + c * r0[i] + d * r1[i]


@entrance
def _aim(y, control):
    """Set the primer and its rate at the start of free steering, from the air speed's direction."""
    axes = air_frame(y)
    y[8], y[9], y[10] = turned(axes, control[at.OFF_PITCH], control[at.OFF_YAW])
    along, up, side = control[at.RATE_ALONG], control[at.RATE_UP], control[at.RATE_SIDE]
    for i in range(3):
        y[11 + i] = along * axes[i] + up * axes[3 + i] + side * axes[6 + i]
