"""What collocation is made of, each part held against the plain way to the same number."""

import math

import casadi
import numpy as np
import pytest
from collocation_cases import DRAG, SITE, ascent, two_stages

from wetmass.flight import goal
from wetmass.flight import layout as at
from wetmass.flight.ascent import start_state
from wetmass.flight.collocation import arrival, cutting, dynamics, phases, pieces, structure
from wetmass.flight.collocation.mesh import Mesh, differentiation, interpolation, radau_points
from wetmass.flight.motion import rates_seen
from wetmass.flight.program import program
from wetmass.physics.curve import spline_table, spline_value
from wetmass.physics.smooth_air import smooth_air
from wetmass.record.mission import Orbit


def test_radau_points_integrate_polynomials_of_degree_2n_minus_2_exactly():
    for n in (1, 2, 3, 4, 5):
        points = radau_points(n)
        weights = np.linalg.solve(np.vander(points, n, increasing=True).T, 1.0 / np.arange(1, n + 1))
        for power in range(2 * n - 1):
            assert weights @ points**power == pytest.approx(1.0 / (power + 1), abs=1e-13)  # rounding


def test_slopes_and_carried_values_are_exact_for_polynomials_of_the_meshs_degree():
    mesh = Mesh((0.0, 0.2, 0.7, 1.0), 4)
    places = mesh.places()
    cubic = np.polynomial.Polynomial([1.0, -2.0, 0.5, 3.0, -1.0])
    assert cubic(places) @ mesh.slopes() == pytest.approx(cubic.deriv()(places[1:]), abs=1e-11)
    other = np.linspace(0.0, 1.0, 23)
    assert cubic(places) @ mesh.carried(other, controls=False) == pytest.approx(cubic(other), abs=1e-12)
    square = np.polynomial.Polynomial([1.0, -2.0, 0.5])
    assert square(places[1:]) @ mesh.carried(other, controls=True) == pytest.approx(square(other), abs=1e-12)
    assert Mesh.even(2, 3).halved([1]).edges == (0.0, 0.5, 0.75, 1.0)


def test_interpolation_through_points_reproduces_them():
    points = radau_points(4)
    assert interpolation(points, points) == pytest.approx(np.eye(4))
    assert differentiation(3).sum(axis=0) == pytest.approx(np.zeros(3), abs=1e-12)  # a constant has no slope


def test_air_and_drag_of_the_programme_are_those_of_the_physics():
    h = casadi.MX.sym("h")
    air = dynamics._air()
    piece = casadi.SX.sym("piece", air.width)
    x = casadi.SX.sym("x")
    value = casadi.Function("value", [x, piece], air.values(x, piece))
    function = casadi.Function("air", [h], value(h, air.piece(h)))
    for height in np.concatenate([np.linspace(-6e3, 130e3, 400), np.linspace(130e3, 1.1e6, 100)]):
        expected = [math.log(part) for part in smooth_air(float(height))[1:]]
        assert [float(part) for part in function(height)] == pytest.approx(expected, abs=1e-12)
    table = spline_table([m for m, _ in DRAG], [c for _, c in DRAG])
    table = np.vstack([table, table[-1:], table[-1:]])  # as padded in a program
    drag = pieces.curve_pieces(table)
    piece = casadi.SX.sym("piece", drag.width)
    value = casadi.Function("value", [x, piece], drag.values(x, piece))
    function = casadi.Function("drag", [h], [value(h, drag.piece(h))])
    for mach in np.linspace(0.0, 10.0, 401):
        assert float(function(mach)) == pytest.approx(spline_value(float(mach), table), abs=1e-14)


def _flight_rates(y, laid, mode):
    dy = np.zeros(at.STEERED)
    curve = laid.curves[0]
    rates_seen(0.0, y, laid.segments[0], mode, curve, laid.groups, laid.traces, dy, at.STEERED)
    return dy


