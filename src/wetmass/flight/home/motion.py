"""Equations of motion of a stage on its way down: one leg, compiled."""

from __future__ import annotations

import math

from wetmass.flight.compiled import entrance, inside
from wetmass.flight.home import layout as at
from wetmass.physics.atmosphere import air_kernel
from wetmass.physics.curve import spline_value
from wetmass.physics.earth import AXIS_RATIO_SQUARED, OMEGA, gravity_kernel, height_kernel
from wetmass.physics.heating import SUTTON_GRAVES_EARTH
from wetmass.physics.jets import jet_fuel_kernel, jet_thrust_kernel

SCALE_HEIGHT = 7000.0  # m: of the air between 10 and 60 km, USSA 1976, within 15 %
GLIDE_GAIN = 0.12  # rad of slope per e-fold of dynamic pressure: ours, damps without wasting speed
BANK_GAIN = 2.0  # rad of bank per rad of turn still to go: ours
GLIDE_TIME = 8.0  # s in which a glide comes back to its path; chosen by us, moves the reach by less than 1 %


@inside
def rates(t, began, y, leg, curves, wind, dy, says):
    """Rates of the state `y` (WIDTH,) at time `t` [s] into `dy`; what else is known into `says`.

    began  time the leg began [s]    wind (k, 3)  height [m], wind towards east and north [m/s], rising
    """
    x, yy, z = y[0], y[1], y[2]
    mass = y[at.MASS]
    gx, gy, gz = gravity_kernel(x, yy, z)
    height = height_kernel(x, yy, z)
    warm, pressure, density, sound = air_kernel(max(height, -4000.0))
    nx, ny, nz = x, yy, z * AXIS_RATIO_SQUARED
    size = 1.0 / math.sqrt(nx * nx + ny * ny + nz * nz)
    nx, ny, nz = nx * size, ny * size, nz * size
    sx, sy, sz = y[3] + OMEGA * yy, y[4] - OMEGA * x, y[5]  # over the ground
    climb = sx * nx + sy * ny + sz * nz
    ground_speed = math.sqrt(sx * sx + sy * sy + sz * sz)
    ux, uy, uz = sx, sy, sz  # through the air
    if wind.shape[0] > 0:
        level = 1.0 / math.sqrt(nx * nx + ny * ny)
        east, north = _wind(height, wind)
        ex, ey = -ny * level, nx * level
        ux -= east * ex - north * nz * nx * level
        uy -= east * ey - north * nz * ny * level
        uz -= north / level
    speed = math.sqrt(ux * ux + uy * uy + uz * uz)
    mach = speed / sound
    q = 0.5 * density * speed * speed
    ax, ay, az = -nx, -ny, -nz
    if speed > 1e-3:
        ax, ay, az = ux / speed, uy / speed, uz / speed

    drag_area = 0.0
    if leg[at.AREA] > 0.0:
        drag_area = leg[at.AREA] * leg[at.DRAG_SHARE] * spline_value(mach, curves[int(leg[at.CURVE])])
    if leg[at.CHUTE_TO] > 0.0:
        share = 1.0
        if leg[at.CHUTE_TIME] > 0.0:
            share = min(1.0, (t - began) / leg[at.CHUTE_TIME])
        drag_area += leg[at.CHUTE_FROM] + (leg[at.CHUTE_TO] - leg[at.CHUTE_FROM]) * share * share
    drag = q * drag_area
    fx, fy, fz = 0.0, 0.0, 0.0  # forces but weight

    if leg[at.WING] > 0.0 and speed > 1.0:
        along = nx * ax + ny * ay + nz * az  # sine of the path angle
        lx, ly, lz = nx - along * ax, ny - along * ay, nz - along * az
        flat = math.sqrt(lx * lx + ly * ly + lz * lz)
        if flat > 1e-6:
            lx, ly, lz = lx / flat, ly / flat, lz / flat
            wx, wy, wz = ay * lz - az * ly, az * lx - ax * lz, ax * ly - ay * lx  # to the right of the way
            r = math.sqrt(x * x + yy * yy + z * z)
            inertial = y[3] * y[3] + y[4] * y[4] + y[5] * y[5] - ((y[3] * nx + y[4] * ny + y[5] * nz) ** 2)
            pull = math.sqrt(gx * gx + gy * gy + gz * gz) - inertial / r
            # the slope on which the best dynamic pressure keeps while the speed falls in air of one scale
            # height; flatter or climbing above that pressure, steeper below it
            fast = math.log(max(q, 1e-3) * leg[at.WING] * leg[at.WING_BEST] / (mass * pull))
            slowing = 1.0 + speed * speed / (2.0 * pull * SCALE_HEIGHT)
            wanted = -math.atan(1.0 / leg[at.LIFT_TO_DRAG]) / slowing
            wanted += max(-0.2, min(0.2, GLIDE_GAIN * fast))
            back = speed * (math.asin(max(-1.0, min(1.0, along))) - wanted) / GLIDE_TIME
            most = min(leg[at.WING_MOST] * q * leg[at.WING], leg[at.LOAD] * mass)
            upward, bank = mass * (pull * flat - back), 0.0
            if leg[at.BANK] > 0.0:  # what lift the path upward leaves is there to turn with
                room = math.acos(max(0.0, min(1.0, upward / max(most, 1e-9))))
                bank = _turn(t, x, yy, z, sx, sy, sz, nx, ny, nz, leg)
                bank = max(-min(room, leg[at.BANK]), min(BANK_GAIN * bank, min(room, leg[at.BANK])))
            lift = max(0.0, min(upward / math.cos(bank), most))
            coefficient = lift / max(q * leg[at.WING], 1e-9)
            best = leg[at.WING_BEST]
            induced = 0.5 / leg[at.LIFT_TO_DRAG] * (best + coefficient * coefficient / best)
            drag += q * leg[at.WING] * induced
            c, s = lift * math.cos(bank), lift * math.sin(bank)
            fx, fy, fz = c * lx + s * wx, c * ly + s * wy, c * lz + s * wz
    fx, fy, fz = fx - drag * ax, fy - drag * ay, fz - drag * az

    thrust, flow, ideal = 0.0, 0.0, 0.0
    if leg[at.THRUST] > 0.0:
        thrust = leg[at.THROTTLE] * (leg[at.THRUST] - pressure * leg[at.EXIT])
        flow = leg[at.THROTTLE] * leg[at.FLOW]
        ideal = leg[at.THROTTLE] * leg[at.THRUST] / mass
    if leg[at.JET_THRUST] > 0.0:
        up = 1.0
        if leg[at.JET_TIME] > 0.0:
            up = 1.0 - math.exp(-max(t - began, 0.0) / leg[at.JET_TIME])
        slow = min(mach, 0.9)
        push = max(0.0, jet_thrust_kernel(leg[at.JET_THRUST], leg[at.JET_SPEED], slow, pressure, warm))
        thrust += up * push
        ideal += up * push / mass
        flow += up * jet_fuel_kernel(leg[at.JET_FUEL], slow, pressure, warm)
    if thrust > 0.0:
        tx, ty, tz = nx, ny, nz
        if leg[at.AIM] == at.AGAINST:
            if ground_speed > 1e-3:
                tx, ty, tz = -sx / ground_speed, -sy / ground_speed, -sz / ground_speed
        elif leg[at.AIM] == at.FIXED:
            tx, ty, tz = leg[at.AIM_X], leg[at.AIM_Y], leg[at.AIM_Z]
        elif leg[at.AIM] == at.BACKWARD:
            fast = 1.0 / math.sqrt(y[3] * y[3] + y[4] * y[4] + y[5] * y[5])
            tx, ty, tz = -y[3] * fast, -y[4] * fast, -y[5] * fast
        fx, fy, fz = fx + thrust * tx, fy + thrust * ty, fz + thrust * tz

    dy[0], dy[1], dy[2] = y[3], y[4], y[5]
    dy[3], dy[4], dy[5] = gx + fx / mass, gy + fy / mass, gz + fz / mass
    dy[at.MASS] = -flow
    heating = SUTTON_GRAVES_EARTH * math.sqrt(density / max(leg[at.NOSE], 1e-3)) * speed**3
    dy[at.HEAT], dy[at.SPENT] = heating, ideal

    says[at.SAYS_FELT] = math.sqrt(fx * fx + fy * fy + fz * fz) / mass
    says[at.SAYS_PRESSURE], says[at.SAYS_AIR_SPEED], says[at.SAYS_HEIGHT] = q, speed, height
    says[at.SAYS_MACH], says[at.SAYS_CLIMB], says[at.SAYS_GROUND_SPEED] = mach, climb, ground_speed
    says[at.SAYS_THRUST], says[at.SAYS_DRAG], says[at.SAYS_HEATING] = thrust, drag, heating


