"""A line beside the relation its own numbers belong to: every number of it is given a letter.

Where all numbers of a line fit the letters of a relation of that name, but the number comes out
otherwise, the slip is the edit of the relation that gives the line: a constant, a power, an operand, a
term, a sign.  Nothing is said where any other relation of that name agrees.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Literal

from wetmass.record.working import Verdict
from wetmass.working.catalogue import Form, Role, forms
from wetmass.working.relations import Bound, clash, dimension_of, fitness, ideas_of, recognised
from wetmass.working.scope import CONSTANTS, constant_leaf
from wetmass.working.slips.angles import angles
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.factors import gravity, halves
from wetmass.working.slips.finder import Found, ranked, slips, value_of
from wetmass.working.slips.forms import logarithms, powers, ratios
from wetmass.working.slips.kinds import KINDS
from wetmass.working.slips.shapes import pi_and_round_shapes, radius_and_diameter, ring
from wetmass.working.slips.terms import shares, terms, terms_of
from wetmass.working.state import LineState
from wetmass.working.statement import linked
from wetmass.working.tree import Leaf, Meaning, Node, Op, Unfit, evaluate, exactly, leaves, mapped, put, walk
from wetmass.working.units import (
    ACCELERATION,
    AREA,
    DEGREE,
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    PRESSURE,
    SPEED,
    TIME,
    VOLUME,
    Dimension,
)

_GENERATORS = (
    ring, halves, gravity, logarithms, ratios, powers, angles, pi_and_round_shapes, radius_and_diameter, terms, shares,  # noqa: E501
)  # fmt: skip
_NOT_OF_FORM = frozenset(["S07", "S08", "S12", "S13", "S15", "S44", "S55"])
_DEGREES = Meaning(degrees=True)
_SURE = ("way at steady acceleration", "kinetic energy")  # by their units alone
_SAME = 0.004  # two formulas give the same number
_MOST = 240  # ways to give the numbers their letters that are tried for a line
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
    outside = _exponents(form)
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


class Fitting(LineState):
    """A line beside the relation its own numbers belong to."""

    fit: tuple[float, list[tuple[Bound, Node, float]]] | Literal[False] | None = False

    def misplaced(self, bound: Bound) -> bool:
        """Whether a length of the line is twice or half of the one the page has for this place."""
        raise NotImplementedError

    def fitted(self) -> tuple[float, list[tuple[Bound, Node, float]]] | None:
        """As `_fitted`, worked out once for a line."""
        if self.fit is False:
            self.fit = self._fitted(doubt=False)
            if self.fit is not None and not self.fit[1]:
                self.fit = self._fitted(doubt=True)
        return self.fit

    def _fitted(self, doubt: bool) -> tuple[float, list[tuple[Bound, Node, float]]] | None:
        """What the line comes to, and the relations of its name with its numbers put in; None where one agrees."""  # noqa: E501
        if self.best is None or (
            self.statement.about and self.claim.half > 0.05 * abs(self.claim.typed or 1)
        ):
            return 0.0, []
        tree = linked(self.best, self.scope)
        turned = 1.0
        if self.claim.si < 0.0 and len(terms_of(tree)) == 1 and isinstance(tree, Op):
            turned = -1.0  # a negative energy, say
            tree = mapped_signs(tree)
        tree = mapped(mapped(tree, self._doubted) if doubt else tree, self._half_or_twice)
        mine = telling(tree)
        if not mine or len(mine) > 7:
            return 0.0, []
        try:
            came = evaluate(tree, self.meaning).value
        except Unfit:
            return 0.0, []
        if not came:
            return 0.0, []
        stated = turned * self.claim.si
        if self.claim.unit in ("g", "gee", "g0", "g₀") and abs(came / self.claim.typed - 1.0) < 0.02:
            came *= self.claim.factor  # a load in g, worked out as a plain ratio
        if not self.claim.bare and self.claim.si:
            came *= 1000.0 ** round(math.log10(abs(self.claim.si / came)) / 3.0)  # kilonewtons over tonnes
        if stated and abs(came / stated - 1.0) > 0.02 and self.claim.half < 0.005 * abs(self.claim.typed):
            came = stated
        rights: list[tuple[Bound, Node, float]] = []
        typed = {leaf.typed for leaf in leaves(tree)}
        counts = [n for n, _ in self.checker.engine_counts() if n in typed]
        bounds = [self._placed(bound) for bound in itertools.islice(self._bounds(mine), _MOST)]
        bounds.sort(key=lambda bound: -bound.score)
        tops = {bound.form: bound.score for bound in reversed(bounds)}
        for bound in bounds:
            form = bound.tree(bound.form.formula)
            try:
                right = evaluate(form, _DEGREES).value
            except Unfit:
                continue
            if not right:
                continue
            if any(leaf.bare and leaf.dimension == NONE for leaf in bound.values.values()) or self.claim.bare:
                thousands = round(math.log10(abs(came / right)) / 3.0)
                right *= 1000.0**thousands if abs(thousands) <= 2 else 1.0  # units left out
            loads = (1.0, 9.80665) if self.claim.bare and bound.form.unit == "m/s2" else (1.0,)
            if (
                any(abs(came * load / right - 1.0) < 0.006 for load in loads)
                and bound.score > tops[bound.form] - 0.7
                and not self.misplaced(bound)
            ):
                self.relation, self.source = bound.form.name, bound.form.source
                return None
            if any(abs(came / right / n - 1.0) < 0.004 for n in counts):
                return None  # so many of them
            rights.append((bound, form, right))
        return came, rights

    def by_fit(self) -> bool:
        """Whether the line is a relation of its name with a slip of form in it; sets the slips then."""
        fitted = self.fitted()
        if not fitted or not fitted[1]:
            return False
        came, rights = fitted
        found: list[Found] = []
        soft = False
        best = -math.inf
        for bound, form, right in rights[:6]:
            if found and bound.score < best - 1.0:
                break
            one = self._explained(bound, form, right, came)
            if one:
                soft = not found and bound.form.ideas == (frozenset(),) and bound.form.name not in _SURE
                found += one
                best = bound.score
                self.relation, self.source = bound.form.name, bound.form.source
        if not found:
            return False
        found = ranked(found)
        self.slips = slips(found, self.target(), self.words, found[0].right)
        self.verdict = Verdict.OFF
        top = self.slips[0].sentence
        self.sentence = top[0].upper() + top[1:]
        self.recomputed = found[0].right
        if soft:
            self.verdict = Verdict.UNCLEAR
            self.sentence = f"By its units this looks like “{self.relation}”: {top} Right as it stands if another relation is meant."  # noqa: E501
        return True

    def _half_or_twice(self, leaf: Leaf) -> Node:
        """A bare number that is half of a diameter of the page, or twice a radius."""
        if not leaf.bare or leaf.page >= 0 or leaf.constant or leaf.half <= 0.0 or leaf.dimension != NONE:
            return leaf
        if leaf.typed == int(leaf.typed) and leaf.typed <= 4:
            return leaf
        for entry in self.scope.entries:
            if entry.leaf.dimension != LENGTH or entry.leaf.factor <= 0.0 or "orbit" in entry.tags:
                continue
            times = entry.leaf.typed / leaf.typed
            for name, other, factor in (("radius", "diameter", 2.0), ("diameter", "radius", 0.5)):
                if other in entry.tags and name not in entry.tags and abs(times / factor - 1.0) < 1e-9:
                    return replace(
                        leaf,
                        name=name,
                        bare=False,
                        dimension=LENGTH,
                        factor=entry.leaf.factor,
                        unit=entry.leaf.unit,
                    )
        return leaf

    def _doubted(self, leaf: Leaf) -> Node:
        """A number with the digits of a value that is off already has no sure unit."""
        if leaf.linked and leaf.page in self.checker.doubtful and not leaf.bare:
            return replace(
                leaf, page=-1, name="", linked=False, bare=True, factor=1.0, dimension=NONE, unit=""
            )
        return leaf

    def _placed(self, bound: Bound) -> Bound:
        """A bare length that is twice or half of the page's own radius or diameter is put in as that."""
        changed = {}
        for letter, own, other in (
            ("d", "diameter", "radius"),
            ("r", "radius", "diameter"),
            ("rr", "radius", "diameter"),
        ):
            leaf = bound.values.get(letter)
            if leaf is None or leaf.page >= 0 or not leaf.bare or not leaf.si:
                continue
            lengths = [e for e in self.scope.entries if e.leaf.dimension == LENGTH]
            proper = [e.stated for e in lengths if own in e.tags]
            proper += [e.stated * (0.5 if own == "radius" else 2.0) for e in lengths if other in e.tags]
            if any(abs(value / leaf.si - 1.0) < 1e-6 for value in proper):
                continue
            for value in proper:
                if any(abs(value / leaf.si / f - 1.0) < 1e-6 for f in (2.0, 0.5)):
                    changed[letter] = replace(leaf, typed=value / (leaf.factor or 1.0))
        return replace(bound, values=bound.values | changed) if changed else bound

    def _explained(self, bound: Bound, form: Node, right: float, came: float) -> list[Found]:
        """The slips of form that turn the relation into the line."""
        claim = self.claim.si
        proper = claim * right / came
        found: list[Found] = []
        try:
            scale = right / evaluate(form, _DEGREES).value
        except (Unfit, ZeroDivisionError):
            return []

        known = all(leaf.page >= 0 and not leaf.bare for leaf in bound.values.values() if not leaf.constant)

        def offer(edit: Edit, weight: float) -> None:
            value = value_of(edit, _DEGREES)
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
                and edit.kind in ("S04", "S06", "S21")
            ):
                keyed = _keyed(edit.tree, form)  # the numbers as typed, whatever their units
                value = right * keyed if keyed else value
            if value is not None and abs(value / came - 1.0) < _SAME and abs(value / right - 1.0) > 1e-3:
                found.append(Found(edit, claim, proper, KINDS[edit.kind].common * weight * edit.weight))

        for wrong in bound.form.wrong:
            angle = bound.values.get("di")
            if "not halved" in wrong.cause and angle is not None and angle.page < 0:
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
                if edit.kind not in _NOT_OF_FORM and edit.kind not in self.said_so():
                    offer(edit, 1.0)
        if not found and bound.score >= 2.0 * len(bound.values) and bound.form.name != "gravity loss":
            for factor, cause, kind in _FACTORS:
                if abs(came / right / factor - 1.0) < _SAME:
                    edit = Edit(kind, form, cause, "without that slip", 0.5, factor)
                    found.append(Found(edit, claim, proper, 0.2))
                    break
        return found

    def _left_out(
        self, bound: Bound, right: float, scale: float, offer: Callable[[Edit, float], None]
    ) -> None:
        """The relation without the letter whose value stands elsewhere on the page, where that is a factor of it."""  # noqa: E501
        leaf = bound.values[bound.added]
        rest = Bound(bound.form, bound.values | {bound.added: replace(leaf, typed=1.0, factor=1.0)}, 0.0)
        tree = rest.tree(bound.form.formula)
        try:
            without = evaluate(tree, _DEGREES).value * scale
        except Unfit:
            return
        if not any(
            abs(right / without / leaf.si**power - 1.0) < 1e-6 for power in (1.0, -1.0, 0.5, -0.5, 2.0)
        ):
            return
        kind = "S30" if leaf.bare and leaf.typed == int(leaf.typed) else "S31"
        cause = f"{leaf.name} ({leaf.text}) is left out"
        offer(Edit(kind, tree, cause, "with it", 0.6, also=("S37", "S56", "S06", "S02")), 1.0)

    def by_exchange(self) -> bool:
        """Whether one number of the line stands in the place of another of the page that has the right name."""  # noqa: E501
        fitted = self.fitted()
        if self.best is None or not fitted or not fitted[0]:
            return False
        came = fitted[0]
        mine = telling(mapped(linked(self.best, self.scope), self._doubted))
        own = [leaf for leaf in mine if not leaf.constant]
        if not 2 <= len(own) <= 5 or self.claim.bare:
            return False
        for form in recognised(self.ideas, self.claim.dimension, forms(all_of_them=True)):
            if all(not option for option in form.ideas):
                continue
            free = [role for role in form.roles if role.letter not in _CONSTANTS]
            if len(free) != len(own):
                continue
            for role, leaf in itertools.product(free, own):
                if (
                    leaf.page < 0
                    or leaf.dimension != dimension_of(role.unit)
                    or not clash(role, ideas_of(leaf))
                ):
                    continue
                if leaf.dimension == MASS and ideas_of(leaf) & {"start", "end"}:
                    continue  # the end of one burn is the start of the next
                entry = self._of_page(role, mine)
                if entry is None or abs(entry.si / leaf.si - 1.0) < 0.004:
                    continue
                rest = [other for other in free if other is not role]
                others = [other for other in mine if other is not leaf]
                for bound in itertools.islice(_assigned(form, rest, others, False, self.higher), 6):
                    if bound.score < 2.6 * len(rest):
                        continue
                    if self._exchanged(bound, role, leaf, entry, came):
                        return True
        return False

    def _exchanged(self, bound: Bound, role: Role, leaf: Leaf, entry: Leaf, came: float) -> bool:
        wrong = Bound(bound.form, bound.values | {role.letter: leaf}, 0.0).tree(bound.form.formula)
        proper = Bound(bound.form, bound.values | {role.letter: entry}, 0.0).tree(bound.form.formula)
        try:
            value, right = evaluate(wrong, _DEGREES).value, evaluate(proper, _DEGREES).value
        except Unfit:
            return False
        if not value or abs(value / came - 1.0) > _SAME:
            return False
        kind, also = _EXCHANGED.get(leaf.dimension, ("S55", ()))
        cause = f"{leaf.name} ({leaf.text}) is put in"
        edit = Edit(kind, wrong, cause, f"with {entry.name} ({entry.text})", also=(*also, "S55"))
        self.relation, self.source = bound.form.name, bound.form.source
        self.conclude([Found(edit, self.claim.si, self.claim.si * right / value, KINDS[kind].common)], right)
        return True

    def _bounds(self, mine: list[Leaf]) -> Iterator[Bound]:
        """Ways to give every number of the line a letter of a relation of its name."""
        claim = self.claim
        dimension = None if claim.bare and claim.dimension == NONE else claim.dimension
        for form in recognised(self.ideas, dimension, forms(all_of_them=True)):
            nameless = all(not option for option in form.ideas)
            if dimension is None and nameless:
                continue
            if "muo" in form.formula and not any(leaf.constant in _CONSTANTS["muo"] for leaf in mine):
                continue
            free = [role for role in form.roles if role.letter not in _CONSTANTS or _spoken(role, mine)]
            count = len([leaf for leaf in mine if not leaf.constant])
            if len(free) == count:
                yield from _assigned(form, free, mine, nameless, self.higher)
            elif len(free) == count + 1 and count >= 2:
                for role in free:
                    entry = self._of_page(role, mine)
                    if entry is not None:
                        rest = [other for other in free if other is not role]
                        for bound in _assigned(form, rest, mine, nameless, self.higher):
                            values = bound.values | {role.letter: entry}
                            if _ordered(values):
                                yield Bound(form, values, bound.score - 0.5, True, role.letter)

    @property
    def higher(self) -> bool:
        """Whether the line holds a logarithm, an exponential or the like."""
        return self.best is not None and any(
            isinstance(node, Op)
            and node.kind in ("ln", "log", "log10", "exp", "sin", "cos", "tan", "asin", "acos", "atan")
            for _, node in walk(self.best)
        )

    def _of_page(self, role: Role, mine: list[Leaf]) -> Leaf | None:
        """The value of the page that carries the name of a letter the line leaves out."""
        wanted = dimension_of(role.unit)
        used = {leaf.page for leaf in mine}
        stage = self.statement.stage
        found = [
            (fitness(role, entry.tags) + 0.3 * (entry.stage == stage), entry.index, entry)
            for entry in self.scope.entries
            if entry.leaf.dimension == wanted
            and entry.index not in used
            and entry.index not in self.checker.faulty
            and role.low <= abs(entry.stated) <= role.high
            and fitness(role, entry.tags) >= 0.7
        ]
        return self.scope.leaf(max(found)[2]) if found else None


