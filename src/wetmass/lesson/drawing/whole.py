"""The whole vehicle, and one stage, from outside and cut open."""

from __future__ import annotations

from collections.abc import Sequence

from wetmass.lesson.drawing import marks
from wetmass.lesson.drawing.marks import Label
from wetmass.lesson.drawing.shapes import Shape, fairing, hulls, inside, outside, places
from wetmass.lesson.drawing.svg import SMALL, Drawing
from wetmass.lesson.drawing.type import width
from wetmass.lesson.look import propellant_colour
from wetmass.lesson.words import said as worded
from wetmass.record.geometry import Geometry, StageGeometry, TankGeometry
from wetmass.record.say import said
from wetmass.record.system import METRIC, System
from wetmass.record.vehicle import Vehicle

HIGH, WIDE = 540.0, 180.0  # of the picture's units: as tall and as wide as one view may be
STAGE_HIGH, STAGE_WIDE = 330.0, 220.0
GAP = 30.0
_CLASSES = {
    "skin": "skin",
    "cap": "skin",
    "between": "skin",
    "fairing": "skin",
    "deck": "bell",
    "jet": "bell",
}


class View:
    """Where one view stands in a picture: metres to the picture's units."""

    def __init__(self, drawing: Drawing, x: float, ground: float) -> None:
        self.drawing, self.x, self.ground = drawing, x, ground

    def at(self, x: float, z: float) -> tuple[float, float]:
        """A point of the vehicle in the picture."""
        return self.x + x * self.drawing.scale, self.ground - z * self.drawing.scale

    def outside(self, shapes: Sequence[Shape]) -> None:
        """Shapes as they look from outside, rounded by light."""
        for shape in shapes:
            points = [self.at(*point) for point in shape.points]
            self.drawing.polygon(points, _CLASSES.get(shape.kind, "bell"), words=shape.stage)
            self.drawing.polygon(points, "shade")

    def cut(self, shapes: Sequence[Shape], hull: Sequence[Shape], empty: Sequence[str] = ()) -> None:
        """Shapes cut open, tanks filled to their level but in the stages named in `empty`."""
        for shape in hull:
            self.drawing.polygon([self.at(*point) for point in shape.points], "hull")
        for shape in shapes:
            points = [self.at(*point) for point in shape.points]
            if shape.tank is None:
                self.drawing.polygon(points, "bell")
                continue
            self.drawing.polygon(points, "wall", words=shape.tank.holds)
            liquid = [] if shape.stage in empty else [self.at(*point) for point in shape.liquid]
            if len(liquid) > 2:
                self.drawing.polygon(liquid, "liquid", fill=propellant_colour(shape.tank.holds))
            self.drawing.polygon(points, "hull")


def extent(shapes: Sequence[Shape]) -> tuple[float, float, float, float]:
    """(left, right, lowest, highest) of some shapes [m]."""
    xs = [x for shape in shapes for x, _ in shape.points]
    zs = [z for shape in shapes for _, z in shape.points]
    return min(xs), max(xs), min(zs), max(zs)


