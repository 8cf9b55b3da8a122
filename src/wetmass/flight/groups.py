"""Engine groups with rules of their own, or strapped on: where their numbers stand, and what they push.

A group waits, is lit, is out, and is gone when it was let go.  Engines without rules need none of this:
they stand in the segment's own columns (`wetmass.flight.layout`).
"""

from __future__ import annotations

import math

from wetmass.flight import layout as at
from wetmass.flight.compiled import inside
from wetmass.physics.curve import spline_value
from wetmass.physics.jets import (
    jet_fuel_kernel,
    jet_thrust_kernel,
    ramjet_fuel_kernel,
    ramjet_thrust_kernel,
    windmill_drag_kernel,
)
from wetmass.physics.nozzle import adapting_gain_kernel

# ── one group ────────────────────────────────────────────────────────────────────────────────────
KIND = 0  # one of the kinds below
FIRST, LAST = 1, 2  # segments in which it is aboard; its clock starts as FIRST begins [-]
THRUST, FLOW, EXIT = 3, 4, 5  # of the whole group: vacuum thrust [N], flow [kg/s], exit area [m²]
LEAST = 6  # least throttle; 1: it cannot, and adds to the fixed columns [-]
COUNTED = 7  # share of its flow that comes from the tanks of the stage at work [-]
ON_WHEN, ON_VALUE = 8, 9  # one of ON_*
OFF_TIME = 10  # s after it is lit, at the latest
OFF_FULL = 11  # s at full throttle after it is lit, at the latest
OFF_HEIGHT = 12  # m, above this height
OFF_MACH = 13  # above this Mach number
OFF_BURNT = 14  # kg burnt from the stage's tanks since FIRST began
DROP = 15  # mass let go with it [kg]
DROP_AFTER = 16  # s after it is out; at the end of LAST at the latest
FEEDS = 17  # 1: it feeds the engines of its stage while it burns
AREA = 18  # adds to the reference area while it is aboard [m²]
VALUES = 19  # five: what its kind needs
STATE, SINCE, FULL_SINCE, LIT_AT_START = (
    24,
    25,
    26,
    27,
)  # in flight: one of WAITING …; since when [s]; FULL then
WIDTH = 28

NEVER = 1e12  # of OFF_*: no such rule

ROCKET = 0  # thrust, flow and exit area as they stand
TRACE = (
    1  # solid motors: VALUES which trace, thrust at its 1 [N], exhaust speed [m/s], s of it gone at FIRST,
)
# rows of the table between two of its stated points
JET = 2  # THRUST static, FLOW of fuel; VALUES jet speed [m/s], time constant [s], intake diameter [m],
# spillage [-], number of engines
RAMJET = 3  # VALUES capture area [m²], burner temperature [K], heat of the fuel [J/kg], share kept [-]
ADAPTING = 4  # what a nozzle gains over its fixed bell: VALUES isentropic exponent, exit over chamber
# pressure, chamber pressure [Pa], efficiency; THRUST of the engines that have it

ON_TIME, ON_HEIGHT, ON_MACH = range(3)  # s after FIRST begins; above a height [m]; above a Mach number
WAITING, LIT, OUT, GONE = range(4)


@inside
def row_now(index, segments, groups, live):
    """The row of segment `index` with the groups that are lit, into `live`; groups may be None."""
    for i in range(at.SEGMENT_WIDTH):
        live[i] = segments[index, i]
    if groups is not None:
        _with_groups(index, segments, groups, live)