def _ordered(values: dict[str, Leaf]) -> bool:
    """A start mass is above an end mass, the large radius of a ring above the small."""
    for large, small in (("m0", "m1"), ("Rr", "rr"), ("v1", "v2")):
        if large in values and small in values and values[large].si <= values[small].si:
            return False
    return True


_EXCHANGED: dict[Dimension, tuple[str, tuple[str, ...]]] = {
    DENSITY: ("S27", ("S28", "S53")), MASS: ("S31", ("S05", "S32")), TIME: ("S23", ("S25",)),
    FORCE: ("S23", ("S30", "S24")), LENGTH: ("S17", ("S22", "S52")), SPEED: ("S40", ("S49", "S43")),
    PRESSURE: ("S26", ("S31",)), ACCELERATION: ("S24", ("S51",)), MASS_FLOW: ("S30", ("S29",)),
    VOLUME: ("S27", ("S29", "S38")), AREA: ("S17", ("S21",)),
}  # fmt: skip
_CONSTANTS = {
    "g0": ("g₀",),
    "g": ("g₀", "g_Moon", "g_Mars"),
    "mu": ("μ", "μ_Moon", "μ_Mars"),
    "muo": ("μ_Moon", "μ_Mars"),
    "RE": ("R_E", "R_Moon", "R_Mars"),
}


