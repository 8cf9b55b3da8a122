"""`wetmass home`: every stage that is let go is flown down, and what it must keep is found."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from wetmass.cli.checking import guarded, save
from wetmass.cli.flying import CLOSES, DOES_NOT_CLOSE
from wetmass.cli.progress import Progress
from wetmass.cli.screen import errors, screen
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.record.closed import Closed

_WRITERS = (".geojson", ".kml")


def home(file: str, *, tracks: str | None = None) -> int:
    """Do it; returns the exit status."""

    def work() -> int:
        import wetmass

        if tracks is not None and Path(tracks).suffix not in _WRITERS:
            raise Refusal(
                Complaint(
                    "--tracks", f'"{tracks}"', f"a file ending in {' or '.join(_WRITERS)}", "name it so"
                )
            )
        with Progress(errors(), silent=False) as progress:
            concept = wetmass.load(file)
            progress.says("getting ready")
            from wetmass.closing.homecoming import bring_home

            progress.compiling()
            closed = bring_home(concept, told=progress.says)
        if tracks is not None:
            save("--tracks", tracks, _tracks(closed, Path(tracks).suffix))
        from wetmass.cli.layout.home import home_page

        console = screen()
        home_page(concept, closed, console.width).show(console)
        sys.stdout.flush()
        ways = closed.home.ways if closed.home is not None else ()
        return CLOSES if closed.closes and all(way.comes_home for way in ways) else DOES_NOT_CLOSE

    return guarded(work, [file])


def _tracks(closed: Closed, kind: str) -> str:
    """Ground tracks of the flight up, of its impact point, and of every way down."""
    from wetmass.lesson.tracks import geojson, kml, tracks_of

    found = tracks_of(closed)
    return geojson(found) if kind == ".geojson" else kml(found, closed.name)
