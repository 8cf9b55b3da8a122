"""A checked working: what every line said, what it should say, and the slip between the two."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from wetmass.record.refusal import Place


class Verdict(StrEnum):
    """How a line of working stands."""

    RIGHT = "right"  # the numbers agree at the precision they are stated to
    APPROXIMATION = "approximation"  # sound, and costs a stated fraction of a percent or so
    OFF = "off"  # the number does not follow, or the relation is not the right one
    UNCLEAR = "unclear"  # could not be read, or not enough is known to check it


@dataclass(frozen=True, slots=True)
class Slip:
    """One way the line may have gone wrong, found by re-running the line with the slip put in."""

    kind: str  # fixed short code, such as "S03"
    name: str  # what people call it, such as "common logarithm for natural"
    sentence: str  # one kind and exact sentence
    value: float  # what the line gives with the slip put in, SI
    right: float  # what the line gives without it, SI
    digits: float  # significant digits in which `value` agrees with the stated number
    weight: float  # how likely, between 0 and 1; the slips of one line are listed heaviest first
    same_as: tuple[str, ...] = ()  # kinds that no arithmetic can tell from this one on this line


@dataclass(frozen=True, slots=True)
class Effect:
    """A later result that moves when a faulty line is put right."""

    line: int  # counts from 1
    name: str
    before: str  # as stated, with its unit
    after: str  # with the correction carried down the page
    change: float  # after / before − 1
    final: bool  # nothing later on the page uses it


@dataclass(frozen=True, slots=True)
class CheckedLine:
    """One line of working and what became of it."""

    place: Place
    text: str  # as written
    name: str  # what the line states, "" where it could not be read
    verdict: Verdict
    sentence: str  # one sentence for the reader; "" where a right line needs none
    stated: float | None = None  # SI
    recomputed: float | None = None  # SI
    unit: str = ""  # the unit the line states its result in
    stated_text: str = ""
    recomputed_text: str = ""
    off_by: float | None = None  # stated / recomputed − 1
    slips: tuple[Slip, ...] = ()
    effects: tuple[Effect, ...] = ()
    relation: str = ""  # name of the relation recognised, "" where none was
    source: str = ""  # source of that relation, or of the range the line was held against
    notes: tuple[str, ...] = ()

    @property
    def likely(self) -> Slip | None:
        """The most likely slip, None where none was found."""
        return self.slips[0] if self.slips else None


@dataclass(frozen=True, slots=True)
class CheckedWorking:
    """A whole page after checking."""

    name: str
    text: str
    lines: tuple[CheckedLine, ...]
    finals: tuple[Effect, ...] = ()  # results nothing later uses, with every correction carried down

    def having(self, verdict: Verdict) -> tuple[CheckedLine, ...]:
        """The lines with this verdict, in the order of the page."""
        return tuple(line for line in self.lines if line.verdict is verdict)

    @property
    def clean(self) -> bool:
        """True where no line is off and none is unclear."""
        return not self.having(Verdict.OFF) and not self.having(Verdict.UNCLEAR)
