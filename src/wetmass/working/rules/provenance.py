"""What a number is by how the page came to it: a propellant by its sum, a circular speed by its root, a sine by its name."""

from __future__ import annotations

import math
import re

from wetmass.working.linking import linked
from wetmass.working.rules.base import Rules
from wetmass.working.scope import Entry
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, exactly, walk
from wetmass.working.units import FORCE, MASS, MASS_FLOW, NONE, SPEED


class Provenance(Rules):
    """What a number is by how the page came to it."""

    def _made_by(self, entry: Entry) -> Node | None:
        """The working of a value of the page, its numbers known."""
        origin = self.checker.working_of(entry.index)
        return linked(origin, self.scope) if origin is not None else None

    def _propellant_over_the_rest(self, tree: Node) -> bool:
        """A ratio of two masses whose sum is a mass of the page: the upper one is what burns."""
        for path, node in walk(tree):
            if not isinstance(node, Op) or (
                node.kind not in ("ln", "log") and not ("ratio" in self.ideas and not path)
            ):
                continue
            quotient = node.parts[0] if node.kind in ("ln", "log") else node
            if not isinstance(quotient, Op) or quotient.kind != "/":
                continue
            high, low = quotient.parts
            if not (isinstance(high, Leaf) and isinstance(low, Leaf)) or self.ideas & {"mixture", "payload"}:
                continue
            if high.dimension != low.dimension or (high.dimension != MASS and not high.bare):
                continue
            above = self.entry_of(high)
            if above is not None and above.tags & {"start", "total"}:
                continue
            whole = high.si + low.si
            room = 1.01 * (high.half * high.factor + low.half * low.factor)
            fitting = [
                e
                for e in self.scope.entries
                if (e.leaf.dimension == MASS or e.leaf.bare)
                and abs((e.leaf.typed if high.bare else e.stated) - whole)
                <= min(room, 2e-3 * whole) + 1e-9 * whole
            ]
            if not fitting or any(e.tags & {"propellant", "ratio", "flow", "end"} for e in fitting):
                continue
            inner = (*path, 0) if node.kind in ("ln", "log") else path
            right = self.changed(tree, inner, exactly(whole / low.si))
            cause = f"{high.text}, what burns away, stands above as if it were the start mass"
            return self.tell("S05", cause, f"with {fitting[-1].leaf.text}", right, ("S31",))
        return False

    def _circular(self, entry: Entry | None) -> bool:
        """Whether a speed of the page is that on a circle."""
        if entry is None or entry.leaf.dimension != SPEED:
            return False
        made = self._made_by(entry)
        if made is None:
            return "circular" in entry.tags and not entry.tags & {"dv", "transfer", "perigee", "apogee"}
        roots = [node for _, node in walk(made) if isinstance(node, Op) and node.kind in ("sqrt", "^")]
        if len(roots) != 1 or not isinstance(roots[0].parts[0], Op) or roots[0].parts[0].kind != "/":
            return False
        leaves_above = [p for _, p in walk(roots[0].parts[0].parts[0]) if isinstance(p, Leaf)]
        return len(leaves_above) == 1 and leaves_above[0].dimension == (3.0, 0.0, -2.0, 0.0, 0.0)

    def _circles_subtracted(self, tree: Node) -> bool:
        """The difference of two circular speeds taken for a burn of the transfer between them."""
        words = self.written
        if self.claim.dimension != SPEED or not re.search(
            r"\btransfer|\binject|\bhohmann|\bburn\b|\bkick\b|\bfrom .* to\b|\bcosts?\b|\bneeds?\b|Δv", words
        ):
            return False
        flat = terms_of(tree)
        if (
            len(flat) != 2
            or flat[0][0] < 0
            or flat[1][0] > 0
            or re.search(r"\bdifference\b|\bslower\b|\bfaster\b", words)
        ):
            return False
        one, other = (self.entry_of(part) for _, part in flat)
        if not (self._circular(one) and self._circular(other)) or one is None or other is None:
            return False
        v1, v2 = max(one.stated, other.stated), min(one.stated, other.stated)
        if v1 / v2 < 1.02:
            return False
        first = v1 * (math.sqrt(2.0 * v1**2 / (v1**2 + v2**2)) - 1.0)
        second = v2 * (1.0 - math.sqrt(2.0 * v2**2 / (v1**2 + v2**2)))
        whole = first + second
        if re.search(r"\binject|\binto the transfer|\bfirst\b|\bdepart|\bleav", words):
            right, what = first, "with the speed of the ellipse at its low end less the circular one"
        elif re.search(r"\bsecond\b|\bcircularis|\bapogee\b|\barriv", words):
            right, what = second, "with the circular speed less that of the ellipse at its high end"
        else:
            right, what = whole, "with the two burns of the transfer ellipse"
        if abs(right / self.claim.si - 1.0) < 0.01:
            return False
        return self.tell("S48", "the two circular speeds are subtracted", what, right, ("S49",))

    def _other_inverse(self, tree: Node) -> bool:
        """The arc cosine of a sine, or the reverse."""
        for path, node in walk(tree):
            if not isinstance(node, Op) or node.kind not in ("asin", "acos"):
                continue
            entry = self.entry_of(node.parts[0])
            if entry is None:
                continue
            said = re.match(r"\W*(sin|cos)\w*\b", entry.name.lower())
            if said is None or said.group(1) == node.kind[1:]:
                continue
            proper = "a" + said.group(1)
            right = self.changed(tree, path, Op(proper, node.parts))
            return self.tell(
                "S46",
                f"the arc {'cosine' if node.kind == 'acos' else 'sine'} is taken of a {'sine' if proper == 'asin' else 'cosine'}",
                "with the other",
                right,
                ("S14", "S56"),
            )
        return False

    def _thrust_of_one_in_flow(self, tree: Node) -> bool:
        """The flow of a stage from the thrust of one of its engines, though the page has that of all."""
        words = self.statement.label.lower()
        if self.claim.dimension != MASS_FLOW or re.search(r"\bone\b|\beach\b|\bper\b|\bsingle\b", words):
            return False
        if not self.statement.stage and not re.search(r"\ball\b|\btotal\b", words):
            return False
        for path, leaf in walk(tree):
            entry = self.entry_of(leaf)
            if (
                entry is None
                or not isinstance(leaf, Leaf)
                or entry.leaf.dimension != FORCE
                or not re.search(r"\bof one\b|\beach\b|\bper engine\b", entry.name.lower())
            ):
                continue
            whole = [
                e for e in self.scope.entries
                if e.leaf.dimension == FORCE and e.stage == entry.stage and e is not entry and "thrust" in e.tags and e.stage in ("", self.statement.stage)
                and abs(e.stated / entry.stated - round(e.stated / entry.stated)) < 1e-6 and 2 <= round(e.stated / entry.stated) <= 60
            ]  # fmt: skip
            if len({round(e.stated) for e in whole}) == 1:
                n = round(whole[0].stated / entry.stated)
                right = self.changed(tree, path, self.scope.leaf(whole[0]))
                return self.tell("S30", f"only one of the {n} is counted", "with all of them", right)
        return False

    def _total_by_the_ratio(self, tree: Node) -> bool:
        """A fuel as total over mixture ratio, where the next line takes it off the same total."""
        if (
            not isinstance(tree, Op)
            or tree.kind != "/"
            or self.claim.dimension not in (MASS, MASS_FLOW)
            or self.claim.bare
        ):
            return False
        whole, ratio = tree.parts
        if (
            not isinstance(whole, Leaf)
            or not isinstance(ratio, Leaf)
            or not 1.05 < ratio.typed < 9.0
            or ratio.dimension != NONE
        ):
            return False
        entry = self.entry_of(ratio)
        if entry is None or not entry.tags & {"mixture"} or self.ideas & {"end", "start"}:
            return False
        number = re.escape(whole.text.split(" ")[0])
        stated = re.escape(self.claim.text.split(" ")[0])
        if not re.search(
            rf"(?<![\d.,]){number}\s*(?:t|kg|kg/s|lb)?\s*[−–-]\s*{stated}(?![\d])", self.checker.text
        ):
            return False
        right = self.claim.si * ratio.typed / (1.0 + ratio.typed)
        return self.tell(
            "S29", "the total is divided by the mixture ratio itself", "by one plus the mixture ratio", right
        )
