"""Air-breathing jets: net thrust and fuel flow with height and Mach number, turned off, spooling up, ramjets.

The relation of record for turbofans and turbojets is one of momentum: the engine passes air in proportion
to its total pressure over the root of its total temperature and adds to each kilogram an energy in
proportion to that temperature; net thrust is what the jet carries off less what the air brought in (ram
drag).  Colder air lets an engine run relatively faster: one exponent says how much.  It was chosen on every
other engine of a published table and is checked on the rest (tests/physics/test_jets.py); published lapse
relations stand beside it in `thrust_ratios`.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from wetmass.physics.pattern import (
    Letter,
    above_zero,
    exp,
    greatest,
    kernel,
    not_negative,
    relation,
    select,
    sqrt,
    within,
)

SEA_LEVEL_TEMPERATURE = 288.15  # K, US Standard Atmosphere 1976
SEA_LEVEL_PRESSURE = 101_325.0  # Pa, US Standard Atmosphere 1976
SOUND = math.sqrt(1.4 * 287.053)  # m/s per root kelvin: sound in air
AIR_HEAT = 3.5 * 287.053  # J/(kg·K), heat capacity of air at constant pressure

# Exponents of the total-temperature ratio, from the even rows of tests/data/jet_engines.csv: there the mean
# logarithm of the error of thrust, and the median one of fuel flow, vanish.
COLD_GAIN = 0.95
COLD_FUEL = 0.6

MEIER = (
    "N. Meier, Civil Turbojet/Turbofan Specifications, as stored in the public repository "
    "TUDelft-CNS-ATM/openap, scripts/input/civtfspec.csv"
)
MOMENTUM = f"momentum balance with ram drag; one exponent from published cruise ratings ({MEIER})"
MATTINGLY_1987 = "Mattingly, Heiser & Daley, Aircraft Engine Design, 1st ed. (1987), from memory"
MATTINGLY_2002 = (
    "Mattingly, Heiser & Pratt, Aircraft Engine Design, 2nd ed. (2002), sec. 2.3.2 and 3.3.2; read in public "
    "restatements"
)
BARTEL_YOUNG = (
    "M. Bartel & T. M. Young, Simplified Thrust and Fuel Consumption Models for Modern Two-Shaft Turbofan "
    "Engines (2008), eq. 11 to 14; read in the public repository TUDelft-CNS-ATM/openap, openap/thrust.py"
)
TORENBEEK = "E. Torenbeek, Synthesis of Subsonic Airplane Design, app. G-8, from memory"
RECOVERY = "MIL-E-5008B intake recovery, from memory"

MOST_MACH_FAN = 0.9  # where the published high-bypass relations end
MOST_MACH_JET = 2.0
REHEATED_SPEED = (
    1000.0  # m/s, static thrust over air flow with the afterburner burning: 900 to 1100, from memory
)
MOST_REHEATED_BYPASS = 1.5  # of turbofans with afterburners, from memory
LEAST_PRESSURE = 14_000.0  # Pa, about 13.7 km: engines of the table are rated no higher, from memory

_STATIC = ("F₀", "static thrust at sea level", "N", 1e3, 6e5)
_JET_SPEED = ("w", "static thrust over air flow", "m/s", 200.0, 900.0)
_MACH = ("M", "Mach number", "", 0.0, 0.9)
_PRESSURE = ("p", "pressure of the air", "Pa", 14_000.0, 101_325.0)
_TEMPERATURE = ("T", "temperature of the air", "K", 210.0, 310.0)
_DELTA = ("δ", "air pressure over that at sea level", "", 0.14, 1.0)
_THETA = ("θ", "air temperature over that at sea level", "", 0.73, 1.07)


# ── the relation of record ───────────────────────────────────────────────────────────────────────


@kernel(mach=(0.0, 5.0))
def _recovery(mach):
    """Share of the total pressure an intake keeps: 1 to Mach 1, then 1 − 0.075·(M − 1)^1.35.

    The power is taken from 1e-6 on: at 0 it has no curvature that is a number.
    """
    return 1.0 - select(mach > 1.0, 0.075 * greatest(1e-6, mach - 1.0) ** 1.35, 0.0)


@kernel
def jet_thrust_kernel(static_thrust, jet_speed, mach, pressure, temperature):
    t0 = temperature / SEA_LEVEL_TEMPERATURE * (1.0 + 0.2 * mach * mach)
    d0 = pressure / SEA_LEVEL_PRESSURE * (1.0 + 0.2 * mach * mach) ** 3.5 * _recovery(mach)
    gain = t0**-COLD_GAIN
    flight = mach * SOUND * sqrt(temperature) / jet_speed
    return static_thrust * d0 / sqrt(t0) * gain * (sqrt(flight * flight + t0 * gain) - flight)


@relation(
    kernel=jet_thrust_kernel,
    symbol="F",
    words="net thrust of a jet at full throttle",
    unit="N",
    letters={
        "static_thrust": Letter(*_STATIC),
        "jet_speed": Letter(*_JET_SPEED),
        "mach": Letter(*_MACH),
        "pressure": Letter(*_PRESSURE),
        "temperature": Letter(*_TEMPERATURE),
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
    d0 = pressure / SEA_LEVEL_PRESSURE * (1.0 + 0.2 * mach * mach) ** 3.5 * _recovery(mach)
    return static_fuel_flow * d0 * sqrt(t0) * t0**-COLD_FUEL


@relation(
    kernel=jet_fuel_kernel,
    symbol="ṁ_f",
    words="fuel flow of a jet at full throttle",
    unit="kg/s",
    letters={
        "static_fuel_flow": Letter("ṁ₀", "fuel flow on a test stand at sea level", "kg/s", 0.01, 10.0),
        "mach": Letter("M", "Mach number", "", 0.0, 2.0),
        "pressure": Letter(*_PRESSURE),
        "temperature": Letter(*_TEMPERATURE),
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


# ── published lapse relations, side by side ──────────────────────────────────────────────────────


@kernel
def _lapse_1987(mach, theta, delta):
    return (0.568 + 0.25 * (1.2 - mach) ** 3) * (delta / theta) ** 0.6


@relation(
    kernel=_lapse_1987,
    symbol="α",
    words="thrust over static thrust, high bypass, first edition",
    unit="",
    letters={"mach": Letter(*_MACH), "theta": Letter(*_THETA), "delta": Letter(*_DELTA)},
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
        "mach": Letter(*_MACH),
        "theta": Letter(*_THETA),
        "delta": Letter(*_DELTA),
        "throttle_ratio": Letter("TR", "throttle ratio", "", 1.0, 1.1),
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
        "mach": Letter("M", "Mach number", "", 0.0, 2.0),
        "theta": Letter(*_THETA),
        "delta": Letter(*_DELTA),
        "throttle_ratio": Letter("TR", "throttle ratio", "", 1.0, 1.1),
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
        "mach": Letter("M", "Mach number", "", 0.0, 2.0),
        "theta": Letter(*_THETA),
        "delta": Letter(*_DELTA),
        "throttle_ratio": Letter("TR", "throttle ratio", "", 1.0, 1.1),
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
    return (start + slope * mach) * sqrt(theta) / (3600.0 * 9.80665)


@relation(
    kernel=_fuel_2002,
    symbol="c_T",
    words="fuel flow over thrust",
    unit="kg/(N·s)",
    letters={
        "start": Letter("a", "at rest", "1/h", 0.3, 1.6),
        "slope": Letter("b", "per Mach number", "1/h", 0.2, 0.6),
        "mach": Letter("M", "Mach number", "", 0.0, 2.0),
        "theta": Letter(*_THETA),
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


# ── ramjets ──────────────────────────────────────────────────────────────────────────────────────


@kernel
def ramjet_thrust_kernel(
    capture_area, mach, pressure, temperature, burner_temperature, fuel_heat, pressure_share
):
    """Net thrust [N] of a ramjet whose nozzle expands to the air's pressure; none where it cannot run."""
    rise = 1.0 + 0.2 * mach * mach
    total = temperature * rise
    speed = mach * SOUND * sqrt(temperature)
    air = pressure / (287.053 * temperature) * speed * capture_area
    fuel = greatest(0.0, AIR_HEAT * (burner_temperature - total) / fuel_heat)
    kept = rise**3.5 * _recovery(mach) * pressure_share
    fall = greatest(kept, 1.0) ** (-1.0 / 3.5)
    jet = sqrt(2.0 * AIR_HEAT * greatest(burner_temperature, total) * (1.0 - fall))
    return greatest(0.0, air * ((1.0 + fuel) * jet - speed))


