"""`wetmass home`: every stage that is let go is flown down, and what it must keep is found."""

from __future__ import annotations

import sys

from wetmass.cli.checking import guarded
from wetmass.cli.flying import CLOSES, DOES_NOT_CLOSE
from wetmass.cli.progress import Progress
from wetmass.cli.screen import errors, screen
from wetmass.cli.tracks import check, lift_off_of, write


def home(
    file: str, *, tracks: str | None = None, lift_off: str | None = None, as_json: bool = False,
    falls: int = 400, seed: int = 1,
) -> int:  # fmt: skip
    """Do it; returns the exit status."""

    def work() -> int:
        import wetmass

        moment = lift_off_of(lift_off)
        if tracks is not None:
            check(tracks)
        with Progress(errors(), silent=False) as progress:
            concept = wetmass.load(file)
            progress.says("getting ready")
            from wetmass.closing import bring_home

            progress.compiling()
            closed = bring_home(concept, falls=falls, seed=seed, told=progress.says)
        for written in write(closed, tracks, moment) if tracks is not None else ():
            errors().print(f"Wrote {written}", style="dim", soft_wrap=True, highlight=False)
        if as_json:
            from wetmass.cli.exports import json_text
            from wetmass.findings import judge

            sys.stdout.write(json_text(concept, judge(concept, closed)) + "\n")
        else:
            from wetmass.cli.layout.home import home_page

            console = screen()
            home_page(concept, closed, console.width).show(console)
        sys.stdout.flush()
        ways = closed.home.ways if closed.home is not None else ()
        return CLOSES if closed.closes and all(way.comes_home for way in ways) else DOES_NOT_CLOSE

    return guarded(work, [file])
