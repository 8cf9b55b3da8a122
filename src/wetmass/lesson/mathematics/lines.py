"""One step of the working in three lines: letters, numbers put in, result."""

from __future__ import annotations

from dataclasses import dataclass

from wetmass.lesson.mathematics.mathml import MathML
from wetmass.lesson.mathematics.numbers import FIGURES
from wetmass.lesson.mathematics.writer import Writer
from wetmass.record.expression import Expression, Operation, symbols
from wetmass.record.step import Step
from wetmass.record.tidy import GRAVITY, size, tidy

MOST_IN_LETTERS = 90  # parts of a formula that still reads well
MOST_IN_NUMBERS = 28  # with a number and unit for every letter it grows wide sooner
MOST_NUMBERS = 7


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of a step, written by one writer; empty for a line that is left out."""

    symbol: str
    letters: tuple[str, ...]  # a piece for each term of a sum
    numbers: tuple[str, ...]
    result: str
    gravity: bool  # g₀ stands in it

    @classmethod
    def of(cls, step: Step, writer: type[Writer] = MathML, figures: int = FIGURES) -> Lines:
        """Written from the step's tree.  A formula too long to read is left out, its inputs are not."""
        plain = writer(figures=figures)
        symbol = plain.letter(step.symbol)
        result = plain.quantity(step.result, step.unit)
        if step.formula is None:
            return cls(symbol, (), (), result, False)
        tree = tidy(step.formula)
        values = {put.symbol: (put.value, put.unit) for put in step.inputs}
        put_in = writer(values, figures)
        short = size(tree) <= MOST_IN_NUMBERS and len(symbols(tree)) <= MOST_NUMBERS
        return cls(
            symbol,
            plain.chunks(tree) if size(tree) <= MOST_IN_LETTERS else (),
            put_in.chunks(tree) if short else (),
            result,
            _holds(tree),
        )


def _holds(node: Expression) -> bool:
    if isinstance(node, Operation):
        return any(_holds(part) for part in node.parts)
    return node == GRAVITY
