"""Thrust and fuel of ramjets."""

from __future__ import annotations

from wetmass.physics.jets.letters import AIR_GAS, AIR_HEAT, RECOVERY, SOUND, TEMPERATURE
from wetmass.physics.jets.momentum import recovery
from wetmass.physics.pattern import Letter, above_zero, greatest, kernel, relation, sqrt, within


@kernel
def ramjet_thrust_kernel(
    capture_area, mach, pressure, temperature, burner_temperature, fuel_heat, pressure_share
):
    """Net thrust [N] of a ramjet whose nozzle expands to the air's pressure; none where it cannot run."""
    rise = 1.0 + 0.2 * mach * mach
    total = temperature * rise
    speed = mach * SOUND * sqrt(temperature)
    air = pressure / (AIR_GAS * temperature) * speed * capture_area
    fuel = greatest(0.0, AIR_HEAT * (burner_temperature - total) / fuel_heat)
    kept = rise**3.5 * recovery(mach) * pressure_share
    fall = greatest(kept, 1.0) ** (-1.0 / 3.5)
    jet = sqrt(2.0 * AIR_HEAT * greatest(burner_temperature, total) * (1.0 - fall))
    return greatest(0.0, air * ((1.0 + fuel) * jet - speed))


@kernel
def ramjet_fuel_kernel(capture_area, mach, pressure, temperature, burner_temperature, fuel_heat):
    """Fuel flow [kg/s] that heats the captured air to the burner temperature."""
    total = temperature * (1.0 + 0.2 * mach * mach)
    air = pressure / (AIR_GAS * temperature) * mach * SOUND * sqrt(temperature) * capture_area
    return air * greatest(0.0, AIR_HEAT * (burner_temperature - total) / fuel_heat)


_RAMJET = {
    "capture_area": Letter("A", "intake area of the captured air", "m²", 0.05, 10.0),
    "mach": Letter("M", "Mach number", "", 1.0, 5.0),
    "pressure": Letter("p", "pressure of the air", "Pa", 500.0, 101_325.0),
    "temperature": TEMPERATURE,
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
        "temperature": TEMPERATURE,
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
