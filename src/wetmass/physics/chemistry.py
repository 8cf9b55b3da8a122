"""Chamber and expansion of a propellant pair in chemical equilibrium, computed with Cantera where it is there.

Cantera is a general-purpose library and an extra of this package (`pip install "wetmass[thermo]"`): it is
imported when it is first asked for.  The table that stands in for it was written with this same file, so the
two part only by the interpolation between its rows (tests/physics/test_chemistry.py).
"""

from __future__ import annotations

import functools
import math
import warnings
from typing import Any

from wetmass.physics.chamber import ENTHALPIES, EQUILIBRIUM, IdealEngine, ideal_engine, within_reach

SPECIES = (
    "H", "H2", "O", "O2", "OH", "H2O", "HO2", "H2O2", "CO", "CO2", "HCO", "CH4", "CH3", "N", "N2", "NO",
    "NO2", "N2O", "NH3", "NH", "HCN", "HNO", "C",
)  # fmt: skip
ATOMIC = {"H": 1.008, "O": 15.999, "C": 12.011, "N": 14.007}  # kg/kmol

# composition, kJ/mol of the liquid: cryogens boiling at 101 325 Pa (enthalpy of formation from memory, less
# what CoolProp 6.8 gives from the gas at 298.15 K), the others at 298.15 K, from memory
LIQUIDS: dict[str, tuple[dict[str, float], float]] = {
    "LOX": ({"O": 2}, -12.9397),
    "LH2": ({"H": 2}, -9.012),  # conversion to para included
    "LCH4": ({"C": 1, "H": 4}, -89.1984),  # gas −74.6
    "RP-1": ({"C": 1, "H": 1.95}, -24.717),
    "propane": ({"C": 3, "H": 8}, -128.0514),  # gas −104.68
    "ethane": ({"C": 2, "H": 6}, -103.9303),  # gas −83.85
    "ethanol": ({"C": 2, "H": 6, "O": 1}, -277.51),
    "NTO": ({"N": 2, "O": 4}, -19.564),
    "UDMH": ({"C": 2, "H": 8, "N": 2}, 48.3),
    "MMH": ({"C": 1, "H": 6, "N": 2}, 54.2),
    "hydrazine": ({"N": 2, "H": 4}, 50.63),
    "H2O2": ({"H": 2, "O": 2}, -187.78),
    "water": ({"H": 2, "O": 1}, -285.83),
}
MIXED = {"Aerozine-50": (("UDMH", 0.5), ("hydrazine", 0.5)), "H2O2": (("H2O2", 0.98), ("water", 0.02))}


def cantera() -> Any | None:
    """The library, None where it is not installed."""
    try:
        import cantera
    except ImportError:
        return None
    return cantera


def best_engine(
    pair: str, chamber_pressure: float, mixture_ratio: float, area_ratio: float, efficiency: float
) -> IdealEngine:
    """As `ideal_engine`, computed with Cantera where it is installed, else by the table; `source` says which.

    Both have the same reach, so that a concept is read alike everywhere.  Raises ValueError outside.

    >>> engine = best_engine("LOX/LH2", 20.6e6, 6.0, 69.0, 1.0)
    >>> round(engine.ideal_vacuum_speed / 9.80665)
    463
    """
    values = (pair, chamber_pressure, mixture_ratio, area_ratio, efficiency)
    return ideal_engine(*values) if cantera() is None else computed_engine(*values)


@functools.lru_cache(maxsize=256)
def computed_engine(
    pair: str, chamber_pressure: float, mixture_ratio: float, area_ratio: float, efficiency: float
) -> IdealEngine:
    """As `ideal_engine`, computed with Cantera.  Raises RuntimeError where that is not installed."""
    library = cantera()
    if library is None:
        raise RuntimeError('Cantera is not installed: pip install "wetmass[thermo]"')
    name = within_reach(pair, chamber_pressure, mixture_ratio, area_ratio, efficiency)
    burnt = Chamber(name, mixture_ratio, chamber_pressure)
    coefficient, fall = burnt.exit(area_ratio)
    return IdealEngine(
        name, mixture_ratio, chamber_pressure, area_ratio, burnt.temperature, burnt.molar_mass, burnt.gamma,
        burnt.characteristic_speed, coefficient, chamber_pressure * math.exp(-fall),
        burnt.characteristic_speed * coefficient, efficiency,
        f"{EQUILIBRIUM}, computed with Cantera {library.__version__}, NASA polynomials; {ENTHALPIES}",
        f"computed with Cantera {library.__version__}",
    )  # fmt: skip


