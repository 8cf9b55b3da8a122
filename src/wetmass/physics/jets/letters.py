"""Constants, letters and sources that relations of jets have in common."""

from __future__ import annotations

import math

from wetmass.physics.pattern import Letter

SEA_LEVEL_TEMPERATURE = 288.15  # K, US Standard Atmosphere 1976
AIR_GAS = 287.053  # J/(kg·K), gas constant of air
SOUND = math.sqrt(1.4 * AIR_GAS)  # m/s per root kelvin: sound in air
AIR_HEAT = 3.5 * AIR_GAS  # J/(kg·K), heat capacity of air at constant pressure
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
STATIC = Letter("F₀", "static thrust at sea level", "N", 1e3, 6e5)
JET_SPEED = Letter("w", "static thrust over air flow", "m/s", 200.0, 900.0)
MACH = Letter("M", "Mach number", "", 0.0, 0.9)
MACH_JET = Letter("M", "Mach number", "", 0.0, 2.0)
PRESSURE = Letter("p", "pressure of the air", "Pa", 14_000.0, 101_325.0)
TEMPERATURE = Letter("T", "temperature of the air", "K", 210.0, 310.0)
DELTA = Letter("δ", "air pressure over that at sea level", "", 0.14, 1.0)
THETA = Letter("θ", "air temperature over that at sea level", "", 0.73, 1.07)
THROTTLE_RATIO = Letter("TR", "throttle ratio", "", 1.0, 1.1)
