"""Sine and cosine of a latitude, a heading, a climb; degrees and radians."""

from __future__ import annotations

import math
import re

from wetmass.record.working import Verdict
from wetmass.working.relations import ideas_of
from wetmass.working.rules.base import Rules
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.finder import Found, slips
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    DEGREES,
    Leaf,
    Node,
    Op,
    Unfit,
    evaluate,
    has_angle,
    leaves,
    walk,
)
from wetmass.working.units import (
    FORCE,
    SPEED,
)


class Directions(Rules):
    """Sine and cosine of a latitude, a heading, a climb; degrees and radians."""

    def _sine_of_latitude(self, tree: Node) -> bool:
        """What the turning Earth gives goes with the cosine of the latitude."""
        if not any(460.0 < abs(leaf.si) < 470.0 and not leaf.constant for leaf in leaves(tree)):
            return False
        for path, node in walk(tree):
            if isinstance(node, Op) and node.kind == "sin":
                entry = self.entry_of(node.parts[0])
                if entry is not None and "latitude" in entry.tags:
                    right = self.changed(tree, path, Op("cos", node.parts))
                    return self.tell(
                        "S45",
                        "the sine of the latitude is used for its cosine",
                        "with the cosine",
                        right,
                        ("S46",),
                    )
        return False

    def _sine_for_cosine(self, tree: Node) -> bool:
        """A climb goes with the sine of the angle above the horizon, the way along with its cosine."""
        if self.claim.dimension not in (SPEED, FORCE) or terms_of(tree)[1:]:
            return False
        if re.search(r"\b(?:zenith|vertical axis|from (?:the )?vertical)\b", self.checker.low):
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

    def _degrees_as_radians(self, tree: Node) -> bool:
        for _path, node in walk(tree):
            if isinstance(node, Op) and node.kind in ("sin", "cos", "tan"):
                try:
                    argument = evaluate(node.parts[0]).value
                except Unfit:
                    continue
                if abs(argument) > 2 * math.pi and not has_angle(node) and not self.meaning.degrees:
                    try:
                        right = evaluate(tree, DEGREES).value
                    except Unfit:
                        return False  # a name in it has no value
                    self.verdict = Verdict.OFF
                    target = self.target()
                    edit = Edit(
                        "S14",
                        tree,
                        "the angle is keyed in degrees with the calculator in radians",
                        "in degrees",
                    )
                    self.slips = slips([Found(edit, target.value, right, 0.9)], target, self.words, right)
                    self.sentence = self.slips[0].sentence
                    self.recomputed = right
                    return True
        return False
