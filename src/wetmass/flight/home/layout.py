"""Where each number stands in the arrays of a flight home.  SI; axes as in `wetmass.flight.layout`.

A flight home is a row of legs.  Nothing here is compiled; importing it is quick.
"""

from __future__ import annotations

# ── state: place, speed, mass as in `wetmass.flight.layout`, then two sums ────────────────────────
MASS = 6  # [kg]
HEAT = 7  # heat load of the stagnation point so far [J/m²]
SPENT = 8  # ideal speed given by the engines so far [m/s]
WIDTH = 9

# ── one leg ──────────────────────────────────────────────────────────────────────────────────────
THRUST = 0  # vacuum thrust of the lit rocket engines at full throttle [N]
FLOW = 1  # [kg/s]
EXIT = 2  # exit area [m²]
THROTTLE = 3  # [-]
AIM = 4  # one of AIMS
AIM_X, AIM_Y, AIM_Z = 5, 6, 7  # of AIM_FIXED, a unit vector
AREA = 8  # reference area of the body's drag [m²]
CURVE = 9  # which drag curve [-]
DRAG_SHARE = 10  # of that drag that is left, below 1 behind a burning engine [-]
CHUTE_FROM, CHUTE_TO, CHUTE_TIME = 11, 12, 13  # drag area of parachutes [m²] [m²], time to fill [s]
NOSE = 14  # nose radius for heating [m]
JET_THRUST = 15  # static thrust of the lit jets [N]
JET_SPEED = 16  # static thrust over air flow [m/s]
JET_FUEL = 17  # static fuel flow [kg/s]
JET_TIME = 18  # time constant of spool-up from the leg's start, 0: up already [s]
WING = 19  # wing area, 0: no lift [m²]
WING_BEST = 20  # lift coefficient of the best lift to drag [-]
WING_MOST = 21  # greatest lift coefficient [-]
LIFT_TO_DRAG = 22  # the best one [-]
BANK = 23  # most bank towards the place; 0: the wings are kept level [rad]
LOAD = 24  # greatest lift over mass [m/s²]
END = 25  # how it ends, one of ENDS
END_VALUE = 26
OTHER_END = 27  # a second way to end, NEVER for none
OTHER_VALUE = 28
TO_X, TO_Y, TO_Z = 29, 30, 31  # Earth-fixed place steered to on wings [m]
DROPPED = 32  # mass let go at the end [kg]
LEG_WIDTH = 33

AGAINST = 0  # thrust against the speed over the ground
FIXED = 1  # along AIM_X … in axes that do not turn
UP = 2  # along the vertical
BACKWARD = 3  # against the inertial speed

NEVER = -1
TIME = 0  # value seconds after the leg began
FALLEN = 1  # height at or below value [m]; meant for falling
SLOWED = 2  # speed over the ground at or below value [m/s]
APEX = 3  # no longer climbing
SUBSONIC = 4  # Mach number at or below value
PRESSED = 5  # dynamic pressure at or above value [Pa]

# ── summary ──────────────────────────────────────────────────────────────────────────────────────
STATUS, STEPS = 0, 1
PEAKS = 2  # three numbers each: value, time, height
PEAK_PRESSURE, PEAK_FELT, PEAK_HEATING, PEAK_MOLECULAR, PEAK_HEIGHT = (2 + 3 * i for i in range(5))
SUMMARY_WIDTH = PEAKS + 15

ARRIVED, HIT, LOST = range(3)  # last leg ended; met the ground before; too many steps or no mass

# ── one recorded row: time, leg, then the state ──────────────────────────────────────────────────
ROW_TIME, ROW_LEG, ROW_STATE = 0, 1, 2
ROW_WIDTH = ROW_STATE + WIDTH

# ── what `rates` says beside the rates ───────────────────────────────────────────────────────────
(
    SAYS_FELT,
    SAYS_PRESSURE,
    SAYS_AIR_SPEED,
    SAYS_HEIGHT,
    SAYS_MACH,
    SAYS_CLIMB,
    SAYS_GROUND_SPEED,
    SAYS_THRUST,
    SAYS_DRAG,
    SAYS_HEATING,
) = range(10)
SAYS_WIDTH = 10
