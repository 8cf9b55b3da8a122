"""The place or stage that the name of a line says, and its numbers do not."""

from __future__ import annotations

import re

from wetmass.working.linking import linked
from wetmass.working.names import tags
from wetmass.working.relations import suits
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    leaves,
    walk,
)
from wetmass.working.units import PRESSURE

_FIGURES = frozenset(["thrust", "isp", "exhaust", "flow", "booster", "core"])


class Places(Rules):
    """The place or stage that the name of a line says, and its numbers do not."""

    def _same_as_elsewhere(self) -> bool:
        """A figure for vacuum with the digits of the one for sea level, though the page has both."""
        ideas = tags(self.statement.label)
        for wanted, other in (("sl", "vac"), ("vac", "sl")):
            if wanted not in ideas or other in ideas:
                continue
            rest = ideas - {wanted}
            proper = [
                e
                for e in self.scope.entries
                if wanted in e.tags
                and e.leaf.dimension == self.claim.dimension
                and (e.tags & rest) & {"thrust", "isp", "exhaust"}
            ]
            wrong = [
                e
                for e in self.scope.entries
                if other in e.tags
                and e.leaf.dimension == self.claim.dimension
                and self.claim.si
                and abs(e.stated / self.claim.si - 1.0) < 1e-6
            ]
            if len(proper) == 1 and wrong and abs(proper[0].stated / self.claim.si - 1.0) > 0.01:
                where = {"sl": "at sea level", "vac": "in vacuum"}
                cause = f"the figure {where[other]} stands for the one {where[wanted]}"
                return self.tell("S23", cause, f"with {proper[0].name}", proper[0].stated, common=0.7)
        return False

    def _other_place(self) -> bool:
        """The name of the line says sea level, Moon or stage 2; a number in it says otherwise."""
        ideas = tags(self.statement.label)
        assert self.best is not None
        if "liftoff" in ideas or re.search(r"\bpad\b|\blift-?off\b", self.context.words):
            ideas = ideas | {"sl"}
        named = linked(self.best, self.scope)
        if any(leaf.dimension == PRESSURE for leaf in leaves(named)) and terms_of(named)[1:]:
            return False  # the pressure of the air is taken off the figure in vacuum
        for path, leaf in list(walk(named)):
            if not isinstance(leaf, Leaf):
                continue
            mine = tags(leaf.name) if leaf.name else frozenset()
            new: Leaf | None = None
            kind = cause = ""
            for wanted, other in (("sl", "vac"), ("vac", "sl")):
                if wanted in ideas and other not in ideas and other in mine and wanted not in mine:
                    sibling = next(
                        (
                            e
                            for e in self.scope.entries
                            if wanted in e.tags
                            and e.leaf.dimension == leaf.dimension
                            and (e.tags & _FIGURES) >= (mine & _FIGURES)
                            and 0.5 < e.stated / leaf.si < 2.0
                        ),
                        None,
                    )
                    if sibling is not None:
                        where = {"sl": "at sea level", "vac": "in vacuum"}
                        new, kind = self.scope.leaf(sibling), "S23"
                        cause = f"the figure {where[other]} ({leaf.text}) is used for one {where[wanted]}"
            for world, gravity in (("moon", 1.62), ("mars", 3.71)):
                if (world in ideas or f"on the {world}" in self.context.words) and leaf.constant == "g₀":
                    local = next((e for e in self.scope.entries if {world, "gravity"} <= e.tags), None)
                    value = local.stated if local else gravity
                    new, kind = (
                        Leaf(value, dimension=leaf.dimension, bare=False, text=f"{value:g} m/s²"),
                        "S24",
                    )
                    cause = "gravity of Earth is used"
            if new is None or abs(new.si / leaf.si - 1.0) < 1e-3:
                continue
            if any(abs(other.si / new.si - 1.0) < 1e-9 for other in leaves(named) if other.si):
                continue  # both stand in the line: one is taken to the other
            return self.tell(kind, cause, f"with {new.text}", self.changed(named, path, new))
        return False

    def _other_stage(self) -> bool:
        """A figure of another stage, though this one has its own."""
        stage = self.statement.stage
        if not stage or suits(self.statement.label) & {"total", "ratio"}:
            return False
        named = linked(self.best, self.scope)
        for path, leaf in walk(named):
            if not isinstance(leaf, Leaf) or leaf.page < 0:
                continue
            entry = self.scope.entries[leaf.page]
            if (
                not entry.stage
                or entry.stage == stage
                or not entry.tags & {"isp", "exhaust", "thrust", "flow"}
            ):
                continue
            bare = {idea for idea in entry.tags if not idea.startswith("stage ")}
            own = next(
                (
                    e
                    for e in self.scope.entries
                    if e.stage == stage
                    and e.leaf.dimension == entry.leaf.dimension
                    and {i for i in e.tags if not i.startswith("stage ")} == bare
                ),
                None,
            )
            if own is None or abs(own.stated / entry.stated - 1.0) < 0.004:
                continue
            right = self.changed(named, path, self.scope.leaf(own))
            cause = f"{entry.leaf.text}, the figure of stage {entry.stage}, is put in"
            return self.tell("S23", cause, f"with {own.leaf.text} of this stage", right, ("S55",), common=0.5)
        return False
