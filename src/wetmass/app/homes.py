"""What becomes of every stage that is let go, for the page: in a line beside the stage, and in full."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from wetmass.app.saying import say, seconds, state
from wetmass.findings.ways import comes_down, outcome, peak, propellant
from wetmass.record.homecoming import By, Homecoming
from wetmass.record.say import duration, sentence
from wetmass.record.system import SYSTEMS, System

if TYPE_CHECKING:
    from wetmass.record.brought import Brought
    from wetmass.record.closed import Closed
    from wetmass.record.flight import Event


def homes(closed: Closed, system: str) -> dict[str, Any] | None:
    """What coming home costs, and each way down; None where nothing was flown home."""
    brought = closed.home
    if brought is None or not (closed.closes or brought.ways or brought.not_flown):
        return None
    unmet = "" if closed.closes else sentence(f"{closed.name} does not close: {closed.reason}")
    return {
        "price": unmet or _price(brought, system),
        "ways": [_way(one, brought, system) for one in brought.ways],
        "not_flown": [line.split(": ", 1) for line in brought.not_flown],
    }


def _price(brought: Brought, system: str) -> str:
    payload = say(brought.payload, "kg", system)
    if not brought.kept:
        return f"It carries {payload}; no stage keeps propellant to come home."
    if brought.price is None or brought.expended_payload is None:
        return f"It carries {payload} with what is kept to come home; it does not close when nothing is kept."
    if brought.price > 1e-3 * brought.payload or brought.expended_lift_off_mass is None:
        price, expended = say(brought.price, "kg", system, 3), say(brought.expended_payload, "kg", system)
        return f"Coming home costs {price} of payload: {payload} instead of {expended}."
    heavier = say(brought.lift_off_mass - brought.expended_lift_off_mass, "kg", system, 3)
    return f"Coming home costs {heavier} at lift-off; it carries {payload} with and without."


def _way(home: Homecoming, brought: Brought, system: str) -> dict[str, Any]:
    falls = home.way.by is By.BALLISTIC
    if falls:
        short = "comes down"
    else:
        short = "comes home" if home.comes_home else "does not come home: it comes down"
    out, fast = say(home.down.distance, "m", system, 3), say(home.down.speed, "m/s", system, 2)
    kept = next((one for one in brought.kept if one.stage == home.stage), None)
    return {
        "stage": home.stage, "count": home.count, "fails": not (falls or home.comes_home), "outcome": outcome(home),
        "short": f"{short} {out} out, at {fast}",
        "rows": [row for row in _rows(home, SYSTEMS[system]) if row[1]],
        "events": [[seconds(one), one.what, *state(_grounded(one), system)] for one in home.events],
        "lacks": "" if kept is None or kept.met else kept.reason,
        "assumed": list(home.assumed),
    }  # fmt: skip


def _grounded(event: Event) -> Event:
    """Half a metre above or below the ground is on it."""
    return event if abs(event.height) > 0.5 else replace(event, height=0.0)


def _rows(home: Homecoming, units: System) -> list[tuple[str, str]]:
    return [
        ("comes down", comes_down(home, units)),
        ("after lift-off", duration(home.down.time)),
        ("propellant", propellant(home, units)),
        ("highest", units.said(home.apogee.value, "m")),
        ("greatest dynamic pressure", peak(home.dynamic_pressure, "Pa", units)),
        ("greatest felt acceleration", peak(home.felt_acceleration, "m/s²", units)),
        ("greatest heating", peak(home.heating, "W/m²", units)),
    ]
