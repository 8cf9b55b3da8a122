"""The ideal nozzle: exhaust speed, throat, area ratio, thrust coefficient; separation; adapting nozzles.

Letters: γ isentropic exponent, T_c, p_c, M chamber temperature [K], pressure [Pa] and molar mass [kg/kmol],
ε exit over throat area, pₑ exit and pₐ outside pressure [Pa].
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.physics.pattern import Letter, above_zero, greatest, kernel, least, not_negative, relation, sqrt
from wetmass.physics.tanks.solid import rising_root

GAS_CONSTANT = 8314.46261815324  # J/(kmol·K), exact: SI Brochure, 9th edition
BRAEUNIG = (
    "R. A. Braeunig, Rocket and Space Technology, Rocket Propulsion, http://www.braeunig.us/space/propuls.htm"
)
IDEAL = "ideal nozzle: perfect gas, one-dimensional, no losses (any gas-dynamics text)"
SUMMERFIELD = (
    "Summerfield criterion, flow leaves the wall near 0.4 of the pressure outside, as quoted by R. H. "
    "Schmucker (1973, NASA TM-77396) in a public answer"
)
SCHMUCKER = (
    "R. H. Schmucker, Flow Processes in Overexpanded Chemical Rocket Nozzles (1973, NASA TM-77396); drawn "
    "from tests at Mach 1.5 to 4.5; form read in public restatements"
)

_GAMMA = ("γ", "isentropic exponent of the exhaust", "", 1.1, 1.4)
_TEMPERATURE = ("T_c", "temperature in the chamber", "K", 1000.0, 4000.0)
_MOLAR = ("M", "molar mass of the exhaust", "kg/kmol", 2.0, 40.0)
_CHAMBER = ("p_c", "pressure in the chamber", "Pa", 5e5, 3e7)
_FALL = ("x", "exit pressure over chamber pressure", "", 1e-4, 0.3)
_AREA = ("ε", "exit area over throat area", "", 2.0, 300.0)


def _gamma_above_one(gamma: float) -> None:
    if not 1.0 < gamma < 2.0:
        raise ValueError(f"gamma must lie above 1 and below 2, got {gamma}")


def _is_a_fall(ratio: float) -> None:
    if not 0.0 < ratio < 1.0:
        raise ValueError(f"pressure_ratio (exit over chamber) must lie above 0 and below 1, got {ratio}")


@kernel
def _exhaust_speed(temperature, molar_mass, gamma, pressure_ratio):
    r = GAS_CONSTANT / molar_mass
    return sqrt(
        2.0 * gamma / (gamma - 1.0) * r * temperature * (1.0 - pressure_ratio ** ((gamma - 1.0) / gamma))
    )


@relation(
    kernel=_exhaust_speed,
    symbol="vₑ",
    words="exhaust speed",
    unit="m/s",
    letters={
        "temperature": Letter(*_TEMPERATURE),
        "molar_mass": Letter(*_MOLAR),
        "gamma": Letter(*_GAMMA),
        "pressure_ratio": Letter(*_FALL),
    },
    source=BRAEUNIG,
)
def exhaust_speed(temperature: float, molar_mass: float, gamma: float, pressure_ratio: float) -> float:
    """Speed at the exit of an ideal nozzle, vₑ = √(2γ/(γ−1)·R·T_c/M·(1 − (pₑ/p_c)^((γ−1)/γ))) [m/s].

    temperature     in the chamber              [K]
    molar_mass      of the exhaust              [kg/kmol]
    gamma           isentropic exponent         [-]
    pressure_ratio  exit over chamber pressure  [-]

    Raises ValueError outside these senses.  Source: R. A. Braeunig, Rocket and Space Technology.

    >>> round(exhaust_speed(3470.0, 21.4, 1.221, 1 / 50))
    2749
    """
    above_zero(temperature=temperature, molar_mass=molar_mass)
    _gamma_above_one(gamma)
    _is_a_fall(pressure_ratio)
    return _exhaust_speed(temperature, molar_mass, gamma, pressure_ratio)


@kernel
def _throat_pressure(chamber_pressure, gamma):
    return chamber_pressure * (1.0 + (gamma - 1.0) / 2.0) ** (-gamma / (gamma - 1.0))


@relation(
    kernel=_throat_pressure,
    symbol="p_t",
    words="pressure in the throat",
    unit="Pa",
    letters={"chamber_pressure": Letter(*_CHAMBER), "gamma": Letter(*_GAMMA)},
    source=BRAEUNIG,
)
def throat_pressure(chamber_pressure: float, gamma: float) -> float:
    """Pressure in the throat, p_t = p_c·(1 + (γ−1)/2)^(−γ/(γ−1)) [Pa].

    >>> round(throat_pressure(5.066e6, 1.221), -3)
    2839000.0
    """
    above_zero(chamber_pressure=chamber_pressure)
    _gamma_above_one(gamma)
    return _throat_pressure(chamber_pressure, gamma)


@kernel
def _throat_temperature(temperature, gamma):
    return temperature / (1.0 + (gamma - 1.0) / 2.0)


@relation(
    kernel=_throat_temperature,
    symbol="T_t",
    words="temperature in the throat",
    unit="K",
    letters={"temperature": Letter(*_TEMPERATURE), "gamma": Letter(*_GAMMA)},
    source=BRAEUNIG,
)
def throat_temperature(temperature: float, gamma: float) -> float:
    """Temperature in the throat, T_t = T_c/(1 + (γ−1)/2) [K].

    >>> round(throat_temperature(3470.0, 1.221))
    3125
    """
    above_zero(temperature=temperature)
    _gamma_above_one(gamma)
    return _throat_temperature(temperature, gamma)


@kernel
def _characteristic_speed(temperature, molar_mass, gamma):
    r = GAS_CONSTANT / molar_mass
    return sqrt(r * temperature / gamma) * ((gamma + 1.0) / 2.0) ** ((gamma + 1.0) / (2.0 * (gamma - 1.0)))


@relation(
    kernel=_characteristic_speed,
    symbol="c*",
    words="characteristic speed",
    unit="m/s",
    letters={
        "temperature": Letter(*_TEMPERATURE),
        "molar_mass": Letter(*_MOLAR),
        "gamma": Letter(*_GAMMA),
    },
    source=IDEAL,
)
def characteristic_speed(temperature: float, molar_mass: float, gamma: float) -> float:
    """Chamber pressure times throat area over mass flow [m/s].

    c* = √(R·T_c/(M·γ))·((γ+1)/2)^((γ+1)/(2(γ−1)))

    >>> round(characteristic_speed(3470.0, 21.4, 1.221))
    1779
    """
    above_zero(temperature=temperature, molar_mass=molar_mass)
    _gamma_above_one(gamma)
    return _characteristic_speed(temperature, molar_mass, gamma)


@kernel
def _throat_area(mass_flow, chamber_pressure, temperature, molar_mass, gamma):
    return mass_flow / chamber_pressure * _characteristic_speed(temperature, molar_mass, gamma)


@relation(
    kernel=_throat_area,
    symbol="A_t",
    words="area of the throat",
    unit="m²",
    letters={
        "mass_flow": Letter("ṁ", "propellant through the nozzle", "kg/s", 1.0, 5000.0),
        "chamber_pressure": Letter(*_CHAMBER),
        "temperature": Letter(*_TEMPERATURE),
        "molar_mass": Letter(*_MOLAR),
        "gamma": Letter(*_GAMMA),
    },
    source=BRAEUNIG,
)
def throat_area(
    mass_flow: float, chamber_pressure: float, temperature: float, molar_mass: float, gamma: float
) -> float:
    """Throat that passes a mass flow, A_t = ṁ·c*/p_c [m²].

    >>> round(throat_area(500.0, 5.066e6, 3470.0, 21.4, 1.221), 4)
    0.1756
    """
    above_zero(
        mass_flow=mass_flow, chamber_pressure=chamber_pressure, temperature=temperature, molar_mass=molar_mass
    )
    _gamma_above_one(gamma)
    return _throat_area(mass_flow, chamber_pressure, temperature, molar_mass, gamma)


@kernel
def _exit_mach(pressure_ratio, gamma):
    return sqrt(2.0 / (gamma - 1.0) * (pressure_ratio ** (-(gamma - 1.0) / gamma) - 1.0))


@relation(
    kernel=_exit_mach,
    symbol="Mₑ",
    words="Mach number at the exit",
    unit="",
    letters={"pressure_ratio": Letter(*_FALL), "gamma": Letter(*_GAMMA)},
    source=BRAEUNIG,
)
def exit_mach(pressure_ratio: float, gamma: float) -> float:
    """Mach number where the pressure has fallen to pₑ, √(2/(γ−1)·((pₑ/p_c)^(−(γ−1)/γ) − 1)) [-].

    >>> round(exit_mach(79.5e3 / 5.066e6, 1.221), 3)
    3.185
    """
    _is_a_fall(pressure_ratio)
    _gamma_above_one(gamma)
    return _exit_mach(pressure_ratio, gamma)


@kernel
def _area_ratio(pressure_ratio, gamma):
    g = gamma
    throat = (2.0 / (g + 1.0)) ** (1.0 / (g - 1.0)) * sqrt((g - 1.0) / (g + 1.0))
    return throat / (
        pressure_ratio ** (1.0 / g) * sqrt(greatest(1e-300, 1.0 - pressure_ratio ** ((g - 1.0) / g)))
    )


@relation(
    kernel=_area_ratio,
    symbol="ε",
    words="exit area over throat area",
    unit="",
    letters={"pressure_ratio": Letter(*_FALL), "gamma": Letter(*_GAMMA)},
    source=IDEAL,
)
def area_ratio(pressure_ratio: float, gamma: float) -> float:
    """Exit over throat area that lowers the pressure to pₑ/p_c [-].

    ε = (2/(γ+1))^(1/(γ−1))·√((γ−1)/(γ+1)) / ((pₑ/p_c)^(1/γ)·√(1 − (pₑ/p_c)^((γ−1)/γ)))

    >>> round(area_ratio(79.5e3 / 5.066e6, 1.221), 2)
    8.11
    """
    _is_a_fall(pressure_ratio)
    _gamma_above_one(gamma)
    return _area_ratio(pressure_ratio, gamma)


def exit_pressure_ratio(area_ratio: float, gamma: float) -> float:
    """Exit over chamber pressure of the supersonic flow at an area ratio [-], found to the last digit.

    area_ratio  exit over throat area, above 1  [-]
    gamma       isentropic exponent             [-]

    >>> round(1 / exit_pressure_ratio(25.0, 1.2), 1)
    262.9
    """
    _gamma_above_one(gamma)
    if not 1.0 < area_ratio < 1e5:
        raise ValueError(f"area_ratio must lie above 1 and below 100000, got {area_ratio}")
    start = math.log(1.0 / _throat_pressure(1.0, gamma))
    x = rising_root(lambda x: math.log(_area_ratio(math.exp(-x), gamma) / area_ratio), start, start + 40.0)
    return math.exp(-x)


@kernel
def _thrust_coefficient(gamma, pressure_ratio, area_ratio, ambient_ratio):
    g = gamma
    momentum = sqrt(
        2.0
        * g
        * g
        / (g - 1.0)
        * (2.0 / (g + 1.0)) ** ((g + 1.0) / (g - 1.0))
        * (1.0 - pressure_ratio ** ((g - 1.0) / g))
    )
    return momentum + (pressure_ratio - ambient_ratio) * area_ratio


@relation(
    kernel=_thrust_coefficient,
    symbol="C_F",
    words="thrust coefficient",
    unit="",
    letters={
        "gamma": Letter(*_GAMMA),
        "pressure_ratio": Letter(*_FALL),
        "area_ratio": Letter(*_AREA),
        "ambient_ratio": Letter("y", "outside pressure over chamber pressure", "", 0.0, 0.05),
    },
    source=IDEAL,
)
def thrust_coefficient(
    gamma: float, pressure_ratio: float, area_ratio: float, ambient_ratio: float = 0.0
) -> float:
    """Thrust over chamber pressure times throat area, momentum part + (pₑ − pₐ)/p_c·ε [-].

    gamma           isentropic exponent                       [-]
    pressure_ratio  exit over chamber pressure                [-]
    area_ratio      exit over throat area                     [-]
    ambient_ratio   outside over chamber pressure, 0 vacuum   [-]

    Holds while the nozzle flows full (see `separation`).

    >>> round(thrust_coefficient(1.2, exit_pressure_ratio(25.0, 1.2), 25.0), 4)
    1.8424
    """
    _gamma_above_one(gamma)
    _is_a_fall(pressure_ratio)
    above_zero(area_ratio=area_ratio)
    not_negative(ambient_ratio=ambient_ratio)
    return _thrust_coefficient(gamma, pressure_ratio, area_ratio, ambient_ratio)


# ── separation ───────────────────────────────────────────────────────────────────────────────────


@kernel
def _schmucker(exit_mach):
    return (1.88 * exit_mach - 1.0) ** -0.64


@relation(
    kernel=_schmucker,
    symbol="p_s/pₐ",
    words="pressure at which the flow leaves the wall, over that outside",
    unit="",
    letters={"exit_mach": Letter("Mₑ", "Mach number at the wall", "", 1.5, 6.0)},
    source=SCHMUCKER,
)
def schmucker(exit_mach: float) -> float:
    """Wall pressure at which the flow leaves it, over the pressure outside, (1.88·M − 1)^−0.64 [-].

    Drawn from tests at Mach 1.5 to 4.5; given to Mach 6, refused outside 1.5 to 6.

    >>> round(schmucker(4.0), 3)
    0.301
    """
    if not 1.5 <= exit_mach <= 6.0:
        raise ValueError(
            f"exit_mach must lie between 1.5 and 6, where the criterion is taken to hold, got {exit_mach}"
        )
    return _schmucker(exit_mach)


@dataclass(frozen=True, slots=True)
class Separation:
    """Does a nozzle flow full?  Two published criteria beside each other."""

    exit_over_ambient: float  # exit over outside pressure
    summerfield: float  # limit of that ratio: 0.4
    schmucker: float  # limit of that ratio at the exit's Mach number
    verdict: str  # "full", "doubtful" or "separated"
    source: str


def separation(exit_pressure: float, ambient_pressure: float, mach: float) -> Separation:
    """Hold a nozzle's exit against two separation criteria.

    exit_pressure     of the full flow, lower when throttled  [Pa]
    ambient_pressure  outside, 0 in vacuum                    [Pa]
    mach              at the exit, 1.5 to 6                   [-]

    "doubtful" lies between the two limits.  Nozzles that flow full below them exist (contoured walls).
    """
    above_zero(exit_pressure=exit_pressure)
    not_negative(ambient_pressure=ambient_pressure)
    limit = schmucker(mach)
    ratio = exit_pressure / ambient_pressure if ambient_pressure > 0.0 else math.inf
    lower, upper = min(0.4, limit), max(0.4, limit)
    verdict = "full" if ratio >= upper else "separated" if ratio < lower else "doubtful"
    return Separation(ratio, 0.4, limit, verdict, f"{SUMMERFIELD}; {SCHMUCKER}")


# ── nozzles that adapt to the height ─────────────────────────────────────────────────────────────


@kernel(gamma=(1.1, 1.4), pressure_ratio=(1e-4, 0.02), ambient_ratio=(0.0, 0.05))
def _adapted_coefficient(gamma, pressure_ratio, ambient_ratio):
    """Thrust coefficient of a nozzle always expanded to the pressure outside, down to its full expansion."""
    fall = greatest(pressure_ratio, least(ambient_ratio, 0.5))
    return _thrust_coefficient(gamma, fall, _area_ratio(fall, gamma), ambient_ratio)


@kernel(
    vacuum_thrust=(1e3, 2e7), gamma=(1.1, 1.4), pressure_ratio=(1e-4, 0.02), ambient_ratio=(0.0, 0.05),
    efficiency=(0.0, 1.0),
)  # fmt: skip
def adapting_gain_kernel(vacuum_thrust, gamma, pressure_ratio, ambient_ratio, efficiency):
    """Thrust gained over the fixed bell of the same area, none in vacuum."""
    area = _area_ratio(pressure_ratio, gamma)
    vacuum = _thrust_coefficient(gamma, pressure_ratio, area, 0.0)
    bell = _thrust_coefficient(gamma, pressure_ratio, area, ambient_ratio)
    ideal = _adapted_coefficient(gamma, pressure_ratio, ambient_ratio)
    return vacuum_thrust / vacuum * efficiency * (ideal - bell)


@kernel
def _adapting_thrust(vacuum_thrust, gamma, pressure_ratio, ambient_ratio, efficiency):
    area = _area_ratio(pressure_ratio, gamma)
    vacuum = _thrust_coefficient(gamma, pressure_ratio, area, 0.0)
    bell = _thrust_coefficient(gamma, pressure_ratio, area, ambient_ratio)
    ideal = _adapted_coefficient(gamma, pressure_ratio, ambient_ratio)
    return vacuum_thrust / vacuum * (bell + efficiency * (ideal - bell))


@relation(
    kernel=_adapting_thrust,
    symbol="F",
    words="thrust of an altitude-adapting nozzle",
    unit="N",
    letters={
        "vacuum_thrust": Letter("F_vac", "thrust in vacuum", "N", 1e3, 2e7),
        "gamma": Letter(*_GAMMA),
        "pressure_ratio": Letter("x", "exit over chamber pressure at full expansion", "", 1e-4, 0.02),
        "ambient_ratio": Letter("y", "outside pressure over chamber pressure", "", 0.0, 0.05),
        "efficiency": Letter("η", "0 as a fixed bell, 1 as ideal expansion", "", 0.0, 1.0),
    },
    source=IDEAL + "; the blend between fixed bell and ideal expansion is our own",
)
def adapting_thrust(
    vacuum_thrust: float, gamma: float, pressure_ratio: float, ambient_ratio: float, efficiency: float
) -> float:
    """Thrust of a nozzle that adapts to the pressure outside, F_bell + η·(F_ideal − F_bell) [N].

    vacuum_thrust   in vacuum, full expansion                            [N]
    gamma           isentropic exponent                                  [-]
    pressure_ratio  exit over chamber pressure at full expansion         [-]
    ambient_ratio   outside over chamber pressure, 0 in vacuum, to 0.5   [-]
    efficiency      0 a fixed bell of that area, 1 expanded to the pressure outside at every height  [-]

    Ideal expansion is the ceiling for any such nozzle; above the height where the full expansion is reached
    both are the same.  In vacuum nothing is gained.  Raises ValueError outside.

    >>> round(adapting_thrust(1e6, 1.2, exit_pressure_ratio(25.0, 1.2), 101_325 / 7e6, 1.0))
    867678
    """
    above_zero(vacuum_thrust=vacuum_thrust)
    _gamma_above_one(gamma)
    _is_a_fall(pressure_ratio)
    if not 0.0 <= ambient_ratio <= 0.5:
        raise ValueError(
            f"ambient_ratio must lie between 0 and 0.5 of the chamber pressure, got {ambient_ratio}"
        )
    if not 0.0 <= efficiency <= 1.0:
        raise ValueError(f"efficiency must lie between 0 (fixed bell) and 1 (ideal), got {efficiency}")
    return _adapting_thrust(vacuum_thrust, gamma, pressure_ratio, ambient_ratio, efficiency)
