"""Things to hand out, made in a process of their own: it tells how far it is, and can be ended at any time.

Everything is written beside the concept file, in the one folder that is open: in a folder of its own first, and
moved to its place once it is whole.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.record.closed import Closed

Say = Callable[[dict[str, Any]], None]
KINDS = {  # what can be made: ending of its file, words
    "page": ("-lesson.html", "the lesson as a page"),
    "paper": ("-lesson.pdf", "the lesson on paper"),
    "frames": ("-frames", "frames for a screen"),
    "film": ("-flight.mp4", "a film of the flight, up and home"),
    "workbook": (".xlsx", "a workbook with living formulas"),
    "flight": ("-flight.csv", "the flight as a table"),
    "working": ("-working.md", "the working as a script to check"),
}


class Maker:
    """Makes one thing, then is ended."""

    def warm_up(self) -> None:
        """Nothing: what is needed depends on what is asked for."""

    def make(self, job: dict[str, Any], say: Say) -> None:
        """Close, fly, bring home, and write what is asked for into the folder."""
        from wetmass.closing import bring_home
        from wetmass.concept.reading import loads
        from wetmass.findings import judge

        def told(words: str) -> None:
            say({"stage": "making", "words": words, "share": None})

        concept = loads(job["text"], job["file"])
        told("closing and flying")
        closed = judge(concept, bring_home(concept, told=told))
        target = Path(job["folder"]) / f"{stem(job['file'])}{KINDS[job['what']][0]}"
        if target.is_symlink():
            raise Refusal(
                Complaint("make", f'"{target.name}", a link', "a plain file or nothing there", "move it away")
            )
        say({"stage": "making", "words": f"making {KINDS[job['what']][1]}", "share": None})
        scratch = Path(job["scratch"])
        scratch.mkdir(mode=0o700)
        beside = scratch / target.name
        try:
            _WRITERS[job["what"]](beside, concept, closed, job["file"], say)
            if target.is_dir():  # frames of last time
                target.rename(scratch / "before")
            beside.replace(target)
        except OSError as error:
            got = f'"{target.name}", which cannot be written ({error.strerror})'
            raise Refusal(
                Complaint("make", got, "a folder that can be written", "look at its rights")
            ) from None
        finally:
            shutil.rmtree(scratch, ignore_errors=True)
        say({"stage": "made", "files": [target.name], "words": f"Written: {target.name}"})


def stem(file: str) -> str:
    """What is made of a file is called by its name.

    >>> stem("dunlin.yaml"), stem("Snow Bunting.yml")
    ('dunlin', 'snow-bunting')
    """
    return re.sub(r"[^\w.]+", "-", Path(file).stem.casefold()).strip("-.") or "concept"


def _page(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> None:
    import wetmass
    from wetmass.lesson import as_html

    made = as_html(concept, closed, file=file, version=wetmass.__version__)
    target.write_text(made, encoding="utf-8", newline="")


def _paper(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> None:
    import wetmass
    from wetmass.lesson import as_pdf

    target.write_bytes(as_pdf(concept, closed, file=file, version=wetmass.__version__))


def _frames(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> None:
    from wetmass.lesson.content import lesson_of
    from wetmass.lesson.frames import frames_of, pngs

    lesson = lesson_of(concept, closed)
    frames = frames_of(lesson, ())
    target.mkdir()
    for number, frame in enumerate(frames, 1):
        say({"stage": "making", "words": f"frame {number} of {len(frames)}", "share": number / len(frames)})
        (target / f"{frame.stem}.png").write_bytes(pngs(lesson, [frame])[0])


def _table(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> None:
    from wetmass.lesson.tables import write

    try:
        write(target, concept, closed)
    except ValueError as error:
        raise _not_flown("table", target, error) from None


def _working(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> None:
    from wetmass.working.writer import write

    target.write_text(write(closed.steps, f"{closed.name}: the working"), encoding="utf-8", newline="")


def _film(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> None:
    from wetmass.lesson.film import NoEncoder, film

    def told(done: int, whole: int) -> None:
        say({"stage": "making", "words": f"picture {done} of {whole}", "share": done / whole})

    try:
        film(closed, target, told=told)
    except NoEncoder as error:
        raise Refusal(
            Complaint("film", "no encoder", "ffmpeg, or the extra that brings it", str(error))
        ) from None
    except ValueError as error:
        raise _not_flown("film", target, error) from None


def _not_flown(field: str, target: Path, error: ValueError) -> Refusal:
    return Refusal(
        Complaint(field, target.name, "a concept that was flown", f"make it close first ({error})")
    )


_WRITERS: dict[str, Callable[[Path, Concept, Closed, str, Say], None]] = {
    "page": _page, "paper": _paper, "frames": _frames, "workbook": _table, "flight": _table, "film": _film, "working": _working,
}  # fmt: skip
