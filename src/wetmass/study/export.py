"""The points of a study as a table: CSV or Parquet, one row a point, SI."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from wetmass.record.refusal import Complaint, Refusal
from wetmass.study.grid import Grid
from wetmass.study.point import Outcome

KINDS = (".csv", ".parquet")


def rows_of(grid: Grid) -> list[dict[str, Any]]:
    """A row a point: the inputs, then what came of it."""
    made = []
    for number, outcome in enumerate(grid.outcomes):
        place = [number] if len(grid.axes) == 1 else list(divmod(number, len(grid.axes[1])))
        inputs = {
            axis.input.words: axis.words[k] if axis.words else axis.values[k]
            for axis, k in zip(grid.axes, place, strict=True)
        }
        made.append(row(inputs, outcome))
    return made


def row(inputs: Mapping[str, Any], outcome: Outcome) -> dict[str, Any]:
    """One point as a row."""
    kept = {f"room: {name}": value for name, value in outcome.kept.items()}
    return {**inputs, "state": outcome.state, "reason": outcome.reason, **outcome.numbers, **kept}


def write(rows: Sequence[Mapping[str, Any]], path: str) -> None:
    """Write rows by the ending of `path`.  Raises Refusal when it cannot be."""
    kind = Path(path).suffix.casefold()
    if kind not in KINDS:
        raise Refusal(
            Complaint(
                "--table", f'"{path}"', f"a file ending in {' or '.join(KINDS)}", 'name it as in "points.csv"'
            )
        )
    names = list(dict.fromkeys(name for one in rows for name in one))
    try:
        if kind == ".csv":
            with open(path, "w", encoding="utf-8", newline="") as file:
                csv.writer(file).writerows(_lines(names, rows))
        else:
            _parquet(names, rows, path)
    except OSError as error:
        raise Refusal(
            Complaint(
                "--table", f'"{path}", which cannot be written ({error.strerror})',
                "a file in a folder that is there", "check the folder and its permissions",
            )
        ) from None  # fmt: skip


def _lines(names: Sequence[str], rows: Sequence[Mapping[str, Any]]) -> Iterator[list[Any]]:
    yield list(names)
    for one in rows:
        yield [one.get(name, "") for name in names]


def _parquet(names: Sequence[str], rows: Sequence[Mapping[str, Any]], path: str) -> None:
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError:
        raise Refusal(
            Complaint(
                "--table", f'"{path}", and pyarrow is not installed', "an installed pyarrow, or a .csv file",
                "pip install wetmass[tables]",
            )
        ) from None  # fmt: skip
    table = pyarrow.table({name: [one.get(name) for one in rows] for name in names})
    pyarrow.parquet.write_table(table, path)
