"""Steps in teaching order, numbered, and which step a number came from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wetmass.lesson.words import Kind, kind_of, topics
from wetmass.record.step import Put, Step

_SAME = 1e-9  # relative: two numbers that are one


@dataclass(frozen=True, slots=True)
class Placed:
    """One step in its place."""

    number: int
    step: Step
    kind: Kind
    first: bool  # of its kind: the why is told once

    @property
    def anchor(self) -> str:
        """Where it stands on the page."""
        return f"step-{self.number}"


class Order:
    """All steps, topic by topic; within a topic as they were made, part by part."""

    def __init__(self, steps: Sequence[Step]) -> None:
        kinds = [(step, kind_of(step)) for step in steps]
        self.placed: list[Placed] = []
        told: set[str] = set()
        for topic, _, _ in topics():
            for step, kind in kinds:
                if kind.topic == topic:
                    placed = Placed(len(self.placed) + 1, step, kind, kind.pattern not in told)
                    told.add(kind.pattern)
                    self.placed.append(placed)

    def of(self, topic: str) -> list[Placed]:
        """The steps of one topic."""
        return [one for one in self.placed if one.kind.topic == topic]

    def made(self, value: float, unit: str, before: int | None = None) -> Placed | None:
        """The step whose result a number is: the last one before `before`, else the first of all."""
        fits = [one for one in self.placed if one.step.unit == unit and _same(one.step.result, value)]
        earlier = [one for one in fits if before is None or one.number < before]
        later = [one for one in fits if before is not None and one.number > before]
        return earlier[-1] if earlier else later[0] if later else None

    def source_of(self, put: Put, user: Placed) -> Placed | None:
        """The step that made a number put in; None for what was stated or taken from a table."""
        if put.unit == "" or put.value == 0.0:  # a pure number may be the same by chance
            return None
        return self.made(put.value, put.unit, user.number)


def _same(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=_SAME)
