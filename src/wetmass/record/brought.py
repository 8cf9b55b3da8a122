"""How every stage that is let go comes down, and what that costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wetmass.record.homecoming import Homecoming, ImpactPoint


@dataclass(frozen=True, slots=True)
class Kept:
    """The propellant a stage keeps to come home with."""

    stage: str
    path: str  # where it stands in the concept, "stages/first/home/propellant"
    kept: float  # kg
    found: bool  # left open in the file and found here; else as stated
    met: bool  # what is kept is what the way home needs (true where it was stated)
    rounds: int = 0  # flights up and home that were taken
    reason: str = ""  # why it was not met


@dataclass(frozen=True, slots=True)
class Brought:
    """What becomes of each stage that is let go, and the price of bringing it home."""

    ways: tuple[Homecoming, ...]  # in the order in which the stages are let go
    kept: tuple[Kept, ...]  # what stages keep to come home with
    payload: float  # kg, the most it carries with that kept
    expended_payload: float | None  # kg, the most it carries when nothing is kept; None: it does not close
    lift_off_mass: float  # kg, with that kept
    expended_lift_off_mass: float | None  # kg, when nothing is kept
    impact_points: tuple[ImpactPoint, ...] = ()  # of the ascent: where it would fall if all stopped then
    not_flown: tuple[str, ...] = ()  # stages whose way down is not computed, with the reason

    @property
    def price(self) -> float | None:
        """Payload given up for coming home [kg]; None where the expended vehicle does not close."""
        return None if self.expended_payload is None else self.expended_payload - self.payload

    @property
    def held(self) -> Mapping[str, float]:
        """What is kept [kg] by path, to close the concept again with it (`closing.close(kept=…)`)."""
        return {one.path: one.kept for one in self.kept if one.found}

    def __repr__(self) -> str:
        return f"<Brought: {', '.join(map(repr, self.ways)) or 'nothing is let go'}>"
