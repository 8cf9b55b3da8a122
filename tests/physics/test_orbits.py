"""Orbits against published worked examples, an independent integrator, and conservation laws."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from worked_cases import inputs, published

from wetmass.physics import earth, orbits

# Braeunig's Earth in his problems: GM 398 600.5 km³/s², radius 6378.14 km
BRAEUNIG_GM, BRAEUNIG_RADIUS = 398_600.5e9, 6_378_140.0


def test_circular_speed_and_period_match_braeunig_4_1_and_4_2():
    case = inputs("orbit-01")
    radius = BRAEUNIG_RADIUS + case["altitude"] * 1e3
    assert orbits.circular_speed(radius, BRAEUNIG_GM) == published("orbit-01", "v", figures=4)
    assert orbits.period(radius, BRAEUNIG_GM) == published("orbit-02", "T", figures=4)


def test_synchronous_radius_matches_braeunig_4_3():
    found = orbits.axis_of_period(inputs("orbit-03")["T"], BRAEUNIG_GM)
    assert found == pytest.approx(42_164_170.0, abs=60.0)  # his period is rounded to 0.1 s: 33 m
    assert found == published("orbit-03", "r", figures=6)


def test_speeds_of_an_ellipse_match_braeunig_4_4():
    case = inputs("orbit-04")
    low, high = (BRAEUNIG_RADIUS + case[name] * 1e3 for name in ("perigee alt", "apogee alt"))
    assert orbits.orbit_speed(low, low, high, BRAEUNIG_GM) == published("orbit-04", "vp", figures=4)
    assert orbits.orbit_speed(high, low, high, BRAEUNIG_GM) == published("orbit-04", "va", figures=4)


def test_apogee_and_eccentricity_match_braeunig_4_5_and_4_6():
    case = inputs("orbit-05")
    place = (BRAEUNIG_RADIUS + case["perigee alt"] * 1e3, 0.0, 0.0)
    found = orbits.elements(place, (0.0, case["vp"], 0.0), BRAEUNIG_GM)
    assert found.apogee_radius == published("orbit-05", "ra", figures=6)
    assert found.eccentricity == published("orbit-05", "e", figures=4)


def test_hohmann_transfer_matches_braeunig_4_19():
    case = inputs("hohmann-01")
    first = orbits.hohmann_first(case["r1"], case["r2"], BRAEUNIG_GM)
    second = orbits.hohmann_second(case["r1"], case["r2"], BRAEUNIG_GM)
    assert first == published("hohmann-01", "dvA", figures=4)
    # 1478 there is 3075 − 1597 of speeds each rounded to 1 m/s
    assert second == pytest.approx(1478.0, abs=1.0)
    assert first + second == pytest.approx(3933.0, abs=1.5)


def test_energy_of_a_low_orbit_matches_akin():
    # D. L. Akin, ENAE 791, course overview, slide 2: two figures
    case = inputs("energy-01")
    speed = orbits.circular_speed(earth.EARTH_RADIUS_WGS84 + case["altitude"] * 1e3)
    assert speed == published("energy-01", "v", figures=4)
    assert speed**2 / 2.0 == published("energy-01", "KE", figures=2)


def test_sun_synchronous_inclination_as_published():
    # Wikipedia, "Sun-synchronous orbit": 98.7° for a = 7200 km; none above a = 12 352 km, where it is 180°
    assert math.degrees(orbits.sun_synchronous_inclination(7200e3)) == pytest.approx(98.7, abs=0.05)
    assert (
        math.degrees(orbits.sun_synchronous_inclination(12_351e3)) > 175.0
    )  # steep: 1 km is several degrees
    with pytest.raises(ValueError, match="semi_major_axis must be low enough"):
        orbits.sun_synchronous_inclination(12_353e3)


# ── second ways ──────────────────────────────────────────────────────────────────────────────────


_VECTOR = st.tuples(*[st.floats(-1e7, 1e7)] * 3)
_SPEED = st.tuples(*[st.floats(-9e3, 9e3)] * 3)


@given(place=_VECTOR, velocity=_SPEED, duration=st.floats(-3e4, 3e4))
def test_motion_keeps_energy_and_momentum_and_can_be_undone(place, velocity, duration):
    assume(math.hypot(*place) > 6e6)
    momentum = np.cross(place, velocity)
    assume(np.linalg.norm(momentum) > 1e10)  # perigee above a few hundred km from the centre
    there, moving = orbits.propagated(place, velocity, duration)
    r = math.hypot(*there)
    energy = np.dot(velocity, velocity) / 2.0 - earth.GM / math.hypot(*place)
    # rounding of the larger of the two terms at the place that is nearer the centre
    scale = earth.GM / min(r, math.hypot(*place))
    assert np.dot(moving, moving) / 2.0 - earth.GM / r == pytest.approx(energy, abs=1e-9 * scale)
    assert np.cross(there, moving) == pytest.approx(momentum, abs=1e-10 * np.linalg.norm(momentum) + 1e2)
    back, speed = orbits.propagated(there, moving, -duration)
    assert back == pytest.approx(place, abs=1e-2)  # of 1e7 m, through a sharp perigee
    assert speed == pytest.approx(velocity, abs=1e-4)


@pytest.mark.parametrize(
    ("place", "velocity", "duration"),
    [
        ((7e6, 0.0, 0.0), (0.0, 7546.0, 0.0), 20_000.0),
        ((7e6, 1e6, -2e6), (1500.0, 8800.0, 2000.0), 9_000.0),
        ((7e6, 0.0, 0.0), (0.0, math.sqrt(2.0 * earth.GM / 7e6), 0.0), 8_000.0),  # a parabola
        ((7e6, 0.0, 1e6), (-3000.0, 11_800.0, 100.0), 12_000.0),  # a hyperbola
    ],
)
def test_motion_agrees_with_a_numerical_integrator(place, velocity, duration):
    from scipy.integrate import solve_ivp

    def pull(t, y):
        return [*y[3:], *(-earth.GM * y[:3] / np.linalg.norm(y[:3]) ** 3)]

    answer = solve_ivp(pull, (0.0, duration), [*place, *velocity], method="DOP853", rtol=1e-13, atol=1e-8).y[
        :, -1
    ]
    there, moving = orbits.propagated(place, velocity, duration)
    assert there == pytest.approx(answer[:3], abs=0.01)  # the integrator: 1e-9 of 1e7 m
    assert moving == pytest.approx(answer[3:], abs=1e-5)


@given(place=_VECTOR, velocity=_SPEED)
def test_elements_and_their_kernel_agree(place, velocity):
    assume(math.hypot(*place) > 6e6 and np.linalg.norm(np.cross(place, velocity)) > 1e10)
    found = orbits.elements(place, velocity)
    perigee, apogee, inclination, eccentricity = orbits.orbit_kernel(*place, *velocity)
    assert perigee == pytest.approx(found.perigee_radius, rel=1e-12)
    assert inclination == pytest.approx(found.inclination, abs=1e-12)
    assert eccentricity == pytest.approx(found.eccentricity, abs=1e-12)
    if found.eccentricity < 0.999:
        assert apogee == pytest.approx(found.apogee_radius, rel=1e-12)
        assert found.semi_major_axis == pytest.approx(0.5 * (perigee + apogee), rel=1e-8)
    # the place is on the conic
    parameter = perigee * (1.0 + eccentricity)
    conic = parameter / (1.0 + eccentricity * math.cos(found.true_anomaly))
    assert conic == pytest.approx(math.hypot(*place), rel=1e-6)


def test_node_and_perigee_of_a_known_orbit():
    # built by turning a perigee state through argument, inclination and node
    a, e, i, node, argument = 2e7, 0.6, 1.1, 2.2, 5.1
    perigee = a * (1 - e)
    speed = orbits.orbit_speed(perigee, perigee, a * (1 + e))
    c, s = math.cos, math.sin
    along = np.array(
        [
            c(node) * c(argument) - s(node) * s(argument) * c(i),
            s(node) * c(argument) + c(node) * s(argument) * c(i),
            s(argument) * s(i),
        ]
    )
    across = np.array(
        [
            -c(node) * s(argument) - s(node) * c(argument) * c(i),
            -s(node) * s(argument) + c(node) * c(argument) * c(i),
            c(argument) * s(i),
        ]
    )
    found = orbits.elements(tuple(along * perigee), tuple(across * speed))
    assert (found.semi_major_axis, found.eccentricity) == pytest.approx((a, e), rel=1e-12)
    assert (found.inclination, found.node, found.perigee_argument) == pytest.approx(
        (i, node, argument), abs=1e-12
    )
    assert math.sin(found.true_anomaly) == pytest.approx(0.0, abs=1e-12)
    assert found.perigee_height == pytest.approx(perigee - 6_378_137.0)


def test_the_node_drifts_as_the_bulge_makes_it():
    # ten turns in the J2 field by DOP853; the first-order rate holds to second order, J2² ~ 1e-3 of it
    from scipy.integrate import solve_ivp

    a, i = 7.2e6, 1.0
    speed = orbits.circular_speed(a)
    start = [a, 0.0, 0.0, 0.0, speed * math.cos(i), speed * math.sin(i)]
    duration = 10.0 * orbits.period(a)

    def pull(t, y):
        return [*y[3:], *earth.gravity_kernel(*y[:3])]

    answer = solve_ivp(pull, (0.0, duration), start, method="DOP853", rtol=1e-11, atol=1e-6).y[:, -1]
    drift = orbits.elements(tuple(answer[:3]), tuple(answer[3:])).node
    drift = (drift + math.pi) % math.tau - math.pi
    assert drift / duration == pytest.approx(orbits.node_drift(a, 0.0, i), rel=0.01)


# ── launch ───────────────────────────────────────────────────────────────────────────────────────


@given(latitude=st.floats(-1.2, 1.2), heading=st.floats(-3.1, 3.1))
def test_azimuth_undoes_inclination(latitude, heading):
    inclination = orbits.inclination_of_heading(latitude, heading)
    found = orbits.launch_azimuth(latitude, inclination)
    # north- or southbound: both have this sine
    assert math.sin(found) == pytest.approx(math.sin(heading), abs=1e-7)  # asin near due east


def test_a_launch_over_turning_ground_adds_up():
    azimuth, speed, ground = 0.4, 7800.0, 450.0
    over, heading = orbits.ground_speed(azimuth, speed, ground), orbits.ground_azimuth(azimuth, speed, ground)
    assert over * math.sin(heading) + ground == pytest.approx(speed * math.sin(azimuth))
    assert over * math.cos(heading) == pytest.approx(speed * math.cos(azimuth))


def test_reachable_inclinations():
    latitude = math.radians(14.2)
    ground = earth.surface_speed(latitude)
    degrees = [
        math.degrees(value)
        for value in orbits.reachable_inclinations(latitude, 0.0, math.tau, 7700.0, ground)
    ]
    assert degrees == pytest.approx([14.2, 165.8])  # all headings: the latitude and its supplement
    _low, high = orbits.reachable_inclinations(latitude, 0.0, math.radians(200.0), 7700.0, ground)
    # heading 200° over the ground: by the difference of velocities
    over = math.sqrt(7700.0**2 - (ground * math.cos(math.radians(200))) ** 2) - ground * math.sin(
        math.radians(200)
    )
    east = over * math.sin(math.radians(200)) + ground
    assert math.cos(high) == pytest.approx(math.cos(latitude) * east / 7700.0)
    assert math.degrees(high) > 97.5  # south-south-west reaches a sun-synchronous orbit


def test_refusals():
    with pytest.raises(ValueError, match=r"inclination must lie between 28\.5° and 151\.5° to pass"):
        orbits.launch_azimuth(math.radians(28.5), math.radians(20.0))
    with pytest.raises(ValueError, match="radius must lie between"):
        orbits.orbit_speed(9e6, 7e6, 8e6)
    with pytest.raises(ValueError, match="c3 must be at least"):
        orbits.injection_speed(-1e9, 7e6)
    with pytest.raises(ValueError, match="must not point straight up or down"):
        orbits.elements((7e6, 0.0, 0.0), (1000.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="place and velocity must be finite"):
        orbits.propagated((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), 1.0)
    with pytest.raises(ValueError, match="last_heading must lie between"):
        orbits.reachable_inclinations(0.1, 2.0, 1.0, 7800.0, 450.0)


def test_due_east_is_the_edge_and_not_refused():
    latitude = math.radians(28.5)
    assert orbits.launch_azimuth(latitude, latitude) == math.pi / 2
    # asin at its end: half the digits
    assert orbits.launch_azimuth(latitude, math.pi - latitude) == pytest.approx(-math.pi / 2, abs=1e-7)
