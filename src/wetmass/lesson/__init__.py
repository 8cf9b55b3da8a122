"""The lesson: what a teacher shows.  Formulas, drawings to scale, charts and a page, from a closed concept.

Nothing is computed here but where things stand on the page; every number comes from a record.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.record.closed import Closed

__all__ = ["as_html"]


def as_html(concept: Concept, closed: Closed, *, file: str = "", version: str = "") -> str:
    """The lesson of a closed concept as one HTML file that needs no network.

    concept  as stated;  closed  the same closed and flown, with its findings
    file     name of the concept's file, for the foot of the page
    version  of the program

    A concept that does not close has a lesson too: how far it came, and why no farther.
    """
    from wetmass.lesson.page.document import page

    return page(concept, closed, file=file, version=version)
