"""Solid motors: published problems, and traces that keep their impulse."""

import math
import re

import pytest
import yaml_cases
from scipy.integrate import quad

from wetmass.physics import solids as s


def test_burning_rate_and_flow_agree_with_a_published_problem():
    given, answer = yaml_cases.inputs("solid-01"), yaml_cases.answers("solid-01")
    rate = s.burning_rate(given["a"], given["n"], given["pc"] * 1e6)
    assert 1e3 * rate == pytest.approx(answer["r"], abs=5e-3)  # printed to 0.01 mm/s
    area = s.bore_surface(given["port diameter"], given["port length"])
    assert s.grain_flow(rate, area, given["density"]) == pytest.approx(answer["mdot"], abs=0.5)


def test_burning_rate_agrees_with_a_flown_booster():
    given, answer = yaml_cases.inputs("solid-02"), yaml_cases.answers("solid-02")
    assert 1e3 * s.burning_rate(given["a"], given["n"], given["pc"] * 1e6) == pytest.approx(
        answer["r"], abs=5e-3
    )


def test_steady_pressure_balances_grain_and_throat():
    a, n, rho, cstar, k = 5.5, 0.4, 1700.0, 1550.0, 200.0
    p = s.steady_pressure(a, n, rho, cstar, k)
    assert s.grain_flow(s.burning_rate(a, n, p), k, rho) == pytest.approx(p / cstar, rel=1e-12)


TRACE = s.ThrustTrace((0.0, 1.0, 5.0, 9.0, 10.0), (0.0, 100.0, 60.0, 80.0, 0.0), "made up")


def test_impulse_is_the_area_under_the_trace():
    area, _ = quad(TRACE.thrust, 0.0, 10.0, points=(1.0, 5.0, 9.0), epsabs=1e-10)
    assert TRACE.total_impulse == pytest.approx(area, rel=1e-12)
    assert TRACE.total_impulse == 50.0 + 320.0 + 280.0 + 40.0
    part, _ = quad(TRACE.thrust, 0.0, 6.3, points=(1.0, 5.0), epsabs=1e-10)
    assert TRACE.impulse(6.3) == pytest.approx(part, rel=1e-12)
    assert TRACE.impulse(-1.0) == 0.0 and TRACE.impulse(99.0) == TRACE.total_impulse


def test_nothing_pushes_before_ignition_or_after_burn_out():
    assert TRACE.thrust(-1e-9) == 0.0 == TRACE.thrust(10.0 + 1e-9)
    assert TRACE.thrust(5.0) == 60.0 and TRACE.thrust(10.0) == 0.0
    assert TRACE.peak_thrust == 100.0


def test_scaling_keeps_what_it_should():
    bigger = TRACE.with_total_impulse(1e6)
    assert bigger.total_impulse == pytest.approx(1e6, rel=1e-14) and bigger.times == TRACE.times
    longer = TRACE.lasting(25.0)
    assert longer.burn_time == pytest.approx(25.0) and longer.total_impulse == pytest.approx(690.0, rel=1e-14)
    assert longer.mean_thrust == pytest.approx(TRACE.mean_thrust / 2.5, rel=1e-14)
    assert TRACE.propellant(2500.0) == pytest.approx(690.0 / 2500.0)


@pytest.mark.parametrize("shape", s.SHAPES)
def test_named_shapes_have_unit_impulse_and_are_scaled_exactly(shape):
    assert s.SHAPES[shape].total_impulse == pytest.approx(1.0, rel=1e-14)
    trace = s.shaped_trace(shape, 3e8, 120.0)
    assert trace.total_impulse == pytest.approx(3e8, rel=1e-13) and trace.burn_time == pytest.approx(120.0)
    early, late = trace.thrust(12.0), trace.thrust(108.0)
    assert {"neutral": early == late, "progressive": early < late}.get(shape, early > late)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: s.burning_rate(5.0, 1.0, 1e6), "exponent must be 0 or more and below 1 (no steady pressure"),
        (lambda: s.burning_rate(0.0, 0.4, 1e6), "coefficient must be above 0"),
        (lambda: s.grain_flow(0.0, 1.0, 1.0), "rate must be above 0"),
        (lambda: s.steady_pressure(1.0, 1.2, 1.0, 1.0, 1.0), "exponent must be 0 or more and below 1"),
        (lambda: s.steady_pressure(1.0, 0.2, 0.0, 1.0, 1.0), "density must be above 0"),
        (lambda: s.bore_surface(0.0, 1.0), "diameter must be above 0"),
        (lambda: s.ThrustTrace((0.0,), (1.0,)), "needs two or more points"),
        (lambda: s.ThrustTrace((0.0, 1.0), (1.0,)), "got 2 times and 1 thrusts"),
        (
            lambda: s.ThrustTrace((0.0, 0.0), (1.0, 1.0)),
            "times of a thrust trace must rise, got 0.0 s followed by 0.0",
        ),
        (lambda: s.ThrustTrace((0.0, math.inf), (1.0, 1.0)), "times of a thrust trace must rise"),
        (lambda: s.ThrustTrace((-1.0, 1.0), (1.0, 1.0)), "starts at ignition or after, got -1.0 s"),
        (lambda: s.ThrustTrace((0.0, 1.0), (1.0, -1.0)), "thrust at 1.0 s must be 0 or more, got -1.0"),
        (lambda: s.ThrustTrace((0.0, 1.0), (0.0, 0.0)), "needs thrust somewhere"),
        (lambda: TRACE.with_total_impulse(0.0), "total_impulse must be above 0"),
        (lambda: TRACE.lasting(-1.0), "burn_time must be above 0"),
        (lambda: TRACE.propellant(0.0), "exhaust_speed must be above 0"),
        (lambda: s.shaped_trace("bumpy", 1.0, 1.0), "shape: got 'bumpy'; known are neutral"),
    ],
)
def test_refusals_say_what_is_wrong(call, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        call()