def whole(
    geometry: Geometry, vehicle: Vehicle, name: str = "whole", high: float = HIGH, units: System = METRIC
) -> Drawing:
    """The whole vehicle, outside and cut open, with its heights, a person and a scale bar.

    high   of the picture's units: as tall as one view may be
    units  in which sizes and masses are told
    """
    shell = fairing(geometry)
    seen = [*outside(geometry, vehicle), *([shell] if shell else [])]
    left, right, _, top = extent(seen)
    scale = min(high / top, WIDE / (right - left))
    drawing = Drawing(
        name, worded("drawn/to_scale", name=vehicle.name), _whole_words(geometry, vehicle, units), scale
    )
    half, ground = (right - left) / 2.0 * scale, top * scale
    core = [s for s in geometry.stages if places(geometry, vehicle)[s.name] == ((0.0, 0.0),)]
    pieces = [(s.name, s.foot, s.top) for s in core]
    if shell is not None and geometry.fairing is not None:
        pieces.append(("fairing", geometry.fairing.foot, top))
    texts = [units.said(high - low, "m", 3) for _, low, high in pieces]
    second = 14.0 + max(width(text, SMALL) for text in (*texts, units.said(top, "m", 3)))
    x = second + width(units.said(top, "m", 3), SMALL) + 16.0
    outer = View(drawing, x + 14.0 + half, ground)
    marks.upright(drawing, x - second - 2.0, ground, 0.0, units.said(top, "m", 3))
    for (_, low, high), text in zip(pieces, texts, strict=True):
        marks.upright(drawing, x, ground - low * scale, ground - high * scale, text)
    outer.outside(seen)
    aside = marks.room_for_person(drawing)
    man = x + 14.0 + 2.0 * half + aside
    marks.person(drawing, man, ground)
    inner = View(drawing, man + aside + half, ground)
    open_ = inside(geometry, vehicle)
    hull = [*hulls(geometry, vehicle), *([shell] if shell else [])]
    inner.cut(open_, hull)
    edge = inner.x + half
    drawing.line(((x + 4.0, ground), (edge + 10.0, ground)), "ground")
    marks.bar(drawing, x + 14.0, ground + 12.0, 2.0 * half + 60.0, units)
    each = {one.name: _each(one) for one in geometry.stages}
    wanted = [_tank_label(inner, one, each=each[one.stage], units=units) for one in _one_each(open_)]
    at = places(geometry, vehicle)
    wanted += [
        _engine_label(inner, one, aside=max(x for x, _ in at[one.name]), units=units)
        for one in geometry.stages
        if one.engines
    ]
    wanted.append(_payload(inner, geometry, vehicle, units))
    marks.labels(drawing, wanted, edge + GAP, -14.0, ground + 44.0)
    return drawing


def portrait(geometry: Geometry, vehicle: Vehicle, high: float = 400.0, name: str = "portrait") -> Drawing:
    """The whole vehicle from outside beside a person, with no words in it."""
    shell = fairing(geometry)
    seen = [*outside(geometry, vehicle), *([shell] if shell else [])]
    left, right, _, top = extent(seen)
    scale = min(high / top, high / (right - left))
    words = worded("drawn/portrait", name=vehicle.name, height=said(geometry.height, "m", 3))
    drawing = Drawing(name, worded("drawn/to_scale", name=vehicle.name), words, scale)
    half, ground = (right - left) / 2.0 * scale, top * scale
    View(drawing, half, ground).outside(seen)
    man = 2.0 * half + marks.room_for_person(drawing)
    marks.person(drawing, man, ground)
    drawing.line(((-18.0, ground), (man + 24.0, ground)), "ground")
    return drawing


def stage(geometry: Geometry, vehicle: Vehicle, which: str, name: str) -> Drawing:
    """One stage, outside and cut open, with its sizes."""
    laid = next(one for one in geometry.stages if one.name == which)
    one = Geometry((laid,), None, geometry.height, laid.diameter)
    lone = Vehicle(vehicle.name, tuple(s for s in vehicle.every_stage() if s.name == which), 0.0)
    seen = [shape.moved(0.0, -laid.foot) for shape in outside(one, lone)]
    left, right, _, top = extent(seen)
    scale = min(STAGE_HIGH / top, STAGE_WIDE / (right - left))
    drawing = Drawing(
        name, worded("drawn/to_scale", name=worded("drawn/stage", part=which)), _stage_words(laid), scale
    )
    half, ground = (right - left) / 2.0 * scale, top * scale
    text = said(top, "m", 3)
    x = width(text, SMALL) + 16.0
    outer = View(drawing, x + 16.0 + half, ground)
    marks.upright(drawing, x, ground, 0.0, text)
    outer.outside(seen)
    aside = marks.room_for_person(drawing)
    man = outer.x + half + aside
    marks.person(drawing, man, ground)
    inner = View(drawing, man + aside + half, ground)
    open_ = [shape.moved(0.0, -laid.foot) for shape in inside(one, lone)]
    inner.cut(open_, [shape.moved(0.0, -laid.foot) for shape in hulls(one, lone)])
    marks.across(drawing, ground + 12.0, outer.x - half, outer.x + half, said(right - left, "m", 3))
    marks.bar(drawing, inner.x - half, ground + 12.0, 2.0 * half)
    wanted = [_tank_label(inner, shape, sizes=True) for shape in _one_each(open_)]
    if laid.engines:
        wanted.append(_engine_label(inner, laid, lowered=laid.foot))
    high = ground if len(wanted) * 3 * marks.LINE < ground else len(wanted) * 3.6 * marks.LINE
    marks.labels(drawing, wanted, inner.x + half + GAP, -8.0, max(high, ground) + 36.0)
    return drawing


