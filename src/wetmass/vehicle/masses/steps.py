"""The working of a dry mass by parts: each part by its relation, growth, and the sum."""

from __future__ import annotations

from wetmass.record.expression import Expression, Symbol
from wetmass.record.parts import StageMasses
from wetmass.record.step import Put, Step


def mass_steps(masses: StageMasses) -> list[Step]:
    """Steps of a dry mass that was added up from its parts; none where it came another way."""
    if masses.way != "by parts":
        return []
    steps = [part.step for part in masses.parts if part.step is not None]
    puts, formula = [], None
    for number, part in enumerate(masses.parts, 1):
        letter = f"m_{number}"
        term: Expression = Symbol(letter)
        formula = term if formula is None else formula + term
        puts.append(Put(letter, part.part, part.mass, "kg"))
    growth = sum(part.growth for part in masses.parts)
    if growth and formula is not None:
        formula = formula + Symbol("m_growth")
        puts.append(Put("m_growth", "allowance for growth", growth, "kg"))
    steps.append(
        Step(
            "m_dry", "dry mass by parts", formula, tuple(puts), sum(put.value for put in puts), "kg",
            "sum of the parts, each by its own relation", masses.stage,
            masses.growth_words and f"Growth: {masses.growth_words}.",
        )
    )  # fmt: skip
    return steps
