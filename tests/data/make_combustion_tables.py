"""Write src/wetmass/physics/combustion_tables.py: what pairs give in an ideal engine.

Chemical equilibrium by Cantera (its nasa_gas.yaml, NASA polynomials), shifting all the way to the exit, as in
src/wetmass/physics/chemistry.py.  To run it by hand:
    pip install cantera && python tests/data/make_combustion_tables.py
"""

from __future__ import annotations

from pathlib import Path

import cantera as ct

from wetmass.physics.chemistry import Chamber

TARGET = Path(__file__).resolve().parents[2] / "src" / "wetmass" / "physics" / "combustion_tables.py"
PRESSURES = (2e6, 7e6, 25e6)
AREA_RATIOS = (4.0, 6.0, 9.0, 16.0, 32.0, 75.0, 170.0, 400.0)
SPANS = {  # mixture ratios: the least, where rows begin to stand close (ideal burning lies beyond it), the most
    "LOX/LH2": (3.0, 6.5, 9.0),
    "LOX/LCH4": (2.0, 3.6, 5.0),
    "LOX/RP-1": (1.6, 2.9, 4.0),
    "LOX/propane": (1.8, 3.2, 4.5),
    "LOX/ethane": (1.8, 3.3, 4.7),
    "LOX/ethanol": (0.9, 1.8, 2.8),
    "NTO/UDMH": (1.3, 2.5, 4.0),
    "NTO/MMH": (1.1, 2.1, 3.2),
    "NTO/Aerozine-50": (1.1, 1.9, 3.0),
    "H2O2/RP-1": (4.0, 6.4, 10.0),
}
WIDE, CLOSE = 8, 14  # rows below and above


def ratios_of(pair: str) -> tuple[float, ...]:
    low, middle, high = SPANS[pair]
    below = [low + (middle - low) * i / WIDE for i in range(WIDE)]
    above = [middle + (high - middle) * i / CLOSE for i in range(CLOSE + 1)]
    return tuple(float(f"{r:.4g}") for r in (*below, *above))


def main() -> None:
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
        "# fmt: off",
        "TABLES: dict[str, tuple[tuple[float, ...], tuple[tuple[Row, ...], ...]]] = {",
    ]
    for pair in SPANS:
        ratios = ratios_of(pair)
        lines += [f'    "{pair}": (', f"        {ratios},", "        ("]
        for ratio in ratios:
            lines.append("            (")
            for pressure in PRESSURES:
                burnt = Chamber(pair, ratio, pressure)
                exits = [burnt.exit(e) for e in AREA_RATIOS]
                inside = burnt.temperature, burnt.molar_mass, burnt.gamma, burnt.characteristic_speed
                row = ", ".join(f"{x:.6g}" for x in inside)
                coefficients = ", ".join(f"{x:.5f}" for x, _ in exits)
                falls = ", ".join(f"{x:.5f}" for _, x in exits)
                lines.append(f"                ({row}, ({coefficients}), ({falls})),")
            lines.append("            ),")
        lines += ["        ),", "    ),"]
        print(pair, flush=True)
    TARGET.write_text("\n".join([*lines, "}", "# fmt: on", ""]), encoding="utf-8")


if __name__ == "__main__":
    main()
