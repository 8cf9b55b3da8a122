"""A line beside the relation its own numbers belong to: every number of it is given a letter.

Where all numbers of a line fit the letters of a relation of that name, but the number comes out
otherwise, the slip is the edit of the relation that gives the line: a constant, a power, an operand, a
term, a sign.  Nothing is said where any other relation of that name agrees.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from wetmass.record.working import Verdict
from wetmass.working.amounts import as_typed
from wetmass.working.catalogue import Form, Role, forms
from wetmass.working.explaining import Explaining
from wetmass.working.lettering import CONSTANT_LETTERS, assigned, exponents, ordered, spoken, telling
from wetmass.working.linking import linked
from wetmass.working.relations import Bound, dimension_of, fitness, ideas_of, recognised
from wetmass.working.slips.finder import Found, ranked
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    DEGREES,
    Leaf,
    Node,
    Op,
    Unfit,
    evaluate,
    exactly,
    leaves,
    mapped,
    put,
    walk,
)
from wetmass.working.units import (
    ACCELERATION,
    LENGTH,
    NONE,
    SPEED,
    TIME,
)

_GROUND = re.compile(r"\bsea[- ]level\b|\bpad\b|\bground\b|\blift-?off\b")
_SURE = ("way at steady acceleration", "kinetic energy")  # by their units alone

_MOST = 240  # ways to give the numbers their letters that are tried for a line


class Fitting(Explaining):
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
        prepared = self.prepared(doubt)
        if prepared is None:
            return 0.0, []
        tree, came = prepared
        mine = telling(tree)
        rights: list[tuple[Bound, Node, float]] = []
        outside = exponents(tree)
        typed = {leaf.typed for leaf in leaves(tree) if id(leaf) not in outside}
        counts = [n for n, _ in self.context.counts if n in typed]
        bounds = [self._placed(bound) for bound in itertools.islice(self._bounds(mine), _MOST)]
        bounds.sort(key=lambda bound: -bound.score)
        tops = {bound.form: bound.score for bound in reversed(bounds)}
        for bound in bounds:
            form = bound.tree(bound.form.formula)
            try:
                right = evaluate(form, DEGREES).value
            except Unfit:
                continue
            if not right:
                continue
            whole = len(terms_of(form)) == 1  # thousands left out of a sum do not cancel
            if whole and (
                any(leaf.bare and leaf.dimension == NONE for leaf in bound.values.values()) or self.claim.bare
            ):
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
            if (
                "n" not in bound.values
                and any(abs(came / right / n - 1.0) < 0.004 for n in counts)
                and not self.counted(bound)
            ):
                return None  # so many of them
            rights.append((bound, form, right))
        return came, rights

    def prepared(self, doubt: bool) -> tuple[Node, float] | None:
        """The line with its numbers known by name, and what it comes to in the unit stated."""
        if self.best is None or (
            self.statement.about and self.claim.half > 0.05 * abs(self.claim.typed or 1)
        ):
            return None
        tree = linked(self.best, self.scope)
        turned = 1.0
        if self.claim.si < 0.0 and len(terms_of(tree)) == 1 and isinstance(tree, Op):
            turned = -1.0  # a negative energy, say
            tree = mapped_signs(tree)
        tree = mapped(mapped(tree, self._doubted) if doubt else tree, self._half_or_twice)
        tree = self._with_doubles(self._with_squares(_with_loads(tree)))
        if not 1 <= len(telling(tree)) <= 7:
            return None
        try:
            came = evaluate(tree, self.meaning).value
        except Unfit:
            return None
        if not came:
            return None
        stated = turned * self.claim.si
        if self.claim.unit in ("g", "gee", "g0", "g₀") and abs(came / self.claim.typed - 1.0) < 0.02:
            came *= self.claim.factor  # a load in g, worked out as a plain ratio
        if not self.claim.bare and self.claim.si:
            came *= 1000.0 ** round(math.log10(abs(self.claim.si / came)) / 3.0)  # kilonewtons over tonnes
        if stated and abs(came / stated - 1.0) > 0.02:
            keyed = self._as_keyed(tree) * turned
            if abs(keyed / stated - 1.0) < 0.02:
                came = keyed
            elif self.claim.half < 0.005 * abs(self.claim.typed):
                came = stated
        return tree, came

    def _with_squares(self, tree: Node) -> Node:
        """A plain number that is the square of a speed or a length said in this line."""
        for path, leaf in list(walk(tree)):
            if (
                not isinstance(leaf, Leaf)
                or not leaf.bare
                or leaf.page >= 0
                or leaf.constant
                or leaf.typed in (1.0, 4.0)
            ):
                continue
            for entry in self.scope.entries:
                its = entry.leaf
                if (
                    entry.line == self.statement.raw.number
                    and its.dimension in (SPEED, LENGTH)
                    and its.typed != 1.0
                    and abs(its.typed**2 / leaf.typed - 1.0) < 1e-9
                ):
                    tree = put(tree, path, Op("^", (self.scope.leaf(entry), exactly(2.0))))
                    break
        return tree

    def _with_doubles(self, tree: Node) -> Node:
        """A plain number that is twice an acceleration of the page: v²/20 where g is 10."""
        known = [e for e in self.scope.entries if e.leaf.dimension == ACCELERATION and not e.leaf.bare]
        for path, leaf in list(walk(tree)):
            if (
                not isinstance(leaf, Leaf)
                or not leaf.bare
                or leaf.page >= 0
                or leaf.constant
                or leaf.half == 0.0
            ):
                continue
            entry = next((e for e in known if abs(2.0 * e.leaf.typed - leaf.typed) < 1e-9 * leaf.typed), None)
            twice = self.scope.leaf(entry) if entry is not None else None
            if twice is None and (leaf.typed in (19.62, 19.6) or (self.scope.tens and leaf.typed == 20.0)):
                twice = Leaf(
                    leaf.typed / 2.0, 1.0, ACCELERATION, False, 0.0, "", "standard gravity", "g", "g₀"
                )
            if twice is not None and path and path[-1] == 1:
                tree = put(tree, path, Op("*", (exactly(2.0), twice)))
        return tree

    def _as_keyed(self, tree: Node) -> float:
        """What the line comes to with its numbers as they are typed, in the unit stated."""
        try:
            return evaluate(as_typed(tree), self.meaning).value * self.claim.factor
        except Unfit:
            return 0.0

    def counted(self, bound: Bound) -> bool:
        """Whether a thrust or flow of a relation is that of all engines already, and the result no sum of parts."""
        whole = any(
            leaf.page >= 0 and self.scope.entries[leaf.page].tags & {"total", "all"}
            for leaf in bound.values.values()
        )
        return whole and self.claim.dimension in (TIME, SPEED, ACCELERATION, NONE)

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
        self.conclude(found, found[0].right)
        if soft:
            self.verdict = Verdict.UNCLEAR
            top = self.slips[0].sentence
            self.sentence = f"By its units this looks like “{self.relation}”: {top} Right as it stands if another relation is meant."  # noqa: E501
        return True

    def _half_or_twice(self, leaf: Leaf) -> Node:
        """A bare number that is half of a diameter of the page, or twice a radius."""
        if not leaf.bare or leaf.page >= 0 or leaf.constant or leaf.half <= 0.0 or leaf.dimension != NONE:
            return leaf
        if leaf.typed == int(leaf.typed) and leaf.typed <= 4 and "." not in leaf.text:
            return leaf
        for entry in self.scope.entries:
            if entry.leaf.dimension != LENGTH or entry.leaf.factor <= 0.0 or "orbit" in entry.tags:
                continue
            for name, other, factor in (("radius", "diameter", 2.0), ("diameter", "radius", 0.5)):
                if other not in entry.tags or name in entry.tags:
                    continue
                for scale in (1.0, 1e-3, 1e3):  # 4200 (mm) is twice 2.1 m
                    times = entry.leaf.typed / (leaf.typed * scale)
                    if abs(times / factor - 1.0) < 1e-9 and (scale == 1.0 or leaf.typed >= 5.0):
                        return replace(
                            leaf, name=name, bare=False, dimension=LENGTH, factor=entry.leaf.factor * scale,
                            unit=entry.leaf.unit if scale == 1.0 else "",
                        )  # fmt: skip
        return leaf

    def _doubted(self, leaf: Leaf) -> Node:
        """A number with the digits of a value that is off already has no sure unit."""
        if leaf.linked and leaf.page in self.checker.doubtful and not leaf.bare:
            return replace(
                leaf, page=-1, name="", linked=False, bare=True, factor=1.0, dimension=NONE, unit=""
            )
        return leaf

    def across(self, letter: str) -> list[float]:
        """What the page gives, in metres, for the radius or diameter that a letter stands for."""
        own, other, share = ("diameter", "radius", 2.0) if letter == "d" else ("radius", "diameter", 0.5)
        lengths = [e for e in self.scope.entries if e.leaf.dimension == LENGTH]
        return [e.stated for e in lengths if own in e.tags] + [
            e.stated * share for e in lengths if other in e.tags
        ]

    def _placed(self, bound: Bound) -> Bound:
        """A bare length that is twice or half of the page's own radius or diameter is put in as that."""
        changed = {}
        for letter in ("d", "r", "rr"):
            leaf = bound.values.get(letter)
            if leaf is None or leaf.page >= 0 or not leaf.bare or not leaf.si:
                continue
            proper = self.across(letter)
            if any(abs(value / leaf.si - 1.0) < 1e-6 for value in proper):
                continue
            for value in proper:
                if any(abs(value / leaf.si / f - 1.0) < 1e-6 for f in (2.0, 0.5)):
                    changed[letter] = replace(leaf, typed=value / (leaf.factor or 1.0))
        return replace(bound, values=bound.values | changed) if changed else bound

    def _bounds(self, mine: list[Leaf]) -> Iterator[Bound]:
        """Ways to give every number of the line a letter of a relation of its name."""
        claim = self.claim
        dimension = None if claim.bare and claim.dimension == NONE else claim.dimension
        for form in recognised(self.ideas, dimension, forms(all_of_them=True)):
            nameless = all(not option for option in form.ideas)
            if dimension is None and nameless:
                continue
            free = free_roles(form, mine)
            if free is None:
                continue
            count = len([leaf for leaf in mine if not leaf.constant])
            if len(free) == count:
                by_name = not re.search(r"[*/^(]", form.formula)  # a sum is known by its names alone
                for bound in assigned(form, free, mine, nameless, self.higher):
                    if not by_name or _named(bound):
                        yield bound
            elif len(free) == count + 1 and count >= 2:
                one = any(ideas_of(leaf) & {"each", "engine", "booster", "fan"} for leaf in mine)
                for role in free:
                    entry = self._of_page(role, mine)
                    if entry is not None and (role.letter != "n" or one):
                        rest = [other for other in free if other is not role]
                        for bound in assigned(form, rest, mine, nameless, self.higher):
                            values = bound.values | {role.letter: entry}
                            if ordered(values):
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
            and (role.letter not in ("n", "nn") or entry.stated == int(entry.stated))
        ]
        if not found and role.letter == "pa" and _GROUND.search(self.context.words):
            return Leaf(101325.0, dimension=wanted, bare=False, name="ambient pressure", text="101.3 kPa")
        return self.scope.leaf(max(found)[2]) if found else None


