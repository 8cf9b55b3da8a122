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
    from wetmass.record.brought import Brought

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
            brought = bring_home(concept, told=progress.says)
        if tracks is not None:
            save("--tracks", tracks, _tracks(brought, Path(tracks).suffix))
        from wetmass.cli.layout.home import home_page

        console = screen()
        home_page(concept, brought, console.width).show(console)
        sys.stdout.flush()
        return CLOSES if brought.closed.closes and all(h.comes_home for h in brought.ways) else DOES_NOT_CLOSE

    return guarded(work, [file])


def _tracks(brought: Brought, kind: str) -> str:
    """Ground tracks of the flight up and of every way down."""
    from wetmass.lesson.tracks import geojson, kml, track_of_flight, track_of_home

    found = [track_of_home(way) for way in brought.ways]
    if brought.closed.flight is not None:
        found.insert(0, track_of_flight(brought.closed.flight))
    return geojson(found) if kind == ".geojson" else kml(found, brought.closed.name)
