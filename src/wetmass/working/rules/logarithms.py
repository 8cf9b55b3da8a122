"""The masses and the base of a logarithm."""

from __future__ import annotations

from dataclasses import replace

from wetmass.working.linking import linked
from wetmass.working.relations import ideas_of, suits
from wetmass.working.rules.base import STANDARD, Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    Unfit,
    evaluate,
    exactly,
    put,
    walk,
)
from wetmass.working.units import (
    LENGTH,
    MASS,
    SPEED,
    TIME,
)


class Logarithms(Rules):
    """The masses and the base of a logarithm."""

    def _common_logarithm(self) -> bool:
        """log₁₀ written, or meant by log, where a rocket equation asks for ln."""
        ideas = suits(self.statement.label)
        always = self.claim.dimension in (SPEED, LENGTH, TIME) and not self.claim.bare
        if not always and ("dv" not in ideas or "ratio" in ideas):
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
                return self.tell("S03", "log₁₀ is used for ln", "with ln", right, common=0.9)
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
            if below is not None and below.tags & {"propellant", "fuel"} and not below.tags & wet:
                right = self.changed(tree, (*path, 0, 1), Op("-", (high, low)))
                return self.tell(
                    "S05",
                    "the propellant stands below as if it were the final mass",
                    "with the final mass",
                    right,
                    ("S31",),
                )
        return False

    def _impulse_without_g(self, tree: Node) -> bool:
        """A specific impulse in seconds times a plain number as a speed."""
        if self.claim.dimension != SPEED or not isinstance(tree, Op) or tree.kind != "*":
            return False
        impulse = next(
            (
                p
                for p in tree.parts
                if (e := self.entry_of(p)) and "isp" in e.tags and e.leaf.dimension == TIME
            ),
            None,
        )
        other = next((p for p in tree.parts if p is not impulse), None)
        if impulse is None or not isinstance(other, Leaf) or not other.bare or not 0.02 < other.typed < 5.0:
            return False
        return self.tell("S02", "g₀ is left out", "with g₀", STANDARD * self.claim.si)

    def _payload_not_in_end(self) -> bool:
        """The start mass over the dry mass alone, though the page has a payload that stays on board."""
        if not {"dv"} & suits(self.statement.label) and self.claim.dimension != SPEED:
            return False
        named = linked(self.best, self.scope)
        for path, node in walk(named):
            if (
                not isinstance(node, Op)
                or node.kind not in ("ln", "log")
                or not isinstance(node.parts[0], Op)
            ):
                continue
            quotient = node.parts[0]
            if quotient.kind != "/":
                continue
            start, dry = self.entry_of(quotient.parts[0]), self.entry_of(quotient.parts[1])
            if start is None or dry is None or "start" not in start.tags:
                continue
            if "dry" not in dry.tags or dry.tags & {"end", "payload", "total", "start"}:
                continue
            carried = [
                e
                for e in (self.checker.ahead or self.scope).entries
                if "payload" in e.tags
                and e.leaf.dimension == MASS
                and not e.tags & {"dry", "total", "fraction"}
                and 0.005 * start.stated < e.stated < start.stated - dry.stated
                and (not dry.stage or e.stage in ("", dry.stage))
            ]
            if len(carried) != 1:
                continue
            below = dry.stated + carried[0].stated
            new = Op("/", (quotient.parts[0], Leaf(below, dimension=MASS, bare=False, text=f"{below:g} kg")))
            right = self.changed(named, (*path, 0), new)
            if evaluate(named, self.meaning).dimension == TIME and self.claim.dimension == SPEED:
                cause = "g₀ and the payload in the final mass are left out"
                return self.tell("S02", cause, "with both", right * STANDARD, ("S31", "S05"))
            return self.tell(
                "S31",
                "the payload is left out of the final mass",
                "with it in",
                right,
                ("S05",),
            )
        return False

    def _burned_in_logarithm(self) -> bool:
        """What burns away stands in the logarithm, told by the start and the end mass of the page."""
        if self.claim.dimension != SPEED:
            return False
        stage = self.statement.stage
        masses = [e for e in self.scope.entries if e.leaf.dimension == MASS and e.stage in ("", stage)]
        starts = [e for e in masses if "start" in e.tags and "propellant" not in e.tags]
        ends = [e for e in masses if "end" in e.tags and "propellant" not in e.tags]
        if not starts or not ends:
            return False
        start, end = starts[-1].stated, ends[-1].stated
        if not 1.05 * end < start:
            return False
        named = linked(self.best, self.scope)
        for path, node in walk(named):
            if not isinstance(node, Op) or node.kind not in ("ln", "log"):
                continue
            ratio = evaluate(node.parts[0]).value
            quotient = node.parts[0]
            if isinstance(quotient, Op) and quotient.kind == "/":
                above, below = (
                    [leaf.typed for _, leaf in walk(part) if isinstance(leaf, Leaf)]
                    for part in quotient.parts
                )
                if len(above) > len(below) and all(number in above for number in below):
                    continue  # what burns away is written out beside what stays
            for wrong, cause, cure in (
                (
                    start / (start - end),
                    "the propellant stands below as if it were the final mass",
                    "with the final mass",
                ),
                (
                    (start - end) / end,
                    "the propellant stands above as if it were the start mass",
                    "with the start mass",
                ),
            ):
                if abs(ratio / wrong - 1.0) < 2e-3 and abs(ratio / (start / end) - 1.0) > 0.01:
                    right = self.changed(named, (*path, 0), exactly(start / end))
                    return self.tell("S05", cause, cure, right, ("S31",))
        return False
