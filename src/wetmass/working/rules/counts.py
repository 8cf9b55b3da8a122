"""One of several for all of them."""

from __future__ import annotations

import re
from dataclasses import replace

from wetmass.working.linking import linked
from wetmass.working.names import tags
from wetmass.working.relations import suits
from wetmass.working.rules.base import Rules
from wetmass.working.scope import Entry
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    exactly,
    leaves,
    walk,
)
from wetmass.working.units import (
    FORCE,
    MASS,
    MASS_FLOW,
    SPEED,
)

_OUT = re.compile(
    r"\b(?:engine|motor|one|two) (?:engine |motor )?(?:out|failed|lost|dead|off)\b|\bfailed engine\b"
)


class Counts(Rules):
    """One of several for all of them."""

    def _one_of_many(self) -> bool:
        """The thrust or flow of one engine where the name of the line means the vehicle."""
        ideas = suits(self.statement.label)
        if not ideas & {"twr", "liftoff", "total", "burn"} or ideas & {"engine", "each"}:
            return False
        if self.claim.dimension == SPEED:
            return False  # speeds are not those of one engine
        if re.search(
            r"\b(?:a|an|one|each|single|per) (?:fan|engine|booster|motor|rocket|thruster|turbofan)\b",
            self.context.words,
        ):  # noqa: E501
            return False
        stage = self.statement.stage
        counts = [
            e
            for e in self.scope.entries
            if "count" in e.tags
            and e.leaf.bare
            and 1 <= e.stated <= 60
            and (not stage or e.stage in ("", stage))
        ]
        if any(e.stage == stage and e.stated == 1 for e in counts if stage):
            return False
        counts = [e for e in counts if e.stated >= 2]
        named = linked(self.best, self.scope)
        for path, leaf in walk(named):
            if not isinstance(leaf, Leaf) or leaf.page < 0:
                continue
            entry = self.scope.entries[leaf.page]
            if not entry.tags & {"engine", "each"} or entry.tags & {"total", "liftoff", "count"}:
                continue
            if entry.tags & ideas & {"booster", "fan"}:
                continue  # the burn of one booster by the flow of one
            whole = next(
                (
                    e
                    for e in self.scope.entries
                    if "total" in e.tags
                    and e.leaf.dimension == entry.leaf.dimension
                    and e.tags & entry.tags & {"thrust", "flow"}
                    and e.stated > 1.5 * entry.stated
                ),
                None,
            )
            mine = [
                e for e in counts if e.tags & entry.tags & {"booster", "engine", "fans", "motors", "rockets"}
            ]
            mine = mine or (counts if len(counts) == 1 else [])
            row = self.checker.low_rows[entry.line - 1] if entry.line else ""
            if re.search(r"\b(?:an|one|a single) (?:[a-z\-]+ )?(?:engine|motor|thruster)\b", row):
                continue
            count = mine[-1].stated if mine else (whole.stated / entry.stated if whole is not None else 0.0)
            if (
                count < 1.5
                or self._holds_count(entry, count)
                or any(
                    (other.page >= 0 and "count" in self.scope.entries[other.page].tags)
                    or (
                        other.bare and 0.5 * count <= other.typed <= count and other.typed == int(other.typed)
                    )
                    for other in leaves(named)
                )
            ):
                continue
            right = self.changed(named, path, Op("*", (leaf, exactly(count))))
            what = f"only one of the {count:g} is counted"
            return self.tell("S30", what, "with all of them", right, common=0.7)
        return False

    def _all_engines_though_one_is_out(self, tree: Node) -> bool:
        if not _OUT.search(self.context.words) or terms_of(tree)[1:]:
            return False
        for path, leaf in walk(tree):
            if not isinstance(leaf, Leaf) or leaf.dimension != (0.0,) * 5 or leaf.constant:
                continue
            entry = self.entry_of(leaf)
            counted = entry is not None and "count" in entry.tags
            counted = counted or (leaf.bare and any(leaf.typed == count for count, _ in self.context.counts))
            if counted and leaf.typed >= 2:
                lost = 2.0 if "two engines out" in self.context.words else 1.0
                right = self.changed(tree, path, exactly(leaf.typed - lost))
                return self.tell(
                    "S30", "the engine that is out is counted", f"with {leaf.typed - lost:g}", right, ("S55",)
                )
        return False

    def _one_of_its_kind(self, tree: Node) -> bool:
        """The thrust, flow or mass of one where the line speaks of all of them together."""
        ideas = suits(self.statement.label)
        whole = ideas & {"liftoff", "total", "twr", "hover", "landing"} or (
            "used" in ideas
            or (ideas & {"fuel", "propellant"} and "flow" not in ideas and self.claim.dimension == MASS)
        )
        if (
            not whole
            or ideas & {"each"}
            or re.search(r"\b(?:per|each|one|single|apiece)\b", self.context.words)
        ):
            return False
        for path, leaf in walk(tree):
            entry = self.entry_of(leaf)
            if (
                entry is None
                or entry.tags & {"total", "count", "core"}
                or entry.leaf.dimension not in (FORCE, MASS_FLOW)
            ):
                continue
            kinds = entry.tags & {"booster", "fan", "engine", "motor", "thruster"}
            if kinds & ideas & {"booster"} and "total" not in ideas:
                continue  # a line of one of them
            counts = [
                e
                for e in self.scope.entries
                if "count" in e.tags | _number(e) and e.tags & kinds and 2 <= e.stated <= 60
            ]
            if not kinds and "each" in entry.tags:
                counts = [e for e in self.scope.entries if "count" in e.tags and e.leaf.bare]
                counts = counts if len(counts) == 1 else []
            if not counts or not ("each" in entry.tags or "booster" in kinds):
                continue
            count = counts[-1].stated
            if self._holds_count(entry, count):
                continue
            used = [other for other in leaves(tree) if other is not leaf]
            if any(
                (other.bare and 0.5 * count <= other.typed <= count) or other.page == counts[-1].index
                for other in used
            ):
                continue
            if not isinstance(leaf, Leaf):
                continue
            right = self.changed(tree, path, replace(leaf, typed=leaf.typed * count))
            return self.tell("S30", f"only one of the {count:g} is counted", "with all of them", right)
        return False

    def _holds_count(self, entry: Entry, count: float) -> bool:
        """Whether the count went into a value already: "thrust = 9 · 450"."""
        origin = self.checker.working_of(entry.index)
        return isinstance(origin, Op) and origin.kind == "*" and any(p.typed == count for p in leaves(origin))

    def one_for_all(self) -> bool:
        """The figure of one engine stated again as that of all of them."""
        ideas = self.ideas
        if "total" not in ideas or self.claim.dimension not in (FORCE, MASS_FLOW) or not self.claim.si:
            return False
        counts = self.context.counts
        if len({n for n, _ in counts}) != 1:
            return False
        for entry in self.scope.entries:
            if self._same_kind(entry) and abs(entry.stated / self.claim.si - 1.0) < 1e-6:
                n = counts[0][0]
                return self.tell(
                    "S30", f"only one of the {n:g} is counted", "with all of them", self.claim.si * n
                )
        return False

    def _same_kind(self, entry: Entry) -> bool:
        return (
            entry.leaf.dimension == self.claim.dimension
            and "total" not in entry.tags
            and not entry.tags & {"start", "core", "booster"}
            and bool(entry.tags & self.ideas & {"thrust", "flow"})
        )

    def _dry_mass_of_one(self, tree: Node) -> bool:
        """The mass of one booster or engine in a sum where all of them come or go together."""
        flat = terms_of(tree)
        if self.claim.dimension != MASS or len(flat) < 2 or self.ideas & {"each", "booster", "engine"}:
            return False
        if re.search(r"\b(?:per|each|one|single|apiece|first of)\b", self.statement.label.lower()):
            return False
        for _sign, part in flat:
            entry = self.entry_of(part)
            if (
                entry is None
                or entry.leaf.dimension != MASS
                or "total" in entry.tags
                or not isinstance(part, Leaf)
            ):
                continue
            kinds = entry.tags & {"booster", "engine", "fan", "motor"}
            if not ("each" in entry.tags or "booster" in kinds) or "count" in entry.tags:
                continue
            counts = [(n, name) for n, name in self.context.counts if not kinds or tags(name) & kinds]
            if len({n for n, _ in counts}) != 1:
                continue
            n = counts[0][0]
            if any(other.bare and other.typed == n for other in leaves(tree)):
                continue
            right = self.claim.si + _sign * (n - 1.0) * part.si
            return self.tell("S30", f"only one of the {n:g} is counted", "with all of them", right, ("S31",))
        return False


def _number(entry: Entry) -> frozenset[str]:
    """ "count" for a bare whole number from 2 to 60 that names engines, boosters, fans."""
    leaf = entry.leaf
    whole = leaf.bare and leaf.typed == int(leaf.typed) and 2 <= leaf.typed <= 60
    return (
        frozenset(["count"]) if whole and entry.tags & {"booster", "fan", "engine", "motor"} else frozenset()
    )
