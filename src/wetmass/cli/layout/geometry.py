"""What takes up room: height, stages, tanks and engines in a few lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import BENDS, LEFT, QUIET, RIGHT, Row, Sheet
from wetmass.record.closed import Closed
from wetmass.record.geometry import StageGeometry, TankGeometry
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_SIZES = ("length", "tube diameter", "inner diameter", "top diameter")  # told beside the diameter


def geometry(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """A row for each stage and each tank; nothing where it could not be laid out."""
    laid = closed.geometry
    if laid is None:
        return
    aside = f"{said(laid.height, 'm', 3)} high, {said(laid.width, 'm', 3)} across"
    sheet.heading("Room", aside)
    rows = [Row(("", "length", "volume", ""), QUIET)]
    for stage in laid.stages:
        many = f"{stage.count} × " if stage.count > 1 else ""
        rows.append(Row((many + stage.name, said(stage.length, "m", 3), "", _engines(stage))))
        for tank in stage.tanks:
            many = f"{tank.count} × " if tank.count > 1 else ""
            cells = (f"  {many}{tank.holds}", said(tank.height, "m", 3), said(tank.volume, "m³", 3))
            rows.append(Row((*cells, _shape(tank))))
    if laid.fairing is not None:
        across = f"{said(laid.fairing.diameter, 'm', 3)} across"
        rows.append(Row(("fairing", said(laid.fairing.length, "m", 3), "", across)))
    sheet.table((LEFT, RIGHT, RIGHT, BENDS), rows)


def _shape(tank: TankGeometry) -> str:
    sizes = [f"{said(tank.across, 'm', 3)} across"]
    sizes += [
        f"{_words(tank, size.name)} {said(size.value, 'm', 3)}" for size in tank.sizes if size.name in _SIZES
    ]
    shares = ", shares a bulkhead" if tank.shares_bulkhead else ""
    within = f", inside the {tank.inside} tank" if tank.inside else ""
    return f"{tank.shape}, {', '.join(sizes)}{shares}{within}"


def _words(tank: TankGeometry, name: str) -> str:
    straight = name == "length" and tank.shape in ("cylinder", "frustum", "ring")
    return "straight part" if straight else name


def _engines(stage: StageGeometry) -> str:
    if not stage.engines:
        return ""
    across = said(stage.engines_across, "m", 3)
    if stage.engines_across <= stage.diameter * (1.0 + 1e-6):
        return f"engines take {across} of {said(stage.diameter, 'm', 3)}"
    return f"engines take {across}, the stage is {said(stage.diameter, 'm', 3)} wide"
