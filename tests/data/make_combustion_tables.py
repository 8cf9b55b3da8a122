"""Write src/wetmass/physics/combustion_tables.py: what pairs give in an ideal engine.

Chemical equilibrium by Cantera (its nasa_gas.yaml, NASA polynomials), shifting all the way to the exit.
Cantera is a general-purpose library and is needed only to run this by hand:
    pip install cantera && python tests/data/make_combustion_tables.py

Enthalpies of the liquids: cryogens at their boiling point, from CoolProp (liquid against gas at 298.15 K)
and standard enthalpies of formation; the others at 298.15 K.  Formation enthalpies are from memory.
"""

from __future__ import annotations

import math
from pathlib import Path

import cantera as ct
import numpy as np
from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq, minimize_scalar

TARGET = Path(__file__).resolve().parents[2] / "src" / "wetmass" / "physics" / "combustion_tables.py"
SPECIES = (
    "H", "H2", "O", "O2", "OH", "H2O", "HO2", "H2O2", "CO", "CO2", "HCO", "CH4", "CH3", "N", "N2", "NO",
    "NO2", "N2O", "NH3", "NH", "HCN", "HNO", "C",
)  # fmt: skip
ATOMIC = {"H": 1.008, "O": 15.999, "C": 12.011, "N": 14.007}
PRESSURES = (2e6, 7e6, 25e6)
AREA_RATIOS = (4.0, 10.0, 25.0, 60.0, 150.0, 400.0)


def boiling(fluid: str, formation: float) -> float:
    """kJ/mol of the liquid at 1 atm."""
    liquid = PropsSI("Hmolar", "P", 101325.0, "Q", 0, fluid)
    return formation + (liquid - PropsSI("Hmolar", "T", 298.15, "P", 1e5, fluid)) / 1e3


# composition, kJ/mol
LIQUIDS: dict[str, tuple[dict[str, float], float]] = {
    "LOX": ({"O": 2}, boiling("Oxygen", 0.0)),
    "LH2": ({"H": 2}, -9.012),  # conversion to para included; from memory
    "LCH4": ({"C": 1, "H": 4}, boiling("Methane", -74.6)),
    "RP-1": ({"C": 1, "H": 1.95}, -24.717),
    "propane": ({"C": 3, "H": 8}, boiling("n-Propane", -104.68)),
    "ethane": ({"C": 2, "H": 6}, boiling("Ethane", -83.85)),
    "ethanol": ({"C": 2, "H": 6, "O": 1}, -277.51),
    "NTO": ({"N": 2, "O": 4}, -19.564),
    "UDMH": ({"C": 2, "H": 8, "N": 2}, 48.3),
    "MMH": ({"C": 1, "H": 6, "N": 2}, 54.2),
    "hydrazine": ({"N": 2, "H": 4}, 50.63),
    "H2O2": ({"H": 2, "O": 2}, -187.78),
    "water": ({"H": 2, "O": 1}, -285.83),
}
MIXED = {"Aerozine-50": (("UDMH", 0.5), ("hydrazine", 0.5)), "H2O2": (("H2O2", 0.98), ("water", 0.02))}
GRID = {  # mixture ratios
    "LOX/LH2": (3.0, 4.0, 5.0, 5.5, 6.0, 6.5, 7.5, 9.0),
    "LOX/LCH4": (2.0, 2.5, 3.0, 3.3, 3.6, 3.9, 4.3, 5.0),
    "LOX/RP-1": (1.6, 2.0, 2.3, 2.5, 2.7, 2.9, 3.3, 4.0),
    "LOX/propane": (1.8, 2.2, 2.6, 2.9, 3.1, 3.4, 3.8, 4.5),
    "LOX/ethane": (1.8, 2.3, 2.7, 3.0, 3.3, 3.6, 4.0, 4.7),
    "LOX/ethanol": (0.9, 1.2, 1.4, 1.6, 1.8, 2.0, 2.3, 2.8),
    "NTO/UDMH": (1.3, 1.7, 2.0, 2.3, 2.6, 2.9, 3.3, 4.0),
    "NTO/MMH": (1.1, 1.4, 1.65, 1.9, 2.1, 2.3, 2.6, 3.2),
    "NTO/Aerozine-50": (1.1, 1.4, 1.6, 1.8, 2.0, 2.2, 2.5, 3.0),
    "H2O2/RP-1": (4.0, 5.0, 6.0, 6.6, 7.2, 7.8, 8.6, 10.0),
}


def per_kilogram(name: str) -> tuple[dict[str, float], float]:
    """(mol of each element, enthalpy in J) of a kilogram."""
    if name in MIXED:
        elements: dict[str, float] = {}
        enthalpy = 0.0
        for part, share in MIXED[name]:
            inner, h = single(part)
            enthalpy += share * h
            for element, amount in inner.items():
                elements[element] = elements.get(element, 0.0) + share * amount
        return elements, enthalpy
    return single(name)


