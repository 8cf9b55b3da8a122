"""Dimensions: what kind of quantity a unit measures, and what people call it.

Angles count as a dimension of their own here, so that a pressure cannot pass for a pressure times an
angle; inside, they are radians.
"""

from __future__ import annotations

from typing import Any, NamedTuple


class Dimension(NamedTuple):
    """Exponents of the base units m, kg, s, K, mol, A, rad.

    >>> LENGTH / TIME == SPEED
    True
    >>> dimension_name(SPEED * MASS)
    'an impulse'
    """

    length: Any = 0
    mass: Any = 0
    time: Any = 0
    temperature: Any = 0
    amount: Any = 0
    current: Any = 0
    angle: Any = 0

    def __mul__(self, other: Any) -> Dimension:
        return Dimension(*(a + b for a, b in zip(self, other, strict=True)))

    def __truediv__(self, other: Dimension) -> Dimension:
        return Dimension(*(a - b for a, b in zip(self, other, strict=True)))

    def __pow__(self, exponent: Any) -> Dimension:
        return Dimension(*(a * exponent for a in self))

    def without_angle(self) -> Dimension:
        """The same with angles taken as pure numbers, as rates and arcs need: rad·m/s is a speed."""
        return self._replace(angle=0)


NUMBER = Dimension()
LENGTH = Dimension(length=1)
MASS = Dimension(mass=1)
TIME = Dimension(time=1)
TEMPERATURE = Dimension(temperature=1)
AMOUNT = Dimension(amount=1)
CURRENT = Dimension(current=1)
ANGLE = Dimension(angle=1)
AREA = LENGTH**2
VOLUME = LENGTH**3
SPEED = LENGTH / TIME
ACCELERATION = SPEED / TIME
FORCE = MASS * ACCELERATION
PRESSURE = FORCE / AREA
ENERGY = FORCE * LENGTH
POWER = ENERGY / TIME
DENSITY = MASS / VOLUME
MASS_FLOW = MASS / TIME
HEAT_FLUX = POWER / AREA
HEAT_LOAD = ENERGY / AREA
SPECIFIC_ENERGY = SPEED**2
IMPULSE = MASS * SPEED
MOLAR_MASS = MASS / AMOUNT
SPECIFIC_HEAT = SPECIFIC_ENERGY / TEMPERATURE
FREQUENCY = NUMBER / TIME
ANGULAR_RATE = ANGLE / TIME
Q_ALPHA = PRESSURE * ANGLE
GRAVITATIONAL_PARAMETER = VOLUME / TIME**2

# what it is called, units people write it in, an example
_KNOWN: dict[Dimension, tuple[str, str, str]] = {
    NUMBER: ("a pure number", "no unit, or %", "1.3"),
    LENGTH: ("a length", "m, km, ft", "3.7 m"),
    MASS: ("a mass", "t, kg, lb", "9.4 t"),
    TIME: ("a time", "s, min, h", "162 s"),
    TEMPERATURE: ("a temperature", "K", "288.15 K"),
    AMOUNT: ("an amount of substance", "mol", "1 mol"),
    CURRENT: ("an electric current", "A", "1 A"),
    ANGLE: ("an angle", "deg, rad", "97.5 deg"),
    AREA: ("an area", "m², ft²", "1.2 m²"),
    VOLUME: ("a volume", "m³, L", "75 m³"),
    SPEED: ("a speed", "m/s, km/s, ft/s", "3.2 km/s"),
    ACCELERATION: ("an acceleration", "g, m/s²", "4.5 g"),
    FORCE: ("a force", "kN, N, lbf", "210 kN"),
    PRESSURE: ("a pressure", "kPa, bar, psi", "38 kPa"),
    ENERGY: ("an energy", "J, kJ, MJ", "12 MJ"),
    POWER: ("a power", "W, kW, MW", "450 kW"),
    DENSITY: ("a density", "kg/m³, g/cm³", "423 kg/m³"),
    MASS_FLOW: ("a mass flow", "kg/s, t/s", "250 kg/s"),
    HEAT_FLUX: ("a heat flux", "W/m², kW/m²", "1135 W/m²"),
    HEAT_LOAD: ("a heat load", "J/m², MJ/m²", "12 MJ/m²"),
    SPECIFIC_ENERGY: ("an energy per mass", "km²/s², J/kg", "10 km²/s²"),
    IMPULSE: ("an impulse", "N·s, kN·s", "12 kN·s"),
    MOLAR_MASS: ("a molar mass", "g/mol, kg/mol", "18 g/mol"),
    SPECIFIC_HEAT: ("a specific heat", "J/(kg·K)", "287 J/(kg·K)"),
    FREQUENCY: ("a rate", "1/s, Hz", "2 1/s"),
    ANGULAR_RATE: ("an angular rate", "deg/s, rad/s", "0.5 deg/s"),
    Q_ALPHA: ("a pressure times an angle", "kPa·deg, Pa·rad", "120 kPa·deg"),
    GRAVITATIONAL_PARAMETER: ("a gravitational parameter", "m³/s², km³/s²", "398600 km³/s²"),
}  # fmt: skip

_BASE = ("m", "kg", "s", "K", "mol", "A", "rad")


def dimension_name(dimension: Dimension) -> str:
    """What people call it, with its article: "a mass", "a speed".

    >>> dimension_name(MASS)
    'a mass'
    >>> dimension_name(LENGTH**4)
    'a quantity in m⁴'
    """
    known = _KNOWN.get(dimension)
    return known[0] if known else f"a quantity in {si_unit(dimension)}"


def usual_units(dimension: Dimension) -> str:
    """Units people write it in, as a short list."""
    known = _KNOWN.get(dimension)
    return known[1] if known else si_unit(dimension)


def example(dimension: Dimension) -> str:
    """One quantity of this dimension, as people write it."""
    known = _KNOWN.get(dimension)
    return known[2] if known else f"1 {si_unit(dimension)}"


def si_unit(dimension: Dimension) -> str:
    """The unit in SI base units; "1" for a pure number.

    >>> si_unit(FORCE)
    'm·kg/s²'
    """
    above = [_raised(base, power) for base, power in zip(_BASE, dimension, strict=True) if power > 0]
    below = [_raised(base, -power) for base, power in zip(_BASE, dimension, strict=True) if power < 0]
    top = "·".join(above) or "1"
    if not below:
        return top
    return f"{top}/{below[0]}" if len(below) == 1 else f"{top}/({'·'.join(below)})"


def _raised(base: str, power: Any) -> str:
    if power == 1:
        return base
    if power == int(power):
        return base + str(int(power)).translate(str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹"))
    return f"{base}^{power}"