@kernel
def ramjet_fuel_kernel(capture_area, mach, pressure, temperature, burner_temperature, fuel_heat):
    """Fuel flow [kg/s] that heats the captured air to the burner temperature."""
    total = temperature * (1.0 + 0.2 * mach * mach)
    air = pressure / (287.053 * temperature) * mach * SOUND * sqrt(temperature) * capture_area
    return air * greatest(0.0, AIR_HEAT * (burner_temperature - total) / fuel_heat)


_RAMJET = {
    "capture_area": Letter("A", "intake area of the captured air", "m²", 0.05, 10.0),
    "mach": Letter("M", "Mach number", "", 1.0, 5.0),
    "pressure": Letter("p", "pressure of the air", "Pa", 500.0, 101_325.0),
    "temperature": Letter(*_TEMPERATURE),
    "burner_temperature": Letter("T_b", "total temperature after burning", "K", 1500.0, 2500.0),
    "fuel_heat": Letter("H", "heat of combustion", "J/kg", 4.2e7, 1.2e8),
}
_RAMJET_SOURCE = "momentum balance of an ideal-cycle ramjet with intake and burner losses; " + RECOVERY


@relation(
    kernel=ramjet_thrust_kernel,
    symbol="F",
    words="net thrust of a ramjet",
    unit="N",
    letters={
        **_RAMJET,
        "pressure_share": Letter("π", "total pressure kept by burner and nozzle", "", 0.6, 1.0),
    },
    source=_RAMJET_SOURCE,
)
def ramjet_thrust(
    capture_area: float,
    mach: float,
    pressure: float,
    temperature: float,
    burner_temperature: float,
    fuel_heat: float = 4.28e7,
    pressure_share: float = 0.85,
) -> float:
    """Net thrust of a ramjet, ṁ·((1 + f)·v_j − v) [N].

    capture_area        of the air taken in, full flow                          [m²]
    mach                1 to 5                                                  [-]
    pressure            of the air                                              [Pa]
    temperature         of the air                                              [K]
    burner_temperature  total, after burning, 1000 to 2600                      [K]
    fuel_heat           of combustion; 42.8 MJ/kg for kerosene, from memory     [J/kg]
    pressure_share      total pressure kept by burner and nozzle, up to 1       [-]

    Perfect gas (cold-air heat capacity), intake losses by MIL-E-5008B, nozzle fully expanded: 10 to 20 %
    high above Mach 3, where gas heats up and dissociates.  Raises ValueError outside.

    >>> round(ramjet_thrust(1.0, 2.5, 12_045.0, 216.65, 2200.0) / 1e3, 1)
    119.0
    """
    above_zero(capture_area=capture_area, pressure=pressure, fuel_heat=fuel_heat)
    within(1.0, 5.0, mach=mach)
    within(180.0, 330.0, temperature=temperature)
    within(1000.0, 2600.0, burner_temperature=burner_temperature)
    if not 0.0 < pressure_share <= 1.0:
        raise ValueError(f"pressure_share must lie above 0 and at most 1, got {pressure_share}")
    return ramjet_thrust_kernel(
        capture_area, mach, pressure, temperature, burner_temperature, fuel_heat, pressure_share
    )


