"""What a stage's dry mass is made of: each part by a published relation, and what else was asked."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.record.step import Step
from wetmass.record.vehicle import Origin


@dataclass(frozen=True, slots=True)
class PartMass:
    """One part of a stage; masses are those of all of that part together."""

    part: str
    mass: float  # kg, growth not included
    growth: float  # kg, allowance for growth until it flies
    least: float  # kg, the lightest of the published relations for it
    most: float  # kg, the heaviest
    relation: str  # words of the relation used; "" for a stated mass
    source: str
    origin: Origin
    step: Step | None = None  # its working, for one piece
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Analogy:
    """Dry mass by the structural fraction of a stage that flew."""

    name: str
    mass: float  # kg
    fraction: float
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StageMasses:
    """The dry mass of one stage by each way that there is."""

    stage: str
    used: float  # kg, the dry mass that was flown
    way: str  # "stated", "structural fraction", "by parts" or "like <a stage>"
    parts: tuple[PartMass, ...]
    growth_words: str  # how growth was allowed for, and where that comes from
    analogy: Analogy | None

    @property
    def by_parts(self) -> float:
        """Sum of the parts, growth included [kg]."""
        return sum(part.mass + part.growth for part in self.parts)

    @property
    def least(self) -> float:
        """Sum of the lightest relations, without growth [kg]."""
        return sum(part.least for part in self.parts)

    @property
    def most(self) -> float:
        """Sum of the heaviest relations, growth included [kg]."""
        return sum(part.most + part.growth for part in self.parts)
