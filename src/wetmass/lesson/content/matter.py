"""All that the sections are made from, and what several of them say."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wetmass.lesson.content.facts import Facts
from wetmass.lesson.content.order import Order
from wetmass.lesson.drawing import from_volumes
from wetmass.lesson.words import said
from wetmass.record.closed import Closed
from wetmass.record.geometry import Geometry

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

THOUSANDS = re.compile(r"(\d+(?:\u2009\d{3})+(?:\.\d+)?)")  # a number within which no line may end


@dataclass(frozen=True, slots=True)
class Matter:
    """All that the sections are made from."""

    concept: Concept
    closed: Closed
    order: Order
    facts: Facts
    geometry: Geometry
    laid_out: bool  # else the geometry is drawn from volumes

    @classmethod
    def of(cls, concept: Concept, closed: Closed) -> Matter:
        """From a closed concept."""
        order = Order(closed.steps)
        laid_out = closed.geometry is not None and bool(closed.geometry.stages)
        geometry = closed.geometry if laid_out and closed.geometry else from_volumes(closed.vehicle)
        return cls(concept, closed, order, Facts(closed, order), geometry, laid_out)

    def drawn(self, *sentences: str) -> str:
        """A caption, saying so where nothing was laid out."""
        return "  ".join((*sentences, *(() if self.laid_out else (said("page/volumes"),))))


def heading(words: str) -> str:
    """Begins with a capital."""
    return words[:1].upper() + words[1:]