@inside
def _with_groups(index, segments, groups, live):
    waiting, feeding = False, False
    for g in range(groups.shape[0]):
        group = groups[g]
        if index < group[FIRST] or index > group[LAST] or group[STATE] == GONE:
            continue
        kind = group[KIND]
        if kind == ADAPTING:  # with the engines of its segment
            group[STATE] = LIT if segments[index, at.BURNING] > 0.0 else OUT
            if group[STATE] == LIT:
                live[at.BESIDE] = 1.0
            continue
        live[at.AREA] += group[AREA]
        if group[STATE] == WAITING:
            waiting = True
        elif group[STATE] == OUT:
            if kind == JET and group[VALUES + 2] > 0.0:
                live[at.BESIDE] = 1.0  # it windmills
        elif kind == ROCKET:
            live[at.BURNING] = 1.0
            if group[FEEDS] > 0.0:
                feeding = True
            if group[LEAST] < 1.0:
                alone = live[at.THROTTLED_FLOW] == 0.0
                live[at.LEAST_THROTTLE] = (
                    group[LEAST] if alone else max(group[LEAST], live[at.LEAST_THROTTLE])
                )
                live[at.THROTTLED_THRUST] += group[THRUST]
                live[at.THROTTLED_FLOW] += group[FLOW]
                live[at.THROTTLED_EXIT] += group[EXIT]
                live[at.THROTTLED_COUNTED] += group[FLOW] * group[COUNTED]
            else:
                live[at.FIXED_THRUST] += group[THRUST]
                live[at.FIXED_FLOW] += group[FLOW]
                live[at.FIXED_EXIT] += group[EXIT]
                live[at.FIXED_COUNTED] += group[FLOW] * group[COUNTED]
        else:
            live[at.BURNING], live[at.BESIDE] = 1.0, 1.0
    if feeding:
        live[at.THROTTLED_COUNTED], live[at.FIXED_COUNTED] = 0.0, 0.0
    if live[at.BURNING] == 0.0 and not waiting and segments[index, at.END] == at.ENDS_AT_BURNT:
        live[at.SPENT] = 1.0


@inside
def beside(t, index, groups, traces, mach, pressure, temperature, q):
    """What the groups that are no plain rockets add in air of `pressure` [Pa] and `temperature` [K].

    Returns (thrust there [N], thrust in vacuum or of jets [N], flow [kg/s], flow from the stage's own tanks,
    of that what jets burn, drag of jets that are off [N], thrust gained by adapting nozzles of engines that
    throttle [N]).
    """
    thrust, vacuum, flow, counted, fuel, drag, gained = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    for g in range(groups.shape[0]):
        group = groups[g]
        if index < group[FIRST] or index > group[LAST]:
            continue
        kind, state = group[KIND], group[STATE]
        if kind == ADAPTING and state == LIT:
            gain = adapting_gain_kernel(
                group[THRUST], group[VALUES], group[VALUES + 1],
                min(pressure / group[VALUES + 2], 0.5), group[VALUES + 3],
            )  # fmt: skip
            if group[LEAST] < 1.0:
                gained += gain
            else:
                thrust += gain
        elif state == OUT and kind == JET:
            if group[VALUES + 2] > 0.0 and q > 0.0:
                drag += group[VALUES + 4] * windmill_drag_kernel(
                    group[VALUES + 2], min(mach, 2.0), q, group[VALUES + 3]
                )
        elif state != LIT:
            continue
        elif kind == TRACE:
            since = t - group[SINCE] + group[VALUES + 3]
            push = group[VALUES + 1] * max(0.0, spline_value(since, traces[int(group[VALUES])]))
            burnt = push / group[VALUES + 2]
            vacuum += push
            thrust += max(0.0, push - pressure * group[EXIT])
            flow += burnt
            counted += burnt * group[COUNTED]
        elif kind == JET:
            up = 1.0
            if group[LIT_AT_START] == 0.0:
                up = 1.0 - math.exp(-max(0.0, t - group[SINCE]) / group[VALUES + 1])
            here = min(mach, 2.0)
            push = up * max(0.0, jet_thrust_kernel(group[THRUST], group[VALUES], here, pressure, temperature))
            burnt = up * jet_fuel_kernel(group[FLOW], here, pressure, temperature)
            thrust += push
            vacuum += push
            flow += burnt
            counted += burnt * group[COUNTED]
            fuel += burnt
        elif kind == RAMJET:
            push = ramjet_thrust_kernel(
                group[VALUES], mach, pressure, temperature, group[VALUES + 1], group[VALUES + 2],
                group[VALUES + 3],
            )  # fmt: skip
            burnt = ramjet_fuel_kernel(
                group[VALUES], mach, pressure, temperature, group[VALUES + 1], group[VALUES + 2]
            )
            thrust += push
            vacuum += push
            flow += burnt
            counted += burnt * group[COUNTED]
            fuel += burnt
    return thrust, vacuum, flow, counted, fuel, drag, gained


