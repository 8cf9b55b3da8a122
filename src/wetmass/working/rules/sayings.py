"""What a line says in words against the numbers it works with: twice, half the speed, across, converted."""

from __future__ import annotations

import re

from wetmass.working.linking import linked
from wetmass.working.names import tags
from wetmass.working.reading.spoken import NUMBERS
from wetmass.working.rules.base import Rules
from wetmass.working.rules.scaling import TIMES
from wetmass.working.tree import Leaf, Node, Op, evaluate, leaves, walk
from wetmass.working.units import FORCE, LENGTH, MASS, NONE, PRESSURE, SPEED, TIME

_TWICE = re.compile(r"\b(twice|double|three times|four times) (?:the|that|this|its) ([a-z]+)[^.;=]{0,40}$")
_AT_SPEED = re.compile(r"\bat (\d[\d.,]*) ?(m/s|km/s|ft/s)")
_ACROSS = re.compile(r"^\W*(?:of |in )?(?:diameter|across|wide)\b")
_TRIP = re.compile(
    r"\btrip\b|\btransfer\b|\bjourney\b|\bcrossing\b|\bthe way\b|\bflight (?:time|lasts|takes)\b"
)
_DRY = re.compile(r"\b(?:empty|dry|ship|cargo|payload|satellite|hull)\b")
_WET = re.compile(r"\b(?:full|fuel(?:l)?ed|loaded|start|lift-?off|gross|total|lights|ignition)\b")
_COST = re.compile(
    r"\b([a-z]+|\d+) (?:tonnes?|t|kg|kilos?|kilograms?|pounds)\b[^.;=]{0,30}\bcosts? (?:one|1|a) (?:tonne|t|kg|kilo|kilogram|pound)\b"
)
_TO_SI = (4.448, 4.4482, 4.45, 0.4536, 0.45359, 0.3048)
_LARGER = {  # factor of one into the other: the larger unit's name
    1.151: r"nautical|\bnmi", 1.1508: r"nautical|\bnmi", 1.852: r"nautical|\bnmi", 1.609: r"\bmiles", 1.6093: r"\bmiles",
    3.281: r"\bmet(?:re|er)s", 3.2808: r"\bmet(?:re|er)s", 2.205: r"\b(?:kg|kilogram|kilos)", 2.2046: r"\b(?:kg|kilogram|kilos)",
    4.448: r"\b(?:lbf|pounds)", 6.895: r"\bpsi", 3.785: r"\bgallons",
}  # fmt: skip


