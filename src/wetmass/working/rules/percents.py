"""So many percent more or less: which way they are put in."""

from __future__ import annotations

import re

from wetmass.working.linking import linked
from wetmass.working.names import tags
from wetmass.working.reading.spoken import NUMBERS
from wetmass.working.rules.base import Rules
from wetmass.working.tree import Leaf, Node, Op, evaluate, leaves, walk
from wetmass.working.units import NONE, SPEED

_SHARE = re.compile(r"(\d+(?:\.\d+)?)\s*(?:%|percent\b|per cent\b)")
_SPELLED = re.compile(rf"\b({'|'.join(NUMBERS)})\s+per\s?cent\b", re.I)
_MORE = re.compile(
    r"\breserves?\b|\bextra\b|\bgrowth\b|\ballowance\b|\bcontingency\b|\bon top\b|\bmore\b|\bheavier\b|\badded\b|\boversize"
)
_LESS = re.compile(
    r"\bmay\b|\bcan\b|\bat most\b|\ballow(?:s|ed)?\b|\bcapacity\b|\blifts?\b|\bless\b|\bminus\b|\bwithout\b|\busable\b|\bonly\b|\bremain|\blost\b|\bloses?\b|\blighter\b|\bleft\b|\bof (?:it|that|them|which)\b|\bdown to\b"
)
_ALLOWANCES = frozenset(["reserve", "margin", "growth", "allowance", "residual", "ullage"])


class Percents(Rules):
    """So many percent more or less."""

    def _single_share(self, tree: Node, spelled: bool = False) -> tuple[Leaf, float, float] | None:
        """The value of the page that is changed by a share, by how much, and the share the line speaks of."""
        text = self.statement.raw.text
        if spelled:
            text = _SPELLED.sub(lambda match: f"{NUMBERS[match.group(1).lower()]} %", text)
        shares = {float(match.group(1)) / 100.0 for match in _SHARE.finditer(text)}
        here = [leaf for _, leaf in walk(tree) if isinstance(leaf, Leaf)]
        values = [
            leaf
            for leaf in here
            if leaf.page >= 0 and not leaf.bare and leaf.dimension == self.claim.dimension != NONE
        ]
        if len(shares) != 1 or len(values) != 1 or len(here) > 3 or not values[0].si:
            return None
        share = shares.pop()
        came = evaluate(tree, self.meaning).value
        return (values[0], came / values[0].si, share) if 0.002 < share < 0.6 else None

    def _share_the_wrong_way(self, tree: Node) -> bool:
        """A reserve that makes the load smaller, or a loss that makes it larger."""
        found = self._single_share(tree)
        if found is None:
            return False
        value, grown, share = found
        words = self.written
        up, down = (1.0 + share, 1.0 / (1.0 - share)), (1.0 - share, 1.0 / (1.0 + share))
        more, less = bool(_MORE.search(words)), bool(_LESS.search(words))
        losses = self.claim.dimension == SPEED and bool(
            re.search(r"\b(?:with|for|plus|and) (?:the )?loss", words)
        )
        if (more or losses) and not less:
            wrong = (down[1],) if losses and not more else down
            if any(abs(grown / way - 1.0) < 5e-4 for way in wrong):
                word, makes = ("losses", "make") if losses and not more else ("share", "makes")
                return self.tell(
                    "S37", f"the {word} of {100 * share:g} % {makes} it smaller", "with it added", value.si * up[0], ("S39", "S35", "S56", "S04", "S40")
                )  # fmt: skip
        return False

    def _ratio_called_percent(self, tree: Node) -> bool:
        """A plain ratio of two numbers stated as per cent, 100 left out."""
        if self.claim.unit not in ("%", "percent") or not isinstance(tree, Op) or tree.kind != "/":
            return False
        parts = [part for part in tree.parts if isinstance(part, Leaf) and part.unit not in ("%", "percent")]
        if len(parts) != 2 or any(part.typed == 100.0 for part in parts) or not parts[1].typed:
            return False
        if abs(parts[0].typed / parts[1].typed / self.claim.typed - 1.0) > 0.02 or not parts[0].half:
            return False
        cause = f"{self.claim.typed:g} is the plain ratio of the two"
        return self.tell("S35", cause, "times 100", 100.0 * self.claim.si, ("S07", "S08"))

    def _share_put_on_again(self, tree: Node) -> bool:
        """A reserve put on a value that holds it already."""
        found = self._single_share(tree, spelled=True)
        if found is None:
            return False
        value, grown, share = found
        entry = self.entry_of(value)
        said = tags(self.statement.raw.text) & _ALLOWANCES
        if (
            entry is None
            or not said
            or abs(grown / (1.0 + share) - 1.0) > 5e-4
            or not tags(entry.name) & said
        ):
            return False
        origin = self.checker.working_of(entry.index)
        if origin is None:
            return False
        before = [
            leaf
            for leaf in leaves(linked(origin, self.scope))
            if leaf.bare and abs(leaf.typed - 1.0 - share) < 1e-9
        ]
        if not before:
            return False
        word = next(iter(sorted(said)))
        return self.tell(
            "S39", f"the {word} of {100 * share:g} % goes in twice", "with it once", value.si, ("S37", "S31")
        )
