"""Equations of motion: a point mass over the rotating, oblate Earth, in air at rest with it."""

from __future__ import annotations

import math

from numba import njit

from wetmass.flight import layout as at
from wetmass.flight.compiled import HOW, entrance, inside
from wetmass.flight.groups import beside
from wetmass.physics.atmosphere import air_kernel
from wetmass.physics.curve import spline_value
from wetmass.physics.earth import AXIS_RATIO_SQUARED, GM, OMEGA, gravity_kernel, height_kernel

_STRETCH = 50.0  # m, half of the height over which the fall of the density is read while q is held


@njit(inline="always", **HOW)
def _rates(t, y, segment, mode, curve, groups, traces, dy, n, look):
    """Rates of the state `y` at time `t` [s] into `dy`; the first `n` entries (STEERED or ACCOUNTED).

    segment  one propulsion segment as it burns now; mode  what the pilot keeps in mind; curve  drag spline
    table; groups, traces  engines with rules of their own (`wetmass.flight.groups`), None without any.
    mode[SEEN:] is written where look is LOOK: throttle, felt acceleration [m/s²], cosine of thrust off air
        speed, dynamic pressure [Pa], air speed [m/s], height [m], felt acceleration at full throttle [m/s²],
        throttle that would keep the limit in force, the three parts of the thrust's direction, Mach number,
        thrust [N], drag [N]
    """
    x, yy, z = y[0], y[1], y[2]
    vx, vy, vz = y[3], y[4], y[5]
    mass = y[6]
    gx, gy, gz = gravity_kernel(x, yy, z)
    height = height_kernel(x, yy, z)
    warm, pressure, density, sound = air_kernel(max(height, -1000.0))
    ux, uy, uz = vx + OMEGA * yy, vy - OMEGA * x, vz  # speed through the air
    speed = math.sqrt(ux * ux + uy * uy + uz * uz)
    q = 0.5 * density * speed * speed
    drag = 0.0
    if density > 0.0 and segment[at.AREA] > 0.0:
        drag = q * segment[at.AREA] * spline_value(speed / sound, curve)

    # the direction of the air speed; straight up while standing still
    phase, throttle_mode = mode[at.PHASE], mode[at.THROTTLE_MODE]
    nx, ny, nz = 0.0, 0.0, 0.0
    if phase < at.ZERO_LIFT or throttle_mode == at.THROTTLE_FOR_PRESSURE or speed <= 1e-3:
        nx, ny, nz = x, yy, z * AXIS_RATIO_SQUARED
        normal = 1.0 / math.sqrt(nx * nx + ny * ny + nz * nz)
        nx, ny, nz = nx * normal, ny * normal, nz * normal
    ax, ay, az = nx, ny, nz
    if speed > 1e-3:
        one = 1.0 / speed
        ax, ay, az = ux * one, uy * one, uz * one

    tx, ty, tz = ax, ay, az
    if segment[at.BURNING] > 0.0:
        if segment[at.ATTITUDE] == at.FOLLOWS_SPEED:
            tx, ty, tz = _off_the_speed(t, y, segment, mode)
        elif phase == at.FREE:
            size = 1.0 / math.sqrt(y[8] * y[8] + y[9] * y[9] + y[10] * y[10])
            tx, ty, tz = y[8] * size, y[9] * size, y[10] * size
        elif phase == at.VERTICAL:
            tx, ty, tz = nx, ny, nz
        elif phase != at.ZERO_LIFT:
            tx, ty, tz = _tilted(t, mode, nx, ny, nz)
    along = tx * ax + ty * ay + tz * az

    full = segment[at.THROTTLED_THRUST] - pressure * segment[at.THROTTLED_EXIT]
    fixed = segment[at.FIXED_THRUST] - pressure * segment[at.FIXED_EXIT]
    fixed_vacuum, fixed_flow = segment[at.FIXED_THRUST], segment[at.FIXED_FLOW]
    counted, fuel = segment[at.FIXED_COUNTED], 0.0
    if groups is not None:  # noqa: SIM102  (decided as it is compiled: without groups nothing of this is)
        if segment[at.BESIDE] > 0.0:
            more, more_vacuum, flow, own, fuel, off, gained = beside(
                t, mode[at.MODE_SEGMENT], groups, traces, speed / sound, pressure, warm, q
            )
            full += gained
            fixed += more
            fixed_vacuum += more_vacuum
            fixed_flow += flow
            counted += own
            drag += off
    felt_full = (full + fixed - drag * along) / mass
    throttle, needed = 1.0, 1.0
    if throttle_mode != at.THROTTLE_FULL and full > 0.0:
        throttle = (mode[at.MODE_ACCELERATION_LIMIT] * mass + drag * along - fixed) / full
        if throttle_mode == at.THROTTLE_FOR_PRESSURE:
            # hold ½ρV²: its rate is −(q − limit)/(3 s), by the density's fall with height
            # over a stretch of height: between two layers of air the fall jumps, and a jump has no slope
            above = air_kernel(height + _STRETCH)[2]
            below = air_kernel(height - _STRETCH)[2]
            climb = ux * nx + uy * ny + uz * nz
            fall = (math.log(above) - math.log(below)) / (2.0 * _STRETCH)
            pull = ax * gx + ay * gy + az * gz + OMEGA * OMEGA * (x * ax + yy * ay)
            wanted = -0.5 * speed * fall * climb - speed * (q / mode[at.MODE_PRESSURE_LIMIT] - 1.0) / 6.0
            throttle = min(throttle, ((mass * (wanted - pull) + drag) / along - fixed) / full)
        needed = throttle
        throttle = min(1.0, max(segment[at.LEAST_THROTTLE], throttle))
    thrust = fixed + throttle * full
    push, held = thrust / mass, drag / mass

    dy[0], dy[1], dy[2] = vx, vy, vz
    dy[3] = gx + push * tx - held * ax
    dy[4] = gy + push * ty - held * ay
    dy[5] = gz + push * tz - held * az
    dy[6] = -fixed_flow - throttle * segment[at.THROTTLED_FLOW]
    dy[7] = counted + throttle * segment[at.THROTTLED_COUNTED]
    dy[at.FULL] = throttle
    if phase == at.FREE:
        r2 = x * x + yy * yy + z * z
        pull = mode[at.MODE_ROUND] * GM / (r2 * math.sqrt(r2))
        inner = 3.0 * (y[8] * x + y[9] * yy + y[10] * z) / r2
        dy[8], dy[9], dy[10] = y[11], y[12], y[13]
        dy[11] = pull * (inner * x - y[8])
        dy[12] = pull * (inner * yy - y[9])
        dy[13] = pull * (inner * z - y[10])
    else:
        for i in range(8, 14):
            dy[i] = 0.0
    if n == at.ACCOUNTED:
        vacuum = fixed_vacuum + throttle * segment[at.THROTTLED_THRUST]
        dy[at.JET_FUEL] = fuel
        dy[at.IDEAL] = vacuum / mass
        dy[at.BACK] = (vacuum - thrust) / mass
        dy[at.STEER] = push * (1.0 - along)
        dy[at.DRAG] = held
        dy[at.GRAVITY] = -(ax * gx + ay * gy + az * gz + OMEGA * OMEGA * (x * ax + yy * ay))
    if look > 0.0:
        mode[at.SEEN] = throttle
        mode[at.SEEN + 1] = math.sqrt(
            (push - held * along) ** 2 + held * held * max(0.0, 1.0 - along * along)
        )
        mode[at.SEEN + 2], mode[at.SEEN + 3], mode[at.SEEN + 4] = along, q, speed
        mode[at.SEEN + 5], mode[at.SEEN + 6], mode[at.SEEN + 7] = height, felt_full, needed
        mode[at.SEEN + 8], mode[at.SEEN + 9], mode[at.SEEN + 10] = tx, ty, tz
        mode[at.SEEN + 11], mode[at.SEEN + 12], mode[at.SEEN + 13] = speed / sound, thrust, drag


