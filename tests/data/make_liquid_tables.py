"""Write src/wetmass/physics/liquid_tables.py from reference equations of state (CoolProp).

Run by hand when a fluid is added:  python tests/data/make_liquid_tables.py
Temperatures run from just above the triple point (or the lowest temperature listed) to 0.92 of the
critical temperature, evenly spaced; every row is a liquid on its boiling line (quality 0), because
asking for a state *at* the boiling point without saying "liquid" returns vapour.
"""

from __future__ import annotations

from pathlib import Path

import CoolProp
from CoolProp.CoolProp import PropsSI

# our name: (CoolProp's name, equation of state)
FLUIDS = {
    "LOX": ("Oxygen", "Schmidt & Wagner 1985"),
    "LCH4": ("Methane", "Setzmann & Wagner 1991"),
    "LH2": ("ParaHydrogen", "Leachman et al. 2009 (parahydrogen)"),
    "LH2 (normal)": ("Hydrogen", "Leachman et al. 2009 (normal hydrogen)"),
    "LN2": ("Nitrogen", "Span et al. 2000"),
    "propane": ("n-Propane", "Lemmon et al. 2009"),
    "ethane": ("Ethane", "Buecker & Wagner 2006"),
    "ethylene": ("Ethylene", "Smukala et al. 2000"),
    "ammonia": ("Ammonia", "the equation CoolProp holds for ammonia"),
    "N2O": ("NitrousOxide", "Lemmon & Span 2006"),
    "ethanol": ("Ethanol", "Schroeder et al. 2014"),
    "water": ("Water", "Wagner & Pruss 2002 (IAPWS-95)"),
}
ROWS = 41
TARGET = Path(__file__).resolve().parents[2] / "src" / "wetmass" / "physics" / "liquid_tables.py"


def rows(fluid: str) -> list[tuple[float, ...]]:
    low = PropsSI("Ttriple", fluid) + 0.01
    if fluid == "Ethanol":
        low = 200.0  # its boiling pressure is not meaningful far below
    high = 0.92 * PropsSI("Tcrit", fluid)
    made = []
    for i in range(ROWS):
        t = round(low + (high - low) * i / (ROWS - 1), 4)

        def at(what: str, quality: int, t: float = t) -> float:
            return PropsSI(what, "T", t, "Q", quality, fluid)

        made.append((t, at("P", 0), at("D", 0), at("D", 1), at("H", 1) - at("H", 0)))
    return made


def main() -> None:
    lines = [
        '"""Liquids on their boiling line, tabulated from reference equations of state.',
        "",
        "Written by tests/data/make_liquid_tables.py; do not edit by hand.",
        f"Evaluated with CoolProp {CoolProp.__version__}; the name of each equation is as recalled.",
        '"""',
        "",
        "# columns: temperature [K], boiling pressure [Pa], liquid density [kg/m³],",
        "#          vapour density [kg/m³], latent heat [J/kg]",
        "Row = tuple[float, float, float, float, float]",
        "",
        "EQUATIONS: dict[str, str] = {",
        *(f'    "{name}": "{equation}",' for name, (_, equation) in FLUIDS.items()),
        "}",
        "",
        "# liquid at its boiling point under 101 325 Pa, in the same columns",
        "BOILING: dict[str, Row] = {",
    ]
    for name, (fluid, _) in FLUIDS.items():
        t = PropsSI("T", "P", 101325.0, "Q", 0, fluid)
        d, v = (PropsSI("D", "P", 101325.0, "Q", q, fluid) for q in (0, 1))
        h = PropsSI("H", "P", 101325.0, "Q", 1, fluid) - PropsSI("H", "P", 101325.0, "Q", 0, fluid)
        lines.append(f'    "{name}": ({t:.4f}, 101325.0, {d:.6g}, {v:.6g}, {h:.6g}),')
    lines += ["}", "", "TRIPLE: dict[str, float] = {  # K"]
    lines += [f'    "{name}": {PropsSI("Ttriple", fluid):.4f},' for name, (fluid, _) in FLUIDS.items()]
    lines += ["}", "", "TABLES: dict[str, tuple[Row, ...]] = {"]
    for name, (fluid, _) in FLUIDS.items():
        lines.append(f'    "{name}": (')
        lines += [f"        ({', '.join(f'{x:.8g}' for x in row)})," for row in rows(fluid)]
        lines.append("    ),")
    lines += ["}", ""]
    TARGET.write_text("\n".join(lines), encoding="utf-8")


if __name__ == "__main__":
    main()