@relation(
    kernel=ramjet_fuel_kernel,
    symbol="ṁ_f",
    words="fuel flow of a ramjet",
    unit="kg/s",
    letters=_RAMJET,
    source="heat balance of the burner",
)
def ramjet_fuel(
    capture_area: float,
    mach: float,
    pressure: float,
    temperature: float,
    burner_temperature: float,
    fuel_heat: float = 4.28e7,
) -> float:
    """Fuel flow of a ramjet, ṁ·c_p·(T_b − T₀)/H [kg/s].  Arguments as for `ramjet_thrust`.

    >>> round(ramjet_fuel(1.0, 2.5, 12_045.0, 216.65, 2200.0), 2)
    5.74
    """
    above_zero(capture_area=capture_area, pressure=pressure, fuel_heat=fuel_heat)
    within(1.0, 5.0, mach=mach)
    within(180.0, 330.0, temperature=temperature)
    within(1000.0, 2600.0, burner_temperature=burner_temperature)
    return ramjet_fuel_kernel(capture_area, mach, pressure, temperature, burner_temperature, fuel_heat)


@kernel
def _ideal_ramjet(mach, temperature, burner_temperature):
    total = temperature * (1.0 + 0.2 * mach * mach)
    return mach * SOUND * sqrt(temperature) * (sqrt(burner_temperature / total) - 1.0)


