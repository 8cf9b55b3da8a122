"""Masses counted twice or with the wrong sign."""

from __future__ import annotations

import math
import re

from wetmass.working.relations import ideas_of
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, evaluate
from wetmass.working.units import MASS, SPEED


class Masses(Rules):
    """Masses counted twice or with the wrong sign."""

    def _own_mass_again(self, tree: Node) -> bool:
        """The same mass added twice in one sum."""
        flat = terms_of(tree)
        seen: set[int] = set()
        for sign, node in flat:
            if (
                isinstance(node, Leaf)
                and node.page >= 0
                and sign > 0
                and node.dimension == MASS
                and len(flat) > 2
            ):
                if node.page in seen and self.scope.entries[node.page].name == node.name and not node.linked:
                    right = self.claim.si - node.si
                    return self.tell("S31", f"{node.name} is counted twice", "once", right)
                seen.add(node.page)
        return False

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

    def _burned_added(self, tree: Node) -> bool:
        """The propellant of a burn added to the mass before it."""
        flat = terms_of(tree)
        if self.claim.dimension != MASS or len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        if not self.ideas & {"landing", "end"} or self.ideas & {"start"}:
            return False
        if re.search(r"\bburn(?:ed|t)? in all\b|\bused in all\b|\baltogether\b", self.written):
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

    def _above_not_taken_off(self, tree: Node) -> bool:
        """The start mass less the dry mass alone, where the page has the whole mass at burnout."""
        flat = terms_of(tree)
        stage = self.statement.stage
        if "propellant" not in self.ideas or self.claim.dimension != MASS or len(flat) != 2:
            return False
        (first, whole), (second, part) = flat
        start, dry = self.entry_of(whole), self.entry_of(part)
        if first < 0 or second > 0 or start is None or dry is None:
            return False
        if "start" not in start.tags or "dry" not in dry.tags or "end" in dry.tags or "dry" in start.tags:
            return False
        ends = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == MASS
            and "end" in e.tags
            and "propellant" not in e.tags
            and e.stage in ("", stage)
            and dry.stated < e.stated < start.stated
        ]
        if len(ends) != 1 or abs(ends[0].stated / dry.stated - 1.0) < 0.004:
            return False
        right = start.stated - ends[0].stated
        cause = f"only {dry.name} is taken off"
        return self.tell("S31", cause, f"with all that is left at burnout ({ends[0].name})", right, ("S05",))

    def spent_stage_kept(self) -> bool:
        """The mass at ignition of a stage stated as that at burnout of the one below, though something is dropped."""
        stage = self.statement.stage
        if not stage.isdigit() or stage == "1" or "start" not in self.ideas or self.claim.dimension != MASS:
            return False
        below = str(int(stage) - 1)
        entries = (self.checker.ahead or self.scope).entries
        same = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == MASS and "end" in e.tags and e.stage == below and self.claim.si
            and abs(e.stated / self.claim.si - 1.0) < 1e-6
        ]  # fmt: skip
        dropped = [
            e
            for e in entries
            if e.leaf.dimension == MASS
            and 0.001 * self.claim.si < e.stated < 0.7 * self.claim.si
            and (
                re.search(r"\bdropp|\bjettison|\bspent\b|\bseparat|\bthrown\b|\bshed\b", e.name.lower())
                or ("dry" in e.tags and e.stage == below)
            )
        ]
        if not same or not dropped:
            return False
        right = self.claim.si - dropped[-1].stated
        cause = "the empty stage below is still carried"
        return self.tell("S32", cause, f"with {dropped[-1].name} dropped", right, ("S31", "S55"))

    def _burn_at_constant_mass(self, tree: Node) -> bool:
        """The propellant of a burn as mass times speed over exhaust speed, though the mass falls as it burns."""
        if self.claim.dimension != MASS or not isinstance(tree, Op) or tree.kind != "/":
            return False
        above, below = tree.parts
        if (
            not isinstance(above, Op)
            or above.kind != "*"
            or not isinstance(below, Leaf)
            or below.dimension != SPEED
        ):
            return False
        mass = next((p for p in above.parts if isinstance(p, Leaf) and p.dimension == MASS), None)
        speed = next((p for p in above.parts if isinstance(p, Leaf) and p.dimension == SPEED), None)
        if mass is None or speed is None or not 0.06 < speed.si / below.si < 5.0:
            return False
        right = self.claim.si * (1.0 - math.exp(-speed.si / below.si)) / (speed.si / below.si)
        return self.tell(
            "S41", "the mass is kept through the burn", "with the rocket equation", right, ("S50", "S01")
        )

    def _lower_stage_lighter(self, tree: Node) -> bool:
        """A stage with all it carries that is lighter than what it carries."""
        stage = self.statement.stage
        if (
            self.claim.dimension != MASS
            or "start" not in self.ideas
            or not stage.isdigit()
            or not isinstance(tree, Op)
        ):
            return False
        above = [
            e for e in self.scope.entries
            if e.leaf.dimension == MASS and "start" in e.tags and e.stage == str(int(stage) + 1) and e.stated > self.claim.si
        ]  # fmt: skip
        if not above or tree.kind not in "*/":
            return False
        other = Op("/" if tree.kind == "*" else "*", tree.parts)
        right = evaluate(other, self.meaning).value
        if right < above[-1].stated:
            return False
        return self.tell(
            "S04",
            f"the fraction {'multiplies' if tree.kind == '*' else 'divides'}: the stage would be lighter than what it carries",
            "the other way round",
            right,
            ("S56",),
        )

    def _residual_added(self, tree: Node) -> bool:
        """What can be burned as the load and what stays behind together."""
        flat = terms_of(tree)
        if (
            self.claim.dimension != MASS
            or "usable" not in self.ideas
            or len(flat) != 2
            or any(sign < 0 for sign, _ in flat)
        ):
            return False
        entry = self.entry_of(flat[1][1])
        rows = self.checker.low_rows
        row = rows[entry.line - 1] if entry is not None and 0 < entry.line <= len(rows) else ""
        if entry is None or not (
            "residual" in entry.tags
            or re.search(r"\bstays?\b|\bresidual|\bunusable|\bleft behind|\bcling", row)
        ):
            return False
        right = self.claim.si - 2.0 * entry.stated
        return self.tell("S37", "what stays behind is added", "taken off", right, ("S56",))
