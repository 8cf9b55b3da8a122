"""Published ranges a stated number is held against, whatever the working says.

Two bands each: outside the *usual* one a right line carries a note; outside the *possible* one the
number is off.  Where a row says common practice or from memory, treat the edge as soft.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Range:
    """What a quantity of this name may be, in SI."""

    name: str
    ideas: tuple[frozenset[str], ...]
    without: frozenset[str]
    unit: str
    usual: tuple[float, float]
    possible: tuple[float, float]
    shown: str  # the usual band in words
    source: str


# name ; ideas ; without ; unit ; usual ; possible ; shown ; source
_TABLE = """
lift-off thrust-to-weight ; twr liftoff ; engine moon mars upper 2 3 ; 1 ; 1.1 2.2 ; 1.0 3.5 ; 1.15 to 1.8 ; common practice
specific impulse of a chemical rocket ; isp ; nuclear ntr solar ion electric fan jet turbofan arcjet hall ; s ; 170 470 ; 50 1300 ; 170 to 470 s (hydrogen at most about 466 s) ; delivered classes of flown engines, from memory
effective exhaust speed ; exhaust speed ; nuclear ntr ion electric ; m/s ; 1600 4600 ; 400 200000 ; 1.7 to 4.6 km/s ; delivered classes of flown engines, from memory
greatest dynamic pressure ; dynamic pressure greatest|dynamic pressure ; separation fairing drop ; Pa ; 0 92000 ; 0 1000000 ; 25 to 90 kPa at its greatest ; launch users' guides, from memory
structural fraction ; dry fraction|structural fraction ; ; 1 ; 0.025 0.45 ; 0.005 0.8 ; 0.03 to 0.25 ; historic stages, from memory
circular speed in low orbit ; circular orbit speed ; transfer moon mars sun ; m/s ; 900 8000 ; 300 8000 ; 7.4 to 7.8 km/s at 200 to 800 km ; R. A. Braeunig, problem 4.1
density of liquid oxygen ; density lox ; bulk mean ; kg/m3 ; 1050 1320 ; 900 1400 ; 1141 kg/m³ at its boiling point ; Schmidt and Wagner 1985
density of liquid hydrogen ; density lh2 ; bulk mean ; kg/m3 ; 60 90 ; 50 100 ; 70.8 kg/m³ at its boiling point ; Leachman et al. 2009
density of liquid methane ; density methane ; bulk mean ; kg/m3 ; 400 460 ; 350 520 ; 422 kg/m³ at its boiling point ; Setzmann and Wagner 1991
density of kerosene ; density kerosene ; bulk mean ; kg/m3 ; 760 860 ; 700 900 ; 799 to 830 kg/m³ ; from memory
gravity loss to orbit ; gravity loss ; rate ; m/s ; 0 2200 ; -1 6000 ; 1000 to 1700 m/s to low orbit ; Sutton and Biblarz ch. 4, from memory
drag loss to orbit ; drag loss ; ; m/s ; 0 500 ; -1 2000 ; 40 to 250 m/s ; Sutton and Biblarz ch. 4, from memory
ideal speed to low orbit ; dv total|dv budget ; lunar moon transfer plane mars stage ; m/s ; 200 14000 ; 1 30000 ; 9.0 to 9.6 km/s to low orbit ; Sutton and Biblarz ch. 4, from memory
gain from rotation ; rotation gain ; ; m/s ; -470 470 ; -470 470 ; at most 465 m/s at the equator ; WGS-84 radius and rate
steady acceleration ; acceleration greatest|acceleration felt ; ; m/s2 ; 0 125 ; 0 400 ; 3 to 6 g for large launchers, up to 12 g for small solids ; launch users' guides, from memory
wall of a tank ; wall thickness ; heat insulation ; m ; 0.0003 0.03 ; 0.00005 0.3 ; 0.5 to 15 mm ; common practice
mixture ratio ; mixture ratio ; volume ; 1 ; 0.6 9 ; 0.1 25 ; 1 to 8 ; delivered classes of flown engines, from memory
residuals ; residual fraction ; ; 1 ; 0.001 0.05 ; 0 0.3 ; 0.5 to 2 % of the load ; from memory
"""  # noqa: E501


def _row(line: str) -> Range:
    name, ideas, without, unit, usual, possible, shown, source = (piece.strip() for piece in line.split(";"))
    low, high = (float(v) for v in usual.split())
    least, most = (float(v) for v in possible.split())
    return Range(
        name, tuple(frozenset(option.split()) for option in ideas.split("|")), frozenset(without.split()), unit,  # noqa: E501
        (low, high), (least, most), shown, source,
    )  # fmt: skip


RANGES = tuple(_row(line) for line in _TABLE.strip().splitlines())


def range_for(ideas: frozenset[str], dimension: tuple[float, ...]) -> Range | None:
    """The range a quantity of this name and dimension is held against, None where none is known."""
    from wetmass.working.relations import dimension_of

    for row in RANGES:
        if row.without & ideas or dimension_of(row.unit) != dimension:
            continue
        if any(option <= ideas for option in row.ideas):
            return row
    return None


# what may have turned a sound number into the one stated, for a line that shows no working
REPAIRS: tuple[tuple[str, float, str, str], ...] = (
    ("S08", 10.0, "the decimal point is moved", "ten times as much"),
    ("S08", 0.1, "the decimal point is moved", "a tenth of it"),
    ("S07", 1e3, "a unit a thousand times smaller is meant", "in the larger unit"),
    ("S07", 1e-3, "a unit a thousand times larger is meant", "in the smaller unit"),
    ("S35", 0.01, "a percentage stands as a plain number", "as a fraction"),
    ("S02", 9.80665, "g₀ is left out", "with g₀"),
    ("S02", 1 / 9.80665, "g₀ goes in where it does not belong", "without g₀"),
    ("S11", 0.45359237, "pounds are taken as kilograms", "in kilograms"),
    ("S09", 4.4482216, "pounds-force are taken as newtons", "in newtons"),
    ("S13", 0.3048, "feet are taken as metres", "in metres"),
)
