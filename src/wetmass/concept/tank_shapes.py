"""A tank as stated, as a shape of `wetmass.physics.tanks`: with every size known, or with one left open."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from wetmass.concept.find import Find
from wetmass.concept.quantity import Quantity
from wetmass.physics.tanks import (
    FLAT,
    HEMISPHERE,
    ROOT_TWO,
    AnnularTank,
    CylinderTank,
    Dome,
    FrustumTank,
    SphereTank,
    SpheroidTank,
    TorusTank,
)
from wetmass.physics.tanks import Tank as Inside
from wetmass.physics.tanks.solid import rising_root

if TYPE_CHECKING:
    from wetmass.concept.model import Tank

SIZES: Mapping[str, tuple[str, ...]] = {
    "cylinder": ("diameter", "length", "dome height"),
    "sphere": ("diameter",),
    "ellipsoid": ("diameter", "length"),
    "torus": ("diameter", "tube diameter", "inner diameter"),
    "frustum": ("diameter", "top diameter", "length", "dome height"),
    "ring": ("diameter", "inner diameter", "length"),
}
"""Keys that a shape takes; of a torus, one of the last two."""

_DOMES = {"ellipsoidal": ROOT_TWO, "hemispherical": HEMISPHERE, "flat": FLAT}
_LEFT_OPEN = {  # what is solved for where nothing is said, the first that is not stated
    "cylinder": ("length",),
    "sphere": ("diameter",),
    "ellipsoid": ("length",),
    "torus": ("tube diameter", "inner diameter"),
    "frustum": ("length", "top diameter"),
    "ring": ("length", "inner diameter"),
}
_LONGEST = 1e4  # m, beyond which no size is looked for
_FALLING = ("inner diameter",)  # a greater one leaves less room


@dataclass(frozen=True, slots=True)
class Shape:
    """One tank of an entry, made from the one size that is open; `open` is "" where all are stated."""

    kind: str
    sizes: Mapping[str, float]  # m, those known
    assumed: tuple[str, ...]  # names of those of `sizes` that were not stated
    open: str
    make: Callable[[float], Inside]  # the tank with the open size, in m
    reach: tuple[float, float] = (0.0, 0.0)  # m, least and greatest of the open size that make a tank

    def known(self) -> Inside:
        """The tank, where no size is open.  Raises ValueError when its sizes go against each other."""
        return self.make(0.0)

    def holding(self, volume: float) -> tuple[Inside, float]:
        """The tank that holds `volume` [m³], and its open size [m]; raises ValueError when none does."""
        if not self.open:
            raise ValueError("every size is stated: nothing is left to be found")
        if not 0.0 < volume < math.inf:
            raise ValueError(f"volume must be above 0 m³, got {volume} m³")

        sign = -1.0 if self.open in _FALLING else 1.0
        low, high = self.reach
        least, most = self.volumes()
        if not least <= volume <= most:
            raise ValueError(
                f"no {self.open} makes it hold {volume:.6g} m³: the other sizes allow {least:.6g} to "
                f"{most:.6g} m³"
            )
        size = rising_root(lambda x: sign * (self.make(x).volume - volume), low, high)
        return self.make(size), size

    def volumes(self) -> tuple[float, float]:
        """Least and greatest volume that the open size can give [m³]."""
        ends = [self.make(size).volume for size in self.reach]
        return min(ends), max(ends)


def _reach(make: Callable[[float], Inside], open_size: str, limit: float) -> tuple[float, float]:
    """Least and greatest value of the open size for which there is a tank, up to `limit` [m]."""

    def held(size: float) -> float | None:
        try:
            return make(size).volume
        except ValueError:
            return None

    inside = next((x for i in range(121) if held(x := limit * 10.0 ** (-6.0 * i / 120.0)) is not None), None)
    if inside is None:
        raise ValueError(f"no {open_size} makes a tank of the other sizes")
    return _edge(held, inside, 0.0), _edge(held, inside, limit)


def _edge(held: Callable[[float], float | None], inside: float, outside: float) -> float:
    """The value nearest to `outside` that makes a tank, to the last digit."""
    if held(outside) is not None:
        return outside
    for _ in range(70):
        middle = inside + (outside - inside) / 2.0
        inside, outside = (middle, outside) if held(middle) is not None else (inside, middle)
    return inside


def within_circle(count: int, centre: bool, gap: float, across: float) -> float:
    """Greatest diameter of `count` tanks side by side in a circle of `across` [m], `gap` m apart.

    >>> within_circle(1, False, 0.0, 3.0), round(within_circle(7, True, 0.0, 3.0), 9)
    (3.0, 1.0)
    """
    on_ring = count - centre
    if on_ring < 1 or count == 1:
        return across
    # the ring of pitch (d + gap) has the radius f·(d + gap); its circle is 2·f·(d + gap) + d
    factor = 0.5 / math.sin(math.pi / on_ring) if on_ring > 1 else 0.5
    factor = max(factor, 1.0) if centre else factor
    return (across - 2.0 * factor * gap) / (2.0 * factor + 1.0)


@lru_cache(maxsize=256)  # the same tank is asked for by the reader, the layout and the masses
def shape_of(tank: Tank, stage_diameter: float, *, shared_below: bool = False) -> Shape:
    """The shape of one tank of an entry.

    stage_diameter  of the stage that it stands in                                  [m]
    shared_below    the next tank of the list shares its upper dome with this one

    Raises ValueError when the sizes stated cannot go together.
    """
    kind = tank.shape
    stated = {name: getattr(tank, name.replace(" ", "_")) for name in SIZES[kind]}
    known = {name: value.value for name, value in stated.items() if isinstance(value, Quantity)}
    opened = [name for name, value in stated.items() if isinstance(value, Find)]
    assumed: list[str] = []
    if not opened:
        around = tuple(n for n in _LEFT_OPEN[kind] if n not in known)
        if kind == "torus" and ("tube diameter" in known or "inner diameter" in known):
            around = ()  # with the outer diameter, one of the two is enough
        opened = list(around[:1])
    if "diameter" not in known and "diameter" not in opened:
        gap = tank.gap.value if tank.gap is not None else 0.0
        known["diameter"] = within_circle(tank.count, tank.centre, gap, stage_diameter)
        assumed.append("diameter")
    open_size = opened[0] if opened else ""
    for name in SIZES[kind]:
        optional = name == "dome height" or (kind == "torus" and name != "diameter")
        if not optional and name not in known and name != open_size:
            raise ValueError(f"{name} is needed beside {open_size}")
    if kind == "torus" and open_size == "diameter" and not known:
        raise ValueError("tube diameter or inner diameter is needed beside diameter")
    if kind == "torus" and open_size != "diameter" and len(known) + bool(open_size) > 2:
        raise ValueError("of diameter, tube diameter and inner diameter one follows from the other two")
    make = _maker(kind, known, open_size, _dome(tank), shared_below, tank.shares_bulkhead)
    if open_size:
        reach = _reach(make, open_size, _limit(kind, known, open_size))  # there is one
        return Shape(kind, known, tuple(assumed), open_size, make, reach)
    make(0.0)
    return Shape(kind, known, tuple(assumed), open_size, make)


def _dome(tank: Tank) -> Dome:
    return _DOMES[tank.domes]


def _limit(kind: str, known: Mapping[str, float], open_size: str) -> float:
    across = known.get("diameter", _LONGEST)
    if open_size == "tube diameter":
        return across / 2.0 if "diameter" in known else _LONGEST
    if open_size == "inner diameter":
        return across
    if open_size == "dome height":
        return 2.5 * across
    if open_size == "length" and kind == "ellipsoid":
        return 5.0 * across
    return _LONGEST


def _maker(
    kind: str, known: Mapping[str, float], open_size: str, dome: Dome, shared_below: bool, shared_above: bool
) -> Callable[[float], Inside]:
    def made(size: float) -> Inside:
        of = {**known, open_size: size} if open_size else known
        across = of["diameter"]
        if not across > 0.0:
            raise ValueError(f"diameter must be above 0 m, got {across} m")
        if kind == "sphere":
            return SphereTank(across)
        if kind == "ellipsoid":
            return SpheroidTank(across, of["length"])
        if kind == "torus":
            tube = of["tube diameter"] if "tube diameter" in of else (across - of["inner diameter"]) / 2.0
            if not 0.0 < tube <= across / 2.0:
                raise ValueError("the hole of a torus must lie between 0 m and its diameter")
            return TorusTank(across - tube, tube)
        if kind == "ring":
            return AnnularTank(across, of["inner diameter"], of["length"])
        ratio = 2.0 * of["dome height"] / across if "dome height" in of else dome.height_ratio
        ends = Dome(ratio, inward=shared_below), Dome(ratio)
        if kind == "frustum":
            return FrustumTank(across, of["top diameter"], of["length"], *ends)
        return CylinderTank(across, of["length"], *ends)

    return made