def _one_each(shapes: Sequence[Shape]) -> list[Shape]:
    """The tank of each entry that stands farthest to the right."""
    found: dict[tuple[str, str, int], Shape] = {}
    for shape in shapes:
        if shape.tank is not None:
            key = (shape.stage, shape.tank.holds, id(shape.tank))
            if key not in found or extent([shape])[1] > extent([found[key]])[1]:
                found[key] = shape
    return list(found.values())


def _tank_label(
    view: View, shape: Shape, sizes: bool = False, each: str = "", units: System = METRIC
) -> Label:
    tank = shape.tank
    assert tank is not None
    left, right, low, _ = extent([shape])
    point = view.at(left + 0.8 * (right - left), low + 0.55 * (shape.level - low))
    mass = units.said(tank.mass, "kg", 3)
    several = f"{tank.count} × " if tank.count > 1 else ""
    lines = (f"{several}{tank.holds}{each}", f"{mass}, {units.said(tank.volume, 'm³', 3)}")
    if sizes:
        lines = (*lines, _sizes(tank))
    return Label(lines, *point)


def _sizes(tank: TankGeometry) -> str:
    return worded("drawn/sizes", wide=said(tank.across, "m", 3), high=said(tank.height, "m", 3))


def _engine_label(
    view: View, laid: StageGeometry, lowered: float = 0.0, aside: float = 0.0, units: System = METRIC
) -> Label:
    right = max(x + 0.27 * plan.exit_diameter for plan in laid.engines for x, _ in plan.positions)
    point = view.at(aside + right, laid.foot - lowered + 0.3 * laid.engine_length)
    first = laid.engines[0]
    more = "".join(f" + {plan.count}" for plan in laid.engines[1:])
    many = "drawn/engines" if first.count > 1 or more else "drawn/engine"
    count = f"{worded(many, count=f'{first.count}{more}')}{_each(laid)}"
    return Label((count, worded("drawn/exit_wide", across=units.said(first.exit_diameter, "m", 3))), *point)


def _each(laid: StageGeometry) -> str:
    """Of what there are several, one is told."""
    return worded("drawn/each_of", count=laid.count) if laid.count > 1 else ""


def _payload(view: View, geometry: Geometry, vehicle: Vehicle, units: System) -> Label:
    """Room for the payload, dashed: its size is not known, only that it must fit."""
    shell = geometry.fairing
    core = [s for s in geometry.stages if places(geometry, vehicle)[s.name] == ((0.0, 0.0),)]
    wide = 0.72 * (shell.diameter if shell else core[-1].diameter)
    low = (shell.foot if shell else core[-1].top) + 0.12 * wide
    high = low + (0.8 * (shell.length - shell.nose) + 0.2 * shell.nose if shell else wide)
    view.drawing.polygon(
        [view.at(x, z) for x, z in ((-wide / 2, low), (wide / 2, low), (wide / 2, high), (-wide / 2, high))],
        "room", words=worded("drawn/room"),
    )  # fmt: skip
    return Label(
        (worded("drawn/payload"), units.said(vehicle.payload, "kg", 4)),
        *view.at(wide / 2.0, (low + high) / 2.0),
    )


def _whole_words(geometry: Geometry, vehicle: Vehicle, units: System) -> str:
    parts = [
        worded(
            "drawn/stage_sizes",
            part=s.name,
            long=units.said(s.length, "m", 3),
            wide=units.said(s.diameter, "m", 3),
        )
        for s in geometry.stages
    ]
    if geometry.fairing:
        parts.append(worded("drawn/fairing_long", long=units.said(geometry.fairing.length, "m", 3)))
    return worded(
        "drawn/whole_words",
        name=vehicle.name,
        height=units.said(geometry.height, "m", 3),
        parts="; ".join(parts),
    )


def _stage_words(laid: StageGeometry) -> str:
    tanks = "; ".join(
        worded(
            "drawn/tank_words", holds=tank.holds, sizes=_sizes(tank), level=said(tank.level, "m", 3),
            mass=said(tank.mass, "kg", 3),
        )
        for tank in laid.tanks
    )  # fmt: skip
    return worded("drawn/stage_words", part=laid.name, tanks=tanks)
