"""What the words of a line say of the place or the moment, against the numbers in it."""

from __future__ import annotations

import re
from dataclasses import replace

from wetmass.working.names import tags
from wetmass.working.reading.spoken import NUMBERS
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, leaves, walk
from wetmass.working.units import ACCELERATION, FORCE, LENGTH, MASS, NONE, PRESSURE

_AT_HEIGHT = re.compile(r"\bat (\d+(?:\.\d+)?)\s*km\b")
_STANDING = re.compile(r"\bat (?:an? (?:height|altitude) of )?(\d+(?:\.\d+)?)\s*km\b")
_TOP = re.compile(
    r"\btop of\b|\bapogee\b|\bpeak\b|\bhighest\b|\babove (?:the )?(?:sea|ground)\b|\bculminat|\bceiling\b|\bmaximum (?:height|altitude)\b"
)
_NUMBER = "|".join(NUMBERS) + r"|\d{1,2}"
_WORLDS = re.compile(r"\b(moon|lunar|mars|martian|earth)\b")


class Contexts(Rules):
    """What the words of a line say of the place or the moment, against the numbers in it."""

    def _sound_of_the_ground(self, tree: Node) -> bool:
        """The speed of sound of the ground for a flight high up."""
        words = self.statement.raw.text.lower()
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

    def _arc_without_its_start(self, tree: Node) -> bool:
        """The rise of a coast given as the height of its top, although the line says how high it began."""
        words = self.statement.raw.text.lower()
        said = _STANDING.search(words)
        if self.claim.dimension != LENGTH or not said or not _TOP.search(words) or len(terms_of(tree)) != 1:
            return False
        if not any(leaf.constant.startswith("g") for leaf in leaves(tree)) or not any(
            isinstance(node, Op) and node.kind == "^" for _, node in walk(tree)
        ):
            return False
        start = 1e3 * float(said.group(1))
        right = self.claim.si + start
        return self.tell(
            "S43", f"the {said.group(1)} km where it begins are left out", "with them", right, ("S31",)
        )

    def _gauge_taken_off(self, tree: Node) -> bool:
        """An absolute pressure as the gauge less the air outside."""
        words = self.statement.raw.text.lower()
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
        rows = self.checker.text.lower().split("\n")[
            max(0, self.statement.raw.number - 9) : self.statement.raw.number
        ]
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

    def _one_although_plural(self, tree: Node) -> bool:
        """The mass of one in a line that speaks of all of them: "the legs cost 350/8"."""
        words = self.statement.raw.text.lower()
        if self.claim.dimension != MASS or re.search(
            r"\b(?:per|one|single|each of them costs|apiece costs)\b", self.statement.label.lower()
        ):
            return False
        here = leaves(tree)
        for path, leaf in walk(tree):
            entry = self.entry_of(leaf)
            if entry is None or not isinstance(leaf, Leaf) or entry.leaf.dimension != MASS:
                continue
            near = self.checker.text.split("\n")[entry.line - 1].lower() if entry.line else ""
            number = re.escape(entry.leaf.text.split(" ")[0])
            if not re.search(rf"(?<![\d.]){number}\s*(?:t|kg|lb)\s*(?:each|apiece)\b", near):
                continue
            noun = re.search(
                r"\b(legs|fans|engines|boosters|tanks|bottles|motors|wheels|canopies|parachutes)\b", words
            )
            if noun is None:
                continue
            many = re.search(rf"\b({_NUMBER})\s+(?:[a-z\-]+\s+){{0,2}}{noun.group(1)}\b", near) or re.search(
                rf"\b{noun.group(1)}\s*[:,]?\s*({_NUMBER})\b(?!\s*(?:t|kg|kn|m|mm|%|lb)\b)", near
            )
            n = (NUMBERS.get(many.group(1)) or int(many.group(1))) if many else 0
            if 2 <= n <= 40 and not any(other.typed == n for other in here if other.bare):
                right = self.changed(tree, path, replace(leaf, typed=leaf.typed * n))
                return self.tell(
                    "S30", f"only one of the {n} is counted", "with all of them", right, ("S31",)
                )
        return False

    def _plain_ratio_by_name(self, tree: Node) -> bool:
        """A Mach number with the speed of sound above."""
        if (
            "mach" not in self.ideas
            or not isinstance(tree, Op)
            or tree.kind != "/"
            or not (self.claim.bare and self.claim.dimension == NONE)
        ):
            return False
        above, below = tree.parts
        if not isinstance(above, Leaf) or not isinstance(below, Leaf):
            return False
        sound = [270.0 < leaf.si < 346.0 and leaf.factor == 1.0 for leaf in (above, below)]
        named = ["sound" in tags(leaf.name) for leaf in (above, below)]
        text = self.statement.raw.text.lower()
        said = [
            bool(re.search(rf"sound\D{{0,12}}{re.escape(leaf.text.split(' ')[0])}(?!\d)", text))
            for leaf in (above, below)
        ]
        if (named[0] or said[0] or (sound[0] and not sound[1])) and not (named[1] or said[1]):
            return self.tell(
                "S04", "the quotient is upside down", "with the flight's speed above", 1.0 / self.claim.si
            )
        return False
