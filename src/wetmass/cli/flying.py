"""`wetmass fly`: read, close, fly, print."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from wetmass.cli.progress import Progress
from wetmass.cli.screen import errors, screen
from wetmass.cli.trouble import DEFECT, REFUSED, defect, refused
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.record.closed import Closed

CLOSES, DOES_NOT_CLOSE, STOPPED = 0, 1, 130


def fly(file: str, *, as_json: bool = False, csv: str | None = None, quiet: bool = False) -> int:
    """Do it; returns the exit status."""
    try:
        concept, closed = answer(file, quiet)
        _written(concept, closed, as_json, csv, quiet)
    except Refusal as refusal:
        refused(errors(), refusal)
        return REFUSED
    except BrokenPipeError:  # whoever reads us has read enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # nothing more to flush there
        return CLOSES
    except KeyboardInterrupt:
        errors().print("Stopped.")
        return STOPPED
    except Exception as error:
        defect(errors(), error, [file])
        return DEFECT
    return CLOSES if closed.closes else DOES_NOT_CLOSE


def answer(file: str, quiet: bool) -> tuple[Concept, Closed]:
    """A concept read, closed and flown, with a word on standard error when it takes long."""
    import wetmass

    with Progress(errors(), silent=quiet) as progress:
        concept = wetmass.load(file)
        progress.says("getting ready")
        import wetmass.closing

        progress.compiling()
        return concept, wetmass.fly(concept, told=progress.says)


def _written(concept: Concept, closed: Closed, as_json: bool, csv: str | None, quiet: bool) -> None:
    from wetmass.cli.exports import csv_lines, json_text

    if csv is not None:
        if closed.flight is None:
            errors().print("There is no flight to write as CSV: it does not close.", style="red")
        elif csv == "-":
            sys.stdout.writelines(csv_lines(closed.flight.trajectory))
        else:
            _save(csv, "".join(csv_lines(closed.flight.trajectory)))
    if as_json:
        sys.stdout.write(json_text(concept, closed) + "\n")
    elif csv != "-":
        _page(concept, closed, quiet)
    sys.stdout.flush()


def _page(concept: Concept, closed: Closed, quiet: bool) -> None:
    from wetmass.cli.layout import page, verdict_line

    console = screen()
    if quiet:
        console.print(verdict_line(concept, closed), soft_wrap=True)
    else:
        page(concept, closed, console.width).show(console)


def _save(name: str, text: str) -> None:
    try:
        Path(name).write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise Refusal(
            Complaint(
                "--csv", f'"{name}", which cannot be written ({error.strerror})', "a file in a "
                "folder that is there",
                'check the folder and its permissions, or write "--csv -"',
            )
        ) from None  # fmt: skip
