"""The tanks of one stage sized for what they hold and stood one above, beside or in another."""

from __future__ import annotations

from dataclasses import dataclass, field

from wetmass.concept.model import Stage as Stated
from wetmass.physics.tanks import ClusterTank, CylinderTank, FrustumTank, NestedTank, Tank
from wetmass.record.finding import Finding, Weight
from wetmass.record.geometry import Point
from wetmass.record.say import said
from wetmass.vehicle.geometry.contents import Entry, entries, masses
from wetmass.vehicle.geometry.plan import side_by_side

BETWEEN = 0.1  # m between the domes of two tanks that share none, for lines and hands: our own choice
INTEGRAL = (
    0.98  # of the stage's diameter: a barrel as wide is taken for the skin of the stage, our own choice
)


@dataclass
class Stood:
    """One entry of the list, sized and in its place."""

    number: int  # in the list
    entry: Entry
    mass: float  # kg, in all of them
    needed: float  # m³, of one
    one: Tank  # a single tank, its inside as if nothing were in it
    inside: Tank  # what it holds: with another tank taken out where one stands in it
    found: str  # name of the size solved for, "" for none
    value: float  # m, of that size
    foot: float = 0.0  # m, in the stage
    positions: tuple[Point, ...] = ((0.0, 0.0),)

    @property
    def top(self) -> float:
        return self.foot + self.one.height


@dataclass
class Tanks:
    """The tanks of one stage."""

    stood: list[Stood] = field(default_factory=list)
    top: float = 0.0  # m, highest point
    barrels: float = 0.0  # m, straight lengths that are the skin of the stage, and heights of clusters
    gaps: int = 0  # neighbours that share no bulkhead
    small: bool = False  # our own choice of tanks had to be round
    troubles: list[Finding] = field(default_factory=list)


def stand(stated: Stated, load: float, ratio: float, start: float, extra_fuel: float = 0.0) -> Tanks:
    """Size and place the tanks of a stage for its load.

    load   propellant [kg], extra fuel in it;  ratio  oxidiser over fuel by mass of the rest
    start  height of the lowest tank's foot above the engine exits [m]

    What cannot be is told in `troubles`, and left out.  Tanks of our own choice are round where cylinders as
    wide as the stage are too large.
    """
    out = _stood(stated, load, ratio, start, extra_fuel, False)
    if out.troubles and not stated.tanks and load > 0.0:
        out = _stood(stated, load, ratio, start, extra_fuel, True)
    return out


def _stood(stated: Stated, load: float, ratio: float, start: float, extra_fuel: float, small: bool) -> Tanks:
    every = entries(stated, small)
    loads = masses(stated, load, ratio, every, extra_fuel)
    out = Tanks(top=start, small=small)
    sized: dict[int, Stood] = {}
    # those built into others first: the others must hold them as well
    for number in sorted(range(len(every)), key=lambda i: every[i].around is None):
        try:
            sized[number] = _sized(number, every, loads[number], sized)
        except ValueError as error:
            out.troubles.append(_no_such_tank(stated, every[number], loads[number], error))
    _pile(stated, every, sized, start, out)
    for number, one in sorted(sized.items()):
        if one.entry.around is not None:
            _build_in(stated, sized, number, out)
    out.stood = [sized[number] for number in sorted(sized)]
    out.top = max([start, *(one.top for one in out.stood)])
    return out


def _sized(number: int, every: tuple[Entry, ...], mass: float, sized: dict[int, Stood]) -> Stood:
    entry = every[number]
    needed = entry.volume_for(mass) if mass > 0.0 else 0.0
    wanted = entry.tank.volume.value if entry.tank.volume is not None else needed
    inner = sized.get(entry.within) if entry.within is not None else None
    if entry.shape.open:
        if not wanted > 0.0:
            raise ValueError("nothing is left for it: the other tanks hold all there is")
        one, value = entry.shape.holding(wanted + (inner.one.volume if inner is not None else 0.0))
    else:
        one, value = entry.shape.known(), 0.0
    return Stood(number, entry, mass, needed, one, one, entry.shape.open, value)


def _no_such_tank(stated: Stated, entry: Entry, mass: float, error: ValueError) -> Finding:
    return Finding(
        "tank that cannot be", Weight.FAILS, stated.name,
        f"{entry.tank.shape} tank for {said(mass, 'kg')} of {entry.holds}", f"sizes that can hold it ({error})",
        "Change a size that is stated, take another shape, or leave another size open.", "geometry, exact",
    )  # fmt: skip


