"""The masses and the base of a logarithm."""

from __future__ import annotations

from dataclasses import replace

from wetmass.working.relations import ideas_of, suits
from wetmass.working.rules.base import Rules
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.finder import Found
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    Unfit,
    evaluate,
    put,
    walk,
)
from wetmass.working.units import (
    SPEED,
)


class Logarithms(Rules):
    """The masses and the base of a logarithm."""

    def _common_logarithm(self) -> bool:
        """log₁₀ written, or meant by log, where a rocket equation asks for ln."""
        ideas = suits(self.statement.label)
        if "dv" not in ideas or "ratio" in ideas:
            return False
        for path, node in walk(self.best):
            if isinstance(node, Op) and (
                node.kind == "log10" or (node.kind == "log" and self.meaning.log_is_ten)
            ):
                try:
                    natural = evaluate(
                        put(self.best, path, Op("ln", node.parts)), replace(self.meaning, log_is_ten=False)
                    )
                    stated = evaluate(self.best, self.meaning)
                except Unfit:
                    return False
                if not stated.value:
                    return False
                right = self.claim.si * natural.value / stated.value
                edit = Edit("S03", self.best, "log₁₀ is used for ln", "with ln")
                self.conclude([Found(edit, self.claim.si, right, 0.9)], right)
                return True
        return False

    def _logarithm_below_one(self, tree: Node) -> bool:
        """A speed gained that comes out negative: the masses are upside down."""
        if self.claim.dimension != SPEED or self.claim.si >= 0.0 or terms_of(tree)[1:]:
            return False
        for _path, node in walk(tree):
            if not isinstance(node, Op) or node.kind not in ("ln", "log"):
                continue
            first = next((leaf for _, leaf in walk(node) if isinstance(leaf, Leaf)), None)
            if first is not None and "start" in ideas_of(first):
                continue  # the start mass does stand above
            if 0.0 < evaluate(node.parts[0]).value < 1.0:
                cause = "the masses are upside down in the logarithm"
                return self.tell("S04", cause, "with the start mass above", -self.claim.si, ("S05",))
        return False

    def _propellant_in_logarithm(self, tree: Node) -> bool:
        """The propellant where the start or the final mass belongs."""
        for path, node in walk(tree):
            if not (isinstance(node, Op) and node.kind in ("ln", "log") and isinstance(node.parts[0], Op)):
                continue
            ratio = node.parts[0]
            if ratio.kind != "/":
                continue
            high, low = ratio.parts
            above, below = self.entry_of(high), self.entry_of(low)
            wet = {"start", "end", "dry", "total", "gross", "left", "stack"}
            if above is not None and above.tags & {"propellant", "used"} and not above.tags & wet:
                right = self.changed(tree, (*path, 0, 0), Op("+", (high, low)))
                return self.tell(
                    "S05",
                    "the propellant stands above as if it were the start mass",
                    "with the start mass",
                    right,
                    ("S31",),
                )
            if below is not None and "propellant" in below.tags and not below.tags & wet:
                right = self.changed(tree, (*path, 0, 1), Op("-", (high, low)))
                return self.tell(
                    "S05",
                    "the propellant stands below as if it were the final mass",
                    "with the final mass",
                    right,
                    ("S31",),
                )
        return False
