"""Where such a thing could hurt someone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def stage_falls(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Every stage but the last comes down somewhere."""
    if closed.flight is None:
        return
    strapped = [
        f"{strap.stage.name} {said(event.downrange, 'm', 3)} out and {said(event.height, 'm', 3)} up"
        for strap in closed.vehicle.strap_ons
        for event in closed.flight.events
        if event.what.startswith(strap.stage.name) and "let go" in event.what
    ]
    if len(closed.flight.stages) < 2 and not strapped:
        return
    ways = closed.home.ways if closed.home is not None else ()
    core = [
        f"{share.name} {said(share.burnout_downrange, 'm', 3)} out and "
        f"{said(share.burnout_height, 'm', 3)} up"
        for share in closed.flight.stages[:-1]
    ]
    fallen = "; ".join([*strapped, *core])
    down = "; ".join(f"{home.stage} {said(home.down.distance, 'm', 3)} out" for home in ways)
    yield Finding(
        "stages that fall", Weight.CAUTION, "", f"stages let go: {fallen}", "",
        f"{f'Coming down: {down}.' if down else 'Each flies on from there and comes down far beyond.'} Which "
        "sea and air are cleared for it, the launch range decides; who lives and sails below, look up yourself.",
        "common practice",
    )  # fmt: skip


def study(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """What this result is, and whose word counts."""
    yield Finding(
        "concept study", Weight.CAUTION, "", "this is a concept study", "",
        "It is nothing to build, load or launch from: propellants and flight belong to licensed "
        "practice, under the "
        "rules of the launch range and local law.",
        "common practice",
    )  # fmt: skip
