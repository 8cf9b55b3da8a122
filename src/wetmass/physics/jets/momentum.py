"""Net thrust and fuel of turbofans and turbojets: the relation of record, a momentum balance."""

from __future__ import annotations

import itertools

from wetmass.physics.jets.letters import (
    COLD_FUEL,
    COLD_GAIN,
    JET_SPEED,
    LEAST_PRESSURE,
    MACH,
    MACH_JET,
    MEIER,
    MOMENTUM,
    MOST_MACH_FAN,
    MOST_MACH_JET,
    PRESSURE,
    SEA_LEVEL_TEMPERATURE,
    SOUND,
    STATIC,
    TEMPERATURE,
)
from wetmass.physics.pattern import Letter, above_zero, greatest, kernel, relation, select, sqrt, within
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE


@kernel(mach=(0.0, 5.0))
def recovery(mach):
    """Share of the total pressure an intake keeps: 1 to Mach 1, then 1 − 0.075·(M − 1)^1.35.

    The power is taken from 1e-6 on: at 0 it has no curvature that is a number.
    """
    return 1.0 - select(mach > 1.0, 0.075 * greatest(1e-6, mach - 1.0) ** 1.35, 0.0)


@kernel
def jet_thrust_kernel(static_thrust, jet_speed, mach, pressure, temperature):
    t0 = temperature / SEA_LEVEL_TEMPERATURE * (1.0 + 0.2 * mach * mach)
    d0 = pressure / SEA_LEVEL_PRESSURE * (1.0 + 0.2 * mach * mach) ** 3.5 * recovery(mach)
    gain = t0**-COLD_GAIN
    flight = mach * SOUND * sqrt(temperature) / jet_speed
    return static_thrust * d0 / sqrt(t0) * gain * (sqrt(flight * flight + t0 * gain) - flight)


@relation(
    kernel=jet_thrust_kernel,
    symbol="F",
    words="net thrust of a jet at full throttle",
    unit="N",
    letters={
        "static_thrust": STATIC,
        "jet_speed": JET_SPEED,
        "mach": MACH,
        "pressure": PRESSURE,
        "temperature": TEMPERATURE,
    },
    source=MOMENTUM,
)
def jet_thrust(
    static_thrust: float, jet_speed: float, mach: float, pressure: float, temperature: float
) -> float:
    """Net thrust of a turbofan or dry turbojet at full throttle, ram drag taken off [N].

    F = F₀·δ₀/√θ₀·g·(√(β² + θ₀·g) − β), θ₀, δ₀ total over sea-level static, g = θ₀^−0.95, β = v/w

    static_thrust  on a test stand at sea level              [N]
    jet_speed      static thrust over air flow (`jet_speed`) [m/s]
    mach           of flight, to 0.9 below 400 m/s jet speed, to 2 above  [-]
    pressure       of the air, 14 kPa (13.7 km) to 105 kPa   [Pa]
    temperature    of the air, 180 to 330                    [K]

    Static thrust at sea level is met exactly.  Against cruise ratings of engines not used for the exponent
    the median error is 8 %; flat-rated engines scatter by 30 % and more.  Raises ValueError outside.

    >>> round(jet_thrust(111_200.0, 300.0, 0.8, 23_842.0, 218.8) / 111_200.0, 3)
    0.216
    """
    above_zero(static_thrust=static_thrust, jet_speed=jet_speed)
    _in_reach(jet_speed, mach, pressure, temperature)
    return jet_thrust_kernel(static_thrust, jet_speed, mach, pressure, temperature)


def _in_reach(jet_speed: float, mach: float, pressure: float, temperature: float) -> None:
    most = MOST_MACH_FAN if jet_speed < 400.0 else MOST_MACH_JET
    if not 0.0 <= mach <= most:
        raise ValueError(
            f"mach must lie between 0 and {most} for a jet speed of {jet_speed:g} m/s, where relations "
            f"and data hold, got {mach}"
        )
    if not LEAST_PRESSURE <= pressure <= 105_000.0:
        raise ValueError(
            f"pressure must lie between {LEAST_PRESSURE:g} Pa (about 13.7 km, the ceiling of such "
            f"engines) and 105000 Pa, got {pressure} Pa"
        )
    within(180.0, 330.0, temperature=temperature)


@kernel
def jet_fuel_kernel(static_fuel_flow, mach, pressure, temperature):
    t0 = temperature / SEA_LEVEL_TEMPERATURE * (1.0 + 0.2 * mach * mach)
    d0 = pressure / SEA_LEVEL_PRESSURE * (1.0 + 0.2 * mach * mach) ** 3.5 * recovery(mach)
    return static_fuel_flow * d0 * sqrt(t0) * t0**-COLD_FUEL


@relation(
    kernel=jet_fuel_kernel,
    symbol="ṁ_f",
    words="fuel flow of a jet at full throttle",
    unit="kg/s",
    letters={
        "static_fuel_flow": Letter("ṁ₀", "fuel flow on a test stand at sea level", "kg/s", 0.01, 10.0),
        "mach": MACH_JET,
        "pressure": PRESSURE,
        "temperature": TEMPERATURE,
    },
    source="similarity of engine running, ṁ_f/(δ₀·√θ₀); one exponent from published cruise ratings ("
    + MEIER
    + ")",
)
def jet_fuel(static_fuel_flow: float, mach: float, pressure: float, temperature: float) -> float:
    """Fuel flow of a turbofan or dry turbojet at full throttle, ṁ₀·δ₀·√θ₀·θ₀^−0.6 [kg/s].

    static_fuel_flow  at full thrust on a test stand at sea level  [kg/s]
    mach, pressure, temperature  as for `jet_thrust`

    With the thrust of `jet_thrust`; at part throttle fuel flow falls about in proportion to thrust, with
    some percent left at idle.  Median error 10 % against engines not used for the exponent.

    >>> round(jet_fuel(1.0, 0.8, 23_842.0, 218.8), 3)
    0.364
    """
    above_zero(static_fuel_flow=static_fuel_flow)
    _in_reach(1e3, mach, pressure, temperature)
    return jet_fuel_kernel(static_fuel_flow, mach, pressure, temperature)


_JET_SPEEDS = (  # (bypass ratio, m/s): through static thrust over air flow of the same published table
    (0.0, 630.0), (0.5, 570.0), (1.0, 460.0), (1.75, 400.0), (3.0, 340.0),
    (4.5, 325.0), (5.5, 305.0), (6.5, 290.0), (8.5, 262.0), (12.0, 230.0),
)  # fmt: skip


def jet_speed(bypass_ratio: float) -> float:
    """Static thrust over air flow that engines of a bypass ratio have [m/s], within about 10 %.

    From the published table (0 to 8.7; to 12 drawn on from memory).  Give thrust over air flow itself where
    the air flow is known.  Raises ValueError outside 0 to 12.

    >>> round(jet_speed(5.0))
    315
    """
    within(0.0, 12.0, bypass_ratio=bypass_ratio)
    for (b0, w0), (b1, w1) in itertools.pairwise(_JET_SPEEDS):
        if bypass_ratio <= b1:
            return w0 + (w1 - w0) * (bypass_ratio - b0) / (b1 - b0)
    raise AssertionError("unreachable")