_OF_WORLD = {
    (letter, world): letter.replace("mu", "μ").replace("RE", "R") + world
    for letter in ("mu", "RE", "g")
    for world in ("_Moon", "_Mars")
}


def _spoken(role: Role, mine: list[Leaf]) -> bool:
    """Whether the page names its own value of a constant: the μ or the g of another world."""
    wanted = dimension_of(role.unit)
    return any(
        not leaf.constant and leaf.dimension == wanted and leaf.name and fitness(role, ideas_of(leaf))
        for leaf in mine
    )


def _assigned(form: Form, free: list[Role], mine: list[Leaf], strict: bool, higher: bool) -> Iterator[Bound]:
    own = [leaf for leaf in mine if not leaf.constant]
    fixed: dict[str, Leaf] = {}
    for role in form.roles:
        if role.letter in _CONSTANTS and role not in free:
            here = next((leaf for leaf in mine if leaf.constant in _CONSTANTS[role.letter]), None)
            world = next(
                (leaf.constant[1:] for leaf in mine if leaf.constant.endswith(("_Moon", "_Mars"))), ""
            )
            its = _OF_WORLD.get((role.letter, world), _CONSTANTS[role.letter][0])
            fixed[role.letter] = here or next(constant_leaf(c) for c in CONSTANTS if c.name == its)
    scores = [[_suit(role, leaf, strict, higher) for leaf in own] for role in free]
    if any(not any(pair for pair in row) for row in scores):
        return
    for order in itertools.islice(itertools.permutations(range(len(own))), 720):
        picked = [scores[i][j] for i, j in enumerate(order)]
        if any(pair is None for pair in picked):
            continue
        values = dict(fixed)
        total = 0.0
        for role, pair in zip(free, picked, strict=True):
            assert pair is not None
            values[role.letter] = pair[1]
            total += pair[0]
        if not _ordered(values):
            continue
        yield Bound(form, values, total)


