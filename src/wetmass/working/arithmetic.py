"""Does the working give the number stated?  Readings, precision, carried values, chains."""

from __future__ import annotations

import math
from dataclasses import replace

from wetmass.record.working import Slip, Verdict
from wetmass.working.amounts import (
    as_typed,
    carrying,
    half_of,
    in_letters,
    inverse_trig,
    meanings,
    other_constants,
    percent,
    roundness,
    target_at,
)
from wetmass.working.linking import linked, links
from wetmass.working.names import tags
from wetmass.working.readings import between_units, implied, scaled, ways_of_lengths
from wetmass.working.slips.finder import digits_agreeing, find, slips
from wetmass.working.slips.kinds import KINDS
from wetmass.working.slips.terms import terms_of
from wetmass.working.state import LineState, Option, Sides
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    Result,
    Unfit,
    evaluate,
    exactly,
    leaves,
)
from wetmass.working.units import (
    ACCELERATION,
    MASS,
    NONE,
    dimension_words,
)


def _coefficient(node: Node) -> bool:
    """A plain number above four that no name explains: it may stand for a unit of its own ("M = 12·V")."""
    return any(
        leaf.bare and leaf.page < 0 and not leaf.constant and leaf.half and abs(leaf.typed) > 4
        for leaf in leaves(node)
    )


