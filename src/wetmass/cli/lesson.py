"""`wetmass lesson`: read, close, fly, and write the lesson as one page that needs no network."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from wetmass.cli.checking import guarded
from wetmass.cli.flying import CLOSES, DOES_NOT_CLOSE, answer
from wetmass.cli.screen import screen
from wetmass.record.refusal import Complaint, Refusal

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.record.closed import Closed


def lesson(file: str, *, out: str = ".") -> int:
    """Write the lesson of a concept; returns the exit status."""

    def work() -> int:
        concept, closed = answer(file, quiet=False)
        written(file, concept, closed, out)
        return CLOSES if closed.closes else DOES_NOT_CLOSE

    return guarded(work, [file])


def written(file: str, concept: Concept, closed: Closed, out: str) -> Path:
    """Write the page of `file` into the folder `out`, and say where it is.  Raises Refusal."""
    import wetmass
    from wetmass.lesson import as_html

    text = as_html(concept, closed, file=Path(file).name, version=wetmass.__version__)
    target = Path(out) / f"{stem(file, closed.name)}-lesson.html"
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise Refusal(
            Complaint(
                "--out", f'"{out}", in which nothing can be written ({error.strerror})',
                "a folder, which is made if it is not there",
                'check its name and its permissions, or leave out "--out" for the folder you are in',
            )
        ) from None  # fmt: skip
    screen().print(str(target), soft_wrap=True, highlight=False)
    return target


def stem(file: str, name: str) -> str:
    """What the page is called by: the concept's file, or its name where it was read from elsewhere.

    >>> stem("examples/dunlin.yaml", "Dunlin"), stem("-", "Snow Bunting")
    ('dunlin', 'snow-bunting')
    """
    plain = Path(file).stem if file != "-" else name
    return re.sub(r"[^\w.]+", "-", plain.casefold()).strip("-") or "concept"
