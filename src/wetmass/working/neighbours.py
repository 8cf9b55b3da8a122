"""A line beside what was said before, published ranges, and the concept."""

from __future__ import annotations

import re

from wetmass.record.working import Slip, Verdict
from wetmass.working.amounts import (
    half_of,
    percent,
)
from wetmass.working.labels import keys_of
from wetmass.working.ranges import REPAIRS, range_for
from wetmass.working.relations import suits
from wetmass.working.scope import Entry
from wetmass.working.slips.finder import digits_agreeing
from wetmass.working.slips.kinds import KINDS
from wetmass.working.state import LineState
from wetmass.working.tree import (
    leaves,
)
from wetmass.working.units import (
    NONE,
)

_OTHER_ENGINES = re.compile(r"(?i)\b(?:nuclear|ntr|reactor|ion|electric|arcjet|hall|solar)\b")
MODEL_AGREES = 0.02  # a hand value within 2 % of the model's is not remarked on


def _exchanged(one: str, other: str) -> bool:
    """Whether two numbers are written with the same digits, two of them exchanged."""
    a, b = (re.sub(r"[^0-9]", "", text.split(" ")[0]) for text in (one, other))
    return (
        len(a) == len(b) >= 2
        and a != b
        and sorted(a) == sorted(b)
        and sum(x != y for x, y in zip(a, b, strict=True)) == 2
    )


class Neighbours(LineState):
    """A line beside what was said before, published ranges, and the concept."""

    def restated(self) -> None:
        """The same name stated before with another number."""
        statement, claim = self.statement, self.claim
        if not statement.label:
            return
        keys = keys_of(statement.title or statement.label)
        before = next(
            (
                entry
                for entry in reversed(self.scope.entries)
                if keys
                and keys[0] in entry.keys
                and entry.stage == statement.stage
                and entry.section == statement.raw.section
            ),
            None,
        )
        if before is None and keys and not statement.expressions:
            # "second look, dry mass: 9.8 t"
            before = next(
                (e for e in reversed(self.scope.entries) if keys[0] in e.keys and e.stage == statement.stage),
                None,
            )
            if before is not None and before.section != statement.raw.section:
                before = None
        if before is None or before.leaf.dimension != claim.dimension or statement.expressions:
            return
        room = half_of(claim) + half_of(before.leaf)
        if abs(before.stated - claim.si) <= room * 1.0001 + 1e-9 * abs(claim.si):
            return
        if before.stated and abs(claim.si / before.stated - 1.0) < 0.003:
            return
        again = re.search(
            r"\b(?:again|second look|as above|from above|recall|once more|same|still)\b", self.context.words
        )
        near = before.stated and abs(claim.si / before.stated - 1.0) < 0.12
        if not again and not near and not _exchanged(claim.text, before.leaf.text):
            return  # a new value under an old name, such as the mass after a burn
        if self._follows_from_newer(before):
            return
        self.verdict = Verdict.OFF
        self.recomputed = before.stated
        self.sentence = (
            f"Line {before.line} states {before.name} as {before.leaf.text}, this line as "
            f"{self.show(claim.si, stated=True)}; one of the two needs a word on why it changed."
        )
        self.slips = (
            Slip(
                "S55",
                KINDS["S55"].name,
                self.sentence,
                claim.si,
                before.stated,
                digits_agreeing(claim.si, before.stated),
                0.3,
            ),
        )

    def _follows_from_newer(self, before: Entry) -> bool:
        """Whether a value stated again is the sum or difference of two of the page, one of them newer than the old one."""
        mine = [e for e in self.scope.entries if e.leaf.dimension == self.claim.dimension and not e.leaf.bare]
        room = half_of(self.claim) * 1.0001 + 1e-9 * abs(self.claim.si)
        return any(
            abs(abs(one.stated + sign * other.stated) - self.claim.si)
            <= room + half_of(one.leaf) + half_of(other.leaf)
            for one in mine
            for other in mine
            if max(one.index, other.index) > before.index and one is not other
            for sign in (1.0, -1.0)
        )

    def range(self) -> None:
        claim = self.claim
        if claim.bare and claim.dimension == NONE and not self.statement.label:
            return
        ideas = suits(self.statement.label)
        if _OTHER_ENGINES.search(self.statement.raw.text):
            ideas = ideas | {"nuclear"}
        row = range_for(ideas, claim.dimension)
        if row is None:
            return
        value = claim.si
        if claim.bare and row.unit != "1":
            return
        if row.usual[0] <= value <= row.usual[1]:
            return
        if row.possible[0] <= value <= row.possible[1]:
            self.notes.append(
                f"{self.show(value, stated=True)} is unusual for {row.name} ({row.shown}; {row.source})"
            )
            self.source = self.source or row.source
            return
        self.verdict = Verdict.OFF
        self.source = row.source
        made = []
        shows_g = self.best is not None and any(leaf.constant.startswith("g") for leaf in leaves(self.best))
        for kind, factor, cause, _cure in REPAIRS:
            if kind == "S02" and shows_g:
                continue
            if row.usual[0] <= value * factor <= row.usual[1]:
                made.append(
                    Slip(
                        kind,
                        KINDS[kind].name,
                        f"{self.show(value, stated=True)} would be out of reach; if {cause}, it is "
                        f"{self.show(value * factor)}.",
                        value,
                        value * factor,
                        0.0,
                        KINDS[kind].common * 0.5,
                        ("S30",) if kind == "S08" else (),
                    )
                )
        made.sort(
            key=lambda slip: (-(slip.kind in ("S11",) and self.context.tags >= {"density"}), -slip.weight)
        )
        self.slips = tuple(made[:4])
        self.sentence = f"{self.show(value, stated=True)} is outside what has been seen for {row.name}: {row.shown} ({row.source})."  # noqa: E501
        if self.slips:
            self.sentence += f" {self.slips[0].name[0].upper()}{self.slips[0].name[1:]}? " + (
                f"Then it is {self.show(self.slips[0].right)}."
            )

    def model(self) -> None:
        """The concept's own value of this name."""
        if not self.checker.model or not self.statement.label:
            return
        from wetmass.working.model import matching

        found = matching(self.statement.label, self.statement.stage, self.checker.model)
        if found is None:
            return
        name, value, words = found
        claim = self.claim
        if abs(value - claim.si) <= max(half_of(claim), MODEL_AGREES * abs(value)):
            return
        self.notes.append(
            f"the model has {self.show(value)} for {name} ({words}); this is {percent(claim.si / value - 1.0)} of it "  # noqa: E501
            "away"
            if value
            else f"the model has {self.show(value)} for {name} ({words})"
        )
