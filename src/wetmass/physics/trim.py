"""How far engines must swing for the thrust to pass through the centre of mass."""

from __future__ import annotations

from wetmass.physics.pattern import (
    Letter,
    above_zero,
    asin,
    atan2,
    finite,
    kernel,
    not_negative,
    relation,
    sqrt,
)

_MOMENT = (-1e7, 1e7)


@kernel
def _trim_angle(fixed_moment, steered_moment, steered_thrust, arm):
    reach = steered_thrust * arm
    return asin(fixed_moment / sqrt(steered_moment * steered_moment + reach * reach)) + atan2(
        steered_moment, reach
    )


@relation(
    kernel=_trim_angle,
    symbol="δ",
    words="swing that brings the thrust through the centre of mass",
    unit="rad",
    letters={
        "fixed_moment": Letter("M_f", "moment of the engines that do not swing", "N·m", -1e5, 1e5),
        "steered_moment": Letter("M_s", "moment of those that do, at rest", "N·m", *_MOMENT),
        "steered_thrust": Letter("F_s", "thrust of those that do", "N", 1e5, 1e7),
        "arm": Letter("l", "from their pivots up to the centre of mass", "m", 2.0, 40.0),
    },
    source="balance of moments about the centre of mass, exact",
)
def trim_angle(fixed_moment: float, steered_moment: float, steered_thrust: float, arm: float) -> float:
    """Swing of engines, all alike, that takes the moment off: M_f + M_s·cos δ = F_s·l·sin δ [rad].

    fixed_moment    thrust times distance from the centre of mass, of engines that do not swing   [N·m]
    steered_moment  of those that do, at rest                                                     [N·m]
    steered_thrust  of those that do                                                              [N]
    arm             from their pivots up to the centre of mass                                    [m]

    Where all swing it is the angle under which the offset is seen from the pivots: tan δ = e/l.  Air, bending
    and the tilt of the whole vehicle are left out.  Raises ValueError where no swing can do it.

    >>> round(trim_angle(0.0, 1e6 * 0.5, 1e6, 10.0), 4)  # half a metre off, ten above the pivots
    0.05
    """
    finite(fixed_moment=fixed_moment, steered_moment=steered_moment)
    not_negative(steered_thrust=steered_thrust)
    above_zero(arm=arm)
    most = (steered_moment**2 + (steered_thrust * arm) ** 2) ** 0.5
    if not abs(fixed_moment) < most:
        raise ValueError(
            f"fixed_moment must be below {most:.6g} N·m, the most that the engines which swing can balance, "
            f"got {fixed_moment:.6g} N·m"
        )
    return _trim_angle(fixed_moment, steered_moment, steered_thrust, arm)
