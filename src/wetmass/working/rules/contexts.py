"""What the words of a line say of the place or the moment, against the numbers in it."""

from __future__ import annotations

import re
from dataclasses import replace

from wetmass.working.names import tags
from wetmass.working.reading.spoken import NUMBERS
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, leaves, walk
from wetmass.working.units import ACCELERATION, FORCE, LENGTH, MASS, MASS_FLOW, NONE, SPEED, TIME

_STANDING = re.compile(
    r"\bat (?:an? (?:height|altitude) of )?(\d+(?:\.\d+)?)\s*km\b|\b(\d+(?:\.\d+)?)\s*km (?:high|up)\b"
)
_TOP = re.compile(
    r"\btop of\b|\bapogee\b|\bpeak\b|\bhighest\b|\babove (?:the )?(?:sea|ground)\b|\bculminat|\bceiling\b|\bmaximum (?:height|altitude)\b"
)
_NUMBER = "|".join(NUMBERS) + r"|\d{1,2}"


class Contexts(Rules):
    """What the words of a line say of the place or the moment, against the numbers in it."""

    def _arc_without_its_start(self, tree: Node) -> bool:
        """The rise of a coast given as the height of its top, although the line says how high it began."""
        words = self.written
        said = _STANDING.search(words)
        if self.claim.dimension != LENGTH or not said or not _TOP.search(words) or len(terms_of(tree)) != 1:
            return False
        if not any(leaf.constant.startswith("g") for leaf in leaves(tree)) or not any(
            isinstance(node, Op) and node.kind == "^" for _, node in walk(tree)
        ):
            return False
        begun = said.group(1) or said.group(2)
        right = self.claim.si + 1e3 * float(begun)
        return self.tell("S43", f"the {begun} km where it begins are left out", "with them", right, ("S31",))

    def _one_although_plural(self, tree: Node) -> bool:
        """The mass of one in a line that speaks of all of them: "the legs cost 350/8"."""
        words = self.written
        if self.claim.dimension != MASS or re.search(
            r"\b(?:per|one|single|each of them costs|apiece costs)\b", self.statement.label.lower()
        ):
            return False
        here = leaves(tree)
        for path, leaf in walk(tree):
            entry = self.entry_of(leaf)
            if entry is None or not isinstance(leaf, Leaf) or entry.leaf.dimension != MASS:
                continue
            near = self.checker.low_rows[entry.line - 1] if entry.line else ""
            number = re.escape(entry.leaf.text.split(" ")[0])
            if not re.search(
                rf"(?<![\d.]){number}\s*(?:t|kg|lb)\s*(?:each|apiece)\b|\b(?:an?|one|each) (?:engine|fan|booster|leg|tank|motor)[^.;]{{0,24}}?(?<![\d.]){number}\s*(?:t|kg|lb)\b",
                near,
            ):
                continue
            noun = re.search(
                r"\b(legs|fans|engines|boosters|tanks|bottles|motors|wheels|canopies|parachutes)\b", words
            )
            if noun is None:
                continue
            page = self.checker.low
            many = re.search(
                rf"\b({_NUMBER})\s+(?:[a-z\-]+\s+){{0,2}}{noun.group(1)}\b",
                near if "each" in near or "apiece" in near else page,
            ) or re.search(rf"\b{noun.group(1)}\s*[:,]?\s*({_NUMBER})\b(?!\s*(?:t|kg|kn|m|mm|%|lb)\b)", near)
            n = (NUMBERS.get(many.group(1)) or int(many.group(1))) if many else 0
            if 2 <= n <= 40 and not any(other.typed == n for other in here if other.dimension == NONE):
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
        text = self.written
        said = [
            bool(re.search(rf"sound\D{{0,12}}{re.escape(leaf.text.split(' ')[0])}(?!\d)", text))
            for leaf in (above, below)
        ]
        if (named[0] or said[0] or (sound[0] and not sound[1])) and not (named[1] or said[1]):
            return self.tell(
                "S04", "the quotient is upside down", "with the flight's speed above", 1.0 / self.claim.si
            )
        return False

    def _losses_off_what_is_needed(self, tree: Node) -> bool:
        """Losses taken off the speed that the rocket has to make, where they come on top."""
        flat = terms_of(tree)
        if self.claim.dimension != SPEED or len(flat) != 2 or flat[1][0] > 0:
            return False
        whole, less = self.entry_of(flat[0][1]), flat[1][1]
        if whole is None or not isinstance(less, Leaf) or not 0.02 < less.si / whole.stated < 0.6:
            return False
        rows = self.checker.low_rows
        source = self.scope.entries[less.page].line if less.page >= 0 else 0
        first, second, here = (
            rows[n - 1] if 0 < n <= len(rows) else "" for n in (whole.line, source, self.statement.raw.number)
        )
        if not re.search(r"\bloss", second + " " + here) or re.search(
            r"\breach|\bremain|\bleft\b|\barriv|\bachiev|\bcut-?off|\bgives?\b", here
        ):
            return False
        if not re.search(
            r"\bmust (?:make|bring|deliver|give)|\bneeds?\b|\brequire|\bhas to\b|\borbit (?:needs|asks|takes)",
            first,
        ) or re.search(r"\bideal\b|rocket equation|\bgain", first):
            return False
        right = whole.stated + less.si
        return self.tell("S40", "the losses are taken off what is needed", "with them added", right, ("S56",))

    def _percent_of_the_named(self, tree: Node) -> bool:
        """A percentage of the mass at lift-off, say, that is worked out over another mass."""
        said = re.search(
            r"%\s*of (?:the |its |our )?(lift-?off|start(?:ing)?|gross|launch|take-?off|dry|empty|final|burn-?out)\s*(?:mass|weight)",
            self.written,
        )
        if not said or not isinstance(tree, Op) or tree.kind != "/" or not isinstance(tree.parts[1], Leaf):
            return False
        wanted = (
            "dry"
            if said.group(1) in ("dry", "empty")
            else "end"
            if said.group(1).startswith(("final", "burn"))
            else "start"
        )
        below = tree.parts[1]
        named = [
            e for e in self.scope.entries
            if e.leaf.dimension == MASS and wanted in e.tags and not e.tags & {"propellant", "payload", "fuel", "oxidiser"}
        ]  # fmt: skip
        scale = named[-1].leaf.factor if named and below.bare else 1.0
        if (
            not named
            or any(abs(e.stated / (below.si * scale) - 1.0) < 0.006 for e in named)
            or len({round(e.stated, 3) for e in named}) != 1
        ):
            return False
        right = self.claim.si * below.si * scale / named[-1].stated
        return self.tell(
            "S35",
            f"{below.text} is not the {said.group(1)} mass",
            f"over {named[-1].leaf.text}",
            right,
            ("S34", "S05"),
        )

    def _mean_over_unequal_times(self, tree: Node) -> bool:
        """The mean of two rates taken straight although each lasts its own time."""
        words = self.written
        if not re.search(r"\baverage\b|\bmean\b", words) or self.claim.dimension not in (
            MASS_FLOW,
            FORCE,
            ACCELERATION,
            SPEED,
        ):
            return False
        if (
            not isinstance(tree, Op)
            or tree.kind != "/"
            or not isinstance(tree.parts[1], Leaf)
            or tree.parts[1].typed != 2.0
        ):
            return False
        flat = terms_of(tree.parts[0])
        entries = [self.entry_of(part) for _, part in flat]
        if len(flat) != 2 or any(e is None for e in entries):
            return False
        one, other = entries
        for line in {e.line for e in entries if e is not None}:
            times = [
                e.stated
                for e in self.scope.entries
                if e.line == line and e.leaf.dimension == TIME and e.given
            ]
            if (
                len(times) == 2
                and one is not None
                and other is not None
                and abs(times[0] / times[1] - 1.0) > 0.05
            ):
                right = (one.stated * times[0] + other.stated * times[1]) / sum(times)
                return self.tell(
                    "S25",
                    "the two are averaged straight although they last unequal times",
                    "with the times",
                    right,
                    ("S41", "S28"),
                )
        return False

    def _seconds_by_sixty(self, tree: Node) -> bool:
        """Hours of the page times 60 beside a rate per second."""
        words = self.written
        weighed = self.claim.dimension == MASS or self.claim.unit == "g"
        if not weighed or not re.search(r"\ba second\b|\bper second\b|/s\b", words):
            return False
        here = leaves(tree)
        sixty = [leaf for leaf in here if leaf.bare and leaf.typed in (60.0, 3600.0)]
        hours = [
            leaf
            for leaf in here
            if any(
                e.leaf.dimension == TIME and e.leaf.factor == 3600.0 and e.leaf.typed == leaf.typed
                for e in self.scope.entries
            )
        ]
        if len(sixty) != 1 or sixty[0].typed != 60.0 or len(hours) != 1:
            return False
        return self.tell(
            "S16",
            "60 stands for the 3600 seconds of an hour",
            "with 3600",
            self.claim.si * 60.0,
            ("S54", "S42"),
        )
