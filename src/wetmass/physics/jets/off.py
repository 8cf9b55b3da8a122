"""Jets that are off, and that spool up."""

from __future__ import annotations

import math

from wetmass.physics.jets.letters import MACH_JET, TORENBEEK
from wetmass.physics.pattern import Letter, above_zero, exp, kernel, not_negative, relation, within


@kernel
def windmill_drag_kernel(fan_diameter, mach, dynamic_pressure, spillage):
    flow = 2.0 / (1.0 + 0.16 * mach * mach) * 3.141592653589793 / 4.0 * spillage * (1.0 - spillage)
    return dynamic_pressure * fan_diameter * fan_diameter * (0.0785 + flow)


@relation(
    kernel=windmill_drag_kernel,
    symbol="D",
    words="drag of a jet that is off and windmills",
    unit="N",
    letters={
        "fan_diameter": Letter("d", "diameter of the intake", "m", 0.2, 4.0),
        "mach": MACH_JET,
        "dynamic_pressure": Letter("q", "dynamic pressure", "Pa", 0.0, 5e4),
        "spillage": Letter("k", "jet speed over flight speed", "", 0.2, 1.0),
    },
    source=TORENBEEK,
)
def windmill_drag(fan_diameter: float, mach: float, dynamic_pressure: float, spillage: float = 0.92) -> float:
    """Drag of a stopped or windmilling jet, q·d²·(0.0785 + 2/(1 + 0.16·M²)·π/4·k·(1 − k)) [N].

    fan_diameter      of the intake                                                             [m]
    mach              0 to 2                                                                    [-]
    dynamic_pressure  of the flow                                                               [Pa]
    spillage          jet over flight speed: 0.92 high bypass, 0.42 low bypass, 0.25 turbojet   [-]

    Nothing where the intake is closed by a door (the door's own drag is the stage's).

    >>> round(windmill_drag(2.0, 0.6, 20_000.0))
    15025
    """
    above_zero(fan_diameter=fan_diameter)
    within(0.0, 2.0, mach=mach)
    not_negative(dynamic_pressure=dynamic_pressure)
    within(0.0, 1.0, spillage=spillage)
    return windmill_drag_kernel(fan_diameter, mach, dynamic_pressure, spillage)


SPOOL_TIME = 5.0 / math.log(20.0)  # s: idle to 95 % in 5 s, as 14 CFR 33.73 asks (from memory)


@kernel
def spool_kernel(since, before, wanted, time_constant):
    return wanted + (before - wanted) * exp(-since / time_constant)


@relation(
    kernel=spool_kernel,
    symbol="f",
    words="share of full thrust while spooling",
    unit="",
    letters={
        "since": Letter("t", "time since the lever moved", "s", 0.0, 60.0),
        "before": Letter("f₀", "share before", "", 0.0, 1.0),
        "wanted": Letter("f₁", "share wanted", "", 0.0, 1.0),
        "time_constant": Letter("τ", "time constant", "s", 0.3, 10.0),
    },
    source="first-order lag; idle to 95 % within 5 s by 14 CFR 33.73, from memory",
)
def spool(since: float, before: float, wanted: float, time_constant: float = SPOOL_TIME) -> float:
    """Share of full thrust a time after the lever moved, f₁ + (f₀ − f₁)·e^(−t/τ) [-].

    since           the lever moved                                          [s]
    before, wanted  shares of full thrust, 0 to 1                            [-]
    time_constant   1.67 s takes 5 s from nothing to 95 %                    [s]

    >>> round(spool(5.0, 0.0, 1.0), 3)
    0.95
    """
    not_negative(since=since)
    within(0.0, 1.0, before=before, wanted=wanted)
    above_zero(time_constant=time_constant)
    return spool_kernel(since, before, wanted, time_constant)
