"""Published lapse relations, side by side."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.physics.jets.letters import (
    BARTEL_YOUNG,
    DELTA,
    LEAST_PRESSURE,
    MACH,
    MACH_JET,
    MATTINGLY_1987,
    MATTINGLY_2002,
    MOMENTUM,
    MOST_MACH_FAN,
    MOST_MACH_JET,
    SEA_LEVEL_TEMPERATURE,
    THETA,
    THROTTLE_RATIO,
)
from wetmass.physics.jets.momentum import jet_speed, jet_thrust
from wetmass.physics.pattern import Letter, above_zero, greatest, kernel, relation, sqrt, within
from wetmass.physics.rocket import SEA_LEVEL_PRESSURE
from wetmass.record.constants import STANDARD_GRAVITY


@kernel
def _lapse_1987(mach, theta, delta):
    return (0.568 + 0.25 * (1.2 - mach) ** 3) * (delta / theta) ** 0.6


@relation(
    kernel=_lapse_1987,
    symbol="α",
    words="thrust over static thrust, high bypass, first edition",
    unit="",
    letters={"mach": MACH, "theta": THETA, "delta": DELTA},
    source=MATTINGLY_1987,
)
def lapse_1987(mach: float, theta: float, delta: float) -> float:
    """High-bypass lapse [0.568 + 0.25·(1.2 − M)³]·σ^0.6 [-]; σ = δ/θ.

    Gives 0.29 at Mach 0.8 and 10.7 km, where published cruise ratings have a median of 0.22: 30 % too much.

    >>> round(lapse_1987(0.8, 0.7594, 0.2353), 3)
    0.289
    """
    _lapse_reach(mach, MOST_MACH_FAN, theta, delta)
    return _lapse_1987(mach, theta, delta)


@kernel
def _lapse_2002_high(mach, theta, delta, throttle_ratio):
    t0 = theta * (1.0 + 0.2 * mach * mach)
    d0 = delta * (1.0 + 0.2 * mach * mach) ** 3.5
    return d0 * (1.0 - 0.49 * sqrt(mach) - 3.0 * greatest(0.0, t0 - throttle_ratio) / (1.5 + mach))


@relation(
    kernel=_lapse_2002_high,
    symbol="α",
    words="thrust over static thrust, high bypass, second edition",
    unit="",
    letters={
        "mach": MACH,
        "theta": THETA,
        "delta": DELTA,
        "throttle_ratio": THROTTLE_RATIO,
    },
    source=MATTINGLY_2002,
)
def lapse_2002_high(mach: float, theta: float, delta: float, throttle_ratio: float = 1.05) -> float:
    """High-bypass lapse δ₀·(1 − 0.49·√M − 3·(θ₀ − TR)/(1.5 + M)), the last term above TR only [-].

    >>> round(lapse_2002_high(0.8, 0.7594, 0.2353), 3)
    0.201
    """
    _lapse_reach(mach, MOST_MACH_FAN, theta, delta)
    above_zero(throttle_ratio=throttle_ratio)
    return _lapse_2002_high(mach, theta, delta, throttle_ratio)


@kernel
def _lapse_2002_jet(mach, theta, delta, throttle_ratio):
    t0 = theta * (1.0 + 0.2 * mach * mach)
    d0 = delta * (1.0 + 0.2 * mach * mach) ** 3.5
    return d0 * (1.0 - 0.16 * sqrt(mach) - 24.0 * greatest(0.0, t0 - throttle_ratio) / ((9.0 + mach) * t0))


@relation(
    kernel=_lapse_2002_jet,
    symbol="α",
    words="thrust over static dry thrust, turbojet, second edition",
    unit="",
    letters={
        "mach": MACH_JET,
        "theta": THETA,
        "delta": DELTA,
        "throttle_ratio": THROTTLE_RATIO,
    },
    source=MATTINGLY_2002 + "; its factor 0.8 (dry over reheated) taken off",
)
def lapse_2002_jet(mach: float, theta: float, delta: float, throttle_ratio: float = 1.05) -> float:
    """Dry turbojet lapse δ₀·(1 − 0.16·√M − 24·(θ₀ − TR)/((9 + M)·θ₀)), the last term above TR only [-].

    >>> round(lapse_2002_jet(0.8, 0.7594, 0.2353), 3)
    0.307
    """
    _lapse_reach(mach, MOST_MACH_JET, theta, delta)
    above_zero(throttle_ratio=throttle_ratio)
    return _lapse_2002_jet(mach, theta, delta, throttle_ratio)


@kernel
def _lapse_2002_reheat(mach, theta, delta, throttle_ratio):
    t0 = theta * (1.0 + 0.2 * mach * mach)
    d0 = delta * (1.0 + 0.2 * mach * mach) ** 3.5
    return d0 * (1.0 - 0.3 * (t0 - 1.0) - 0.1 * sqrt(mach) - 1.5 * greatest(0.0, t0 - throttle_ratio) / t0)


@relation(
    kernel=_lapse_2002_reheat,
    symbol="α",
    words="thrust over static reheated thrust, turbojet, second edition",
    unit="",
    letters={
        "mach": MACH_JET,
        "theta": THETA,
        "delta": DELTA,
        "throttle_ratio": THROTTLE_RATIO,
    },
    source=MATTINGLY_2002,
)
def lapse_2002_reheat(mach: float, theta: float, delta: float, throttle_ratio: float = 1.05) -> float:
    """Reheated turbojet lapse δ₀·(1 − 0.3·(θ₀ − 1) − 0.1·√M − 1.5·(θ₀ − TR)/θ₀), the last above TR only [-].

    >>> round(lapse_2002_reheat(0.0, 1.0, 1.0), 3)
    1.0
    """
    _lapse_reach(mach, MOST_MACH_JET, theta, delta)
    above_zero(throttle_ratio=throttle_ratio)
    return _lapse_2002_reheat(mach, theta, delta, throttle_ratio)


@kernel
def _lapse_take_off(mach, delta, bypass_ratio):
    gas = 0.0606 * bypass_ratio + 0.6337
    a = -0.4327 * delta**2 + 1.3855 * delta + 0.0472
    z = 0.9106 * delta**3 - 1.7736 * delta**2 + 1.8697 * delta
    x = 0.1377 * delta**3 - 0.4374 * delta**2 + 1.3003 * delta
    slope = 0.377 * (1.0 + bypass_ratio) / sqrt((1.0 + 0.82 * bypass_ratio) * gas)
    return a - slope * z * mach + (0.23 + 0.19 * sqrt(bypass_ratio)) * x * mach * mach


@relation(
    kernel=_lapse_take_off,
    symbol="α",
    words="thrust over static thrust, two-shaft turbofan at take-off",
    unit="",
    letters={
        "mach": Letter("M", "Mach number", "", 0.0, 0.4),
        "delta": Letter("δ", "air pressure over that at sea level", "", 0.65, 1.0),
        "bypass_ratio": Letter("B", "bypass ratio", "", 1.0, 12.0),
    },
    source=BARTEL_YOUNG,
)
def lapse_take_off(mach: float, delta: float, bypass_ratio: float) -> float:
    """Take-off lapse A − 0.377·(1 + B)/√((1 + 0.82·B)·G₀)·Z·M + (0.23 + 0.19·√B)·X·M² [-].

    Drawn for take-off: taken to Mach 0.4 and 3.6 km (δ 0.65) here, refused beyond.

    >>> round(lapse_take_off(0.4, 1.0, 5.0), 3)
    0.688
    """
    within(0.0, 0.4, mach=mach)
    within(0.65, 1.0, delta=delta)
    within(1.0, 12.0, bypass_ratio=bypass_ratio)
    return _lapse_take_off(mach, delta, bypass_ratio)


def _lapse_reach(mach: float, most: float, theta: float, delta: float) -> None:
    within(0.0, most, mach=mach)
    within(0.6, 1.2, theta=theta)
    within(LEAST_PRESSURE / SEA_LEVEL_PRESSURE, 1.05, delta=delta)


@dataclass(frozen=True, slots=True)
class Lapse:
    """One relation's thrust over static thrust."""

    relation: str
    ratio: float
    source: str