@inside
def reach_of(g, t, y, throttled, segment_start, groups):
    """(seconds until the next event of group `g` that the clock knows, which event)."""
    group = groups[g]
    state = group[STATE]
    if state == WAITING and group[ON_WHEN] == ON_TIME:
        return segment_start[int(group[FIRST])] + group[ON_VALUE] - t, at.GROUP_LIT
    if state == LIT:
        reach = group[SINCE] + group[OFF_TIME] - t
        if not throttled:
            reach = min(reach, group[OFF_FULL] - (y[at.FULL] - group[FULL_SINCE]))
        return reach, at.GROUP_OUT
    if state == OUT and (group[DROP] > 0.0 or group[AREA] > 0.0):
        return group[SINCE] + group[DROP_AFTER] - t, at.GROUP_LET_GO
    return 1e9, at.NO_EVENT


@inside
def to_the_corner(g, t, groups, traces):
    """Seconds until the curve of a thrust trace passes a knot: a step ends there."""
    group = groups[g]
    if group[KIND] != TRACE or group[STATE] != LIT:
        return 1e9
    since = t - group[SINCE] + group[VALUES + 3]
    table = traces[int(group[VALUES])]
    row = 0
    while row < table.shape[0] and table[row, 0] <= since + 1e-6:
        row += 1
    return table[row, 0] - since if row < table.shape[0] else 1e9


@inside
def signal_of(g, y, height, mach, throttled, begun, groups):
    """A number that reaches zero from below at the next event of group `g` that the clock does not know."""
    group = groups[g]
    state = group[STATE]
    if state == WAITING:
        if group[ON_WHEN] == ON_HEIGHT:
            return (height - group[ON_VALUE]) / 1e4
        if group[ON_WHEN] == ON_MACH:
            return mach - group[ON_VALUE]
        return -1.0
    if state == LIT:
        signal = max((height - group[OFF_HEIGHT]) / 1e4, mach - group[OFF_MACH])
        if group[OFF_BURNT] < NEVER:
            burnt = y[at.BURNT] - begun[int(group[FIRST])]
            signal = max(signal, burnt / group[OFF_BURNT] - 1.0)
        if throttled and group[OFF_FULL] < NEVER:
            signal = max(signal, (y[at.FULL] - group[FULL_SINCE]) / group[OFF_FULL] - 1.0)
        return signal
    return -1.0


@inside
def unburnt(g, t, y, groups, traces):
    """Propellant a strapped-on group still has when its stage is let go before it is out [kg]."""
    group = groups[g]
    if group[COUNTED] > 0.0:
        return 0.0  # burns from the stage's tanks
    if group[STATE] == WAITING:
        return group[FLOW] * min(group[OFF_TIME], group[OFF_FULL])
    if group[STATE] != LIT:
        return 0.0
    if group[KIND] == TRACE:
        total, n = 0.0, 400
        begin = t - group[SINCE] + group[VALUES + 3]
        end = group[OFF_TIME] + group[VALUES + 3]
        for i in range(n):
            total += max(0.0, spline_value(begin + (i + 0.5) * (end - begin) / n, traces[int(group[VALUES])]))
        return total * (end - begin) / n * group[VALUES + 1] / group[VALUES + 2]
    left = min(group[SINCE] + group[OFF_TIME] - t, group[OFF_FULL] - (y[at.FULL] - group[FULL_SINCE]))
    return group[FLOW] * max(0.0, left)
