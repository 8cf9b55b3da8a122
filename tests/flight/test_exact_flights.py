"""The compiled flight against exact solutions, integrals of motion and the order of its integrator."""

import itertools
import math

import ascents
import numpy as np
import pytest
from scipy.integrate import solve_ivp

from wetmass.flight import layout as at
from wetmass.flight.ascent import Ascent, Steering
from wetmass.flight.program import Program, program
from wetmass.physics.earth import EARTH_RADIUS_WGS84, GM, J2, gravity
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.mission import Climb, Limits, Site
from wetmass.record.vehicle import EngineGroup, Propellant, Stage, Vehicle


def burning_straight_up(isp=320.0, thrust=1.6e6, burns=70e3, dry=10e3):
    """A stage without air drag or back-pressure."""
    engines = (EngineGroup("engine", 1, thrust, 0.0, isp),)
    one = Stage("only", dry, Propellant("LOX/RP-1", 2.5, burns), engines, 3.0, 0.0, ascents.DRAG)
    return Vehicle("straight up", (one,), 0.0)


def climbing(vehicle, latitude):
    site = Site(latitude, 0.0, 0.0)
    return Ascent(
        site, Climb(1e6), Limits(), Steering(), lambda _: vehicle, (), lambda v, t: ([], []), lambda v, t: 0.0
    )


def test_a_vertical_burn_at_the_pole_is_that_of_one_dimension():
    # At a pole the Earth's turning carries nothing sideways: z'' = F/m(t) − g(z), with m(t) known;
    # integrated here in one dimension to 1e-13 by scipy; 1e-11 of the radius is 0.06 mm.
    vehicle = burning_straight_up()
    flown = ascents.flight(climbing(vehicle, math.pi / 2.0), np.zeros(0), tolerance=1e-13)
    flow = 1.6e6 / (320.0 * STANDARD_GRAVITY)
    duration = 70e3 / flow

    def rates(t, y):
        return [y[1], 1.6e6 / (80e3 - flow * t) + gravity(0.0, 0.0, y[0])[2]]

    start = [EARTH_RADIUS_WGS84 * (1.0 - 1.0 / 298.257223563), 0.0]
    z, v = solve_ivp(rates, (0.0, duration), start, method="DOP853", rtol=1e-13, atol=1e-9).y[:, -1]
    assert flown.time == pytest.approx(duration, rel=1e-13)
    assert flown.state[2] == pytest.approx(z, rel=1e-11)
    assert flown.state[5] == pytest.approx(v, rel=1e-10)


def test_the_ideal_speed_integrated_is_that_of_the_rocket_equation():
    # Tsiolkovsky: c·ln(m₀/m₁), exact for a steady flow whatever the path.
    vehicle = burning_straight_up()
    flown = ascents.flight(climbing(vehicle, 0.3), np.zeros(0), tolerance=1e-12)
    exact = 320.0 * STANDARD_GRAVITY * math.log(80e3 / 10e3)
    assert flown.state[at.IDEAL] == pytest.approx(exact, rel=1e-11)


# ── coasting ─────────────────────────────────────────────────────────────────────────────────────


def coasting(duration):
    """A program that coasts for a time [s], outside the reach of drag."""
    laid = program(burning_straight_up())
    row = np.zeros((1, at.SEGMENT_WIDTH))
    row[0, at.END], row[0, at.END_VALUE] = at.ENDS_AT_TIME, duration
    return Program(row, np.zeros((0, at.LET_GO_WIDTH)), laid.curves, 1000.0, ("coast",), (0,), (False,))


def in_orbit(place, speed, n=at.STEERED):
    y = np.zeros(n)
    y[:3], y[3:6], y[at.MASS] = place, speed, 1000.0
    return y


def coasted(place, speed, duration, **how):
    made = climbing(burning_straight_up(), 0.3)
    start = in_orbit(place, speed)
    return ascents.flight(made, np.zeros(0), laid=coasting(duration), start=start, n=at.STEERED, **how)


def test_a_circle_over_the_equator_keeps_the_exact_rate_of_the_oblate_earth():
    # On the equator J2 only strengthens the pull: a circle with n² = GM/r³·(1 + 3/2·J2·(a/r)²) is an exact
    # solution.
    r = EARTH_RADIUS_WGS84 + 300e3
    rate = math.sqrt(GM / r**3 * (1.0 + 1.5 * J2 * (EARTH_RADIUS_WGS84 / r) ** 2))
    duration = 20_000.0  # 3.7 turns
    flown = coasted([r, 0.0, 0.0], [0.0, r * rate, 0.0], duration, tolerance=1e-12)
    angle = rate * duration
    exact = np.array([r * math.cos(angle), r * math.sin(angle), 0.0])
    assert (
        np.linalg.norm(flown.state[:3] - exact) / r < 1e-10
    )  # 0.7 mm after 27,000 km at a tolerance of 1e-12 a step


def energy(y):
    r = float(np.linalg.norm(y[:3]))
    sine2 = (y[2] / r) ** 2
    return 0.5 * float(y[3:6] @ y[3:6]) - GM / r * (
        1.0 - J2 * (EARTH_RADIUS_WGS84 / r) ** 2 * (3.0 * sine2 - 1.0) / 2.0
    )


def test_energy_and_the_spin_about_the_axis_stand_still_in_a_coast():
    # Both are integrals of motion round a body of revolution.  1e-12 is what the project asks of a coast.
    tilt = math.radians(63.0)
    place, speed = [6700e3, 0.0, 0.0], [0.0, 9200.0 * math.cos(tilt), 9200.0 * math.sin(tilt)]
    flown = coasted(place, speed, 15_000.0, tolerance=1e-13)
    start = in_orbit(place, speed)
    assert energy(flown.state) == pytest.approx(energy(start), rel=1e-12)
    spin = [y[0] * y[4] - y[1] * y[3] for y in (start, flown.state)]
    assert spin[1] == pytest.approx(spin[0], rel=1e-12)


def test_halving_the_step_divides_the_error_by_two_to_the_eighth():
    # Order 8 (Hairer, Nørsett and Wanner, II.5).  Steps are prescribed, half as long each time; the
    # observed order of three halvings must be 8 within 0.4 (the next term of the error is not yet nothing).
    tilt = math.radians(40.0)
    place, speed = [6800e3, 0.0, 0.0], [0.0, 8000.0 * math.cos(tilt), 8000.0 * math.sin(tilt)]
    duration = 6000.0
    reference = coasted(place, speed, duration, tolerance=1e-14, longest=50.0).state
    errors = []
    for count in (16, 32, 64):
        steps = np.zeros((count + 1, at.STEP_WIDTH))
        steps[:count, at.STEP_SIZE] = duration / count
        steps[count - 1, at.STEP_KIND] = at.STEP_REACHING
        steps[count, at.STEP_STRETCH] = 1e9
        flown = coasted(place, speed, duration, replay=steps)
        assert flown.summary[at.STEPS] == count
        errors.append(np.linalg.norm(flown.state[:3] - reference[:3]))
    orders = [math.log2(one / other) for one, other in itertools.pairwise(errors)]
    assert orders[-1] == pytest.approx(8.0, abs=0.4), (orders, errors)
