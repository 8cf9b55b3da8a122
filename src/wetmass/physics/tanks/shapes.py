"""Tanks of every shape, standing upright: volume, walls, and where the liquid stands.

All sizes are of the inside; a wall's thickness is small beside them (`wetmass.physics.walls`).
Heights count from the lowest point of the inside.  The geometry is exact; no source is needed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from wetmass.physics.pattern import above_zero, not_negative
from wetmass.physics.tanks.solid import BOWL, CONE, DOME, RING, Piece, Plate, Solid, rising_root


@dataclass(frozen=True, slots=True)
class Dome:
    """The end of a tank: half an ellipsoid, `height_ratio` of its height to its radius.

    0 is flat, 1 a hemisphere, 1/√2 the ellipsoid whose rim is not pressed inwards by the pressure.
    `inward` domes bulge into the tank: the other side of a bulkhead shared with a neighbour.
    """

    height_ratio: float = 1.0
    inward: bool = False

    def __post_init__(self) -> None:
        if not 0.0 <= self.height_ratio <= 5.0:
            raise ValueError(
                f"height_ratio of a dome must lie between 0 (flat) and 5, got {self.height_ratio}; "
                "it is the dome's height over its radius"
            )


FLAT = Dome(0.0)
HEMISPHERE = Dome(1.0)
ROOT_TWO = Dome(math.sqrt(0.5))


@dataclass(frozen=True, slots=True)
class Envelope:
    """The room a tank's inside takes up."""

    height: float  # m
    diameter: float  # m, the circle round everything
    hole: float = 0.0  # m, the free circle through the middle


@dataclass(frozen=True, slots=True)
class Liquid:
    """A tank partly filled, thrust pressing the liquid down."""

    volume: float  # m³
    fill: float  # share of the tank's volume
    level: float  # m, height of the surface
    surface: float  # m², area of the surface
    wetted_area: float  # m², wall reached
    centre: float  # m, height of the liquid's centre


class Tank:
    """What every shape answers."""

    def _build(self) -> Solid:
        raise NotImplementedError

    @cached_property
    def inside(self) -> Solid:
        """The inside as pieces."""
        return self._build()

    @property
    def count(self) -> int:
        """How many equal tanks stand side by side."""
        return 1

    @cached_property
    def volume(self) -> float:
        """Whole inside volume [m³]."""
        return self.count * self.inside.volume()

    @cached_property
    def wall_area(self) -> float:
        """Whole inside wall [m²], ends and shared bulkheads included."""
        return self.count * self.inside.wall()

    @property
    def height(self) -> float:
        """From lowest to highest point of the inside [m]."""
        return self.inside.height

    @property
    def envelope(self) -> Envelope:
        raise NotImplementedError

    def outline(self, level: float) -> float:
        """Radius of the tank's outside at a height [m], 0 above and below it."""
        widest = 0.0
        for piece in self.inside.pieces:
            if piece.volume > 0 and piece.foot <= level <= piece.top:
                section = piece.kind.section(level - piece.foot, *piece.sizes)
                if piece.kind is RING:
                    radius = piece.sizes[0] + section / (4.0 * math.pi * piece.sizes[0])
                else:
                    radius = math.sqrt(section / math.pi)
                widest = max(widest, radius)
        return widest

    def level(self, volume: float) -> float:
        """Height of the surface when `volume` [m³] of liquid is in it [m].

        Raises ValueError when it does not fit.
        """
        if not 0.0 <= volume <= self.volume * (1.0 + 1e-12):
            raise ValueError(
                f"volume must lie between 0 and {self.volume:.6g} m³ of the tank, got {volume} m³"
            )
        each = volume / self.count
        return rising_root(lambda x: self.inside.volume(x) - each, 0.0, self.height)

    def liquid(self, volume: float) -> Liquid:
        """Level, surface, wetted wall and centre for `volume` [m³] of liquid."""
        return self._liquid(self.level(volume), volume)

    def filled_to(self, level: float) -> Liquid:
        """The same from the height of the surface."""
        if not 0.0 <= level <= self.height:
            raise ValueError(f"level must lie between 0 and {self.height:.6g} m of the tank, got {level} m")
        return self._liquid(level, self.count * self.inside.volume(level))

    def _liquid(self, level: float, volume: float) -> Liquid:
        inside = self.inside
        below = inside.volume(level)
        return Liquid(
            volume=volume,
            fill=volume / self.volume,
            level=level,
            surface=self.count * inside.section(level),
            wetted_area=self.count * inside.wall(level),
            centre=inside.moment(level) / below if below > 0.0 else level,
        )


