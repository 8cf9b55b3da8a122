"""One number of a line stands in the place of another of the page that has the right name."""

from __future__ import annotations

import itertools
import re

from wetmass.working.catalogue import Role, forms
from wetmass.working.fitting import Fitting
from wetmass.working.lettering import CONSTANT_LETTERS, assigned, telling
from wetmass.working.linking import linked
from wetmass.working.relations import Bound, clash, dimension_of, ideas_of, recognised
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.finder import Found
from wetmass.working.slips.kinds import KINDS
from wetmass.working.tree import DEGREES, Leaf, Unfit, evaluate, mapped
from wetmass.working.units import (
    ACCELERATION,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    PRESSURE,
    SPEED,
    TIME,
    VOLUME,
    Dimension,
)

_SAME = 0.004  # two formulas give the same number

_EXCHANGED: dict[Dimension, tuple[str, tuple[str, ...]]] = {
    DENSITY: ("S27", ("S28", "S53")), MASS: ("S31", ("S05", "S32")), TIME: ("S23", ("S25",)),
    FORCE: ("S23", ("S30", "S24")), LENGTH: ("S17", ("S22", "S52")), SPEED: ("S40", ("S49", "S43")),
    PRESSURE: ("S26", ("S31",)), ACCELERATION: ("S24", ("S51",)), MASS_FLOW: ("S30", ("S29",)),
    VOLUME: ("S27", ("S29", "S38")), AREA: ("S17", ("S21",)),
}  # fmt: skip


class Exchange(Fitting):
    """A number exchanged for another of its kind."""

    def by_exchange(self) -> bool:
        """Whether one number of the line stands in the place of another of the page that has the right name."""  # noqa: E501
        fitted = self.fitted()
        if self.best is None or not fitted or not fitted[0]:
            return False
        came = fitted[0]
        mine = telling(mapped(linked(self.best, self.scope), self._doubted))
        own = [leaf for leaf in mine if not leaf.constant]
        if not 2 <= len(own) <= 5 or self.claim.bare:
            return False
        for form in recognised(self.ideas, self.claim.dimension, forms(all_of_them=True)):
            if all(not option for option in form.ideas) or not re.search(r"[*/^(]", form.formula):
                continue  # a plain sum may be of anything
            free = [role for role in form.roles if role.letter not in CONSTANT_LETTERS]
            if len(free) != len(own):
                continue
            for role, leaf in itertools.product(free, own):
                if (
                    leaf.page < 0
                    or leaf.dimension != dimension_of(role.unit)
                    or not clash(role, ideas_of(leaf))
                ):
                    continue
                if leaf.dimension == NONE:
                    continue  # one share or efficiency is not told from another by its name
                if role.ideas[0] == frozenset(["mass"]):
                    continue  # a mass at any moment
                if leaf.dimension == MASS and ideas_of(leaf) & {"start", "end"}:
                    continue  # the end of one burn is the start of the next
                entry = self._of_page(role, mine)
                if entry is None or abs(entry.si / leaf.si - 1.0) < 0.004:
                    continue
                rest = [other for other in free if other is not role]
                others = [other for other in mine if other is not leaf]
                for bound in itertools.islice(assigned(form, rest, others, False, self.higher), 6):
                    if bound.score < 2.6 * len(rest):
                        continue
                    if self._exchanged(bound, role, leaf, entry, came):
                        return True
        return False

    def _exchanged(self, bound: Bound, role: Role, leaf: Leaf, entry: Leaf, came: float) -> bool:
        wrong = Bound(bound.form, bound.values | {role.letter: leaf}, 0.0).tree(bound.form.formula)
        proper = Bound(bound.form, bound.values | {role.letter: entry}, 0.0).tree(bound.form.formula)
        try:
            value, right = evaluate(wrong, DEGREES).value, evaluate(proper, DEGREES).value
        except Unfit:
            return False
        if not value or abs(value / came - 1.0) > _SAME:
            return False
        kind, also = _EXCHANGED.get(leaf.dimension, ("S55", ()))
        cause = f"{leaf.name} ({leaf.text}) is put in"
        edit = Edit(kind, wrong, cause, f"with {entry.name} ({entry.text})", also=(*also, "S55"))
        self.relation, self.source = bound.form.name, bound.form.source
        self.conclude([Found(edit, self.claim.si, self.claim.si * right / value, KINDS[kind].common)], right)
        return True
