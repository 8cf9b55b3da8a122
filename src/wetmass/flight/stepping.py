"""One step of the integrator: order 8, with the error of the step estimated by embedded orders 5 and 3."""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from wetmass.flight import layout as at
from wetmass.flight import tableau
from wetmass.flight.motion import rates

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


@njit(cache=True, error_model="numpy")
def step(t, y, h, segment, mode, curve, groups, traces, tolerance, n, k, z, end):
    """State `end` a time `h` [s] after `y`; `k[0]` must hold the rates at (t, y).

    k (12, n) and z (n) are work space.  Returns the error of the step over the tolerance: accept up to 1.
    The error is that of Hairer's 8(5,3) pair, over position, speed and the primer.
    """
    for s in range(1, 12):
        for i in range(n):
            z[i] = 0.0
        for j in range(s):
            a = _A[s, j]
            if a != 0.0:
                for i in range(n):
                    z[i] += a * k[j, i]
        for i in range(n):
            z[i] = y[i] + h * z[i]
        rates(t + _C[s] * h, z, segment, mode, curve, groups, traces, k[s], n)
    five, three = 0.0, 0.0
    for i in range(n):
        gain, e5, e3 = 0.0, 0.0, 0.0
        for s in range(12):
            gain += _B[s] * k[s, i]
            e5 += _E5[s] * k[s, i]
            e3 += _E3[s] * k[s, i]
        end[i] = y[i] + h * gain
        if i < at.STEERED:
            # floors: 1 km, 100 m/s, 1000 kg or s, and the unit primer with its rate over 100 s
            floor = 1e3 if i < 3 or i == at.FULL else (1e2 if i < 6 else (1e3 if i < 8 else 1.0))
            if at.QX <= i < at.FULL:
                floor = 1e-2
            scale = tolerance * max(floor, abs(y[i]), abs(end[i]))
            five += (e5 / scale) ** 2
            three += (e3 / scale) ** 2
    if five == 0.0:
        return 0.0
    return abs(h) * five / math.sqrt((five + 0.01 * three) * at.STEERED)
