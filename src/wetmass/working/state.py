"""The state of one line under judgement, shared by the parts of the judgement."""

from __future__ import annotations

import re
from functools import cached_property
from typing import TYPE_CHECKING

from wetmass.record.digits import readable
from wetmass.record.working import Slip, Verdict
from wetmass.working.amounts import (
    figures_of,
    half_of,
)
from wetmass.working.kinds_of_quantity import behind, told
from wetmass.working.labels import with_kind
from wetmass.working.names import tags
from wetmass.working.relations import Bound, suits
from wetmass.working.sides import Part
from wetmass.working.slips.edits import Context
from wetmass.working.slips.finder import Found, Target
from wetmass.working.statement import Statement
from wetmass.working.tree import (
    Leaf,
    Meaning,
    Node,
    Result,
)
from wetmass.working.units import LENGTH, NONE

if TYPE_CHECKING:
    from wetmass.working.verdicts import Checker


Option = tuple[Node, Result, Meaning]  # a side in one of its readings, and what it comes to
Sides = list[tuple[Part, list[Option]]]


class LineState:
    """What is known of one line while it is judged, and how to show its numbers."""

    checker: Checker

    def __init__(self, checker: Checker, statement: Statement, context: Context, claim: Leaf) -> None:
        self.checker, self.statement, self.context, self.claim = checker, statement, context, claim
        self.scope = checker.scope
        self.verdict = Verdict.RIGHT
        self.sentence = ""
        self.recomputed: float | None = None
        self.unrounded = claim.si
        self.slips: tuple[Slip, ...] = ()
        self.relation = self.source = ""
        self.notes: list[str] = []
        self.best: Node | None = None
        self.meaning = Meaning()
        self.forms: list[Bound] = []

    def show(self, value: float | None, stated: bool = False) -> str:
        if value is None:
            return ""
        claim = self.claim
        if stated:
            return claim.text or f"{claim.typed:g}"
        number = (value - claim.shift) / claim.factor
        text = readable(number, max(4, figures_of(claim)))
        unit = claim.unit
        if not unit:
            return text
        return text + (unit if unit in "°%" else " " + unit)

    def words(self, value: float) -> str:
        """As `show`, the stated number as it was written."""
        return self.show(value, stated=value == self.claim.si)

    @cached_property
    def written(self) -> str:
        """The words of the line as it stands on the page, in small letters."""
        return self.statement.raw.text.lower()

    @property
    def ideas(self) -> frozenset[str]:
        """The ideas in the name of the line, its unit considered."""
        found = suits(self.statement.label, NONE if self.claim.bare else self.claim.dimension)
        found = found | self.statement.subject
        if not self.claim.bare and not told(found, self.claim.dimension):
            others = [behind(self.statement.note), *map(tags, reversed(self.statement.pieces))]
            found |= next((o for o in others if told(o, self.claim.dimension)), frozenset())
        if self.claim.dimension == LENGTH and found & {"exit", "throat"} and not found & {"radius", "length"}:
            found = found | {"diameter"}
        if (
            found & _ROUND
            and not found & _SHAPES
            and (
                self.checker.spheres_only
                or (re.search(r"\bits?\b", self.statement.label.lower()) and self.speaks_of_spheres())
            )
        ):
            found = found | {"sphere"}
        return with_kind(found, self.claim)

    def speaks_of_spheres(self) -> bool:
        """Whether the lines above are about a round tank, although this line does not say so."""
        rows = self.checker.low_rows[: self.statement.raw.number]
        near = " ".join(rows[-9:])
        return bool(re.search(r"spher|\bball|bottle|kugel", near)) and not re.search(
            r"cylind|barrel", rows[-1]
        )

    def target(self) -> Target:
        claim = self.claim
        return Target(claim.si, half_of(claim), claim.typed, claim.half, claim.bare)

    def conclude(self, found: list[Found], right: float) -> None:
        """The line is off: the slips and the sentence."""
        raise NotImplementedError

    def by_fit(self) -> bool:
        """Whether the line is a relation of its name with a slip of form in it; sets the slips then."""
        raise NotImplementedError

    def said_so(self) -> frozenset[str]:
        """Kinds that the line itself says it means: an ideal speed, a climb without weight."""
        said: set[str] = set()
        if _IDEAL.search(self.context.words):
            said |= {"S24", "S40", "S51"}
        return frozenset(said)

    def one_end_meant(self, cause: str) -> bool:
        """Whether a slip of both ends is named on a line that speaks of one."""
        if "half sphere is taken" in cause:
            return bool(re.search(r"\bhalf[- ]sphere|\bhemispher|\bdome", self.context.words))
        if "both domes are counted" in cause or "domes are counted twice" in cause:
            return bool(_BOTH_ENDS.search(self.context.words))
        if "one of the two" not in cause and "only one" not in cause:
            return False
        return bool(_ONE_END.search(self.context.words)) and not _BOTH_ENDS.search(self.context.words)


_ROUND = frozenset(["volume", "area", "wall", "radius", "diameter", "stress"])
_SHAPES = frozenset(
    ["cylinder", "ring", "dome", "cone", "exit", "throat", "cross", "sphere", "canopy", "reference"]
)
_ONE_END = re.compile(r"\bhalf[- ]sphere\b|\bhemisphere\b|\b(?:one|a|per|each) (?:dome|end|cap)\b|\beach\b")
_BOTH_ENDS = re.compile(r"\bdomes\b|\bends\b|\bboth\b|\btwo\b|\bhemispheres\b")
_IDEAL = re.compile(
    r"\bideal\b|\brocket equation\b|\bwithout (?:gravity|weight|losses)\b|\bno (?:gravity|losses)\b|"
    r"\bin (?:free )?space\b|\bgravity[- ]free\b|\blevel\b|\bhorizontal"
)
