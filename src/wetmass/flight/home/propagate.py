"""Fly a row of legs, each to its end exactly, by the order-8 pair of `wetmass.flight.tableau`."""

from __future__ import annotations

import math

import numpy as np

from wetmass.flight import tableau
from wetmass.flight.compiled import entrance, inside
from wetmass.flight.home import layout as at
from wetmass.flight.home.motion import rates

_A = np.zeros((tableau.STAGES, tableau.STAGES))
for _stage, _row in enumerate(tableau.COUPLING):
    for _earlier, _weight in _row:
        _A[_stage, _earlier] = _weight
_C = np.array(tableau.NODES)
_WEIGHTS = np.zeros((3, tableau.STAGES))  # of the answer, of its error by order 5, by order 3
for _which, _pairs in enumerate((tableau.WEIGHTS, tableau.ERROR_OF_ORDER_5, tableau.ERROR_OF_ORDER_3)):
    for _stage, _weight in _pairs:
        _WEIGHTS[_which, _stage] = _weight

_FLOORS = np.array([1e3, 1e3, 1e3, 1e2, 1e2, 1e2, 1e3, 1e6, 1e3])  # below these, errors are absolute
_MOST_STEPS = 20_000
_THIN = 110e3  # m, above it steps may be as long as the motion allows


@inside
def _step(t, began, y, h, leg, curves, wind, tolerance, k, z, end, says):
    """State `end` a time `h` after `y`; `k[0]` holds the rates at (t, y).  Error over the tolerance."""
    for s in range(1, 12):
        for i in range(at.WIDTH):
            total = 0.0
            for j in range(s):
                total += _A[s, j] * k[j, i]
            z[i] = y[i] + h * total
        rates(t + _C[s] * h, began, z, leg, curves, wind, k[s], says)
    five, three = 0.0, 0.0
    for i in range(at.WIDTH):
        gain, e5, e3 = 0.0, 0.0, 0.0
        for s in range(12):
            gain += _WEIGHTS[0, s] * k[s, i]
            e5 += _WEIGHTS[1, s] * k[s, i]
            e3 += _WEIGHTS[2, s] * k[s, i]
        end[i] = y[i] + h * gain
        scale = tolerance * max(_FLOORS[i], abs(y[i]), abs(end[i]))
        five += (e5 / scale) ** 2
        three += (e3 / scale) ** 2
    if five == 0.0:
        return 0.0
    return abs(h) * five / math.sqrt((five + 0.01 * three) * at.WIDTH)


@inside
def _signal(end, value, t, began, says):
    """A number below zero before this end and at or above zero from it on."""
    if end == at.TIME:
        return t - began - value + 1e-9  # a hair, since sums of times round
    if end == at.FALLEN:
        return (value - says[at.SAYS_HEIGHT]) / 1e3
    if end == at.SLOWED:
        # or rising already: a long step may pass over the moment of rest
        return max(value - says[at.SAYS_GROUND_SPEED], says[at.SAYS_CLIMB]) / 1e2
    if end == at.APEX:
        return -says[at.SAYS_CLIMB] / 1e2
    if end == at.SUBSONIC:
        return value - says[at.SAYS_MACH]
    if end == at.PRESSED:
        return says[at.SAYS_PRESSURE] / value - 1.0
    return -1.0


@inside
def _nearest(t, began, leg, says, ground):
    """The signal of whichever end is closest, and that of the ground."""
    first = _signal(leg[at.END], leg[at.END_VALUE], t, began, says)
    other = _signal(leg[at.OTHER_END], leg[at.OTHER_VALUE], t, began, says)
    return max(first, other), (ground - says[at.SAYS_HEIGHT]) / 1e3


@inside
def _peak(summary, place, value, time, height):
    if value > summary[place]:
        summary[place], summary[place + 1], summary[place + 2] = value, time, height


