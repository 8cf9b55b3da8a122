"""Masses, volumes and dimensions of tanks, from whichever is given; tanks that share a bulkhead."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import TypeVar

from wetmass.physics.pattern import Letter, above_zero, finite, kernel, not_negative, relation
from wetmass.physics.tanks.pieces import PI, _cap_wall, cone_volume_below, cone_wall_below
from wetmass.physics.tanks.shapes import CylinderTank, Dome, Tank
from wetmass.physics.tanks.solid import rising_root

GEOMETRY = "geometry, exact"
T = TypeVar("T", bound=Tank)

_DIAMETER = ("D", "diameter", "m", 0.5, 12.0)
_LENGTH = ("L", "length of the straight part", "m", 0.5, 60.0)
_BOTTOM = ("h₁", "height of the bottom dome, below 0 where it bulges inwards", "m", -0.2, 6.0)
_TOP = ("h₂", "height of the top dome, below 0 where it bulges inwards", "m", -0.2, 6.0)


# ── formulas with their working ──────────────────────────────────────────────────────────────────


@kernel
def _tank_volume(mass, density, ullage):
    return mass / (density * (1.0 - ullage))


@relation(
    kernel=_tank_volume,
    symbol="V",
    words="volume of the tank",
    unit="m³",
    letters={
        "mass": Letter("m", "mass of the liquid", "kg", 1.0, 3e6),
        "density": Letter("ρ", "density of the liquid", "kg/m³", 60.0, 1500.0),
        "ullage": Letter("u", "ullage, share of the tank left free", "", 0.0, 0.2),
    },
    source="definition of ullage (free share of the tank's volume)",
)
def tank_volume(mass: float, density: float, ullage: float = 0.0) -> float:
    """Volume a tank needs, V = m/(ρ·(1 − u)) [m³].

    mass     liquid loaded, residuals included         [kg]
    density  at loading temperature                    [kg/m³]
    ullage   share of the tank left free, 0 up to 0.9  [-]

    Raises ValueError for a mass or density not above zero or an ullage outside 0 to 0.9.
    Source: definition.

    >>> round(tank_volume(77_777.78, 1141.2, 0.03), 3)
    70.262
    """
    above_zero(mass=mass, density=density)
    if not 0.0 <= ullage <= 0.9:
        raise ValueError(f"ullage must lie between 0 and 0.9 of the tank, got {ullage}")
    return _tank_volume(mass, density, ullage)


@kernel
def _cylinder_volume(diameter, length, bottom_height, top_height):
    return PI * diameter * diameter * (length / 4.0 + (bottom_height + top_height) / 6.0)


@relation(
    kernel=_cylinder_volume,
    symbol="V",
    words="volume of a cylinder with domes",
    unit="m³",
    letters={
        "diameter": Letter(*_DIAMETER),
        "length": Letter(*_LENGTH),
        "bottom_height": Letter(*_BOTTOM),
        "top_height": Letter(*_TOP),
    },
    source=GEOMETRY,
)
def cylinder_volume(diameter: float, length: float, bottom_height: float, top_height: float) -> float:
    """Volume of a cylinder between ellipsoidal ends, V = π·D²·(L/4 + (h₁ + h₂)/6) [m³].

    diameter       of the inside                                       [m]
    length         of the straight part                                [m]
    bottom_height  of the bottom dome, 0 flat, below 0 bulging inwards [m]
    top_height     of the top dome, likewise                           [m]

    Raises ValueError when the diameter is not above zero, the length is negative, or inward domes meet.

    >>> round(cylinder_volume(4.0, 10.0, 2.0, 2.0), 3)
    159.174
    """
    above_zero(diameter=diameter)
    not_negative(length=length)
    finite(bottom_height=bottom_height, top_height=top_height)
    inward = -min(0.0, bottom_height) - min(0.0, top_height)
    if inward > length:
        raise ValueError(
            f"length must be at least {inward} m so that the inward domes do not meet, got {length}"
        )
    return _cylinder_volume(diameter, length, bottom_height, top_height)


@kernel
def _cylinder_length(volume, diameter, bottom_height, top_height):
    return 4.0 * volume / (PI * diameter * diameter) - 2.0 / 3.0 * (bottom_height + top_height)


@relation(
    kernel=_cylinder_length,
    symbol="L",
    words="length of the straight part",
    unit="m",
    letters={
        "volume": Letter("V", "volume of the tank", "m³", 1500.0, 5000.0),
        "diameter": Letter(*_DIAMETER),
        "bottom_height": Letter(*_BOTTOM),
        "top_height": Letter(*_TOP),
    },
    source=GEOMETRY,
)
def cylinder_length(volume: float, diameter: float, bottom_height: float, top_height: float) -> float:
    """Straight length a cylinder with ellipsoidal ends needs, L = 4·V/(π·D²) − ⅔·(h₁ + h₂) [m].

    Arguments as for `cylinder_volume`, volume in m³.  Raises ValueError when the domes alone hold more.

    >>> round(cylinder_length(159.174, 4.0, 2.0, 2.0), 4)
    10.0
    """
    above_zero(volume=volume, diameter=diameter)
    finite(bottom_height=bottom_height, top_height=top_height)
    length = _cylinder_length(volume, diameter, bottom_height, top_height)
    least_length = -min(0.0, bottom_height) - min(0.0, top_height)
    if length < least_length:
        raise ValueError(
            f"the domes alone hold more than {volume} m³ at diameter {diameter} m "
            f"(length would be {length:.4g} m); take a smaller diameter, flatter domes or a sphere"
        )
    return length


@kernel
def _dome_area(diameter, height):
    return _cap_wall(height, diameter / 2.0, height)


@relation(
    kernel=_dome_area,
    symbol="A",
    words="wall of an ellipsoidal dome",
    unit="m²",
    letters={"diameter": Letter(*_DIAMETER), "height": Letter("h", "height of the dome", "m", 0.1, 6.0)},
    source=GEOMETRY,
)
def dome_area(diameter: float, height: float) -> float:
    """Wall of half an ellipsoid of revolution [m²]; a hemisphere has π·D²/2.

    diameter  at its rim             [m]
    height    of the dome, above 0   [m]

    >>> round(dome_area(4.0, 2.0), 4)
    25.1327
    """
    above_zero(diameter=diameter, height=height)
    return _dome_area(diameter, height)


@kernel
def _torus_volume(ring_diameter, tube_diameter):
    return PI * PI / 4.0 * ring_diameter * tube_diameter * tube_diameter


@kernel
def _torus_area(ring_diameter, tube_diameter):
    return PI * PI * ring_diameter * tube_diameter


_RING = {
    "ring_diameter": Letter("D", "diameter of the circle through the tube's middle", "m", 3.0, 12.0),
    "tube_diameter": Letter("d", "diameter of the tube", "m", 0.1, 3.0),
}


@relation(
    kernel=_torus_volume, symbol="V", words="volume of a ring tank", unit="m³", letters=_RING,
    source="Pappus's second theorem",
)  # fmt: skip
def torus_volume(ring_diameter: float, tube_diameter: float) -> float:
    """Volume of a ring of circular section, V = π²·D·d²/4 [m³].

    ring_diameter  of the circle through the tube's middle    [m]
    tube_diameter  of the tube, at most the ring's diameter   [m]

    >>> round(torus_volume(3.0, 1.0), 4)
    7.4022
    """
    above_zero(ring_diameter=ring_diameter, tube_diameter=tube_diameter)
    if tube_diameter > ring_diameter:
        raise ValueError(
            f"tube_diameter must not exceed ring_diameter ({ring_diameter} m), got {tube_diameter} m"
        )
    return _torus_volume(ring_diameter, tube_diameter)


@relation(
    kernel=_torus_area, symbol="A", words="wall of a ring tank", unit="m²", letters=_RING,
    source="Pappus's first theorem",
)  # fmt: skip
def torus_area(ring_diameter: float, tube_diameter: float) -> float:
    """Wall of a ring of circular section, A = π²·D·d [m²].  Arguments as for `torus_volume`.

    >>> round(torus_area(3.0, 1.0), 4)
    29.6088
    """
    above_zero(ring_diameter=ring_diameter, tube_diameter=tube_diameter)
    if tube_diameter > ring_diameter:
        raise ValueError(
            f"tube_diameter must not exceed ring_diameter ({ring_diameter} m), got {tube_diameter} m"
        )
    return _torus_area(ring_diameter, tube_diameter)


@kernel
def _frustum_volume(bottom_diameter, top_diameter, length):
    return cone_volume_below(length, bottom_diameter / 2.0, top_diameter / 2.0, length)


@kernel
def _frustum_area(bottom_diameter, top_diameter, length):
    return cone_wall_below(length, bottom_diameter / 2.0, top_diameter / 2.0, length)


_CONE = {
    "bottom_diameter": Letter("D₁", "diameter at the bottom", "m", 0.5, 12.0),
    "top_diameter": Letter("D₂", "diameter at the top", "m", 0.5, 12.0),
    "length": Letter("L", "length along the axis", "m", 0.2, 30.0),
}


@relation(kernel=_frustum_volume, symbol="V", words="volume of a cone cut flat", unit="m³", letters=_CONE,
          source=GEOMETRY)  # fmt: skip
def frustum_volume(bottom_diameter: float, top_diameter: float, length: float) -> float:
    """Volume of a cone cut flat at both ends, V = π·L·(D₁² + D₁·D₂ + D₂²)/12 [m³].

    >>> round(frustum_volume(4.0, 2.0, 3.0), 4)
    21.9911
    """
    above_zero(bottom_diameter=bottom_diameter, top_diameter=top_diameter, length=length)
    return _frustum_volume(bottom_diameter, top_diameter, length)


@relation(kernel=_frustum_area, symbol="A", words="side wall of a cone cut flat", unit="m²", letters=_CONE,
          source=GEOMETRY)  # fmt: skip
def frustum_area(bottom_diameter: float, top_diameter: float, length: float) -> float:
    """Side wall of a cone cut flat at both ends, without its ends [m²].

    >>> round(frustum_area(4.0, 4.0, 3.0), 4)
    37.6991
    """
    above_zero(bottom_diameter=bottom_diameter, top_diameter=top_diameter, length=length)
    return _frustum_area(bottom_diameter, top_diameter, length)


# ── any one dimension from a volume ──────────────────────────────────────────────────────────────


def open_dimensions(tank: Tank) -> tuple[str, ...]:
    """Names that `sized` can solve for; parts of nested and clustered tanks by a dot, "outer.length"."""
    names: list[str] = []
    for field in fields(tank):  # type: ignore[arg-type]
        value = getattr(tank, field.name)
        if isinstance(value, Tank):
            names += [f"{field.name}.{inner}" for inner in open_dimensions(value)]
        elif isinstance(value, Dome):
            names.append(f"{field.name}.height_ratio")
        elif isinstance(value, float | int) and not isinstance(value, bool) and field.name not in _FIXED:
            names.append(field.name)
    return tuple(names)


_FIXED = ("on_ring", "gap", "offset")


def with_dimension(tank: T, name: str, value: float) -> T:
    """The tank with one dimension (a name of `open_dimensions`) changed."""
    head, _, rest = name.partition(".")
    if rest:
        part = getattr(tank, head)
        value = (
            with_dimension(part, rest, value) if isinstance(part, Tank) else replace(part, **{rest: value})
        )
    return replace(tank, **{head: value})  # type: ignore[type-var]


def sized(tank: T, dimension: str, volume: float) -> T:
    """The tank with `dimension` changed so that it holds `volume` [m³]; every other size stays.

    `dimension` is a name of `open_dimensions(tank)`, such as "length", "diameter" or "bottom.height_ratio".
    The value the tank came with is where the search starts.  Raises ValueError when no value holds it.

    >>> round(sized(CylinderTank(4.0, 1.0), "length", 159.1740).length, 5)
    10.0
    """
    above_zero(volume=volume)
    if not is_dataclass(tank) or dimension not in (names := open_dimensions(tank)):
        names = open_dimensions(tank)
        raise ValueError(f"dimension: got {dimension!r}; this tank can be solved for {', '.join(names)}")

    def held(x: float) -> float | None:
        try:
            return with_dimension(tank, dimension, x).volume
        except ValueError:
            return None  # no such tank

    if (near := _bracket_near(held, _dimension(tank, dimension), volume)) is not None:
        return with_dimension(tank, dimension, _where(held, *near, volume))
    top = 5.0 if dimension.endswith("height_ratio") else 1e4
    tried: list[tuple[float, float]] = [(0.0, v)] if (v := held(0.0)) is not None else []
    tried += [
        (x, v) for i in range(401) if (v := held(x := top * 10.0 ** (-9.0 * (1.0 - i / 400.0)))) is not None
    ]
    _edges(held, tried, top)
    tried.sort()
    for (a, va), (b, vb) in itertools.pairwise(tried):
        if min(va, vb) <= volume <= max(va, vb):
            return with_dimension(tank, dimension, _where(held, a, b, volume))
    reach = f"{tried[0][1]:.6g} to {max(v for _, v in tried):.6g} m³" if tried else "nothing"
    raise ValueError(f"no {dimension} makes this tank hold {volume} m³; the other sizes allow {reach}")


Held = Callable[[float], float | None]  # volume with a dimension at a value; None where there is no such tank


def _dimension(tank: Tank, name: str) -> float:
    value: object = tank
    for part in name.split("."):
        value = getattr(value, part)
    assert isinstance(value, float | int)
    return float(value)


def _bracket_near(held: Held, start: float, volume: float) -> tuple[float, float] | None:
    """Two values round the answer, found by walking out from the one the tank came with; None if in vain."""
    here = held(start)
    if start <= 0.0 or here is None:
        return None
    for factor in (1.3, 1.0 / 1.3):
        x, v = start, here
        for _ in range(40):
            further = held(x * factor)
            if further is None or (
                abs(further - volume) > abs(v - volume) and (further - volume) * (v - volume) > 0
            ):
                break
            if min(v, further) <= volume <= max(v, further):
                return min(x, x * factor), max(x, x * factor)
            x, v = x * factor, further
    return None


def _where(held: Held, low: float, high: float, volume: float) -> float:
    """The value between two at which the tank holds `volume`."""
    at_low, at_high = held(low), held(high)
    rising = at_low is not None and at_high is not None and at_high >= at_low

    def short(x: float) -> float:
        v = held(x)
        v = math.nan if v is None else v
        return v - volume if rising else volume - v

    return rising_root(short, low, high)


def _edges(held: Held, tried: list[tuple[float, float]], top: float) -> None:
    """Add the first and last value for which there is such a tank, to the last digit."""
    if not tried:
        return
    for inside, outside in ((tried[0][0], 0.0), (tried[-1][0], top)):
        if held(outside) is not None:
            continue
        good, bad = inside, outside
        for _ in range(80):
            middle = good + (bad - good) / 2.0
            if held(middle) is None:
                bad = middle
            else:
                good = middle
        edge = held(good)
        assert edge is not None
        tried.append((good, edge))


# ── stacks and shared bulkheads ──────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Stack:
    """Tanks one above the other."""

    tanks: tuple[Tank, ...]  # from the bottom
    feet: tuple[float, ...]  # m, height of each tank's lowest point above that of the first
    height: float  # m, of the whole
    wall_area: float  # m², shared bulkheads counted once
    shared_area: float  # m², bulkheads with liquid on both sides


def stacked(*tanks: Tank, gap: float = 0.0) -> Stack:
    """Tanks one above the other, bottom first, `gap` [m] between neighbours that share no bulkhead.

    Cylinders of one diameter share a bulkhead where the upper one's bottom dome bulges inwards and fits
    the lower one's top dome, or the other way round.
    """
    if not tanks:
        raise ValueError("a stack needs at least one tank")
    not_negative(gap=gap)
    feet, shared = [0.0], 0.0
    for lower, upper in itertools.pairwise(tanks):
        top_of_lower = feet[-1] + lower.height
        overlap = _shared_height(lower, upper)
        if overlap is None:
            feet.append(top_of_lower + gap)
        else:
            feet.append(top_of_lower - overlap)
            assert isinstance(lower, CylinderTank)
            shared += dome_area(lower.diameter, overlap) if overlap else math.pi * lower.diameter**2 / 4.0
    walls = sum(tank.wall_area for tank in tanks) - shared
    height = max(foot + tank.height for foot, tank in zip(feet, tanks, strict=True))
    return Stack(tanks, tuple(feet), height, walls, shared)


def _shared_height(lower: Tank, upper: Tank) -> float | None:
    """Height of the dome two cylinders share, None when they share none."""
    if not (isinstance(lower, CylinderTank) and isinstance(upper, CylinderTank)):
        return None
    same = math.isclose(lower.diameter, upper.diameter, rel_tol=1e-9)
    fits = math.isclose(lower.top.height_ratio, upper.bottom.height_ratio, rel_tol=1e-9, abs_tol=1e-12)
    if same and fits and lower.top.inward != upper.bottom.inward and lower.top.height_ratio > 0.0:
        return lower.top.height_ratio * lower.diameter / 2.0
    return None


def shared_bulkhead_pair(
    lower_volume: float, upper_volume: float, diameter: float, dome: Dome, *, bulge_up: bool = True
) -> Stack:
    """Two cylinder tanks of one diameter with one bulkhead between them, from their volumes [m³].

    The outer ends bulge outwards.  The shared one bulges up into the upper tank, or down into the
    lower one with `bulge_up=False`.

    >>> pair = shared_bulkhead_pair(40.0, 60.0, 3.0, Dome(0.7))
    >>> [round(tank.volume, 6) for tank in pair.tanks]
    [40.0, 60.0]
    """
    above_zero(lower_volume=lower_volume, upper_volume=upper_volume, diameter=diameter)
    rise = dome.height_ratio * diameter / 2.0
    outward, inward = Dome(dome.height_ratio), Dome(dome.height_ratio, inward=True)
    up = 1.0 if bulge_up else -1.0
    lower = CylinderTank(
        diameter,
        cylinder_length(lower_volume, diameter, rise, up * rise),
        outward,
        outward if bulge_up else inward,
    )
    upper = CylinderTank(
        diameter,
        cylinder_length(upper_volume, diameter, -up * rise, rise),
        inward if bulge_up else outward,
        outward,
    )
    return stacked(lower, upper)
