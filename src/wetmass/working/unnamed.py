"""A line whose name says little, beside the relations its units and the names of its numbers belong to.

A length made of a speed, a mass and a force is a stopping way whatever the sentence calls it.  Every number
has to be known with its unit, no relation of these units may agree, and one slip of form has to turn a
relation into the line exactly; the words of the line and the names of its numbers decide between several.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator

from wetmass.working.catalogue import Form, forms
from wetmass.working.fitting import Fitting, free_roles
from wetmass.working.kinds_of_quantity import behind, told
from wetmass.working.lettering import assigned, telling
from wetmass.working.names import tags
from wetmass.working.relations import Bound, dimension_of
from wetmass.working.slips.finder import Found, ranked
from wetmass.working.tree import DEGREES, Leaf, Node, Unfit, evaluate
from wetmass.working.units import ACCELERATION, MASS, NONE, Dimension

_TELLING_FORM = re.compile(r"[\^]|sqrt|cbrt|ln|exp|log|sin|cos|pi|\b(?:g0?|mu|RE|2|4|0\.5)\b")
# slips that the units and numbers alone can show
_KINDS = frozenset(
    ["S01", "S02", "S03", "S04", "S05", "S06", "S17", "S18", "S19", "S22", "S24", "S31", "S47", "S49", "S51", "S52"]
)  # fmt: skip
_UPRIGHT = re.compile(r"\b(?:stop|land|brak|lift|up\b|climb|hover|vertical|net\b|upward|descen|touch|ignit)")
_RARE = ("speed for a throw", "range of a throw", "turn radius")  # what agrees by the way only
_MOST = 160


class Unnamed(Fitting):
    """Relations found by units and the names of the numbers alone."""

    def by_units(self) -> bool:
        """Whether the line is a relation of its units with a slip of form in it; sets the slips then."""
        prepared = self.prepared(doubt=False)
        if prepared is None or (self.fitted() is None and self.relation not in _RARE):
            return False
        tree, came = prepared
        mine = telling(tree)
        own = [leaf for leaf in mine if not leaf.constant]
        dimension = self._dimension(tree)
        if (
            not 1 <= len(own) <= 5
            or dimension is None
            or (len(own) < 2 and len(mine) < 2 and not self.higher)
        ):
            return False
        if any(leaf.si < 0.0 for leaf in own):
            return False
        if dimension == MASS and len({leaf.dimension for leaf in own}) < 2:
            return False
        rights: list[tuple[float, Bound, Node, float]] = []
        agreed = -1.0  # what speaks for a relation that the line follows
        for form, bound in itertools.islice(self._by_units(mine, dimension), _MOST):
            made = bound.tree(form.formula)
            try:
                right = evaluate(made, DEGREES).value
            except Unfit:
                continue
            if not right:
                continue
            evidence = self._evidence(form, bound, len(own))
            if abs(came / right - 1.0) < 0.006 and not self.misplaced(bound):
                agreed = max(agreed, evidence)
                continue
            rights.append((evidence, bound, made, right))
        rights.sort(key=lambda row: -row[0])
        found: list[Found] = []
        best = 0.0
        for evidence, bound, made, right in rights[:8]:
            if evidence < max(1.2, agreed + 0.4) or (found and evidence < best - 0.4):
                break
            one = [f for f in self._explained(bound, made, right, came) if self._likely(f)]
            if one and not found:
                best = evidence
                self.relation, self.source = bound.form.name, bound.form.source
            found += one
        if not found:
            return False
        found = ranked(found)
        self.conclude(found, found[0].right)
        return True

    def _likely(self, found: Found) -> bool:
        """Slips that units and numbers alone can show; a weight is missed only where something goes up or down."""
        edit = found.edit
        words = self.written
        if edit.kind in ("S24", "S51") and not _UPRIGHT.search(words):
            return False
        if (
            edit.kind == "S24"
            and self.claim.dimension == ACCELERATION
            and not re.search(r"\bnet\b|\bupward", words)
        ):
            return False  # the weight may be taken off in the next line
        return edit.kind in _KINDS and edit.factor == 1.0

    def _dimension(self, tree: Node) -> Dimension | None:
        if not self.claim.bare:
            return self.claim.dimension
        try:
            result = evaluate(tree, DEGREES)
        except Unfit:
            return None
        return None if result.bare or (result.dimension == NONE and not self.higher) else result.dimension

    def _by_units(self, mine: list[Leaf], dimension: Dimension) -> Iterator[tuple[Form, Bound]]:
        count = len([leaf for leaf in mine if not leaf.constant])
        ideas = self.ideas
        for form in forms(all_of_them=True):
            if dimension_of(form.unit) != dimension:
                continue
            free = free_roles(form, mine)
            if free is None or len(free) != count or (form.without & ideas and told(ideas, dimension)):
                continue
            if not form.formula.startswith("registry:") and not _TELLING_FORM.search(form.formula):
                continue
            for bound in assigned(form, free, mine, True, self.higher):
                yield form, bound

    def _evidence(self, form: Form, bound: Bound, count: int) -> float:
        """How much speaks for a relation: the names of its numbers, and the words of the line."""
        words = tags(self.statement.raw.text) | behind(self.statement.note) | self.ideas
        named = (bound.score - 2.0 * count) / (2.0 * count) if count else 0.5
        spoken_of = max(
            (
                len(option & words) / len(option) + 0.2 * (option <= words) * (len(option) - 1)
                for option in form.ideas
                if option
            ),
            default=0.5,
        )
        rare = 0.5 if form.name in _RARE and not words & {"hop", "range", "turn", "throw", "circle"} else 0.0
        return named + spoken_of - rare