def free_roles(form: Form, mine: list[Leaf]) -> list[Role] | None:
    """The letters of a relation that numbers of the line can stand for, None where it is of another world."""
    if "muo" in form.formula and not any(leaf.constant in CONSTANT_LETTERS["muo"] for leaf in mine):
        return None
    return [role for role in form.roles if role.letter not in CONSTANT_LETTERS or spoken(role, mine)]


def _with_loads(tree: Node) -> Node:
    """Half a g, one and a half g: a factor beside gravity alone is an acceleration of its own."""
    for path, node in list(walk(tree)):
        if not isinstance(node, Op) or node.kind != "*" or len(leaves(tree)) < 3:
            continue
        one, other = node.parts
        if not isinstance(one, Leaf) or not isinstance(other, Leaf):
            continue
        for factor, gravity in ((one, other), (other, one)):
            if (
                factor.bare
                and factor.page < 0
                and not factor.constant
                and factor.typed in (0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.8)
                and (
                    gravity.constant.startswith("g")
                    or (gravity.dimension == ACCELERATION and "gravity" in ideas_of(gravity))
                )
            ):
                made = replace(
                    gravity, typed=gravity.typed * factor.typed, name="net acceleration", constant="", page=-1,
                    half=0.01, text=f"{factor.text}·{gravity.text}",
                )  # fmt: skip
                tree = put(tree, path, made)
    return tree


def _named(bound: Bound) -> bool:
    """Whether every value of a relation has a name that suits its letter."""
    return all(
        leaf.constant or fitness(role, ideas_of(leaf))
        for role in bound.form.roles
        if (leaf := bound.values.get(role.letter)) is not None
    )


def mapped_signs(node: Node) -> Node:
    """The tree without the sign of its first factor."""
    if isinstance(node, Op) and node.kind == "neg":
        return node.parts[0]
    if isinstance(node, Op) and node.kind in "*/":
        return Op(node.kind, (mapped_signs(node.parts[0]), *node.parts[1:]))
    return node
