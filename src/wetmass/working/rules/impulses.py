"""Specific impulses of several engines."""

from __future__ import annotations

import re

from wetmass.working.relations import suits
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    leaves,
    walk,
)
from wetmass.working.units import (
    FORCE,
    TIME,
)


class Impulses(Rules):
    """Specific impulses of several engines."""

    def _impulses_by_count(self, tree: Node) -> bool:
        """Specific impulses averaged by the number of engines, though their thrusts differ."""
        if "isp" not in suits(self.statement.label) or self.claim.dimension != TIME:
            return False
        found = [e for leaf in leaves(tree) if (e := self.entry_of(leaf)) is not None and "isp" in e.tags]
        if (
            len(found) != 2
            or any({"sl", "vac"} & e.tags for e in found)
            or any(leaf.dimension == FORCE for leaf in leaves(tree))
        ):
            return False
        if not isinstance(tree, Op) or tree.kind != "/" or len(terms_of(tree.parts[0])) != 2:
            return False
        if not any("count" in e.tags for e in self.scope.entries):
            return False
        thrusts = [
            next(
                (t for t in self.scope.entries if t.leaf.dimension == FORCE and t.tags & (e.tags - {"isp"})),
                None,
            )
            for e in found
        ]
        if any(t is None for t in thrusts):
            return False
        pairs = [(t.stated, e.stated) for t, e in zip(thrusts, found, strict=True) if t is not None]
        right = sum(t for t, _ in pairs) / sum(t / i for t, i in pairs)
        if abs(right / self.claim.si - 1.0) < 0.004:
            return False
        return self.tell(
            "S25", "the impulses are averaged by count", "weighted by flow, ΣF / Σ(F/Isp),", right
        )

    def _impulses_added(self, tree: Node) -> bool:
        """Two specific impulses added and not halved."""
        for path, node in walk(tree):
            if not isinstance(node, Op) or node.kind != "+" or not path:
                continue
            flat = terms_of(node)
            found = [self.entry_of(part) for _, part in flat]
            if len(flat) < 2 or any(e is None or "isp" not in e.tags for e in found):
                continue
            above: Node = tree
            for index in path[:-1]:
                assert isinstance(above, Op)
                above = above.parts[index]
            if isinstance(above, Op) and above.kind == "/" and path[-1] == 0:
                continue
            right = self.claim.si / len(flat)
            return self.tell(
                "S25", "specific impulses are added", "with one of them, or their mean,", right, ("S01",)
            )
        return False

    def _added_impulses(self) -> bool:
        """Specific impulses never add; their straight mean holds only for equal flows."""
        if "isp" not in suits(self.statement.label):
            return False
        flat = terms_of(self.best)
        both = len(flat) >= 2 and all(
            sign > 0
            and isinstance(tree, Leaf)
            and (tree.dimension == TIME or tree.bare)
            and 60 < tree.si < 1300
            for sign, tree in flat
        )
        if not both:
            return False
        total = len(flat)
        mean = self.claim.si / total
        cure = "at most their mean, weighted by flow,"
        return self.tell("S25", "specific impulses are added", cure, mean, common=0.6)

    def _straight_mean(self, tree: Node) -> bool:
        """Two specific impulses halved, on a page whose boosters burn beside a core."""
        times = self.claim.dimension == TIME and re.search(r"\d\s*kn at \d", self.context.words)
        if ("isp" not in self.ideas and not times) or not isinstance(tree, Op) or tree.kind != "/":
            return False
        above, below = tree.parts
        flat = terms_of(above)
        if not isinstance(below, Leaf) or below.typed != len(flat) or len(flat) != 2:
            return False
        parts = [part for _, part in flat if isinstance(part, Leaf) and 60.0 < part.si < 1300.0]
        if len(parts) != 2 or re.search(r"sea|vac|ground|climb|ascent|\bsl\b|altitude", self.context.words):
            return False
        if any({"sl", "vac"} & e.tags for part in parts if (e := self.entry_of(part)) is not None):
            return False
        if not re.search(r"booster|strap|parallel|side by side", self.checker.low):
            return False
        low, high = sorted(part.si for part in parts)
        if high / low < 1.01:
            return False
        thrusts = [
            e.stated
            for kind in ("booster", "core")
            for e in [
                next((x for x in self.scope.entries if x.leaf.dimension == FORCE and kind in x.tags), None)
            ]
            if e is not None
        ]
        right = 2.0 / (1.0 / low + 1.0 / high)
        if len(thrusts) == 2:  # by the thrusts the page gives, one booster's times their number
            count = next((n for n, name in self.context.counts if "booster" in name), 1.0)
            booster, core = thrusts[0] * count, thrusts[1]
            right = (booster + core) / (booster / parts[0].si + core / parts[1].si)
        return self.tell(
            "S25", "the impulses are averaged straight", "weighted by flow, ΣF / Σ(F/Isp),", right
        )
