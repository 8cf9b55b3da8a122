"""What the file says that is not computed yet, and what was taken where it says nothing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_OURS = "this program, as it is now"


def place(path: str) -> str:
    """The path of a field in words.

    >>> place("stages/first/dry mass")
    'first, dry mass'
    """
    return path.removeprefix("stages/").replace("/", ", ")


def not_yet(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """One finding for each reason, with every key it holds for."""
    reasons: dict[str, list[str]] = {}
    for path, why in closed.not_yet:
        reasons.setdefault(why, []).append(place(path))
    for why, paths in reasons.items():
        yield Finding(
            "not yet computed", Weight.NOTE, "", "; ".join(paths), "",
            f"{why[:1].upper()}{why[1:]}.", _OURS,
        )  # fmt: skip


def assumed(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Defaults of ours, in one finding."""
    if closed.assumed:
        yield Finding(
            "assumed, since the file says nothing", Weight.NOTE, "", "; ".join(closed.assumed),
            "", "State it in the file to replace it.", _OURS,
        )  # fmt: skip
