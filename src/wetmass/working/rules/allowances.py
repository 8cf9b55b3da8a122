"""Shares of a load: growth, residuals, reserves, percentages."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace

from wetmass.working.relations import suits
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    Unfit,
    evaluate,
    exactly,
    leaves,
    walk,
)
from wetmass.working.units import (
    MASS,
)

_ALLOWANCES = frozenset(["residual", "ullage", "reserve", "growth", "margin", "allowance", "boiloff"])


class Allowances(Rules):
    """Shares of a load: growth, residuals, reserves, percentages."""

    def _growth_on_propellant(self, tree: Node) -> bool:
        ideas = suits(self.statement.label)
        if (
            not ideas & {"propellant", "fuel", "oxidiser", "load"}
            or not isinstance(tree, Op)
            or tree.kind != "*"
        ):
            return False
        growths = [e.stated for e in self.scope.entries if "growth" in e.tags and 0.0 < e.stated < 0.6]
        growths += [e.stated - 1.0 for e in self.scope.entries if "growth" in e.tags and 1.0 < e.stated < 1.6]
        if not growths and "growth" not in ideas:
            return False
        for path, node in ((0,), tree.parts[0]), ((1,), tree.parts[1]):
            try:
                value = evaluate(node, self.meaning)
            except Unfit:
                continue
            other = self.entry_of(tree.parts[1 - path[0]])
            if other is not None and not other.tags & {"propellant", "fuel", "oxidiser", "load"}:
                continue
            if value.dimension == (0.0,) * 5 and any(abs(value.value - 1.0 - g) < 1e-6 for g in growths):
                right = self.changed(tree, path, exactly(1.0))
                return self.tell(
                    "S39",
                    "the growth of the dry mass is put on the propellant",
                    "without it",
                    right,
                    ("S37",),
                )
        return False

    def _share_as_tenths(self, tree: Node) -> bool:
        """1.2 for 2 %, 1.5 for 5 %."""
        for path, leaf in walk(tree):
            if (
                not isinstance(leaf, Leaf)
                or not leaf.bare
                or leaf.page >= 0
                or not 1.0 < abs(leaf.typed) < 2.0
            ):
                continue
            if any(
                e.leaf.unit == "%" and abs(1.0 + e.stated - leaf.typed) < 1e-9 for e in self.scope.entries
            ):
                continue  # another allowance of the page
            for entry in self.scope.entries:
                said = entry.leaf
                if (
                    said.unit == "%"
                    and entry.tags
                    & {"reserve", "margin", "growth", "allowance", "ullage", "residual", "boiloff"}
                    and said.typed < 10.0
                    and abs(leaf.typed - 1.0 - said.typed / 10.0) < 1e-9
                ):
                    right = self.changed(tree, path, replace(leaf, typed=1.0 + said.si))
                    cause = f"{leaf.text} is put in for {said.text} more"
                    return self.tell("S35", cause, f"with {1 + said.si:g}", right, ("S08", "S37"))
        return False

    def _share_digits(self, tree: Node) -> bool:
        """0.08 put in for 0.8 %."""
        shares = [
            e
            for e in self.scope.entries
            if e.leaf.unit == "%" and e.tags & _ALLOWANCES and 0.0 < e.stated < 0.3
        ]
        for path, leaf in walk(tree):
            if not isinstance(leaf, Leaf) or not leaf.bare or leaf.page >= 0 or not 0.0 < leaf.typed < 1.0:
                continue
            if any(e.leaf.bare and abs(1.0 - e.stated - leaf.typed) <= leaf.half for e in self.scope.entries):
                continue  # what is left of the whole
            for entry in shares:
                if (
                    abs(leaf.typed / entry.stated / 10.0 - 1.0) < 1e-9
                    or abs(leaf.typed / entry.stated / 0.1 - 1.0) < 1e-9
                ):
                    right = self.changed(tree, path, Leaf(entry.stated, text=f"{entry.stated:g}"))
                    cause = f"{leaf.text} is put in for {entry.leaf.text}"
                    return self.tell("S35", cause, f"with {entry.stated:g}", right, ("S08", "S37"))
        return False

    def _allowance_digits(self) -> bool:
        """1.2 put in for 2 %: the name of the line says the percentage."""
        said = re.search(r"(\d+(?:\.\d+)?)\s*(?:%|percent|per cent)", self.context.words)
        if not said:
            return False
        share = float(said.group(1)) / 100.0
        for path, leaf in walk(self.best):
            if (
                isinstance(leaf, Leaf)
                and leaf.bare
                and leaf.page < 0
                and 1.0 < leaf.typed < 2.0
                and (abs(leaf.typed - 1.0 - 10.0 * share) < 1e-9)
            ):
                right = self.changed(self.best, path, replace(leaf, typed=1.0 + share))
                cause = f"{leaf.text} is put in for {said.group(0)} more"
                return self.tell("S35", cause, f"with {1 + share:g}", right, ("S08", "S37"), common=0.6)
        return False

    def _growth_twice(self, tree: Node) -> bool:
        """The same allowance in one product twice."""
        if (
            not isinstance(tree, Op)
            or tree.kind != "*"
            or re.search(r"squared|compound|each on top", self.context.words)
        ):
            return False
        factors = [
            leaf
            for leaf in leaves(tree)
            if leaf.bare and 1.0 < leaf.typed < 1.6 and leaf.typed != round(leaf.typed)
        ]
        for one, other in itertools.pairwise(factors):
            if one.typed == other.typed and self.claim.dimension == MASS:
                cause = f"the allowance {one.text} goes in twice"
                return self.tell("S39", cause, "with it once", self.claim.si / one.typed, ("S37",))
        return False

    def _percent_as_number(self) -> bool:
        """5 stands in the line where the page says 5 %."""
        ideas = suits(self.statement.label) - {"mass"}
        for _path, leaf in walk(self.best):
            if (
                not isinstance(leaf, Leaf)
                or not leaf.bare
                or leaf.page >= 0
                or leaf.constant
                or leaf.half == 0
            ):
                continue
            for entry in self.scope.entries:
                if (
                    entry.leaf.unit == "%"
                    and entry.leaf.typed == leaf.typed
                    and (entry.tags & ideas or (leaf.typed >= 10.0 and entry.given))
                ):
                    cause = f"{entry.leaf.text} is taken as the number {leaf.typed:g}"
                    return self.tell("S35", cause, "as a fraction", self.claim.si / 100.0, common=0.6)
        return False

    def _residuals_left_out(self, tree: Node) -> bool:
        ideas = suits(self.statement.label)
        if "end" not in ideas or self.claim.dimension != MASS or ideas & {"propellant", "speed", "height"}:
            return False
        flat = terms_of(tree)
        names = [self.entry_of(node) for _, node in flat]
        if any(e is None or e.tags & {"residual", "usable", "used", "end"} for e in names):
            return False
        masses = [
            e
            for e in self.scope.entries
            if "residual" in e.tags and "tank" not in e.tags and e.leaf.dimension == MASS  # "tank and rest"
        ]
        shares = [e for e in self.scope.entries if "residual" in e.tags and e.leaf.unit == "%"]
        loads = [
            e for e in self.scope.entries
            if e.leaf.dimension == MASS and "propellant" in e.tags and not e.tags & {"usable", "used", "residual"}  # noqa: E501
            and e.stage in ("", self.statement.stage)
        ]  # fmt: skip
        left = (
            masses[-1].stated
            if masses
            else (shares[-1].stated * loads[-1].stated if shares and loads else 0.0)
        )
        if not left or left < 0.002 * self.claim.si:
            return False
        return self.tell("S37", "the residuals are left out", "with them", self.claim.si + left, ("S31",))
