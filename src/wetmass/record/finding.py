"""A finding: what the result means, what does not hold, and what would help."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from wetmass.record.say import sentence


class Weight(StrEnum):
    """How much a finding matters, heaviest first."""

    FAILS = "fails"  # the concept does not do what was asked
    DOUBT = "doubt"  # outside published ranges, or past what the model was checked on
    NOTE = "note"  # worth knowing
    CAUTION = "caution"  # safety


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding with the five parts of an error message: a design that fails is an answer."""

    rule: str  # short fixed name of the rule, such as "lift-off thrust-to-weight"
    weight: Weight
    part: str  # which part of the vehicle, "" for the whole
    got: str  # the number found, with unit
    accepted: str  # the range or limit it was held against, "" where there is none
    remedy: str  # what would help, in whole sentences
    source: str  # where the range comes from

    def __post_init__(self) -> None:
        object.__setattr__(self, "remedy", sentence(self.remedy))

    def __str__(self) -> str:
        where = f"{self.part}, " if self.part else ""
        against = f"; accepted {self.accepted}" if self.accepted else ""
        return f"{where}{self.rule}: {self.got}{against}. {self.remedy}"
