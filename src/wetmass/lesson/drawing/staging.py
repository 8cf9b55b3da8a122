"""What is let go when: the vehicle on the pad, and at each parting what stays behind and what goes on."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.lesson.drawing.shapes import Shape, fairing, hulls, inside, places
from wetmass.lesson.drawing.svg import SMALL, Drawing
from wetmass.lesson.drawing.type import width
from wetmass.lesson.drawing.whole import View, extent
from wetmass.lesson.words import said as worded
from wetmass.record.flight import Event, Flight
from wetmass.record.geometry import Geometry
from wetmass.record.say import said
from wetmass.record.vehicle import Vehicle

HIGH = 330.0
APART = 0.07  # of the height: the gap between what has parted
COLUMN = 26.0  # between two columns


@dataclass(frozen=True, slots=True)
class Parting:
    """One moment."""

    title: str
    lines: tuple[str, ...]
    gone: tuple[str, ...]  # stages that left before
    leaves: tuple[str, ...]  # stages that part now; () for the pad
    shell: str  # "on", "leaves" or "gone"
    time: float = 0.0  # s since lift-off


def partings(geometry: Geometry, vehicle: Vehicle, flight: Flight) -> list[Parting]:
    """The pad, then every stage and the fairing as they are let go, in order of time."""
    start = flight.events[0]
    made = [Parting(worded("drawn/on_the_pad"), (said(start.mass, "kg"),), (), (), "on", start.time)]
    shell = "on" if geometry.fairing is not None else "gone"
    gone: tuple[str, ...] = ()
    for event, names in _moments(geometry, vehicle, flight):
        lines = (
            worded("drawn/when", time=said(event.time, "s", 3), height=said(event.height, "m", 3)),
            worded("drawn/goes_on", mass=said(goes_on(flight, event), "kg", 3)),
        )
        leaves = tuple(name for name in names if name not in gone)
        if leaves:
            made.append(
                Parting(worded("drawn/part_let_go", part=leaves[-1]), lines, gone, leaves, shell, event.time)
            )
            gone = (*gone, *leaves)
        else:
            made.append(Parting(worded("drawn/fairing_let_go"), lines, gone, (), "leaves", event.time))
            shell = "gone"
    return made


def _moments(geometry: Geometry, vehicle: Vehicle, flight: Flight) -> list[tuple[Event, tuple[str, ...]]]:
    """(event, stages let go there) in order of time; no stages for the fairing."""
    made: list[tuple[Event, tuple[str, ...]]] = []
    for share in flight.stages[:-1]:
        beside = [
            one.stage.name for one in vehicle.strap_ons if vehicle.stages[one.beside].name == share.name
        ]
        named = next((e for e in flight.events if e.what == f"{share.name} let go"), None)
        event = named or min(
            flight.events, key=lambda one: (abs(one.time - share.burnout_time), -one.mass)
        )  # fmt: skip
        made.append((event, (*beside, share.name)))
    for strap in vehicle.strap_ons:
        event = next((e for e in flight.events if e.what == f"{strap.stage.name} let go"), None)
        if event is not None:
            made.append((event, (strap.stage.name,)))
    dropped = next((e for e in flight.events if "fairing" in e.what), None)
    if dropped is not None and geometry.fairing is not None:
        made.append((dropped, ()))
    return sorted(made, key=lambda one: one[0].time)


def goes_on(flight: Flight, event: Event) -> float:
    """Mass just after a moment [kg]: the least that is recorded for it."""
    track = flight.trajectory
    rows = track["mass"][abs(track["time"] - event.time) < 1e-6]
    return min([event.mass, *(float(mass) for mass in rows)])


def staging(geometry: Geometry, vehicle: Vehicle, flight: Flight, name: str = "partings") -> Drawing:
    """Every parting side by side at one scale, cut open."""
    moments = partings(geometry, vehicle, flight)
    shell = fairing(geometry)
    all_ = [*inside(geometry, vehicle), *hulls(geometry, vehicle), *([shell] if shell else [])]
    left, right, _, top = extent(all_)
    scale = min(HIGH / (top * (1.0 + APART)), 120.0 / (right - left))
    words = "; ".join(f"{one.title}: {', '.join(one.lines)}" for one in moments)
    drawing = Drawing(name, worded("drawn/staging_title"), f"{words}.", scale)
    ground = top * (1.0 + APART) * scale
    x = 0.0
    for one in moments:
        drawn = (right - left) * scale * (2.2 if one.shell == "leaves" else 1.0)
        texts = [width(one.title, 13.0, True), *(width(text, SMALL) for text in one.lines)]
        wide = max(drawn, *texts)
        view = View(drawing, x + wide / 2.0, ground)
        _column(view, geometry, vehicle, one, shell, top)
        drawing.text(view.x, ground + 22.0, one.title, anchor="middle", bold=True)
        for i, text in enumerate(one.lines):
            drawing.text(view.x, ground + 38.0 + 15.0 * i, text, anchor="middle", size=SMALL, quiet=True)
        x += wide + COLUMN
    return drawing


def _column(
    view: View, geometry: Geometry, vehicle: Vehicle, one: Parting, shell: Shape | None, top: float
) -> None:
    names = [s.name for s in geometry.stages if s.name not in one.gone]
    stay = [name for name in names if name not in one.leaves]
    lift = APART * top if one.leaves else 0.0
    empty = tuple(one.leaves)
    for group, up in ((list(one.leaves), 0.0), (stay, lift)):
        if group:
            shapes = [shape.moved(0.0, up) for shape in inside(geometry, vehicle, group)]
            skins = [shape.moved(0.0, up) for shape in hulls(geometry, vehicle, group)]
            view.cut(shapes, skins, empty)
    core = [s for s in geometry.stages if places(geometry, vehicle)[s.name] == ((0.0, 0.0),)]
    wide = 0.6 * (geometry.fairing.diameter if geometry.fairing else core[-1].diameter)
    low = core[-1].top + lift + 0.1 * wide
    room = ((-wide / 2, low), (wide / 2, low), (wide / 2, low + wide), (-wide / 2, low + wide))
    view.drawing.polygon([view.at(*point) for point in room], "room", words=worded("drawn/payload"))
    if shell is None or one.shell == "gone":
        return
    if one.shell == "on":
        view.drawing.polygon([view.at(a, b + lift) for a, b in shell.points], "hull")
        return
    half = [(0.0, min(b for _, b in shell.points)), *(point for point in shell.points if point[0] >= 0.0)]
    aside = 0.7 * max(a for a, _ in half)
    for side in (-1.0, 1.0):
        view.drawing.polygon([view.at(side * (a + aside), b) for a, b in half], "hull")
