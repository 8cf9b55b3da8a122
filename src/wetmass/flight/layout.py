"""Where each number stands in the arrays that the compiled flight code reads and writes.

All values are SI.  Axes: Earth-centred, not rotating, z through the north pole, x through the site's
meridian at lift-off.
"""

from __future__ import annotations

# ── state ────────────────────────────────────────────────────────────────────────────────────────
X, Y, Z = 0, 1, 2  # position [m]
VX, VY, VZ = 3, 4, 5  # speed in the axes that do not rotate [m/s]
MASS = 6  # [kg]
BURNT = 7  # propellant burnt from the tanks of the stage at work, whatever is strapped to it apart [kg]
PX = 8  # three: direction wanted of the thrust in free steering (the primer) [-]
QX = 11  # three: its rate [1/s]
FULL = 14  # time at full throttle, ∫ throttle dt [s]: what is strapped on and throttles burns in proportion
STEERED = 15  # length of the state above
IDEAL, BACK, STEER, DRAG, GRAVITY = 15, 16, 17, 18, 19  # speed gained or lost so far, by cause [m/s]
JET_FUEL = 20  # burnt by jets so far, out of BURNT [kg]
ACCOUNTED = 21  # length of the state when the losses are kept as well

# ── one propulsion segment: engines that burn together, or a coast ───────────────────────────────
THROTTLED_THRUST = 0  # vacuum thrust of the engines that can throttle [N]
THROTTLED_FLOW = 1  # [kg/s]
THROTTLED_EXIT = 2  # exit area [m²]
FIXED_THRUST = 3  # the same of the engines that cannot
FIXED_FLOW = 4
FIXED_EXIT = 5
LEAST_THROTTLE = 6  # [-]
END = 7  # how the segment ends, one of ENDS_*
END_VALUE = 8
END_SINCE = 9  # segment from whose start `BURNT` is counted [-]
DROPPED = 10  # mass let go at the end [kg]
AREA = 11  # reference area for drag [m²]
CURVE = 12  # which drag curve [-]
ATTITUDE = 13  # FOLLOWS_PROGRAM or FOLLOWS_SPEED
PITCH_0, PITCH_RATE, YAW_0, YAW_RATE = 14, 15, 16, 17  # of FOLLOWS_SPEED [rad], [rad/s]
THROTTLED_COUNTED, FIXED_COUNTED = 18, 19  # flow out of the stage's own tanks, the part `BURNT` counts [kg/s]
END_HEIGHT = 20  # … or once it has risen above this height [m], 0: no such end; what is unburnt goes too
BURNING = 21  # 1: engines of the row burn
BESIDE = 22  # 1: engines that are no plain rockets are on (worked out in flight)
SPENT = 23  # 1: nothing burns and nothing waits to be lit (worked out in flight)
SEGMENT_WIDTH = 24

ENDS_AT_TIME = 0  # END_VALUE seconds after the segment began
ENDS_AT_BURNT = 1  # END_VALUE kg burnt by the throttled engines since segment END_SINCE began
ENDS_AT_HEIGHT = 2  # END_VALUE metres above the ellipsoid, rising
ENDS_WITH_GROUP = 3  # when the group END_VALUE is out
ENDS_AT_APEX = 4  # no longer climbing

FOLLOWS_PROGRAM = 0  # vertical, tilt, hold, zero-lift turn, free
FOLLOWS_SPEED = 1  # pitch and yaw off the inertial speed, linear in time

# ── a mass let go apart from the segments' ends ──────────────────────────────────────────────────
LET_GO_MASS = 0  # [kg]
LET_GO_WHEN = 1  # one of WHEN_*
LET_GO_VALUE = 2
LET_GO_SEGMENT = 3  # segment from whose start WHEN_TIME counts
LET_GO_COVERS = 4  # 1 where the payload lies bare once it is gone
LET_GO_WIDTH = 5

WHEN_HEATING = 0  # free-molecular heating ½ρv³ has fallen below the value [W/m²]
WHEN_HEIGHT = 1  # height has risen above the value [m]
WHEN_TIME = 2  # value seconds after the segment began

