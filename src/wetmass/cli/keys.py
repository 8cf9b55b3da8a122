"""The page that explains the keys of `--json` and the columns of `--csv`, written from the records.

What a field is stands behind it in its class as a comment; this reads those comments, so page and
records cannot part.  `python -m wetmass.cli.keys` prints the page.
"""

from __future__ import annotations

import inspect
import io
import re
import tokenize
from collections.abc import Iterator
from dataclasses import fields

from wetmass.cli.exports import DERIVED, FORMAT, LEFT_OUT
from wetmass.record.closed import Closed, Found, Held
from wetmass.record.finding import Finding, Weight
from wetmass.record.flight import (
    COLUMNS,
    Column,
    Event,
    Flight,
    Losses,
    Peak,
    ReachedOrbit,
    StageShare,
    SteeringUsed,
    Trajectory,
)
from wetmass.record.step import Put, Step
from wetmass.record.vehicle import (
    EngineGroup,
    LetGo,
    MassItem,
    Moment,
    Origin,
    Propellant,
    Stage,
    Vehicle,
)

RECORDS: tuple[type, ...] = (
    Closed, Found, Held, Vehicle, Stage, EngineGroup, Propellant, LetGo, MassItem, Flight, Event, Trajectory,
    Column, Losses, StageShare, ReachedOrbit, SteeringUsed, Peak, Step, Put, Finding,
)  # fmt: skip
_WORDS = {
    "Closed.name": "of the concept",
    "Closed.closes": "whether every open value was found and all that was asked is met",
    "Closed.vehicle": "as found",
    "Closed.flight": "null when there is none to show",
    "Closed.found": "every value that was open",
    "Closed.held": "every requirement and limit",
    "Closed.steps": "the working, line by line",
    "Closed.findings": "what the result means, the heaviest first",
    "Found.unit": "SI unit of the value",
    "Held.unit": "SI unit of both",
    "Held.met": "whether it is kept",
    "Vehicle.name": "of the concept",
    "Vehicle.let_go": "what is dropped apart from the stages",
    "Stage.name": "as in the file",
    "Stage.propellant": "what it burns, by what becomes of it",
    "Stage.engines": "groups of engines of one kind",
    "EngineGroup.name": "as in the file, or the stage's",
    "EngineGroup.count": "how many",
    "EngineGroup.ignitions": "how often they can be lit",
    "Propellant.pair": "oxidiser and fuel",
    "LetGo.name": "what it is",
    "LetGo.moment": "when it is let go",
    "LetGo.value": "of the heating [W/m²], the height [m] or the time [s]",
    "MassItem.origin": "who stated the mass",
    "Flight.events": "the timeline",
    "Flight.trajectory": "a row for each step of the integration and each event",
    "Flight.losses": "where the ideal speed went",
    "Flight.stages": "what each stage did",
    "Flight.orbit": "the one reached",
    "Flight.steering": "the law that was flown",
    "Trajectory.columns": "what stands in each column",
    "Trajectory.values": "a list of numbers for each row",
    "Column.key": "as in the table of columns below",
    "Column.words": "what it is",
    "Column.unit": "its unit; angles are in degrees here",
    "Losses.drag": "m/s",
    "StageShare.name": "of the stage",
    "ReachedOrbit.eccentricity": "[-]",
    "Peak.value": "SI",
    "Put.unit": "of the value",
    "Step.inputs": "the numbers put in",
    "Step.result": "in `unit`",
    "Step.unit": "of the result",
    "Finding.weight": "how much it matters",
}
_RENAMED = {"Trajectory.values": "rows"}
_ENUMS = {"Weight": Weight, "Origin": Origin, "Moment": Moment}
_NAMES = {record.__name__: record for record in RECORDS}
_HEAD = """\
# Keys of `--json` and columns of `--csv`

*This page is written from the code (`python -m wetmass.cli.keys`); a test fails when the two part.*

`wetmass fly FILE --json` prints one object. Numbers are SI and angles radians, unless a unit beside the
key says otherwise; a number that is not finite (no limit, no bound) is `null`. Keys are added over time
and keep their meaning while `format` keeps its value.
"""


def page() -> str:
    """The whole page as Markdown."""
    parts = [
        _HEAD,
        "## The whole",
        "",
        "| key | what it is |",
        "| --- | --- |",
        f"| `format` | text: `{FORMAT}` |",
        "| `program` | text: name and version of the program |",
        "| `concept` | object: `file` and `text`, the concept as it was read |",
        *(f"| `{key}` | {words} |" for key, words in _rows(Closed)),
    ]
    for record in RECORDS[1:]:
        doc = (inspect.getdoc(record) or "").split("\n\n")[0].replace("\n", " ")
        parts += ["", f"## {_title(record)}", "", doc, "", "| key | what it is |", "| --- | --- |"]
        parts += [f"| `{key}` | {words} |" for key, words in _rows(record)]
    parts += [
        "",
        "## Columns",
        "",
        "Columns of the trajectory, in this order, in `--csv` (the header has key and unit) and in `--json`.",
        "",
        "| key | unit | what it is |",
        "| --- | --- | --- |",
        *(f"| `{c.key}` | {c.unit} | {c.words} |" for c in COLUMNS),
        "",
    ]
    return "\n".join(parts)


def keys(record: type) -> tuple[str, ...]:
    """The keys a record is written with."""
    return tuple(key for key, _ in _rows(record))


def _rows(record: type) -> Iterator[tuple[str, str]]:
    comments = _comments(record)
    for field in fields(record):
        name = f"{record.__name__}.{field.name}"
        if field.name in LEFT_OUT.get(record, ()):
            continue
        words = _WORDS.get(name) or comments.get(field.name)
        if not words:
            raise LookupError(f"{name} has no words: put a comment behind it in its class")
        kind = _kind(str(field.type))
        yield _RENAMED.get(name, field.name), f"{kind}: {words}".replace("|", "\\|")
    for key, words, _ in DERIVED.get(record, ()):
        yield key, f"worked out: {words}"


def _comments(record: type) -> dict[str, str]:
    """The comment behind each field of a class."""
    found: dict[str, str] = {}
    name = ""
    source = inspect.getsource(record)
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type == tokenize.NAME and re.match(rf"\s+{token.string}\s*:", token.line):
            name = token.line.split(":")[0].strip()
        if token.type == tokenize.COMMENT and name and token.line.strip().startswith(name):
            found[name] = token.string.lstrip("# ").strip()
    return found


def _kind(annotation: str) -> str:
    """A type in words: a link to its section for a record, the choices for a word from a list."""
    nullable = " or null" if annotation.endswith("| None") else ""
    inner = annotation.removesuffix("| None").strip()
    many = re.fullmatch(r"tuple\[(.+), \.\.\.\]", inner)
    if many:
        return f"list of {_kind(many[1])}{nullable}"
    if inner in _NAMES:
        title = _title(_NAMES[inner])
        return f"[{title}](#{title.lower().replace(' ', '-')}){nullable}"
    if inner in _ENUMS:
        return "one of " + ", ".join(f"`{word}`" for word in _ENUMS[inner]) + nullable
    plain = {
        "str": "text", "float": "number", "int": "whole number", "int | float": "number",
        "bool": "true or false",
        "np.ndarray": "list of rows", "Expression": "text", "tuple[str, str]": "pair of texts",
        "tuple[float, float]": "pair of numbers",
    }  # fmt: skip
    return plain[inner] + nullable


def _title(record: type) -> str:
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", record.__name__).capitalize()


if __name__ == "__main__":
    print(page(), end="")
