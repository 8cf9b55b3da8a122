"""The sheet of the ideal speed: the rocket equation, stretch by stretch, over the masses of the mass sheet."""

from __future__ import annotations

from typing import Any

from wetmass.lesson.tables.sheet import Follows, Given, Looks, Sheet
from wetmass.lesson.words import said
from wetmass.record.closed import Closed
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.step import Step

_NOTHING = 1e-6  # kg: a difference that is rounding alone


def speed(book: Any, looks: Looks, closed: Closed, masses: dict[str, str]) -> tuple[str, float]:
    """Fill the sheet; returns the cell of the whole and its value [m/s].

    A stage whose engines differ burns by no one exhaust speed: its gain is that of the flight, and stays.
    """
    sheet = Sheet(
        book, looks, said("sheet/speed"), said("sheet/speed_title"), said("sheet/speed_about"),
        [40, 13, 15, 15, 16, 15, 15, 15],
    )  # fmt: skip
    sheet.heads(*(said(f"sheet/{key}") for key in (
        "stretch", "isp", "exhaust", "let_go_before", "mass_before", "burnt", "mass_after", "gain",
    )))  # fmt: skip
    cells: list[str] = []
    whole, after, after_value = 0.0, masses["whole"], sum(item.mass for item in closed.vehicle.mass_table())
    for stage in closed.vehicle.stages:
        stretches = _stretches(closed.steps, stage.name)
        if not stretches:
            gain = next((s.result for s in closed.steps if s.part == stage.name and s.symbol == "Δv"), None)
            if gain is not None:
                *_, cell = sheet.line(
                    said("sheet/as_flown_stage", part=stage.name), *[None] * 6, Given(gain)
                )  # fmt: skip
                cells, whole, after = [*cells, cell], whole + gain, ""
            continue
        burns = masses.get(f"{stage.name}/propellant that burns")
        for number, step in enumerate(stretches, 1):
            start, end = (_put(step, symbol) for symbol in ("m₀", "m₁"))
            row = sheet.row + 1
            gone = after_value - start
            before = Follows(f"{after}-D{row}", start) if after else Given(start)
            share = (start - end) / stage.propellant.burns
            burnt = Follows(f"{burns}*{share!r}", start - end) if burns else Given(start - end)
            words = stage.name if len(stretches) == 1 else said("sheet/nth", part=stage.name, number=number)
            places = sheet.line(
                words, Given(stage.vacuum_isp), Follows(f"B{row}*{STANDARD_GRAVITY}", stage.vacuum_isp * STANDARD_GRAVITY),
                _gone(gone if after else 0.0, masses, closed), before, burnt,
                Follows(f"E{row}-F{row}", end), Follows(f"C{row}*LN(E{row}/G{row})", step.result),
            )  # fmt: skip
            after, after_value = places[5], end
            cells, whole = [*cells, places[6]], whole + step.result
    *_, at = sheet.line(said("tiles/ideal"), *[None] * 6, Follows("+".join(cells) or "0", whole, sum_=True))
    return at, whole


def _stretches(steps: tuple[Step, ...], part: str) -> list[Step]:
    """The steps of the rocket equation of one stage, in order."""
    return [
        one for one in steps
        if one.part == part and one.formula is not None and {put.symbol for put in one.inputs} >= {"c", "m₀", "m₁"}
    ]  # fmt: skip


def _put(step: Step, symbol: str) -> float:
    return next(put.value for put in step.inputs if put.symbol == symbol)


def _gone(mass: float, masses: dict[str, str], closed: Closed) -> Given | Follows:
    """What leaves between two stretches: cells of the mass sheet where they add up to it, else a number."""
    if abs(mass) < _NOTHING:
        return Given(0.0)
    sets = []
    for number, stage in enumerate(closed.vehicle.stages):
        name, p = stage.name, stage.propellant
        stays = [("residuals", p.residuals), ("performance reserve", p.reserve), ("propellant to come home", p.home),
                 ("shut-down loss", p.shut_down_loss)]  # fmt: skip
        dry = [(key, at) for key, at in masses.items() if key.startswith(f"{name}/")]
        parts = [
            at for key, at in dry if key.partition("/")[2] not in ("propellant that burns", "start loss")
        ]
        left = stage.dry_mass + sum(value for _, value in stays)
        sets.append((parts, left))
        if number + 1 < len(closed.vehicle.stages):
            above = closed.vehicle.stages[number + 1]
            lost = masses.get(f"{above.name}/start loss")
            if lost:
                sets.append(([*parts, lost], left + above.propellant.start_loss))
        lost = masses.get(f"{name}/start loss")
        if lost:
            sets.append(([lost], p.start_loss))
    sets += [([masses[f"/{piece.name}"]], piece.mass) for piece in closed.vehicle.let_go]
    for one, value in list(sets):
        sets += [([*one, masses[f"/{piece.name}"]], value + piece.mass) for piece in closed.vehicle.let_go]
    for parts, value in sets:
        if abs(value - mass) < 1e-6 * max(mass, 1.0):
            return Follows("+".join(parts), mass)
    return Given(mass)