@functools.cache
def _gas() -> Any:
    library = cantera()
    assert library is not None
    every = {s.name: s for s in library.Species.list_from_file("nasa_gas.yaml")}
    return library.Solution(thermo="ideal-gas", species=[every[name] for name in SPECIES])


def per_kilogram(name: str) -> tuple[dict[str, float], float]:
    """(mol of each element, enthalpy [J]) of a kilogram of a propellant."""
    if name not in MIXED:
        return _single(name)
    elements: dict[str, float] = {}
    enthalpy = 0.0
    for part, share in MIXED[name]:
        inner, h = _single(part)
        enthalpy += share * h
        for element, amount in inner.items():
            elements[element] = elements.get(element, 0.0) + share * amount
    return elements, enthalpy


def _single(name: str) -> tuple[dict[str, float], float]:
    composition, kilojoule = LIQUIDS[name]
    molar = sum(ATOMIC[e] * n for e, n in composition.items()) * 1e-3
    return {e: n / molar for e, n in composition.items()}, kilojoule * 1e3 / molar


class Chamber:
    """A pair burnt in a chamber, and its expansion in equilibrium.

    pair           its own name, "LOX/LCH4"
    mixture_ratio  oxidiser over fuel by mass
    pressure       in the chamber [Pa]
    """

    def __init__(self, pair: str, mixture_ratio: float, pressure: float) -> None:
        from scipy.optimize import minimize_scalar

        gas = self.gas = _gas()
        self.pressure = pressure
        oxidiser, fuel = (per_kilogram(half) for half in pair.split("/"))
        share = mixture_ratio / (1.0 + mixture_ratio)
        elements = {e: share * n for e, n in oxidiser[0].items()}
        for e, n in fuel[0].items():
            elements[e] = elements.get(e, 0.0) + (1.0 - share) * n
        gas.TPX = 3000.0, pressure, elements
        gas.equilibrate("TP", rtol=1e-9, max_steps=5000)
        gas.HP = share * oxidiser[1] + (1.0 - share) * fuel[1], pressure
        gas.equilibrate("HP", rtol=1e-9, max_steps=5000)
        self.temperature, self.molar_mass = float(gas.T), float(gas.mean_molecular_weight)
        self._state, self._enthalpy, self._entropy = gas.TPX, gas.h, gas.s
        densities = []
        for step in (1e-4, -1e-4):
            self.speed(pressure * (1.0 + step))
            densities.append(gas.density)
        self.gamma = math.log((1 + 1e-4) / (1 - 1e-4)) / math.log(densities[0] / densities[1])
        throat = minimize_scalar(
            lambda x: -self._flux(x * pressure), bounds=(0.5, 0.65), method="bounded", options={"xatol": 1e-7}
        )
        self._throat_flux = float(-throat.fun)
        self.characteristic_speed = pressure / self._throat_flux

    def speed(self, pressure: float) -> float:
        """Speed [m/s] once expanded to `pressure` [Pa]; the gas is left there."""
        self.gas.TPX = self._state
        self.gas.SP = self._entropy, pressure
        with warnings.catch_warnings():  # a wide nozzle ends a little below the 200 K of the polynomials
            warnings.simplefilter("ignore", UserWarning)
            self.gas.equilibrate("SP", rtol=1e-10, max_steps=5000)
        return math.sqrt(max(2.0 * (self._enthalpy - self.gas.h), 0.0))

    def _flux(self, pressure: float) -> float:
        return self.speed(pressure) * self.gas.density

    def exit(self, area_ratio: float) -> tuple[float, float]:
        """(thrust coefficient in vacuum, ln of chamber over exit pressure) at an exit over throat area."""
        from scipy.optimize import brentq

        x = brentq(
            lambda x: math.log(self._throat_flux / self._flux(self.pressure * math.exp(-x)) / area_ratio),
            1.0, 11.0, xtol=1e-9,
        )  # fmt: skip
        pressure = self.pressure * math.exp(-x)
        speed = self.speed(pressure)
        return float(speed / self.characteristic_speed + area_ratio * pressure / self.pressure), float(x)