def _pile(
    stated: Stated, every: tuple[Entry, ...], sized: dict[int, Stood], start: float, out: Tanks
) -> None:
    """Levels from the bottom up; a level is an entry with those that stand beside it."""
    levels: list[list[int]] = []
    for number, entry in enumerate(every):
        if entry.around is not None or number not in sized:
            continue
        if entry.tank.beside and levels:
            levels[-1].append(number)
        else:
            levels.append([number])
    at, below = start, None
    for place, level in enumerate(reversed(levels)):
        _arrange(every, sized, level)
        first = sized[level[0]]
        if place == 0:
            foot = at
        elif below is not None and below.entry.tank.shares_bulkhead and below.number == first.number + 1:
            foot = at - _dome_above(below.one)
        else:
            foot, out.gaps = at + BETWEEN, out.gaps + 1
        for number in level:
            one = sized[number]
            one.foot = one.entry.tank.stands_at.value if one.entry.tank.stands_at is not None else foot
        at = max([sized[n].top for n in level if sized[n].entry.tank.stands_at is None], default=at)
        below = first
        out.barrels += _skin(stated.diameter.value, [sized[n] for n in level])


def _arrange(every: tuple[Entry, ...], sized: dict[int, Stood], level: list[int]) -> None:
    """Plan view of one level: tanks with a hole go round the axis, the others side by side."""
    upright = [n for n in level if not _has_hole(sized[n].one)]
    if not upright:
        return
    radii = [sized[n].one.envelope.diameter / 2.0 for n in upright]
    counts = [every[n].count for n in upright]
    centre = [every[n].tank.centre for n in upright]
    if not any(centre) and counts[0] == 1 and len(upright) > 1 and sum(counts[1:]) > 1:
        centre[0] = True  # one with several round it
    if sum(centre) > 1:
        centre = [middle and n == centre.index(True) for n, middle in enumerate(centre)]
    gap = max([every[n].tank.gap.value for n in upright if every[n].tank.gap is not None], default=0.0)
    standing = side_by_side(radii, counts, centre, gap)
    for number, positions in zip(upright, standing.positions, strict=True):
        sized[number].positions = positions


def _has_hole(tank: Tank) -> bool:
    return tank.envelope.hole > 0.0


def _dome_above(tank: Tank) -> float:
    assert isinstance(tank, CylinderTank)
    return tank.top.height_ratio * tank.diameter / 2.0


def _skin(diameter: float, level: list[Stood]) -> float:
    """Height of a level that needs no shell round it [m]: a barrel as wide as the stage, or a cluster."""
    if sum(len(one.positions) for one in level) > 1:
        return max(one.one.height for one in level)
    return max(
        (
            one.one.length
            for one in level
            if isinstance(one.one, (CylinderTank, FrustumTank)) and one.entry.is_skin(diameter)
        ),
        default=0.0,
    )


def _build_in(stated: Stated, sized: dict[int, Stood], number: int, out: Tanks) -> None:
    """A tank half-way up in the one it is built into, unless it is said to stand elsewhere."""
    inner = sized[number]
    outer = sized.get(inner.entry.around) if inner.entry.around is not None else None
    if outer is None:
        return
    stands = inner.entry.tank.stands_at
    offset = stands.value - outer.foot if stands is not None else (outer.one.height - inner.one.height) / 2.0
    inner.foot = outer.foot + offset
    try:
        outer.inside = NestedTank(outer.one, inner.one, offset)
    except ValueError as error:
        out.troubles.append(
            Finding(
                "tank that does not fit into another", Weight.FAILS, stated.name,
                f"{inner.entry.holds} tank {said(inner.one.height, 'm')} high and "
                f"{said(inner.one.envelope.diameter, 'm')} across",
                f"inside the {outer.entry.holds} tank ({error})",
                "Make the inner one smaller, the outer one wider, or let it stand elsewhere.",
                "geometry, exact",
            )
        )  # fmt: skip


def circle_round(one: Stood) -> tuple[float, float]:
    """(circle round all tanks of an entry, free circle in their middle) [m]."""
    envelope = one.one.envelope
    if len(one.positions) == 1 and one.positions[0] == (0.0, 0.0):
        return envelope.diameter, envelope.hole
    away = [(x * x + y * y) ** 0.5 for x, y in one.positions]
    half = envelope.diameter / 2.0
    return 2.0 * (max(away) + half), max(0.0, 2.0 * (min(away) - half))


def cluster(tank: Tank, count: int) -> Tank:
    """The tank as a cluster of equals for volumes and areas, where there are several."""
    return ClusterTank(tank, count) if count > 1 else tank
