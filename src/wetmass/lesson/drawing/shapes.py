"""A laid-out vehicle as flat shapes in metres, from the side: x across, z up from the lowest point."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wetmass.record.geometry import EnginePlan, Geometry, StageGeometry, TankGeometry
from wetmass.record.vehicle import EngineGroup, Kind, Vehicle
from wetmass.vehicle.geometry.places import places

Point = tuple[float, float]
SKIN = 0.98  # of the stage's diameter: a tank as wide is its skin (as the layout takes it)
BODY_FROM = 0.5  # of the engines' length: as far down the body reaches (as the layout's skirts)
CAP = 0.9  # diameters, length of the nose drawn on what is strapped on: not sized, only drawn
_THROAT, _CHAMBER, _TO_THROAT = 0.26, 0.4, 0.6  # of the exit's radius, and of the length: a usual look
_JETS = (Kind.TURBOFAN, Kind.TURBOJET, Kind.RAMJET)
_JET_LENGTH = 1.4  # diameters: a usual look


@dataclass(frozen=True, slots=True)
class Shape:
    """One closed shape."""

    kind: str  # "skin", "tank", "bell", "jet", "between", "deck", "fairing", "cap"
    stage: str
    points: tuple[Point, ...]  # m
    depth: float = 0.0  # m, away from the eye
    tank: TankGeometry | None = None
    level: float = 0.0  # m, surface of the liquid in the vehicle

    @property
    def liquid(self) -> tuple[Point, ...]:
        """The part of a tank below the surface of what it holds."""
        return below(self.points, self.level)

    def moved(self, x: float, z: float) -> Shape:
        """Elsewhere."""
        return replace(
            self, points=tuple((a + x, b + z) for a, b in self.points), level=self.level + z
        )  # fmt: skip


def below(points: Sequence[Point], level: float) -> tuple[Point, ...]:
    """The part of a closed shape at or below a height.

    >>> below([(0, 0), (2, 0), (2, 2), (0, 2)], 1.0)
    ((2, 0), (2.0, 1.0), (0.0, 1.0), (0, 0))
    """
    made: list[Point] = []
    for one, other in zip(points, [*points[1:], points[0]], strict=True):
        if (one[1] <= level) != (other[1] <= level):
            share = (level - one[1]) / (other[1] - one[1])
            made.append((one[0] + share * (other[0] - one[0]), float(level)))
        if other[1] <= level:
            made.append(other)
    return tuple(made)


def clustered(stage: StageGeometry) -> bool:
    """Whether its tanks stand side by side in the open, with no skin round them."""
    return any(len(tank.positions) > 1 and not tank.inside for tank in stage.tanks)


def outside(geometry: Geometry, vehicle: Vehicle, names: Sequence[str] | None = None) -> list[Shape]:
    """What is seen from outside, the farthest first.  `names` leaves out other stages."""
    made: list[Shape] = []
    at = places(geometry, vehicle)
    wanted = [stage for stage in geometry.stages if names is None or stage.name in names]
    for stage in wanted:
        for x, y in at[stage.name]:
            parts = [*_bells(stage, vehicle), *_skin(stage)]
            if len(at[stage.name]) > 1 or (x, y) != (0.0, 0.0):
                parts.append(_cap(stage))
            made += [replace(part.moved(x, 0.0), depth=part.depth + y) for part in parts]
    made += _between([stage for stage in wanted if at[stage.name] == ((0.0, 0.0),)])
    return sorted(made, key=lambda one: -one.depth)


def inside(geometry: Geometry, vehicle: Vehicle, names: Sequence[str] | None = None) -> list[Shape]:
    """What is seen when cut through the axis: engines and tanks, those in others last."""
    made: list[Shape] = []
    at = places(geometry, vehicle)
    for stage in geometry.stages:
        if names is not None and stage.name not in names:
            continue
        tanks = sorted(
            (shape for tank in stage.tanks for shape in _tank(stage, tank)),
            key=lambda one: (bool(one.tank and one.tank.inside), -one.depth),
        )
        for x, y in sorted(at[stage.name], key=lambda place: -place[1]):
            made += [replace(one.moved(x, 0.0), depth=y) for one in (*_bells(stage, vehicle), *tanks)]
    return made


def hulls(geometry: Geometry, vehicle: Vehicle, names: Sequence[str] | None = None) -> list[Shape]:
    """The skins alone, for the lines round what is cut open."""
    return [one for one in outside(geometry, vehicle, names) if one.kind not in ("bell", "jet", "tank")]


def fairing(geometry: Geometry) -> Shape | None:
    """The shell over the payload."""
    shell = geometry.fairing
    if shell is None:
        return None
    right = [(r, shell.foot + z) for r, z in shell.outline]
    return Shape("fairing", "", (*right, *((-r, z) for r, z in reversed(right))))


def _rectangle(wide: float, low: float, high: float) -> tuple[Point, ...]:
    half = wide / 2.0
    return (-half, low), (half, low), (half, high), (-half, high)


def _near(stage: StageGeometry) -> float:
    """As near the eye as a stage comes: its skin hides the heads of its engines."""
    return -max(stage.diameter, stage.engines_across) / 2.0


def _skin(stage: StageGeometry) -> Iterator[Shape]:
    low = stage.foot + BODY_FROM * stage.engine_length
    if not clustered(stage):
        yield Shape("skin", stage.name, _rectangle(stage.diameter, low, stage.top), _near(stage))
        return
    for tank in stage.tanks:
        yield from (replace(one, kind="skin") for one in _tank(stage, tank))
    thick = 0.02 * stage.diameter
    engines = stage.foot + stage.engine_length
    yield Shape("deck", stage.name, _rectangle(stage.diameter, engines - thick, engines), -stage.diameter)
    yield Shape("deck", stage.name, _rectangle(stage.diameter, stage.top - thick, stage.top), -stage.diameter)


def _cap(stage: StageGeometry) -> Shape:
    radius, high = stage.diameter / 2.0, CAP * stage.diameter
    arc = [math.pi / 2.0 * i / 16 for i in range(17)]
    right = [(radius * math.cos(a), stage.top + high * math.sin(a)) for a in arc]
    return Shape("cap", stage.name, (*right, *((-x, z) for x, z in reversed(right))), _near(stage))


def _between(core: list[StageGeometry]) -> Iterator[Shape]:
    for low, high in itertools.pairwise(core):
        at, to = low.top, high.foot + BODY_FROM * high.engine_length
        if to > at:
            a, b = low.diameter / 2.0, high.diameter / 2.0
            yield Shape("between", low.name, ((-a, at), (a, at), (b, to), (-b, to)), -max(a, b))


def _tank(stage: StageGeometry, tank: TankGeometry) -> Iterator[Shape]:
    foot = stage.foot + tank.foot
    half = [(r, foot + z) for r, z in tank.outline]
    ring = tank.outline[0] == tank.outline[-1] or min(r for r, _ in tank.outline) > 0.0
    for x, y in tank.positions:
        if ring:
            sides = [half, [(-r, z) for r, z in half]]
        else:
            sides = [[*half, *((-r, z) for r, z in reversed(half))]]
        for side in sides:
            points = tuple((x + r, z) for r, z in side)
            yield Shape("tank", stage.name, points, y, tank, foot + tank.level)


def _bells(stage: StageGeometry, vehicle: Vehicle) -> Iterator[Shape]:
    groups = {group.name: group for one in vehicle.every_stage() for group in one.engines}
    made = [
        (x, y, plan, groups.get(plan.group)) for plan in stage.engines for x, y in plan.positions
    ]  # fmt: skip
    for x, y, plan, group in sorted(made, key=lambda one: -one[1]):
        yield _bell(stage, x, y, plan, group)


def _bell(stage: StageGeometry, x: float, y: float, plan: EnginePlan, group: EngineGroup | None) -> Shape:
    radius, foot = plan.exit_diameter / 2.0, stage.foot
    if group is not None and group.kind in _JETS:
        points = _rectangle(2.0 * radius, foot, foot + min(_JET_LENGTH * 2.0 * radius, stage.length))
        return Shape("jet", stage.name, tuple((x + a, b) for a, b in points), y)
    long = stage.engine_length
    throat = _TO_THROAT * long
    steps = [i / 12.0 for i in range(13)]
    right = [
        (radius * (_THROAT + (1.0 - _THROAT) * math.sqrt(1.0 - share)), foot + throat * share)
        for share in steps
    ]
    right += [(_CHAMBER * radius, foot + throat + 0.12 * long), (_CHAMBER * radius, foot + long)]
    return Shape(
        "bell", stage.name, tuple((x + r, z) for r, z in (*right, *((-r, z) for r, z in right[::-1]))), y
    )
