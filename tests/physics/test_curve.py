"""Curves through tables: they pass through the points, stay between them, and are smooth."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wetmass.physics import aerodynamics, curve, heating


def _jumps(table, order):
    """Largest jump of a derivative at the inner knots, over its largest size."""
    width = np.diff(table[:, 0])[:, None]
    left = np.array([[0, 1, 2, 3], [0, 0, 2, 6]][order - 1], dtype=float)
    power = np.array([[0, 0, 1, 2], [0, 0, 0, 1]][order - 1])
    at_end = (table[:-1, 1:] * left * width**power).sum(axis=1)
    at_start = table[:, 1 + order] * (1.0 if order == 1 else 2.0)
    inner = np.abs(at_end[:-1] - at_start[1:-1])
    terms = np.abs(table[:-1, 1:] * left * width**power).sum(axis=1)  # what cancels, where all slopes are 0
    return (inner.max() if len(inner) else 0.0) / max(terms.max(), 1e-300)


@pytest.mark.parametrize("which", aerodynamics.DRAG_COEFFICIENTS)
def test_drag_curves_pass_their_points_and_stay_between_them(which):
    table = aerodynamics.drag_curve(which)
    points = aerodynamics.DRAG_COEFFICIENTS[which]
    for mach, coefficient in zip(aerodynamics.DRAG_MACH, points, strict=True):
        assert curve.spline_value(mach, table) == pytest.approx(coefficient, rel=1e-12)
    assert curve.overshoot(table, aerodynamics.DRAG_MACH, points) <= curve.MOST_OVERSHOOT
    assert _jumps(table, 1) < 1e-10 and _jumps(table, 2) < 1e-9
    # level and constant beyond both ends
    assert curve.spline_value(-1.0, table) == points[0]
    assert curve.spline_value(25.0, table) == pytest.approx(points[-1])
    assert table[0, 2] == 0.0


_TABLE = st.lists(st.tuples(st.floats(0.05, 3.0), st.floats(0.0, 1.0)), min_size=2, max_size=12)


@given(rows=_TABLE)
def test_any_table_gives_a_smooth_curve_without_swing(rows):
    x, y = np.cumsum([width for width, _ in rows]), np.array([value for _, value in rows])
    table = curve.spline_table(x, y)
    assert curve.values(x, table) == pytest.approx(y, abs=1e-9)
    # the refining stops at 64 parts an interval; met in all cases drawn, so held here
    assert curve.overshoot(table, x, y) <= 5.0 * curve.MOST_OVERSHOOT
    assert _jumps(table, 1) < 1e-7 and _jumps(table, 2) < 1e-6
    for place in (x[0] - 1.0, *x, 0.5 * (x[0] + x[-1]), x[-1] + 1.0):
        assert curve.spline_value(float(place), table) == pytest.approx(float(curve.values(place, table)))


def test_a_smooth_function_is_met_to_fourth_order():
    def error(count):
        x = np.linspace(0.0, np.pi, count)
        places = np.linspace(0.0, np.pi, 999)
        return np.abs(curve.values(places, curve._spline(x, np.cos(x))) - np.cos(places)).max()

    assert error(17) / error(33) == pytest.approx(16.0, rel=0.1)  # halving the step: 2⁴


@pytest.mark.parametrize(
    ("x", "y", "words"),
    [
        ([0.0], [1.0], "two or more numbers"),
        ([0.0, 1.0], [1.0], "two or more numbers"),
        ([0.0, 0.0], [1.0, 2.0], "x must rise"),
        ([0.0, 1.0], [1.0, float("nan")], "finite"),
    ],
)
def test_refusals(x, y, words):
    with pytest.raises(ValueError, match=words):
        curve.spline_table(x, y)


def test_an_unknown_drag_curve_is_refused():
    with pytest.raises(ValueError, match="which must be one of typical, low, high, got 'medium'"):
        aerodynamics.drag_curve("medium")


def test_drag_curves_cannot_be_changed_by_those_who_share_them():
    with pytest.raises(ValueError, match="read-only"):
        aerodynamics.drag_curve()[0, 0] = 1.0


def test_free_molecular_heating_is_dynamic_pressure_times_speed():
    assert (
        heating.free_molecular_heating(1e-7, 5000.0) == aerodynamics.dynamic_pressure(1e-7, 5000.0) * 5000.0
    )
