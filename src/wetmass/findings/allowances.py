"""Is enough set aside for a day that is not average?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.findings import ranges
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight
from wetmass.record.say import said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept


def reserve(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Performance reserve as a share of the ideal speed."""
    if closed.flight is None or not closed.flight.losses.ideal > 0.0:
        return
    stated = concept.performance_reserve
    share = (stated.value if stated is not None else 0.0) / closed.flight.losses.ideal
    accepted = ranges.RESERVE
    if share in accepted:
        return
    least = said(accepted.low * closed.flight.losses.ideal, "m/s", 2)
    if share < accepted.low:
        remedy = f"Without it half of all flights fall short; give at least {least}."
    else:
        remedy = "More than usual: payload is left on the ground for it."
    got = f"{stated}, {said(share, '%', 2)} of the ideal speed" if stated is not None else "none"
    yield Finding("performance reserve", Weight.NOTE, "", got, str(accepted), remedy, accepted.source)


def residuals(concept: Concept, closed: Closed) -> Iterator[Finding]:
    """Propellant that cannot be used, as a share of the load of liquid stages."""
    accepted = ranges.RESIDUALS
    for stage in closed.vehicle.stages:
        load = stage.propellant.load
        if stage.propellant.pair == "solid" or not load > 0.0:
            continue
        share = stage.propellant.residuals / load
        if share in accepted:
            continue
        if share < accepted.low:
            remedy = "No tank is drained to the last drop: state residuals."
        else:
            remedy = "More than usual: check whether start or shut-down losses are meant."
        yield Finding(
            "residuals", Weight.NOTE, stage.name, said(share, "%", 2), str(accepted), remedy, accepted.source
        )
