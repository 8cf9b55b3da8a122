"""The whole page, section by section."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.cli.layout.answers import found, held
from wetmass.cli.layout.budget import budget
from wetmass.cli.layout.by_hand import by_hand
from wetmass.cli.layout.findings import findings
from wetmass.cli.layout.geometry import geometry
from wetmass.cli.layout.home import home_section
from wetmass.cli.layout.margin import margin
from wetmass.cli.layout.masses import masses
from wetmass.cli.layout.sheet import QUIET, Sheet
from wetmass.cli.layout.timeline import timeline
from wetmass.cli.layout.verdict import sentence, verdict
from wetmass.record.closed import Closed
from wetmass.record.digits import fixed, readable

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def page(concept: Concept, closed: Closed, width: int) -> Sheet:
    """The result of a concept as a page of text, at most `width` characters wide."""
    sheet = Sheet(width)
    verdict(sheet, concept, closed)
    found(sheet, concept, closed)
    held(sheet, concept, closed)
    masses(sheet, concept, closed)
    geometry(sheet, concept, closed)
    timeline(sheet, concept, closed)
    budget(sheet, concept, closed)
    by_hand(sheet, concept, closed)
    margin(sheet, concept, closed)
    home_section(sheet, concept, closed)
    findings(sheet, closed)
    _colophon(sheet, closed)
    return sheet


def verdict_line(concept: Concept, closed: Closed) -> str:
    """The verdict alone."""
    return sentence(concept, closed)


def _colophon(sheet: Sheet, closed: Closed) -> None:
    if closed.flights:
        flights = readable(float(closed.flights), 6)
        sheet.line()
        sheet.paragraph(f"{flights} flights in {fixed(closed.seconds, 1)}\u00a0s.", QUIET, indent=0)
