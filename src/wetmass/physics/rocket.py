"""The rocket equation, and the thrust of a nozzle in air."""

from __future__ import annotations

from wetmass.physics.pattern import Letter, above_zero, finite, kernel, log, not_negative, relation

STANDARD_GRAVITY = 9.80665  # m/s², exact by definition: SI Brochure, 9th edition, section 2.3 / CGPM 1901
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
