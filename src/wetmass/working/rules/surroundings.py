"""The world, the air and the height round a line, against the figures in it."""

from __future__ import annotations

import re
from dataclasses import replace

from wetmass.working.names import tags
from wetmass.working.relations import ideas_of
from wetmass.working.rules.base import STANDARD, Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, evaluate, leaves, walk
from wetmass.working.units import ACCELERATION, FORCE, LENGTH, MASS, MASS_FLOW, PRESSURE, SPEED, TIME

_AT_HEIGHT = re.compile(r"\bat (\d+(?:\.\d+)?)\s*km\b")
_WORLDS = re.compile(r"\b(moon|lunar|mars|martian|earth)\b")


class Surroundings(Rules):
    """The world, the air and the height round a line."""

    def _sound_of_the_ground(self, tree: Node) -> bool:
        """The speed of sound of the ground for a flight high up."""
        words = self.written
        said = _AT_HEIGHT.search(words)
        if not said or not re.search(r"\bmach\b|\bsound\b", words) or not 7.0 <= float(said.group(1)) <= 80.0:
            return False
        for path, leaf in walk(tree):
            if (
                isinstance(leaf, Leaf)
                and 329.0 < leaf.typed < 346.0
                and leaf.factor == 1.0
                and path
                and path[-1] == 1
            ):
                from wetmass.physics.atmosphere import air

                sound = air(1e3 * float(said.group(1)))[3]
                right = self.changed(tree, path, replace(leaf, typed=sound))
                return self.tell(
                    "S53",
                    f"{leaf.text}, the speed of sound at the ground, is used",
                    f"with {sound:.0f} m/s up there",
                    right,
                )
        return False

    def _gauge_taken_off(self, tree: Node) -> bool:
        """An absolute pressure as the gauge less the air outside."""
        words = self.written
        if self.claim.dimension != PRESSURE or "gauge" not in words or "absolute" not in words:
            return False
        flat = terms_of(tree)
        if len(flat) != 2 or (
            words.rfind("absolute") < words.rfind("gauge") and "absolute" not in self.statement.label.lower()
        ):
            return False
        (_, one), (sign, other) = flat
        if sign > 0 or not isinstance(one, Leaf) or not isinstance(other, Leaf):
            return False
        right = self.claim.si * (one.typed + other.typed) / (one.typed - other.typed)
        return self.tell(
            "S15", "the pressure outside is taken off the gauge", "with it added", right, ("S56",)
        )

    def _world_of_the_lines(self, tree: Node) -> bool:
        """A thrust over weight with the gravity of Earth where the lines above speak of another world."""
        if not ("twr" in self.ideas or self.claim.dimension == FORCE) or re.search(
            r"\bearth\b|\bg0\b|g₀", self.context.words
        ):
            return False
        rows = self.checker.low_rows[max(0, self.statement.raw.number - 9) : self.statement.raw.number]
        said = _WORLDS.findall(" ".join(rows))
        worlds = [
            e for e in self.scope.entries
            if e.leaf.dimension == ACCELERATION and 1.0 < e.stated < 4.5 and e.tags & {"gravity", "moon", "mars"}
        ]  # fmt: skip
        if (
            not said
            or said[-1] == "earth"
            or not worlds
            or any("isp" in tags(leaf.name) for leaf in leaves(tree))
        ):
            return False
        if not any(leaf.dimension == MASS for leaf in leaves(tree)):
            return False
        for path, leaf in walk(tree):
            entry = self.entry_of(leaf)
            if isinstance(leaf, Leaf) and (
                leaf.constant == "g₀"
                or (entry is not None and abs(entry.stated - 9.8) < 0.03 and leaf.dimension == ACCELERATION)
            ):
                right = self.changed(tree, path, self.scope.leaf(worlds[-1]))
                return self.tell("S24", "gravity of Earth is used", f"with {worlds[-1].leaf.text}", right)
        return False

    def _circle_at_the_ground(self, tree: Node) -> bool:
        """The speed in an orbit worked out at the Earth's own radius, although the page says how high it is."""
        words = self.written
        if (
            self.claim.dimension != SPEED
            or not re.search(r"\bcircular\b|\borbit", words)
            or "surface" in words
        ):
            return False
        here = leaves(tree)
        radii = [leaf for leaf in here if leaf.dimension == LENGTH]
        if (
            len(radii) != 1
            or not 6.36e6 < radii[0].si < 6.3785e6
            or not any(leaf.si > 3.9e14 for leaf in here)
        ):
            return False
        if not any(isinstance(node, Op) and node.kind == "sqrt" for _, node in walk(tree)):
            return False
        said = [
            e.stated
            for e in self.scope.entries
            if e.leaf.dimension == LENGTH and 1.2e5 < e.stated < 4e7 and not 6.3e6 < e.stated < 6.4e6
        ]
        if len({round(height) for height in said}) != 1:
            return False
        right = self.claim.si * (radii[0].si / (radii[0].si + said[0])) ** 0.5
        return self.tell(
            "S22", "the height is left out of the orbit radius", f"with {said[0] / 1e3:g} km added", right
        )

    def _moon_in_the_impulse(self, tree: Node) -> bool:
        """A specific impulse times the gravity of another world: it is counted in Earth's, wherever it burns."""
        for path, node in walk(tree):
            if not isinstance(node, Op) or node.kind != "*":
                continue
            pair = [part for part in node.parts if isinstance(part, Leaf)]
            if len(pair) != 2:
                continue
            impulse = next(
                (p for p in pair if 150.0 < p.typed < 1200.0 and (p.bare or p.dimension == TIME)), None
            )
            gravity = next(
                (
                    p
                    for p in pair
                    if p is not impulse
                    and (
                        p.constant in ("g_Moon", "g_Mars")
                        or (p.dimension == ACCELERATION and 1.0 < p.si < 4.5)
                    )
                ),
                None,
            )
            isp = impulse is not None and "isp" in ideas_of(impulse)
            if impulse is None or gravity is None or not (isp or self.claim.dimension == MASS_FLOW):
                continue
            right = self.changed(
                tree,
                path,
                Op("*", (impulse, Leaf(STANDARD, dimension=ACCELERATION, bare=False, text="9.81"))),
            )
            return self.tell(
                "S24", "the gravity of another world stands in the impulse", "with 9.81 m/s²", right, ("S02",)
            )
        return False

    def _air_added(self, tree: Node) -> bool:
        """The pressure of the air times the exit area added for a thrust at the ground, or taken off for one in vacuum."""
        words = self.written
        flat = terms_of(tree)
        if self.claim.dimension != FORCE or len(flat) != 2:
            return False
        ground = bool(re.search(r"\bsea[- ]level\b|\bground\b|\bpad\b", words))
        vacuum = bool(re.search(r"\bvac(?:uum)?\b|\bin space\b", words))
        sign, part = flat[1]
        air = (
            isinstance(part, Op)
            and part.kind == "*"
            and any(
                isinstance(leaf, Leaf)
                and any(abs(leaf.typed / f / 1.01325 - 1.0) < 2e-3 for f in (1.0, 100.0, 1e5, 0.1))
                for leaf in part.parts
            )
        )
        if not air or ground == vacuum or (sign < 0) == ground or flat[0][0] < 0:
            return False
        first = flat[0][1]
        entry = self.entry_of(first)
        if entry is not None and ("vac" if vacuum else "sl") in entry.tags:
            return False
        change = self.claim.si - (
            entry.stated
            if entry is not None
            else first.typed * self.claim.factor
            if isinstance(first, Leaf) and first.bare
            else evaluate(first, self.meaning).value
        )
        right = self.claim.si - 2.0 * change
        deed = ("added", "taken off") if sign > 0 else ("taken off", "added")
        return self.tell(
            "S26", f"the pressure of the air is {deed[0]}", f"with it {deed[1]}", right, ("S56",)
        )
