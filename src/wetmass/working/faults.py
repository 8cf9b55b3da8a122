"""What went wrong in a line whose working does not give its number, or gives another unit."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from wetmass.record.working import Slip, Verdict
from wetmass.working.amounts import (
    CONVERSIONS,
    INSERTED,
    as_typed,
    dimension_with,
    half_of,
    percent,
    times_off,
)
from wetmass.working.linking import linked
from wetmass.working.relations import wrong_forms
from wetmass.working.slips.edits import edits
from wetmass.working.slips.finder import Found, digits_agreeing, find, slips
from wetmass.working.slips.kinds import KINDS
from wetmass.working.state import LineState, Option, Sides
from wetmass.working.tree import (
    Leaf,
    Meaning,
    Node,
    Op,
    Unfit,
    evaluate,
    exactly,
    leaves,
    mapped,
    put,
    walk,
)
from wetmass.working.units import (
    FORCE,
    LENGTH,
    MASS,
    PRESSURE,
    TIME,
    times,
)

APPROXIMATE = 0.006  # a deviation that no slip explains, and that costs less than this, is an approximation


_CLOCK = (
    ("min", 60.0, "minutes", "S42"),
    ("hour", 3600.0, "hours", "S16"),
    (" h", 3600.0, "hours", "S16"),
    ("day", 86400.0, "days", "S54"),
)


class Faults(LineState):
    """What went wrong in a line whose working does not give its number, or gives another unit."""

    def _other_powers(self, node: Node, meaning: Meaning) -> list[Slip]:
        """A root or a power that gives another kind of quantity than the one stated."""
        for path, part in walk(node):
            if not isinstance(part, Op) or part.kind not in ("sqrt", "cbrt", "^"):
                continue
            for power in (1.0 / 3.0, 0.5, 2.0, 3.0, 1.0, 1.5, -1.0):
                try:
                    mended = evaluate(put(node, path, Op("^", (part.parts[0], exactly(power)))), meaning)
                except Unfit:
                    continue
                if mended.dimension != self.claim.dimension or mended.fault or not mended.value:
                    continue
                said = {1 / 3: "the cube root", 0.5: "the square root", 2.0: "the square", 3.0: "the cube"}
                cure = f"with {said.get(power, 'the right power')}"
                return [
                    Slip(
                        "S06", KINDS["S06"].name,
                        f"{self.show(self.claim.si, stated=True)} is what comes out when a power is not the right one; "
                        f"{cure} it is {self.show(mended.value)}.",
                        self.claim.si, mended.value, 12.0, KINDS["S06"].common, ("S55", "S56"),
                    )
                ]  # fmt: skip
        return []

    def dimension_fault(self, node: Node, meaning: Meaning, fault: str) -> None:
        """The digits agree, the units do not."""
        found = self.by_forms()
        self.verdict = Verdict.OFF
        if found is not None:
            return
        self.sentence = f"The digits follow, but the units do not: {fault}."
        target = self.target()
        # a slip that the line itself contains: g₀ left out of a formula, say
        made = []
        for kind, factor, cause, cure in INSERTED:
            if dimension_with(node, factor[1], meaning) == self.claim.dimension:
                value = target.value * factor[0]
                made.append(
                    Slip(
                        kind,
                        KINDS[kind].name,
                        f"{self.show(target.value, stated=True)} is what comes out when {cause}; {cure} it is "  # noqa: E501
                        f"{self.show(value)}.",
                        target.value,
                        value,
                        12.0,
                        KINDS[kind].common,
                        ("S16",) if kind == "S02" else (),
                    )
                )
        for edit in edits(node, self.context):
            if (
                (made and edit.kind == made[0].kind)
                or edit.factor != 1.0
                or edit.kind not in ("S56", "S04", "S06", "S21")
            ):
                continue
            try:
                mended = evaluate(edit.tree, meaning)
            except Unfit:
                continue
            if mended.dimension == self.claim.dimension and not mended.fault:
                kind = edit.kind
                what = {
                    "S56": "a division stands where a multiplication belongs, or the reverse",
                    "S04": "the quotient is upside down",
                }.get(kind, "a power is not the right one")
                made.append(
                    Slip(
                        kind,
                        KINDS[kind].name,
                        f"{self.show(target.value, stated=True)} is what comes out when {what}; put right it is "  # noqa: E501
                        f"{self.show(mended.value)}.",
                        target.value,
                        mended.value,
                        12.0,
                        KINDS[kind].common * edit.weight,
                        ("S55", "S06"),
                    )
                )
        made += [] if made else self._other_powers(node, meaning)
        missing = times(self.claim.dimension, evaluate(node, meaning).dimension, -1.0)
        clock = next(
            (row for row in _CLOCK if row[0] in self.context.words),
            None,
        )
        if missing == TIME and clock is not None:
            value = target.value * clock[1]
            made.append(
                Slip(
                    clock[3],
                    KINDS[clock[3]].name,
                    f"{self.show(target.value, stated=True)} is what comes out when {clock[2]} are taken as seconds; "  # noqa: E501
                    f"in seconds it is {self.show(value)}.",
                    target.value,
                    value,
                    12.0,
                    0.9,
                    ("S16", "S42", "S54"),
                )
            )
        made.sort(key=lambda slip: -slip.weight)
        made = made[:4]
        if made:
            self.slips = tuple(made)
            self.sentence = made[0].sentence
            self.recomputed = made[0].right
        elif "added to" in fault or "subtracted" in fault:
            kind = "S24"
            self.slips = (
                Slip(
                    kind,
                    KINDS[kind].name,
                    self.sentence,
                    target.value,
                    target.value,
                    0.0,
                    0.3,
                    ("S06", "S22"),
                ),
            )

    def off(
        self,
        sides: Sides,
        matches: list[Option | None],
    ) -> None:
        """No reading gives the number: find out how it came about."""
        claim = self.claim
        if self.weighed(sides):
            return
        target = self.target()
        bases = self.bases(sides)
        right = self.recomputed if self.recomputed is not None else math.nan
        ready = [edit for bound in self.bound_forms(sides) for edit in wrong_forms(bound)]
        ready += self.stack_forms(bases)
        found = find(bases, target, self.context, ready)
        found = self.settle(found, right)
        cost = claim.si / right - 1.0 if right else math.inf
        last = abs(claim.si - right) <= 2.2 * half_of(claim)
        explained = bool(found) and found[0].weight >= 0.3 and target.hit(found[0].value) >= 0.999
        small = abs(cost) < APPROXIMATE and not (
            explained and abs(cost) > 0.002 and found[0].edit.kind != "S44"
        )
        if (
            small
            or (last and abs(cost) < 0.004)
            or (self.statement.about and abs(cost) < 0.015 and not explained)
        ):
            if abs(cost) < 1e-5:
                return  # the last of many digits
            self.verdict = Verdict.APPROXIMATION
            self.sentence = f"An approximation that costs {percent(cost)}: in full it is {self.show(right)}."
            return
        self.verdict = Verdict.OFF
        if all(part.value for part, _ in sides):
            found = [one for one in found if one.edit.kind in CONVERSIONS]
        self.slips = slips(found, target, self.words, right)
        pen = self.miscopied(right)
        if pen and "places" in pen[0].sentence and (not self.slips or self.slips[0].weight < 0.2):
            self.slips = (*pen, *self.slips)
        if not self.slips:
            self.slips = pen or self.converted(sides, right)
        self.settle_sentence(right, cost)
        if self.slips and self.slips[0].kind == "S07" and self.statement.expressions:
            said = self.slips, self.verdict, self.sentence, self.recomputed
            if self.by_fit() and self.slips[0].kind in ("S04", "S06", "S56"):
                self.verdict, self.slips = Verdict.OFF, (*self.slips, *said[0])
                return
            self.slips, self.verdict, self.sentence, self.recomputed = said
            if self.fit is None and self.units_unsaid():
                self.verdict, self.slips, self.sentence, self.recomputed = Verdict.RIGHT, (), "", claim.si
                return
        if self.slips:
            self.recomputed = self.slips[0].right if not math.isnan(self.slips[0].right) else self.recomputed

    def weighed(self, sides: Sides) -> bool:
        """A mass stated again as its weight: "210 t = 2060 kN"."""
        first = sides[0][0].trees[0]
        if (
            not all(part.value for part, _ in sides)
            or not isinstance(first, Leaf)
            or self.claim.dimension != FORCE
        ):
            return False
        return (
            first.dimension == MASS
            and first.si > 0.0
            and abs(self.claim.si / first.si / 9.80665 - 1.0) < 0.01
        )

    def units_unsaid(self) -> bool:
        """Whether a number of the line has a unit that neither it nor the page says: kilonewtons, say."""
        return self.best is not None and any(
            leaf.bare and leaf.page < 0 and not leaf.constant and leaf.half > 0 and leaf.typed > 4.0
            for leaf in leaves(linked(self.best, self.scope))
        )

    def miscopied(self, right: float) -> tuple[Slip, ...]:
        """The stated digits are the right ones with two exchanged or one changed."""
        claim = self.claim
        stated = re.sub(r"[^0-9]", "", claim.text.split(" ")[0]).strip("0")
        number = right / claim.factor
        if not number or not stated or claim.half <= 0:
            return ()
        step = 2.0 * claim.half
        proper = re.sub(r"[^0-9]", "", f"{round(abs(number) / step) * step:.6f}").strip("0")
        if len(stated) != len(proper) or len(stated) < 2:
            return ()
        different = [i for i, (a, b) in enumerate(zip(stated, proper, strict=True)) if a != b]
        exchanged = (
            len(different) == 2
            and stated[different[0]] == proper[different[1]]
            and (stated[different[1]] == proper[different[0]])
        )
        if not exchanged and len(different) != 1:
            return ()
        deed = "two digits have changed places" if exchanged else "one digit is not the right one"
        sentence = (
            f"{deed}: worked out it is {self.show(right)}, stated is {self.show(claim.si, stated=True)}."
        )
        return (
            Slip(
                "S55",
                KINDS["S55"].name,
                sentence,
                claim.si,
                right,
                digits_agreeing(claim.si, right),
                0.2,
                ("S31",),
            ),
        )

    def converted(self, sides: Sides, right: float) -> tuple[Slip, ...]:
        """One quantity in two units that do not agree, by no ratio of units we know."""
        if not all(part.value for part, _ in sides):
            return ()
        kind = {PRESSURE: "S15", LENGTH: "S13", MASS: "S12", FORCE: "S09"}.get(self.claim.dimension, "S55")
        sentence = f"the two do not measure the same: {sides[0][0].text} is {self.show(right)}."
        return (Slip(kind, KINDS[kind].name, sentence, self.claim.si, right, 0.0, 0.2, ("S55",)),)

    def settle_sentence(self, right: float, cost: float) -> None:
        if self.slips:
            top = self.slips[0].sentence
            self.sentence = top[0].upper() + top[1:]
        else:
            how = times_off(self.claim.si, right)
            self.sentence = (
                f"The working gives {self.show(right)}, not {self.show(self.claim.si, stated=True)} ({how}); "
                "I found no single slip that explains it."
            )

    def settle(self, found: list[Found], right: float) -> list[Found]:
        """The right value said beside each slip is that of the line, where the slip cannot know it."""
        return [replace(one, right=right) if math.isnan(one.right) else one for one in found]

    def bases(self, sides: Sides) -> list[tuple[Node, Meaning, float]]:
        """The trees the slips are put into: every side that holds working, raw where units are missing."""
        found: list[tuple[Node, Meaning, float]] = []
        seen: set[Node] = set()
        claim = self.claim
        for part, options in sides:
            if not options:
                continue
            node, result, meaning = self.default(options)
            for tree, how in ((node, meaning),):
                if tree in seen:
                    continue
                seen.add(tree)
                value = result.value
                scaled = self.in_claim((node, result, meaning))
                if value and scaled and abs(scaled / value - 1.0) > 1e-9:
                    tree = Op("*", (as_typed(tree), exactly(claim.factor)))
                found.append((tree, how, 1.0))
            if (
                value
                and any(leaf.factor != 1.0 and not leaf.constant for leaf in leaves(node))
                and not part.value
            ):
                # a power or root dropped is keyed in the units of the page, not in SI
                typed = Op("*", (as_typed(node), exactly(claim.factor)))
                try:
                    if abs(evaluate(typed, meaning).value / value - 1.0) < 1e-9:
                        found.append((typed, meaning, 0.9))
                except Unfit:
                    pass
            bare = [o for o in options if o[1].bare and o[0] not in seen]
            if bare and not part.value and len(found) < 4:
                other = bare[0]
                seen.add(other[0])
                found.append((other[0], other[2], 0.8))
        found = found[:4]
        for tree, how, _ in found[:1]:
            inlined = self.inlined(tree)
            if inlined != tree:
                found.append((inlined, how, 0.75))
        return found[:5]

    def inlined(self, tree: Node) -> Node:
        """The tree with each carried value replaced by the working that made it."""
        workings = {entry: node for _, entry, node, _ in self.checker.ends if node is not None}

        def change(leaf: Leaf) -> Node:
            inner = workings.get(leaf.page)
            return inner if inner is not None and len(leaves(inner)) <= 8 else leaf

        return mapped(tree, change)
