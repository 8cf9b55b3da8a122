"""Twice as wide, half the speed: how much another quantity changes with it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace

from wetmass.working.rules.base import Rules
from wetmass.working.tree import Leaf, Node, leaves, walk
from wetmass.working.units import AREA, ENERGY, FORCE, LENGTH, MASS, NONE, PRESSURE, SPEED, TIME, VOLUME

TIMES = {
    "half": 0.5, "halved": 0.5, "halving": 0.5, "twice": 2.0, "double": 2.0, "doubled": 2.0, "doubling": 2.0, "doubles": 2.0,
    "halves": 0.5, "thrice": 3.0, "triple": 3.0, "tripled": 3.0, "tripling": 3.0, "quadruple": 4.0, "three times": 3.0,
    "four times": 4.0, "five times": 5.0, "ten times": 10.0, "a third": 1 / 3, "a quarter": 0.25, "two times": 2.0,
}  # fmt: skip
_WHAT = {
    "wide": "width", "diameter": "width", "radius": "width", "across": "width", "width": "width", "large": "width", "big": "width",
    "fast": "speed", "speed": "speed", "velocity": "speed", "quick": "speed", "heavy": "weight", "weight": "weight",
    "mass": "weight", "load": "weight", "area": "area", "cloth": "area", "distance": "radius", "engines": "count", "thrust": "thrust",
    "long": "length", "length": "length", "density": "density", "pressure": "pressure",
}  # fmt: skip
_FACTOR = "|".join(sorted(TIMES, key=len, reverse=True)) + r"|\d+(?:\.\d+)? times"
_CHANGED = re.compile(
    rf"\b(?P<f>{_FACTOR})\s+(?:as\s+|the\s+|of the\s+|its\s+)(?:orbit(?:al)?\s+|exhaust\s+|tank\s+)?(?P<q>{'|'.join(_WHAT)})\b"
)
_TO = re.compile(
    rf"\b(?P<q>{'|'.join(_WHAT)})\s+(?:is|are|was|has been|be)?\s*(?P<f>halved|doubled|tripled|doubles|halves)\b"
)


class Scaling(Rules):
    """How a quantity changes with another."""

    def _scaled_by_the_wrong_power(self, tree: Node) -> bool:
        """A value of the page times a factor, where the words say what was changed by how much."""
        claim = self.claim
        if not claim.si or len(leaves(tree)) > 5:
            return False
        values = [
            leaf for _, leaf in walk(tree)
            if isinstance(leaf, Leaf) and leaf.page >= 0 and not leaf.bare and leaf.dimension == claim.dimension != NONE
        ]  # fmt: skip
        if (
            not values and not claim.bare and len(leaves(tree)) == 2
        ):  # a value that the page worked out on the way
            values = [
                replace(leaf, factor=claim.factor, dimension=claim.dimension, bare=False)
                for leaf in leaves(tree)
                if leaf.bare and leaf.page < 0 and (leaf.typed != int(leaf.typed) or "." in leaf.text)
            ]
        if len(values) != 1 or not values[0].si:
            return False
        grown = claim.si / values[0].si
        if grown <= 0.0 or abs(grown - 1.0) < 0.01:
            return False
        for share, what in self._changes(tree, values[0]):
            if share <= 0.0 or abs(share - 1.0) < 0.01:
                continue
            power = math.log(grown) / math.log(share)
            laws = self._laws(what)
            if not laws or any(abs(power - law) < 0.04 for law in laws):
                return False
            if not any(abs(power - usual) < 0.04 for usual in (-3.0, -2.0, -1.0, -0.5, 0.5, 1.0, 2.0, 3.0)):
                continue
            law = laws[0]
            right = values[0].si * share**law
            how = {2.0: "with the square of what was changed", 3.0: "with its cube", 0.5: "with the root of what was changed", -0.5: "with one over the root of what was changed",
                   -2.0: "with one over the square of what was changed", -1.0: "the other way in proportion", 1.0: "in proportion", 1.5: "with the power 3/2"}  # fmt: skip
            return self.tell(
                "S06", f"it is taken to go {how.get(round(power * 2) / 2, 'otherwise')}", f"since it goes {how.get(law, 'otherwise')},",
                right, ("S17", "S21", "S22", "S52", "S01"),
            )  # fmt: skip
        return False

    def _changes(self, tree: Node, value: Leaf) -> Iterator[tuple[float, str]]:
        """By how much what was changed, by the words of the line or by two values of one kind in it."""
        words = self.written
        for pattern in (_CHANGED, _TO):
            for match in pattern.finditer(words):
                said = match.group("f")
                factor = TIMES.get(said) or (float(said.split()[0]) if said[0].isdigit() else 0.0)
                if factor:
                    yield factor, _WHAT[match.group("q")]
        others = [
            leaf for leaf in leaves(tree)
            if leaf is not value and leaf.page >= 0 and not leaf.bare and leaf.dimension in (SPEED, LENGTH)
        ]  # fmt: skip
        if (
            len(others) == 2
            and others[0].dimension == others[1].dimension
            and others[0].dimension != value.dimension
        ):
            said = [
                match.start()
                for leaf in others
                if (
                    match := re.search(
                        rf"(?<![\d.]){re.escape(leaf.text.split()[0])}\s*(?:m/s|km/s|m\b)", words
                    )
                )
            ]
            if len(said) == 1:  # the new value stands with its unit in this line
                new = next(
                    one
                    for one in others
                    if re.search(rf"(?<![\d.]){re.escape(one.text.split()[0])}\s*(?:m/s|km/s|m\b)", words)
                )
                old = others[1] if new is others[0] else others[0]
                yield new.si / old.si, "speed" if new.dimension == SPEED else "width"

    def _laws(self, what: str) -> tuple[float, ...]:
        """The powers with which the quantity of the line goes with what was changed, the likeliest first."""
        words = self.written
        dimension = self.claim.dimension
        falls = (
            bool(re.search(r"\bsink|\bdescen|\bcomes? down|\bfalls?\b|parachute|canopy", words))
            or "descent" in self.ideas
        )
        if what == "width":
            if dimension == VOLUME:
                if re.search(r"just as (?:long|high|tall)|same (?:length|height)|as long", words):
                    return (2.0,)
                return (3.0,) if re.search(r"\bball\b|sphere|spher", words) else (2.0, 3.0)
            if dimension == AREA:
                return (
                    (2.0, 1.0)
                    if re.search(r"just as (?:long|high|tall)|same (?:length|height)", words)
                    else (2.0,)
                )
            if dimension == SPEED:
                if falls:
                    return (-1.0,)
                return (-0.5,) if re.search(r"orbit|circ|radius", words) else ()
            if dimension == TIME and re.search(r"orbit|round|period", words):
                return (1.5,)
        if what == "radius" and dimension == SPEED:
            return (-0.5,)
        if what == "speed":
            if dimension == PRESSURE:
                return (2.0,)
            if dimension == FORCE and re.search(r"\bdrag\b|\blift\b|resistance", words):
                return (2.0,)
            if dimension == ENERGY:
                return (2.0,)
            if dimension == LENGTH and re.search(r"stop|brak|height|distance|way\b|run", words):
                return (2.0,)
            if dimension == AREA and re.search(r"wing|lift|slower|faster|canop|cloth|grow", words):
                return (-2.0,)
        if what == "weight" and dimension == SPEED and falls:
            return (0.5,)
        if what == "weight" and dimension == SPEED and re.search(r"exhaust|isp", words):
            return ()
        if what == "area" and dimension == SPEED and falls:
            return (-0.5,)
        if what == "area" and dimension == LENGTH and re.search(r"diameter|wide|across", words):
            return (0.5,)
        if what == "count" and dimension == MASS:
            return ()
        return ()

    def _escape_by_doubling(self, tree: Node) -> bool:
        """The speed to leave taken as twice that on the circle."""
        words = self.written
        if self.claim.dimension != SPEED or not re.search(
            r"\bescape|\bleave\b|\bget away\b|\bparabol", words
        ):
            return False
        speeds = [leaf for leaf in leaves(tree) if leaf.dimension == SPEED and leaf.page >= 0]
        if len(speeds) != 1 or len(leaves(tree)) > 3 or abs(self.claim.si / speeds[0].si - 2.0) > 0.005:
            return False
        return self.tell(
            "S49",
            "the circular speed is doubled",
            "times the root of two",
            speeds[0].si * math.sqrt(2.0),
            ("S06",),
        )
