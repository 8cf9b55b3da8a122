"""`wetmass check` and `wetmass working`: a hand working read, and our own written."""

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
    from collections.abc import Callable

    from wetmass.record.closed import Closed
    from wetmass.record.working import CheckedWorking

CLEAN, SOMETHING_OFF, STOPPED = 0, 1, 130


def check(script: str, *, concept: str | None = None, as_json: bool = False, out: str | None = None) -> int:
    """Check a working; returns the exit status."""

    def work() -> int:
        page = _checked(script, concept)
        if out is not None:
            from wetmass.working.notes import annotated

            save("--annotated", out, annotated(page))
        if as_json:
            from wetmass.working.notes import as_json as written

            sys.stdout.write(written(page) + "\n")
        else:
            from wetmass.cli.layout.checked import checked_page

            console = screen()
            checked_page(page, console.width).show(console)
        sys.stdout.flush()
        return CLEAN if page.clean else SOMETHING_OFF

    return guarded(work, [script, *([concept] if concept else [])])


def working(concept: str, *, out: str | None = None) -> int:
    """Write the steps of a concept's sizing as a script; returns the exit status."""

    def work() -> int:
        from wetmass.working.writer import write

        closed = _closed(concept)
        text = write(closed.steps, f"{closed.name}: the working")
        if out is None:
            sys.stdout.write(text)
            sys.stdout.flush()
        else:
            save("--out", out, text)
        return CLEAN if closed.closes else SOMETHING_OFF

    return guarded(work, [concept])


def _checked(script: str, concept: str | None) -> CheckedWorking:
    from wetmass.working import check as judged

    text = _text(script)
    model = None
    if concept is not None:
        from wetmass.working.from_closed import quantities

        model = quantities(_closed(concept))
    return judged(text, script, model=model)


def _closed(concept: str) -> Closed:
    import wetmass

    with Progress(errors(), silent=False) as progress:
        read = wetmass.load(concept)
        progress.says("getting ready")
        import wetmass.closing

        progress.compiling()
        return wetmass.fly(read, told=progress.says)


def _text(script: str) -> str:
    from wetmass.working.page import LONGEST_PAGE

    most = 4 * LONGEST_PAGE  # bytes; a pipe or a device may have no end
    try:
        with Path(script).open("rb") as file:
            data = file.read(most + 1)
        if len(data) <= most:
            return data.decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")
        got, todo = f'"{script}", which has more than {most} bytes', "split the working into several files"
    except OSError as error:
        got = f'"{script}", which cannot be read ({error.strerror})'
        todo = "check the name and the folder"
    except UnicodeDecodeError:
        got, todo = f'"{script}", which is no text in UTF-8', "save it as UTF-8"
    raise Refusal(Complaint("SCRIPT", got, "a text or Markdown file with lines of working", todo))


def save(field: str, name: str, text: str) -> None:
    try:
        Path(name).write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise Refusal(
            Complaint(
                field,
                f'"{name}", which cannot be written ({error.strerror})',
                "a file in a folder that is there",
                "check the folder and its permissions",
            )
        ) from None


def guarded(work: Callable[[], int], inputs: list[str]) -> int:
    try:
        return work()
    except Refusal as refusal:
        refused(errors(), refusal)
        return REFUSED
    except BrokenPipeError:  # whoever reads us has read enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CLEAN
    except KeyboardInterrupt:
        errors().print("Stopped.")
        return STOPPED
    except Exception as error:
        defect(errors(), error, inputs)
        return DEFECT