@entrance
def rates_seen(t, began, y, leg, curves, wind, dy, says):
    """As `rates`, from Python."""
    rates(t, began, y, leg, curves, wind, dy, says)


@inside
def _turn(t, x, y, z, sx, sy, sz, nx, ny, nz, leg):
    """Turn to the place steered to [rad], to the right above zero."""
    c, s = math.cos(OMEGA * t), math.sin(OMEGA * t)
    px = c * leg[at.TO_X] - s * leg[at.TO_Y] - x
    py, pz = s * leg[at.TO_X] + c * leg[at.TO_Y] - y, leg[at.TO_Z] - z
    left = (sy * pz - sz * py) * nx + (sz * px - sx * pz) * ny + (sx * py - sy * px) * nz
    up, rise = px * nx + py * ny + pz * nz, sx * nx + sy * ny + sz * nz
    return -math.atan2(left, px * sx + py * sy + pz * sz - up * rise)


@inside
def _wind(height, wind):
    """Wind towards east and north [m/s] at a height, straight between the rows, steady beyond them."""
    last = wind.shape[0] - 1
    if height <= wind[0, 0]:
        return wind[0, 1], wind[0, 2]
    for i in range(last):
        if height < wind[i + 1, 0]:
            share = (height - wind[i, 0]) / (wind[i + 1, 0] - wind[i, 0])
            return (
                wind[i, 1] + share * (wind[i + 1, 1] - wind[i, 1]),
                wind[i, 2] + share * (wind[i + 1, 2] - wind[i, 2]),
            )
    return wind[last, 1], wind[last, 2]
