"""Where the speed went: from the ideal to what was flown, line by line."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wetmass.cli.layout.sheet import LEFT, QUIET, RIGHT, STRONG, Row, Sheet
from wetmass.findings.losses import turned_into_height
from wetmass.record.closed import Closed
from wetmass.record.digits import adding_up, fixed
from wetmass.record.flight import Losses
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept

_CAUSES = (
    ("  lost to gravity", "gravity"),
    ("  lost to drag", "drag"),
    ("  lost to steering", "steering"),
    ("  lost to back-pressure", "back_pressure"),
)


def budget(sheet: Sheet, concept: Concept, closed: Closed) -> None:
    """A column for each stage and one for the whole; down and across, all adds up as printed."""
    if closed.flight is None:
        return
    shares = closed.flight.stages
    per_stage = [adding_up(_exact(share.losses)) for share in shares]
    whole = [math.fsum(numbers) for numbers in zip(*per_stage, strict=True)]
    if not _same(whole, _exact(closed.flight.losses)):
        per_stage, whole = [], adding_up(_exact(closed.flight.losses))
    gained = math.fsum(whole)
    whole.append(round(gained + closed.flight.losses.rotation_gain) - gained)
    names = [share.name for share in shares] if len(per_stage) > 1 else []
    columns = [*(per_stage if names else []), whole]
    sheet.heading("Speed", "in m/s, from the ideal to what is flown")
    rows = [Row(("", *names, "whole"), QUIET)]
    for place, words in enumerate(("ideal gain in vacuum", *(words for words, _ in _CAUSES))):
        rows.append(Row((words, *(fixed(column[place]) for column in columns))))
    sums = [fixed(math.fsum(column[:5])) for column in columns]
    rows.append(Row(("gained over the turning Earth", *sums), STRONG))
    if any(event.what.startswith("in orbit") for event in closed.flight.events):
        rows.append(Row(("  added by the Earth's turning", *[""] * len(names), fixed(whole[5]))))
        rows.append(Row(("speed in orbit", *[""] * len(names), fixed(math.fsum(whole))), STRONG))
    sheet.table((LEFT, *[RIGHT] * len(columns)), rows)
    height = turned_into_height(closed.flight)
    if height > 0.5:
        text = f"Of what is lost to gravity, {said(height, 'm/s', 3)} is turned into height while it coasts."
        sheet.paragraph(text, QUIET)


def _exact(losses: Losses) -> list[float]:
    """Ideal gain, and the losses below zero: the terms of the speed gained over the turning Earth."""
    return [losses.ideal, *(-getattr(losses, name) for _, name in _CAUSES)]


def _same(whole: list[float], exact: list[float]) -> bool:
    """Rounded parts of the stages give the whole: each may be off by its rounding."""
    return all(abs(one - other) <= 3.0 for one, other in zip(whole, exact, strict=True))
