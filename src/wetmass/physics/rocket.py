"""The rocket equation and what follows from it; thrust in air; one-stage sizing.

Structural fraction is dry mass over dry mass and propellant of the stage, payload not counted.
"""

from __future__ import annotations

from wetmass.physics.pattern import (
    Letter,
    above_zero,
    exp,
    finite,
    kernel,
    log,
    not_negative,
    relation,
    within,
)
from wetmass.record.constants import STANDARD_GRAVITY

SEA_LEVEL_PRESSURE = 101_325.0  # Pa, standard atmosphere: US Standard Atmosphere 1976, table 2

_MASS = (1.0, 5e6)


@kernel
def _ideal_speed_gain(exhaust_speed, start_mass, end_mass):
    return exhaust_speed * log(start_mass / end_mass)


@relation(
    kernel=_ideal_speed_gain,
    symbol="Δv",
    words="ideal speed gain",
    unit="m/s",
    letters={
        "exhaust_speed": Letter("c", "effective exhaust speed", "m/s", 500.0, 10_000.0),
        "start_mass": Letter("m₀", "mass at ignition", "kg", *_MASS),
        "end_mass": Letter("m₁", "mass at burn-out", "kg", *_MASS),
    },
    source="R. A. Braeunig, Rocket and Space Technology, Rocket Propulsion, eq. 1.20, "
    "http://www.braeunig.us/space/propuls.htm",
)
def ideal_speed_gain(exhaust_speed: float, start_mass: float, end_mass: float) -> float:
    """Speed a rocket gains with no gravity and no air, Δv = c·ln(m₀/m₁) [m/s].

    exhaust_speed  effective exhaust speed, Isp·g₀  [m/s]
    start_mass     mass at ignition                 [kg]
    end_mass       mass at burn-out                 [kg]

    Holds for constant exhaust speed.  Raises ValueError when an argument is not above zero.
    Source: R. A. Braeunig, Rocket and Space Technology, Rocket Propulsion, eq. 1.20.

    >>> round(ideal_speed_gain(3000.0, 4000.0, 1000.0), 1)
    4158.9
    """
    above_zero(exhaust_speed=exhaust_speed, start_mass=start_mass, end_mass=end_mass)
    return _ideal_speed_gain(exhaust_speed, start_mass, end_mass)


@kernel
def _thrust_in_air(vacuum_thrust, exit_area, ambient_pressure):
    return vacuum_thrust - ambient_pressure * exit_area


@relation(
    kernel=_thrust_in_air,
    symbol="F",
    words="thrust in air",
    unit="N",
    letters={
        "vacuum_thrust": Letter("F_vac", "thrust in vacuum", "N", 1.0, 5e7),
        "exit_area": Letter("Aₑ", "area of the nozzle exit", "m²", 0.0, 100.0),
        "ambient_pressure": Letter("pₐ", "pressure of the air outside", "Pa", 0.0, 101_325.0),
    },
    source='NASA Glenn Research Center, "Rocket Thrust Equation", '
    "http://www.grc.nasa.gov/WWW/K-12/airplane/rockth.html",
)
def thrust_in_air(vacuum_thrust: float, exit_area: float, ambient_pressure: float) -> float:
    """Thrust of a nozzle outside of which there is air, F = F_vac − pₐ·Aₑ [N].

    vacuum_thrust     thrust in vacuum               [N]
    exit_area         area of the nozzle exit        [m²]
    ambient_pressure  pressure outside, 0 in vacuum  [Pa]

    Holds while the nozzle flows full.  Raises ValueError for a negative or non-finite argument.
    Source: NASA Glenn Research Center, "Rocket Thrust Equation".

    >>> round(thrust_in_air(1_000_000.0, 1.2, 101_325.0))
    878410
    """
    finite(vacuum_thrust=vacuum_thrust)
    not_negative(exit_area=exit_area, ambient_pressure=ambient_pressure)
    return _thrust_in_air(vacuum_thrust, exit_area, ambient_pressure)


_BRAEUNIG = "R. A. Braeunig, Rocket and Space Technology, Example Problems"
_PAGE = "http://www.braeunig.us/space/problem.htm"
_EXHAUST = Letter("c", "effective exhaust speed", "m/s", 500.0, 10_000.0)
_GAIN = Letter("Δv", "ideal speed gain", "m/s", 0.0, 12_000.0)


@kernel
def _effective_exhaust_speed(isp_s):
    return STANDARD_GRAVITY * isp_s


@relation(
    kernel=_effective_exhaust_speed,
    symbol="c",
    words="effective exhaust speed",
    unit="m/s",
    letters={
        "isp_s": Letter("Isp", "specific impulse", "s", 50.0, 1000.0),
    },
    source="definition of specific impulse, F/(ṁ·g₀)",
)
def effective_exhaust_speed(isp_s: float) -> float:
    """Effective exhaust speed of a specific impulse, c = g₀·Isp [m/s].

    isp_s  specific impulse  [s]

    Raises ValueError when it is not above zero.

    >>> round(effective_exhaust_speed(300.0), 3)
    2941.995
    """
    above_zero(isp_s=isp_s)
    return _effective_exhaust_speed(isp_s)


