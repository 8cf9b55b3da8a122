"""Lists of pairs whose first number rises: thrust traces, drag curves, steps of reefing."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.wording import wrong
from wetmass.record.refusal import Complaint, Refusal


def rising_pairs(
    value: Sequence[Any],
    reads: tuple[Reads, Reads],
    *,
    pair: str,
    example: str,
    above: Callable[[float], str],
    remedy: str,
) -> Iterator[tuple[Quantity, Quantity]]:
    """The pairs of a list, each read as it is asked for; the first numbers must rise.

    pair, example  what one is, and how it is written
    above, remedy  what is accepted after a first number (SI), and what to do
    Raises Refusal, its field the number of the pair from 1.
    """
    before: float | None = None
    for number, one in enumerate(value, 1):
        if not isinstance(one, (list, tuple)) or len(one) != 2:
            raise wrong(one, pair, f"write it as in {example}", str(number))
        try:
            first, second = reads[0](one[0], None), reads[1](one[1], None)
        except Refusal as refusal:
            complaint = refusal.complaints[0]
            raise Refusal(
                Complaint(str(number), complaint.got, complaint.accepted, complaint.remedy)
            ) from None
        if before is not None and not first.value > before:
            raise wrong(first, above(before), remedy, str(number))
        before = first.value
        yield first, second
