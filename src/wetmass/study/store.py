"""Results kept as they come, one row a point, in an SQLite file that survives being killed.

A row is kept under a hash of the program, the concept and the changes, so that a row is never doubled, a
study that is started again goes on with what is missing, and studies of one concept share their points.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from wetmass.record.refusal import Complaint, Refusal
from wetmass.study.point import Outcome
from wetmass.study.variants import Change

_TABLE = """create table if not exists points (
    key text primary key, changes text not null, state text not null, reason text not null,
    numbers text not null, kept text not null) without rowid"""
_MARK = 0x77746D73  # of our files, in the header that SQLite leaves to the application


class Store:
    """Results by key: in a file, or in memory without one.  Raises Refusal when a file is not one of ours."""

    def __init__(self, path: str | Path | None = None) -> None:
        self.path = None if path is None else Path(path)
        try:
            self._base = sqlite3.connect(":memory:" if path is None else path, timeout=60.0)
            known = self._base.execute("pragma application_id").fetchone()[0]
            tables = self._base.execute("select count(*) from sqlite_master").fetchone()[0]
            if known != _MARK and tables:
                raise sqlite3.DatabaseError("it holds other tables")
            self._base.execute("pragma journal_mode = wal")
            self._base.execute("pragma synchronous = normal")  # a killed process loses nothing that was told
            self._base.execute(f"pragma application_id = {_MARK}")
            self._base.execute(_TABLE)
            self._base.commit()
        except sqlite3.Error as error:
            raise Refusal(
                Complaint(
                    "--store", f'"{path}" ({error})', "a file of study results, or a name for a new one",
                    "choose another name",
                )
            ) from None  # fmt: skip

    def put(self, rows: Iterable[tuple[str, tuple[Change, ...], Outcome]]) -> None:
        """Keep results, at once and for good."""
        with self._base:
            self._base.executemany(
                "insert or replace into points values (?, ?, ?, ?, ?, ?)",
                [
                    (key, _text(changes), one.state, one.reason, _text(one.numbers), _text(one.kept))
                    for key, changes, one in rows
                ],
            )

    def get(self, keys: Iterable[str]) -> dict[str, Outcome]:
        """Results of those keys that are there."""
        found, wanted = {}, list(keys)
        for start in range(0, len(wanted), 500):
            part = wanted[start : start + 500]
            marks = ", ".join("?" * len(part))
            rows = self._base.execute(
                f"select key, state, reason, numbers, kept from points where key in ({marks})", part
            )
            for key, state, reason, numbers, kept in rows:
                found[key] = Outcome(state, reason, json.loads(numbers), json.loads(kept))
        return found

    def rows(self) -> Iterator[tuple[Any, ...]]:
        """Every row as it is kept, by key."""
        yield from self._base.execute("select * from points order by key")

    def __len__(self) -> int:
        return int(self._base.execute("select count(*) from points").fetchone()[0])

    def close(self) -> None:
        """Write what waits into the file itself, and let it go."""
        self._base.close()

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *raised: object) -> None:
        self.close()


def _text(value: Mapping[str, float] | tuple[Change, ...]) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True)
