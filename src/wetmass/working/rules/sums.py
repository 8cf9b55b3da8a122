"""What a sum of masses must hold, and must not hold twice: payload, spent stages, things already inside."""

from __future__ import annotations

import re

from wetmass.working.bookkeeping import stack_of
from wetmass.working.linking import linked
from wetmass.working.names import tags
from wetmass.working.rules.base import Rules
from wetmass.working.scope import Entry
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, evaluate, exactly, leaves, walk
from wetmass.working.units import MASS

_LEAVES = re.compile(
    r"\blift-?off\b|\btake-?off\b|\bignition\b|\bignites?\b|\bgross\b|\bglow\b|\blaunch mass\b|\bat (?:the )?start\b|"
    r"\bon the (?:pad|table)\b|\bstart(?:ing)? mass\b|\blights\b|\binitial mass\b|\bm_?0\b|\bstands? on\b"
)
_WITHOUT = re.compile(
    r"\bwithout\b|\bno payload\b|\bstage alone\b|\bbare\b|\bempty\b|\bby itself\b|\bpropellants?\b|\bdry\b"
)
_UPPER = re.compile(r"\b(?:second|upper|2nd) stage\b|\bstage (?:2|two)\b|\bs2\b|\bstage-2\b")
_RIDES = re.compile(
    r"\bsits on top\b|\bon top\b|\brides\b|\bcarried\b|\bcarries\b|\babove it\b|\bmass above\b|\bupper mass\b"
)
_INSIDE = re.compile(
    r"(\d[\d.,]*)\s*(t|kg|lb)\b[^.;=]{0,60}?\b(?:already|included|inside|contained|part)\b[^.;=]{0,40}?(\d[\d.,]*)\s*(t|kg|lb)\b"
)
_DROPPED = re.compile(
    r"\b(?:dropp\w*|jettison\w*|separat\w*|shed|thrown off|let go|without|falls? (?:away|off))\b"
)


