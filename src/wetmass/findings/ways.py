"""What became of a stage that was let go, in words: for the commands and for the page."""

from __future__ import annotations

from wetmass.record.flight import Peak
from wetmass.record.homecoming import By, Homecoming
from wetmass.record.system import METRIC, System


def outcome(home: Homecoming) -> str:
    """By what it comes down, and whether that ends as asked."""
    if home.way.by is By.BALLISTIC:
        return "falls"
    where = "" if home.way.place_name == "downrange" else f", {home.way.place_name}"
    return f"{home.way.by}{where}: {'comes home' if home.comes_home else 'does not come home'}"


def comes_down(home: Homecoming, units: System = METRIC) -> str:
    """Where it comes down, and how fast."""
    down = home.down
    text = f"{units.said(down.distance, 'm')} from the site, at {units.said(down.speed, 'm/s', 3)}"
    if down.missed_by < 1.0:
        return text
    return f"{text}, {units.said(down.missed_by, 'm', 3)} beside the place asked for"


def propellant(home: Homecoming, units: System = METRIC) -> str:
    """What it used of what it kept; "" for a stage that burns nothing on its way."""
    if home.way.by is By.BALLISTIC or (not home.used and not home.reserve):
        return ""
    text = f"{units.said(home.used, 'kg')} used of {units.said(home.reserve, 'kg')} kept"
    return text if home.needed is None else f"{text}; {units.said(home.needed, 'kg')} would just do"


def peak(greatest: Peak, unit: str, units: System = METRIC) -> str:
    """A greatest value [unit, SI], and how high that was."""
    return f"{units.said(greatest.value, unit, 3)}, {units.said(greatest.height, 'm', 2)} up"