@inside
def rates(t, y, segment, mode, curve, groups, traces, dy, n, look):
    """As `_rates`."""
    _rates(t, y, segment, mode, curve, groups, traces, dy, n, look)


@inside
def only_rates(t, y, segment, mode, curve, groups, traces, dy, n):
    """As `rates`, never looking: compiled a second time, for flights by the clock, which do little else."""
    _rates(t, y, segment, mode, curve, groups, traces, dy, n, at.AWAY)


@entrance
def rates_seen(t, y, segment, mode, curve, groups, traces, dy, n):
    """As `rates`, from Python."""
    rates(t, y, segment, mode, curve, groups, traces, dy, n, at.LOOK)


@inside
def _off_the_speed(t, y, segment, mode):
    """Unit vector of the thrust in a second burn: off the inertial speed, linear in time."""
    since = t - mode[at.SEGMENT_START]
    axes = frame(y[0], y[1], y[2], y[3], y[4], y[5])
    pitch = segment[at.PITCH_0] + segment[at.PITCH_RATE] * since
    return turned(axes, pitch, segment[at.YAW_0] + segment[at.YAW_RATE] * since)


@inside
def _tilted(t, mode, nx, ny, nz):
    """Unit vector of the thrust while it tilts and holds the tilt."""
    phase = mode[at.PHASE]
    tilt = mode[at.MODE_HELD]
    if phase == at.TILTING:
        turn = mode[at.MODE_TILT_RATE] * (t - mode[at.TILT_START])
        begin = mode[at.MODE_TILT_FROM]
        tilt = min(tilt, begin + turn) if tilt > begin else max(tilt, begin - turn)
    level = 1.0 / math.sqrt(nx * nx + ny * ny)
    ex, ey = -ny * level, nx * level  # east
    north, east = mode[at.MODE_COS_AZIMUTH], mode[at.MODE_SIN_AZIMUTH]
    hx = -north * nz * nx * level + east * ex
    hy = -north * nz * ny * level + east * ey
    hz = north / level
    c, s = math.cos(tilt), math.sin(tilt)
    return c * nx + s * hx, c * ny + s * hy, c * nz + s * hz


