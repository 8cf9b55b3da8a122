"""A concept flown up, and every stage it lets go flown down."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.record.closed import Closed
from wetmass.record.homecoming import Homecoming


@dataclass(frozen=True, slots=True)
class Kept:
    """The propellant a stage keeps to come home with."""

    stage: str
    kept: float  # kg
    found: bool  # left open in the file and found here; else as stated
    met: bool  # what is kept is what the way home needs (true where it was stated)
    rounds: int = 0  # flights up and home that were taken
    reason: str = ""  # why it was not met


@dataclass(frozen=True, slots=True)
class Brought:
    """The concept with its reserves in it, and what becomes of each stage."""

    closed: Closed
    ways: tuple[Homecoming, ...]  # in the order in which the stages are let go
    kept: tuple[Kept, ...]
    expended_payload: float | None  # kg it carries when nothing is kept to come home; None: it does not close
    not_flown: tuple[str, ...] = ()  # stages whose way down is not computed, with the reason

    @property
    def price(self) -> float | None:
        """Payload given up for coming home [kg]."""
        return None if self.expended_payload is None else self.expended_payload - self.closed.payload

    def __repr__(self) -> str:
        return f"<Brought {self.closed.name}: {', '.join(map(repr, self.ways)) or 'nothing is let go'}>"
