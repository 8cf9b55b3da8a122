"""Dynamic pressure, Mach number and drag; and usual drag curves over Mach number."""

from __future__ import annotations

import functools

from wetmass.physics.curve import Table, spline_table
from wetmass.physics.pattern import Letter, above_zero, kernel, not_negative, relation

_BERNOULLI = "definition; NASA Glenn Research Center, Beginner's Guide to Aeronautics"
_DENSITY = Letter("ρ", "density of the air", "kg/m³", 0.0, 1.3)
_SPEED = Letter("v", "speed through the air", "m/s", 0.0, 9000.0)

# Drag at no incidence on the greatest cross-section, pointed or ogive nose, engines on.  From memory, in the
# shape of published launcher curves (as in Sutton & Biblarz, chapter 4): a class, not one vehicle.
DRAG_MACH = (0.0, 0.5, 0.8, 0.95, 1.05, 1.2, 1.5, 2.0, 3.0, 4.0, 5.0, 8.0)
DRAG_COEFFICIENTS = {
    "typical": (0.25, 0.23, 0.26, 0.36, 0.46, 0.48, 0.43, 0.36, 0.28, 0.24, 0.22, 0.20),
    "low": (0.15, 0.14, 0.16, 0.24, 0.32, 0.34, 0.30, 0.25, 0.19, 0.16, 0.15, 0.13),
    "high": (0.40, 0.38, 0.45, 0.60, 0.75, 0.75, 0.65, 0.55, 0.42, 0.36, 0.33, 0.30),
}
DRAG_SOURCE = "from memory: typical of slender launch vehicles, after Sutton & Biblarz, chapter 4"


@functools.cache
def drag_curve(which: str = "typical") -> Table:
    """Usual drag coefficient over Mach number, as a curve for `wetmass.physics.curve.spline_value`.

    which  "typical", "low" or "high"

    From memory, a class of vehicles and not one (`DRAG_SOURCE`); state your own where you can.
    Raises ValueError for another word.

    >>> from wetmass.physics.curve import spline_value
    >>> round(spline_value(1.2, drag_curve()), 6)
    0.48
    """
    if which not in DRAG_COEFFICIENTS:
        raise ValueError(f"which must be one of {', '.join(DRAG_COEFFICIENTS)}, got {which!r}")
    table = spline_table(DRAG_MACH, DRAG_COEFFICIENTS[which])
    table.setflags(write=False)  # shared by all who ask
    return table


@kernel
def _dynamic_pressure(density, speed):
    return 0.5 * density * speed**2


@relation(
    kernel=_dynamic_pressure,
    symbol="q",
    words="dynamic pressure",
    unit="Pa",
    letters={"density": _DENSITY, "speed": _SPEED},
    source=f'{_BERNOULLI}, "Dynamic Pressure", https://www.grc.nasa.gov/www/k-12/airplane/dynpress.html',
)
def dynamic_pressure(density: float, speed: float) -> float:
    """Dynamic pressure, q = ½·ρ·v² [Pa].

    density  of the air         [kg/m³]
    speed    through the air    [m/s]

    Raises ValueError for a negative argument.

    >>> dynamic_pressure(1.225, 100.0)
    6125.0
    """
    not_negative(density=density, speed=speed)
    return _dynamic_pressure(density, speed)


@kernel
def _mach_number(speed, sound_speed):
    return speed / sound_speed


@relation(
    kernel=_mach_number,
    symbol="M",
    words="Mach number",
    unit="",
    letters={"speed": _SPEED, "sound_speed": Letter("a", "speed of sound", "m/s", 250.0, 1100.0)},
    source=f'{_BERNOULLI}, "Mach Number", https://www.grc.nasa.gov/www/k-12/airplane/mach.html',
)
def mach_number(speed: float, sound_speed: float) -> float:
    """Mach number, M = v/a.

    speed        through the air          [m/s]
    sound_speed  of the air, above zero   [m/s]

    Raises ValueError for a negative speed or a speed of sound not above zero.

    >>> mach_number(680.0, 340.0)
    2.0
    """
    not_negative(speed=speed)
    above_zero(sound_speed=sound_speed)
    return _mach_number(speed, sound_speed)


@kernel
def _drag(dynamic_pressure, drag_coefficient, reference_area):
    return dynamic_pressure * drag_coefficient * reference_area


@relation(
    kernel=_drag,
    symbol="D",
    words="drag",
    unit="N",
    letters={
        "dynamic_pressure": Letter("q", "dynamic pressure", "Pa", 0.0, 1e5),
        "drag_coefficient": Letter("C_D", "drag coefficient", "", 0.0, 2.0),
        "reference_area": Letter("A", "reference area", "m²", 0.0, 300.0),
    },
    source=f'{_BERNOULLI}, "The Drag Equation", https://www.grc.nasa.gov/www/k-12/airplane/drageq.html',
)
def drag(dynamic_pressure: float, drag_coefficient: float, reference_area: float) -> float:
    """Drag, D = q·C_D·A [N].

    dynamic_pressure  ½·ρ·v²                                         [Pa]
    drag_coefficient  on the reference area
    reference_area    usually the greatest cross-section             [m²]

    Raises ValueError for a negative argument.

    >>> drag(35e3, 0.5, 10.0)
    175000.0
    """
    not_negative(
        dynamic_pressure=dynamic_pressure, drag_coefficient=drag_coefficient, reference_area=reference_area
    )
    return _drag(dynamic_pressure, drag_coefficient, reference_area)
