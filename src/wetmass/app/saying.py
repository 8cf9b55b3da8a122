"""Numbers in the units that the reader chose, and what they changed by."""

from __future__ import annotations

from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import fixed, readable
from wetmass.record.flight import Event
from wetmass.record.say import NO_BREAK
from wetmass.record.system import METRIC, SYSTEMS


def say(value: float, unit: str, system: str = METRIC.name, figures: int = 4, exact: bool = False) -> str:
    """A value in SI, as the reader wants it.

    exact  to the whole kilogram or pound, for columns that add up
    """
    units = SYSTEMS[system]
    return units.whole(value, unit) if exact else units.said(value, unit, figures)


def seconds(event: Event) -> str:
    """When it comes."""
    return f"{fixed(event.time, 1)} s"


def state(event: Event, system: str) -> list[str]:
    """Height, air speed, dynamic pressure and felt acceleration as it comes."""
    return [
        say(event.height, "m", system), say(event.air_speed, "m/s", system), say(event.dynamic_pressure, "Pa", system, 3),
        f"{fixed(event.felt_acceleration / STANDARD_GRAVITY, 2)} g₀",
    ]  # fmt: skip


def change(before: float, after: float, unit: str, system: str = METRIC.name) -> str:
    """What a value changed by, with its sign; "" where both read the same."""
    moved = after - before
    if say(before, unit, system) == say(after, unit, system):
        return ""
    text = say(abs(moved), unit, system, 3)
    return ("+" if moved > 0.0 else "−") + text


def share(before: float, after: float) -> str:
    """The same in percent of what it was."""
    if before == 0.0:
        return ""
    moved = 100.0 * (after / before - 1.0)
    return ("+" if moved > 0.0 else "−") + readable(abs(moved), 2) + f"{NO_BREAK}%"
