"""Units as people write them in a working, with the many short forms a hand uses.

A dimension is the tuple of exponents of (metre, kilogram, second, kelvin, mole).  The table is kept
apart from the units of concept files because a working is read much more leniently ("kN each",
"m/s/s", "tonnes"); a test holds the factors of the two together.
Sources of factors: SI Brochure (9th edition) and NIST SP 811 (exact definitions, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

Dimension = tuple[float, float, float, float, float]

NONE: Dimension = (0.0, 0.0, 0.0, 0.0, 0.0)
LENGTH: Dimension = (1.0, 0.0, 0.0, 0.0, 0.0)
MASS: Dimension = (0.0, 1.0, 0.0, 0.0, 0.0)
TIME: Dimension = (0.0, 0.0, 1.0, 0.0, 0.0)
TEMPERATURE: Dimension = (0.0, 0.0, 0.0, 1.0, 0.0)
SPEED: Dimension = (1.0, 0.0, -1.0, 0.0, 0.0)
ACCELERATION: Dimension = (1.0, 0.0, -2.0, 0.0, 0.0)
FORCE: Dimension = (1.0, 1.0, -2.0, 0.0, 0.0)
PRESSURE: Dimension = (-1.0, 1.0, -2.0, 0.0, 0.0)
ENERGY: Dimension = (2.0, 1.0, -2.0, 0.0, 0.0)
POWER: Dimension = (2.0, 1.0, -3.0, 0.0, 0.0)
AREA: Dimension = (2.0, 0.0, 0.0, 0.0, 0.0)
VOLUME: Dimension = (3.0, 0.0, 0.0, 0.0, 0.0)
DENSITY: Dimension = (-3.0, 1.0, 0.0, 0.0, 0.0)
MASS_FLOW: Dimension = (0.0, 1.0, -1.0, 0.0, 0.0)
AMOUNT: Dimension = (0.0, 0.0, 0.0, 0.0, 1.0)

STANDARD_GRAVITY = 9.80665
POUND = 0.45359237
FOOT = 0.3048
POUND_FORCE = POUND * STANDARD_GRAVITY
DEGREE = 0.017453292519943295

_TABLE: dict[Dimension, dict[str, float]] = {
    LENGTH: {
        "m metre metres meter meters": 1.0, "km kilometre kilometres kilometer kilometers": 1e3, "cm": 1e-2,
        "mm": 1e-3, "µm μm um": 1e-6, "ft foot feet": FOOT, "in inch inches": 0.0254, "yd yard yards": 0.9144,
        "mi mile miles": 1609.344, "nmi nm NM nautical-mile nautical-miles": 1852.0, "Mm": 1e6,
        "AU au": 1.495978707e11,
    },
    MASS: {
        "kg kgs kilogram kilograms kilo kilos": 1.0, "g gram grams": 1e-3, "mg": 1e-6,
        "t tonne tonnes metric-ton metric-tons ton tons te": 1e3, "Mg": 1e3, "kt kilotonne kilotonnes": 1e6,
        "lb lbs lbm pound pounds": POUND, "klb": 1e3 * POUND, "slug slugs": 14.59390294, "oz": POUND / 16,
        "US-ton US-tons short-ton short-tons us-ton us-tons": 907.18474,
        "UK-ton UK-tons long-ton long-tons": 1016.0469088,
    },
    TIME: {
        "s sec secs second seconds": 1.0, "ms": 1e-3, "min mins minute minutes": 60.0,
        "h hr hrs hour hours": 3600.0, "d day days": 86400.0, "yr year years": 365.25 * 86400.0,
    },
    FORCE: {
        "N newton newtons": 1.0, "kN kilonewton kilonewtons": 1e3, "MN meganewton meganewtons": 1e6, "mN": 1e-3,  # noqa: E501
        "lbf": POUND_FORCE, "klbf kips kip": 1e3 * POUND_FORCE, "Mlbf": 1e6 * POUND_FORCE,
        "kgf kp": STANDARD_GRAVITY, "tf tonf": 1e3 * STANDARD_GRAVITY,
    },
    PRESSURE: {
        "Pa pascal pascals": 1.0, "hPa": 1e2, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "bar bars": 1e5, "mbar": 1e2,  # noqa: E501
        "atm": 101325.0, "psi psia psig": 6894.757293168, "ksi": 6894757.293168, "psf": 47.88025898,
        "torr": 133.322368,
    },
    ENERGY: {"J": 1.0, "kJ": 1e3, "MJ": 1e6, "GJ": 1e9, "TJ": 1e12, "Wh": 3600.0, "kWh": 3.6e6,
             "BTU Btu": 1055.05585},
    POWER: {"W watt watts": 1.0, "kW": 1e3, "MW": 1e6, "GW": 1e9, "mW": 1e-3, "hp": 745.699872},
    SPEED: {"mph": 0.44704, "kph kmh": 1 / 3.6, "kn knot knots kts": 1852.0 / 3600.0, "mps": 1.0, "fps": FOOT,
            "kps": 1e3},
    VOLUME: {"l L litre litres liter liters": 1e-3, "ml mL": 1e-6, "cc": 1e-6, "gal gallon gallons": 3.785411784e-3},  # noqa: E501
    TEMPERATURE: {"K kelvin": 1.0, "°R degR": 5.0 / 9.0},
    AMOUNT: {"mol": 1.0, "kmol": 1e3},
    NONE: {
        "° deg degs degree degrees": DEGREE, "rad rads radian radians": 1.0, "%": 0.01, "percent": 0.01,
        "pct": 0.01, "mrad": 1e-3, "ppm": 1e-6,
    },
    (0.0, 0.0, -1.0, 0.0, 0.0): {"Hz": 1.0, "kHz": 1e3, "rpm": 6.283185307179586 / 60.0},
}  # fmt: skip

UNITS: dict[str, tuple[float, Dimension]] = {
    name: (factor, dimension)
    for dimension, row in _TABLE.items()
    for names, factor in row.items()
    for name in names.split()
}
CELSIUS = ("°C", "degC")
# "4.5 g" is an acceleration where the line speaks of loads and accelerations
GRAVITY_UNITS = {"g": (STANDARD_GRAVITY, ACCELERATION), "gee": (STANDARD_GRAVITY, ACCELERATION),
                 "g0": (STANDARD_GRAVITY, ACCELERATION), "gees": (STANDARD_GRAVITY, ACCELERATION)}  # fmt: skip  # noqa: E501
UNITS["gee"] = UNITS["gees"] = GRAVITY_UNITS["gee"]


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as written: its text, the factor to SI, and its dimension."""

    text: str
    factor: float
    dimension: Dimension
    celsius: bool = False

    @property
    def angle(self) -> bool:
        return self.dimension == NONE and abs(self.factor - DEGREE) < 1e-15


