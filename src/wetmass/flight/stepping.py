"""One step of the integrator: order 8, with the error of the step estimated by embedded orders 5 and 3."""

from __future__ import annotations

import math

import numpy as np

from wetmass.flight import layout as at
from wetmass.flight import tableau
from wetmass.flight.compiled import inside
from wetmass.flight.motion import rates

# each weight by its own name, A with the stage and the earlier one in hexadecimal: numba reads a plain number
# far faster than a place in an array
# fmt: off
(
    (),
    ((_, A10),),
    ((_, A20), (_, A21),),
    ((_, A30), (_, A32),),
    ((_, A40), (_, A42), (_, A43),),
    ((_, A50), (_, A53), (_, A54),),
    ((_, A60), (_, A63), (_, A64), (_, A65),),
    ((_, A70), (_, A73), (_, A74), (_, A75), (_, A76),),
    ((_, A80), (_, A83), (_, A84), (_, A85), (_, A86), (_, A87),),
    ((_, A90), (_, A93), (_, A94), (_, A95), (_, A96), (_, A97), (_, A98),),
    ((_, Aa0), (_, Aa3), (_, Aa4), (_, Aa5), (_, Aa6), (_, Aa7), (_, Aa8), (_, Aa9),),
    ((_, Ab0), (_, Ab3), (_, Ab4), (_, Ab5), (_, Ab6), (_, Ab7), (_, Ab8), (_, Ab9), (_, Aba),),
) = tableau.COUPLING
((_, B0), (_, B5), (_, B6), (_, B7), (_, B8), (_, B9), (_, Ba), (_, Bb),) = tableau.WEIGHTS
((_, D0), (_, D5), (_, D6), (_, D7), (_, D8), (_, D9), (_, Da), (_, Db),) = tableau.ERROR_OF_ORDER_3
((_, E0), (_, E5), (_, E6), (_, E7), (_, E8), (_, E9), (_, Ea), (_, Eb),) = tableau.ERROR_OF_ORDER_5
_, C1, C2, C3, C4, C5, C6, C7, C8, C9, Ca, Cb = tableau.NODES
# fmt: on
# below these an error is absolute: 1 km, 100 m/s, 1000 kg, the unit primer, its rate over 100 s, 1000 s
_FLOORS = np.array([1e3] * 3 + [1e2] * 3 + [1e3] * 2 + [1.0] * 3 + [1e-2] * 3 + [1e3])


@inside
def step(t, y, h, segment, mode, curve, groups, traces, tolerance, n, k, z, end):
    """State `end` a time `h` [s] after `y`; `k[0]` must hold the rates at (t, y).

    k (12, n) and z (n) are work space.  Returns the error of the step over the tolerance: accept up to 1.
    The error is that of Hairer's 8(5,3) pair, over position, speed and the primer.
    """
    # written out, not looped over the tableau: the compiler then works on several entries at once
    # fmt: off
    k0, k1, k2, k3, k4, k5, k6, k7, k8, k9, ka, kb = (
        k[0], k[1], k[2], k[3], k[4], k[5], k[6], k[7], k[8], k[9], k[10], k[11]
    )
    for i in range(n):
        z[i] = y[i] + h * (A10 * k0[i])
    rates(t + C1 * h, z, segment, mode, curve, groups, traces, k1, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (A20 * k0[i] + A21 * k1[i])
    rates(t + C2 * h, z, segment, mode, curve, groups, traces, k2, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (A30 * k0[i] + A32 * k2[i])
    rates(t + C3 * h, z, segment, mode, curve, groups, traces, k3, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (A40 * k0[i] + A42 * k2[i] + A43 * k3[i])
    rates(t + C4 * h, z, segment, mode, curve, groups, traces, k4, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (A50 * k0[i] + A53 * k3[i] + A54 * k4[i])
    rates(t + C5 * h, z, segment, mode, curve, groups, traces, k5, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (A60 * k0[i] + A63 * k3[i] + A64 * k4[i]
                           + A65 * k5[i])
    rates(t + C6 * h, z, segment, mode, curve, groups, traces, k6, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (A70 * k0[i] + A73 * k3[i] + A74 * k4[i]
                           + A75 * k5[i] + A76 * k6[i])
    rates(t + C7 * h, z, segment, mode, curve, groups, traces, k7, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (A80 * k0[i] + A83 * k3[i] + A84 * k4[i]
                           + A85 * k5[i] + A86 * k6[i] + A87 * k7[i])
    rates(t + C8 * h, z, segment, mode, curve, groups, traces, k8, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (A90 * k0[i] + A93 * k3[i] + A94 * k4[i]
                           + A95 * k5[i] + A96 * k6[i] + A97 * k7[i]
                           + A98 * k8[i])
    rates(t + C9 * h, z, segment, mode, curve, groups, traces, k9, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (Aa0 * k0[i] + Aa3 * k3[i] + Aa4 * k4[i]
                           + Aa5 * k5[i] + Aa6 * k6[i] + Aa7 * k7[i]
                           + Aa8 * k8[i] + Aa9 * k9[i])
    rates(t + Ca * h, z, segment, mode, curve, groups, traces, ka, n, at.AWAY)
    for i in range(n):
        z[i] = y[i] + h * (Ab0 * k0[i] + Ab3 * k3[i] + Ab4 * k4[i]
                           + Ab5 * k5[i] + Ab6 * k6[i] + Ab7 * k7[i]
                           + Ab8 * k8[i] + Ab9 * k9[i] + Aba * ka[i])
    rates(t + Cb * h, z, segment, mode, curve, groups, traces, kb, n, at.AWAY)
    for i in range(n):
        end[i] = y[i] + h * (B0 * k0[i] + B5 * k5[i] + B6 * k6[i] + B7 * k7[i]
                             + B8 * k8[i] + B9 * k9[i] + Ba * ka[i] + Bb * kb[i])
    five, three = 0.0, 0.0
    for i in range(at.STEERED):
        e5 = (E0 * k0[i] + E5 * k5[i] + E6 * k6[i] + E7 * k7[i]
              + E8 * k8[i] + E9 * k9[i] + Ea * ka[i] + Eb * kb[i])
        e3 = (D0 * k0[i] + D5 * k5[i] + D6 * k6[i] + D7 * k7[i]
              + D8 * k8[i] + D9 * k9[i] + Da * ka[i] + Db * kb[i])
        weight = 1.0 / (tolerance * max(_FLOORS[i], abs(y[i]), abs(end[i])))
        five += (e5 * weight) ** 2
        three += (e3 * weight) ** 2
    # fmt: on
    if five == 0.0:
        return 0.0
    return abs(h) * five / math.sqrt((five + 0.01 * three) * at.STEERED)
