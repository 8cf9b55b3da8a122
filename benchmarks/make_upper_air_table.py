"""Write src/wetmass/physics/upper_air_table.py from the species equations (wetmass.physics.upper_air)."""

from pathlib import Path

from wetmass.physics import upper_air

HEAD = '''"""The air from 86 to 1000 km as cubics: written by benchmarks/make_upper_air_table.py, not by hand.

A row is one piece: left edge in geometric height z [m], then four coefficients each, in rising powers of
(z − edge), of molecular-scale temperature [K], kinetic temperature [K], and the logarithm of pressure over
the pressure at 86 km.  See `wetmass.physics.upper_air.pieces`.
"""

# fmt: off
UPPER_AIR = (
'''


def main() -> None:
    lines = [
        "    (" + ", ".join(f"{value:.12g}" for value in row) + "),  # noqa: E501"
        for row in upper_air.pieces()
    ]
    target = Path(upper_air.__file__).with_name("upper_air_table.py")
    target.write_text(HEAD + "\n".join(lines) + "\n)\n", encoding="utf-8")


if __name__ == "__main__":
    main()