def times(a: Dimension, b: Dimension, power: float = 1.0) -> Dimension:
    """Dimension of a·b^power."""
    return tuple(round(x + power * y, 9) + 0.0 for x, y in zip(a, b, strict=True))  # type: ignore[return-value]


_NAMES = {
    NONE: "a plain number", LENGTH: "a length", MASS: "a mass", TIME: "a time", SPEED: "a speed",
    ACCELERATION: "an acceleration", FORCE: "a force", PRESSURE: "a pressure", ENERGY: "an energy",
    POWER: "a power", AREA: "an area", VOLUME: "a volume", DENSITY: "a density", MASS_FLOW: "a mass flow",
    TEMPERATURE: "a temperature", times(ENERGY, MASS, -1): "an energy per mass",
    times(VOLUME, TIME, -2): "a gravitational parameter", times(FORCE, TIME): "an impulse",
    times(TIME, MASS, -1): "seconds per kilogram",
    times(SPEED, MASS): "an impulse", times(MASS, AREA, -1): "a mass per area",
}  # fmt: skip
_BASE = ("m", "kg", "s", "K", "mol")


def dimension_words(dimension: Dimension) -> str:
    """What kind of quantity a dimension is, in words.

    >>> dimension_words(SPEED)
    'a speed'
    """
    if dimension in _NAMES:
        return _NAMES[dimension]
    from wetmass.record.digits import superscript

    parts = []
    for letter, power in zip(_BASE, dimension, strict=True):
        if power == int(power):
            if power:
                parts.append(letter + ("" if power == 1 else superscript(int(power))))
        else:
            parts.append(f"{letter}^{power:g}")
    return "a quantity in " + "·".join(parts)