def _ends(bottom: Dome, top: Dome, foot_radius: float, top_radius: float, length: float) -> Solid:
    """A cone (or cylinder) with its two ends, standing with its lowest point at 0."""
    low = bottom.height_ratio * foot_radius
    high = top.height_ratio * top_radius
    start = 0.0 if bottom.inward else low
    pieces: list[Piece] = []
    plates: list[Plate] = []
    if length > 0.0:
        pieces.append(Piece(CONE, start, start + length, (foot_radius, top_radius, length)))
    if low == 0.0:
        plates.append(Plate(0.0, math.pi * foot_radius**2))
    elif bottom.inward:
        pieces.append(Piece(DOME, 0.0, low, (foot_radius, low), volume=-1))
    else:
        pieces.append(Piece(BOWL, 0.0, low, (foot_radius, low)))
    end = start + length
    if high == 0.0:
        plates.append(Plate(end, math.pi * top_radius**2))
    elif top.inward:
        pieces.append(Piece(BOWL, end - high, end, (top_radius, high), volume=-1))
    else:
        pieces.append(Piece(DOME, end, end + high, (top_radius, high)))
    return Solid(tuple(pieces), tuple(plates))


@dataclass(frozen=True)
class CylinderTank(Tank):
    """A cylinder between two ends; `length` is of the straight part."""

    diameter: float  # m
    length: float  # m
    bottom: Dome = HEMISPHERE
    top: Dome = HEMISPHERE

    def __post_init__(self) -> None:
        above_zero(diameter=self.diameter)
        not_negative(length=self.length)
        inward = sum(end.height_ratio * self.diameter / 2.0 for end in (self.bottom, self.top) if end.inward)
        if inward > self.length:
            raise ValueError(
                f"length must be at least {inward:.6g} m so that the inward domes do not meet, "
                f"got {self.length} m"
            )
        if self.length == 0.0 and self.bottom.height_ratio == 0.0 and self.top.height_ratio == 0.0:
            raise ValueError("length must be above 0 m where both ends are flat, got 0 m")

    def _build(self) -> Solid:
        return _ends(self.bottom, self.top, self.diameter / 2.0, self.diameter / 2.0, self.length)

    @property
    def envelope(self) -> Envelope:
        return Envelope(self.height, self.diameter)


@dataclass(frozen=True)
class FrustumTank(Tank):
    """A cone cut at both ends, with domes; `length` is of the conical part."""

    bottom_diameter: float  # m
    top_diameter: float  # m
    length: float  # m
    bottom: Dome = FLAT
    top: Dome = FLAT

    def __post_init__(self) -> None:
        above_zero(bottom_diameter=self.bottom_diameter, top_diameter=self.top_diameter, length=self.length)
        for end, here, there in (
            (self.bottom, self.bottom_diameter, self.top_diameter),
            (self.top, self.top_diameter, self.bottom_diameter),
        ):
            if end.inward and end.height_ratio > 0.0 and here > there:
                raise ValueError(
                    f"an inward dome at the wide end ({here} m) of a cone cuts through its wall; "
                    "put it at the narrow end or bulge it outwards"
                )
        inward = sum(
            end.height_ratio * d / 2.0
            for end, d in ((self.bottom, self.bottom_diameter), (self.top, self.top_diameter))
            if end.inward
        )
        if inward > self.length:
            raise ValueError(
                f"length must be at least {inward:.6g} m for the inward dome, got {self.length} m"
            )

    def _build(self) -> Solid:
        return _ends(self.bottom, self.top, self.bottom_diameter / 2.0, self.top_diameter / 2.0, self.length)

    @property
    def envelope(self) -> Envelope:
        return Envelope(self.height, max(self.bottom_diameter, self.top_diameter))


