"""Does the flight keep the accuracy this program holds itself to?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.record.closed import Closed
from wetmass.record.digits import readable
from wetmass.record.finding import Finding, Weight

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_OURS = "what this program holds itself to"
_REPORT = "The numbers may still serve, with less trust; please report it, with the file."


def not_reached(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The loss budget as an identity, and the end of the flight against far smaller steps."""
    if closed.flight is None:
        return
    for rule, got, least in (
        ("losses that do not add up", abs(closed.flight.losses.gap), ranges.IDENTITY),
        ("accuracy of the flight", abs(closed.flight.accuracy), ranges.INTEGRATION),
    ):
        if not got <= least:
            yield Finding(
                rule,
                Weight.DOUBT,
                "",
                f"{readable(got, 2)} relative",
                f"at most {readable(least, 2)}",
                _REPORT,
                _OURS,
            )
