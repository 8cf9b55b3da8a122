"""One physics, several executions: plain Python, compiled, symbolic and the shown formula agree."""

import importlib
import inspect
import math
import pkgutil
import random

import casadi
import numba
import pytest

import wetmass.physics
from wetmass.flight import compiled  # noqa: F401  (makes the kernels compilable)
from wetmass.physics import pattern
from wetmass.record.expression import evaluate

for _module in pkgutil.walk_packages(wetmass.physics.__path__, "wetmass.physics."):
    importlib.import_module(_module.name)

POINTS = 40
# Rounding only: the executions may order sums differently.  Of the largest value drawn, since a
# difference of near equals has no digits of its own.
TOLERANCE = 1e-11

_RELATION_OF = {relation.kernel: relation for relation in pattern.RELATIONS.values()}


def _name(kernel):
    return f"{kernel.__module__.removeprefix('wetmass.physics.')}.{kernel.__name__}"


def _ranges(kernel):
    if kernel in pattern.RANGES:
        return pattern.RANGES[kernel]
    assert kernel in _RELATION_OF, (
        f"{_name(kernel)} has no relation and states no ranges: write @kernel(argument=(low, high), …)"
    )
    return {name: (letter.low, letter.high) for name, letter in _RELATION_OF[kernel].letters.items()}


def _draws(kernel):
    """Points drawn from the ranges, half of them evenly in the logarithm where a range spans decades."""
    dice = random.Random(_name(kernel))
    points = []
    for index in range(POINTS):
        point = []
        for span in _ranges(kernel).values():
            if not isinstance(span, tuple):
                point.append(span)  # a table, handed over as it is
            elif index % 2 and span[0] > 0.0:
                point.append(math.exp(dice.uniform(math.log(span[0]), math.log(span[1]))))
            else:
                point.append(dice.uniform(*span))
        points.append(point)
    return points


def _row(value):
    return [float(part) for part in value] if isinstance(value, (tuple, list)) else [float(value)]


def _agree(found, expected):
    sizes = [max(abs(row[column]) for row in expected) for column in range(len(expected[0]))]
    for got, want in zip(found, expected, strict=True):
        for one, other, size in zip(got, want, sizes, strict=True):
            assert math.isfinite(other)
            assert abs(one - other) <= TOLERANCE * max(size, 1e-300), (got, want)


@pytest.mark.parametrize("kernel", pattern.KERNELS, ids=_name)
def test_compiled_and_symbolic_are_the_plain_kernel(kernel):
    points = _draws(kernel)
    plain = [_row(kernel(*point)) for point in points]

    machine = numba.njit(cache=True, error_model="numpy")(kernel)
    _agree([_row(machine(*point)) for point in points], plain)

    names, spans = list(_ranges(kernel)), list(_ranges(kernel).values())
    symbols = [
        casadi.SX.sym(name) if isinstance(span, tuple) else span
        for name, span in zip(names, spans, strict=True)
    ]
    value = kernel(*symbols)
    parts = list(value) if isinstance(value, tuple) else [value]
    free = [at for at, span in enumerate(spans) if isinstance(span, tuple)]
    symbolic = casadi.Function("kernel", [symbols[at] for at in free], [casadi.vertcat(*parts)])
    _agree([symbolic(*(point[at] for at in free)).full().ravel().tolist() for point in points], plain)


@pytest.mark.parametrize("name", pattern.RELATIONS)
def test_the_formula_shown_is_the_formula_that_ran(name):
    relation = pattern.RELATIONS[name]
    letters = [letter.symbol for letter in relation.letters.values()]
    assert len(set(letters)) == len(letters), f"{name}: two arguments share a letter"
    points = _draws(relation.kernel)
    plain = [_row(relation.kernel(*point)) for point in points]
    shown = [[evaluate(relation.formula, dict(zip(letters, point, strict=True)))] for point in points]
    _agree(shown, plain)


@pytest.mark.parametrize("name", pattern.RELATIONS)
def test_a_relation_says_what_it_is(name):
    relation = pattern.RELATIONS[name]
    assert relation.source and relation.words and relation.symbol
    words = " ".join((relation.__doc__ or "").split())
    assert words and (not relation.unit or f"[{relation.unit}]" in words)
    assert len(relation.__doc__.strip().splitlines()[0]) <= 110


def test_steps_take_defaults_and_carry_the_checked_result():
    from wetmass.physics.orbits import circular_speed

    step = circular_speed.step(radius=6.578e6)
    assert step.result == circular_speed(6.578e6)
    assert [put.symbol for put in step.inputs] == ["r", "μ"]


def test_ranges_must_name_the_arguments():
    with pytest.raises(TypeError, match="are not the arguments"):

        @pattern.kernel(x=(0.0, 1.0))
        def _wrong(y):
            return y


def test_a_table_cannot_become_a_formula():
    from wetmass.physics.atmosphere import AIR
    from wetmass.record.expression import Symbol

    with pytest.raises(TypeError, match="no formula"):
        pattern.piece(Symbol("h"), AIR)


def test_signatures_of_kernels_are_plain():
    for kernel in pattern.KERNELS:
        for parameter in inspect.signature(kernel).parameters.values():
            assert parameter.default is parameter.empty, f"{_name(kernel)}: kernels take no defaults"


def test_symbolic_derivatives_of_the_flight_kernels_are_those_of_differences():
    from wetmass.physics.atmosphere import air_kernel
    from wetmass.physics.earth import gravity_kernel, height_kernel

    for kernel, point, step in (
        (air_kernel, [12_345.0], 1.0),
        (air_kernel, [95_432.0], 1.0),
        (height_kernel, [5.1e6, 3e6, 2.7e6], 50.0),
        (gravity_kernel, [5.1e6, 3e6, 2.7e6], 50.0),
    ):
        symbols = [casadi.SX.sym(f"x{at}") for at in range(len(point))]
        value = kernel(*symbols)
        stack = casadi.vertcat(*value) if isinstance(value, tuple) else value
        slopes = casadi.Function("j", symbols, [casadi.jacobian(stack, casadi.vertcat(*symbols))])(
            *point
        ).full()
        for at in range(len(point)):
            high, low = list(point), list(point)
            high[at] += step
            low[at] -= step
            pairs = zip(_row(kernel(*high)), _row(kernel(*low)), strict=True)
            found = [(one - other) / (2.0 * step) for one, other in pairs]
            # central differences: step² times the third derivative, and rounding over the step
            assert slopes[:, at].tolist() == pytest.approx(found, rel=1e-5, abs=1e-9)


def test_a_numpy_float_chooses_as_a_float_does():
    import numpy as np

    from wetmass.physics.pattern import select

    assert select(np.float64(1.0) > 0.5, 2.0, 3.0) == 2.0
    assert isinstance(select(np.float64(0.0) > 0.5, 2.0, 3.0), float)
