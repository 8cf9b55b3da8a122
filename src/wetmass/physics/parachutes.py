"""Parachutes: size, steady sinking speed, filling, opening force."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation, sqrt

_STEADY = (
    "drag equals weight; NASA Glenn Research Center, Terminal Velocity, "
    "http://exploration.grc.nasa.gov./education/rocket/termvr.html"
)


@dataclass(frozen=True, slots=True)
class Canopy:
    """A kind of parachute: usual figures on the nominal area π·D₀²/4."""

    name: str
    drag_coefficient: tuple[float, float]
    opening_factor: float  # force at opening over steady drag at the same speed, no mass carried along
    filling: float  # filling distance over nominal diameter
    source: str


_KNACKE = "Knacke, NWC TP 6575 (1991), tables 5-1 and 5-2 (from memory)"
CANOPIES: dict[str, Canopy] = {
    canopy.name: canopy
    for canopy in (
        Canopy("flat circular", (0.75, 0.80), 1.7, 8.0, _KNACKE),
        Canopy("conical", (0.75, 0.90), 1.8, 8.0, _KNACKE),
        Canopy("ringsail", (0.75, 0.90), 1.1, 7.0, _KNACKE),
        Canopy("ringslot", (0.56, 0.65), 1.05, 14.0, _KNACKE),
        Canopy("conical ribbon", (0.50, 0.55), 1.05, 14.0, _KNACKE),
        Canopy("disk-gap-band", (0.52, 0.58), 1.3, 10.0, _KNACKE),
    )
}


@kernel
def _terminal_speed(mass, drag_area, density, gravity):
    return sqrt(2.0 * mass * gravity / (density * drag_area))


@relation(
    kernel=_terminal_speed,
    symbol="v",
    words="steady sinking speed",
    unit="m/s",
    letters={
        "mass": Letter("m", "mass", "kg", 1.0, 2e5),
        "drag_area": Letter("C_D·A", "drag area", "m²", 0.1, 5000.0),
        "density": Letter("ρ", "density of the air", "kg/m³", 0.01, 1.3),
        "gravity": Letter("g", "gravity", "m/s²", 9.0, 10.0),
    },
    source=_STEADY,
)
def terminal_speed(mass: float, drag_area: float, density: float, gravity: float = 9.80665) -> float:
    """Steady sinking speed where drag equals weight, √(2·m·g/(ρ·C_D·A)) [m/s].

    mass       of all that hangs and falls          [kg]
    drag_area  drag coefficient times its area      [m²]
    density    of the air there                     [kg/m³]
    gravity    there                                [m/s²]

    Raises ValueError when an argument is not above zero.

    >>> round(terminal_speed(2000.0, 0.75 * math.pi / 4 * 25.0**2, 1.225), 3)
    9.326
    """
    above_zero(mass=mass, drag_area=drag_area, density=density, gravity=gravity)
    return _terminal_speed(mass, drag_area, density, gravity)


@kernel
def _drag_area_for(mass, speed, density, gravity):
    return 2.0 * mass * gravity / (density * speed**2)


@relation(
    kernel=_drag_area_for,
    symbol="C_D·A",
    words="drag area for a sinking speed",
    unit="m²",
    letters={
        "mass": Letter("m", "mass", "kg", 1.0, 2e5),
        "speed": Letter("v", "sinking speed", "m/s", 1.0, 200.0),
        "density": Letter("ρ", "density of the air", "kg/m³", 0.01, 1.3),
        "gravity": Letter("g", "gravity", "m/s²", 9.0, 10.0),
    },
    source=_STEADY,
)
def drag_area_for(mass: float, speed: float, density: float, gravity: float = 9.80665) -> float:
    """Drag area that sinks at a speed, 2·m·g/(ρ·v²) [m²]; arguments as `terminal_speed`.

    Raises ValueError when an argument is not above zero.

    >>> round(drag_area_for(2000.0, 9.32624, 1.225), 1)
    368.2
    """
    above_zero(mass=mass, speed=speed, density=density, gravity=gravity)
    return _drag_area_for(mass, speed, density, gravity)


@kernel
def _opening_force(dynamic_pressure, drag_area, factor):
    return dynamic_pressure * drag_area * factor


@relation(
    kernel=_opening_force,
    symbol="F",
    words="force as a parachute opens",
    unit="N",
    letters={
        "dynamic_pressure": Letter("q", "dynamic pressure", "Pa", 0.0, 5e4),
        "drag_area": Letter("C_D·A", "drag area it opens to", "m²", 0.0, 5000.0),
        "factor": Letter("C_x", "opening factor", "", 1.0, 2.0),
    },
    source="Knacke, NWC TP 6575 (1991), chapter 5 (from memory)",
)
def opening_force(dynamic_pressure: float, drag_area: float, factor: float) -> float:
    """Force as a parachute opens to a drag area without slowing first, q·C_D·A·C_x [N].

    dynamic_pressure  as it opens                              [Pa]
    drag_area         it opens to: reefed, or full             [m²]
    factor            opening factor of its kind (`CANOPIES`)

    An upper bound: a light load slows while the canopy fills.  Raises ValueError for a negative argument.

    >>> opening_force(5000.0, 20.0, 1.05)
    105000.0
    """
    not_negative(dynamic_pressure=dynamic_pressure, drag_area=drag_area, factor=factor)
    return _opening_force(dynamic_pressure, drag_area, factor)


def filling_time(diameter: float, speed: float, filling: float) -> float:
    """Time a canopy takes to fill, n·D₀/v [s].

    diameter  nominal, D₀                                   [m]
    speed     through the air as it stretches, above zero   [m/s]
    filling   filling distance in diameters (`CANOPIES`)

    Raises ValueError when an argument is not above zero.
    Source: Knacke, NWC TP 6575 (1991), chapter 5 (from memory).

    >>> filling_time(16.0, 112.0, 14.0)
    2.0
    """
    above_zero(diameter=diameter, speed=speed, filling=filling)
    return filling * diameter / speed


def nominal_diameter(drag_area: float, drag_coefficient: float, count: int = 1) -> float:
    """Nominal diameter of each of `count` canopies that share a drag area, √(4·C_D·A/(π·C_D·n)) [m].

    drag_area         of all together    [m²]
    drag_coefficient  on the nominal area
    count             how many

    Raises ValueError when an argument is not above zero.

    >>> round(nominal_diameter(368.155, 0.75), 2)
    25.0
    """
    above_zero(drag_area=drag_area, drag_coefficient=drag_coefficient, count=count)
    return math.sqrt(4.0 * drag_area / (math.pi * drag_coefficient * count))
