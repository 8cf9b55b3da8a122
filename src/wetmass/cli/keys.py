"""The page that explains the keys of `--json` and the columns of `--csv`, written from the records.

What a field is stands behind it in its class as a comment; where there is none, the first line of its
type's docstring or its own name serves.  So page and records cannot part.  `python -m wetmass.cli.keys`
prints the page.
"""

from __future__ import annotations

import inspect
import io
import re
import sys
import tokenize
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum

from wetmass.cli.exports import DERIVED, FORMAT, LEFT_OUT
from wetmass.record.closed import Closed
from wetmass.record.flight import COLUMNS
from wetmass.record.homecoming import HOME_COLUMNS

_WORDS = {
    "Closed.name": "of the concept",
    "Closed.closes": "whether every open value was found and all that was asked is met",
    "Closed.found": "every value that was open",
    "Closed.held": "every requirement and limit",
    "Closed.steps": "the working, line by line",
    "Closed.findings": "what the result means, the heaviest first",
    "Found.unit": "SI unit of the value",
    "Held.unit": "SI unit of both",
    "Held.met": "whether it is kept",
    "Vehicle.let_go": "what is dropped apart from the stages",
    "Stage.engines": "groups of engines of one kind",
    "EngineGroup.ignitions": "how often they can be lit",
    "Propellant.pair": "oxidiser and fuel",
    "LetGo.value": "of the heating [W/m²], the height [m] or the time [s]",
    "Flight.events": "the timeline",
    "Flight.stages": "what each stage did",
    "Trajectory.columns": "what stands in each column",
    "Column.key": "as in the table of columns below",
    "Column.words": "what it is",
    "Column.unit": "its unit; angles are in degrees here",
    "Losses.drag": "m/s",
    "ReachedOrbit.eccentricity": "[-]",
    "Peak.value": "SI",
    "Put.unit": "of the value",
    "Step.inputs": "the numbers put in",
    "Step.result": "in `unit`",
    "Step.unit": "of the result",
}
_USUAL = {"name": "what it is called"}
_RENAMED = {"Trajectory.values": "rows"}
_PLAIN = {
    "str": "text", "float": "number", "int": "whole number", "int | float": "number", "bool": "true or false",
    "np.ndarray": "list of rows", "Expression": "formula in plain text",
}  # fmt: skip
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
    for record in records()[1:]:
        parts += [
            "",
            f"## {_title(record)}",
            "",
            _first_line(record),
            "",
            "| key | what it is |",
            "| --- | --- |",
        ]
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
        "## Columns of a way home",
        "",
        "Columns of the trajectory of each stage in `home`, `ways`: it begins where that stage is let go, on the "
        "same clock.",
        "",
        "| key | unit | what it is |",
        "| --- | --- | --- |",
        *(f"| `{c.key}` | {c.unit} | {c.words} |" for c in HOME_COLUMNS),
        "",
    ]
    return "\n".join(parts)


def records() -> list[type]:
    """Every record that is written, each after the one that first holds it."""
    found: list[type] = []

    def visit(record: type) -> None:
        if record in found:
            return
        found.append(record)
        for field in fields(record):
            if field.name not in LEFT_OUT.get(record, ()):
                for below in _named(str(field.type), record):
                    if is_dataclass(below):
                        visit(below)

    visit(Closed)
    return [record for record in found if record.__name__ not in _PLAIN]


def keys(record: type) -> tuple[str, ...]:
    """The keys a record is written with."""
    return tuple(key for key, _ in _rows(record))


def _rows(record: type) -> Iterator[tuple[str, str]]:
    comments = _comments(record)
    for field in fields(record):
        name, annotation = f"{record.__name__}.{field.name}", str(field.type)
        if field.name in LEFT_OUT.get(record, ()):
            continue
        words = _WORDS.get(name) or comments.get(field.name) or _USUAL.get(field.name)
        words = words or next((_first_line(below).rstrip(".") for below in _named(annotation, record)), "")
        words = words or field.name.replace("_", " ")
        yield _RENAMED.get(name, field.name), f"{_kind(annotation, record)}: {words}".replace("|", "\\|")
    for key, words, _ in DERIVED.get(record, ()):
        yield key, f"worked out: {words}"


def _named(annotation: str, record: type) -> list[type]:
    """The records and lists of choices that an annotation names."""
    known = vars(sys.modules[record.__module__])
    named = (known.get(name) for name in re.findall(r"[A-Za-z_]\w*", annotation))
    return [one for one in named if isinstance(one, type) and (is_dataclass(one) or issubclass(one, Enum))]


def _first_line(record: type) -> str:
    return (inspect.getdoc(record) or "").split("\n\n")[0].replace("\n", " ")


def _comments(record: type) -> dict[str, str]:
    """The comment behind each field of a class."""
    found: dict[str, str] = {}
    for token in tokenize.generate_tokens(io.StringIO(inspect.getsource(record)).readline):
        if token.type == tokenize.COMMENT:
            match = re.match(r"\s+(\w+)\s*:", token.line)
            if match:
                found[match[1]] = token.string.lstrip("# ").strip()
    return found


def _kind(annotation: str, record: type) -> str:
    """A type in words: a link to its section for a record, the choices for a word from a list."""
    nullable = " or null" if annotation.endswith("| None") else ""
    inner = annotation.removesuffix("| None").strip()
    if many := re.fullmatch(r"tuple\[(.+), \.\.\.\]", inner):
        return f"list of {_kind(many[1], record)}{nullable}"
    if pair := re.fullmatch(r"tuple\[([\w ,]+)\]", inner):
        kinds = [_kind(part.strip(), record) for part in pair[1].split(",")]
        return f"[{', '.join(kinds)}]{nullable}"
    if inner in _PLAIN:
        return _PLAIN[inner] + nullable
    one = next(iter(_named(inner, record)), None)
    if one is None:
        raise LookupError(f"{record.__name__}: {annotation} is no type that JSON is written from")
    if issubclass(one, Enum):
        return "one of " + ", ".join(f"`{member.value}`" for member in one) + nullable
    title = _title(one)
    return f"[{title}](#{title.lower().replace(' ', '-')}){nullable}"


def _title(record: type) -> str:
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", record.__name__).capitalize()


if __name__ == "__main__":
    print(page(), end="")