@entrance
def fly(start, legs, curves, wind, y, ground, longest, tolerance, summary, marks, rows):
    """Fly `legs` from time `start` [s]; the state `y` (WIDTH,) is carried to the end in place.

    legs (k, LEG_WIDTH)    curves (c, m, 5)    wind (w, 3)
    ground  height at which the flight ends whatever the leg [m]
    longest  step in air [s]; above 110 km up to twenty times that
    marks (k, 1 + WIDTH)  time and state at the end of each leg; written here
    rows (r, ROW_WIDTH)  a row a step and end of leg; r = 0 records nothing
    Returns (time at the end [s], number of rows written, legs ended).
    """
    k, z, end, says = (
        np.zeros((12, at.WIDTH)),
        np.zeros(at.WIDTH),
        np.zeros(at.WIDTH),
        np.zeros(at.SAYS_WIDTH),
    )
    now = np.zeros(5)
    seen = np.zeros((3, 6))  # the last three samples: time, then the peaks watched
    for i in range(at.SUMMARY_WIDTH):
        summary[i] = 0.0
    summary[at.PEAK_HEIGHT] = -1e9
    t, written, steps, status, h_next = start, 0, 0, at.ARRIVED, 0.5
    ended = 0
    for index in range(legs.shape[0]):
        leg = legs[index]
        began, samples, going = t, 0, True
        h_next = min(h_next, 0.5)
        while True:
            rates(t, began, y, leg, curves, wind, k[0], says)
            height = says[at.SAYS_HEIGHT]
            now[0], now[1], now[2] = says[at.SAYS_PRESSURE], says[at.SAYS_FELT], says[at.SAYS_HEATING]
            now[3], now[4] = says[at.SAYS_PRESSURE] * says[at.SAYS_AIR_SPEED], height
            for i in range(5):
                _peak(summary, at.PEAKS + 3 * i, now[i], t, height)
                seen[0, 1 + i], seen[1, 1 + i], seen[2, 1 + i] = seen[1, 1 + i], seen[2, 1 + i], now[i]
            seen[0, 0], seen[1, 0], seen[2, 0] = seen[1, 0], seen[2, 0], t
            samples += 1
            if samples >= 3:
                _between(summary, seen)
            if written < rows.shape[0]:
                rows[written, at.ROW_TIME], rows[written, at.ROW_LEG] = t, index
                for i in range(at.WIDTH):
                    rows[written, at.ROW_STATE + i] = y[i]
                written += 1
            leg_at, ground_at = _nearest(t, began, leg, says, ground)
            if not going or leg_at >= 0.0:
                break
            if ground_at >= 0.0 and says[at.SAYS_CLIMB] <= 0.0:
                status = at.HIT
                break
            if steps > _MOST_STEPS or not y[at.MASS] > 0.0 or not abs(height) < 1e9:
                status = at.LOST
                break
            h = min(h_next, longest if height < _THIN else 20.0 * longest)
            if leg[at.END] == at.TIME:
                h = min(h, began + leg[at.END_VALUE] - t)
            while True:
                error = _step(t, began, y, h, leg, curves, wind, tolerance, k, z, end, says)
                steps += 1
                if error <= 1.0 or steps > _MOST_STEPS:
                    break
                h *= max(0.2, 0.9 * error**-0.125) if error < 1e30 else 0.2
            h_next = h * min(5.0, 0.9 * max(error, 1e-9) ** -0.125)
            rates(t + h, began, end, leg, curves, wind, z, says)
            leg_after, ground_after = _nearest(t + h, began, leg, says, ground)
            if ground_after >= 0.0 and says[at.SAYS_CLIMB] > 0.0:
                ground_after = -1.0
            if leg_after >= 0.0 or ground_after >= 0.0:
                # the smaller step at which a signal is just reached: regula falsi, both ends kept
                low, high = 0.0, h
                at_low, at_high = max(leg_at, min(ground_at, -1e-12)), max(leg_after, ground_after)
                for _ in range(60):
                    if high - low < 1e-9 or at_high < 1e-13:
                        break
                    tried = low + (high - low) * min(0.95, max(0.05, -at_low / (at_high - at_low)))
                    _step(t, began, y, tried, leg, curves, wind, tolerance, k, z, end, says)
                    rates(t + tried, began, end, leg, curves, wind, z, says)
                    leg_after, ground_after = _nearest(t + tried, began, leg, says, ground)
                    if says[at.SAYS_CLIMB] > 0.0:
                        ground_after = -1.0
                    value = max(leg_after, ground_after)
                    if value >= 0.0:
                        high, at_high = tried, value
                        at_low *= 0.5
                    else:
                        low, at_low = tried, value
                        at_high *= 0.5
                h = high
                _step(t, began, y, h, leg, curves, wind, tolerance, k, z, end, says)
                rates(t + h, began, end, leg, curves, wind, z, says)
                leg_after, ground_after = _nearest(t + h, began, leg, says, ground)
                going = False
                if leg_after < 0.0:
                    status = at.HIT
            t += h
            for i in range(at.WIDTH):
                y[i] = end[i]
        marks[index, 0] = t
        for i in range(at.WIDTH):  # loops: a slice assigned takes numba far longer to compile
            marks[index, 1 + i] = y[i]
        if status != at.ARRIVED:
            break
        y[at.MASS] -= leg[at.DROPPED]
        ended += 1
    summary[at.STATUS], summary[at.STEPS] = status, steps
    return t, written, ended


@inside
def _between(summary, seen):
    """Let the top of the parabola through three samples count as a peak where the middle one is highest."""
    for i in range(5):
        a, b, c = seen[0, 1 + i], seen[1, 1 + i], seen[2, 1 + i]
        if b > a and b > c:
            left, right = seen[1, 0] - seen[0, 0], seen[2, 0] - seen[1, 0]
            if left <= 0.0 or right <= 0.0:
                continue
            up, down = (b - a) / left, (c - b) / right
            bend = (down - up) / (left + right)
            slope = (up * right + down * left) / (left + right)
            move = -slope / (2.0 * bend)
            at_top = seen[1, 5] + move * 0.5 * (
                (seen[1, 5] - seen[0, 5]) / left + (seen[2, 5] - seen[1, 5]) / right
            )
            _peak(summary, at.PEAKS + 3 * i, b - slope * slope / (4.0 * bend), seen[1, 0] + move, at_top)
