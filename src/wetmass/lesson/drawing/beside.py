"""Several vehicles side by side at one scale, on one ground, beside one person."""

from __future__ import annotations

from collections.abc import Sequence

from wetmass.lesson.drawing import marks
from wetmass.lesson.drawing.shapes import fairing, hulls, inside, outside
from wetmass.lesson.drawing.svg import SMALL, Drawing
from wetmass.lesson.drawing.type import width
from wetmass.lesson.drawing.whole import View, extent
from wetmass.lesson.words import said as worded
from wetmass.record.geometry import Geometry
from wetmass.record.say import said
from wetmass.record.vehicle import Vehicle

HIGH, WIDE = 420.0, 820.0  # of the picture's units: as tall and as wide as all together may be
GAP = 34.0


def beside(
    vehicles: Sequence[tuple[Geometry, Vehicle]], *, cut: bool = True, name: str = "beside"
) -> Drawing:  # fmt: skip
    """Each vehicle with its name, height, mass on the pad and payload; cut open, or from outside.

    Raises ValueError for no vehicle at all.
    """
    if not vehicles:
        raise ValueError("one vehicle or more, got none")
    sizes = []
    for geometry, vehicle in vehicles:
        shell = fairing(geometry)
        sizes.append(extent([*outside(geometry, vehicle), *([shell] if shell else [])]))
    tallest = max(top for *_, top in sizes)
    across = sum(right - left for left, right, *_ in sizes)
    scale = min(HIGH / tallest, max(WIDE - GAP * len(sizes), 100.0) / across)
    words = "; ".join(
        worded(
            "drawn/beside_one",
            name=vehicle.name,
            height=said(geometry.height, "m", 3),
            mass=said(vehicle.lift_off_mass, "kg", 3),
            payload=said(vehicle.payload, "kg", 3),
        )
        for geometry, vehicle in vehicles
    )
    drawing = Drawing(name, worded("drawn/beside_title"), worded("drawn/beside_words", vehicles=words), scale)
    ground, x = tallest * scale, 0.0
    for (geometry, vehicle), (left, right, *_) in zip(vehicles, sizes, strict=True):
        lines = (
            said(geometry.height, "m", 3),
            worded("drawn/at_lift_off", mass=said(vehicle.lift_off_mass, "kg", 3)),
            worded("drawn/of_payload", mass=said(vehicle.payload, "kg", 3)),
        )
        wide = max(
            (right - left) * scale, width(vehicle.name, 13.0, True), *(width(one, SMALL) for one in lines)
        )
        view = View(drawing, x + wide / 2.0, ground)
        shell = fairing(geometry)
        shells = [shell] if shell else []
        if cut:
            view.cut(inside(geometry, vehicle), [*hulls(geometry, vehicle), *shells])
        else:
            view.outside([*outside(geometry, vehicle), *shells])
        drawing.text(view.x, ground + 24.0, vehicle.name, anchor="middle", bold=True)
        for i, line in enumerate(lines):
            drawing.text(view.x, ground + 41.0 + 15.0 * i, line, anchor="middle", size=SMALL, quiet=True)
        x += wide + GAP
    x += marks.room_for_person(drawing) - GAP
    marks.person(drawing, x, ground)
    drawing.line(((-10.0, ground), (x + 20.0, ground)), "ground")
    marks.bar(drawing, 0.0, ground + 92.0, 150.0)
    return drawing
