"""Tanks: ends, radii, stresses and factors of safety."""

from __future__ import annotations

import re

from wetmass.working.relations import ideas_of
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    DEGREES,
    Leaf,
    Node,
    Op,
    evaluate,
    walk,
)
from wetmass.working.units import (
    LENGTH,
    NONE,
    PRESSURE,
    VOLUME,
)


class Shapes(Rules):
    """Tanks: ends, radii, stresses and factors of safety."""

    def _hoop_for_length(self, tree: Node) -> bool:
        """The stress along a cylinder is half of that around it."""
        if self.claim.dimension != PRESSURE or "longitudinal" not in self.ideas or not self.claim.si:
            return False
        hoops = [e for e in self.scope.entries if "hoop" in e.tags and e.leaf.dimension == PRESSURE]
        if not hoops or abs(hoops[-1].stated / self.claim.si - 1.0) > 0.004:
            return False
        return self.tell(
            "S17", "the hoop stress is worked out again", "half of it", self.claim.si / 2.0, ("S01",)
        )

    def _across_for_radius(self, tree: Node) -> bool:
        """A whole diameter added where a radius is meant."""
        if (
            self.claim.dimension != LENGTH
            or not self.ideas & {"radius"}
            or self.ideas & {"diameter", "orbit"}
        ):
            return False
        for sign, part in terms_of(tree):
            if isinstance(part, Leaf) and sign > 0 and "diameter" in ideas_of(part) and part.page >= 0:
                if len(terms_of(tree)) < 2:
                    return False
                right = self.claim.si - part.si / 2.0
                return self.tell("S17", f"{part.name} is added whole", "with half of it", right, ("S31",))
        return False

    def _one_end(self, tree: Node) -> bool:
        """The length over all of a tank holds both of its ends."""
        over_all = "total" in self.ideas or re.search(r"\boverall\b|\bover all\b", self.context.words)
        if self.claim.dimension != LENGTH or not over_all or "each" in self.ideas:
            return False
        flat = terms_of(tree)
        if len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        radii = [e.stated for e in self.scope.entries if e.leaf.dimension == LENGTH and "radius" in e.tags]
        radii += [
            e.stated / 2 for e in self.scope.entries if e.leaf.dimension == LENGTH and "diameter" in e.tags
        ]
        for _, part in flat:
            if isinstance(part, Leaf) and any(abs(part.si / r - 1.0) < 1e-6 for r in radii if r):
                ends = re.search(r"\bone (?:dome|end)\b|\bflat\b", self.context.words)
                if not ends:
                    right = self.claim.si + part.si
                    return self.tell("S18", "only one end is added", "with both ends", right, ("S31", "S17"))
        return False

    def _safety_turned(self, tree: Node) -> bool:
        """A burst, proof or design pressure is above the working pressure; an allowed stress below the strength."""  # noqa: E501
        if self.claim.dimension != PRESSURE or not isinstance(tree, Op) or tree.kind not in "*/":
            return False
        words = self.context.words
        above = re.search(r"\b(?:burst|proof|design|test)\b", words) and "stress" not in self.ideas
        below = re.search(r"\b(?:allowable|allowed|permitted|working)\b", words) and "stress" in self.ideas
        base, factor = tree.parts
        if not isinstance(base, Leaf) or not isinstance(factor, Leaf) or base.dimension != PRESSURE:
            return False
        if factor.dimension != NONE or not 1.0 < factor.typed < 5.0:
            return False
        if above and tree.kind == "/":
            right = self.claim.si * factor.typed**2
        elif below and tree.kind == "*":
            right = self.claim.si / factor.typed**2
        else:
            return False
        return self.tell(
            "S04", "the factor of safety works the wrong way", "the right way round", right, ("S56",)
        )

    def _frustum_by_mean_radius(self, tree: Node) -> bool:
        """A cone cut flat taken as a cylinder of its mean radius."""
        said = re.search(
            r"(\d+(?:\.\d+)?)\s*(?:m\s*)?(?:to|and|/|→|down to)\s*(\d+(?:\.\d+)?)\s*m\b", self.context.words
        )
        if (
            self.claim.dimension != VOLUME
            or not said
            or not re.search(r"frustum|cone|conical|taper", self.context.words)
        ):
            return False
        one, other = float(said.group(1)), float(said.group(2))
        if "diameter" in self.context.words or "across" in self.context.words:
            one, other = one / 2.0, other / 2.0
        mean = (one + other) / 2.0
        for _path, node in walk(tree):
            if (
                isinstance(node, Op)
                and node.kind == "^"
                and isinstance(node.parts[0], Leaf)
                and abs(node.parts[0].typed - mean) < 1e-6
            ):  # noqa: E501
                right = self.claim.si * (one * one + one * other + other * other) / 3.0 / mean**2
                if abs(right / self.claim.si - 1.0) > 0.002:
                    return self.tell(
                        "S19", "the mean radius is taken", "with (R² + R·r + r²)/3", right, ("S18",)
                    )
        return False

    def _ring_without_its_one(self, tree: Node) -> bool:
        """The radius over a ring of engines without the radius of the engines themselves."""
        words = self.context.words
        if self.claim.dimension != LENGTH or not re.search(
            r"\b(?:outer|overall|over all|enclosing|outside|total)\b", words
        ):
            return False
        if not re.search(r"\bring\b|\bcircle\b|\bcluster\b", words) or len(terms_of(tree)) > 1:
            return False
        sines = [node for _, node in walk(tree) if isinstance(node, Op) and node.kind == "sin"]
        radii = [
            leaf
            for _, leaf in walk(tree)
            if isinstance(leaf, Leaf) and not leaf.constant and leaf.half > 0 and leaf.typed != 1.0
        ]  # noqa: E501
        if len(sines) != 1 or any(isinstance(n, Op) and n.kind in "+-" for _, n in walk(tree)):
            return False
        inner = {id(leaf) for _, leaf in walk(sines[0]) if isinstance(leaf, Leaf)}
        outside = [leaf for leaf in radii if id(leaf) not in inner]
        if len(outside) != 1:
            return False
        half = self.claim.si * evaluate(sines[0], DEGREES).value
        right = self.claim.si + half
        return self.tell("S20", "the 1 of the engine's own radius is left out", "with the 1", right, ("S17",))