def single(name: str) -> tuple[dict[str, float], float]:
    composition, kilojoule = LIQUIDS[name]
    molar = sum(ATOMIC[e] * n for e, n in composition.items()) * 1e-3
    return {e: n / molar for e, n in composition.items()}, kilojoule * 1e3 / molar


class Engine:
    """One chamber and its expansion in equilibrium."""

    def __init__(self, gas: ct.Solution, pair: str, ratio: float, pressure: float) -> None:
        self.gas, self.pressure = gas, pressure
        oxidiser, fuel = (per_kilogram(half) for half in pair.split("/"))
        share = ratio / (1.0 + ratio)
        elements = {e: share * n for e, n in oxidiser[0].items()}
        for e, n in fuel[0].items():
            elements[e] = elements.get(e, 0.0) + (1.0 - share) * n
        gas.TPX = 3000.0, pressure, elements
        gas.equilibrate("TP", rtol=1e-9, max_steps=5000)
        gas.HP = share * oxidiser[1] + (1.0 - share) * fuel[1], pressure
        gas.equilibrate("HP", rtol=1e-9, max_steps=5000)
        self.temperature, self.molar_mass = gas.T, gas.mean_molecular_weight
        self.state, self.enthalpy, self.entropy = gas.TPX, gas.h, gas.s
        densities = []
        for step in (1e-4, -1e-4):
            self.to(pressure * (1.0 + step))
            densities.append(gas.density)
        self.gamma = math.log((1 + 1e-4) / (1 - 1e-4)) / math.log(densities[0] / densities[1])
        throat = minimize_scalar(
            lambda x: -self.flux(x * pressure), bounds=(0.5, 0.65), method="bounded", options={"xatol": 1e-7}
        )
        self.throat_flux = -throat.fun
        self.cstar = pressure / self.throat_flux

    def to(self, pressure: float) -> float:
        """Expand to `pressure`; the speed there."""
        self.gas.TPX = self.state
        self.gas.SP = self.entropy, pressure
        self.gas.equilibrate("SP", rtol=1e-10, max_steps=5000)
        return math.sqrt(max(2.0 * (self.enthalpy - self.gas.h), 0.0))

    def flux(self, pressure: float) -> float:
        return self.to(pressure) * self.gas.density

    def exit(self, area_ratio: float) -> tuple[float, float]:
        """(thrust coefficient in vacuum, ln of chamber over exit pressure)."""
        x = brentq(
            lambda x: math.log(self.throat_flux / self.flux(self.pressure * math.exp(-x)) / area_ratio),
            1.0, 11.0, xtol=1e-9,
        )  # fmt: skip
        pressure = self.pressure * math.exp(-x)
        speed = self.to(pressure)
        return speed / self.cstar + area_ratio * pressure / self.pressure, x


def main() -> None:
    every = {s.name: s for s in ct.Species.list_from_file("nasa_gas.yaml")}
    gas = ct.Solution(thermo="ideal-gas", species=[every[name] for name in SPECIES])
    lines = [
        '"""Chamber and expansion of propellant pairs in chemical equilibrium, shifting to the exit.',
        "",
        "Written by tests/data/make_combustion_tables.py; do not edit by hand.",
        f"Computed with Cantera {ct.__version__}, NASA polynomials; formation enthalpies from memory.",
        '"""',
        "",
        f"PRESSURES = {PRESSURES}  # Pa",
        f"AREA_RATIOS = {AREA_RATIOS}",
        "",
        "# pair: (mixture ratios, [ratio][pressure]: (T [K], M [kg/kmol], isentropic exponent, c* [m/s],",
        "#        vacuum thrust coefficients by area ratio, ln(chamber over exit pressure) by area ratio))",
        "Row = tuple[float, float, float, float, tuple[float, ...], tuple[float, ...]]",
        "TABLES: dict[str, tuple[tuple[float, ...], tuple[tuple[Row, ...], ...]]] = {",
    ]
    for pair, ratios in GRID.items():
        lines += [f'    "{pair}": (', f"        {ratios},", "        ("]
        for ratio in ratios:
            lines.append("            (")
            for pressure in PRESSURES:
                engine = Engine(gas, pair, ratio, pressure)
                exits = np.array([engine.exit(e) for e in AREA_RATIOS])
                row = ", ".join(
                    f"{x:.6g}" for x in (engine.temperature, engine.molar_mass, engine.gamma, engine.cstar)
                )
                coefficients = ", ".join(f"{x:.5f}" for x in exits[:, 0])
                falls = ", ".join(f"{x:.5f}" for x in exits[:, 1])
                lines.append(f"                ({row}, ({coefficients}), ({falls})),")
            lines.append("            ),")
        lines += ["        ),", "    ),"]
        print(pair, flush=True)
    TARGET.write_text("\n".join([*lines, "}", ""]), encoding="utf-8")


if __name__ == "__main__":
    main()
