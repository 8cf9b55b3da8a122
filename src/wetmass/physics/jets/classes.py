"""Classes of jets: thrust to weight, fuel, fan and mass."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.physics.jets.letters import MEIER
from wetmass.physics.pattern import above_zero
from wetmass.record.constants import STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class JetClass:
    """A class of jets: what they weigh, burn and reach."""

    name: str
    bypass: tuple[float, float]
    thrust_to_weight: tuple[float, float, float]  # low, usual, high: static thrust over weight of the engine
    static_fuel: tuple[float, float]  # lb/(lbf·h) on a test stand
    most_mach: float
    ceiling: float  # m, from memory
    source: str
    status: str


_CEILING = "; ceiling from memory"
JET_CLASSES: dict[str, JetClass] = {
    row.name: row
    for row in (
        JetClass("high-bypass turbofan", (4.0, 12.0), (4.0, 5.5, 7.0), (0.31, 0.43), 0.9, 13_700.0,
                 MEIER + _CEILING, "read"),
        JetClass("medium-bypass turbofan", (1.5, 4.0), (4.0, 4.7, 5.3), (0.44, 0.57), 0.9, 13_700.0,
                 MEIER + _CEILING, "read"),
        JetClass("low-bypass turbofan", (0.3, 1.5), (3.9, 4.5, 4.8), (0.56, 0.74), 2.0, 13_700.0,
                 MEIER + _CEILING, "read"),
        JetClass("military turbofan, dry", (0.2, 0.8), (4.5, 4.7, 6.0), (0.70, 0.82), 2.0, 13_700.0,
                 "makers' brochures, from memory", "from memory"),
        JetClass("military turbofan, reheated", (0.2, 0.8), (7.5, 7.8, 9.0), (1.7, 2.0), 2.0, 13_700.0,
                 "makers' brochures, from memory", "from memory"),
        JetClass("turbojet", (0.0, 0.3), (3.0, 5.0, 7.3), (0.78, 1.0), 2.0, 13_700.0,
                 MEIER + _CEILING, "read"),
    )
}  # fmt: skip


def jet_class(name: str) -> JetClass:
    """The class of that name.  Raises ValueError listing them when there is none."""
    if name not in JET_CLASSES:
        raise ValueError(f"jet class: got {name!r}; known are {', '.join(JET_CLASSES)}")
    return JET_CLASSES[name]


def jet_mass(static_thrust: float, class_name: str) -> tuple[float, float, float]:
    """(light, usual, heavy) mass of a bare jet of a class [kg]; static thrust in N.

    >>> [round(m) for m in jet_mass(120_000.0, "high-bypass turbofan")]
    [1748, 2225, 3059]
    """
    above_zero(static_thrust=static_thrust)
    low, usual, high = jet_class(class_name).thrust_to_weight
    heavy, middle, light = (static_thrust / (STANDARD_GRAVITY * ratio) for ratio in (low, usual, high))
    return light, middle, heavy


def static_fuel_flow(static_thrust: float, pounds_per_pound_hour: float) -> float:
    """Fuel flow at full thrust on a test stand [kg/s] from the printed lb/(lbf·h).

    The figure is fuel weight over thrust per hour: in kg/s it is F·c/(3600·g₀).

    >>> round(static_fuel_flow(111_206.0, 0.33), 3)
    1.039
    """
    above_zero(static_thrust=static_thrust, pounds_per_pound_hour=pounds_per_pound_hour)
    return static_thrust * pounds_per_pound_hour / (3600.0 * STANDARD_GRAVITY)


FAN_LOADING = 175.0  # kg/s of air per m² of fan on a test stand; 163 to 183 in the published table


def fan_diameter(static_thrust: float, speed: float) -> float:
    """Fan diameter [m] for a static thrust [N] and static thrust over air flow [m/s], within about 5 %.

    >>> round(fan_diameter(111_206.0, 288.0), 2)
    1.68
    """
    above_zero(static_thrust=static_thrust, speed=speed)
    return math.sqrt(4.0 * static_thrust / (speed * FAN_LOADING * math.pi))
