"""What tanks are made of, and the factors they are designed with."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

_MMPDS = "typical design values as in MMPDS / MIL-HDBK-5, from memory; confirm before use"


@dataclass(frozen=True, slots=True)
class Material:
    """A wall material at room temperature; strengths are typical design values."""

    name: str
    ultimate: float  # Pa, tensile
    yielding: float  # Pa, tensile
    modulus: float  # Pa, Young's
    poisson: float
    density: float  # kg/m³
    welded_ultimate: float | None = None  # Pa, across a weld left as welded; None: not known here
    source: str = _MMPDS
    status: str = "from memory"


def _row(
    name: str, ftu: float, fty: float, e: float, nu: float, rho: float, welded: float | None = None
) -> Material:
    return Material(name, ftu * 1e6, fty * 1e6, e * 1e9, nu, rho, welded * 1e6 if welded else None)


MATERIALS: dict[str, Material] = {
    row.name: row
    for row in (
        _row("Al 2014-T6", 448, 400, 73, 0.33, 2800),
        _row("Al 2219-T87", 434, 352, 73, 0.33, 2840, 240),
        _row("Al-Li 2195-T8", 538, 503, 76, 0.33, 2710, 310),
        _row("Al 6061-T6", 290, 241, 68, 0.33, 2700, 165),
        _row("Al 7075-T6", 530, 460, 71, 0.33, 2800),
        _row("Ti-6Al-4V annealed", 896, 827, 110, 0.31, 4430),
        _row("stainless 301 full hard", 1275, 965, 185, 0.27, 7900),
        _row("stainless 304L annealed", 515, 205, 195, 0.27, 7900),
        _row("Inconel 718 aged", 1241, 1034, 200, 0.29, 8220),
        _row("D6AC steel", 1500, 1310, 200, 0.30, 7830),
        # a laminate has no yield: the design allowable stands for both
        _row("CFRP quasi-isotropic", 280, 280, 55, 0.31, 1580),
    )
}


def material(name: str) -> Material:
    """The material of that name.  Raises ValueError with the nearest names when there is none.

    >>> material("al 2219-t87").density
    2840
    """
    by_key = {key.casefold(): row for key, row in MATERIALS.items()}
    row = by_key.get(" ".join(name.split()).casefold())
    if row is None:
        near = difflib.get_close_matches(name.casefold(), by_key, n=3, cutoff=0.3)
        known = ", ".join(by_key[each].name for each in near) or ", ".join(MATERIALS)
        raise ValueError(
            f"material: got {name!r}; known near it: {known}. Or state strength and density yourself"
        )
    return row


@dataclass(frozen=True, slots=True)
class DesignFactors:
    """Factors between the load expected and the strength asked for."""

    ultimate: float  # on the material's ultimate strength
    yielding: float  # on its yield strength
    source: str


CREWED = DesignFactors(1.4, 1.0, "NASA-STD-5001B, prototype metallic structures, from memory")
UNCREWED = DesignFactors(1.25, 1.1, "uncrewed launcher practice, from memory")
