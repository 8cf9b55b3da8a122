"""What a page remembers of each line: its value under its names, what is of one and what of all, heights."""

from __future__ import annotations

import re

from wetmass.record.working import Verdict
from wetmass.working.givens import ideas_of_label
from wetmass.working.judgement import Judged
from wetmass.working.labels import keys_of
from wetmass.working.linking import linked
from wetmass.working.names import key, tags
from wetmass.working.scope import Entry, Scope
from wetmass.working.statement import Statement
from wetmass.working.tree import (
    Leaf,
    Meaning,
    Node,
    Op,
    leaves,
    walk,
)
from wetmass.working.units import (
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    TIME,
)

_LEFT_BEHIND = re.compile(
    r"can ?not be (?:got|taken|pumped|drawn|burnt|burned|used)|stays? (?:behind )?in the (?:tanks?|lines|pipes)|clings|"
    r"never (?:burns|leaves)|is (?:lost|stuck) in the (?:tanks?|lines|pipes)|unusable"
)


class Memory:
    """The values of the page so far, as lines are checked."""

    scope: Scope
    faulty: set[int]
    doubtful: set[int]
    ends: list[tuple[int, int, Node | None, Meaning]]

    def engine_counts(self, stage: str = "") -> tuple[tuple[float, str], ...]:
        """How many engines the page speaks of, with their names; those of another stage left out."""
        return tuple(
            (entry.stated, entry.name)
            for entry in self.scope.entries
            if "count" in entry.tags
            and entry.leaf.bare
            and 2 <= entry.stated <= 60
            and (not stage or entry.stage in ("", stage))
        )

    def working_of(self, index: int) -> Node | None:
        """How the page came to a value, None where it is given."""
        return next((node for _, made, node, _ in self.ends if made == index and node is not None), None)

    def of_all(self, tree: Node | None) -> bool:
        """Whether a value is so many times that of one."""
        if not isinstance(tree, Op) or tree.kind != "*":
            return False
        return any(
            isinstance(part, Leaf) and part.bare and 2 <= part.typed <= 60 and part.typed == int(part.typed)
            for part in tree.parts
        )

    def of_one(self, tree: Node | None, claim: Leaf) -> bool:
        """Whether a flow or thrust was worked out from that of one engine."""
        if tree is None or claim.dimension not in (FORCE, MASS_FLOW):
            return False
        counts = [e for e in self.scope.entries if "count" in e.tags and e.leaf.bare]
        here = leaves(linked(tree, self.scope))
        if len(counts) != 1 or any(leaf.bare and leaf.typed == counts[0].stated for leaf in here):
            return False
        return any(leaf.page >= 0 and "each" in self.scope.entries[leaf.page].tags for leaf in here)

    def heights(self, tree: Node | None) -> None:
        """A length added to the radius of the Earth is a height."""
        for _, node in walk(tree) if tree is not None else ():
            if not isinstance(node, Op) or node.kind != "+":
                continue
            one, other = node.parts
            for radius, height in ((one, other), (other, one)):
                if not isinstance(radius, Leaf) or not isinstance(height, Leaf) or height.page < 0:
                    continue
                entry = self.scope.entries[height.page]
                if abs(radius.si / 6.3745e6 - 1.0) < 0.001 and entry.leaf.dimension == LENGTH:
                    entry.tags = entry.tags - {"radius", "orbit"} | {"height"}
                    entry.name = entry.name if "height" in tags(entry.name) else "height"

    def remember(self, statement: Statement, judged: Judged, index: int) -> None:
        label = statement.label
        keys = keys_of(statement.title or label)
        if label != statement.title:
            keys += tuple(k for k in keys_of(label) if k not in keys)
        if not keys:
            return
        true = judged.recomputed if judged.recomputed is not None else judged.claim.si
        ideas = ideas_of_label(label, statement, judged.claim)
        if judged.claim.dimension == MASS and _LEFT_BEHIND.search(statement.note):
            ideas = ideas | {"residual"}
        if re.match(r"\s*,?\s*(?:each|apiece|per)\b", statement.note):
            ideas = ideas | {"each"}
        if "each" in ideas and self.of_all(judged.best):
            ideas = ideas - {"each"} | {"total"}
        if self.of_one(judged.best, judged.claim) and not ideas & {"total", "count"}:
            ideas = ideas | {"each"}
        entry = Entry(
            len(self.scope.entries),
            statement.title or label,
            keys,
            ideas,
            statement.stage,
            statement.raw.section,
            statement.raw.number,
            judged.claim,
            judged.best is None,
            true,
            judged.unrounded,
        )
        self.scope.add(entry)
        self.heights(judged.best)
        follows = judged.best is not None and any(leaf.page in self.faulty for leaf in leaves(judged.best))
        if judged.verdict is Verdict.OFF or follows:
            self.faulty.add(entry.index)
            if judged.slips and judged.slips[0].kind in ("S02", "S07", "S16"):
                self.doubtful.add(entry.index)
        self.ends.append((index, entry.index, judged.best, judged.meaning))
        impulse = re.search(
            r"(?:\bat|with|@|,|\bIsp\b)\s*(?:Isp\s*)?(\d{2,4}(?:\.\d+)?)\s*s\b", statement.note
        )
        if impulse and judged.claim.dimension == FORCE:
            leaf = Leaf(float(impulse.group(1)), 1.0, TIME, False, 0.5, "s", text=f"{impulse.group(1)} s")
            name = f"{label} Isp"
            self._note(statement, name, (key(name),), (ideas - {"thrust"}) | {"isp"}, leaf)
        counted = _counted(statement.note)
        if counted is not None and not any("count" in e.tags for e in self.scope.entries):
            leaf = Leaf(float(counted), text=str(counted), half=0.5)
            self._note(statement, "engines", ("engine", "engines"), frozenset({"engine", "count"}), leaf)

    def _note(
        self, statement: Statement, name: str, keys: tuple[str, ...], ideas: frozenset[str], leaf: Leaf
    ) -> None:
        """A value that stands in the remark behind a line."""
        raw = statement.raw
        self.scope.add(
            Entry(
                len(self.scope.entries), name, keys, ideas, statement.stage, raw.section, raw.number,
                leaf, True, leaf.si, leaf.si,
            )
        )  # fmt: skip


def _counted(note: str) -> int | None:
    """How many engines a remark speaks of."""
    match = re.search(r"\b(\d{1,2})\s+(?:engines|motors|boosters)\b", note)
    return int(match.group(1)) if match else None