@dataclass(frozen=True)
class SpheroidTank(Tank):
    """An ellipsoid of revolution, oblate where `pole_to_pole` is below `diameter`, prolate above."""

    diameter: float  # m
    pole_to_pole: float  # m

    def __post_init__(self) -> None:
        above_zero(diameter=self.diameter, pole_to_pole=self.pole_to_pole)
        if not 0.02 <= self.pole_to_pole / self.diameter <= 5.0:
            raise ValueError(
                "pole_to_pole over diameter must lie between 0.02 and 5, "
                f"got {self.pole_to_pole / self.diameter}"
            )

    def _build(self) -> Solid:
        radius, half = self.diameter / 2.0, self.pole_to_pole / 2.0
        return Solid((Piece(BOWL, 0.0, half, (radius, half)), Piece(DOME, half, 2.0 * half, (radius, half))))

    @property
    def envelope(self) -> Envelope:
        return Envelope(self.pole_to_pole, self.diameter)


@dataclass(frozen=True)
class SphereTank(Tank):
    """A sphere."""

    diameter: float  # m

    def __post_init__(self) -> None:
        above_zero(diameter=self.diameter)

    def _build(self) -> Solid:
        radius = self.diameter / 2.0
        return Solid(
            (Piece(BOWL, 0.0, radius, (radius, radius)), Piece(DOME, radius, 2 * radius, (radius, radius)))
        )

    @property
    def envelope(self) -> Envelope:
        return Envelope(self.diameter, self.diameter)


@dataclass(frozen=True)
class TorusTank(Tank):
    """A ring lying flat, of circular section; `ring_diameter` is of the circle through the tube's middle."""

    ring_diameter: float  # m
    tube_diameter: float  # m

    def __post_init__(self) -> None:
        above_zero(ring_diameter=self.ring_diameter, tube_diameter=self.tube_diameter)
        if self.tube_diameter > self.ring_diameter:
            raise ValueError(
                f"tube_diameter must not exceed ring_diameter ({self.ring_diameter} m), or the ring cuts "
                f"itself; got {self.tube_diameter} m"
            )

    def _build(self) -> Solid:
        tube = self.tube_diameter / 2.0
        return Solid((Piece(RING, 0.0, self.tube_diameter, (self.ring_diameter / 2.0, tube)),))

    @property
    def envelope(self) -> Envelope:
        return Envelope(
            self.tube_diameter,
            self.ring_diameter + self.tube_diameter,
            self.ring_diameter - self.tube_diameter,
        )


@dataclass(frozen=True)
class AnnularTank(Tank):
    """The room between two upright cylinders, with flat ends."""

    outer_diameter: float  # m
    inner_diameter: float  # m
    length: float  # m

    def __post_init__(self) -> None:
        above_zero(outer_diameter=self.outer_diameter, inner_diameter=self.inner_diameter, length=self.length)
        if self.inner_diameter >= self.outer_diameter:
            raise ValueError(
                f"inner_diameter must be below outer_diameter ({self.outer_diameter} m), "
                f"got {self.inner_diameter} m"
            )

    def _build(self) -> Solid:
        outer, inner = self.outer_diameter / 2.0, self.inner_diameter / 2.0
        end = math.pi * (outer**2 - inner**2)
        return Solid(
            (
                Piece(CONE, 0.0, self.length, (outer, outer, self.length)),
                Piece(CONE, 0.0, self.length, (inner, inner, self.length), volume=-1),
            ),
            (Plate(0.0, end), Plate(self.length, end)),
        )

    @property
    def envelope(self) -> Envelope:
        return Envelope(self.length, self.outer_diameter, self.inner_diameter)


