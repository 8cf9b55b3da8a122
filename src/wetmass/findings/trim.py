"""Does the thrust line pass through the centre of mass, within the swing of the engines?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said
from wetmass.vehicle.geometry.balance import EVEN, Trim, trims

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def gimbal(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """The greatest swing that a lopsided stage, or one with engines out, asks of its engines."""
    if closed.geometry is None or closed.geometry.stages == () or not closed.closes:
        return
    every = trims(concept, closed.vehicle, closed.geometry)
    for stage in closed.vehicle.stages:
        mine = [trim for trim in every if trim.stage == stage.name]
        as_said = [trim for trim in mine if not trim.supposed_failure and not _even(trim)]
        if as_said:
            yield _told(concept, max(as_said, key=_swing))
        supposed = [trim for trim in mine if trim.supposed_failure and not _even(trim)]
        if supposed:
            yield _told(concept, max(supposed, key=_swing))


def _swing(trim: Trim) -> float:
    return float("inf") if trim.swing is None else abs(trim.swing)


def _even(trim: Trim) -> bool:
    return _swing(trim) <= EVEN


def _told(concept: Concept, trim: Trim) -> Finding:
    stated = next(stage for stage in concept.stages if stage.name == trim.stage).engine_layout.gimbal
    most = stated.value if stated is not None else ranges.GIMBAL.high
    swing = _swing(trim)
    off = f"thrust line {said(trim.offset, 'm', 2)} off the centre of mass {trim.when}"
    if trim.swing is None:
        got = f"{off}, more than the engines that swing can balance"
    else:
        got = f"{said(swing, 'rad', 2)} of swing for a {off}"
    within = swing <= most
    if not within:
        remedy = "It cannot be held straight: stand engines or tanks more evenly, or throttle those opposite."
    elif stated is not None:
        remedy = f"It leaves {said(most - swing, 'rad', 2)} for steering."
    else:
        remedy = "Say “engine layout: {gimbal: 6 deg}” and room is kept for it."
    supposed = trim.supposed_failure
    return Finding(
        "engines out and their swing" if supposed or trim.stated_failure else "swing of the engines",
        Weight.NOTE if within or supposed else Weight.DOUBT, trim.stage, got,
        f"at most {said(most, 'rad', 2)}" + (", the gimbal stated" if stated is not None else ""),
        remedy, "balance of moments, exact, with dry masses evenly along each stage"
        + ("" if stated is not None else f"; {ranges.GIMBAL.source}"),
    )  # fmt: skip