class Arithmetic(LineState):
    """Does the working give the number stated?  Readings, precision, carried values, chains."""

    def grams(self, sides: Sides) -> None:
        """`3.8 g` after an acceleration, or a weight over a weight, is no mass."""
        if self.claim.unit != "g":
            return
        found = {result.dimension for _part, options in sides for _, result, _ in options}
        loads = (
            tags(self.statement.label) & {"acceleration", "felt", "load"} or "g-load" in self.context.words
        )
        if ACCELERATION in found or (not found and loads):
            self.claim = replace(self.claim, factor=9.80665, dimension=ACCELERATION)
        elif NONE in found and MASS not in found:
            self.claim = replace(self.claim, factor=1.0, dimension=NONE, bare=True)

    def evaluated(self) -> Sides:
        """The sides before the stated number that have a value, each in its possible readings."""
        found = []
        parts = self.statement.parts[:-1]
        for part in parts:
            options: list[Option] = []
            for tree in part.trees:
                trees = [*links(tree, self.scope), tree] if not part.value else [tree]
                trees += [other for one in trees[:1] for other in other_constants(one)]
                trees += [] if part.value else between_units(trees[0], self.claim)
                for candidate in trees:
                    for meaning in meanings(candidate):
                        try:
                            options.append((candidate, evaluate(candidate, meaning), meaning))
                        except Unfit:
                            continue
            if options:
                found.append((part, options))
        return found

    def fits(self, option: Option, wide: float = 0.0, any_dimension: bool = False) -> bool:
        """Whether a reading of a side gives the stated number at its stated precision."""
        node, result, meaning = option
        claim = self.claim
        if result.fault and not any_dimension:
            return False
        gap = abs(result.value - claim.si)
        if gap <= half_of(claim) * 1.0001 + wide + 1e-9 * abs(claim.si):  # noqa: SIM102
            if claim.bare or result.bare or result.dimension == claim.dimension or any_dimension:
                return True
        naked = result.dimension == NONE and all(leaf.bare and not leaf.constant for leaf in leaves(node))
        if (result.bare or claim.bare or naked) and self.raw_allowed(node, result):
            try:
                raw = evaluate(node, replace(meaning, raw=True)).value
            except Unfit:
                return False
            if abs(raw - claim.typed) <= claim.half * 1.0001 + 1e-9 * abs(claim.typed):
                return True
            if claim.unit in ("°", "deg", "degrees", "degree") or (claim.bare and inverse_trig(node)):
                return abs(math.degrees(raw) - claim.typed) <= claim.half * 1.0001
        if claim.bare and inverse_trig(node):
            return abs(math.degrees(result.value) - claim.typed) <= claim.half * 1.0001
        if claim.bare and not result.bare:
            # the unit of the result was left out: any one of its usual units will do
            for factor in (1e3, 1e-3, 1e6):
                if (
                    abs(result.value / factor - claim.typed) <= claim.half * 1.0001
                    and result.dimension != NONE
                ):
                    return True
        return False

    def raw_allowed(self, node: Node, result: Result) -> bool:
        """Numbers may be taken as typed only while some stand without a unit."""
        return any(leaf.bare and not leaf.constant for leaf in leaves(node)) or (
            self.claim.bare and result.dimension != NONE
        )

    def arithmetic(self, sides: Sides) -> None:
        """Does the working give the number stated?"""
        claim = self.claim
        matches: list[Option | None] = []
        for index, (part, options) in enumerate(sides):
            whole = [
                o for o in options
                if not o[1].bare and o[1].dimension == claim.dimension and not scaled(o[0], self.scope)
            ]  # fmt: skip
            if not part.value and whole and len(options) > 1:
                # every number has its unit once the page is consulted: nothing is left to guess
                ratio = whole[0][1].value / claim.si if claim.si else math.inf
                if not any(self.fits(o) for o in whole) and not claim.bare and not 0.2 < abs(ratio) < 5.0:
                    options = whole
                    sides[index] = (part, whole)
            pick = next((o for o in options if self.fits(o)), None)
            if pick is None:
                pick = self.by_carried(options)
            if pick is None:
                pick = self.by_next_value(sides, index, options)
            if pick is None:
                pick = next((o for o in options if self.fits(o, any_dimension=True)), None)
            matches.append(pick)
        while (
            len(sides) > 1
            and matches[0] is None
            and matches[-1] is not None
            and not claim.bare
            and all(result.dimension != claim.dimension for _, result, _ in sides[0][1])
        ):  # a formula in letters that we took for other letters
            sides, matches = sides[1:], matches[1:]
        first_options = sides[0][1]
        chosen = matches[0] or self.default(first_options)
        self.best, self.meaning = chosen[0], chosen[2]
        self.recomputed = self.in_claim(chosen)
        self.unrounded = self.without_rounding(chosen)
        if all(match is not None for match in matches):
            self.arithmetic_right(sides, matches)
            return
        kept = [
            i
            for i, ((part, _), match) in enumerate(zip(sides, matches, strict=True))
            if match is not None or not in_letters(part) or not any(matches)
        ]
        if len(kept) < len(sides) and not self.letters_tell(sides, matches):
            sides, matches = [sides[i] for i in kept], [matches[i] for i in kept]
            if all(match is not None for match in matches):
                self.best, self.meaning = matches[0][0], matches[0][2]  # type: ignore[index]
                self.recomputed = self.in_claim(matches[0])  # type: ignore[arg-type]
                self.unrounded = self.without_rounding(matches[0])  # type: ignore[arg-type]
                self.arithmetic_right(sides, matches)
                return
        base_index = next(i for i, match in enumerate(matches) if match is None)
        if any(matches) and matches[0] is not None and matches[-1] is not None:
            self.middle_wrong(sides, base_index)
            return
        if matches[0] is not None and len(sides) > 1:
            # the formula agrees with the number, the numbers written out do not
            self.middle_wrong(sides, base_index)
            return
        if self.only_units_wrong(chosen):
            if self.by_lengths(chosen):
                return
            self.dimension_fault(chosen[0], chosen[2], self.other_kind(chosen[1]))
            return
        self.off(sides, matches)

    def other_kind(self, result: Result) -> str:
        """What kind of quantity the working gives, and what it is stated as."""
        return (
            f"the working gives {dimension_words(result.dimension)}, the result is stated as "
            + dimension_words(self.claim.dimension)
        )

    def only_units_wrong(self, option: Option) -> bool:
        """Whether the numbers as typed give the stated digits, in units that make it another quantity."""
        node, result, meaning = option
        claim = self.claim
        if result.bare or claim.bare or result.fault or result.dimension == claim.dimension:
            return False
        if any(leaf.bare and leaf.half and abs(leaf.typed) > 4 for leaf in leaves(node)):
            return False
        try:
            typed = evaluate(as_typed(node), meaning).value
        except Unfit:
            return False
        return abs(typed - claim.typed) <= claim.half * 1.0001 + 1e-9 * abs(claim.typed)

    def by_next_value(
        self,
        sides: Sides,
        index: int,
        options: list[Option],
    ) -> Option | None:
        """A side without units that gives the value after it, which is then turned into another unit."""
        later = next((part for part, _ in sides[index + 1 :] if part.value), None)
        if later is None or sides[index][0].value or not isinstance(later.trees[0], Leaf):
            return None
        final = self.claim
        self.claim = later.trees[0]
        try:
            pick = next((o for o in options if o[1].bare and self.fits(o)), None)
        finally:
            self.claim = final
        if pick is None or not final.si:
            return None
        stated = later.trees[0]
        if abs(stated.si / final.si - 1.0) > 0.006:
            return None
        scaled = Op("*", (as_typed(pick[0]), exactly(stated.factor)))
        try:
            return scaled, Result(evaluate(scaled, pick[2]).value, final.dimension, True), pick[2]
        except Unfit:
            return None

    def letters_tell(
        self,
        sides: Sides,
        matches: list[Option | None],
    ) -> bool:
        """Whether a formula in letters that disagrees with the numbers beside it shows a slip in them.

        Letters may stand for something else than we take them for; a slip that turns the formula's
        value into the stated one says that they do not.
        """
        if matches[0] is not None or not in_letters(sides[0][0]):
            return False
        whole = [o for o in sides[0][1] if not o[1].bare and o[1].dimension == self.claim.dimension]
        if not whole:
            return False
        found = find([(whole[0][0], whole[0][2], 1.0)], self.target(), self.context)
        return bool(found) and found[0].second is None and found[0].weight >= 0.35

    def default(self, options: list[Option]) -> Option:
        """The likeliest reading where none gives the number: right dimension, units complete."""
        claim = self.claim

        def order(option: Option) -> tuple[bool, bool, float]:
            _, result, _ = option
            ratio = abs(result.value / claim.si) if claim.si and result.value else math.inf
            distance = abs(math.log(ratio)) if ratio and math.isfinite(ratio) and ratio > 0 else 99.0
            return (result.dimension != claim.dimension and not claim.bare, result.bare, distance)

        return min(options, key=order)

    def in_claim(self, option: Option) -> float:
        """The recomputed value in SI, by the reading that suits the stated unit."""
        node, result, meaning = option
        claim = self.claim
        value = result.value
        if (result.bare or claim.bare) and abs(value - claim.si) > half_of(claim):
            try:
                raw = evaluate(node, replace(meaning, raw=True)).value
            except Unfit:
                return value
            if self.raw_allowed(node, result):
                near_si = abs(math.log(abs(value / claim.si))) if value and claim.si else 99.0
                near_raw = abs(math.log(abs(raw / claim.typed))) if raw and claim.typed else 99.0
                if near_raw < near_si - 1e-9:
                    return raw * claim.factor + claim.shift
        return value

    def by_carried(self, options: list[Option]) -> Option | None:
        """A reading that gives the number with unrounded values carried, or within their rounding."""
        for node, _result, meaning in options:
            exact = carrying(node, self.scope, "unrounded")
            if exact != node:
                try:
                    better = evaluate(exact, meaning)
                except Unfit:
                    continue
                if self.fits((exact, better, meaning)):
                    return node, better, meaning
        for option in options:
            node, result, meaning = option
            if result.bare or result.dimension != self.claim.dimension:
                continue
            wide = roundness(node, meaning, self.scope, result.value)
            if wide <= 0.006 * abs(result.value) and self.fits(option, wide):
                return option
        return None

    def without_rounding(self, option: Option) -> float:
        node, result, meaning = option
        try:
            exact = evaluate(carrying(node, self.scope, "unrounded"), meaning).value
        except Unfit:
            return result.value
        return (
            exact
            if abs(result.value - (self.recomputed or 0.0)) <= 1e-9 * abs(result.value)
            else self.recomputed or 0.0
        )

    def arithmetic_right(
        self,
        sides: Sides,
        matches: list[Option | None],
    ) -> None:
        self.recomputed = self.in_claim(matches[0]) if matches[0] else self.recomputed
        for (part, _options), match in zip(sides, matches, strict=True):
            if match is None or part.value:
                continue
            node, result, meaning = match
            claim = self.claim
            fault = result.fault
            if not fault and not result.bare and not claim.bare and result.dimension != claim.dimension:
                fault = f"the working gives {dimension_words(result.dimension)}, the result is stated as " + (
                    dimension_words(claim.dimension)
                )
            if (
                fault
                and not result.bare
                and not _coefficient(node)
                and any(not leaf.bare and leaf.dimension != NONE for leaf in leaves(node))
            ):
                if self.by_lengths(match):
                    continue
                self.dimension_fault(node, meaning, fault)
                return
        if self.best is not None and len(terms_of(self.best)) == 1:
            named = linked(self.best, self.scope)
            better = implied(named, self.claim, self.scope)
            self.best = better if better != named else self.best
        carried_value = self.unrounded
        claim = self.claim
        if (
            carried_value
            and claim.si
            and abs(claim.si / carried_value - 1.0) > 0.005
            and (abs(claim.si - carried_value) > 1.5 * half_of(claim))
        ):
            cost = claim.si / carried_value - 1.0
            if abs(cost) < 0.2 and self.carried_rounding_only():
                self.verdict = Verdict.APPROXIMATION
                slip = Slip(
                    "S44",
                    KINDS["S44"].name,
                    f"Values rounded further up are carried down to here; unrounded it is {self.show(carried_value)}.",  # noqa: E501
                    claim.si,
                    carried_value,
                    digits_agreeing(claim.si, carried_value),
                    0.5,
                    ("S55",),
                )
                self.slips = (slip,)
                self.sentence = (
                    f"Sound, but values rounded further up cost {percent(cost)}: unrounded it is "
                    f"{self.show(carried_value)}."
                )
                self.recomputed = carried_value

    def by_lengths(self, option: Option) -> bool:
        """Whether the units come out once small numbers are taken as the lengths of the page they are."""
        node, _, meaning = option
        for way in ways_of_lengths(node, self.scope):
            try:
                result = evaluate(way, meaning)
            except Unfit:
                continue
            if (
                not result.fault
                and result.dimension == self.claim.dimension
                and self.fits((way, result, meaning))
            ):
                self.best = way
                return True
        return False

    def carried_rounding_only(self) -> bool:
        """Whether the values carried are roundings of the unrounded ones, not slips."""
        return self.best is not None and all(
            abs(self.scope.entries[leaf.page].stated - self.scope.entries[leaf.page].unrounded)
            <= 1.2 * half_of(self.scope.entries[leaf.page].leaf) + 1e-9
            or abs(
                self.scope.entries[leaf.page].stated / (self.scope.entries[leaf.page].unrounded or 1.0) - 1
            )
            < 0.03
            for leaf in leaves(self.best)
            if leaf.page >= 0
        )

    def rough(self, value: float) -> bool:
        """Whether a middle step differs only by its own rounding."""
        return bool(self.claim.si) and abs(value / self.claim.si - 1.0) < 0.006

    def middle_wrong(self, sides: Sides, index: int) -> None:
        """The result is right although a step on the way is not written as it was done."""
        part, options = sides[index]
        shown = self.default(options)
        value = self.in_claim(shown)
        claim = self.claim
        if part.value and abs(value / claim.si - 1.0) < 0.004 if claim.si else False:
            return  # a middle result with fewer digits
        if not part.value and self.rough(value):
            return
        self.verdict = Verdict.OFF
        found = find([(sides[0][1][0][0], sides[0][1][0][2], 1.0)], target_at(value, claim), self.context)
        self.slips = slips(found, target_at(value, claim), self.words, claim.si)
        self.sentence = (
            f"The result is right, but the step “{part.text}” comes to {self.show(value)}, not "
            f"{self.show(claim.si, stated=True)}: two slips that cancel, or a slip of the pen on the way."
        )
        self.recomputed = claim.si
