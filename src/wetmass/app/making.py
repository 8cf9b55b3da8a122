"""Things to hand out, made in a process of their own: it tells how far it is, and can be ended at any time.

Everything is written beside the concept file, in the one folder that is open.
"""

from __future__ import annotations

import re
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
        written = _WRITERS[job["what"]](target, concept, closed, job["file"], say)
        say({"stage": "made", "files": [path.name for path in written], "words": f"Written: {target.name}"})


def stem(file: str) -> str:
    """What is made of a file is called by its name.

    >>> stem("dunlin.yaml"), stem("Snow Bunting.yml")
    ('dunlin', 'snow-bunting')
    """
    return re.sub(r"[^\w.]+", "-", Path(file).stem.casefold()).strip("-.") or "concept"


def _page(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> list[Path]:
    import wetmass
    from wetmass.lesson import as_html

    return [_put(target, as_html(concept, closed, file=file, version=wetmass.__version__).encode())]


def _paper(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> list[Path]:
    import wetmass
    from wetmass.lesson import as_pdf

    return [_put(target, as_pdf(concept, closed, file=file, version=wetmass.__version__))]


def _frames(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> list[Path]:
    from wetmass.lesson.content import lesson_of
    from wetmass.lesson.frames import frames_of, pngs

    lesson = lesson_of(concept, closed)
    frames = frames_of(lesson, ())
    target.mkdir(exist_ok=True)
    for number, frame in enumerate(frames, 1):
        say({"stage": "making", "words": f"frame {number} of {len(frames)}", "share": number / len(frames)})
        _put(target / f"{frame.stem}.png", pngs(lesson, [frame])[0])
    return [target]


def _table(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> list[Path]:
    from wetmass.lesson.tables import write

    beside = target.with_name(f"part-{target.name}")
    try:
        write(beside, concept, closed)
    except ValueError as error:
        raise Refusal(Complaint("table", target.name, "a concept that was flown", str(error))) from None
    beside.replace(target)
    return [target]


def _working(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> list[Path]:
    from wetmass.working.writer import write

    return [_put(target, write(closed.steps, f"{closed.name}: the working").encode())]


def _film(target: Path, concept: Concept, closed: Closed, file: str, say: Say) -> list[Path]:
    from wetmass.lesson.film import NoEncoder, film

    def told(done: int, whole: int) -> None:
        say({"stage": "making", "words": f"picture {done} of {whole}", "share": done / whole})

    beside = target.with_name(f"part-{target.name}")
    try:
        film(closed, closed.home, beside, told=told)
    except (NoEncoder, ValueError) as error:
        raise Refusal(Complaint("film", target.name, "a flight, and ffmpeg there", str(error))) from None
    beside.replace(target)
    return [target]


def _put(target: Path, data: bytes) -> Path:
    """Written whole or not at all."""
    beside = target.with_name(f"{target.name}.part")
    beside.write_bytes(data)
    beside.replace(target)
    return target


_WRITERS: dict[str, Callable[[Path, Concept, Closed, str, Say], list[Path]]] = {
    "page": _page, "paper": _paper, "frames": _frames, "workbook": _table, "flight": _table, "film": _film, "working": _working,
}  # fmt: skip