@inside
def frame(x, y, z, vx, vy, vz):
    """Unit vectors along a speed, outward from the Earth across it, and beside it (left of the speed)."""
    size = 1.0 / math.sqrt(vx * vx + vy * vy + vz * vz)
    fx, fy, fz = vx * size, vy * size, vz * size
    wx, wy, wz = y * fz - z * fy, z * fx - x * fz, x * fy - y * fx
    size = 1.0 / math.sqrt(wx * wx + wy * wy + wz * wz)
    wx, wy, wz = wx * size, wy * size, wz * size
    return fx, fy, fz, fy * wz - fz * wy, fz * wx - fx * wz, fx * wy - fy * wx, wx, wy, wz


@inside
def air_frame(y):
    """`frame` of the speed through the air."""
    return frame(y[0], y[1], y[2], y[3] + OMEGA * y[1], y[4] - OMEGA * y[0], y[5])


@entrance
def angle_from_vertical(y):
    """Angle between the speed through the air and the vertical [rad]."""
    nx, ny, nz = y[0], y[1], y[2] * AXIS_RATIO_SQUARED
    ux, uy, uz = y[3] + OMEGA * y[1], y[4] - OMEGA * y[0], y[5]
    size = math.sqrt((nx * nx + ny * ny + nz * nz) * (ux * ux + uy * uy + uz * uz))
    return math.acos(min(1.0, max(-1.0, (nx * ux + ny * uy + nz * uz) / size)))


@inside
def falling(y):
    """Speed downwards through the air [m/s]."""
    nx, ny, nz = y[0], y[1], y[2] * AXIS_RATIO_SQUARED
    size = math.sqrt(nx * nx + ny * ny + nz * nz)
    return -(nx * (y[3] + OMEGA * y[1]) + ny * (y[4] - OMEGA * y[0]) + nz * y[5]) / size


@inside
def turned(axes, pitch, yaw):
    """Unit vector `pitch` above and `yaw` left of the first of `axes` (as `frame` gives them) [rad]."""
    fx, fy, fz, ox, oy, oz, wx, wy, wz = axes
    cp, sp, cy, sy = math.cos(pitch), math.sin(pitch), math.cos(yaw), math.sin(yaw)
    return (
        cy * (cp * fx + sp * ox) + sy * wx,
        cy * (cp * fy + sp * oy) + sy * wy,
        cy * (cp * fz + sp * oz) + sy * wz,
    )
