"""Budgets of speed and ways: losses, gains, coasts."""

from __future__ import annotations

import math
import re

from wetmass.working.names import tags
from wetmass.working.relations import suits
from wetmass.working.rules.base import Rules
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.finder import Found
from wetmass.working.slips.terms import summed, terms_of
from wetmass.working.tree import (
    DEGREES,
    Leaf,
    Node,
    Op,
    Unfit,
    evaluate,
    exactly,
    leaves,
    walk,
)
from wetmass.working.units import (
    LENGTH,
    NONE,
    SPEED,
    TIME,
)


class Speeds(Rules):
    """Budgets of speed and ways: losses, gains, coasts."""

    def _ideal_as_flown(self) -> bool:
        """A speed reached that has the digits of the ideal one, though the page lists losses."""
        ideas = suits(self.statement.label)
        if (
            self.claim.dimension != SPEED
            or not ideas & {"achieved", "insertion", "end", "orbit"}
            or "dv" in ideas
        ):
            return False
        ideal = (
            next(
                (
                    e
                    for e in self.scope.entries
                    if e.tags & {"dv", "ideal"}
                    and not e.tags & {"loss"}
                    and abs(e.stated / self.claim.si - 1.0) < 1e-6
                ),
                None,
            )
            if self.claim.si
            else None
        )
        losses = [e for e in self.scope.entries if "loss" in e.tags and e.leaf.dimension == SPEED]
        if ideal is None or not losses:
            return False
        whole = next((e for e in losses if "total" in e.tags), None)
        lost = whole.stated if whole else sum(e.stated for e in losses)
        right = self.claim.si - lost
        edit = Edit(
            "S40", exactly(self.claim.si), "the ideal speed is taken as flown", "with the losses taken off"
        )
        self.conclude([Found(edit, self.claim.si, right, 0.7)], right)
        return True

    def _turned_gain(self) -> bool:
        """Earth's rotation added to what is needed, or taken off what is reached."""
        flat = terms_of(self.best)
        if len(flat) < 2 or self.claim.dimension not in (SPEED, NONE):
            return False
        named = [(sign, tree, tags(tree.name)) for sign, tree in flat if isinstance(tree, Leaf) and tree.name]
        turns = [
            465.1 * math.cos(e.stated) for e in self.scope.entries if "latitude" in e.tags and e.leaf.angle
        ]  # what the Earth gives at the site, where the line does not say so
        for sign, tree in flat:
            if (
                isinstance(tree, Leaf)
                and tree.bare
                and tree.page < 0
                and any(abs(tree.typed - v) < 1.2 for v in turns)
            ):
                named.append((sign, tree, frozenset(["rotation"])))
                if re.search(r"\bneed|\brequire|\bbudget", self.context.words):
                    named.append((1, tree, frozenset(["orbit"])))
        gains = [row for row in named if "rotation" in row[2]]
        orbit = any("orbit" in its and sign > 0 for sign, _, its in named)
        losses = any("loss" in its and sign > 0 for sign, _, its in named)
        if len(gains) != 1 or not (orbit or losses) or gains[0][0] < 0:
            return False
        turned = summed([(-s if t is gains[0][1] else s, t) for s, t in flat])
        right = evaluate(turned, self.meaning).value
        cause = "the gain from rotation is added to what is needed"
        return self.tell("S45", cause, "taken off what is needed", right, common=0.65)

    def _sign_in_a_budget(self, tree: Node) -> bool:
        """Losses are added to what is needed and taken off what is reached; the Earth's gift the reverse."""
        if self.claim.dimension != SPEED:
            return False
        ideas = suits(self.statement.label)
        flat = terms_of(tree)
        if len(flat) < 3:
            return False
        named = [(sign, part, e.tags) for sign, part in flat if (e := self.entry_of(part)) is not None]
        if len(named) < len(flat) - 1:
            return False
        needed = re.search(r"\bneed|\brequire|\bbudget\b|\bmust\b|\bdemand", self.context.words)
        first = named[0][2] if named else frozenset()
        reached = not needed and ("dv" in first or "ideal" in first) and not ideas & {"dv", "needed"}
        needed = bool(needed) or ("orbit" in first and "dv" in ideas)
        if bool(needed) == reached:
            return False
        for sign, part, its in named[1:]:
            gift = "rotation" in its or ({"gain", "earth"} & its and "loss" not in its)
            loss = "loss" in its
            if not (gift or loss):
                continue
            proper = (-1 if gift else 1) if needed else (1 if gift else -1)
            if sign == proper:
                continue
            right = self.claim.si + 2.0 * proper * evaluate(part, self.meaning).value
            name = self.scope.entries[part.page].name if isinstance(part, Leaf) else "a term"
            kind = "S45" if gift else "S40"
            return self.tell(
                kind,
                f"{name} has the wrong sign",
                "added" if proper > 0 else "taken off",
                right,
                ("S56", "S42"),
            )
        return False

    def _speeds_halved(self, tree: Node) -> bool:
        """Speeds gained one after another add up; they are not averaged."""
        if (
            "dv" not in self.ideas
            or "total" not in self.ideas
            or not isinstance(tree, Op)
            or tree.kind != "/"
        ):
            return False
        above, below = tree.parts
        flat = terms_of(above)
        if len(flat) < 2 or not isinstance(below, Leaf) or below.typed != len(flat):
            return False
        if not all(isinstance(part, Leaf) and (part.bare or part.dimension == SPEED) for _, part in flat):
            return False
        return self.tell(
            "S01", "the mean of the stages is taken", "with their sum", self.claim.si * below.typed, ("S25",)
        )

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

    def _speeds_added(self, tree: Node) -> bool:
        """Two speeds of orbits at one place added, where a burn takes their difference."""
        words = self.context.words
        if self.claim.dimension != SPEED or not re.search(
            r"\b(?:burn|kick|insertion|circulari[sz]|Δv|dv|capture)", words
        ):
            return False
        flat = terms_of(tree)
        if len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        entries = [self.entry_of(part) for _, part in flat]
        if any(e is None for e in entries):
            return False
        for e in entries:
            if (
                e is None
                or "speed" not in e.tags
                or e.tags & {"dv", "loss", "gain", "exhaust", "rotation", "burn", "change"}
            ):
                return False
            if not 300.0 < e.stated < 15000.0 or re.search(r"burn|kick|Δ|delta", e.name):
                return False
        one, other = (e.stated for e in entries if e is not None)
        return self.tell(
            "S48", "the two speeds are added", "with their difference", abs(one - other), ("S56", "S49")
        )

    def _taken_off_added(self, tree: Node) -> bool:
        """A line that says less, without or minus, and adds."""
        label = self.statement.label.lower()
        said = re.match(
            r"^(?:now |then )?(?:less|minus|without|reduced by|net of|after dropping|dropping)\b", label
        )
        flat = terms_of(tree)
        if not said or len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        right = self.claim.si - 2.0 * evaluate(flat[1][1], self.meaning).value
        return self.tell(
            "S56", "what should be taken off is added", "with it taken off", right, ("S31", "S40")
        )

    def c3_as_speed(self) -> bool:
        """C3 is the square of the speed far away."""
        if self.claim.dimension != SPEED or not self.claim.typed:
            return False
        energies = [
            e for e in self.scope.entries
            if e.leaf.dimension == tuple(2.0 * x for x in SPEED) and abs(e.leaf.typed / self.claim.typed - 1.0) < 1e-9
        ]  # fmt: skip
        if not energies or abs(energies[-1].stated ** 0.5 / self.claim.si - 1.0) < 0.01:
            return False
        right = energies[-1].stated ** 0.5
        return self.tell(
            "S49", f"{energies[-1].name or 'C3'} is taken for a speed", "with its root", right, ("S06",)
        )

    def _turn_not_halved(self, tree: Node) -> bool:
        """2·v·sin(Δi) where the angle between two inclinations of the page is not halved."""
        if self.claim.dimension != SPEED or not isinstance(tree, Op) or tree.kind != "*":
            return False
        angles = [e.stated for e in self.scope.entries if e.leaf.angle and 0.05 < abs(e.stated) < 3.2]
        two = any(leaf.bare and leaf.typed == 2.0 for leaf in leaves(tree))
        for path, node in walk(tree):
            if not isinstance(node, Op) or node.kind != "sin" or not two:
                continue
            try:
                angle = evaluate(node.parts[0], DEGREES).value
            except Unfit:
                return False
            between = any(
                abs(abs(one - other) - angle) < 2e-3
                for i, one in enumerate(angles)
                for other in angles[i + 1 :]
            )
            if between and angle:
                right = self.claim.si * math.sin(angle / 2.0) / math.sin(angle)
                return self.tell(
                    "S01", "the angle of the turn is not halved", "with half of it", right, ("S47", "S06")
                )
            del path
        return False

    def _way_at_last_speed(self, tree: Node) -> bool:
        """The speed reached times the time it took to reach it."""
        if self.claim.dimension != LENGTH or not isinstance(tree, Op) or tree.kind != "*":
            return False
        pair = [part for part in tree.parts if isinstance(part, Leaf)]
        speed = next((part for part in pair if part.dimension == SPEED), None)
        time = next((part for part in pair if part.dimension == TIME and part.page >= 0), None)
        if (
            speed is None
            or time is None
            or re.search(r"coast|cruise|steady speed|constant speed", self.context.words)
        ):
            return False
        origin = self.checker.working_of(time.page)
        if not isinstance(origin, Op) or origin.kind != "/":
            return False
        above = origin.parts[0]
        if not isinstance(above, Leaf) or abs(above.typed * (above.factor or 1.0) / speed.si - 1.0) > 1e-6:
            return False
        return self.tell(
            "S01", "the speed at the end is taken for the whole way", "with half of it, the mean speed,",
            self.claim.si / 2.0, ("S43",),
        )  # fmt: skip
