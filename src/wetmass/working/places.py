"""Slips of sense told by where and when a number belongs."""

from __future__ import annotations

import re
from collections.abc import Callable

from wetmass.working.marks import Marks
from wetmass.working.relations import ideas_of
from wetmass.working.slips.terms import terms_of
from wetmass.working.statement import linked
from wetmass.working.tree import Leaf, Node, Op, Unfit, walk
from wetmass.working.units import FORCE, LENGTH, MASS, MASS_FLOW, SPEED, TIME

_ALLOWANCES = frozenset(["residual", "ullage", "reserve", "growth", "margin", "allowance", "boiloff"])


class Places(Marks):
    """Where and when a number of the line belongs."""

    def by_places(self) -> bool:
        """Whether one of the rules is broken; sets the slips then."""
        if self.best is None:
            return False
        rules: tuple[Callable[[Node], bool], ...] = (
            self._ground_and_vacuum, self._payload_with_structure, self._share_digits, self._sine_for_cosine,
            self._burned_added, self._last_speed_for_all,
        )  # fmt: skip
        named = linked(self.best, self.scope)
        for rule in rules:
            try:
                if rule(named):
                    return True
            except (Unfit, ArithmeticError):
                continue
        return False

    def _ground_and_vacuum(self, tree: Node) -> bool:
        """The thrust at sea level over the impulse in vacuum, or the reverse."""
        if self.claim.dimension not in (MASS_FLOW, TIME, FORCE) or terms_of(tree)[1:]:
            return False
        if self.ideas & {"mean", "ratio"} or not self.ideas & {"flow", "isp", "thrust", "burn", "time"}:
            return False
        ground, vacuum = [], []
        for path, leaf in walk(tree):
            if isinstance(leaf, Leaf) and leaf.page >= 0:
                its = self.scope.entries[leaf.page].tags
                ground += [(path, leaf)] if "sl" in its and "vac" not in its else []
                vacuum += [(path, leaf)] if "vac" in its and "sl" not in its else []
        if len(ground) != 1 or len(vacuum) != 1:
            return False
        path, leaf = vacuum[0]
        kinds = ideas_of(leaf) & {"isp", "thrust", "exhaust"}
        proper = [e for e in self.scope.entries if "sl" in e.tags and kinds and kinds <= e.tags]
        if not proper or abs(proper[-1].stated / leaf.si - 1.0) < 0.004:
            return False
        right = self.changed(tree, path, self.scope.leaf(proper[-1]))
        cause = f"{leaf.text} of the vacuum stands beside {ground[0][1].text} of sea level"
        return self.tell("S23", cause, f"with {proper[-1].leaf.text}", right)

    def _payload_with_structure(self, tree: Node) -> bool:
        """The start mass less the propellant is payload and structure together."""
        flat = terms_of(tree)
        if "payload" not in self.ideas or self.claim.dimension != MASS or len(flat) != 2:
            return False
        (first, whole), (second, part) = flat
        if first < 0 or second > 0 or not isinstance(whole, Leaf) or not isinstance(part, Leaf):
            return False
        if "start" not in ideas_of(whole) or "propellant" not in ideas_of(part):
            return False
        dry = [e for e in self.scope.entries if "dry" in e.tags and e.leaf.dimension == MASS]
        if not dry or dry[-1].stated >= self.claim.si:
            return False
        right = self.claim.si - dry[-1].stated
        return self.tell("S31", "the dry mass is counted as payload", f"with {dry[-1].name} taken off", right)

    def _share_digits(self, tree: Node) -> bool:
        """0.08 put in for 0.8 %."""
        shares = [
            e
            for e in self.scope.entries
            if e.leaf.unit == "%" and e.tags & _ALLOWANCES and 0.0 < e.stated < 0.3
        ]
        for path, leaf in walk(tree):
            if not isinstance(leaf, Leaf) or not leaf.bare or leaf.page >= 0 or not 0.0 < leaf.typed < 1.0:
                continue
            for entry in shares:
                if (
                    abs(leaf.typed / entry.stated / 10.0 - 1.0) < 1e-9
                    or abs(leaf.typed / entry.stated / 0.1 - 1.0) < 1e-9
                ):
                    right = self.changed(tree, path, Leaf(entry.stated, text=f"{entry.stated:g}"))
                    cause = f"{leaf.text} is put in for {entry.leaf.text}"
                    return self.tell("S35", cause, f"with {entry.stated:g}", right, ("S08", "S37"))
        return False

    def _sine_for_cosine(self, tree: Node) -> bool:
        """A climb goes with the sine of the angle above the horizon, the way along with its cosine."""
        if self.claim.dimension not in (SPEED, FORCE) or terms_of(tree)[1:]:
            return False
        if re.search(r"\b(?:zenith|vertical axis|from (?:the )?vertical)\b", self.checker.text.lower()):
            return False
        turning = any("rotation" in ideas_of(leaf) for _, leaf in walk(tree) if isinstance(leaf, Leaf))
        for path, node in walk(tree):
            if not (
                turning and isinstance(node, Op) and node.kind == "cos" and isinstance(node.parts[0], Leaf)
            ):
                continue
            if "azimuth" in ideas_of(node.parts[0]):
                right = self.changed(tree, path, Op("sin", node.parts))
                return self.tell(
                    "S46", "the cosine of the heading is used for its sine", "with the sine", right, ("S14",)
                )
        up = self.ideas & {"up", "vertical", "side"}
        along = self.ideas & {"horizontal", "downrange", "axial"}
        if bool(up) == bool(along):
            return False
        for path, node in walk(tree):
            if isinstance(node, Op) and node.kind == ("cos" if up else "sin"):
                right = self.changed(tree, path, Op("sin" if up else "cos", node.parts))
                cause = f"the {'cosine' if up else 'sine'} is used for the {'sine' if up else 'cosine'}"
                return self.tell("S46", cause, "the other way", right, ("S14", "S56", "S06"))
        return False

    def _last_speed_for_all(self, tree: Node) -> bool:
        """The speed at the end times the whole time, though the page has the mean speed."""
        if self.claim.dimension != LENGTH or not isinstance(tree, Op) or tree.kind != "*":
            return False
        for path, leaf in walk(tree):
            if not isinstance(leaf, Leaf) or leaf.dimension != SPEED or not leaf.si:
                continue
            for entry in self.scope.entries:
                if (
                    entry.leaf.dimension == SPEED
                    and "mean" in entry.tags
                    and abs(2.0 * entry.stated / leaf.si - 1.0) < 1e-6
                ):
                    right = self.changed(tree, path, self.scope.leaf(entry))
                    return self.tell(
                        "S01", "the speed at the end is taken for the whole way", f"with {entry.name}", right
                    )
        return False

    def _burned_added(self, tree: Node) -> bool:
        """The propellant of a burn added to the mass before it."""
        flat = terms_of(tree)
        if self.claim.dimension != MASS or len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        if not self.ideas & {"landing", "end"} or self.ideas & {"start"}:
            return False
        parts = [part for _, part in flat if isinstance(part, Leaf) and part.page >= 0]
        if len(parts) != 2:
            return False
        burned = [
            p
            for p in parts
            if "propellant" in ideas_of(p) and not ideas_of(p) & {"residual", "reserve", "left"}
        ]
        before = [p for p in parts if ideas_of(p) & {"end", "start"} and "propellant" not in ideas_of(p)]
        if len(burned) != 1 or len(before) != 1:
            return False
        right = self.claim.si - 2.0 * burned[0].si
        return self.tell("S56", f"{burned[0].name} is added", "taken off", right, ("S31",))

    def coast_alone(self) -> bool:
        """The height of the coast stated as that of the top, although the coast began higher up."""
        if self.claim.dimension != LENGTH or not self.ideas & {"greatest", "apogee"} or not self.claim.si:
            return False
        coasts = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == LENGTH
            and re.search(r"\bcoast|\brise\b|\bballistic", e.name.lower())
            and abs(e.stated / self.claim.si - 1.0) < 1e-6
        ]
        below = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == LENGTH
            and "height" in e.tags
            and e.tags & {"end", "separation"}
            and e not in coasts
        ]
        if not coasts or not below:
            return False
        right = self.claim.si + below[-1].stated
        cause = "the coast alone is counted"
        return self.tell("S43", cause, f"with {below[-1].name} added", right, ("S31",))
