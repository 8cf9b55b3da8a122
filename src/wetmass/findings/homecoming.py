"""What coming home means: findings of each way down, and reserves that do not settle."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def of_each_stage(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """What was found as each stage was flown down; cautions are told once for all."""
    for home in closed.home.ways if closed.home is not None else ():
        yield from (finding for finding in home.findings if finding.weight is not Weight.CAUTION)


def not_settled(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """A homecoming propellant that was left open and could not be found."""
    for kept in closed.home.kept if closed.home is not None else ():
        if not kept.met:
            yield Finding(
                "propellant to come home", Weight.FAILS, kept.stage,
                f"{said(kept.kept, 'kg', 4)}, and {kept.reason}", "what the way home needs",
                "Let it come down nearer to where it falls, let it go lower and slower, or state a mass.",
                "flown by this program",
            )  # fmt: skip
