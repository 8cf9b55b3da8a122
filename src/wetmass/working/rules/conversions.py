"""One quantity in two units: the number between them is not the one it takes."""

from __future__ import annotations

import re

from wetmass.record.digits import readable
from wetmass.record.working import Slip, Verdict
from wetmass.working.page import RawLine
from wetmass.working.reading import spoken
from wetmass.working.rules.base import STANDARD, Rules
from wetmass.working.scope import Scope
from wetmass.working.slips.kinds import KINDS
from wetmass.working.statement import parse
from wetmass.working.tokens import Unreadable
from wetmass.working.tree import Leaf, Node, Op, evaluate, leaves
from wetmass.working.units import (
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    PRESSURE,
    SPEED,
    TIME,
    VOLUME,
)

_FACTORS = (
    2000.0, 2240.0, 2204.6, 907.2, 1016.0, 0.4536, 2.205, 4.448, 0.2248, 5280.0, 6076.0, 1852.0, 1.852, 1609.0, 1.609,
    3.281, 0.3048, 12.0, 25.4, 2.54, 39.37, 6895.0, 6.895, 0.145, 145.0, 14.5, 14.7, 101.3, 1.013, 1e5, 1e6, 1e3, 1e-3,
    60.0, 3600.0, 24.0, 86400.0, 1440.0, 144.0, 1728.0, 9.81, 3.6, 7.48, 28.32, 0.02832, 3.785, 264.2,
)  # fmt: skip
_KIND = {
    FORCE: ("S09", ("S07", "S02")), LENGTH: ("S13", ("S07", "S08")), PRESSURE: ("S15", ("S07", "S08")), SPEED: ("S13", ("S07",)),
    TIME: ("S42", ("S16", "S54", "S07")), MASS_FLOW: ("S16", ("S42", "S11", "S54")), VOLUME: ("S13", ("S07",)),
}  # fmt: skip
_AGAIN = re.compile(
    r"^[\s,;(]*(?:or|that is|that's|i\.e\.|which is|so)[\s,]+(?:about |some |just )?(\d[\d.,]*\d?\s*[^\W\d_]{1,8}[²³]?(?:/[^\W\d_]{1,5})?)(?![\w/])"
)
_TONS = (2000.0, 2240.0, 907.2, 1016.0)


