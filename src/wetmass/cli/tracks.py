"""Tracks of a flight up and of every way down, written as files in open formats."""

from __future__ import annotations

import datetime
import re
from pathlib import Path
from typing import TYPE_CHECKING

from wetmass.cli.checking import save
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.record.closed import Closed

MAPS = (".geojson", ".kml")
NO_MOMENT = datetime.datetime(2000, 1, 1, 12, tzinfo=datetime.UTC)
_OPTION, _MOMENT = "--tracks", "--lift-off"


def lift_off_of(text: str | None) -> datetime.datetime | None:
    """The moment of lift-off as typed, in UTC where no zone is said.  Raises Refusal.

    >>> lift_off_of("2027-03-20 12:30").isoformat()
    '2027-03-20T12:30:00+00:00'
    """
    if text is None:
        return None
    try:
        moment = datetime.datetime.fromisoformat(text.strip())
    except ValueError:
        accepted = "a day and a time (ISO 8601), UTC where no zone is said"
        raise Refusal(Complaint(_MOMENT, f'"{text}"', accepted, 'write "2027-03-20T12:30Z"')) from None
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=datetime.UTC)


def check(out: str) -> None:
    """Refuse a name that says neither a map nor a folder, before anything is flown."""
    suffix = Path(out).suffix
    if suffix in MAPS or _folder(out):
        return
    remedy = f'write "{Path(out).stem}.geojson", or "{Path(out).stem}/" for all of them'
    accepted = f"a file ending in {' or '.join(MAPS)}, or a folder for maps, ephemerides and tables"
    raise Refusal(Complaint(_OPTION, f'"{out}"', accepted, remedy))


def write(closed: Closed, out: str, lift_off: datetime.datetime | None) -> list[Path]:
    """Write one map, or, into a folder, every format there is; returns what was written.  Raises Refusal."""
    from wetmass.lesson.tracks import geojson, kml, tracks_of

    tracks = tracks_of(closed)
    maps = {".geojson": lambda: geojson(tracks), ".kml": lambda: kml(tracks, closed.name)}
    if not _folder(out):
        save(_OPTION, out, maps[Path(out).suffix]())
        return [Path(out)]
    folder, stem = Path(out), _plain(closed.name)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        got = f'"{out}", which cannot be made ({error.strerror})'
        raise Refusal(Complaint(_OPTION, got, "a folder", "check its name and its permissions")) from None
    texts = {f"{stem}{suffix}": made() for suffix, made in maps.items()} | _each(closed, stem, lift_off)
    for name, text in texts.items():
        save(_OPTION, str(folder / name), text)
    return [folder / name for name in texts]


def _each(closed: Closed, stem: str, lift_off: datetime.datetime | None) -> dict[str, str]:
    """An ephemeris and a table of each trajectory, by file name."""
    from wetmass.lesson.tracks import csv, oem

    found = {} if closed.flight is None else {"ascent": closed.flight.trajectory}
    if closed.home is not None:
        found |= {_plain(way.stage): way.trajectory for way in closed.home.ways}
    comments = ["Concept study only; range safety and licensing decide."]
    if lift_off is None:
        comments.append(f"No moment of lift-off was stated: it is put at {NO_MOMENT:%Y-%m-%d %H:%M} UTC.")
    texts = {}
    for name, trajectory in found.items():
        object_name = f"{closed.name} {name}".encode("ascii", "replace").decode().upper()
        texts[f"{stem}-{name}.oem"] = oem(
            trajectory, object_name, lift_off or NO_MOMENT, comments=comments
        )  # fmt: skip
        texts[f"{stem}-{name}.csv"] = csv(trajectory)
    return texts


def _folder(out: str) -> bool:
    return out.endswith(("/", "\\")) or Path(out).is_dir()


def _plain(name: str) -> str:
    return re.sub(r"[^\w.]+", "-", name.casefold()).strip("-") or "stage"
