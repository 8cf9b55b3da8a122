"""Numbers that sentences speak of, each leading to the step or table it comes from."""

from __future__ import annotations

from wetmass.lesson.content.inline import Link, Span
from wetmass.lesson.content.order import Order
from wetmass.record.closed import Closed
from wetmass.record.say import said


class Facts:
    """Numbers by name; those of one stage when `stage` is named."""

    def __init__(self, closed: Closed, order: Order) -> None:
        self.closed, self.order = closed, order

    def number(self, value: float, unit: str, otherwise: str = "", figures: int = 4) -> Span:
        """A number that leads to the step that made it, else to the anchor `otherwise`."""
        made = self.order.made(value, unit)
        anchor = made.anchor if made else otherwise
        words = said(value, unit, figures)
        return Link(anchor, words) if anchor else words

    def of(self, stage: str = "") -> dict[str, Span]:
        """Those there are."""
        vehicle, flight = self.closed.vehicle, self.closed.flight
        found: dict[str, Span] = {
            "name": self.closed.name,
            "payload": self.number(self.closed.payload, "kg", "mass-table"),
            "lift_off_mass": self.number(vehicle.lift_off_mass, "kg", "mass-table"),
        }
        if flight is None:
            return found
        loss = flight.losses
        flown = next((p.anchor for p in self.order.placed if p.step.symbol == "v_air"), "budget")
        found |= {
            "ideal": self.number(loss.ideal, "m/s", flown),
            "lost": Link(flown, said(loss.ideal - loss.air_speed_gained, "m/s")),
            "gravity": Link(flown, said(loss.gravity, "m/s")),
        }
        for share in flight.stages:
            if share.name == stage:
                found["burn_flown"] = Link("events", said(share.burn_time, "s"))
                found["burnout_speed"] = Link("events", said(share.burnout_air_speed, "m/s"))
        return found
