"""One step of the integrator: order 8, with the error of the step estimated by embedded orders 5 and 3."""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from wetmass.flight import layout as at
from wetmass.flight import tableau
from wetmass.flight.motion import only_rates

_A = np.zeros((tableau.STAGES, tableau.STAGES))
for _stage, _row in enumerate(tableau.COUPLING):
    for _earlier, _weight in _row:
        _A[_stage, _earlier] = _weight
_C = np.array(tableau.NODES)
_B, _E3, _E5 = (np.zeros(tableau.STAGES) for _ in range(3))
for _array, _pairs in (
    (_B, tableau.WEIGHTS),
    (_E3, tableau.ERROR_OF_ORDER_3),
    (_E5, tableau.ERROR_OF_ORDER_5),
):
    for _stage, _weight in _pairs:
        _array[_stage] = _weight
# below these an error is absolute: 1 km, 100 m/s, 1000 kg, the unit primer, its rate over 100 s, 1000 s
_FLOORS = np.array([1e3] * 3 + [1e2] * 3 + [1e3] * 2 + [1.0] * 3 + [1e-2] * 3 + [1e3])


@njit(cache=True, error_model="numpy")
def step(t, y, h, segment, mode, curve, groups, traces, tolerance, n, k, z, end):
    """State `end` a time `h` [s] after `y`; `k[0]` must hold the rates at (t, y).

    k (12, n) and z (n) are work space.  Returns the error of the step over the tolerance: accept up to 1.
    The error is that of Hairer's 8(5,3) pair, over position, speed and the primer.
    """
    # written out, not looped over the tableau: the compiler then works on several entries at once
    # fmt: off
    for i in range(n):
        z[i] = y[i] + h * (_A[1, 0] * k[0, i])
    only_rates(t + _C[1] * h, z, segment, mode, curve, groups, traces, k[1], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[2, 0] * k[0, i] + _A[2, 1] * k[1, i])
    only_rates(t + _C[2] * h, z, segment, mode, curve, groups, traces, k[2], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[3, 0] * k[0, i] + _A[3, 2] * k[2, i])
    only_rates(t + _C[3] * h, z, segment, mode, curve, groups, traces, k[3], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[4, 0] * k[0, i] + _A[4, 2] * k[2, i] + _A[4, 3] * k[3, i])
    only_rates(t + _C[4] * h, z, segment, mode, curve, groups, traces, k[4], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[5, 0] * k[0, i] + _A[5, 3] * k[3, i] + _A[5, 4] * k[4, i])
    only_rates(t + _C[5] * h, z, segment, mode, curve, groups, traces, k[5], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[6, 0] * k[0, i] + _A[6, 3] * k[3, i] + _A[6, 4] * k[4, i]
                           + _A[6, 5] * k[5, i])
    only_rates(t + _C[6] * h, z, segment, mode, curve, groups, traces, k[6], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[7, 0] * k[0, i] + _A[7, 3] * k[3, i] + _A[7, 4] * k[4, i]
                           + _A[7, 5] * k[5, i] + _A[7, 6] * k[6, i])
    only_rates(t + _C[7] * h, z, segment, mode, curve, groups, traces, k[7], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[8, 0] * k[0, i] + _A[8, 3] * k[3, i] + _A[8, 4] * k[4, i]
                           + _A[8, 5] * k[5, i] + _A[8, 6] * k[6, i] + _A[8, 7] * k[7, i])
    only_rates(t + _C[8] * h, z, segment, mode, curve, groups, traces, k[8], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[9, 0] * k[0, i] + _A[9, 3] * k[3, i] + _A[9, 4] * k[4, i]
                           + _A[9, 5] * k[5, i] + _A[9, 6] * k[6, i] + _A[9, 7] * k[7, i]
                           + _A[9, 8] * k[8, i])
    only_rates(t + _C[9] * h, z, segment, mode, curve, groups, traces, k[9], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[10, 0] * k[0, i] + _A[10, 3] * k[3, i] + _A[10, 4] * k[4, i]
                           + _A[10, 5] * k[5, i] + _A[10, 6] * k[6, i] + _A[10, 7] * k[7, i]
                           + _A[10, 8] * k[8, i] + _A[10, 9] * k[9, i])
    only_rates(t + _C[10] * h, z, segment, mode, curve, groups, traces, k[10], n)
    for i in range(n):
        z[i] = y[i] + h * (_A[11, 0] * k[0, i] + _A[11, 3] * k[3, i] + _A[11, 4] * k[4, i]
                           + _A[11, 5] * k[5, i] + _A[11, 6] * k[6, i] + _A[11, 7] * k[7, i]
                           + _A[11, 8] * k[8, i] + _A[11, 9] * k[9, i] + _A[11, 10] * k[10, i])
    only_rates(t + _C[11] * h, z, segment, mode, curve, groups, traces, k[11], n)
    for i in range(n):
        end[i] = y[i] + h * (_B[0] * k[0, i] + _B[5] * k[5, i] + _B[6] * k[6, i] + _B[7] * k[7, i]
                             + _B[8] * k[8, i] + _B[9] * k[9, i] + _B[10] * k[10, i] + _B[11] * k[11, i])
    five, three = 0.0, 0.0
    for i in range(at.STEERED):
        e5 = (_E5[0] * k[0, i] + _E5[5] * k[5, i] + _E5[6] * k[6, i] + _E5[7] * k[7, i]
              + _E5[8] * k[8, i] + _E5[9] * k[9, i] + _E5[10] * k[10, i] + _E5[11] * k[11, i])
        e3 = (_E3[0] * k[0, i] + _E3[5] * k[5, i] + _E3[6] * k[6, i] + _E3[7] * k[7, i]
              + _E3[8] * k[8, i] + _E3[9] * k[9, i] + _E3[10] * k[10, i] + _E3[11] * k[11, i])
        weight = 1.0 / (tolerance * max(_FLOORS[i], abs(y[i]), abs(end[i])))
        five += (e5 * weight) ** 2
        three += (e3 * weight) ** 2
    # fmt: on
    if five == 0.0:
        return 0.0
    return abs(h) * five / math.sqrt((five + 0.01 * three) * at.STEERED)
