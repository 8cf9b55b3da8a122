"""How the sizes of a stage grow with its load: the same answers as `lay_out`, in microseconds.

Made once for a stage; then called for every trial of a closing loop.  Smooth wherever one tank of a level
does not outgrow another.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from wetmass.concept.model import Stage
from wetmass.concept.tank_shapes import Shape
from wetmass.physics.tanks import CylinderTank, FrustumTank, Tank, dome_area
from wetmass.vehicle.geometry.contents import Entry, entries, masses, room
from wetmass.vehicle.geometry.stack import BETWEEN

Sizes3 = tuple[float, float, float]  # wall area m², height m, straight length m of one tank
Growing = Callable[[float], Sizes3]  # from the volume of one tank, in m³

_DEGREE = 16  # of a piece of the fit, for shapes without a closed form
_PIECE = 2.0  # logarithm of the volume that a piece spans
_LEAST, _MOST = 1e-3, 3e4  # m³ of one tank, the reach of that fit


@dataclass(frozen=True, slots=True)
class StageSizes:
    """Sizes of one stage at a load."""

    volumes: tuple[float, ...]  # m³, of each entry, all its tanks
    areas: tuple[float, ...]  # m², walls of each entry, all its tanks
    masses: tuple[float, ...]  # kg, what each entry holds
    length: float  # m, from the exits to the top of the highest tank
    skirts: float  # m, length of body that no tank's wall closes


@dataclass(frozen=True, slots=True)
class _Grown:
    """One entry: its mass and volume are straight in the load."""

    entry: Entry
    mass: tuple[float, float]  # kg, and kg a kg of load
    volume: tuple[float, float]  # m³ of one tank with what stands in it, and m³ a kg of load
    held: tuple[float, float]  # m³ of one tank without what stands in it
    sizes: Growing
    drop: float  # m, taken off for the bulkhead shared with the tank above
    skin: bool  # its barrel is the skin of the stage


class Growth:
    """A stage made ready: `at(load, engine_length)` gives its sizes."""

    def __init__(self, stage: Stage) -> None:
        every = entries(stage)
        ratio = stage.mixture_ratio or 1.0
        # masses are straight in the load once every tank of known size is full
        one, two = masses(stage, 1e6, ratio, every), masses(stage, 2e6, ratio, every)
        slopes = [(b - a) / 1e6 for a, b in zip(one, two, strict=True)]
        self._every: dict[int, _Grown] = {}
        for number in sorted(range(len(every)), key=lambda i: every[i].around is None):
            line = (one[number] - slopes[number] * 1e6, slopes[number])
            self._every[number] = self._grown(stage, every, number, line)
        self._levels = self._pile(every)
        self.straight = all(_is_straight(grown) for grown in self._every.values()) and all(
            len(level) == 1 for level, _ in self._levels
        )
        """Whether all its sizes are straight in the load, at any load."""
        self._ordered = [self._every[i] for i in range(len(every))]

    def _grown(
        self, stage: Stage, every: tuple[Entry, ...], number: int, line: tuple[float, float]
    ) -> _Grown:
        entry = every[number]
        known = room(entry, every)
        if known is not None:
            held = (known, 0.0)
        else:
            each = 1.0 / entry.mass_in(1.0)
            held = (line[0] * each, line[1] * each)
        whole = held
        if entry.within is not None:
            inner = self._every[entry.within].volume
            whole = (held[0] + inner[0], held[1] + inner[1])
        drop = 0.0
        if entry.tank.shares_bulkhead:
            ends = entry.shape.make(1e3) if entry.shape.open else entry.shape.known()
            assert isinstance(ends, CylinderTank)
            drop = ends.top.height_ratio * ends.diameter / 2.0
        skin = entry.is_skin(stage.diameter.value)
        return _Grown(entry, line, whole, held, growing(entry.shape), drop, skin)

    def _pile(self, every: tuple[Entry, ...]) -> list[tuple[list[int], float]]:
        """Levels from the bottom up with the gap below each (below 0 for a shared bulkhead)."""
        levels: list[list[int]] = []
        for number, entry in enumerate(every):
            if entry.around is not None:
                continue
            if entry.tank.beside and levels:
                levels[-1].append(number)
            else:
                levels.append([number])
        made: list[tuple[list[int], float]] = []
        below: int | None = None
        for level in reversed(levels):
            gap = 0.0
            if below is not None:
                shares = self._every[below].entry.tank.shares_bulkhead and below == level[0] + 1
                gap = -self._every[below].drop if shares else BETWEEN
            made.append((level, gap))
            below = level[0]
        return made

    def at(self, load: float, engine_length: float) -> StageSizes:
        """Sizes with a load of propellant [kg] and engines of a length [m]."""
        volumes, areas, loads, heights, barrels = [], [], [], [], []
        for grown in self._ordered:
            count = grown.entry.tank.count
            area, height, barrel = grown.sizes(max(grown.volume[0] + grown.volume[1] * load, 1e-6))
            volumes.append(count * max(grown.held[0] + grown.held[1] * load, 0.0))
            areas.append(count * area)
            loads.append(grown.mass[0] + grown.mass[1] * load)
            heights.append(height)
            barrels.append(barrel if grown.skin else 0.0)
        at, stated_top, skin = engine_length, 0.0, 0.0
        for level, gap in self._levels:
            foot, tops = at + gap, []
            units, tallest, straight = 0, 0.0, 0.0
            for number in level:
                tank, height = self._ordered[number].entry.tank, heights[number]
                units += tank.count
                if tank.stands_at is not None:
                    stated_top = max(stated_top, tank.stands_at.value + height)
                else:
                    tops.append(foot + height)
                tallest = height if units == tank.count else max(tallest, height)
                straight = max(straight, barrels[number]) if straight else barrels[number]
            at = max(tops, default=at)
            skin += tallest if units > 1 else straight
        top = max(at, stated_top) if stated_top else at
        return StageSizes(
            tuple(volumes), tuple(areas), tuple(loads), top, top - engine_length - skin + 0.5 * engine_length
        )


def _is_straight(grown: _Grown) -> bool:
    shape, tank = grown.entry.shape, grown.entry.tank
    plain = not shape.open or (shape.open == "length" and shape.kind in ("cylinder", "ring"))
    alone = 0.0 in grown.held and 0.0 in grown.volume
    return plain and alone and tank.stands_at is None


def growing(shape: Shape) -> Growing:
    """Wall area, height and straight length of one tank from its volume."""
    if not shape.open:
        known = _sizes(shape.known())
        return lambda volume: known
    if shape.open == "length" and shape.kind in ("cylinder", "ring"):
        return _straight(shape)
    if shape.open == "length" and shape.kind == "frustum":
        return _cone(shape)
    if shape.open == "inner diameter" and shape.kind == "ring":
        return _hollow(shape)
    if shape.open == "dome height" and shape.kind == "cylinder":
        return _domed(shape)
    if shape.kind == "sphere":
        return _sphere
    return _fitted(shape)


def _sizes(tank: Tank) -> Sizes3:
    straight = tank.length if isinstance(tank, (CylinderTank, FrustumTank)) else 0.0
    return tank.wall_area, tank.height, straight


def _straight(shape: Shape) -> Growing:
    """A body that only grows longer: everything is straight in its volume."""
    one, two = shape.make(10.0), shape.make(20.0)
    v = one.volume
    per = 1.0 / (two.volume - v)
    (a, h, s), (a_2, h_2, s_2) = _sizes(one), _sizes(two)
    da, dh, ds = (a_2 - a) * per, (h_2 - h) * per, (s_2 - s) * per
    return lambda volume: (a + da * (volume - v), h + dh * (volume - v), s + ds * (volume - v))


def _cone(shape: Shape) -> Growing:
    """A cone that grows longer: its length is straight in its volume, its side is slanted."""
    one, two = shape.make(10.0), shape.make(20.0)
    assert isinstance(one, FrustumTank)
    wide, narrow = one.bottom_diameter / 2.0, one.top_diameter / 2.0
    per = 10.0 / (two.volume - one.volume)
    half, lean = math.pi * (wide + narrow), (wide - narrow) ** 2
    ends = one.wall_area - half * math.sqrt(100.0 + lean)
    over = one.height - 10.0

    def sizes(volume: float) -> Sizes3:
        length = 10.0 + per * (volume - one.volume)
        return ends + half * math.sqrt(length * length + lean), length + over, length

    return sizes


def _hollow(shape: Shape) -> Growing:
    """The room between two cylinders, the inner one open."""
    outer, length = shape.sizes["diameter"], shape.sizes["length"]

    def sizes(volume: float) -> Sizes3:
        inner = math.sqrt(max(1e-12, outer * outer - 4.0 * volume / (math.pi * length)))
        ends = math.pi / 2.0 * (outer * outer - inner * inner)
        return math.pi * length * (outer + inner) + ends, length, 0.0

    return sizes


def _domed(shape: Shape) -> Growing:
    """A cylinder whose two domes rise."""
    across, length = shape.sizes["diameter"], shape.sizes["length"]
    flat, per = math.pi / 4.0 * across * across * length, 3.0 / (math.pi * across * across)

    def sizes(volume: float) -> Sizes3:
        high = max(1e-9, (volume - flat) * per)
        return math.pi * across * length + 2.0 * dome_area(across, high), length + 2.0 * high, length

    return sizes


def _sphere(volume: float) -> Sizes3:
    across = (6.0 * volume / math.pi) ** (1.0 / 3.0)
    return math.pi * across * across, across, 0.0


def _fitted(shape: Shape) -> Growing:
    """Polynomials through exact sizes, piece by piece in the logarithm of the volume; constant beyond."""
    least, most = shape.volumes()
    low, high = math.log(max(_LEAST, least * 1.000001)), math.log(min(_MOST, most * 0.999999))
    count = max(1, math.ceil((high - low) / _PIECE))
    width = (high - low) / count
    pieces: dict[int, tuple[list[float], ...]] = {}

    def sizes(volume: float) -> Sizes3:
        x = min(high, max(low, math.log(volume)))
        number = min(count - 1, int((x - low) / width))
        fit = pieces.get(number)
        if fit is None:
            fit = pieces[number] = _piece(shape, low + number * width, width)
        t = 2.0 * (x - low - number * width) / width - 1.0
        area, height, straight = (_series(column, t) for column in fit)
        return area, height, straight

    return sizes


def _piece(shape: Shape, start: float, width: float) -> tuple[list[float], ...]:
    """Chebyshev coefficients of the three sizes over one piece, through its ends, so that pieces meet."""
    import numpy as np
    from numpy.polynomial import chebyshev

    nodes = np.cos(np.pi * np.arange(_DEGREE + 1) / _DEGREE)
    volumes = np.exp(start + 0.5 * width * (nodes + 1.0))
    rows = np.array([_sizes(shape.holding(float(v))[0]) for v in volumes])
    return tuple(chebyshev.chebfit(nodes, rows[:, k], _DEGREE).tolist() for k in range(3))


def _series(coefficients: list[float], x: float) -> float:
    """A Chebyshev series (Clenshaw)."""
    a = b = 0.0
    for c in coefficients[:0:-1]:
        a, b = c + 2.0 * x * a - b, a
    return coefficients[0] + x * a - b
