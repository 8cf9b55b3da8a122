"""Air-breathing jets: net thrust and fuel flow with height and Mach number, turned off, spooling up, ramjets.

The relation of record for turbofans and turbojets is one of momentum: the engine passes air in proportion
to its total pressure over the root of its total temperature and adds to each kilogram an energy in
proportion to that temperature; net thrust is what the jet carries off less what the air brought in (ram
drag).  Colder air lets an engine run relatively faster: one exponent says how much.  It was chosen on every
other engine of a published table and is checked on the rest (tests/physics/test_jets.py); published lapse
relations stand beside it in `thrust_ratios`.
"""

from wetmass.physics.jets.classes import (
    FAN_LOADING,
    JET_CLASSES,
    JetClass,
    fan_diameter,
    jet_class,
    jet_mass,
    static_fuel_flow,
)
from wetmass.physics.jets.lapses import (
    Lapse,
    fuel_2002,
    lapse_1987,
    lapse_2002_high,
    lapse_2002_jet,
    lapse_2002_reheat,
    lapse_take_off,
    thrust_ratios,
)
from wetmass.physics.jets.letters import (
    AIR_HEAT,
    LEAST_PRESSURE,
    MOST_MACH_FAN,
    MOST_MACH_JET,
    MOST_REHEATED_BYPASS,
    REHEATED_SPEED,
    SOUND,
)
from wetmass.physics.jets.momentum import jet_fuel, jet_fuel_kernel, jet_speed, jet_thrust, jet_thrust_kernel
from wetmass.physics.jets.off import SPOOL_TIME, spool, spool_kernel, windmill_drag, windmill_drag_kernel
from wetmass.physics.jets.ramjets import (
    ideal_ramjet,
    ramjet_fuel,
    ramjet_fuel_kernel,
    ramjet_thrust,
    ramjet_thrust_kernel,
)

__all__ = [
    "AIR_HEAT",
    "FAN_LOADING",
    "JET_CLASSES",
    "LEAST_PRESSURE",
    "MOST_MACH_FAN",
    "MOST_MACH_JET",
    "MOST_REHEATED_BYPASS",
    "REHEATED_SPEED",
    "SOUND",
    "SPOOL_TIME",
    "JetClass",
    "Lapse",
    "fan_diameter",
    "fuel_2002",
    "ideal_ramjet",
    "jet_class",
    "jet_fuel",
    "jet_fuel_kernel",
    "jet_mass",
    "jet_speed",
    "jet_thrust",
    "jet_thrust_kernel",
    "lapse_1987",
    "lapse_2002_high",
    "lapse_2002_jet",
    "lapse_2002_reheat",
    "lapse_take_off",
    "ramjet_fuel",
    "ramjet_fuel_kernel",
    "ramjet_thrust",
    "ramjet_thrust_kernel",
    "spool",
    "spool_kernel",
    "static_fuel_flow",
    "thrust_ratios",
    "windmill_drag",
    "windmill_drag_kernel",
]
