"""The search for whole numbers: against trying them all, over notches, along narrow valleys, from nothing."""

import itertools
import random

import pytest

from wetmass.closing.whole import FEW, best_numbers


def searched(cost, start, low, high, closes=lambda numbers: True):
    asked = []

    def solve(numbers, beside):
        asked.append(numbers)
        assert beside is None or closes(beside)
        return numbers

    def better(one, other):
        if closes(one) != closes(other):
            return closes(one)
        return cost(one) < cost(other)

    found, answer = best_numbers(start, low, high, solve, closes, better)
    assert found == answer
    assert len(asked) == len(set(asked)), "nothing is solved twice"
    return found, asked


def least(cost, low, high):
    spans = [range(a, b + 1) for a, b in zip(low, high, strict=True)]
    return min(itertools.product(*spans), key=cost)


def test_a_few_are_all_tried():
    # the best of a jagged row is found wherever it lies
    cost = {1: 5, 2: 1, 3: 9, 4: 7, 5: 0, 6: 8}
    found, asked = searched(lambda n: cost[n[0]], (2,), (1,), (6,))
    assert found == (5,)
    assert len(asked) == 6 <= FEW


def test_a_notch_of_one_does_not_stop_it():
    # 12 is worse than 11, but 13 to 20 are better: one step at a time would stay at 11
    def cost(n):
        return abs(n[0] - 20) + (30 if n[0] == 12 else 0)

    assert searched(cost, (8,), (1,), (60,))[0] == (20,)


def test_kinds_are_exchanged_along_a_narrow_valley():
    # only the sum must be 14, and the second kind is dear: neither kind alone can move along the valley
    def cost(n):
        return 100 * abs(n[0] + n[1] - 14) + n[1]

    assert searched(cost, (7, 7), (1, 1), (60, 60))[0] == (13, 1)


@pytest.mark.parametrize("start", [(3, 4), (30, 2), (9, 50)])
def test_a_bowl_is_searched_to_its_bottom_from_anywhere(start):
    def cost(n):
        return (n[0] - 17) ** 2 + (n[1] - 5) ** 2 + (n[0] - 17) * (n[1] - 5)

    low, high = (1, 1), (60, 60)
    assert searched(cost, start, low, high)[0] == least(cost, low, high)


def test_where_it_ends_no_neighbour_is_better():
    dice = random.Random(3)
    for _ in range(30):
        table = {n: dice.random() for n in itertools.product(range(1, 9), repeat=2)}
        found, _ = searched(table.__getitem__, (4, 4), (1, 1), (8, 8))
        near = [(found[0] + a, found[1] + b) for a, b in
                ((1, 0), (-1, 0), (2, 0), (-2, 0), (0, 1), (0, -1), (0, 2), (0, -2), (1, -1), (-1, 1))]  # fmt: skip
        assert all(table[found] <= table[n] for n in near if n in table)


def test_from_numbers_that_do_not_close_it_looks_further_away():
    # nothing below 19 closes, and how badly it does not says nothing
    found, _ = searched(lambda n: n[0], (4,), (1,), (60,), closes=lambda n: n[0] >= 19)
    assert found == (19,)


def test_where_nothing_closes_it_ends():
    found, asked = searched(lambda n: 1.0, (4,), (1,), (60,), closes=lambda n: False)
    assert found == (4,)
    assert len(asked) < 20
