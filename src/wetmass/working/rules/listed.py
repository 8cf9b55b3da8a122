"""Sums of masses against what the page lists: one of a list left out, one kept that falls off, one not carried."""

from __future__ import annotations

import math
import re

from wetmass.working.names import stage_of
from wetmass.working.rules.sums import Sums
from wetmass.working.scope import Entry
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, walk
from wetmass.working.units import MASS

_WHOLE = frozenset(["dry", "total", "start", "liftoff", "stack", "gross"])
_ABOVE = re.compile(r"\b(?:on top|above|carried|rides|riding|upper stages|with (?:its |the )?payload)\b")
_USABLE = re.compile(r"\b(?:usable|burnable|available)\b")
_KEPT = re.compile(
    r"\b(?:keeps?|kept|reserved?|left for|for (?:the )?landing)\b[^=\n]{0,80}?\b(\d[\d.]*) ?(?:t|kg|lb) of the (\d[\d.]*) ?(?:t|kg|lb)\b"
    r"|\b(\d[\d.]*) ?(?:t|kg|lb) of the (\d[\d.]*) ?(?:t|kg|lb)\b[^.;=\n]*?\b(?:stay|remain|kept|are for (?:the )?landing)"
)
_DRY_SHARE = re.compile(r"\bdry\b[^.\n\d]{0,20}?(\d+(?:\.\d+)?) ?% of the propellant")
_OF_BOTH = re.compile(
    r"\bdry(?: mass)? (?:over|/|÷|by) \(?(?:the )?(?:dry(?: mass)? ?(?:\+|and|plus) ?propellant|whole stage|full stage)"
)
_ON_DRY = re.compile(r"\b(\d+(?:\.\d+)?) ?% (?:growth )?on (?:the )?dry\b")
_FALLS = re.compile(r"\b(?:fairing|shroud|nose cone|escape tower)\b")