def test_the_motion_is_that_of_the_compiled_flight_but_for_the_rounded_corners_of_the_air():
    laid = program(two_stages(1500.0))
    mass = laid.lift_off_mass
    turn = dynamics.Turn(0.0, 0.017, 0.0, upright=False)
    function = dynamics.motion(
        dynamics.Rule(dynamics.ZERO_LIFT, laid.segments[0], laid.curves[0], turn), mass
    )
    chance = np.random.default_rng(1)
    mode = np.zeros(at.MODE_WIDTH)
    mode[at.PHASE] = at.ZERO_LIFT
    for _ in range(50):
        y = start_state(SITE)
        up = y[:3] / np.linalg.norm(y[:3])
        y[:3] += up * chance.uniform(1e3, 150e3)
        y[3:6] += up * chance.uniform(50.0, 1500.0) + chance.normal(size=3) * 700.0
        y[at.MASS] = chance.uniform(0.4, 1.0) * mass
        x = np.concatenate([y[:3] / dynamics.LENGTH, y[3:6] / dynamics.SPEED, [y[at.MASS] / mass]])
        dx, path, counted = function(x, np.zeros(3), 1.0, 0.0, np.zeros(2), 0.0)
        ours = np.array(dx).ravel()[3:7] * ([dynamics.SPEED / dynamics.TIME] * 3 + [mass / dynamics.TIME])
        theirs = _flight_rates(y, laid, mode)[3:7]
        q = float(path[0])
        # the smooth air is off by up to 6e-4 of density (physics.smooth_air): that share of the drag
        allowed = 1e-9 * np.abs(theirs).max() + 1e-3 * q * laid.segments[0][at.AREA] * 0.5 / y[at.MASS]
        assert np.abs(ours[:3] - theirs[:3]).max() < allowed + 1e-3
        assert ours[3] == pytest.approx(theirs[3], rel=1e-12)
        assert float(counted) * mass / dynamics.TIME == pytest.approx(-theirs[3], rel=1e-12)  # all of its own


def test_arrival_on_symbols_is_the_goal_of_the_flight():
    chance = np.random.default_rng(2)
    r, v = casadi.SX.sym("r", 3), casadi.SX.sym("v", 3)
    for orbit, place in (
        (Orbit(200e3, 200e3), goal.AT_PERIGEE),
        (Orbit(200e3, 2000e3), goal.ANYWHERE),
        (Orbit(500e3, 500e3), goal.AT_APOGEE),
    ):
        made = arrival.shape_conditions([r[i] for i in range(3)], [v[i] for i in range(3)], orbit, place)
        made.append(arrival.cosine_of_inclination([r[i] for i in range(3)], [v[i] for i in range(3)]))
        function = casadi.Function("arrival", [r, v], made)
        for _ in range(5):
            y = np.concatenate([chance.normal(size=3) * 4e6, chance.normal(size=3) * 5e3, [1.0]])
            expected = [*goal.shape_conditions(y, orbit, place), goal.cosine_of_inclination(y)]
            assert [float(part) for part in function(y[:3], y[3:6])] == pytest.approx(expected, rel=1e-10)


def test_square_of_angle_follows_the_arc():
    for degrees in (0.0, 1.0, 10.0, 30.0, 57.0):
        angle = math.radians(degrees)
        found = dynamics.square_of_angle(2.0 * (1.0 - math.cos(angle)))
        assert found == pytest.approx(angle**2, rel=1e-4, abs=1e-15)  # as its description says


def test_phases_follow_the_events_of_a_flight_and_carry_all_that_is_dropped():
    problem = ascent()
    made = cutting.outline(problem, structure.simple_guess(problem))
    kinds = [phase.kind for phase in made.phases]
    assert kinds[:4] == [dynamics.VERTICAL, dynamics.TILTING, dynamics.HOLDING, dynamics.ZERO_LIFT]
    assert dynamics.COASTING in kinds
    assert sum(phase.dropped for phase in made.phases) == pytest.approx(9400.0 + 400.0)
    for one, other in zip(made.phases, made.phases[1:], strict=False):
        assert one.state[:6, -1] == pytest.approx(other.state[:6, 0], rel=1e-9)
        assert one.state[6, -1] - one.dropped == pytest.approx(other.state[6, 0], rel=1e-9)
    free = cutting.outline(problem, structure.simple_guess(problem), phases.Freedom.FREE)
    assert dynamics.ZERO_LIFT not in [phase.kind for phase in free.phases]


def test_an_arc_of_no_length_is_taken_out_and_its_neighbours_close_up():
    problem = ascent()
    made = cutting.outline(problem, structure.simple_guess(problem))
    whole = list(made.phases)
    i = next(k for k, phase in enumerate(whole) if phase.throttles)
    left = structure.without(whole, i)
    assert len(left) == len(whole) - 1
    assert left[i - 1].dropped == whole[i].dropped
    assert left[i - 1].ends == whole[i].ends


def test_what_is_not_written_yet_is_refused_with_the_way_out():
    problem = ascent()
    x = structure.simple_guess(problem)
    problem.open_unknowns = (problem.open_unknowns[0], problem.open_unknowns[0])
    with pytest.raises(ValueError, match="makes the payload best and nothing else"):
        cutting.outline(problem, x)
