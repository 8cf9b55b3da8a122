"""Steps of the first example as they were read through; a mark that nothing was lost, not that it is right.

When a step is meant to change, look at the lesson, then write the file anew:
    python tests/lesson/test_golden.py
"""

from pathlib import Path

from lesson.pages import dunlin
from wetmass.lesson.content.order import Order
from wetmass.record.plain import formula

GOLDEN = Path(__file__).parent / "golden-dunlin-steps.txt"


def lines():
    """A line for each step in teaching order: topic, part, words, formula in letters, unit."""
    _, closed = dunlin()
    for placed in Order(closed.steps).placed:
        step = placed.step
        letters = formula(step.formula) if step.formula is not None else "as flown"
        yield f"{placed.kind.topic} | {step.part or '-'} | {step.words} | {step.symbol} = {letters} | {step.unit or '1'}"


def test_steps_are_those_that_were_read_through():
    assert list(lines()) == GOLDEN.read_text(encoding="utf-8").splitlines()


if __name__ == "__main__":
    GOLDEN.write_text("\n".join(lines()) + "\n", encoding="utf-8")
