"""The relation behind a line, and the masses it must carry."""

from __future__ import annotations

import math

from wetmass.record.working import Verdict
from wetmass.working import bookkeeping
from wetmass.working.amounts import (
    figures_of,
    half_of,
)
from wetmass.working.exchange import Exchange
from wetmass.working.lettering import telling
from wetmass.working.linking import linked
from wetmass.working.relations import Bound, bind, recognised, suits, wrong_forms
from wetmass.working.rules.order import Sense
from wetmass.working.slips.edits import Edit, edits
from wetmass.working.slips.finder import Found, Target, ranked, slips, value_of
from wetmass.working.slips.kinds import KINDS
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    DEGREES,
    Leaf,
    Meaning,
    Node,
    Unfit,
    evaluate,
    exactly,
    leaves,
    put,
    unknowns,
)
from wetmass.working.units import (
    LENGTH,
    MASS,
    NONE,
)
from wetmass.working.unnamed import Unnamed

# slips that a relation of other values of the page can show
_OF_FORM = frozenset(["S01", "S02", "S03", "S04", "S05", "S06", "S17", "S19", "S24", "S26", "S51", "S56"])


class Behind(Exchange, Unnamed, Sense):
    """The relation behind a line, and the masses it must carry."""

    def bound_forms(self, sides: object = None) -> list[Bound]:
        """Relations recognised by the name of the line, with their best values."""
        if self.forms:
            return self.forms
        claim = self.claim
        ideas = self.ideas
        trees = [tree for part in self.statement.expressions for tree in part.trees[:1]]
        tree = linked(trees[-1], self.scope) if trees else None
        first = linked(trees[0], self.scope) if trees and not unknowns(trees[0]) else tree
        dimension = None if claim.bare and claim.dimension == NONE else claim.dimension
        found: list[Bound] = []
        for form in recognised(ideas, dimension):
            bounds = bind(form, first or tree, self.scope, self.statement.stage)
            found.extend(bounds[:6])
        found.sort(key=lambda bound: -bound.score)
        self.forms = found[:40]
        return self.forms

    def misplaced(self, bound: Bound) -> bool:
        """A length typed in the line that is twice or half of the one the page has for this place."""
        for letter in ("d", "r", "rr", "Rr"):
            leaf = bound.values.get(letter)
            if leaf is None or leaf.page >= 0 or leaf.constant or not leaf.si:
                continue
            near = [value / leaf.si for value in self.across(letter)]
            if any(abs(ratio - 1.0) < 1e-6 for ratio in near):
                continue
            if any(abs(ratio / factor - 1.0) < 1e-6 for ratio in near for factor in (2.0, 0.5, 4.0, 0.25)):
                return True
        return False

    def agrees(self, bound: Bound) -> bool:
        if self.misplaced(bound):
            return False
        try:
            value = evaluate(bound.tree(bound.form.formula), DEGREES).value
        except Unfit:
            return False
        return self.near(value)

    def near(self, value: float, room: float = 0.006) -> bool:
        """Within the digits stated, or what handbook constants and carried rounding cost."""
        claim = self.claim
        if abs(value - claim.si) <= half_of(claim) * 1.2:
            return True
        if claim.si and abs(value / claim.si - 1.0) <= room:
            return True
        if claim.bare:
            return any(
                abs(value / f - claim.typed) <= max(claim.half * 1.2, room * abs(claim.typed))
                for f in (1.0, 1e3, 1e-3, 1e6, math.pi / 180.0)
            )
        return False

    def stack_forms(self, bases: list[tuple[Node, Meaning, float]]) -> list[Edit]:
        scope = self.checker.ahead or self.scope
        ready: list[Edit] = []
        found = bookkeeping.start_mass_forms(self.statement.label, self.statement.stage, scope)
        if found is not None:
            ready += found[1]
        return ready

    def by_forms(self) -> bool | None:
        """Whether a wrong form of the relation gives the number: sets the slips when it does."""
        claim = self.claim
        target = Target(
            claim.si, max(half_of(claim), 2e-4 * abs(claim.si)), claim.typed, claim.half, claim.bare
        )
        bounds = self.bound_forms()
        agreed = next((bound for bound in bounds if self.agrees(bound) and self.uses(bound)), None)
        if not bounds or agreed is not None:
            if agreed is not None:
                self.relation, self.source = agreed.form.name, agreed.form.source
            return None
        best = bounds[0].score
        found: list[Found] = []
        for bound in bounds:
            if (
                bound.score < best - 6.0
                or not self.uses(bound)
                or self.misplaced(bound)
                or self.foreign(bound)
            ):
                continue
            try:
                right = evaluate(bound.tree(bound.form.formula), DEGREES).value
            except Unfit:
                continue
            ratio = bound.values.get("q")
            unsaid = ratio is not None and ratio.page < 0 and not ratio.name
            for edit in wrong_forms(bound):
                if ("sphere" in edit.cause and self.speaks_of_spheres()) or self.one_end_meant(edit.cause):
                    continue
                if edit.kind == "S30" and self.counted_already(bound):
                    continue
                if unsaid and edit.kind == "S29":
                    continue  # which ratio it is stands nowhere
                angle = bound.values.get("di")
                if edit.kind in self.said_so() or (
                    "not halved" in edit.cause and angle is not None and angle.page < 0
                ):
                    continue
                value = value_of(edit, DEGREES)
                if value is None or (right and abs(value / right - 1.0) < 1e-6):
                    continue
                fit = target.hit(value)
                if claim.bare and not fit:
                    fit = max(target.hit(value / f) for f in (math.pi / 180.0, 0.01)) if value else 0.0
                if fit >= 0.1:
                    strength = KINDS[edit.kind].common * fit * (0.9 ** (best - bound.score))
                    found.append(Found(edit, value, right, strength))
                    self.relation, self.source = bound.form.name, bound.form.source
        if not found and self.statement.expressions and figures_of(claim) >= 3:
            found = self.edited_forms(bounds, target)
        if not found or (self.statement.expressions and self.fitted() is None):
            return None
        found = ranked(found)
        self.slips = slips(found, target, self.words, found[0].right)
        self.recomputed = found[0].right
        name = next((b.form for b in bounds if b.form.name), None)
        del name
        self.verdict = Verdict.OFF
        top = self.slips[0].sentence
        self.sentence = top[0].upper() + top[1:]
        if self.slips[0].kind == "S34" and self.statement.expressions:
            self.verdict = Verdict.APPROXIMATION
            self.sentence = (
                f"Another definition than the usual one: dry over dry and propellant together is "
                f"{self.show(self.slips[0].right)}. Say which is meant, and use the same one throughout."
            )
        return True

    def edited_forms(self, bounds: list[Bound], target: Target) -> list[Found]:
        """Single slips of a relation all of whose values stand in the line."""
        here = {leaf.page for leaf in leaves(self.best)} if self.best is not None else set()
        for bound in bounds[:3]:
            mine = [leaf for leaf in bound.values.values() if not leaf.constant]
            if not mine or not all(leaf.page in here and leaf.page >= 0 for leaf in mine):
                continue
            tree = bound.tree(bound.form.formula)
            try:
                right = evaluate(tree, DEGREES).value
            except Unfit:
                continue
            found = []
            for edit in edits(tree, self.context):
                if edit.kind not in _OF_FORM or edit.factor != 1.0:
                    continue
                value = value_of(edit, DEGREES)
                if value is not None and target.hit(value) >= 1.0:
                    found.append(Found(edit, value, right, KINDS[edit.kind].common * edit.weight))
            if found:
                self.relation, self.source = bound.form.name, bound.form.source
                return found
        return []

    def foreign(self, bound: Bound) -> bool:
        """Whether a value is taken from elsewhere though a number of the line has no letter yet."""
        if not self.statement.expressions or self.best is None:
            return False
        here = telling(linked(self.best, self.scope))
        mine = [leaf for leaf in bound.values.values() if not leaf.constant]

        def same(one: Leaf, other: Leaf) -> bool:
            return (
                (one.page >= 0 and one.page == other.page)
                or any(
                    math.isclose(one.typed * f, other.typed, rel_tol=1e-9)
                    for f in ((1.0, 2.0, 0.5) if one.dimension == LENGTH else (1.0,))
                )
                or abs(one.typed + 1.0 - other.typed) < 1e-9
            )

        borrowed = [leaf for leaf in mine if not any(same(leaf, other) for other in here)]
        unspoken = [
            other
            for other in here
            if not other.constant and other.page < 0 and not any(same(leaf, other) for leaf in mine)
        ]
        return any(leaf.dimension == other.dimension or other.bare for leaf in borrowed for other in unspoken)

    def uses(self, bound: Bound) -> bool:
        """Whether the line works with the values of this relation, not merely shares a page with them."""
        if not self.statement.expressions:
            return True
        here = [
            leaf for part in self.statement.expressions for tree in part.trees[:1] for leaf in leaves(tree)
        ]
        if self.best is not None:
            here += leaves(self.best)
        pages = {leaf.page for leaf in here if leaf.page >= 0}
        typed = {leaf.typed for leaf in here}
        mine = [leaf for leaf in bound.values.values() if not leaf.constant]
        count = sum(
            leaf.page in pages
            or leaf.typed in typed
            or (
                leaf.dimension == LENGTH and any(leaf.typed * f in typed for f in (2.0, 0.5))
            )  # diameter for radius
            for leaf in mine
        )
        foreign = self.claim.bare and self.claim.dimension == NONE and bound.form.unit != "1"
        return count == len(mine) if foreign else 2 * count >= len(mine)

    def behind(self) -> None:
        """The arithmetic holds (or none is shown): is it the right relation, with all it must hold?"""
        shown = bool(self.statement.expressions)
        if self.best is not None and any(
            leaf.page >= 0 and self.scope.entries[leaf.page].index in self.checker.faulty
            for leaf in leaves(self.best)
        ):
            # it follows from a number that is off already: only a slip of form of its own is spoken of
            _ = shown and (
                self.by_words()
                or (len(terms_of(self.best)) == 1 and self.by_forms())
                or self.by_marks()
                or self.by_places()
                or self.by_fit()
            )
            return
        if shown and (self.typed_slips() or self.by_words() or self.holds(self.only_converted)):
            return
        if not shown and (
            self.holds(self._ideal_as_flown)
            or self.one_for_all()
            or self.coast_alone()
            or self.spent_stage_kept()
            or self.c3_as_speed()
        ):
            return
        if self.by_forms():
            return
        if shown or self.claim.dimension == MASS:
            self.stack()
        if shown and self.verdict in (Verdict.RIGHT, Verdict.APPROXIMATION) and not self.slips:
            _ = (
                self.by_marks()
                or self.by_places()
                or self.by_sense()
                or self.by_fit()
                or self.by_units()
                or self.by_exchange()
                or self.said_twice()
            )

    def stack(self) -> None:
        scope = self.checker.ahead
        if scope is None:
            return
        claim = self.claim
        label, stage = self.statement.label, self.statement.stage
        found = bookkeeping.start_mass_forms(label, stage, scope) or (
            bookkeeping.end_mass_forms(label, stage, scope) if claim.dimension == MASS else None
        )
        target = Target(claim.si, max(half_of(claim), 1e-4 * abs(claim.si)), claim.typed, claim.half)
        if found is not None:
            right, edits = found
            if self.near(right, 0.004):
                return
            hits = [
                Found(edit, value, right, KINDS[edit.kind].common * edit.weight)
                for edit in edits
                if (value := value_of(edit, Meaning())) is not None and target.hit(value) >= 1.0
            ]
            if hits:
                self.conclude(ranked(hits), right)
            return
        if "dv" in suits(label) and self.best is not None and not stage:
            one = bookkeeping.run_together(self.best, scope)
            if one is not None:
                right, edit = one
                self.conclude([Found(edit, claim.si, right, KINDS["S33"].common)], right)
                return
        if "dv" in suits(label) and self.best is not None:
            ratio = bookkeeping.ratio_forms(self.best, stage, scope)
            if ratio is None:
                return
            right_ratio, edits, path = ratio
            if not edits:
                return
            try:
                right = evaluate(put(self.best, path, exactly(right_ratio)), self.meaning).value
            except Unfit:
                return
            if self.near(right, 0.004):
                return
            hits = [Found(edit, claim.si, right, KINDS[edit.kind].common) for edit in edits]
            self.conclude(ranked(hits), right)

    def conclude(self, found: list[Found], right: float) -> None:
        self.verdict = Verdict.OFF
        self.slips = slips(found, self.target(), self.words, right)
        self.sentence = self.slips[0].sentence[0].upper() + self.slips[0].sentence[1:]
        self.recomputed = right