class Sums(Rules):
    """What a sum of masses must hold, and must not hold twice."""

    def _masses_of(self, tree: Node) -> list[tuple[int, Entry]]:
        """The signed terms of a sum that are masses of the page; empty where one is not."""
        flat = terms_of(tree)
        found = [(sign, self.entry_of(part)) for sign, part in flat]
        if len(flat) < 2 or any(entry is None for _, entry in found):
            return []
        return [(sign, entry) for sign, entry in found if entry is not None]

    def _held(self, entry: Entry, depth: int = 0) -> set[int]:
        """The values of the page that a value holds as terms of its sum, itself included."""
        held = {entry.index}
        origin = self.checker.working_of(entry.index)
        if origin is None or depth > 6:
            return held
        for sign, part in terms_of(linked(origin, self.scope)):
            other = self.entry_of(part)
            if sign > 0 and other is not None and other.index < entry.index:
                held |= self._held(other, depth + 1)
        return held

    def _same_value(self, one: Entry, other: Entry) -> bool:
        return (
            one.leaf.dimension == other.leaf.dimension
            and abs(one.stated / (other.stated or 1.0) - 1.0) < 1e-9
        )

    def _payload_not_summed(self, tree: Node) -> bool:
        """A mass at lift-off or ignition without the payload that the page names."""
        words = f" {self.written} "
        if (
            self.claim.dimension != MASS
            or not (_LEAVES.search(words) or "start" in self.ideas)
            or self.ideas & {"payload", "propellant", "dry"}
        ):
            return False
        masses = self._masses_of(tree)
        if len(masses) >= 2 and all(sign > 0 for sign, _ in masses) and self._fairing_not_summed(masses):
            return True
        if (
            len(masses) < 2
            or any(sign < 0 for sign, _ in masses)
            or _WITHOUT.search(self.statement.label.lower())
        ):
            return False
        terms = [entry for _, entry in masses]
        if any("payload" in e.tags | tags(e.name) for e in terms) or not any(
            e.tags & {"propellant", "dry"} for e in terms
        ):
            return False
        loads = [
            e
            for e in self.scope.entries
            if "payload" in e.tags and e.leaf.dimension == MASS and not e.tags & {"fraction", "total", "ratio", "start", "end"}
            and (e.given or "stage" not in e.name) and 0.0 < e.stated < 0.4 * self.claim.si
        ]  # fmt: skip
        if not loads or len({round(e.stated, 6) for e in loads}) != 1:
            return False
        load = loads[-1]
        held = set().union(*(self._held(e) for e in terms))
        if any(self._same_value(self.scope.entries[i], load) for i in held):
            return False
        if re.search(
            r"(?:with|incl\w*|and) (?:its |the )?(?:payload|satellite|cargo)",
            " ".join(e.name.lower() for e in terms),
        ):
            return False
        return self.tell(
            "S31",
            "the payload is left out",
            f"with {load.leaf.text} of payload",
            self.claim.si + load.stated,
            ("S05",),
        )

    def _fairing_not_summed(self, masses: list[tuple[int, Entry]]) -> bool:
        """A mass at lift-off without the fairing that the page names."""
        if not re.search(r"\blift-?off|\btake-?off|\bpad\b|\bgross\b|\bglow\b", self.written):
            return False
        shrouds = [
            e
            for e in self.scope.entries
            if "fairing" in e.tags and e.leaf.dimension == MASS and not e.tags & {"payload", "total"}
        ]
        if (
            len({round(e.stated, 6) for e in shrouds}) != 1
            or not 0.0 < shrouds[0].stated < 0.1 * self.claim.si
        ):
            return False
        held = set().union(*(self._held(entry) for _, entry in masses))
        if any(self._same_value(self.scope.entries[i], shrouds[0]) for i in held) or any(
            "fairing" in tags(e.name) for _, e in masses
        ):
            return False
        right = self.claim.si + shrouds[0].stated
        return self.tell(
            "S37", "the fairing is left out", f"with {shrouds[0].leaf.text} of fairing", right, ("S31",)
        )

    def _spent_stage_summed(self, tree: Node) -> bool:
        """The empty first stage in the mass with which the second one lights."""
        words = f" {self.written} "
        second = self.statement.stage == "2" or _UPPER.search(words)
        if (
            self.claim.dimension != MASS
            or not second
            or not (_LEAVES.search(words) or "start" in self.ideas or "takes over" in words)
        ):
            return False
        for sign, entry in self._masses_of(tree):
            first = (
                entry.stage == "1"
                or "stage 1" in entry.tags
                or re.search(r"\b(?:first|lower) stage\b|\bstage 1\b|\bbooster\b", entry.name.lower())
            )
            if (
                sign > 0
                and first
                and entry.tags & {"dry", "end"}
                and not entry.tags & {"start", "propellant"}
            ):
                right = self.claim.si - entry.stated
                cause = f"the empty first stage ({entry.leaf.text}) is still carried"
                return self.tell("S32", cause, "with it dropped", right, ("S31",))
        return False

    def _spent_stage_in_logarithm(self, tree: Node) -> bool:
        """The empty first stage among the masses of the second one's logarithm."""
        second = self.statement.stage == "2" or _UPPER.search(self.written)
        if not second:
            return False
        for path, node in walk(tree):
            if (
                not isinstance(node, Op)
                or node.kind != "ln"
                or not isinstance(node.parts[0], Op)
                or node.parts[0].kind != "/"
            ):
                continue
            above, below = node.parts[0].parts
            for one in self._masses_of(above):
                entry = one[1]
                if not (
                    one[0] > 0 and (entry.stage == "1" or "stage 1" in entry.tags) and "dry" in entry.tags
                ):
                    continue
                if not any(self._same_value(entry, other) for _, other in self._masses_of(below)):
                    continue
                high = evaluate(above, self.meaning).value - entry.stated
                low = evaluate(below, self.meaning).value - entry.stated
                right = self.changed(tree, (*path, 0), exactly(high / low))
                return self.tell(
                    "S32", f"the empty first stage ({entry.leaf.text}) is still carried", "with it dropped", right, ("S31",)
                )  # fmt: skip
        return False

    def _counted_inside(self, tree: Node) -> bool:
        """A mass added although the page says that another one of the sum holds it, or that is held by provenance."""
        flat = [(sign, part) for sign, part in terms_of(tree) if isinstance(part, Leaf)]
        for said in _INSIDE.finditer(self.checker.text) if self.claim.dimension == MASS else ():
            part, whole = (float(said.group(i).replace(",", "").rstrip(".")) for i in (1, 3))
            added = [leaf for sign, leaf in flat if sign > 0]
            inner = [leaf for leaf in added if abs(leaf.typed - part) < 1e-9]
            outer = [leaf for leaf in added if abs(leaf.typed - whole) < 1e-9]
            if inner and outer and part < whole:
                right = self.claim.si - part * self.claim.factor
                cause = f"{inner[0].text} is counted twice, it is inside the {outer[0].text} already"
                return self.tell("S31", cause, "with it once", right, ("S37", "S39"))
        masses = self._masses_of(tree)
        if self.claim.dimension != MASS or len(masses) < 2:
            return False
        adds = [entry for sign, entry in masses if sign > 0]
        for one in adds:
            for other in adds:
                if other is one or one.index in self._held(other) - {other.index}:
                    if other is one:
                        continue
                    less = {e.index for sign, e in masses if sign < 0}
                    if one.index in less:
                        continue
                    right = self.claim.si - one.stated
                    cause = f"{one.leaf.text} is counted twice, it is in the {other.leaf.text} already"
                    return self.tell("S31", cause, "with it once", right, ("S32", "S37"))
        return False

    def _one_dropped_of_several(self, tree: Node) -> bool:
        """One empty booster taken off where all of them fall away."""
        masses = self._masses_of(tree)
        words = self.written
        if self.claim.dimension != MASS or len(masses) != 2 or masses[1][0] > 0 or not _DROPPED.search(words):
            return False
        named = re.search(r"\b(boosters|strap-ons|side tanks|tanks|pods)\b", words)
        entry = masses[1][1]
        if (
            not named
            or re.search(r"\b(?:one|each|first|a) (?:of|booster)", words)
            or not re.search(r"booster|strap|tank|pod", f"{entry.name} {self._row_of(entry)}".lower())
        ):
            return False
        counts = {
            n
            for n, name in self.context.counts
            if tags(name) & tags(named.group(1)) or named.group(1)[:-1] in name
        }
        counts |= {
            float(match.group(1))
            for match in re.finditer(
                rf"\b(\d|two|three|four|six)\s*[·×*x]?\s*(?:\w+ )?{named.group(1)}", self.checker.low
            )
            if match.group(1).isdigit()
        }
        word = re.search(
            rf"\b(two|three|four|six)\s+(?:of them\b|(?:[\w-]+ )?{named.group(1)})", self.checker.low
        )
        counts |= {float({"two": 2, "three": 3, "four": 4, "six": 6}[word.group(1)])} if word else set()
        if len(counts) != 1:
            return False
        n = counts.pop()
        right = self.claim.si - (n - 1.0) * entry.stated
        return self.tell(
            "S30", f"only one of the {n:g} is dropped", "with all of them", right, ("S32", "S31")
        )

    def _row_of(self, entry: Entry) -> str:
        """The line of the page a value stands in."""
        return self.checker.rows[entry.line - 1] if entry.line else ""

    def _payload_above_alone(self, tree: Node) -> bool:
        """A payload added to the mass at the start of a ratio and not to that at the end, or taken off both."""
        for path, node in walk(tree):
            if not isinstance(node, Op) or node.kind != "/":
                continue
            above, below = node.parts
            tops = terms_of(above)
            if path and not (len(path) == 1 and isinstance(tree, Op) and tree.kind in ("ln", "log", "*")):
                logs = [n for p, n in walk(tree) if p == path[:-1]]
                if not logs or not isinstance(logs[0], Op) or logs[0].kind not in ("ln", "log"):
                    continue
            if len(tops) < 2:
                continue
            lows = [self.entry_of(part) for sign, part in terms_of(below)]
            for sign, part in tops:
                entry = self.entry_of(part)
                if (
                    entry is None
                    or entry.leaf.dimension != MASS
                    or "payload" not in entry.tags | ({"payload"} if self._only_payload(entry) else set())
                ):
                    continue
                if entry.tags & {"dry", "total", "start", "end"}:
                    continue
                beside = [e for e in lows if e is not None]
                if len(beside) != len(lows):
                    unit = entry.leaf.factor if isinstance(below, Leaf) and below.bare else 1.0
                    low = evaluate(below, self.meaning).value * unit
                    rest = evaluate(above, self.meaning).value - entry.stated - low
                    burned = (
                        any(
                            e.leaf.dimension == MASS and abs(e.stated / rest - 1.0) < 2e-3
                            for e in self.scope.entries
                        )
                        if rest > 0.0
                        else False
                    )
                    if sign < 0 or not burned:
                        continue
                held = set().union(*(self._held(e) for e in beside)) if beside else set()
                within = any(self._same_value(self.scope.entries[i], entry) for i in held)
                if (
                    sign > 0
                    and not within
                    and not any(e.tags & {"end", "total"} and "payload" in tags(e.name) for e in beside)
                ):
                    unit = entry.leaf.factor if isinstance(below, Leaf) and below.bare else 1.0
                    low = evaluate(below, self.meaning).value * unit
                    high = evaluate(above, self.meaning).value
                    if path:
                        right = self.changed(tree, path, exactly(high / (low + entry.stated)))
                    else:
                        right = self.claim.si * low / (low + entry.stated)
                    return self.tell(
                        "S31", "the payload is left out of the final mass", "with it in both", right, ("S05",)
                    )
                if sign < 0 and within:
                    high = evaluate(above, self.meaning).value + entry.stated
                    low = evaluate(below, self.meaning).value + entry.stated
                    right = self.changed(tree, path, exactly(high / low))
                    return self.tell(
                        "S31", "the payload is taken out of both masses", "with it carried", right, ("S05",)
                    )
        return False

    def _only_payload(self, entry: Entry) -> bool:
        return (
            "payload" in self.written
            and not entry.tags - {"mass"}
            and any(leaf.typed == entry.leaf.typed for leaf in leaves(self.best) if self.best is not None)
        )

    def _not_all_above(self, tree: Node) -> bool:
        """What rides on a stage, without the payload or a stage that rides there too."""
        label = self.statement.label.lower()
        stage = self.statement.stage
        if self.claim.dimension != MASS or not stage.isdigit() or not _RIDES.search(label):
            return False
        stack = stack_of(self.checker.ahead or self.scope)
        k = int(stage) + 1
        if not stack.payload or {j for j in stack.propellant if j >= k} != {j for j in stack.dry if j >= k}:
            return False
        right = stack.start(k)
        if right <= 0.0 or abs(right / self.claim.si - 1.0) < 0.002 or self.claim.si > right:
            return False
        missing = right - self.claim.si
        if abs(missing / stack.payload - 1.0) < 0.01:
            return self.tell("S31", "the payload is left out", "with it", right, ("S05",))
        for j in (*stack.propellant, *stack.dry):
            for mass in (stack.propellant.get(j), stack.dry.get(j)):
                if mass and j >= k and abs(missing / mass - 1.0) < 0.01:
                    return self.tell("S31", f"a mass of stage {j} is left out", "with it", right, ("S05",))
        return False
