"""Means taken straight where something else adds: volumes, flows, times."""

from __future__ import annotations

import math
import re

from wetmass.working.names import tags
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, evaluate, leaves, walk
from wetmass.working.units import ACCELERATION, DENSITY, MASS, NONE, SPEED, TIME, VOLUME

_TOGETHER = re.compile(
    r"\b(?:together|common|joint|both|parallel|combined|side by side|all|boosters?|cluster)\b"
)
_ONE_ENGINE = re.compile(
    r"\bsea\b|\bvac|\bground\b|\bclimb|\bascent\b|\bsl\b|\baltitude\b|\bway up\b|\bover the flight\b"
)


class Means(Rules):
    """Means taken straight where something else adds."""

    def _parted(self, tree: Node) -> tuple[list[tuple[float, Node]], float] | None:
        """The (weight, value) pairs above a line and what they are divided by, None where it is no mean."""
        if not isinstance(tree, Op) or tree.kind != "/":
            return None
        above, below = tree.parts
        flat = terms_of(above)
        if len(flat) < 2 or any(sign < 0 for sign, _ in flat):
            return None
        pairs: list[tuple[float, Node]] = []
        for _, term in flat:
            if isinstance(term, Leaf):
                pairs.append((1.0, term))
            elif isinstance(term, Op) and term.kind == "*" and all(isinstance(p, Leaf) for p in term.parts):
                one, other = (p for p in term.parts if isinstance(p, Leaf))
                shares = [
                    e is not None and bool(e.tags & {"mixture", "count"})
                    for e in map(self.entry_of, (one, other))
                ]
                turned = shares[0] if any(shares) else other.si > one.si and one.dimension != DENSITY
                value, weight = (other, one) if turned else (one, other)
                pairs.append((weight.typed if weight.dimension == NONE else weight.si, value))
            else:
                return None
        return pairs, evaluate(below, self.meaning).value

    def _densities_by_mass(self, tree: Node) -> bool:
        """Densities averaged by shares of mass, where the volumes add."""
        if self.claim.dimension != DENSITY and "density" not in self.ideas:
            return False
        parted = self._parted(tree)
        if parted is None or re.search(r"\bby volume\b|\bm³ of\b|volumes", self.written):
            return False
        pairs, below = parted
        weights = sum(weight for weight, _ in pairs)
        values = [value.typed for _, value in pairs if isinstance(value, Leaf)]
        if (
            len(values) != len(pairs)
            or not weights
            or abs(weights / below - 1.0) > 0.006
            or min(values) <= 0.0
        ):
            return False
        if all(weight == 1.0 for weight, _ in pairs) or max(values) / min(values) < 1.05:
            return False
        if any(leaf.dimension == VOLUME for leaf in leaves(tree)):
            return False
        straight = sum(weight * value for (weight, _), value in zip(pairs, values, strict=True)) / below
        harmonic = weights / sum(weight / value for (weight, _), value in zip(pairs, values, strict=True))
        right = self.claim.si * harmonic / straight
        return self.tell(
            "S28", "the densities are averaged by mass", "with the volumes added", right, ("S27", "S25")
        )

    def _halved(self, tree: Node | None) -> tuple[Node, Node] | None:
        """The two values of a mean of two, None where it is no such mean."""
        parted = self._parted(tree) if tree is not None else None
        if parted is None or len(parted[0]) != 2 or parted[1] != 2.0:
            return None
        (_, one), (_, other) = parted[0]
        return one, other

    def _impulses_of_unlike_engines(self, tree: Node) -> bool:
        """Specific impulses of engines that burn together averaged straight, whatever flows through each."""
        if self.claim.dimension != TIME or ("isp" not in self.ideas and "impulse" not in self.written):
            return False
        parted = self._parted(tree)
        words = self.written
        if (
            parted is None
            or any(weight != 1.0 for weight, _ in parted[0])
            or abs(parted[1] - len(parted[0])) > 1e-9
        ):
            return False
        values = [value.si for _, value in parted[0] if isinstance(value, Leaf)]
        if len(values) != len(parted[0]) or not all(60.0 < value < 20000.0 for value in values):
            return False
        entries = [self.entry_of(value) for _, value in parted[0]]
        if _ONE_ENGINE.search(words) or any(e is not None and e.tags & {"sl", "vac"} for e in entries):
            return False
        if max(values) / min(values) < 1.2 and not _TOGETHER.search(words):
            return False
        right = len(values) / sum(1.0 / value for value in values)
        return self.tell(
            "S25",
            "the impulses are averaged straight",
            "thrust over flow of all of them together, at equal thrusts,",
            right,
        )

    def _impulse_of_several(self, tree: Node) -> bool:
        """The impulse of one engine times their number."""
        if self.claim.dimension != TIME or not isinstance(tree, Op) or tree.kind != "*":
            return False
        for one, other in (tree.parts, tree.parts[::-1]):
            entry = self.entry_of(one)
            if (
                not isinstance(other, Leaf)
                or not other.bare
                or other.typed not in (2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0)
            ):
                continue
            words = self.written
            if (
                entry is not None
                and entry.leaf.dimension == TIME
                and ("isp" in entry.tags or "specific impulse" in words)
            ):
                return self.tell(
                    "S25", "the impulses of several engines are added", "that of one", entry.stated, ("S30",)
                )
        return False

    def _speeds_over_equal_ways(self, tree: Node) -> bool:
        """Two speeds held over equal ways, averaged as if over equal times."""
        words = self.written
        if self.claim.dimension != SPEED or not re.search(
            r"\bhalf (?:of )?the (?:distance|way|route|path)", words
        ):
            return False
        pair = self._halved(tree)
        if pair is None:
            return False
        one, other = (value.si for value in pair if isinstance(value, Leaf))
        return self.tell(
            "S28", "the speeds are averaged straight", "with the times of the two halves added", 2.0 / (1.0 / one + 1.0 / other),
            ("S25", "S41"),
        )  # fmt: skip

    def _mean_of_the_ends(self, tree: Node) -> bool:
        """The mean of the accelerations at both ends taken for that over the time of a burn."""
        words = self.written
        if self.claim.dimension != ACCELERATION or not re.search(
            r"over the (?:burn|time|whole burn)|over burn time", words
        ):
            return False
        pair = self._halved(tree)
        if pair is None:
            return False
        entries = [self.entry_of(value) for value in pair]
        if any(e is None for e in entries):
            return False
        said = [e.tags | tags(e.name) for e in entries if e is not None]
        low, high = sorted(e.stated for e in entries if e is not None)
        if not (said[0] & {"start", "end"} and said[1] & {"start", "end"}) or high / low < 1.5:
            return False
        right = low * math.log(high / low) / (1.0 - low / high)
        return self.tell(
            "S41", "the two ends are averaged", "with the mass falling steadily", right, ("S01",)
        )

    def _mean_without_bracket(self, tree: Node) -> bool:
        """The mean of two numbers of which only the second is halved."""
        words = self.written
        if (
            not re.search(r"\bmiddle\b|\bmean\b|\baverage\b|\bhalf-?way\b", words)
            or not isinstance(tree, Op)
            or tree.kind != "+"
        ):
            return False
        first, second = tree.parts
        if not isinstance(first, Leaf) or not isinstance(second, Op) or second.kind != "/":
            return False
        other, two = second.parts
        if (
            not isinstance(other, Leaf)
            or not isinstance(two, Leaf)
            or two.typed != 2.0
            or not 0.2 < other.si / first.si < 5.0
        ):
            return False
        right = self.claim.si * (first.si + other.si) / 2.0 / (first.si + other.si / 2.0)
        return self.tell("S56", "only the second of the two is halved", "with the bracket", right, ("S01",))

    def _mean_mass_of_a_long_burn(self, tree: Node) -> bool:
        """The mean of the masses at both ends below a thrust, where so much burns that it tells."""
        if self.claim.dimension != ACCELERATION:
            return False
        for path, node in walk(tree):
            if not isinstance(node, Op) or node.kind != "/" or not isinstance(node.parts[1], Leaf):
                continue
            entry = self.entry_of(node.parts[1])
            if entry is None or entry.leaf.dimension != MASS:
                continue
            pair = self._halved(self.checker.working_of(entry.index))
            if pair is None:
                continue
            one, other = (value.si for value in pair if isinstance(value, Leaf))
            ratio = max(one, other) / min(one, other)
            if ratio < 1.01:
                continue
            if "mean mass" in self.statement.label.lower() or self.statement.about:
                return False
            more = (ratio + 1.0) / 2.0 * math.log(ratio) / (ratio - 1.0)
            if more < 1.08:
                return False
            right = self.changed(tree, path, Op("*", (node, Leaf(more, text=f"{more:.3g}"))))
            cause = "the mean mass is taken, though the acceleration goes with one over the mass"
            return self.tell("S41", cause, "with the mass falling steadily", right, ("S01",))
        return False
