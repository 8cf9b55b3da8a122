"""The slip of form that turns a relation into the line: a constant, a power, an operand, a term, a sign."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from wetmass.working.lettering import exponents
from wetmass.working.relations import Bound
from wetmass.working.slips.angles import angles
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.factors import gravity, halves
from wetmass.working.slips.finder import Found, value_of
from wetmass.working.slips.forms import logarithms, powers, ratios
from wetmass.working.slips.kinds import KINDS
from wetmass.working.slips.others import shares
from wetmass.working.slips.shapes import pi_and_round_shapes, radius_and_diameter, ring
from wetmass.working.slips.terms import terms
from wetmass.working.state import LineState
from wetmass.working.tree import DEGREES, Leaf, Node, Op, Unfit, evaluate, exactly, mapped, put, walk
from wetmass.working.units import ACCELERATION, FORCE, MASS_FLOW, NONE

_GENERATORS = (
    ring, halves, gravity, logarithms, ratios, powers, angles, pi_and_round_shapes, radius_and_diameter, terms, shares,  # noqa: E501
)  # fmt: skip

_NOT_OF_FORM = frozenset(["S07", "S08", "S12", "S13", "S15", "S44", "S55"])

_SAME = 0.004  # two formulas give the same number

# plain factors by which a formula can be out, the usual ones first
_FACTORS = (
    (2.0, "a factor of 2 too much is in it", "S01"), (0.5, "a factor of 2 is left out", "S01"),
    (4.0, "a factor of 4 too much is in it", "S17"), (0.25, "a factor of 4 is left out", "S17"),
    (8.0, "a factor of 8 too much is in it", "S17"), (0.125, "a factor of 8 is left out", "S17"),
    (math.pi, "π goes in once too often", "S19"), (1 / math.pi, "π is left out", "S19"),
    (2 * math.pi, "2π goes in once too often", "S19"), (0.5 / math.pi, "2π is left out", "S19"),
    (math.sqrt(2.0), "a 2 too much stands under the root", "S49"), (math.sqrt(0.5), "a 2 under the root is left out", "S49"),  # noqa: E501
    (4 / 3, "a factor of 4/3 too much is in it", "S18"), (0.75, "a factor of 4/3 is left out", "S18"),
    (1.5, "a factor of 3/2 too much is in it", "S18"), (2 / 3, "a factor of 2/3 too much is in it", "S18"),
    (3.0, "a factor of 3 too much is in it", "S19"), (1 / 3, "a factor of 3 is left out", "S19"),
)  # fmt: skip


def turned(form: Node, _context: object) -> Iterator[Edit]:
    """One operand squared, or dividing where it should multiply, or the reverse."""
    outside = exponents(form)
    for path, leaf in walk(form):
        if not isinstance(leaf, Leaf) or leaf.constant == "π" or leaf.half == 0.0 or id(leaf) in outside:
            continue
        name = leaf.name or leaf.text
        yield Edit(
            "S04", put(form, path, Op("/", (exactly(1.0), leaf))),
            f"{name} divides where it should multiply, or the reverse", "the right way round", 0.7, also=("S56", "S06"),  # noqa: E501
        )  # fmt: skip
        yield Edit(
            "S06", put(form, path, Op("^", (leaf, exactly(2.0)))), f"{name} is squared", "without the square", 0.8,  # noqa: E501
            also=("S56", "S21"),
        )  # fmt: skip
        yield Edit(
            "S06", put(form, path, Op("sqrt", (leaf,))), f"the root of {name} is taken", "without the root", 0.6,  # noqa: E501
            also=("S21",),
        )  # fmt: skip


class Explaining(LineState):
    """Why a relation with the numbers of the line comes to another number than the line."""

    def _explained(self, bound: Bound, form: Node, right: float, came: float) -> list[Found]:
        """The slips of form that turn the relation into the line."""
        claim = self.claim.si
        proper = claim * right / came
        found: list[Found] = []
        if right < 0.0 < came and self.claim.dimension == ACCELERATION:
            return []  # a thrust that would not hold the weight: the acceleration of the thrust alone is meant
        try:
            scale = right / evaluate(form, DEGREES).value
        except (Unfit, ZeroDivisionError):
            return []

        known = all(leaf.page >= 0 and not leaf.bare for leaf in bound.values.values() if not leaf.constant)

        loose = any(leaf.bare and leaf.dimension == NONE for leaf in bound.values.values()) or self.claim.unit in (
            "l", "L", "litre", "litres", "mm", "g"
        )  # fmt: skip

        counted = self.counted_already(bound)

        def offer(edit: Edit, weight: float) -> None:
            if counted and edit.kind == "S30":
                return
            value = value_of(edit, DEGREES)
            if value is not None:
                value *= scale
            if self.context.unit.startswith(("lb", "klb")) and edit.kind in ("S02", "S10"):
                return
            if (
                self.context.imperial
                and edit.kind in ("S02", "S10")
                and any(v.bare for v in bound.values.values())
            ):
                return  # a pound of force is the weight of a pound
            if (
                value is not None
                and abs(value / came - 1.0) >= _SAME
                and known
                and edit.kind in ("S04", "S06", "S21", "S49")
            ):
                keyed = _keyed(edit.tree, form)  # the numbers as typed, whatever their units
                value = right * keyed if keyed else value
            scaled = (loose and edit.kind == "S04") or (edit.kind in ("S02", "S56") and edit.weight == 1.0)
            if value and scaled and value * came > 0.0:
                value *= 1000.0 ** round(math.log10(abs(came / value)) / 3.0)  # units left out
            if value is not None and abs(value / came - 1.0) < _SAME and abs(value / right - 1.0) > 1e-3:
                found.append(Found(edit, claim, proper, KINDS[edit.kind].common * weight * edit.weight))

        for wrong in bound.form.wrong:
            angle = bound.values.get("di")
            if "not halved" in wrong.cause and angle is not None and angle.page < 0:
                continue
            if self.one_end_meant(wrong.cause):
                meant = value_of(
                    Edit(wrong.kind, bound.tree(wrong.formula), wrong.cause, wrong.cure), DEGREES
                )
                if meant and abs(meant * scale / came - 1.0) < _SAME:
                    return []  # the line says so itself
                continue
            offer(Edit(wrong.kind, bound.tree(wrong.formula), wrong.cause, wrong.cure), 1.4)
        spoken = [leaf for leaf in bound.values.values() if not leaf.constant]
        if bound.filled and not found:
            self._left_out(bound, right, scale, offer)
        plane = bound.values.get("di")
        if plane is not None and plane.page < 0:
            return found  # which angle it is stands nowhere
        if found or bound.filled or bound.score < 1.6 * len(spoken):
            return found
        round_world = "mu" in bound.values
        for generator in (*_GENERATORS, turned):
            for edit in generator(form, self.context):
                if round_world and edit.kind in ("S17", "S18"):
                    continue
                if self.one_end_meant(edit.cause):
                    meant = value_of(edit, DEGREES)
                    if meant and abs(meant * scale / came - 1.0) < _SAME:
                        return []  # the line says so itself
                    continue
                if edit.kind not in _NOT_OF_FORM and edit.kind not in self.said_so():
                    offer(edit, 1.0)
        if not found and bound.score >= 2.0 * len(bound.values) and bound.form.name != "gravity loss":
            for factor, cause, kind in (*self._counts(), *_FACTORS, *self._clocks()):
                ratio = came / right / factor
                if loose and kind in ("S42", "S16", "S54") and ratio > 0.0:
                    ratio /= 1000.0 ** round(math.log10(ratio) / 3.0)
                if abs(ratio - 1.0) < _SAME:
                    edit = Edit(kind, form, cause, "without that slip", 0.5, factor)
                    found.append(Found(edit, claim, proper, 0.2))
                    break
        return found

    def counted_already(self, bound: Bound) -> bool:
        """Whether a thrust or flow of a relation is so many times that of one already."""
        for leaf in bound.values.values():
            if leaf.page < 0 or leaf.dimension not in (FORCE, MASS_FLOW):
                continue
            made = self.checker.working_of(leaf.page)
            if isinstance(made, Op) and made.kind == "*":
                factors = [
                    part for part in made.parts if isinstance(part, Leaf) and part.bare and part.page < 0
                ]
                factors += [
                    part
                    for part in made.parts
                    if isinstance(part, Leaf) and part.dimension == NONE and part.page >= 0
                ]
                if any(2.0 <= part.typed <= 60.0 and part.typed == int(part.typed) for part in factors):
                    return True
        return False

    def _counts(self) -> Iterator[tuple[float, str, str]]:
        """The number of engines once too often, or left out."""
        for n, _ in self.context.counts:
            yield n, f"the number of engines ({n:g}) goes in once too often", "S30"
            yield 1.0 / n, f"the number of engines ({n:g}) is left out", "S30"

    def _clocks(self) -> Iterator[tuple[float, str, str]]:
        """Minutes and hours for seconds, where the line speaks of them."""
        if re.search(
            r"/\s?(?:h|hr|min|d)\b|\b(?:hours?|minutes?|min|days?|daily|hourly|h\))\b", self.context.words
        ):
            for factor in (60.0, 3600.0, 24.0, 1440.0, 86400.0):
                kind = "S42" if factor == 60.0 else "S16" if factor == 3600.0 else "S54"
                yield (
                    factor,
                    f"a factor of {factor:g} between seconds, minutes, hours and days is left out",
                    kind,
                )
                yield (
                    1.0 / factor,
                    f"a factor of {factor:g} too much is in it between seconds and hours",
                    kind,
                )

    def _summed_up(self, bound: Bound, count: float) -> bool:
        """Whether a number of the line is so many times one of the page already."""
        return any(
            other.page < 0 and not other.constant and other.typed and entry.leaf.typed
            and abs(other.typed / count / entry.leaf.typed - 1.0) < 0.003
            for other in bound.values.values()
            for entry in self.scope.entries
        )  # fmt: skip

    def _left_out(
        self, bound: Bound, right: float, scale: float, offer: Callable[[Edit, float], None]
    ) -> None:
        """The relation without the letter whose value stands elsewhere on the page, where that is a factor of it."""  # noqa: E501
        leaf = bound.values[bound.added]
        rest = Bound(bound.form, bound.values | {bound.added: replace(leaf, typed=1.0, factor=1.0)}, 0.0)
        tree = rest.tree(bound.form.formula)
        try:
            without = evaluate(tree, DEGREES).value * scale
        except Unfit:
            return
        if not any(
            abs(right / without / leaf.si**power - 1.0) < 1e-6 for power in (1.0, -1.0, 0.5, -0.5, 2.0)
        ):
            return
        kind = "S30" if leaf.bare and leaf.typed == int(leaf.typed) else "S31"
        if kind == "S30" and self._summed_up(bound, leaf.typed):
            return
        cause = f"{leaf.name} ({leaf.text}) is left out"
        offer(Edit(kind, tree, cause, "with it", 0.6, also=("S37", "S56", "S06", "S02")), 1.0)


def _keyed(tree: Node, form: Node) -> float | None:
    """How much a formula is changed by an edit when its numbers are keyed as they are typed."""

    def typed(leaf: Leaf) -> Node:
        return leaf if leaf.constant or leaf.angle else replace(leaf, factor=1.0, shift=0.0)

    try:
        return evaluate(mapped(tree, typed), DEGREES).value / evaluate(mapped(form, typed), DEGREES).value
    except (Unfit, ZeroDivisionError):
        return None