# ── steering program and limits ──────────────────────────────────────────────────────────────────
RISE_HEIGHT = 0  # vertical up to this height [m]
TILT = 1  # angle from the vertical to tilt to [rad]
TILT_RATE = 2  # [rad/s]
AZIMUTH = 3  # heading of the tilt, from north over east [rad]
FREE_HEIGHT = 4  # free steering begins above this height at the latest [m]
OFF_PITCH, OFF_YAW = 5, 6  # first free direction, off the air speed [rad]
RATE_ALONG, RATE_UP, RATE_SIDE = 7, 8, 9  # rate of the primer along, up from and beside it [1/s]
ROUND = 10  # 1: primer follows the round Earth's gravity; 0: linear-tangent law
ACCELERATION_LIMIT = 11  # felt [m/s²]
PRESSURE_LIMIT = 12  # dynamic [Pa]
TOLERANCE = 13  # relative, of the integrator
LONGEST_STEP = 14  # [s]
FREE_PRESSURE = 15  # … or once the dynamic pressure has fallen to this [Pa]
TILT_FROM = 16  # angle from the vertical at the start, launched from the air; 0: from the pad [rad]
LEAD = 17  # attitude steeper than the tilt by this, to pull up; 0 from the pad [rad]
CONTROL_WIDTH = 18

# ── what the pilot keeps in mind during a flight (mode) ──────────────────────────────────────────
PHASE = 0  # one of PHASES
SEGMENT_START = 1  # time [s]
TILT_START = 2  # time [s]
THROTTLE_MODE = 3  # one of THROTTLE_*
MODE_ACCELERATION_LIMIT = 4
MODE_PRESSURE_LIMIT = 5
MODE_TILT, MODE_TILT_RATE, MODE_SIN_AZIMUTH, MODE_COS_AZIMUTH = 6, 7, 8, 9
MODE_ROUND = 10
MODE_PRESSED = 11  # 1 once the dynamic pressure has been above FREE_PRESSURE
MODE_TILT_FROM = 12  # angle from the vertical the tilt begins at [rad]
MODE_SEGMENT = 13  # which segment it is in
MODE_HELD = 14  # angle from the vertical that is held until the path has the tilt [rad]
SEEN = 15  # from here on what is seen: `motion.rates`; in one array, for each that is handed over costs time
SEEN_WIDTH = 14
MODE_WIDTH = SEEN + SEEN_WIDTH

# whether it is worked out (floats, for numba compiles anew for each literal whole number)
LOOK, AWAY = 1.0, 0.0

VERTICAL, TILTING, HOLDING, ZERO_LIFT, FREE = range(5)
PHASES = ("vertical rise", "tilt", "hold", "zero-lift turn", "free steering")

THROTTLE_FULL, THROTTLE_FOR_ACCELERATION, THROTTLE_FOR_PRESSURE = range(3)

# ── one row of a recorded flight ─────────────────────────────────────────────────────────────────
ROW_TIME, ROW_SEGMENT, ROW_PHASE, ROW_THROTTLE, ROW_EVENT, ROW_EVENT_INDEX = range(6)
ROW_DIRECTION = 6  # three: unit vector of the thrust
ROW_STATE = 9  # then the state with the losses
ROW_THRUST = ROW_STATE + ACCOUNTED  # [N]
ROW_DRAG = ROW_THRUST + 1  # [N]
ROW_BURNING = ROW_THRUST + 2
ROW_SHED = ROW_THRUST + 3  # mass let go at the event of the row [kg]
ROW_EXPOSED = ROW_THRUST + 4  # 1 once a piece that covers the payload is gone
ROW_FELT_BEFORE = ROW_THRUST + 5  # felt acceleration just before the event of the row, 0 without one [m/s²]
ROW_WIDTH = ROW_THRUST + 6

# ── steps of a flight, kept so that a flight beside it can take the same ones ─────────────────────
STEP_STRETCH, STEP_KIND, STEP_SIZE = range(3)  # stretch between events; one of STEP_*; [s]
STEP_WIDTH = 3
STEP_OPEN, STEP_HALF, STEP_REACHING = range(3)  # of its own size, half the way to a timed event, all of it

# ── events ───────────────────────────────────────────────────────────────────────────────────────
(
    NO_EVENT,
    LIFT_OFF,
    TILT_BEGINS,
    TILT_ENDS,
    TURN_BEGINS,
    FREE_BEGINS,
    SEGMENT_ENDS,
    LET_GO,
    LIMIT_CHANGES,
    FLIGHT_ENDS,
    GROUP_LIT,
    GROUP_OUT,
    GROUP_LET_GO,
) = range(13)

# ── summary of a flight ──────────────────────────────────────────────────────────────────────────
(
    GREATEST_PRESSURE,
    GREATEST_FELT,
    GREATEST_Q_ALPHA,
    SWITCH_Q_ALPHA,
    LOWEST_AFTER_TURN,
    STEPS,
    STATUS,
    GREATEST_HEATING,
    EXPOSED_HEATING,  # since a piece that covers the payload is gone
    RISEN_HEATING,  # the same once it has risen again, 0 where it never did
) = range(10)
SUMMARY_WIDTH = 10

DONE, FELL, TOO_MANY_STEPS = range(3)