@kernel
def _specific_impulse(thrust, mass_flow):
    return thrust / (mass_flow * STANDARD_GRAVITY)


@relation(
    kernel=_specific_impulse,
    symbol="Isp",
    words="specific impulse",
    unit="s",
    letters={
        "thrust": Letter("F", "thrust", "N", 1.0, 5e7),
        "mass_flow": Letter("ṁ", "propellant flow", "kg/s", 1e-3, 2e4),
    },
    source=f"definition; {_BRAEUNIG}, problem 1.6, {_PAGE}",
)
def specific_impulse(thrust: float, mass_flow: float) -> float:
    """Specific impulse, Isp = F/(ṁ·g₀) [s].

    thrust     [N]
    mass_flow  propellant through the engine  [kg/s]

    Raises ValueError for an argument not above zero.

    >>> round(specific_impulse(1e6, 400.0))
    255
    """
    above_zero(thrust=thrust, mass_flow=mass_flow)
    return _specific_impulse(thrust, mass_flow)


@kernel
def _mass_flow(thrust, exhaust_speed):
    return thrust / exhaust_speed


@relation(
    kernel=_mass_flow,
    symbol="ṁ",
    words="propellant flow",
    unit="kg/s",
    letters={
        "thrust": Letter("F", "thrust", "N", 1.0, 5e7),
        "exhaust_speed": _EXHAUST,
    },
    source="definition of effective exhaust speed, F/ṁ",
)
def mass_flow(thrust: float, exhaust_speed: float) -> float:
    """Propellant flow of a thrust, ṁ = F/c [kg/s].

    thrust         [N]
    exhaust_speed  effective, at the same outside pressure  [m/s]

    Raises ValueError for an argument not above zero.

    >>> mass_flow(240_000.0, 2000.0)
    120.0
    """
    above_zero(thrust=thrust, exhaust_speed=exhaust_speed)
    return _mass_flow(thrust, exhaust_speed)


@kernel
def _thrust_of_flow(mass_flow, exhaust_speed):
    return mass_flow * exhaust_speed


@relation(
    kernel=_thrust_of_flow,
    symbol="F",
    words="thrust",
    unit="N",
    letters={
        "mass_flow": Letter("ṁ", "propellant flow", "kg/s", 1e-3, 2e4),
        "exhaust_speed": _EXHAUST,
    },
    source="definition of effective exhaust speed, F/ṁ",
)
def thrust_of_flow(mass_flow: float, exhaust_speed: float) -> float:
    """Thrust of a propellant flow, F = ṁ·c [N].

    mass_flow      [kg/s]
    exhaust_speed  effective  [m/s]

    Raises ValueError for an argument not above zero.

    >>> thrust_of_flow(700.0, 2805.0)
    1963500.0
    """
    above_zero(mass_flow=mass_flow, exhaust_speed=exhaust_speed)
    return _thrust_of_flow(mass_flow, exhaust_speed)


@kernel
def _burn_time(propellant, mass_flow):
    return propellant / mass_flow


@relation(
    kernel=_burn_time,
    symbol="t_b",
    words="burn time",
    unit="s",
    letters={
        "propellant": Letter("m_p", "propellant burnt", "kg", 1.0, 3e6),
        "mass_flow": Letter("ṁ", "propellant flow", "kg/s", 1e-3, 2e4),
    },
    source="definition of a steady flow",
)
def burn_time(propellant: float, mass_flow: float) -> float:
    """Time to burn a propellant at a steady flow, m_p/ṁ [s].

    propellant  [kg]
    mass_flow   [kg/s]

    Raises ValueError for a negative propellant or a flow not above zero.

    >>> burn_time(108_000.0, 450.0)
    240.0
    """
    not_negative(propellant=propellant)
    above_zero(mass_flow=mass_flow)
    return _burn_time(propellant, mass_flow)


@kernel
def _mass_ratio(speed_gain, exhaust_speed):
    return exp(speed_gain / exhaust_speed)


@relation(
    kernel=_mass_ratio,
    symbol="R",
    words="mass ratio",
    unit="",
    letters={
        "speed_gain": _GAIN,
        "exhaust_speed": _EXHAUST,
    },
    source=f"{_BRAEUNIG}, problem 1.3, {_PAGE} (the rocket equation turned round)",
)
def mass_ratio(speed_gain: float, exhaust_speed: float) -> float:
    """Mass at ignition over mass at burn-out for a speed gain, exp(Δv/c).

    speed_gain     ideal  [m/s]
    exhaust_speed  effective  [m/s]

    Raises ValueError for a negative gain or an exhaust speed not above zero.

    >>> round(mass_ratio(3000.0, 3000.0), 4)
    2.7183
    """
    not_negative(speed_gain=speed_gain)
    above_zero(exhaust_speed=exhaust_speed)
    return _mass_ratio(speed_gain, exhaust_speed)


@kernel
def _propellant_needed(end_mass, speed_gain, exhaust_speed):
    return end_mass * (exp(speed_gain / exhaust_speed) - 1.0)


