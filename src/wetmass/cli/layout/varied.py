"""A what-if grid and a comparison as pages of text."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import BENDS, LEFT, QUIET, RIGHT, Column, Row, Sheet
from wetmass.record.digits import readable
from wetmass.record.say import NO_BREAK, said
from wetmass.study.point import LIFT_OFF_MASS, PAYLOAD, unit

if TYPE_CHECKING:
    from wetmass.cli.studies import Options
    from wetmass.study.beside import Beside
    from wetmass.study.grid import Grid
    from wetmass.study.point import Outcome

_DASH = "–"


def varied(grid: Grid, measure: tuple[str, str], width: int, options: Options) -> Sheet:
    """A grid: one row a point of one input; rows and columns of two."""
    sheet = Sheet(width)
    sheet.line(grid.name, "bold")
    names = " and ".join(axis.input.words for axis in grid.axes)
    sheet.paragraph(f"{names} varied; every point closed and made best.", indent=0)
    base = grid.base.outcome
    if base.closes:
        sheet.paragraph(f"As stated: {_value(base, measure)} {measure[0]}.", indent=0)
    if len(grid.axes) == 1:
        _one(sheet, grid, measure)
    else:
        _two(sheet, grid, measure)
    _failures(sheet, grid)
    written(sheet, options)
    return sheet


def _value(outcome: Outcome, measure: tuple[str, str], figures: int = 4) -> str:
    return said(outcome[measure[0]], measure[1], figures) if outcome.closes else _DASH


def _one(sheet: Sheet, grid: Grid, measure: tuple[str, str]) -> None:
    axis = grid.axes[0]
    columns = list(dict.fromkeys([measure, (PAYLOAD, "kg"), (LIFT_OFF_MASS, "kg")]))
    rest = [name for name in ("gravity loss", "drag loss") if any(name in o.numbers for o in grid.outcomes)]
    columns += [(name, unit(name)) for name in rest if (name, unit(name)) not in columns]
    base = grid.base.outcome
    sheet.line()
    heads = Row((axis.input.words, *(name for name, _ in columns), f"against {_value(base, measure)}"), QUIET)
    rows = [
        Row((label, *(_value(one, column) for column in columns), _against(one, base, measure)), "" if one.closes else "red")
        for label, one in zip(axis.labels, grid.outcomes, strict=True)
    ]  # fmt: skip
    sheet.table((RIGHT,) * (len(columns) + 2), [heads, *rows])


def _against(one: Outcome, base: Outcome, measure: tuple[str, str]) -> str:
    if not (one.closes and base.closes):
        return "does not close" if not one.closes else ""
    change = one[measure[0]] - base[measure[0]]
    if abs(change) < 1e-5 * abs(base[measure[0]]):  # two searches of one problem end as near as this
        return "="
    return f"{'+' if change > 0 else ''}{said(change, measure[1], 3)}"


def _two(sheet: Sheet, grid: Grid, measure: tuple[str, str]) -> None:
    first, second = grid.axes
    sheet.heading(measure[0], f"down: {first.input.words}; across: {second.input.words}")
    rows = [Row(("", *second.labels), QUIET)]
    for i, label in enumerate(first.labels):
        rows.append(Row((label, *(_value(grid.at(i, j), measure) for j in range(len(second))))))
    sheet.table((RIGHT,) * (len(second) + 1), rows)


def _failures(sheet: Sheet, grid: Grid) -> None:
    failed: dict[str, list[str]] = {}
    for number, one in enumerate(grid.outcomes):
        if not one.closes:
            place = [number] if len(grid.axes) == 1 else list(divmod(number, len(grid.axes[1])))
            label = " / ".join(axis.labels[k] for axis, k in zip(grid.axes, place, strict=True))
            failed.setdefault(
                f"{one.state}: {one.reason}" if one.state != "does not close" else one.reason, []
            ).append(label)
    if failed:
        count = sum(map(len, failed.values()))
        sheet.heading("Did not close", f"{count} of {len(grid.outcomes)} points, kept with the reason")
        for reason, labels in failed.items():
            listed = ", ".join(labels[:6]) + (f" and {len(labels) - 6} more" if len(labels) > 6 else "")
            sheet.paragraph(f"{listed}: {reason}", hang=2)


def written(sheet: Sheet, options: Options) -> None:
    """What was written beside the page."""
    files = (("picture", options.chart), ("table", options.table), ("results kept", options.store))
    if any(name for _, name in files):
        sheet.line()
    for words, name in files:
        if name:
            sheet.line(f"{words}: {name}", QUIET)


def compared(beside: Beside, width: int, options: Options) -> Sheet:
    """Variants side by side: what differs in them first, then what comes of it."""
    sheet = Sheet(width)
    names = [one.name for one in beside.variants]
    marks = [chr(ord("A") + n) for n in range(len(names))]
    sheet.line("Side by side", "bold")
    sheet.table((LEFT, BENDS), [Row((mark, name)) for mark, name in zip(marks, names, strict=True)])
    sheet.heading("Stated differently", "" if beside.differences else "nothing")
    columns = (Column(right=False, bends=True), *([RIGHT] * len(names)))
    rows = [Row(("", *marks), QUIET)]
    rows += [Row((name, *(text or _DASH for text in said_))) for name, said_ in beside.differences]
    sheet.table(columns, rows)
    sheet.heading("What comes of it", "and how far from A")
    every = list(dict.fromkeys(name for one in beside.outcomes for name in one.numbers if "/" not in name))
    rows = [
        Row(("", *marks), QUIET),
        Row(("closes", *("yes" if o.closes else "no" for o in beside.outcomes))),
    ]
    for name in every:
        values = [one[name] for one in beside.outcomes]
        if any(math.isfinite(v) for v in values):
            rows.append(Row((name, *(_cell(v, values[0], unit(name), n) for n, v in enumerate(values)))))
    sheet.table(columns, rows)
    for mark, one in zip(marks, beside.outcomes, strict=True):
        if not one.closes:
            sheet.paragraph(f"{mark} does not close: {one.reason}", hang=2)
    written(sheet, options)
    return sheet


def _cell(value: float, first: float, of: str, number: int) -> str:
    if not math.isfinite(value):
        return _DASH
    text = said(value, of)
    if number and math.isfinite(first) and first != 0.0:
        share = 100.0 * (value / first - 1.0)
        text += (
            f" {'+' if share >= 0.005 else ''}{readable(round(share, 2), 3)}{NO_BREAK}%"
            if abs(share) >= 0.005
            else " ="
        )
    return text
