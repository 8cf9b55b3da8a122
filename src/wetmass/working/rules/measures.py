"""Units and digits: a value of the page in another unit or with its digits exchanged."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from wetmass.working.relations import suits
from wetmass.working.rules.base import STANDARD, Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    evaluate,
    leaves,
    walk,
)
from wetmass.working.units import (
    ACCELERATION,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    NONE,
    PRESSURE,
    SPEED,
    UNITS,
    VOLUME,
)


class Measures(Rules):
    """Units and digits: a value of the page in another unit or with its digits exchanged."""

    def _unit_of_page(self) -> bool:
        """A number of the page put in without its unit among numbers in another one (160 nmi as 160 km)."""
        for path, leaf in walk(self.best):
            if (
                not isinstance(leaf, Leaf)
                or leaf.page >= 0
                or leaf.constant
                or not leaf.half
                or leaf.typed < 5
            ):
                continue
            if leaf.dimension not in (NONE, self.claim.dimension):
                continue
            same = [e for e in self.scope.entries if abs(e.leaf.typed - leaf.typed) < 1e-9 * leaf.typed]
            if len(same) != 1 or same[0].leaf.dimension != self.claim.dimension or self.claim.bare:
                continue
            factor = same[0].leaf.factor / (leaf.factor if not leaf.bare else self.claim.factor)
            if abs(math.log10(factor) - round(math.log10(factor))) < 1e-6:
                continue
            if any(
                o.bare and o.typed > 1.0 and abs(abs(math.log(factor)) - math.log(o.typed)) < 1e-6
                for o in leaves(self.best)
            ):
                continue  # "1198/60 = 20.0 min": turned from one unit into the other
            right = self.changed(self.best, path, replace(leaf, typed=leaf.typed * factor))
            kind = {LENGTH: "S13", MASS: "S11", FORCE: "S09", PRESSURE: "S15"}.get(
                self.claim.dimension, "S07"
            )
            cause = f"{same[0].leaf.text} is put in as {leaf.typed:g} {self.claim.unit}"
            also = ("S12", "S13") if kind == "S11" else ()
            return self.tell(kind, cause, "in one unit", right, also, common=0.6)
        return False

    def _other_conversion(self, tree: Node) -> bool:
        """Nautical miles turned into kilometres with the factor of statute ones, and the like."""
        if not isinstance(tree, Op) or tree.kind not in "*/":
            return False
        for one, other in (tree.parts, tree.parts[::-1]):
            if not isinstance(one, Leaf) or not isinstance(other, Leaf) or one.page < 0 or other.page >= 0:
                continue
            unit = self.scope.entries[one.page].leaf.unit
            proper = UNITS.get(unit)
            target = UNITS.get(self.claim.unit)
            if (
                not other.bare
                or proper is None
                or target is None
                or proper[1] != target[1]
                or not other.typed
            ):
                continue
            needed = proper[0] / target[0]
            used = other.typed if tree.kind == "*" else 1.0 / other.typed
            if abs(used / needed - 1.0) < 0.01:
                continue
            for name, (factor, dimension) in UNITS.items():
                other_unit = dimension == proper[1] and name not in (unit, self.claim.unit) and len(name) < 6
                if (
                    other_unit
                    and abs(used / (factor / target[0]) - 1.0) < 0.002
                    and 0.2 < used / needed < 5.0
                ):
                    right = self.claim.si * needed / used
                    kind = {LENGTH: "S13", MASS: "S12", FORCE: "S09", PRESSURE: "S15"}.get(dimension, "S07")
                    cause = f"the factor of {name} is used for {unit}"
                    return self.tell(kind, cause, f"with {needed:.4g}", right, ("S11", "S13", "S12"))
        return False

    def _density_out_of_reach(self, tree: Node) -> bool:
        """A density said in the line that the fluid it is of cannot have."""
        from wetmass.working.ranges import range_for

        for path, leaf in walk(tree):
            entry = self.entry_of(leaf)
            if entry is None or entry.leaf.dimension != DENSITY or entry.line != self.statement.raw.number:
                continue
            row = range_for(self.ideas | {"density"}, DENSITY)
            if (
                row is None
                or row.possible[0] <= entry.stated <= row.possible[1]
                or not isinstance(leaf, Leaf)
            ):
                continue
            for kind, factor, said in (
                ("S11", 0.45359237, "pounds are taken as kilograms"),
                ("S07", 1e-3, "a thousand is lost"),
                ("S07", 1e3, "a thousand is lost"),
            ):  # noqa: E501
                if row.usual[0] <= entry.stated * factor <= row.usual[1]:
                    right = self.changed(tree, path, replace(leaf, typed=leaf.typed * factor))
                    return self.tell(
                        kind, f"{said} in the density {entry.leaf.text}", "put right", right, ("S08", "S12")
                    )
        return False

    def _units_do_not_agree(self, tree: Node) -> bool:
        """Every number has its unit from the page, and the line comes to another kind of quantity."""
        ideas = suits(self.statement.label)
        pure = "twr" in ideas or (ideas & {"ratio", "fraction"} and self.claim.bare)
        if (self.claim.bare and not pure) or self.context.imperial:
            return False
        here = leaves(tree)
        if not here or any(leaf.bare and leaf.page < 0 and not _plain(leaf) for leaf in here):
            return False
        if len([leaf for leaf in here if leaf.page >= 0 and leaf.linked]) > 5:
            return False
        result = evaluate(tree, self.meaning)
        wanted = (0.0,) * 5 if self.claim.bare else self.claim.dimension
        if result.fault or result.dimension == wanted:
            return False
        gap = tuple(w - r for w, r in zip(wanted, result.dimension, strict=True))
        for power, cause in (
            (1.0, "g is left out"),
            (-1.0, "g is left out"),
            (0.5, "g is left out"),
            (-0.5, "g is left out"),
        ):
            if all(abs(g - power * a) < 1e-9 for g, a in zip(gap, ACCELERATION, strict=True)):
                right = self.claim.si * STANDARD**power
                if "twr" in ideas and not 0.05 < right < 300.0:
                    return False
                return self.tell("S02", cause, "with it", right, ("S24",))
        for leaf in here:
            if leaf.bare or leaf.constant or leaf.dimension == (0.0,) * 5:
                continue
            for power in (1.0, -1.0):
                if all(abs(g - power * d) < 1e-9 for g, d in zip(gap, leaf.dimension, strict=True)):
                    round_body = (
                        leaf.dimension == LENGTH and self.claim.dimension in (AREA, VOLUME) and power > 0
                    )
                    lengths = {e.leaf.typed for e in self.scope.entries if e.leaf.dimension == LENGTH}
                    if round_body and any(other.bare and other.typed in lengths for other in here):
                        continue  # a small number of the line is a length itself
                    if leaf.dimension != SPEED and not round_body:
                        continue
                    right = self.claim.si * leaf.si**power
                    word = (
                        ("not cubed" if round_body else "not squared") if power > 0 else "in once too often"
                    )
                    return self.tell("S06", f"{leaf.name or leaf.text} is {word}", "put right", right)
        return False

    def _miscopied_value(self) -> bool:
        """A number of the line is a value of the page with two digits exchanged or one changed."""
        assert self.best is not None
        used = {leaf.page for leaf in leaves(self.best)}
        for path, leaf in list(walk(self.best)):
            if not isinstance(leaf, Leaf) or leaf.page >= 0 or leaf.constant or not leaf.half:
                continue
            summed = bool(self.claim.unit) and all(isinstance(p, Leaf) for _, p in terms_of(self.best))
            if not leaf.unit and not any(page >= 0 for page in used) and not summed:
                continue
            mine = re.sub(r"[^0-9]", "", leaf.text.split(" ")[0]).strip("0")
            if len(mine) < 3:
                continue
            for entry in self.scope.entries:
                stated = entry.leaf
                if (
                    entry.index in used
                    or (summed and not leaf.unit and stated.unit != self.claim.unit)
                    or (leaf.unit and (stated.dimension != leaf.dimension or stated.factor != leaf.factor))
                ):
                    continue
                theirs = re.sub(r"[^0-9]", "", stated.text.split(" ")[0]).strip("0")
                if (
                    len(theirs) == len(mine)
                    and mine != theirs
                    and sorted(mine) == sorted(theirs)
                    and (0.3 < leaf.typed / stated.typed < 3.0)
                    and sum(a != b for a, b in zip(mine, theirs, strict=True)) == 2
                ):
                    right = self.changed(self.best, path, replace(leaf, typed=stated.typed))
                    cause = f"{leaf.text} is put in for {entry.name} ({stated.text}), two digits exchanged"
                    return self.tell("S55", cause, f"with {stated.text}", right, common=0.3)
        return False


def _plain(leaf: Leaf) -> bool:
    """A number that needs no unit: a small whole factor, a half, π."""
    return (
        leaf.constant == "π"
        or leaf.half == 0.0
        or leaf.typed == 0.5
        or (leaf.typed == int(leaf.typed) and abs(leaf.typed) <= 4)
    )
