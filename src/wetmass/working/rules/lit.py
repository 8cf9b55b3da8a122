"""How many engines a line says are lit, against those it counts."""

from __future__ import annotations

import re

from wetmass.working.reading.spoken import NUMBERS
from wetmass.working.rules.base import Rules
from wetmass.working.tree import Leaf, Node, Op, leaves
from wetmass.working.units import ACCELERATION, FORCE, MASS_FLOW

_LIT = re.compile(
    r"\b(?:lights?|lit|fires?|use|uses|burns?|relights?|restarts?)\s+(?:only\s+)?(?:the\s+)?(one|two|three|four|five|six)\s+"
    r"(?:outer |inner |middle |centre |side )?(?:ones|engines|motors|of (?:them|the))\b"
)
_ALL = re.compile(r"\ball (?:of (?:them|the) )?(?:[a-z]+ )?(?:engines|motors|fans)\b")


class Lit(Rules):
    """Engines said to burn."""

    def _more_than_are_lit(self, tree: Node) -> bool:
        """All engines in the thrust although the page lights only some of them."""
        if self.claim.dimension not in (FORCE, MASS_FLOW) or not isinstance(tree, Op) or tree.kind != "*":
            return False
        rows = self.checker.low_rows
        near = " ".join(rows[max(0, self.statement.raw.number - 4) : self.statement.raw.number])
        said = list(_LIT.finditer(near))
        counts = _counts(near)
        count = next((p for p in tree.parts if isinstance(p, Leaf) and p.typed in counts), None)
        if not said or count is None or re.search(r"\ball\b|\bif\b", self.written):
            return False
        lit = float({"one": 1, **NUMBERS}[said[-1].group(1)])
        number = int(count.typed)
        if not lit < number <= 40:
            return False
        cause = f"all {number} engines are counted, {said[-1].group(1)} are lit"
        return self.tell("S30", cause, f"with {lit:g}", self.claim.si * lit / number)

    def _one_though_all_are_said(self, tree: Node) -> bool:
        """The figure of one engine in a line that says all engines."""
        words = self.written
        if self.claim.dimension not in (ACCELERATION, FORCE, MASS_FLOW) or not _ALL.search(words):
            return False
        counts = {
            e.stated for e in self.scope.entries if "count" in e.tags and e.leaf.bare and e.stated >= 2.0
        }
        counts = counts or {
            e.stated
            for e in self.scope.entries
            if e.given and e.leaf.bare and e.name.lower() in ("engines", "motors", "fans")
        }
        if len(counts) != 1:
            return False
        count = counts.pop()
        here = leaves(tree)
        for leaf in here:
            entry = self.entry_of(leaf)
            if entry is None or entry.leaf.dimension not in (FORCE, MASS_FLOW) or not entry.given:
                continue
            if not re.search(r"\bof one\b|\beach\b|\bper engine\b|\bone engine\b", entry.name.lower()):
                continue
            if any(other.typed == count for other in here):
                continue
            cause = f"{leaf.text} is the figure of one of the {count:g}"
            return self.tell("S30", cause, "with all of them", count * self.claim.si)
        return False


def _counts(words: str) -> set[int]:
    """How many engines or motors the words speak of."""
    numbers = "|".join(NUMBERS)
    said = re.findall(rf"\b({numbers}|\d{{1,2}}) (?:[a-z]+ )?(?:engines|motors)\b", words)
    return {int(word) if word.isdigit() else NUMBERS[word] for word in said}