# letters that take a value only by its name
_BY_NAME = frozenset(
    [
        "x1",
        "vb",
        "tb",
        "te",
        "SF",
        "eff",
        "lf",
        "cs",
        "cf",
        "Vu",
        "as",
        "C3",
        "xt",
        "u",
        "gr",
        "sf",
        "te2",
        "lf",
        "LD",
        "rs",
        "eff",
        "En",
        "Rg",
        "Tc",
        "azn",
        "cda",
    ]
)


def _suit(role: Role, leaf: Leaf, strict: bool, higher: bool) -> tuple[float, Leaf] | None:
    """How well a number of the line suits a letter, and the number as that letter (a radius of a diameter)."""  # noqa: E501
    wanted = dimension_of(role.unit)
    its = ideas_of(leaf)
    named = fitness(role, its) if its else 0.0
    ideas = {idea for option in role.ideas for idea in option}
    if leaf.si < 0.0 and not leaf.angle and leaf.unit != "rad":
        leaf = replace(leaf, typed=abs(leaf.typed))
    if role.letter in _BY_NAME and not named:
        return None
    angle = role.letter in _ANGLES or role.unit == "rad"
    if angle and (leaf.angle or leaf.unit == "rad") and leaf.dimension == NONE:
        leaf = replace(leaf, angle=True)
        return (3.0 if named else 2.0, leaf) if not its or named or not clash(role, its) else None
    if angle and leaf.bare and 3.2 < leaf.typed < 180:
        return (1.5, replace(leaf, factor=DEGREE, angle=True)) if not its or named else None
    if leaf.dimension == wanted and not (leaf.bare and wanted != NONE):
        inside = role.low <= abs(leaf.si) <= role.high
        if inside and (named or not its or (not clash(role, its) and not (its & _NAMED))):
            if wanted == NONE and not named and (strict or its or not higher):
                return None
            return 2.0 + 2.0 * named, leaf
        if wanted == LENGTH and its:
            if "radius" in ideas and "diameter" in its and "orbit" not in ideas:
                return 3.2, replace(leaf, typed=leaf.typed / 2.0, text=f"half of {leaf.text}")
            if "diameter" in ideas and "radius" in its:
                return 3.2, replace(leaf, typed=leaf.typed * 2.0, text=f"twice {leaf.text}")
        return None
    if strict or leaf.page >= 0 or not leaf.bare or wanted == NONE:
        return None
    for factor in (1.0, 1e3, 1e6):
        if role.low <= abs(leaf.typed * factor) <= role.high:
            return 1.0, replace(leaf, factor=factor)
    return None


