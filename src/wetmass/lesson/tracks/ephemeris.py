"""Orbit Ephemeris Message, CCSDS 502.0-B-2 (version 2.0), key-value notation."""

from __future__ import annotations

import datetime
from collections.abc import Iterable

import numpy as np

from wetmass.flight.home.impact import states, turned_with_earth
from wetmass.record.flight import Trajectory


def oem(
    trajectory: Trajectory,
    name: str,
    lift_off: datetime.datetime,
    *,
    object_id: str = "NOT ASSIGNED",
    originator: str = "WETMASS",
    created: datetime.datetime | None = None,
    comments: Iterable[str] = ("Concept study only; range safety and licensing decide.",),
) -> str:
    """The trajectory of a flight, up or home, as an Orbit Ephemeris Message.

    lift_off   the moment of lift-off, with its time zone
    name       OBJECT_NAME    object_id  OBJECT_ID    originator  ORIGINATOR
    created    CREATION_DATE; the moment of lift-off where none is given, so that the text repeats

    Places [km] and speeds [km/s] are in axes that turn with the Earth (REF_FRAME ITRF2000): a concept knows
    no polar motion and no difference of UT1 from UTC.  Rows at one moment are given once.
    Raises ValueError for a moment without time zone, for text that is not printable ASCII (the standard's
    character set), and for fewer than two moments.
    """
    for what, moment in (("lift_off", lift_off), ("created", created)):
        if moment is not None and moment.utcoffset() is None:
            raise ValueError(f"{what} must say its time zone, such as datetime.UTC, got {moment!r}")
    for what, text in (("name", name), ("object_id", object_id), ("originator", originator)):
        if not text or not text.isascii() or not text.isprintable():
            raise ValueError(
                f"{what} must be printable ASCII text (CCSDS 502.0-B-2, section 7.3), got {text!r}"
            )
    rows = list(_once(states(trajectory), trajectory["time"]))
    if len(rows) < 2:
        raise ValueError(f"an ephemeris takes two moments or more, got {len(rows)}")
    zero = lift_off.astimezone(datetime.UTC)
    lines = [
        "CCSDS_OEM_VERS = 2.0",
        *(f"COMMENT {_ascii(text)}" for text in comments),
        f"CREATION_DATE = {_moment((created or zero).astimezone(datetime.UTC))}",
        f"ORIGINATOR = {originator}",
        "",
        "META_START",
        f"OBJECT_NAME = {name}",
        f"OBJECT_ID = {object_id}",
        "CENTER_NAME = EARTH",
        "REF_FRAME = ITRF2000",
        "TIME_SYSTEM = UTC",
        f"START_TIME = {_moment(zero, float(rows[0][0]))}",
        f"STOP_TIME = {_moment(zero, float(rows[-1][0]))}",
        "META_STOP",
        "",
    ]
    for row in rows:
        place, speed = turned_with_earth(row)
        numbers = " ".join(f"{value / 1e3:.9f}" for value in (*place, *speed))
        lines.append(f"{_moment(zero, float(row[0]))} {numbers}")
    return "\n".join(lines) + "\n"


def _once(rows: np.ndarray, times: np.ndarray) -> Iterable[np.ndarray]:
    """Rows whose moment, to the microsecond, is later than the row before."""
    last = -np.inf
    for row, time in zip(rows, times, strict=True):
        if round(float(time), 6) > last:
            last = round(float(time), 6)
            yield row


def _moment(zero: datetime.datetime, seconds: float = 0.0) -> str:
    return (zero + datetime.timedelta(seconds=round(seconds, 6))).strftime("%Y-%m-%dT%H:%M:%S.%f")


def _ascii(text: str) -> str:
    return text.encode("ascii", "replace").decode()