class Sayings(Rules):
    """Words against numbers."""

    def _before_the_sum(self, tree: Node) -> str:
        """The words of the line up to its working."""
        first = next((leaf.text for leaf in leaves(tree) if leaf.text and not leaf.constant), "")
        text = self.written
        at = text.find(first.lower().split(" ")[0]) if first else -1
        return text[:at] if at > 0 else self.statement.label.lower()

    def _twice_in_words_only(self, tree: Node) -> bool:
        """ "Twice the flow for that time: 9.6 · 158", the two left out."""
        said = _TWICE.search(self._before_the_sum(tree))
        if said is None or not isinstance(tree, Op) or tree.kind != "*":
            return False
        times = TIMES[said.group(1)]
        named = [e for leaf in leaves(tree) if (e := self.entry_of(leaf)) is not None]
        if not any(tags(said.group(2)) & (e.tags | tags(e.name)) for e in named):
            return False
        if any(
            abs(leaf.typed - times) < 1e-9 or abs(leaf.typed * times - 1.0) < 1e-9 for leaf in leaves(tree)
        ):
            return False
        return self.tell(
            "S30", f"the {said.group(1)} of the words is left out", "with it", times * self.claim.si, ("S01",)
        )

    def _force_of_the_air_by_the_speed(self, tree: Node) -> bool:
        """A drag or a dynamic pressure at half the speed taken as half, it is a quarter."""
        said = _AT_SPEED.search(self.written)
        if said is None or self.claim.dimension not in (FORCE, PRESSURE) or not isinstance(tree, Op):
            return False
        entry = self.entry_of(tree.parts[0])
        if tree.kind != "/" or entry is None or entry.leaf.dimension != self.claim.dimension:
            return False
        before = _AT_SPEED.search(self.checker.low_rows[entry.line - 1])
        divisor = tree.parts[1]
        if before is None or before.group(2) != said.group(2) or not isinstance(divisor, Leaf):
            return False
        new, old = (float(m.group(1).rstrip(".,").replace(",", "")) for m in (said, before))
        if not divisor.bare or divisor.typed < 1.2 or abs(old / new / divisor.typed - 1.0) > 0.01:
            return False
        right = self.claim.si / divisor.typed
        return self.tell(
            "S06",
            "the force of the air goes with the square of the speed",
            "with the square",
            right,
            ("S01",),
        )

    def _power_without_the_half(self, tree: Node) -> bool:
        """The thrust times the exhaust speed as the power of the jet, half of that."""
        words = self.statement.label.lower()
        if "power" not in self.ideas or not re.search(r"\bjet\b|\bbeam\b|\bexhaust\b", words):
            return False
        here = [leaf for leaf in leaves(tree) if leaf.page >= 0]
        if len(here) != 2 or {leaf.dimension for leaf in here} != {FORCE, SPEED}:
            return False
        if abs(self.claim.si / (here[0].si * here[1].si) - 1.0) > 0.01:
            return False
        return self.tell("S01", "the ½ is left out", "with the ½", 0.5 * self.claim.si)

    def only_converted(self) -> bool:
        """A value of the page times pounds into newtons and the like, under a name that says no more."""
        if self.best is None:
            return False
        here = leaves(linked(self.best, self.scope))
        if sum(leaf.page >= 0 for leaf in here) != 1 or not any(leaf.typed in _TO_SI for leaf in here):
            return False
        turned = any(
            isinstance(node, Op) and node.kind == "/" and getattr(node.parts[1], "typed", 0.0) in _TO_SI
            for _, node in walk(self.best)
        )
        known = all(leaf.page >= 0 or leaf.typed in _TO_SI or leaf.typed == 1000.0 for leaf in here)
        named = re.search(r"\bin (?:SI|metric|newtons?|kilonewtons?|kilograms?)\b", self.statement.raw.text)
        return known and not turned and named is not None

    def _radius_called_across(self, tree: Node) -> bool:
        """√(A/π), a radius, called a diameter behind the number."""
        if self.claim.dimension != LENGTH or not isinstance(tree, Op) or tree.kind != "sqrt":
            return False
        inner = tree.parts[0]
        if not isinstance(inner, Op) or inner.kind != "/" or not isinstance(inner.parts[1], Leaf):
            return False
        if inner.parts[1].constant != "π" or not _ACROSS.match(self.statement.note.lower()):
            return False
        return self.tell(
            "S17", "the radius is called the diameter", "for the diameter", 2.0 * self.claim.si, ("S52",)
        )

    def _whole_round_for_the_way(self, tree: Node) -> bool:
        """The whole period of the ellipse between two planets as the time of the trip, half of it."""
        words = self._before_the_sum(tree) + " " + self.statement.label.lower()
        if not isinstance(tree, Op) or not _TRIP.search(words) or not re.search(r"\bsun\b|\bplanet", words):
            return False
        if tree.kind != "^" or not isinstance(tree.parts[1], Leaf) or abs(tree.parts[1].typed - 1.5) > 1e-9:
            return False
        if self.claim.dimension not in (TIME, NONE):
            return False
        return self.tell("S01", "the whole round is taken", "with half of it", 0.5 * self.claim.si)

    def _burned_share_of_the_empty(self, tree: Node) -> bool:
        """(1 − e^(−Δv/c)), the share of the full mass, taken of the empty one."""
        words = self._before_the_sum(tree)
        if self.claim.dimension != MASS or not isinstance(tree, Op) or tree.kind != "*":
            return False
        if not _DRY.search(words) or _WET.search(words):
            return False
        for part in tree.parts:
            if not isinstance(part, Op) or part.kind != "-" or not isinstance(part.parts[0], Leaf):
                continue
            left = part.parts[1]
            if part.parts[0].typed != 1.0 or not isinstance(left, Op) or left.kind not in ("exp", "^"):
                continue
            share = evaluate(left, self.meaning).value
            if 0.0 < share < 1.0:
                cause = "the share of the full mass is taken of the empty one"
                return self.tell("S05", cause, "with m·(e^(Δv/c) − 1)", self.claim.si / share, ("S04",))
        return False

    def _ratio_of_exchange_turned(self, tree: Node) -> bool:
        """ "Seven tonnes on it cost one tonne of payload", and multiplied by seven."""
        said = _COST.search(self.written)
        if said is None or not isinstance(tree, Op) or tree.kind != "*" or self.claim.dimension != MASS:
            return False
        word = said.group(1)
        number = float(word) if word.isdigit() else float(NUMBERS.get(word, 0))
        if not number or not any(isinstance(p, Leaf) and p.bare and p.typed == number for p in tree.parts):
            return False
        return self.tell(
            "S04", f"multiplied by {number:g}", f"divided by {number:g}", self.claim.si / number**2
        )

    def _conversion_turned(self, tree: Node) -> bool:
        """Times a factor into a larger unit, or over it into a smaller one."""
        label = self.statement.label.lower()
        if not isinstance(tree, Op) or tree.kind != "*" or not re.search(r"^\W*(?:that is )?in [a-z]", label):
            return False
        for part in tree.parts:
            name = _LARGER.get(part.typed) if isinstance(part, Leaf) else None
            if name and isinstance(part, Leaf) and re.search(name, label):
                if part.typed in (1.609, 1.6093) and "nautical" in label:
                    continue
                right = self.claim.si / part.typed**2
                return self.tell(
                    "S13", f"multiplied by {part.text}", f"divided by {part.text}", right, ("S11", "S04")
                )
        return False

    def _ring_without_its_tanks(self, tree: Node) -> bool:
        """Twice the radius of the ring of middles as the width across the outside."""
        words = self.written
        if (
            self.claim.dimension != LENGTH
            or not re.search(r"\boutside|\boverall", words)
            or not isinstance(tree, Op)
        ):
            return False
        entry = next((e for p in tree.parts if (e := self.entry_of(p)) is not None), None)
        if (
            tree.kind != "*"
            or entry is None
            or not any(isinstance(p, Leaf) and p.typed == 2.0 for p in tree.parts)
        ):
            return False
        row = self.checker.low_rows[entry.line - 1]
        if not re.search(r"\b(?:middles|centres|centers|axes|pitch)\b", row):
            return False
        origin = self.checker.working_of(entry.index)
        if not isinstance(origin, Op) or origin.kind != "/" or not isinstance(origin.parts[0], Leaf):
            return False
        if not isinstance(origin.parts[1], Op) or origin.parts[1].kind != "sin":
            return False
        right = self.claim.si + 2.0 * origin.parts[0].typed * self.claim.factor
        return self.tell(
            "S20", "the radius of what stands in the ring is left out", "with it", right, ("S17", "S31")
        )
