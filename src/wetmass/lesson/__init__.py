"""The lesson: what a teacher shows.  Formulas, drawings to scale, charts, a page, paper, frames and a film.

Nothing is computed here but where things stand; every number comes from a record.  `content.lesson_of` puts
the lesson together once; the page, the paper and the frames lay the same one out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.record.closed import Closed

__all__ = ["as_html", "as_pdf"]


def as_html(concept: Concept, closed: Closed, *, file: str = "", version: str = "") -> str:
    """The lesson of a closed concept as one HTML file that needs no network.

    concept  as stated;  closed  the same closed and flown, with its findings
    file     name of the concept's file, for the foot of the page
    version  of the program

    A concept that does not close has a lesson too: how far it came, and why no farther.
    """
    from wetmass.lesson.content import lesson_of
    from wetmass.lesson.page.document import page

    return page(lesson_of(concept, closed), file=file, version=version)


def as_pdf(concept: Concept, closed: Closed, *, file: str = "", version: str = "") -> bytes:
    """The same lesson on paper: A4, tagged (PDF/UA-1), with an outline; arguments as of `as_html`."""
    from wetmass.lesson.content import lesson_of
    from wetmass.lesson.paper.document import pdf

    return pdf(lesson_of(concept, closed), file=file, version=version)
