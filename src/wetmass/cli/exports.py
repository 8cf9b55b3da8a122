"""The record as JSON and the trajectory as CSV: SI throughout, keys explained in docs/json-keys.md."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import TYPE_CHECKING, Any

from wetmass.record.brought import Brought
from wetmass.record.closed import Closed
from wetmass.record.expression import Expression
from wetmass.record.flight import Flight, Losses, Trajectory
from wetmass.record.homecoming import Homecoming
from wetmass.record.plain import formula, line
from wetmass.record.step import Step
from wetmass.record.vehicle import EngineGroup, Propellant, Stage, Vehicle

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

FORMAT = "wetmass closed 1"

# what is worked out from the fields of a record and written beside them: (key, words, how)
DERIVED: Mapping[type, tuple[tuple[str, str, Callable[[Any], Any]], ...]] = {
    Vehicle: (
        ("lift_off_mass", "kg, at the moment it leaves the pad", lambda v: v.lift_off_mass),
        ("mass_table", "every item once, kg; adds up to the mass on the pad", lambda v: v.mass_table()),
    ),
    Stage: (
        ("gross_mass", "kg, dry mass and everything tanked", lambda s: s.gross_mass),
        ("structural_fraction", "dry mass over dry mass and propellant", lambda s: s.structural_fraction),
        ("vacuum_thrust", "N, of all engines", lambda s: s.vacuum_thrust),
        ("vacuum_isp", "s, of all engines together", lambda s: s.vacuum_isp),
        ("flow", "kg/s, propellant flow of all engines at full throttle", lambda s: s.flow),
    ),
    EngineGroup: (("flow", "kg/s, propellant flow of the whole group", lambda g: g.flow),),
    Propellant: (("load", "kg, everything tanked", lambda p: p.load),),
    Flight: (("duration", "s, from lift-off to the end of the last burn", lambda f: f.duration),),
    Losses: (("gap", "what the identity misses, over the ideal speed", lambda losses: losses.gap),),
    Brought: (("price", "kg of payload given up for coming home; null: not known", lambda b: b.price),),
    Homecoming: (("left", "kg of propellant left, below 0 where it lacked", lambda h: h.left),),
    Step: (("line", "the step as one line of plain text", line),),
}
LEFT_OUT: Mapping[type, tuple[str, ...]] = {Flight: ("vehicle",), Homecoming: ("unknowns",)}
"""Fields that stand elsewhere in the record already, or are for the next search alone."""


def record(concept: Concept, closed: Closed) -> dict[str, Any]:
    """The whole record as plain lists, dictionaries, texts and numbers; SI, nothing infinite."""
    import wetmass

    document = concept.document
    return {
        "format": FORMAT,
        "program": f"wetmass {wetmass.__version__}",
        "concept": {
            "file": document.name if document is not None else None,
            "text": document.text if document is not None else None,
        },
        **plain(closed),
    }


def json_text(concept: Concept, closed: Closed) -> str:
    """The record as a JSON text (RFC 8259: no NaN, no infinity)."""
    return json.dumps(record(concept, closed), ensure_ascii=False, indent=1, allow_nan=False)


def plain(value: Any) -> Any:
    """A record, or a part of one, as JSON can write it; a number that is not finite becomes null."""
    if value is None or isinstance(value, (str, bool)):
        return str(value.value) if isinstance(value, Enum) else value
    if isinstance(value, Expression):
        return formula(value)
    if isinstance(value, Trajectory):
        return {
            "columns": [plain(column) for column in value.columns],
            "rows": [[plain(number) for number in row] for row in value.values.tolist()],
        }
    if is_dataclass(value) and not isinstance(value, type):
        skipped = LEFT_OUT.get(type(value), ())
        written = {f.name: plain(getattr(value, f.name)) for f in fields(value) if f.name not in skipped}
        return written | {key: _worked_out(how, value) for key, _, how in DERIVED.get(type(value), ())}
    if isinstance(value, (tuple, list)):
        return [plain(entry) for entry in value]
    number = float(value)
    if not math.isfinite(number):
        return None
    return int(number) if isinstance(value, int) else number


def _worked_out(how: Callable[[Any], Any], value: Any) -> Any:
    """null where there is nothing to work it out from, such as a stage without a rocket."""
    try:
        return plain(how(value))
    except ZeroDivisionError:
        return None


def csv_lines(trajectory: Trajectory) -> Iterator[str]:
    """The trajectory, a line at a time: a header with units, then a row for each step and event."""
    yield ",".join(f"{c.key} [{c.unit}]" if c.unit else c.key for c in trajectory.columns) + "\n"
    for row in trajectory.values.tolist():
        yield ",".join(f"{number:.10g}" for number in row) + "\n"
