"""Flights along a programme: the attitude of a recorded flight by the clock, whatever the vehicle does by itself.

Nothing is steered anew: each stage holds the directions of the programme by the time since it began, coasts are
timed, pieces are let go by the clock, and burns end when their propellant is out.  Throttles still keep the
limits of felt acceleration and dynamic pressure.  Fixed steps of the classical order 4, ended at every event;
the physics is that of every flight (`motion.rates`).  One source is compiled for processors and for graphics cards.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from wetmass.flight import layout as at
from wetmass.flight.compiled import entrance, inside
from wetmass.flight.motion import only_rates, rates

STATE = 8  # of the state that are integrated: place, speed, mass, propellant burnt
END_PRESSURE, END_FELT, END_Q_ALPHA, END_STATUS, END_STEPS = 8, 9, 10, 11, 12  # behind the state in a result
RESULT_WIDTH = 13
BURN_STEP, COAST_STEP, REGULATES = 0, 1, 2  # of `how`: steps [s]; 1: throttles for the dynamic pressure
HOW_WIDTH = 3
PIECE_SEGMENT, PIECE_BEGIN, PIECE_PACE = (
    0,
    1,
    2,
)  # of a piece of the programme; seconds since the segment began
PIECE_WIDTH = 3
_MOST_STEPS = 40_000
_AIRLESS = 110e3  # m: below, a coast takes the steps of a burn
_CRUMB = 1e-7  # s: a burn is over when this is left of it


@njit(error_model="numpy", inline="always")
def _aim(y, attitude, pieces, p, since):
    """Point the thrust: piece `p` of the programme at `since` [s], between its nodes by a straight line."""
    last = attitude.shape[1] - 1
    place = (since - pieces[p, PIECE_BEGIN]) / pieces[p, PIECE_PACE]
    node = min(max(int(place), 0), last - 1)
    part = min(max(place - node, 0.0), 1.0)
    y[8] = attitude[p, node, 0] + part * (attitude[p, node + 1, 0] - attitude[p, node, 0])
    y[9] = attitude[p, node, 1] + part * (attitude[p, node + 1, 1] - attitude[p, node, 1])
    y[10] = attitude[p, node, 2] + part * (attitude[p, node + 1, 2] - attitude[p, node, 2])


@inside
def along(segments, drops, attitude, pieces, control, curve, how, y, z, dy, total, mode, result):
    """Fly one vehicle from the ground to the end of its last segment.

    segments (s, SEGMENT_WIDTH)  drops (j, 3)  segment, seconds since it began, mass let go [kg], by time
    attitude (p, k, 3)  directions in axes that do not turn, at k even times of each piece of the programme
    pieces (p, PIECE_WIDTH)  which segment, when it begins, seconds between the times; smooth within each
    control (CONTROL_WIDTH)  curve (m, 5)  drag spline    how (HOW_WIDTH)
    y (STEERED,)  state as it begins, and work space from then on    z, dy (STEERED,), total (STATE,), mode (MODE_WIDTH,)
        work space    result (RESULT_WIDTH,)  written: the state at the end, greatest loads, status, steps
    """
    for i in range(at.MODE_WIDTH):
        mode[i] = 0.0
    seen = mode[at.SEEN :]
    mode[at.PHASE] = at.FREE
    mode[at.MODE_ACCELERATION_LIMIT] = control[at.ACCELERATION_LIMIT]
    mode[at.MODE_PRESSURE_LIMIT] = control[at.PRESSURE_LIMIT]
    mode[at.THROTTLE_MODE] = at.THROTTLE_FOR_ACCELERATION
    if how[REGULATES] > 0.0:
        mode[at.THROTTLE_MODE] = at.THROTTLE_FOR_PRESSURE
    t, steps, status, drop, p = 0.0, 0, 0.0, 0, 0
    pressure, felt, q_alpha = 0.0, 0.0, 0.0
    for i in range(8, at.STEERED):
        y[i] = 0.0
        z[i] = 0.0
    stage_burnt = 0.0  # burnt when the segment that the stage's burns count from began
    for s in range(segments.shape[0]):
        segment = segments[s]
        by_time = segment[at.END] == at.ENDS_AT_TIME
        if int(segment[at.END_SINCE]) == s:
            stage_burnt = y[at.BURNT]
        since = 0.0
        while p + 1 < pieces.shape[0] and pieces[p, PIECE_SEGMENT] < s:
            p += 1
        while True:
            # what the clock brings comes first, so that flights side by side on a card stay in step
            turns = 1e9  # the end of the piece: the programme may have a corner or a jump there
            while p + 1 < pieces.shape[0] and pieces[p + 1, PIECE_SEGMENT] == s:
                turns = pieces[p + 1, PIECE_BEGIN] - since
                if turns > _CRUMB:
                    break
                p += 1
                turns = 1e9
            lets_go = 1e9
            while drop < drops.shape[0] and int(drops[drop, 0]) == s:
                lets_go = drops[drop, 1] - since
                if lets_go > _CRUMB:
                    break
                y[at.MASS] -= drops[drop, 2]
                drop += 1
                lets_go = 1e9
            _aim(y, attitude, pieces, p, since)
            rates(t, y, segment, mode, curve, None, None, dy, at.STEERED, at.LOOK)
            pressure = max(pressure, seen[3])
            felt = max(felt, seen[1])
            if seen[4] > 30.0 and segment[at.BURNING] > 0.0:
                q_alpha = max(q_alpha, seen[3] * seen[3] * (1.0 - min(1.0, seen[2] * seen[2])))
            if seen[5] < -2e3 or y[at.MASS] <= 0.0 or steps >= _MOST_STEPS:
                status = 1.0
                break
            h = how[COAST_STEP]
            if segment[at.BURNING] > 0.0 or seen[5] < _AIRLESS:
                h = how[BURN_STEP]
            if by_time:
                left = segment[at.END_VALUE] - since
            else:
                left = (segment[at.END_VALUE] - (y[at.BURNT] - stage_burnt)) / max(dy[at.BURNT], 1e-9)
            if left <= _CRUMB:
                break
            left = min(left, turns, lets_go)
            if segment[at.BURNING] > 0.0 and seen[0] >= 1.0 and dy[at.MASS] < 0.0:
                # the throttle comes down at a corner: end a step there
                until = (y[at.MASS] - seen[6] * y[at.MASS] / control[at.ACCELERATION_LIMIT]) / -dy[at.MASS]
                if until > 1e-3:
                    left = min(left, until)
            if h > left:
                h = left
            elif 2.0 * h > left:
                h = 0.5 * left  # two even steps rather than a long one and a crumb
            for i in range(STATE):
                total[i] = dy[i]
                z[i] = y[i] + 0.5 * h * dy[i]
            _aim(z, attitude, pieces, p, since + 0.5 * h)
            only_rates(t + 0.5 * h, z, segment, mode, curve, None, None, dy, at.STEERED)
            for i in range(STATE):
                total[i] += 2.0 * dy[i]
                z[i] = y[i] + 0.5 * h * dy[i]
            only_rates(t + 0.5 * h, z, segment, mode, curve, None, None, dy, at.STEERED)
            for i in range(STATE):
                total[i] += 2.0 * dy[i]
                z[i] = y[i] + h * dy[i]
            _aim(z, attitude, pieces, p, since + h)
            only_rates(t + h, z, segment, mode, curve, None, None, dy, at.STEERED)
            for i in range(STATE):
                y[i] += h / 6.0 * (total[i] + dy[i])
            t += h
            since += h
            steps += 1
        if status > 0.0:
            break
        y[at.MASS] -= segment[at.DROPPED]
        while drop < drops.shape[0] and int(drops[drop, 0]) == s:  # the segment ended before its time came
            y[at.MASS] -= drops[drop, 2]
            drop += 1
    for i in range(STATE):
        result[i] = y[i]
    result[END_PRESSURE], result[END_FELT], result[END_STATUS] = pressure, felt, status
    result[END_Q_ALPHA], result[END_STEPS] = q_alpha**0.5, steps


@entrance
def along_each(segments, drops, attitude, pieces, control, curve, how, start, masses, results):
    """`along` for many vehicles: segments (N, s, ·), drops (N, j, 3), masses (N,); results (N, RESULT_WIDTH)."""
    y, z, dy = np.empty(at.STEERED), np.empty(at.STEERED), np.empty(at.STEERED)
    total, mode = np.empty(STATE), np.empty(at.MODE_WIDTH)
    for i in range(masses.shape[0]):
        for j in range(STATE):
            y[j] = start[j]
        y[at.MASS] = masses[i]
        along(segments[i], drops[i], attitude, pieces, control, curve, how, y, z, dy, total, mode, results[i])
