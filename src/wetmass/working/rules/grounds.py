"""Ground or vacuum: figures and air of another place."""

from __future__ import annotations

import re
from dataclasses import replace

from wetmass.working.relations import ideas_of, suits
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    leaves,
    walk,
)
from wetmass.working.units import (
    DENSITY,
    FORCE,
    MASS_FLOW,
    TIME,
)

_HEIGHT = re.compile(r"\b(?:at|in|near|height|altitude)\s+(?:of\s+)?(\d+(?:\.\d+)?)\s*(km|m|ft)\b")


class Grounds(Rules):
    """Ground or vacuum: figures and air of another place."""

    def _sea_level_air(self) -> bool:
        """The density of air at sea level where the page gives that of the height."""
        if not {"dynamic", "pressure"} <= suits(self.statement.label) or "sea" in self.context.words:
            return False
        local = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == DENSITY and 0.0 < e.stated < 1.19 and "sl" not in e.tags
        ]
        if len(local) != 1:
            return False
        for path, leaf in walk(self.best):
            if (
                isinstance(leaf, Leaf)
                and (leaf.page < 0 or "sl" in self.scope.entries[leaf.page].tags)
                and (abs(leaf.typed - 1.225) < 0.026)
            ):
                new = replace(leaf, typed=local[0].stated / (leaf.factor or 1.0))
                right = self.changed(self.best, path, new)
                cause, cure = "the density at sea level is used", f"with {local[0].leaf.text}"
                return self.tell("S53", cause, cure, right, common=0.55)
        return False

    def _ground_air_aloft(self, tree: Node) -> bool:
        """The density at sea level in a drag or pressure where the page gives that of the height."""
        ideas = suits(self.statement.label)
        if not ideas & {"drag", "dynamic", "heat", "lift"} or re.search(
            r"\bpad\b|\bground\b", self.context.words
        ):
            return False
        local = [
            e for e in self.scope.entries
            if e.leaf.dimension == DENSITY and 0.0 < e.stated < 1.15 and not e.tags & {"sl"}
        ]  # fmt: skip
        if not local:
            return False
        for _path, leaf in walk(tree):
            if isinstance(leaf, Leaf) and abs(leaf.typed - 1.225) < 0.006 and leaf.factor == 1.0:
                new = self.scope.leaf(local[-1])
                right = self.claim.si * new.si / 1.225
                return self.tell(
                    "S53", "the density at sea level is used", f"with {local[-1].leaf.text}", right
                )
        return False

    def _ground_impulse_aloft(self, tree: Node) -> bool:
        """The figure at sea level for a stage that burns above the air, though the page has the other."""
        ideas = suits(self.statement.label)
        stage = self.statement.stage
        aloft = (
            stage in ("2", "3", "4")
            or re.search(r"\bupper\b|\bkick\b|\bin orbit\b|\bvacuum\b", self.context.words)
            or re.search(
                r"\blights? (?:at )?\d+ km\b|\b(?:lit|lights|starts|ignites) (?:up )?(?:above|over|at) \d+ km",
                self.checker.text,
            )
        )
        if not aloft or ideas & {"sl", "liftoff"}:
            return False
        both = {idea for leaf in leaves(tree) if (e := self.entry_of(leaf)) is not None for idea in e.tags}
        if {"sl", "vac"} <= both:
            return False  # one held against the other
        for path, leaf in walk(tree):
            entry = self.entry_of(leaf)
            if entry is None or "sl" not in entry.tags or not entry.tags & {"isp", "exhaust", "thrust"}:
                continue
            if entry.stage not in ("", stage):
                continue
            other = next(
                (
                    e for e in reversed(self.scope.entries)
                    if "vac" in e.tags and e.leaf.dimension == entry.leaf.dimension and e.stage == entry.stage
                    and e.tags & entry.tags & {"isp", "exhaust", "thrust"}
                ),
                None,
            )  # fmt: skip
            if other is not None and abs(other.stated / entry.stated - 1.0) > 0.005:
                right = self.changed(tree, path, self.scope.leaf(other))
                cause = f"the figure at sea level ({entry.leaf.text}) is used above the air"
                return self.tell("S23", cause, f"with {other.leaf.text}", right)
        return False

    def _ground_and_vacuum(self, tree: Node) -> bool:
        """The thrust at sea level over the impulse in vacuum, or the reverse."""
        if self.claim.dimension not in (MASS_FLOW, TIME, FORCE) or terms_of(tree)[1:]:
            return False
        if self.ideas & {"mean", "ratio"} or not self.ideas & {"flow", "isp", "thrust", "burn", "time"}:
            return False
        ground, vacuum = [], []
        for path, leaf in walk(tree):
            if isinstance(leaf, Leaf) and leaf.page >= 0:
                its = self.scope.entries[leaf.page].tags
                ground += [(path, leaf)] if "sl" in its and "vac" not in its else []
                vacuum += [(path, leaf)] if "vac" in its and "sl" not in its else []
        if len(ground) != 1 or len(vacuum) != 1:
            return False
        path, leaf = vacuum[0]
        if leaf.dimension == ground[0][1].dimension and leaf.dimension != self.claim.dimension:
            return False  # one over the other: a thrust is taken from the ground into vacuum
        kinds = ideas_of(leaf) & {"isp", "thrust", "exhaust"}
        proper = [e for e in self.scope.entries if "sl" in e.tags and kinds and kinds <= e.tags]
        if not proper or abs(proper[-1].stated / leaf.si - 1.0) < 0.004:
            return False
        right = self.changed(tree, path, self.scope.leaf(proper[-1]))
        cause = f"{leaf.text} of the vacuum stands beside {ground[0][1].text} of sea level"
        return self.tell("S23", cause, f"with {proper[-1].leaf.text}", right)

    def _ground_air_at_height(self, tree: Node) -> bool:
        """The density at sea level in a line that says how high it is."""
        ideas = self.ideas
        said = _HEIGHT.search(self.context.words)
        if not said or not ideas & {"dynamic", "drag", "lift", "heat"}:
            return False
        height = float(said.group(1)) * {"km": 1e3, "m": 1.0, "ft": 0.3048}[said.group(2)]
        if not 1500.0 < height < 9e4:
            return False
        for path, leaf in walk(tree):
            if isinstance(leaf, Leaf) and abs(leaf.typed - 1.225) < 0.006 and leaf.factor == 1.0:
                from wetmass.physics.atmosphere import air

                density = air(height)[2]
                right = self.changed(tree, path, Leaf(density, text=f"{density:.4g} kg/m³"))
                return self.tell(
                    "S53", "the density at sea level is used", f"with {density:.3g} kg/m³", right
                )
        return False
