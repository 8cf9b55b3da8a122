"""A mass, a world or an acceleration of another moment."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from wetmass.working.relations import ideas_of, suits
from wetmass.working.rules.base import STANDARD, Rules
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    walk,
)
from wetmass.working.units import (
    ACCELERATION,
    FORCE,
    MASS,
    TIME,
)


class Moments(Rules):
    """A mass, a world or an acceleration of another moment."""

    def _other_world(self, tree: Node) -> bool:
        """A weight with the gravity of Earth on a page of another world."""
        ratio = self.claim.bare and "twr" in self.ideas
        if (self.claim.dimension != FORCE and not ratio) or re.search(
            r"\bearth\b|\bg0\b|g₀", self.context.words
        ):
            return False
        worlds = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == ACCELERATION and "gravity" in e.tags and not 9.7 < e.stated < 9.9
        ]
        if len(worlds) != 1 or "earth" in self.checker.low:
            return False
        parts = [leaf for _, leaf in walk(tree) if isinstance(leaf, Leaf)]
        if not any(leaf.dimension == MASS for leaf in parts) or any(
            "isp" in ideas_of(leaf) for leaf in parts
        ):
            return False
        for path, leaf in walk(tree):
            if isinstance(leaf, Leaf) and leaf.constant == "g₀":
                right = self.changed(tree, path, self.scope.leaf(worlds[0]))
                return self.tell("S24", "gravity of Earth is used", f"with {worlds[0].name}", right)
        return False

    def _first_acceleration_kept(self, tree: Node) -> bool:
        """The acceleration at the start times the whole burn, though much of the mass burns away."""
        ideas = suits(self.statement.label)
        if not ideas & {"speed", "end"} or "dv" in ideas or not isinstance(tree, Op) or tree.kind != "*":
            return False
        found = [e for part in tree.parts if (e := self.entry_of(part)) is not None]
        first = [
            e
            for e in found
            if e.leaf.dimension == ACCELERATION and e.tags & {"start", "liftoff", "initial", "first"}
        ]
        times = [e for e in found if e.leaf.dimension == TIME and "burn" in e.tags]
        starts = [e.stated for e in self.scope.entries if e.leaf.dimension == MASS and "start" in e.tags]
        ends = [e.stated for e in self.scope.entries if e.leaf.dimension == MASS and "end" in e.tags]
        forces = [e.stated for e in self.scope.entries if e.leaf.dimension == FORCE and "thrust" in e.tags]
        if not (first and times and starts and ends and forces) or starts[-1] < 1.2 * ends[-1]:
            return False
        time, start, end = times[-1].stated, starts[-1], ends[-1]
        right = forces[-1] * time / (start - end) * math.log(start / end)
        if first[-1].stated < forces[-1] / start - 0.5 * STANDARD:
            right -= STANDARD * time
        if not 1.0 < right / self.claim.si < 20.0:
            return False
        cause = "the acceleration of the start is kept through the whole burn"
        return self.tell("S41", cause, "with the mass falling as it burns", right)

    def _mass_of_another_moment(self, tree: Node) -> bool:
        """The propellant, or the mass of another moment, below the thrust."""
        ideas = suits(self.statement.label)
        words = self.written
        if not (
            ideas & {"twr"}
            or re.search(r"\btimes (?:the|its) weight\b", words)
            or self.claim.dimension == ACCELERATION
        ) or ideas & {"mean", "engine"}:
            return False
        early = bool(ideas & {"liftoff", "start"}) or re.search(
            r"\bignition\b|\boff the pad\b|\bleaves? (?:the )?(?:pad|table|ground|stand)\b",
            self.context.words,
        )
        late = "end" in ideas and not early
        if not (early or late):
            return False
        for path, leaf in walk(tree):
            entry = self.entry_of(leaf)
            if entry is None or entry.leaf.dimension != MASS or not isinstance(leaf, Leaf):
                continue
            its = entry.tags
            if early and its & {"propellant", "dry", "end"} and not its & {"start", "total"}:
                wanted = "start"
            elif late and its & {"propellant", "start"} and not its & {"end"}:
                wanted = "end"
            elif late and its & {"dry"} and not its & {"payload", "total"}:
                carried = [
                    e
                    for e in self.scope.entries
                    if "payload" in e.tags and e.leaf.dimension == MASS and "dry" not in e.tags
                ]  # noqa: E501
                if len(carried) != 1 or self.statement.stage not in ("", carried[0].stage or entry.stage):
                    continue
                right = self.changed(
                    tree, path, replace(leaf, typed=leaf.typed + carried[0].stated / leaf.factor)
                )
                return self.tell(
                    "S31", "the payload is left out of the mass", f"with {carried[0].name}", right, ("S05",)
                )  # noqa: E501
            else:
                continue
            proper = [
                e for e in self.scope.entries
                if e.leaf.dimension == MASS and wanted in e.tags and not e.tags & {"propellant"} and e.stage in ("", self.statement.stage)  # noqa: E501
            ]  # fmt: skip
            starts = [e for e in self.scope.entries if e.leaf.dimension == MASS and "start" in e.tags]
            if (
                not proper
                and late
                and len(starts) == 1
                and its & {"propellant"}
                and starts[0].stated > 1.05 * leaf.si
            ):
                rest = starts[0].stated - leaf.si
                right = self.changed(tree, path, replace(leaf, typed=rest / leaf.factor))
                cause = f"{entry.name} ({entry.leaf.text}) is put in as the mass"
                return self.tell("S05", cause, "with what is left after it burns", right, ("S31", "S41"))
            if not proper or abs(proper[-1].stated / leaf.si - 1.0) < 0.004:
                continue
            right = self.changed(tree, path, self.scope.leaf(proper[-1]))
            cause = f"{entry.name} ({entry.leaf.text}) is put in as the mass"
            return self.tell("S31", cause, f"with {proper[-1].name}", right, ("S05", "S41"))
        return False
