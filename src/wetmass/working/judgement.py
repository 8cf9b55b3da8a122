"""The judgement of one line, step by step."""

from __future__ import annotations

import contextlib

from wetmass.record.working import Verdict
from wetmass.working.arithmetic import Arithmetic
from wetmass.working.behind import Behind
from wetmass.working.faults import Faults
from wetmass.working.neighbours import Neighbours
from wetmass.working.tree import Unfit


class Judged(Arithmetic, Faults, Behind, Neighbours):
    """The judgement of one line, step by step."""

    def judge(self) -> None:
        sides = self.evaluated()
        self.grams(sides)
        self.restated()
        if sides:
            self.arithmetic(sides)
        rounded = self.verdict is Verdict.APPROXIMATION and [slip.kind for slip in self.slips] == ["S44"]
        if self.verdict in (Verdict.RIGHT, Verdict.APPROXIMATION) and (not self.slips or rounded):
            kept, self.slips = (self.slips, self.sentence, self.recomputed), ()
            with contextlib.suppress(Unfit, ArithmeticError):  # what cannot be worked out says nothing
                self.behind()
            if not self.slips and rounded:
                self.slips, self.sentence, self.recomputed = kept
        if self.verdict is Verdict.RIGHT and not self.slips:
            self.range()
        self.model()
