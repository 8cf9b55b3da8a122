"""Tables for other tools: a workbook with living formulas, and the flight as CSV or Parquet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from wetmass.record.closed import Closed

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

__all__ = ["write"]


def write(target: Path, concept: Concept, closed: Closed) -> None:
    """Write a table; its kind is that of the ending: .xlsx, .csv or .parquet.

    Raises ValueError for another ending, or for a flight where nothing was flown.
    """
    ending = target.suffix.lower()
    if ending == ".xlsx":
        from wetmass.lesson.tables.workbook import workbook

        target.write_bytes(workbook(concept, closed))
        return
    if ending not in (".csv", ".parquet"):
        raise ValueError(f"a table ends in .xlsx, .csv or .parquet, got {target.name!r}")
    if closed.flight is None:
        raise ValueError("it was not flown, since it does not close: there is no flight to write")
    if ending == ".csv":
        from wetmass.lesson.tracks import csv

        target.write_text(csv(closed.flight.trajectory), encoding="utf-8", newline="")
    else:
        from wetmass.lesson.tables.parquet import parquet

        target.write_bytes(parquet(closed.flight.trajectory))
