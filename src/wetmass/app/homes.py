"""What becomes of every stage that is let go, for the page: in a line beside the stage, and in full."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wetmass.app.saying import say
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import fixed
from wetmass.record.homecoming import By, Homecoming
from wetmass.record.say import duration

if TYPE_CHECKING:
    from wetmass.record.brought import Brought
    from wetmass.record.closed import Closed
    from wetmass.record.flight import Event, Peak


def homes(closed: Closed, system: str) -> dict[str, Any] | None:
    """What coming home costs, and each way down; None where nothing was flown home."""
    brought = closed.home
    if brought is None:
        return None
    return {
        "price": _price(brought, system),
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
    falls, place = home.way.by is By.BALLISTIC, home.way.place_name
    where = "" if place == "downrange" else f", {place}"
    if falls:
        outcome, short = "falls", "comes down"
    elif home.comes_home:
        outcome, short = f"{home.way.by}{where}: comes home", "comes home"
    else:
        outcome, short = f"{home.way.by}{where}: does not come home", "does not come home: it comes down"
    out, fast = say(home.down.distance, "m", system, 3), say(home.down.speed, "m/s", system, 2)
    kept = next((one for one in brought.kept if one.stage == home.stage), None)
    return {
        "stage": home.stage, "count": home.count, "fails": not (falls or home.comes_home), "outcome": outcome,
        "short": f"{short} {out} out, at {fast}",
        "rows": [row for row in _rows(home, system) if row[1]],
        "events": [_event(one, system) for one in home.events],
        "lacks": "" if kept is None or kept.met else kept.reason,
        "assumed": list(home.assumed),
    }  # fmt: skip


def _rows(home: Homecoming, system: str) -> list[tuple[str, str]]:
    down = home.down
    missed = (
        f", {say(down.missed_by, 'm', system, 3)} beside the place asked for" if down.missed_by >= 1.0 else ""
    )
    used = ""
    if home.way.by is not By.BALLISTIC and (home.used or home.reserve):
        used = f"{say(home.used, 'kg', system)} used of {say(home.reserve, 'kg', system)} kept"
        used += f"; {say(home.needed, 'kg', system)} would just do" if home.needed is not None else ""
    return [
        ("comes down", f"{say(down.distance, 'm', system)} from the site, at {say(down.speed, 'm/s', system, 3)}{missed}"),
        ("after lift-off", duration(down.time)),
        ("propellant", used),
        ("highest", say(home.apogee.value, "m", system)),
        ("greatest dynamic pressure", _peak(home.dynamic_pressure, "Pa", system)),
        ("greatest felt acceleration", _peak(home.felt_acceleration, "m/s²", system)),
        ("greatest heating", _peak(home.heating, "W/m²", system)),
    ]  # fmt: skip


def _peak(peak: Peak, unit: str, system: str) -> str:
    return f"{say(peak.value, unit, system, 3)}, {say(peak.height, 'm', system, 2)} up"


def _event(one: Event, system: str) -> list[str]:
    return [
        f"{fixed(one.time, 1)} s", one.what, say(one.height if abs(one.height) > 0.5 else 0.0, "m", system), say(one.air_speed, "m/s", system),
        say(one.dynamic_pressure, "Pa", system, 3), f"{fixed(one.felt_acceleration / STANDARD_GRAVITY, 2)} g₀",
    ]  # fmt: skip