@dataclass(frozen=True)
class NestedTank(Tank):
    """The room round a tank that stands inside another; the inner one's foot is `offset` above the outer's.

    The inner tank's own volume is asked of `inner`; its wall counts here too, wetted from outside.
    """

    outer: Tank
    inner: Tank
    offset: float = 0.0  # m

    def __post_init__(self) -> None:
        not_negative(offset=self.offset)
        if self.outer.count != 1 or self.inner.count != 1:
            raise ValueError("a cluster of tanks cannot be nested; nest one tank and cluster the pair")
        for tank, which in ((self.outer, "outer"), (self.inner, "inner")):
            if any(piece.volume < 0 for piece in tank.inside.pieces) or tank.envelope.hole > 0.0:
                raise ValueError(
                    f"the {which} tank must be whole: no inward dome, no hole, nothing nested in it"
                )
        if self.offset + self.inner.height > self.outer.height * (1.0 + 1e-12):
            raise ValueError(
                f"the inner tank ends at {self.offset + self.inner.height:.6g} m, above the outer's "
                f"{self.outer.height:.6g} m; lower it or shorten it"
            )
        for i in range(201):
            x = self.inner.height * i / 200.0
            room, needed = self.outer.outline(min(self.offset + x, self.outer.height)), self.inner.outline(x)
            if needed > room * (1.0 + 1e-9) + 1e-9:
                raise ValueError(
                    f"the inner tank needs radius {needed:.6g} m at height {self.offset + x:.6g} m, "
                    f"where the outer has {room:.6g} m; make it narrower or move it"
                )

    def _build(self) -> Solid:
        return self.outer.inside.with_(self.inner.inside.raised(self.offset).taken_out())

    @property
    def height(self) -> float:
        return self.outer.height

    @property
    def envelope(self) -> Envelope:
        return self.outer.envelope


@dataclass(frozen=True)
class ClusterTank(Tank):
    """Equal tanks side by side on a ring (two or more), standing level and filled alike.

    `gap` is the free room between neighbours; `centre` puts one more in the middle where there is room.
    """

    tank: Tank
    on_ring: int
    gap: float = 0.0  # m
    centre: bool = False

    def __post_init__(self) -> None:
        not_negative(gap=self.gap)
        if not (isinstance(self.on_ring, int) and self.on_ring >= 2):
            raise ValueError(f"on_ring must be a whole number of 2 or more tanks, got {self.on_ring}")
        if self.tank.count != 1:
            raise ValueError("a cluster cannot be clustered again; state the whole number of tanks")

    def _build(self) -> Solid:
        return self.tank.inside

    @property
    def count(self) -> int:
        return self.on_ring + self.centre

    @property
    def ring_radius(self) -> float:
        """From the middle to each tank's axis [m]."""
        pitch = self.tank.envelope.diameter + self.gap
        neighbours = pitch / 2.0 / math.sin(math.pi / self.on_ring)
        return max(neighbours, pitch) if self.centre else neighbours

    @property
    def positions(self) -> tuple[tuple[float, float], ...]:
        """Where the axes stand, (x, y) in m."""
        ring = tuple(
            (
                self.ring_radius * math.cos(2.0 * math.pi * i / self.on_ring),
                self.ring_radius * math.sin(2.0 * math.pi * i / self.on_ring),
            )
            for i in range(self.on_ring)
        )
        return ((0.0, 0.0), *ring) if self.centre else ring

    @property
    def envelope(self) -> Envelope:
        across = self.tank.envelope.diameter
        hole = 0.0 if self.centre else max(0.0, 2.0 * self.ring_radius - across)
        return Envelope(self.tank.height, 2.0 * self.ring_radius + across, hole)
