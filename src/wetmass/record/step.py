"""A step of the working: one number, the formula that made it, what was put in, and the source."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.record.expression import Expression


@dataclass(frozen=True, slots=True)
class Put:
    """One number put into a formula."""

    symbol: str  # the letter in the formula
    words: str  # what it is
    value: float  # SI, unless `unit` says otherwise
    unit: str  # "" for a pure number


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the working.  Made where the number is made; laid out by every presentation."""

    symbol: str  # the letter of the result
    words: str  # what the result is
    formula: Expression | None  # None where the number came from a flight or a table
    inputs: tuple[Put, ...]
    result: float
    unit: str
    source: str  # document and place, "common practice", or "from memory"
    part: str = ""  # which part of the vehicle, such as "first stage"
    remark: str = ""  # one sentence: why the step is taken, or what it leaves out

    def __repr__(self) -> str:
        from wetmass.record.plain import line

        where = f"{self.part}, " if self.part else ""
        return f"<Step {where}{self.words}: {line(self)}>"