class Conversions(Rules):
    """One quantity in two units."""

    def _between_two_units(self, tree: Node) -> bool:
        """A value of the page times or over a plain number, stated in another unit of the same quantity."""
        claim = self.claim
        if claim.bare or claim.dimension == NONE or not isinstance(tree, Op) or tree.kind not in "*/":
            return False
        one, other = tree.parts
        if not isinstance(one, Leaf) or not isinstance(other, Leaf):
            return False
        for value, factor in ((one, other), (other, one)):
            if factor is one and tree.kind == "/":
                continue
            entry = self.entry_of(value)
            if entry is None or value.dimension != claim.dimension or not factor.bare or factor.page >= 0:
                continue
            stated = entry.leaf
            if (
                stated.bare
                or abs(stated.factor / claim.factor - 1.0) < 1e-6
                or factor.constant.startswith("μ")
            ):
                continue
            right = entry.stated
            if abs(right / claim.si - 1.0) < 0.012:
                return False
            if not any(abs(factor.typed / known - 1.0) < 0.006 for known in _FACTORS):
                continue
            kind, also = _KIND.get(claim.dimension, ("S11", ("S12", "S07")))
            if claim.dimension == MASS and any(abs(factor.typed / ton - 1.0) < 0.006 for ton in _TONS):
                kind, also = "S12", ("S11",)
            needed = stated.factor / claim.factor
            turn = f"times {needed:.4g}" if needed >= 1.0 else f"over {1.0 / needed:.4g}"
            done = f"{factor.text} {'divides' if tree.kind == '/' else 'multiplies'} to turn {stated.unit or 'it'} into {claim.unit}"
            return self.tell(kind, done, turn, right, also)
        return False

    def _pounds_over_g(self, tree: Node) -> bool:
        """Pounds of force over pounds times 32.2: a pound weighs a pound of force already."""
        if "twr" not in self.ideas or not self.claim.bare:
            return False
        here = leaves(tree)
        forces = [leaf for leaf in here if leaf.dimension == FORCE and "lb" in leaf.unit]
        masses = [leaf for leaf in here if leaf.dimension == MASS and "lb" in leaf.unit]
        gravity = [leaf for leaf in here if 32.0 < leaf.typed < 32.3]
        if len(forces) != 1 or len(masses) != 1 or len(gravity) != 1 or len(here) != 3:
            return False
        right = forces[0].typed * forces[0].factor / (masses[0].si * STANDARD)
        if abs(right / self.claim.si - 1.0) < 0.02:
            return False
        return self.tell(
            "S10",
            "pounds of mass are multiplied by g although pounds of force stand above",
            "pounds over pounds",
            right,
            ("S02", "S24"),
        )

    def _per_kilogram(self, tree: Node) -> bool:
        """So much per kilogram, divided by tonnes."""
        words = self.written
        if (
            not re.search(r"\bper (?:kilogram|kg)\b|\ba kilogram\b", words)
            or not isinstance(tree, Op)
            or tree.kind != "/"
        ):
            return False
        below = tree.parts[1]
        above = evaluate(tree.parts[0], self.meaning)
        if (
            not isinstance(below, Leaf)
            or below.dimension != MASS
            or abs(below.factor - 1000.0) > 1e-6
            or above.dimension != NONE
        ):
            return False
        if abs(above.value / below.typed / self.claim.typed - 1.0) > 0.006:
            return False
        return self.tell(
            "S07",
            f"{below.text} are taken as kilograms",
            "in kilograms",
            self.claim.si / 1000.0,
            ("S35", "S08"),
        )

    def _load_without_g(self, tree: Node) -> bool:
        """A mass times so many g stated as a force, without g itself."""
        said = re.search(
            r"\b(?:at|under|with|for|of)\s+(\d+(?:\.\d+)?)\s*g\b(?![\w/])", self.statement.raw.text
        )
        if self.claim.dimension != FORCE or not said or not isinstance(tree, Op) or tree.kind != "*":
            return False
        load = float(said.group(1))
        here = leaves(tree)
        masses = [leaf for leaf in here if leaf.dimension == MASS]
        loads = [leaf for leaf in here if leaf.typed == load and leaf.dimension != MASS]
        if (
            len(here) != 2
            or len(masses) != 1
            or len(loads) != 1
            or abs(masses[0].si * load / self.claim.si - 1.0) > 0.01
        ):
            return False
        return self.tell(
            "S02", "g is left out of the load", "with it", self.claim.si * STANDARD, ("S24", "S07")
        )

    def said_twice(self) -> bool:
        """A result said again in another unit that does not measure the same: "74,561 litres, or 746 cubic metres"."""
        claim = self.claim
        behind = self.statement.raw.text.partition(claim.text)[2]
        match = _AGAIN.match(spoken.level(behind))
        if match is None or claim.bare or not claim.si:
            return False
        try:
            said = parse(
                RawLine(self.statement.raw.number, 0, "", "", 0, True), f"x = {match.group(1)}", Scope()
            )
        except (Unreadable, RecursionError):
            return False
        other = said.claim if said is not None else None
        if (
            other is None
            or other.bare
            or other.dimension != claim.dimension
            or other.unit == claim.unit
            or not other.si
        ):
            return False
        room = max(0.02 * abs(claim.si), 1.2 * other.half * other.factor)
        if abs(other.si - claim.si) <= room or not 1e-4 < other.si / claim.si < 1e4:
            return False
        factor = other.si / claim.si
        tens = any(abs(factor * 10.0**power - 1.0) < 0.02 for power in (-3, -2, -1, 1, 2, 3))
        clocks = any(abs(factor / known - 1.0) < 0.02 for f in (60.0, 3600.0, 24.0) for known in (f, 1.0 / f))
        if not tens and not clocks:
            return False  # across for a radius, say
        kind, also = ("S07", ("S08", "S13", "S11")) if tens else _KIND.get(claim.dimension, ("S16", ("S42",)))
        right = f"{readable(claim.si / other.factor, 4)} {other.unit}"
        sentence = f"{claim.text} and {match.group(1)} are not the same: {claim.text} {'are' if claim.typed != 1 else 'is'} {right}."
        self.verdict = Verdict.OFF
        self.slips = (Slip(kind, KINDS[kind].name, sentence, other.si, claim.si, 3.0, 0.6, also),)
        self.sentence, self.recomputed = sentence, claim.si
        return True
