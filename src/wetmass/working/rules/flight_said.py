"""What a line says of the flight, braking, heading east, far away, against what it adds and takes off."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from wetmass.working.rules.base import STANDARD, Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import Leaf, Node, Op, leaves, walk
from wetmass.working.units import ACCELERATION, SPEED

_UP = re.compile(r"\bbrak|\bstop|\bslow|\bupward|\bclimb|\bnet\b|\blift")
_FELT = re.compile(r"\bfeel|\bfelt|\bload factor|\bdownward|\bdiv(?:e|ing)\b")
_FAR = re.compile(r"\bfar away\b|\binfinity\b|\bexcess\b|\bv_?inf\b|v∞|\bhyperbolic\b")
_HELPS = re.compile(
    r"\b(?:rotation|turning|spin)\b[^.;+=\d]{0,16}\b(?:helps|gives|brings|saves)\b[^.;+=\d]{0,12}(\d[\d.,]*)"
)
_ANGLE = re.compile(r"\b(?:path|flight|climb|pitch)[ -](?:path )?angle\b[^.;\n\d]{0,40}(\d+(?:\.\d+)?) ?°")
_AIR = re.compile(r"\b(?:air|atmosphere|gas)\b[^.;\n\d]{0,40}(\d\.\d+) ?kg/m")


class FlightSaid(Rules):
    """The flight in words against signs and weights."""

    def _weight_added_to_the_braking(self, tree: Node) -> bool:
        """Thrust over mass plus g as the acceleration against the weight."""
        words = self.written
        flat = terms_of(tree)
        if self.claim.dimension != ACCELERATION or not _UP.search(words) or _FELT.search(words):
            return False
        if len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        pull = next((p for _, p in flat if isinstance(p, Leaf) and _is_g(p)), None)
        push = next((p for _, p in flat if isinstance(p, Op) and p.kind == "/"), None)
        if pull is None or push is None:
            return False
        right = self.claim.si - 2.0 * pull.typed * self.claim.factor
        return self.tell(
            "S24", "the weight is added to the thrust", "with it taken off", right, ("S56", "S51")
        )

    def _stop_without_weight(self, tree: Node) -> bool:
        """Thrust over mass alone, in a stopping way straight down on the same line."""
        words = self.written
        if self.claim.dimension != ACCELERATION or not isinstance(tree, Op) or tree.kind != "/":
            return False
        number = re.escape(f"{self.claim.text.split(' ')[0]}")
        if not re.search(rf"\^?[²2] ?/ ?\(2 ?[·×*] ?{number}\)", words):
            return False
        if not re.search(r"\bstandstill|\bto a stop|\btouch|\bland", words):
            return False
        if not re.search(r"\bfalling|\bdeck|\bdescen|\bhover|\bdown\b", self.checker.low):
            return False
        right = self.claim.si - STANDARD
        return right > 0.0 and self.tell(
            "S51", "the weight is left out of the braking", "with it", right, ("S24",)
        )

    def _excess_added(self, tree: Node) -> bool:
        """The speed far away added to that of escape: their squares add."""
        flat = terms_of(tree)
        if self.claim.dimension != SPEED or len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        entries = [self.entry_of(p) for _, p in flat]
        escape = next((e for e in entries if e is not None and "escape" in e.name.lower()), None)
        words = self.written
        other = next((e for e in entries if e is not escape), None)
        if escape is None or not _FAR.search(words + " " + (other.name.lower() if other else "")):
            return False
        rest = self.claim.si - escape.stated
        right = math.hypot(escape.stated, rest)
        return self.tell(
            "S49", "the speeds are added", "with the root of the sum of their squares", right, ("S48", "S56")
        )

    def _help_added(self, tree: Node) -> bool:
        """The turning of the Earth added to what is needed, although the line says that it helps."""
        words = self.written
        said = _HELPS.search(words)
        if (
            self.claim.dimension != SPEED
            or said is None
            or not re.search(r"\bneed|\brequire|\bmust\b", words)
        ):
            return False
        value = float(said.group(1).rstrip(".,").replace(",", ""))
        if not any(
            sign > 0 and isinstance(p, Leaf) and abs(p.typed - value) < 1e-9 for sign, p in terms_of(tree)[1:]
        ):
            return False
        right = self.claim.si - 2.0 * value * self.claim.factor
        return self.tell("S45", "what helps is added", "with it taken off", right, ("S56",))

    def _turning_off_the_inertial(self, tree: Node) -> bool:
        """The turning of the Earth taken off for the speed in space when heading east."""
        words = self.written
        flat = terms_of(tree)
        if (
            self.claim.dimension != SPEED
            or not re.search(r"\binertial\b|\bin space\b", words)
            or len(flat) != 2
        ):
            return False
        if re.search(r"\bwest|\bretrograde|\bsun-?synch", words) or flat[1][0] > 0:
            return False
        entry = self.entry_of(flat[1][1])
        if entry is None or not re.search(r"\brotation\b|\bturning\b|\bearth\b|\bspin\b", entry.name.lower()):
            return False
        right = self.claim.si + 2.0 * entry.stated
        return self.tell("S45", "the turning of the Earth is taken off", "with it added", right, ("S56",))

    def _loss_without_the_angle(self, tree: Node) -> bool:
        """Seconds times g as the loss to gravity, although the page gives the angle of the path."""
        words = self.written
        here = leaves(tree)
        said = _ANGLE.search(self.checker.low)
        if self.claim.dimension != SPEED or "gravity" not in words or said is None or len(here) != 2:
            return False
        if not isinstance(tree, Op) or tree.kind != "*" or not any(_is_g(p) for p in here):
            return False
        angle = float(said.group(1))
        right = self.claim.si * math.sin(math.radians(angle))
        return angle < 60.0 and self.tell(
            "S24", "the whole weight is counted although the path is flat", f"with the sine of {angle:g}°", right, ("S42", "S46")
        )  # fmt: skip

    def _air_of_the_earth_elsewhere(self, tree: Node) -> bool:
        """The density of the air on Earth although the page gives that of the place."""
        rows = self.checker.low_rows
        near = "\n".join(rows[max(0, self.statement.raw.number - 4) : self.statement.raw.number])
        said = list(_AIR.finditer(near))
        if not said or not re.search(r"\bmars|\bmartian|\btitan|\bvenus|\bplanet", self.checker.low):
            return False
        there = float(said[-1].group(1))
        for path, leaf in walk(tree):
            if (
                isinstance(leaf, Leaf)
                and leaf.typed in (1.225, 1.2, 1.23)
                and not 0.8 < there / leaf.typed < 1.3
            ):
                if leaf.page >= 0 or not (leaf.bare or leaf.unit.startswith("kg/m")):
                    continue
                if leaf.typed != 1.225 and any(p.typed == 1.225 for p in leaves(tree)):
                    continue
                right = self.changed(tree, path, replace(leaf, typed=there))
                return self.tell("S53", "the air of the Earth is used", f"with {there:g} kg/m³", right)
        return False


def _is_g(leaf: Leaf) -> bool:
    """Whether a number is the gravity of the Earth, in metres or feet."""
    return leaf.constant.startswith("g") or 9.79 < leaf.typed < 9.82 or 32.1 < leaf.typed < 32.25