def thrust_ratios(
    bypass_ratio: float, mach: float, pressure: float, temperature: float, *, speed: float | None = None
) -> tuple[Lapse, ...]:
    """Net thrust over static thrust by every relation that reaches there; the one of record first.

    bypass_ratio  0 to 12                                                  [-]
    mach, pressure, temperature  as for `jet_thrust`
    speed         static thrust over air flow, where the air flow is known [m/s]

    >>> [round(each.ratio, 2) for each in thrust_ratios(5.1, 0.8, 23_842.0, 218.8)]
    [0.22, 0.2, 0.29]
    """
    w = jet_speed(bypass_ratio) if speed is None else speed
    theta, delta = temperature / SEA_LEVEL_TEMPERATURE, pressure / SEA_LEVEL_PRESSURE
    made = [Lapse("momentum", jet_thrust(1.0, w, mach, pressure, temperature), MOMENTUM)]
    if bypass_ratio >= 4.0:
        made.append(Lapse("lapse_2002_high", lapse_2002_high(mach, theta, delta), MATTINGLY_2002))
        made.append(Lapse("lapse_1987", lapse_1987(mach, theta, delta), MATTINGLY_1987))
    else:
        made.append(Lapse("lapse_2002_jet", lapse_2002_jet(mach, theta, delta), MATTINGLY_2002))
    if bypass_ratio >= 1.0 and mach <= 0.4 and 0.65 <= delta <= 1.0:
        made.append(Lapse("lapse_take_off", lapse_take_off(mach, delta, bypass_ratio), BARTEL_YOUNG))
    return tuple(made)


@kernel
def _fuel_2002(start, slope, mach, theta):
    return (start + slope * mach) * sqrt(theta) / (3600.0 * STANDARD_GRAVITY)


@relation(
    kernel=_fuel_2002,
    symbol="c_T",
    words="fuel flow over thrust",
    unit="kg/(N·s)",
    letters={
        "start": Letter("a", "at rest", "1/h", 0.3, 1.6),
        "slope": Letter("b", "per Mach number", "1/h", 0.2, 0.6),
        "mach": MACH_JET,
        "theta": THETA,
    },
    source=MATTINGLY_2002,
)
def fuel_2002(start: float, slope: float, mach: float, theta: float) -> float:
    """Installed fuel flow over thrust, (a + b·M)·√θ in lb/(lbf·h), turned to [kg/(N·s)].

    start, slope  high bypass 0.45, 0.54; low bypass dry 0.9, 0.30, reheated 1.6, 0.27;
                  turbojet dry 1.1, 0.30, reheated 1.5, 0.23
    mach, theta   as above

    Meant for advanced military practice and installed: a quarter above the cruise figures of civil engines.

    >>> round(fuel_2002(0.45, 0.54, 0.8, 0.7594) * 3600 * 9.80665, 3)
    0.769
    """
    above_zero(start=start, slope=slope)
    within(0.0, MOST_MACH_JET, mach=mach)
    within(0.6, 1.2, theta=theta)
    return _fuel_2002(start, slope, mach, theta)
