"""Whole numbers that are open, such as engine counts: which are tried, and when the search may end."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

Answer = TypeVar("Answer")
Numbers = tuple[int, ...]

FEW = 12  # combinations: so many are all tried


def best_numbers(
    start: Numbers,
    low: Sequence[int],
    high: Sequence[int],
    solve: Callable[[Numbers, Answer | None], Answer],
    met: Callable[[Answer], bool],
    better: Callable[[Answer, Answer], bool],
) -> tuple[Numbers, Answer]:
    """The best numbers between `low` and `high`, and their answer.

    solve   the answer to numbers, from the best answer so far where that is met
    met     whether an answer closes at all;  better  whether the first is better than the second

    A few combinations are all tried.  Else the search goes on while one more or fewer, two more or fewer, or one
    of a kind for one of another is better; so it ends where none of these helps, whatever the order.  From numbers
    that do not close it looks further and further away, and goes on from the nearest that do.
    """
    tried: dict[Numbers, Answer] = {}
    here = start

    def ask(numbers: Numbers) -> Answer:
        if numbers not in tried:
            beside = tried.get(here)
            tried[numbers] = solve(numbers, beside if beside is not None and met(beside) else None)
        return tried[numbers]

    ask(here)
    spans = [range(least, most + 1) for least, most in zip(low, high, strict=True)]
    if math.prod(len(span) for span in spans) <= FEW:
        for numbers in sorted(itertools.product(*spans), key=lambda one: math.dist(one, start)):
            if better(ask(numbers), ask(here)):
                here = numbers
        return here, tried[here]
    if not met(ask(here)):
        found = next((n for n in _outward(start, low, high) if met(ask(n))), None)
        here = found if found is not None else here
    moved = True
    while moved:
        moved = False
        for move in _moves(len(start)):
            while (there := _moved(here, move, low, high)) is not None and better(ask(there), ask(here)):
                here, moved = there, True
    return here, tried[here]


def _moves(kinds: int) -> Iterator[Numbers]:
    """One more, one fewer, two more, two fewer of each kind, then one of a kind for one of another."""
    for step in (1, -1, 2, -2):
        for kind in range(kinds):
            yield tuple(step if i == kind else 0 for i in range(kinds))
    for one, other in itertools.permutations(range(kinds), 2):
        yield tuple(1 if i == one else -1 if i == other else 0 for i in range(kinds))


def _moved(here: Numbers, move: Numbers, low: Sequence[int], high: Sequence[int]) -> Numbers | None:
    there = tuple(n + step for n, step in zip(here, move, strict=True))
    inside = all(least <= n <= most for n, least, most in zip(there, low, high, strict=True))
    return there if inside else None


def _outward(start: Numbers, low: Sequence[int], high: Sequence[int]) -> Iterator[Numbers]:
    """Numbers further and further from the start: more of all, more of each, fewer of all, fewer of each."""
    kinds = len(start)
    seen = {start}
    for size in (1, 2, 4, 8, 16, 32):
        for sign in (1, -1):
            moves = [
                (sign * size,) * kinds,
                *(tuple(sign * size * (i == k) for i in range(kinds)) for k in range(kinds)),
            ]
            for move in moves:
                there = tuple(
                    min(max(n + step, least), most)
                    for n, step, least, most in zip(start, move, low, high, strict=True)
                )
                if there not in seen:
                    seen.add(there)
                    yield there
