"""What happens when, on the way up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import LEFT, QUIET, RIGHT, Row, Sheet
from wetmass.record.closed import Closed
from wetmass.record.constants import STANDARD_GRAVITY
from wetmass.record.digits import fixed

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def timeline(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """A row for each event, values just as it comes."""
    if closed.flight is None:
        return
    sheet.heading("Flight", "speed relative to the turning Earth; acceleration as felt aboard")
    rows = [
        Row(("time", "", "height", "speed", "downrange", "pressure", "felt"), QUIET),
        Row(("s", "", "km", "m/s", "km", "kPa", "g₀"), QUIET),
    ]
    for event in closed.flight.events:
        rows.append(
            Row(
                (
                    fixed(event.time, 1),
                    event.what,
                    fixed(event.height / 1e3, 1),
                    fixed(event.air_speed),
                    fixed(event.downrange / 1e3, 1),
                    fixed(event.dynamic_pressure / 1e3, 2),
                    fixed(event.felt_acceleration / STANDARD_GRAVITY, 2),
                )
            )
        )
    sheet.table((RIGHT, LEFT, RIGHT, RIGHT, RIGHT, RIGHT, RIGHT), rows)