@relation(
    kernel=_propellant_needed,
    symbol="m_p",
    words="propellant needed",
    unit="kg",
    letters={
        "end_mass": Letter("m₁", "mass at burn-out", "kg", *_MASS),
        "speed_gain": _GAIN,
        "exhaust_speed": _EXHAUST,
    },
    source=f"{_BRAEUNIG}, problem 1.3, {_PAGE}",
)
def propellant_needed(end_mass: float, speed_gain: float, exhaust_speed: float) -> float:
    """Propellant that gives a known end mass a speed gain, m₁·(exp(Δv/c) − 1) [kg].

    end_mass       mass at burn-out  [kg]
    speed_gain     ideal             [m/s]
    exhaust_speed  effective         [m/s]

    Raises ValueError for a negative gain or another argument not above zero.

    >>> round(propellant_needed(75_000.0, 700.0, 3100.0), -3)
    19000.0
    """
    above_zero(end_mass=end_mass, exhaust_speed=exhaust_speed)
    not_negative(speed_gain=speed_gain)
    return _propellant_needed(end_mass, speed_gain, exhaust_speed)


@kernel
def _propellant_spent(start_mass, speed_gain, exhaust_speed):
    return start_mass * (1.0 - exp(-speed_gain / exhaust_speed))


@relation(
    kernel=_propellant_spent,
    symbol="m_p",
    words="propellant spent",
    unit="kg",
    letters={
        "start_mass": Letter("m₀", "mass at ignition", "kg", *_MASS),
        "speed_gain": _GAIN,
        "exhaust_speed": _EXHAUST,
    },
    source=f"{_BRAEUNIG}, problem 1.4, eq. 1.21, {_PAGE}",
)
def propellant_spent(start_mass: float, speed_gain: float, exhaust_speed: float) -> float:
    """Propellant a known start mass spends on a speed gain, m₀·(1 − exp(−Δv/c)) [kg].

    start_mass     mass at ignition  [kg]
    speed_gain     ideal             [m/s]
    exhaust_speed  effective         [m/s]

    Raises ValueError for a negative gain or another argument not above zero.

    >>> round(propellant_spent(5000.0, 4210.0, 3000.0) / 10.0)  # at 10 kg/s: seconds
    377
    """
    above_zero(start_mass=start_mass, exhaust_speed=exhaust_speed)
    not_negative(speed_gain=speed_gain)
    return _propellant_spent(start_mass, speed_gain, exhaust_speed)


@kernel
def _thrust_to_weight(thrust, mass):
    return thrust / (mass * STANDARD_GRAVITY)


@relation(
    kernel=_thrust_to_weight,
    symbol="F/W",
    words="thrust to weight",
    unit="",
    letters={
        "thrust": Letter("F", "thrust", "N", 1.0, 5e7),
        "mass": Letter("m", "mass", "kg", *_MASS),
    },
    source="definition, with standard gravity; common practice",
)
def thrust_to_weight(thrust: float, mass: float) -> float:
    """Thrust over weight at standard gravity, F/(m·g₀).

    thrust  [N]
    mass    [kg]

    Raises ValueError for a negative thrust or a mass not above zero.

    >>> round(thrust_to_weight(2.6e6, 200_000.0), 3)
    1.326
    """
    not_negative(thrust=thrust)
    above_zero(mass=mass)
    return _thrust_to_weight(thrust, mass)


@kernel
def _ignition_mass(payload, ratio, structural_fraction):
    return payload * ratio * (1.0 - structural_fraction) / (1.0 - structural_fraction * ratio)


@relation(
    kernel=_ignition_mass,
    symbol="m₀",
    words="mass at ignition",
    unit="kg",
    letters={
        "payload": Letter("m_u", "mass on top", "kg", 1.0, 1e6),
        "ratio": Letter("R", "mass ratio", "", 1.0, 4.0),
        "structural_fraction": Letter("ε", "structural fraction", "", 0.01, 0.2),
    },
    source="made here from the definitions: m₀ = m_u + m_dry + m_p, R = m₀/(m₀ − m_p), "
    "ε = m_dry/(m_dry + m_p)",
)
def ignition_mass(payload: float, ratio: float, structural_fraction: float) -> float:
    """Mass of stage and everything on it, m_u·R·(1 − ε)/(1 − ε·R) [kg].

    payload              all the stage carries, upper stages too                  [kg]
    ratio                mass at ignition over mass at burn-out, at least 1
    structural_fraction  dry over dry and propellant of the stage, above 0, below 1

    Raises ValueError when the stage alone, without any payload, has less than this ratio: ε·R ≥ 1.

    >>> round(ignition_mass(1000.0, 4.0, 0.1), 6)
    6000.0
    """
    above_zero(payload=payload, structural_fraction=structural_fraction)
    within(1.0, float("inf"), ratio=ratio)
    if not structural_fraction * ratio < 1.0:
        raise ValueError(
            f"ratio must be below {1.0 / structural_fraction:.6g}, the most a stage of structural fraction "
            f"{structural_fraction} has with nothing on it, got {ratio}"
        )
    return _ignition_mass(payload, ratio, structural_fraction)