@relation(
    kernel=_ideal_ramjet,
    symbol="F/ṁ",
    words="net thrust per air flow of the ideal ramjet",
    unit="m/s",
    letters={
        "mach": Letter("M", "Mach number", "", 1.0, 5.0),
        "temperature": Letter(*_TEMPERATURE),
        "burner_temperature": Letter("T_b", "total temperature after burning", "K", 1500.0, 2500.0),
    },
    source="ideal ramjet, v·(√(T_b/T₀) − 1): any propulsion text, from memory",
)
def ideal_ramjet(mach: float, temperature: float, burner_temperature: float) -> float:
    """Net thrust per air flow with no loss and no mass of fuel, v·(√(T_b/T₀) − 1) [m/s].

    The ceiling to hold `ramjet_thrust` against (below 0 where the air is hotter than the burner).

    >>> round(ideal_ramjet(2.5, 216.65, 2200.0))
    829
    """
    within(1.0, 5.0, mach=mach)
    within(180.0, 330.0, temperature=temperature)
    within(1000.0, 2600.0, burner_temperature=burner_temperature)
    return _ideal_ramjet(mach, temperature, burner_temperature)


# ── off, and starting ────────────────────────────────────────────────────────────────────────────


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
        "mach": Letter("M", "Mach number", "", 0.0, 2.0),
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


# ── classes ──────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class JetClass:
    """A class of jets: what they weigh, burn and reach."""

    name: str
    bypass: tuple[float, float]
    thrust_to_weight: tuple[float, float, float]  # low, usual, high: static thrust over weight of the engine
    static_fuel: tuple[float, float]  # lb/(lbf·h) on a test stand
    most_mach: float
    ceiling: float  # m, from memory
    source: str
    status: str


_CEILING = "; ceiling from memory"
JET_CLASSES: dict[str, JetClass] = {
    row.name: row
    for row in (
        JetClass("high-bypass turbofan", (4.0, 12.0), (4.0, 5.5, 7.0), (0.31, 0.43), 0.9, 13_700.0,
                 MEIER + _CEILING, "read"),
        JetClass("medium-bypass turbofan", (1.5, 4.0), (4.0, 4.7, 5.3), (0.44, 0.57), 0.9, 13_700.0,
                 MEIER + _CEILING, "read"),
        JetClass("low-bypass turbofan", (0.3, 1.5), (3.9, 4.5, 4.8), (0.56, 0.74), 2.0, 13_700.0,
                 MEIER + _CEILING, "read"),
        JetClass("military turbofan, dry", (0.2, 0.8), (4.5, 4.7, 6.0), (0.70, 0.82), 2.0, 13_700.0,
                 "makers' brochures, from memory", "from memory"),
        JetClass("military turbofan, reheated", (0.2, 0.8), (7.5, 7.8, 9.0), (1.7, 2.0), 2.0, 13_700.0,
                 "makers' brochures, from memory", "from memory"),
        JetClass("turbojet", (0.0, 0.3), (3.0, 5.0, 7.3), (0.78, 1.0), 2.0, 13_700.0,
                 MEIER + _CEILING, "read"),
    )
}  # fmt: skip


def jet_class(name: str) -> JetClass:
    """The class of that name.  Raises ValueError listing them when there is none."""
    if name not in JET_CLASSES:
        raise ValueError(f"jet class: got {name!r}; known are {', '.join(JET_CLASSES)}")
    return JET_CLASSES[name]


def jet_mass(static_thrust: float, class_name: str) -> tuple[float, float, float]:
    """(light, usual, heavy) mass of a bare jet of a class [kg]; static thrust in N.

    >>> [round(m) for m in jet_mass(120_000.0, "high-bypass turbofan")]
    [1748, 2225, 3059]
    """
    above_zero(static_thrust=static_thrust)
    low, usual, high = jet_class(class_name).thrust_to_weight
    heavy, middle, light = (static_thrust / (9.80665 * ratio) for ratio in (low, usual, high))
    return light, middle, heavy


def static_fuel_flow(static_thrust: float, pounds_per_pound_hour: float) -> float:
    """Fuel flow at full thrust on a test stand [kg/s] from the printed lb/(lbf·h).

    The figure is fuel weight over thrust per hour: in kg/s it is F·c/(3600·g₀).

    >>> round(static_fuel_flow(111_206.0, 0.33), 3)
    1.039
    """
    above_zero(static_thrust=static_thrust, pounds_per_pound_hour=pounds_per_pound_hour)
    return static_thrust * pounds_per_pound_hour / (3600.0 * 9.80665)


FAN_LOADING = 175.0  # kg/s of air per m² of fan on a test stand; 163 to 183 in the published table


def fan_diameter(static_thrust: float, speed: float) -> float:
    """Fan diameter [m] for a static thrust [N] and static thrust over air flow [m/s], within about 5 %.

    >>> round(fan_diameter(111_206.0, 288.0), 2)
    1.68
    """
    above_zero(static_thrust=static_thrust, speed=speed)
    return math.sqrt(4.0 * static_thrust / (speed * FAN_LOADING * math.pi))