_ANGLES = frozenset(["i", "az", "phi", "di", "th"])
_NAMED = frozenset(
    [
        "propellant", "dry", "payload", "start", "end", "fuel", "oxidiser", "diameter", "radius", "height", "length",  # noqa: E501
        "chamber", "exit", "ambient", "throat", "isp", "loss", "gravity", "density", "stress", "wall", "exhaust",  # noqa: E501
        "drag", "dv",
    ]
)  # fmt: skip


def _keyed(tree: Node, form: Node) -> float | None:
    """How much a formula is changed by an edit when its numbers are keyed as they are typed."""

    def typed(leaf: Leaf) -> Node:
        return leaf if leaf.constant or leaf.angle else replace(leaf, factor=1.0, shift=0.0)

    try:
        return evaluate(mapped(tree, typed), _DEGREES).value / evaluate(mapped(form, typed), _DEGREES).value
    except (Unfit, ZeroDivisionError):
        return None


def mapped_signs(node: Node) -> Node:
    """The tree without the sign of its first factor."""
    if isinstance(node, Op) and node.kind == "neg":
        return node.parts[0]
    if isinstance(node, Op) and node.kind in "*/":
        return Op(node.kind, (mapped_signs(node.parts[0]), *node.parts[1:]))
    return node


def telling(tree: Node) -> list[Leaf]:
    """The numbers of a line that stand for quantities: small plain factors, π and 180 left out."""
    found: list[Leaf] = []
    all_leaves = leaves(tree)
    turned = any(leaf.constant == "π" for leaf in all_leaves)
    skipped = _exponents(tree)
    for leaf in all_leaves:
        if leaf.constant == "π" or id(leaf) in skipped:
            continue
        if leaf.bare and leaf.page < 0 and not leaf.constant:
            if (
                leaf.half == 0.0
                or (leaf.typed == int(leaf.typed) and abs(leaf.typed) <= 4)
                or leaf.typed == 0.5
            ):
                continue
            if turned and leaf.typed in (180.0, 6.0, 8.0):
                continue
        if not any(
            (leaf.page >= 0 and leaf.page == other.page)
            or (leaf.typed == other.typed and leaf.unit == other.unit and leaf.constant == other.constant)
            for other in found
        ):
            found.append(leaf)
    return found


def _exponents(node: Node) -> set[int]:
    found: set[int] = set()
    if isinstance(node, Op):
        if node.kind == "^":
            found |= {id(leaf) for leaf in leaves(node.parts[1])}
        for part in node.parts:
            found |= _exponents(part)
    return found


__all__ = ["Fitting", "telling"]
