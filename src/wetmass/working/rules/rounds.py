"""Areas and volumes of round bodies, term by term: which factor goes with a radius, which with a diameter."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from wetmass.working.relations import ideas_of
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, Unfit, evaluate, leaves
from wetmass.working.units import AREA, LENGTH, NONE, TIME, VOLUME

_THIRD = 1.0 / 3.0
# power of the length, power of other lengths beside it: factors with π in front of a radius and of a diameter
_OF_RADIUS = {
    (2, 0): (1.0, 2.0, 4.0, 3.0), (2, 1): (1.0, _THIRD), (3, 0): (4 * _THIRD, 2 * _THIRD, 1.0), (1, 1): (2.0, 1.0, 4.0),
}  # fmt: skip
_OF_DIAMETER = {
    (2, 0): (0.25, 0.5, 1.0, 0.75), (2, 1): (0.25, 0.25 * _THIRD), (3, 0): (0.5 * _THIRD, 0.25 * _THIRD, 0.125),
    (1, 1): (1.0, 0.5, 2.0),
}  # fmt: skip


@dataclass(slots=True)
class _Product:
    factor: float
    pi: int
    lengths: dict[int, tuple[Leaf, float]]  # by the id of the value: the leaf and its power
    others: int = 0  # values of the page that are no lengths


class Rounds(Rules):
    """A round body with the diameter in the place of the radius, or the reverse."""

    def _round_terms(self, tree: Node) -> bool:
        """π·d²·L where π/4·d²·L or π·r²·L belongs, in any term of a sum."""
        if self.claim.dimension in (LENGTH, NONE, TIME) or self.ideas & {"ring"}:
            return False
        for sign, term in terms_of(tree):
            wrong = self._wrong_term(term)
            if wrong is None:
                continue
            leaf, times, which = wrong
            value = self._si(term)
            if value is None:
                return False
            right = self.claim.si + sign * value * (times - 1.0) * self.claim.si / (
                self._si(tree) or self.claim.si
            )
            other = "radius" if which == "diameter" else "diameter"
            return self.tell(
                "S17", f"the {which} {leaf.text} is put in where the {other} belongs", f"with the {other}", right,
                ("S01", "S18"),
            )  # fmt: skip
        return False

    def _si(self, tree: Node) -> float | None:
        try:
            return evaluate(tree, self.meaning).value
        except Unfit:
            return None

    def _wrong_term(self, term: Node) -> tuple[Leaf, float, str] | None:
        """The length of a term, what the term has to be multiplied with, and what the length is."""
        product = _product(term)
        if product is None or abs(product.pi) != 1 or not 1 <= len(product.lengths) <= 2:
            return None
        if product.others and (self.claim.dimension in (AREA, VOLUME) or len(product.lengths) > 1):
            return None
        if product.pi == -1:  # a force over an area
            product = _Product(
                1.0 / product.factor,
                1,
                {k: (leaf, -p) for k, (leaf, p) in product.lengths.items()},
                product.others,
            )
            inverse = -1.0
        else:
            inverse = 1.0
        several = {
            leaf.typed
            for leaf in leaves(term)
            if leaf.bare and leaf.typed == int(leaf.typed) and 2 <= leaf.typed <= 60
        }  # so many bodies, perhaps
        factors = [product.factor, *(product.factor / n for n in several)]
        named = []
        for leaf, power in product.lengths.values():
            its = ideas_of(leaf)
            which = "diameter" if "diameter" in its else "radius" if "radius" in its else ""
            if "diameter" in its and "radius" in its:
                return None
            named.append((leaf, power, which))
        round_ones = [row for row in named if row[2] and row[1] in (2.0, 3.0)]
        if len(round_ones) != 1:
            return None
        leaf, power, which = round_ones[0]
        beside = sum(p for other, p, _ in named if other is not leaf)
        if beside not in (0.0, 1.0) or leaf.page < 0:
            return None
        key = (int(power), int(beside))
        right, wrong = (_OF_RADIUS, _OF_DIAMETER) if which == "radius" else (_OF_DIAMETER, _OF_RADIUS)
        allowed = right.get(key, ())[:1] if product.others else right.get(key, ())
        if (
            key not in right
            or self._twofold(leaf, which)
            or any(abs(factor / f - 1.0) < 1e-3 for f in allowed for factor in factors)
        ):
            return None
        if not any(abs(factor / f - 1.0) < 1e-3 for f in wrong[key][:2] for factor in factors):
            return None
        times = 2.0**power if which == "radius" else 0.5**power
        return leaf, times**inverse, which

    def _twofold(self, leaf: Leaf, which: str) -> bool:
        """Whether the page has a second body of which this number is the other measure."""
        for entry in self.scope.entries:
            if entry.leaf.dimension != LENGTH or not leaf.si:
                continue
            times = (
                {"radius": 1.0, "diameter": 2.0} if which == "diameter" else {"diameter": 1.0, "radius": 0.5}
            )
            for name, factor in times.items():
                if name in entry.tags and abs(entry.stated / leaf.si / factor - 1.0) < 1e-6:
                    return True
        return False


class Rings(Rules):
    """Ring tanks: 2π²·R·r² and 4π²·R·r."""

    def _ring_factor(self, tree: Node) -> bool:
        """A ring without its 2, without one π, or with a diameter for a radius."""
        if self.claim.dimension not in (VOLUME, AREA):
            return False
        product = _product(tree)
        if product is None or product.others or len(product.lengths) != 2 or product.pi not in (1, 2):
            return False
        powers = sorted(product.lengths.values(), key=lambda pair: pair[1])
        wanted = (1.0, 2.0) if self.claim.dimension == VOLUME else (1.0, 1.0)
        if tuple(power for _, power in powers) != wanted:
            return False
        (big, _), (tube, _) = powers
        if self.claim.dimension == AREA and big.si < tube.si:
            big, tube = tube, big
        its, small = ideas_of(big), ideas_of(tube)
        ring = (
            product.pi == 2
            or "ring" in self.ideas | its | small
            or {"major", "minor", "tube"} & (its | small)
        )
        if not ring or its & {"length", "height"} or not (product.pi == 2 or big.si > tube.si):
            return False
        factor = 2.0 if self.claim.dimension == VOLUME else 4.0
        factor *= (0.5 if "diameter" in its else 1.0) * (
            (0.25 if self.claim.dimension == VOLUME else 0.5) if "diameter" in small else 1.0
        )
        right = factor * math.pi**2 / (product.factor * math.pi**product.pi)
        if abs(right - 1.0) < 1e-3:
            return False
        ways = {
            2.0: ("S01", "the 2 of the ring is left out", "with 2π²"), math.pi: ("S19", "one π of the ring is left out", "with π²"),
            0.5: ("S01", "a 2 too much is in the ring", "with 2π²"), 2.0 * math.pi: ("S19", "2π of the ring is left out", "with 2π²"),
            1.0 / math.pi: ("S19", "one π too much is in the ring", "with π²"),
            0.25: ("S17", "a diameter stands for a radius of the ring", "with the radius"),
            4.0: ("S17", "a radius stands for a diameter of the ring", "with the diameter"),
        }  # fmt: skip
        for times, (kind, cause, cure) in ways.items():
            if abs(right / times - 1.0) < 1e-3:
                return self.tell(kind, cause, cure, self.claim.si * right, ("S19", "S01", "S17"))
        return False


class Ends(Rules):
    """Both ends of a tank, and the way between the axes of two bodies."""

    def _one_of_both_ends(self, tree: Node) -> bool:
        """One half sphere where the name of the line speaks of both."""
        words = self.context.words
        both = re.search(
            r"\b(?:domes|ends|caps|hemispheres|half[- ]spheres|bulkheads|kuppeln|böden|fonds)\b", words
        )
        if (
            not both
            or re.search(r"\b(?:each|one|single|per|a dome|half of)\b", words)
            or len(terms_of(tree)) > 1
        ):
            return False
        product = _product(tree)
        if product is None or product.pi != 1 or len(product.lengths) != 1 or product.others:
            return False
        ((leaf, power),) = product.lengths.values()
        its = ideas_of(leaf)
        radius = "radius" in its or ("diameter" not in its and leaf.page < 0)
        half = {(2.0, True): 2.0, (3.0, True): 2 * _THIRD, (2.0, False): 0.5, (3.0, False): 0.25 * _THIRD}
        wanted = half.get((power, radius))
        if wanted is None or abs(product.factor / wanted - 1.0) > 1e-3:
            return False
        return self.tell(
            "S18", "only one of the two ends is counted", "with both", 2.0 * self.claim.si, ("S01",)
        )

    def _between_axes(self, tree: Node) -> bool:
        """A radius and a whole diameter added to the way between two axes."""
        words = self.context.words
        if self.claim.dimension != LENGTH or not re.search(
            r"\b(?:axes|axis|cent(?:re|er)s?|spacing|apart|pitch circle|offset|achsabstand)\b", words
        ):
            return False
        flat = terms_of(tree)
        if len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        across = [p for _, p in flat if isinstance(p, Leaf) and p.page >= 0 and "diameter" in ideas_of(p)]
        radii = [p for _, p in flat if isinstance(p, Leaf) and p.page >= 0 and "radius" in ideas_of(p)]
        if len(across) == 1 and len(radii) == 1:
            right = self.claim.si - across[0].si / 2.0
            return self.tell(
                "S17", f"the diameter {across[0].text} is added whole", "with half of it", right, ("S31",)
            )
        if len(across) == 2:
            right = self.claim.si / 2.0
            return self.tell(
                "S17", "the diameters are added whole", "with half of each", right, ("S01", "S31")
            )
        return False


def _product(node: Node, power: float = 1.0) -> _Product | None:
    """A product of numbers, π and lengths; None where anything else stands in it."""
    made = _Product(1.0, 0, {})
    return made if _gather(node, power, made) else None


def _gather(node: Node, power: float, made: _Product) -> bool:
    if isinstance(node, Leaf):
        if node.constant == "π":
            made.pi += int(power)
            return True
        if node.dimension == LENGTH:
            mark = node.page if node.page >= 0 else hash((node.typed, node.unit))
            _, before = made.lengths.get(mark, (node, 0.0))
            made.lengths[mark] = (node, before + power)
            return True
        if node.bare and node.page < 0 and not node.constant and node.typed > 0:
            made.factor *= node.typed**power
            return True
        made.others += node.page >= 0 or bool(node.constant)
        return node.page >= 0 or bool(node.constant)
    if not isinstance(node, Op):
        return False
    if node.kind == "*":
        return all(_gather(part, power, made) for part in node.parts)
    if node.kind == "/":
        return _gather(node.parts[0], power, made) and _gather(node.parts[1], -power, made)
    if node.kind == "^" and isinstance(node.parts[1], Leaf) and node.parts[1].bare:
        return _gather(node.parts[0], power * node.parts[1].typed, made)
    return False


__all__ = ["Ends", "Rings", "Rounds"]
