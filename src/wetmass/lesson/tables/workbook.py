"""A workbook in which the masses can be changed and the ideal speed follows."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from wetmass.lesson.tables.sheet import RATIO, SHARE, Follows, Given, Looks, Sheet, Text
from wetmass.lesson.tables.speed import speed
from wetmass.lesson.words import said
from wetmass.record.closed import Closed
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.flight import Flight
from wetmass.record.vehicle import SEA_LEVEL_PRESSURE, Vehicle

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

TOLD = "0.0##"


def workbook(concept: Concept, closed: Closed) -> bytes:
    """The workbook as bytes: masses, lift-off, ideal speed and losses as formulas; events and the flight.

    What may be changed has a yellow ground.  The losses are those of the flight and stay as they were flown.
    """
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    book.set_properties({"title": said("page/title", name=closed.name), "comments": said("sheet/caution")})
    book.set_calc_mode("auto")
    looks = Looks(book)
    masses = _masses(book, looks, closed.vehicle)
    _lift_off(book, looks, closed.vehicle, masses)
    ideal = speed(book, looks, closed, masses)
    if closed.flight is not None:
        _losses(book, looks, closed.flight, *ideal, climbs=concept.mission.climbs)
        _events(book, looks, closed.flight)
        _flight(book, looks, closed.flight)
    book.close()
    return out.getvalue()


def _masses(book: Any, looks: Looks, vehicle: Vehicle) -> dict[str, str]:
    """The mass table; returns cells by name: "stage/item", "payload", "whole", "lift-off"."""
    sheet = Sheet(
        book, looks, said("sheet/masses"), said("tables/masses"), said("sheet/masses_about"), [26, 30, 14, 10]
    )
    sheet.heads(said("tables/masses_part"), said("tables/masses_item"), said("tables/masses_mass"),
                said("tables/masses_share"))  # fmt: skip
    table = vehicle.mass_table()
    first, last = sheet.row + 1, sheet.row + len(table)
    whole_at = f"$C${last + 1}"
    whole = sum(item.mass for item in table)
    cells: dict[str, str] = {}
    lost = []
    for item in table:
        _, at, _ = sheet.line(
            item.part or "–", Text(item.item), Given(item.mass),
            Follows(f"C{sheet.row + 1}/{whole_at}", item.mass / whole, SHARE),
        )  # fmt: skip
        cells[f"{item.part}/{item.item}"] = at
        if item.item == "start loss":
            lost.append((item, at))
    _, cells["whole"], _ = sheet.line(
        said("tables/masses_whole"), None, Follows(f"SUM(C{first}:C{last})", whole, sum_=True),
        Follows(f"SUM(D{first}:D{last})", 1.0, SHARE, sum_=True),
    )  # fmt: skip
    before = [at for item, at in lost if _leaves_the_pad_without(vehicle, item.part)]
    formula = "-".join((whole_at, *before))
    _, cells["lift-off"] = sheet.line(
        said("tiles/lift_off_mass"), None, Follows(formula, vehicle.lift_off_mass)
    )
    sheet.page.freeze_panes(4, 0)
    return cells


def _leaves_the_pad_without(vehicle: Vehicle, part: str) -> bool:
    names = [vehicle.stages[0].name]
    names += [
        f"{s.count} × {s.stage.name}" if s.count > 1 else s.stage.name
        for s in vehicle.strap_ons
        if s.beside == 0
    ]
    return part in names


def _lift_off(book: Any, looks: Looks, vehicle: Vehicle, masses: dict[str, str]) -> None:
    sheet = Sheet(
        book, looks, said("sheet/lift_off"), said("sheet/lift_off_title"), said("sheet/lift_off_about"),
        [34, 16, 20, 16],
    )  # fmt: skip
    sheet.heads(*(said(f"sheet/{key}") for key in ("engines", "count", "thrust_one", "thrust_all")))
    lit = [(1, group) for group in vehicle.stages[0].engines] if vehicle.stages[0].pause <= 0.0 else []
    lit += [
        (strap.count, group) for strap in vehicle.strap_ons if strap.beside == 0 and strap.lit_after <= 0.0
        for group in strap.stage.engines
    ]  # fmt: skip
    whole, cells = 0.0, []
    for times, group in lit:
        if not group.lit_on_the_ground:
            continue
        count, one = times * float(group.count), group.thrust(SEA_LEVEL_PRESSURE) / float(group.count) / 1e3
        at = sheet.row + 1
        *_, cell = sheet.line(group.name, Given(count, "0"), Given(one), Follows(f"B{at}*C{at}", count * one))
        whole, cells = whole + count * one, [*cells, cell]
    *_, thrust = sheet.line(
        said("sheet/thrust_lift_off"), None, None, Follows("+".join(cells) or "0", whole, sum_=True)
    )
    sheet.gap()
    *_, mass = sheet.line(
        said("sheet/mass_t"), None, None, Follows(f"{masses['lift-off']}/1000", vehicle.lift_off_mass / 1e3)
    )
    *_, gravity = sheet.line(said("sheet/gravity"), None, None, Given(STANDARD_GRAVITY, "0.00000"))
    ratio = whole * 1e3 / (vehicle.lift_off_mass * STANDARD_GRAVITY)
    sheet.line(
        said("tiles/thrust_to_weight"),
        None,
        None,
        Follows(f"{thrust}/({mass}*{gravity})", ratio, RATIO, sum_=True),
    )


def _losses(book: Any, looks: Looks, flight: Flight, ideal: str, ideal_value: float, *, climbs: bool) -> None:
    sheet = Sheet(
        book, looks, said("sheet/losses"), said("sheet/losses_title"), said("sheet/losses_about"), [38, 16]
    )
    sheet.heads(said("sheet/what"), said("sheet/metres_a_second"))
    loss = flight.losses
    (at_ideal,) = sheet.line(said("tiles/ideal"), Follows(ideal, ideal_value))
    (shortened,) = sheet.line(said("sheet/throttled"), Given(_plain(ideal_value - loss.ideal)))
    taken = []
    for key, value in (
        ("gravity_loss", loss.gravity), ("drag", loss.drag), ("steering", loss.steering),
        ("back_pressure", loss.back_pressure),
    ):  # fmt: skip
        taken += sheet.line(said(f"sheet/{key}"), Given(value))
    formula = "-".join((at_ideal, shortened, *taken))
    (over,) = sheet.line(said("sheet/over_earth"), Follows(formula, loss.air_speed_gained, sum_=True))
    if not climbs:
        (turn,) = sheet.line(said("sheet/turning"), Given(loss.rotation_gain))
        sheet.line(
            said("sheet/in_orbit"),
            Follows(f"{over}+{turn}", loss.air_speed_gained + loss.rotation_gain, sum_=True),
        )


def _plain(value: float) -> float:
    return 0.0 if abs(value) < 1e-3 else value  # m/s: the rounding of the integration


def _events(book: Any, looks: Looks, flight: Flight) -> None:
    sheet = Sheet(
        book, looks, said("sheet/events"), said("tables/events"), said("sheet/as_flown"), [34, *[14] * 6]
    )
    sheet.heads(
        *(said(f"tables/event_{key}") for key in ("what", "time", "height", "speed", "pressure", "felt"))
    )
    look = looks.number(TOLD)
    for one in flight.events:
        values = (
            one.time, one.height / 1e3, one.air_speed, one.dynamic_pressure / 1e3,
            one.felt_acceleration / STANDARD_GRAVITY,
        )  # fmt: skip
        sheet.page.write_string(sheet.row, 0, one.what, looks.plain)
        for column, value in enumerate(values, 1):
            sheet.page.write_number(sheet.row, column, value, look)
        sheet.row += 1
    sheet.page.freeze_panes(4, 1)


def _flight(book: Any, looks: Looks, flight: Flight) -> None:
    track = flight.trajectory
    sheet = Sheet(
        book, looks, said("sheet/flight"), said("sheet/flight_title"), said("sheet/as_flown"),
        [13.0] * len(track.columns),
    )  # fmt: skip
    for column, one in enumerate(track.columns):
        words = f"{one.words}, {one.unit}" if one.unit else one.words
        sheet.page.write_string(sheet.row, column, words, looks.right)
    sheet.page.set_row(sheet.row, 75.0)
    look = looks.number(TOLD)
    for i, row in enumerate(track.values.tolist(), sheet.row + 1):
        for column, value in enumerate(row):
            if value == value and abs(value) != float("inf"):
                sheet.page.write_number(i, column, value, look)
    sheet.page.freeze_panes(sheet.row + 1, 1)