class Listed(Sums):
    """Sums against lists."""

    def _one_of_the_list_left_out(self, tree: Node) -> bool:
        """A sum over values listed one below the other that leaves out one that stands among them."""
        masses = self._masses_of(tree)
        if len(masses) < 2 or not self.ideas & _WHOLE or any(sign < 0 for sign, _ in masses):
            return False
        entries = [entry for _, entry in masses]
        if not all(entry.given and entry.name for entry in entries):
            return False
        first, last = (f(entry.index for entry in entries) for f in (min, max))
        run = self.scope.entries[first : last + 1]
        if any(not e.given or e.leaf.dimension != MASS or e.leaf.unit != entries[0].leaf.unit for e in run):
            return False
        lines = [e.line for e in run]
        if len(set(lines)) != len(lines) or lines[-1] - lines[0] != len(run) - 1:
            return False  # not a list, one a line
        missing = [e for e in run if not any(e.index == entry.index for entry in entries)]
        if len(missing) != 1 or self._summed_later(missing[0]) or not missing[0].name:
            return False
        apart = {"propellant", "payload", "fairing"} if "dry" in self.ideas else {"total", "start", "end"}
        if missing[0].tags & (apart | {"total"}) or stage_of(missing[0].name) not in (
            "",
            self.statement.stage,
        ):
            return False
        cause = f"the {missing[0].name} ({missing[0].leaf.text}) is left out"
        return self.tell("S31", cause, "with it", self.claim.si + missing[0].stated, ("S05",))

    def _summed_later(self, entry: Entry) -> bool:
        """Whether a value is a term of a sum further down."""
        number = re.escape(entry.leaf.text.split(" ")[0])
        rest = "\n".join(self.checker.rows[self.statement.raw.number :])
        return bool(re.search(rf"[-+−]\s*{number}(?![\d.])|(?<![\d.]){number}\s*(?:t|kg|lb)?\s*[-+−]", rest))

    def _stage_without_what_it_carries(self, tree: Node) -> bool:
        """The stage above alone in a lift-off mass, although the page has it together with what it carries."""
        masses = self._masses_of(tree)
        label = self.statement.label.lower()
        if len(masses) < 2 or any(sign < 0 for sign, _ in masses):
            return False
        if not (self.ideas & {"liftoff", "start"} or re.search(r"\blift-?off\b", label)):
            return False
        used = {entry.index for _, entry in masses}
        for whole in self.scope.entries:
            if whole.given or whole.leaf.dimension != MASS or not _ABOVE.search(whole.name.lower()):
                continue
            held = self._held(whole) - {whole.index}
            if whole.index in used or len(held & used) != 1:
                continue
            alone = self.scope.entries[(held & used).pop()]
            if any(self._same_value(alone, other) and other is not alone for _, other in masses):
                continue
            right = self.claim.si + whole.stated - alone.stated
            cause = f"what rides on the {alone.name or 'stage above'} ({alone.leaf.text}) is left out"
            if right > self.claim.si * 1.002:
                return self.tell("S31", cause, f"with {whole.leaf.text} on top", right, ("S05",))
        return False

    def _usable_of_more_than_is_there(self, tree: Node) -> bool:
        """A usable load larger than what is loaded: the share is put on, not taken off."""
        if not _USABLE.search(self.statement.label.lower()) or not isinstance(tree, Op) or tree.kind != "*":
            return False
        parts = [part for part in tree.parts if isinstance(part, Leaf)]
        share = next((p for p in parts if p.bare and p.page < 0 and 1.0 < p.typed < 1.3), None)
        if len(parts) != 2 or share is None:
            return False
        right = self.claim.si * (2.0 - share.typed) / share.typed
        return self.tell(
            "S37", "the share is put on, more than is loaded", "with it taken off", right, ("S56",)
        )

    def _kept_taken_off(self, tree: Node) -> bool:
        """All propellant taken off although the page keeps a part of it for the landing."""
        near = self.checker.rows[max(0, self.statement.raw.number - 3) : self.statement.raw.number]
        for said in _KEPT.finditer("\n".join(near).lower()):
            kept, whole = (float(x.rstrip(".")) for x in said.groups() if x)
            if self.claim.dimension != MASS or not kept < whole:
                continue
            flat = terms_of(tree)
            if any(isinstance(p, Leaf) and abs(p.typed - kept) < 1e-9 for _, p in flat):
                continue
            if any(sign < 0 and isinstance(p, Leaf) and abs(p.typed - whole) < 1e-9 for sign, p in flat):
                right = self.claim.si + kept * self.claim.factor
                return self.tell(
                    "S37", f"the {kept:g} that are kept are taken off too", "with them", right, ("S31",)
                )
        return False

    def _falls_later(self, tree: Node) -> bool:
        """A fairing taken off the lift-off mass because it falls off later."""
        flat = terms_of(tree)
        words = self.written
        if self.claim.dimension != MASS or not re.search(r"\blift-?off\b", words) or not _FALLS.search(words):
            return False
        if len(flat) != 2 or flat[1][0] > 0 or re.search(r"\bafter\b|\bthen\b|\bwithout\b", words):
            return False
        whole, part = (self.entry_of(p) for _, p in flat)
        off = self.claim.factor * flat[1][1].typed if isinstance(flat[1][1], Leaf) else 0.0
        held = whole is not None and part is not None and part.index in self._held(whole)
        right = self.claim.si + (1.0 if held else 2.0) * off
        return self.tell(
            "S37", "what falls off later is not counted at lift-off", "with it", right, ("S31", "S56")
        )

    def _dry_alone_below(self, tree: Node) -> bool:
        """A logarithm with the payload in the mass above and the dry mass alone below, by the numbers of the page."""
        numbers = self._listed_masses()
        for _, node in walk(tree):
            if not (isinstance(node, Op) and node.kind in ("ln", "log") and isinstance(node.parts[0], Op)):
                continue
            ratio = node.parts[0]
            if ratio.kind != "/" or not all(isinstance(part, Leaf) for part in ratio.parts):
                continue
            high, low = (part.typed for part in ratio.parts if isinstance(part, Leaf))
            dry = any(abs(low - value) < 1e-9 for name, value in numbers if name == "dry")
            for name, payload in numbers:
                burned = high - low - payload
                if name != "payload" or not dry or burned <= 0.0:
                    continue
                if any(n == "propellant" and abs(v - burned) < 1e-6 * high for n, v in numbers):
                    right = self.claim.si * math.log(high / (low + payload)) / math.log(high / low)
                    return self.tell(
                        "S31", "the payload is left out of the final mass", "with it", right, ("S05",)
                    )
        return False

    def _payload_alone_times_ratio(self, tree: Node) -> bool:
        """Payload · (R − 1) as the propellant although the lines below give the stage a share of it as dry mass."""
        if self.claim.dimension != MASS or "propellant" not in self.ideas or not isinstance(tree, Op):
            return False
        payload = next(
            (e for p in tree.parts if (e := self.entry_of(p)) is not None and "payload" in e.tags), None
        )
        over = next((p for p in tree.parts if isinstance(p, Op) and p.kind == "-"), None)
        if tree.kind != "*" or payload is None or over is None or payload.tags & {"total", "dry", "end"}:
            return False
        if not isinstance(over.parts[1], Leaf) or over.parts[1].typed != 1.0:
            return False
        here = self.statement.raw.number
        below = "\n".join(self.checker.low_rows[here : here + 3])
        said = _DRY_SHARE.search(below)
        if said is None:
            return False
        share = float(said.group(1)) / 100.0
        left = 1.0 - share * self.claim.si / payload.stated
        cause = "the stage's own dry mass is left out of what is moved"
        return left > 0.0 and self.tell("S31", cause, "with it", self.claim.si / left, ("S05", "S34"))

    def _share_of_the_stage_of_the_propellant(self, tree: Node) -> bool:
        """A dry share defined by the whole stage, taken of the propellant alone."""
        if self.claim.dimension != MASS or "dry" not in self.ideas or not isinstance(tree, Op):
            return False
        if tree.kind != "*" or not _OF_BOTH.search(self.checker.low):
            return False
        burned = next(
            (e for p in tree.parts if (e := self.entry_of(p)) is not None and "propellant" in e.tags), None
        )
        share = next((p for p in tree.parts if isinstance(p, Leaf) and 0.0 < p.typed < 0.4), None)
        if burned is None or share is None or share.dimension == MASS:
            return False
        right = self.claim.si / (1.0 - share.typed)
        cause = "the share of the whole stage is taken of the propellant"
        return self.tell("S34", cause, "with ε/(1 − ε)", right)

    def _growth_on_the_larger(self, tree: Node) -> bool:
        """An allowance on the dry mass put on a sum of which the propellant is the larger part."""
        said = _ON_DRY.search(self.written)
        if self.claim.dimension != MASS or said is None or not isinstance(tree, Op) or tree.kind != "*":
            return False
        grown = 1.0 + float(said.group(1)) / 100.0
        rest = next((p for p in tree.parts if isinstance(p, Op) and p.kind == "+"), None)
        if rest is None or not any(isinstance(p, Leaf) and abs(p.typed - grown) < 1e-9 for p in tree.parts):
            return False
        parts = [p for _, p in terms_of(rest) if isinstance(p, Leaf)]
        if len(parts) != 2 or max(p.typed for p in parts) < 3.0 * min(p.typed for p in parts):
            return False
        large, small = sorted((p.typed for p in parts), reverse=True)
        right = (large + grown * small) / (grown * (large + small)) * self.claim.si
        return self.tell("S39", "the propellant grows too", "with the dry mass alone", right, ("S34",))

    def _listed_masses(self) -> list[tuple[str, float]]:
        """The masses said with their name on the page: "propellant 26,000, dry 3,500"."""
        found = []
        for name, words in _NAMED.items():
            for said in re.finditer(rf"\b(?:{words})[ :=]+(?:mass )?(\d[\d,]*(?:\.\d+)?)", self.checker.low):
                found.append((name, float(said.group(1).rstrip(",").replace(",", ""))))
        return found


_NAMED = {
    "propellant": "propellant|fuel",
    "dry": "dry|empty",
    "payload": "payload|satellite|cargo|probe",
}
