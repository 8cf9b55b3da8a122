"""A tank's inside as pieces added and taken away at their heights: what every shape answers from."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from wetmass.physics.tanks import pieces


@dataclass(frozen=True, slots=True)
class Kind:
    """The four kernels of one kind of piece."""

    volume: Callable[..., float]
    moment: Callable[..., float]
    wall: Callable[..., float]
    section: Callable[..., float]


CONE = Kind(pieces.cone_volume_below, pieces.cone_moment_below, pieces.cone_wall_below, pieces.cone_section)
DOME = Kind(pieces.dome_volume_below, pieces.dome_moment_below, pieces.dome_wall_below, pieces.dome_section)
BOWL = Kind(pieces.bowl_volume_below, pieces.bowl_moment_below, pieces.bowl_wall_below, pieces.bowl_section)
RING = Kind(pieces.ring_volume_below, pieces.ring_moment_below, pieces.ring_wall_below, pieces.ring_section)


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece at its height; `volume` is +1 inside the tank, −1 taken out, 0 for none."""

    kind: Kind
    foot: float  # m above the tank's lowest point
    top: float  # m above the tank's lowest point
    sizes: tuple[float, ...]  # arguments of the kernels after the level
    volume: int = 1
    wall: int = 1


@dataclass(frozen=True, slots=True)
class Plate:
    """A flat wall across the tank at one height: no volume."""

    height: float  # m
    area: float  # m²


@dataclass(frozen=True, slots=True)
class Solid:
    """The inside of a tank standing upright.  Heights from its lowest point, in m."""

    pieces: tuple[Piece, ...]
    plates: tuple[Plate, ...] = ()

    @property
    def height(self) -> float:
        """From the lowest to the highest point of the inside."""
        return max(piece.top for piece in self.pieces)

    def volume(self, level: float = math.inf) -> float:
        """Volume below `level` [m³]."""
        return math.fsum(p.volume * p.kind.volume(level - p.foot, *p.sizes) for p in self.pieces if p.volume)

    def wall(self, level: float = math.inf) -> float:
        """Wall below `level` [m²]; a flat end counts as soon as the level reaches it."""
        curved = math.fsum(p.wall * p.kind.wall(level - p.foot, *p.sizes) for p in self.pieces if p.wall)
        return curved + math.fsum(plate.area for plate in self.plates if level >= plate.height)

    def section(self, level: float) -> float:
        """Free surface at `level` [m²]."""
        return math.fsum(
            p.volume * p.kind.section(level - p.foot, *p.sizes)
            for p in self.pieces
            if p.volume and p.foot <= level <= p.top
        )

    def moment(self, level: float = math.inf) -> float:
        """First moment of the volume below `level` about the lowest point [m⁴]."""
        return math.fsum(
            p.volume
            * (p.kind.moment(level - p.foot, *p.sizes) + p.foot * p.kind.volume(level - p.foot, *p.sizes))
            for p in self.pieces
            if p.volume
        )

    def raised(self, by: float) -> Solid:
        """The same, `by` metres higher."""
        return Solid(
            tuple(Piece(p.kind, p.foot + by, p.top + by, p.sizes, p.volume, p.wall) for p in self.pieces),
            tuple(Plate(plate.height + by, plate.area) for plate in self.plates),
        )

    def taken_out(self) -> Solid:
        """The same as a hole: its volume counts against, its wall still counts."""
        return Solid(
            tuple(Piece(p.kind, p.foot, p.top, p.sizes, -p.volume, p.wall) for p in self.pieces), self.plates
        )

    def with_(self, other: Solid) -> Solid:
        """Both together."""
        return Solid(self.pieces + other.pieces, self.plates + other.plates)


def rising_root(function: Callable[[float], float], low: float, high: float, accuracy: float = 0.0) -> float:
    """Where a rising function crosses zero between `low` and `high` (Illinois, then bisection).

    Ends of the range are returned when the function does not change sign inside it.
    """
    f_low, f_high = function(low), function(high)
    if f_low >= 0.0:
        return low
    if f_high <= 0.0:
        return high
    side = 0
    for count in range(200):
        width = high - low
        x = low + width / 2.0 if count % 4 == 3 else low - f_low * width / (f_high - f_low)
        if not low < x < high:
            x = low + width / 2.0
        if width <= accuracy or x in (low, high):
            return x
        f = function(x)
        if f == 0.0:
            return x
        if f < 0.0:
            low, f_low = x, f
            f_high = f_high / 2.0 if side == -1 else f_high
            side = -1
        else:
            high, f_high = x, f
            f_low = f_low / 2.0 if side == 1 else f_low
            side = 1
    return low + (high - low) / 2.0
