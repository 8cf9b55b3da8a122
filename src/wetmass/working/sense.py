"""Slips of sense: the arithmetic and the relation hold, but a number is not the one the line speaks of."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from wetmass.working.relations import suits
from wetmass.working.scope import Entry
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.finder import Found
from wetmass.working.slips.kinds import KINDS
from wetmass.working.slips.terms import terms_of
from wetmass.working.state import LineState
from wetmass.working.statement import linked
from wetmass.working.tree import Leaf, Node, Op, Unfit, evaluate, exactly, leaves, put, walk
from wetmass.working.units import ACCELERATION, DENSITY, FORCE, MASS, TIME

_STANDARD = 9.80665
_FELT = re.compile(
    r"\b(?:felt|axial|load|loads|gross|g-load|sensed|in g|in vacuum|without gravity|no gravity|thrust alone)\b|\bg\b$"  # noqa: E501
)
_OUT = re.compile(
    r"\b(?:engine|motor|one|two) (?:engine |motor )?(?:out|failed|lost|dead|off)\b|\bfailed engine\b"
)


class Sense(LineState):
    """A number of the line is not the one its name speaks of."""

    def by_sense(self) -> bool:
        """Whether a rule of sense is broken; sets the slips then."""
        if self.best is None:
            return False
        rules: tuple[Callable[[Node], bool], ...] = (
            self._growth_on_propellant, self._share_as_tenths, self._weight_left_out, self._lift_off_acceleration,  # noqa: E501
            self._residuals_left_out, self._ground_impulse_aloft, self._all_engines_though_one_is_out,
            self._ground_air_aloft, self._impulses_by_count, self._own_mass_again,
        )  # fmt: skip
        named = linked(self.best, self.scope)
        for rule in rules:
            try:
                if rule(named):
                    return True
            except (Unfit, ArithmeticError):
                continue
        return False

    def _say(self, kind: str, cause: str, cure: str, right: float, also: tuple[str, ...] = ()) -> bool:
        edit = Edit(kind, self.best or exactly(0.0), cause, cure, also=also)
        self.conclude([Found(edit, self.claim.si, right, KINDS[kind].common)], right)
        return True

    def _with(self, tree: Node, path: tuple[int, ...], new: Node) -> float:
        """What the line states with a number of it replaced."""
        return (
            self.claim.si
            * evaluate(put(tree, path, new), self.meaning).value
            / evaluate(tree, self.meaning).value
        )

    def _entry(self, leaf: Node) -> Entry | None:
        return self.scope.entries[leaf.page] if isinstance(leaf, Leaf) and leaf.page >= 0 else None

    def _growth_on_propellant(self, tree: Node) -> bool:
        ideas = suits(self.statement.label)
        if (
            not ideas & {"propellant", "fuel", "oxidiser", "load"}
            or not isinstance(tree, Op)
            or tree.kind != "*"
        ):
            return False
        growths = [e.stated for e in self.scope.entries if "growth" in e.tags and 0.0 < e.stated < 0.6]
        growths += [e.stated - 1.0 for e in self.scope.entries if "growth" in e.tags and 1.0 < e.stated < 1.6]
        if not growths and "growth" not in ideas:
            return False
        for path, node in ((0,), tree.parts[0]), ((1,), tree.parts[1]):
            try:
                value = evaluate(node, self.meaning)
            except Unfit:
                continue
            other = self._entry(tree.parts[1 - path[0]])
            if other is not None and not other.tags & {"propellant", "fuel", "oxidiser", "load"}:
                continue
            if value.dimension == (0.0,) * 5 and any(abs(value.value - 1.0 - g) < 1e-6 for g in growths):
                right = self._with(tree, path, exactly(1.0))
                return self._say(
                    "S39",
                    "the growth of the dry mass is put on the propellant",
                    "without it",
                    right,
                    ("S37",),
                )
        return False

    def _share_as_tenths(self, tree: Node) -> bool:
        """1.2 for 2 %, 1.5 for 5 %."""
        for path, leaf in walk(tree):
            if (
                not isinstance(leaf, Leaf)
                or not leaf.bare
                or leaf.page >= 0
                or not 1.0 < abs(leaf.typed) < 2.0
            ):
                continue
            for entry in self.scope.entries:
                said = entry.leaf
                if (
                    said.unit == "%"
                    and entry.tags
                    & {"reserve", "margin", "growth", "allowance", "ullage", "residual", "boiloff"}
                    and said.typed < 10.0
                    and abs(leaf.typed - 1.0 - said.typed / 10.0) < 1e-9
                ):
                    right = self._with(tree, path, replace(leaf, typed=1.0 + said.si))
                    cause = f"{leaf.text} is put in for {said.text} more"
                    return self._say("S35", cause, f"with {1 + said.si:g}", right, ("S08", "S37"))
        return False

    def _origin(self, leaf: Leaf) -> Node | None:
        return next(
            (node for _, index, node, _ in self.checker.ends if index == leaf.page and node is not None), None
        )

    def _weight_left_out(self, tree: Node) -> bool:
        """An acceleration that is thrust over mass alone, where the way up or down is worked out."""
        ideas = suits(self.statement.label)
        upright = ideas & {"height", "stopping", "landing", "braking"} or re.search(
            r"\bignition\b|\blanding\b|\bbraking\b|\bstraight up\b|\bvertical", self.context.words
        )
        if not upright or _FELT.search(self.context.words) or "dv" in ideas or ideas & {"mass", "thrust"}:
            return False
        for path, leaf in walk(tree):
            if isinstance(leaf, Op) and leaf.kind == "/" and self._thrust_over_mass(leaf) and path:
                if self._lessened(tree, path) or self.claim.dimension == ACCELERATION:
                    continue
                gross = evaluate(leaf, self.meaning).value
                new: Node = Leaf(gross - _STANDARD, dimension=ACCELERATION, bare=False)
            elif isinstance(leaf, Leaf) and leaf.page >= 0 and leaf.dimension == ACCELERATION:
                entry = self.scope.entries[leaf.page]
                origin = self._origin(leaf)
                if (
                    origin is None
                    or "net" in entry.tags
                    or not self._thrust_over_mass(linked(origin, self.scope))
                ):
                    continue
                if self._lessened(tree, path):
                    continue
                new = replace(leaf, typed=(leaf.si - _STANDARD) / (leaf.factor or 1.0))
                gross = leaf.si
            else:
                continue
            if gross < 1.02 * _STANDARD:
                continue
            right = self._with(tree, path, new)
            return self._say(
                "S51", "the weight is left out of the acceleration", "with g taken off it", right, ("S24",)
            )
        return False

    @staticmethod
    def _thrust_over_mass(node: Node) -> bool:
        """Thrust over mass, with nothing taken off."""
        if (
            isinstance(node, Op)
            and node.kind in "*/"
            and not any(
                isinstance(n, Op)
                and n.kind in "+-"
                and any(isinstance(p, Leaf) and p.constant for p in n.parts)
                for _, n in walk(node)
            )
        ):
            try:
                return evaluate(node).dimension == ACCELERATION and any(
                    leaf.dimension == FORCE for leaf in leaves(node)
                )
            except Unfit:
                return False
        return False

    @staticmethod
    def _lessened(tree: Node, path: tuple[int, ...]) -> bool:
        """Whether gravity is taken off the node somewhere above it."""
        node = tree
        for index in path:
            assert isinstance(node, Op)
            if node.kind in "+-":
                return True
            node = node.parts[index]
        return False

    def _lift_off_acceleration(self, tree: Node) -> bool:
        ideas = suits(self.statement.label)
        words = self.statement.label.lower()
        first = "liftoff" in ideas or re.search(
            r"\b(?:first|initial|start|starting|lift-?off|launch|upward|off the pad)\b", words
        )
        if self.claim.dimension != ACCELERATION or not first or not ideas & {"acceleration"}:
            return False
        if _FELT.search(self.context.words) or re.search(r"\bg\b|gee", self.claim.unit) or terms_of(tree)[1:]:
            return False
        if any("net" in e.tags for e in self.scope.entries):
            return False
        gross = self.claim.si
        forces = any(leaf.dimension == FORCE for leaf in leaves(tree))
        if not (forces or "lbf" in self.checker.text) or not _STANDARD * 1.02 < gross < 3.0 * _STANDARD:
            return False
        return self._say(
            "S24",
            "the weight is left out of the acceleration",
            "with g taken off",
            gross - _STANDARD,
            ("S51",),
        )

    def _residuals_left_out(self, tree: Node) -> bool:
        ideas = suits(self.statement.label)
        if "end" not in ideas or self.claim.dimension != MASS or ideas & {"propellant", "speed", "height"}:
            return False
        flat = terms_of(tree)
        names = [self._entry(node) for _, node in flat]
        if any(e is None or e.tags & {"residual", "usable", "used", "end"} for e in names):
            return False
        masses = [e for e in self.scope.entries if "residual" in e.tags and e.leaf.dimension == MASS]
        shares = [e for e in self.scope.entries if "residual" in e.tags and e.leaf.unit == "%"]
        loads = [
            e for e in self.scope.entries
            if e.leaf.dimension == MASS and "propellant" in e.tags and not e.tags & {"usable", "used", "residual"}  # noqa: E501
            and e.stage in ("", self.statement.stage)
        ]  # fmt: skip
        left = (
            masses[-1].stated
            if masses
            else (shares[-1].stated * loads[-1].stated if shares and loads else 0.0)
        )
        if not left or left < 0.002 * self.claim.si:
            return False
        return self._say("S37", "the residuals are left out", "with them", self.claim.si + left, ("S31",))

    def _ground_impulse_aloft(self, tree: Node) -> bool:
        """The figure at sea level for a stage that burns above the air, though the page has the other."""
        ideas = suits(self.statement.label)
        stage = self.statement.stage
        aloft = stage in ("2", "3", "4") or re.search(
            r"\bupper\b|\bkick\b|\bin orbit\b|\bvacuum\b", self.context.words
        )
        if not aloft or ideas & {"sl", "liftoff"}:
            return False
        for path, leaf in walk(tree):
            entry = self._entry(leaf)
            if entry is None or "sl" not in entry.tags or not entry.tags & {"isp", "exhaust", "thrust"}:
                continue
            if entry.stage not in ("", stage):
                continue
            other = next(
                (
                    e for e in reversed(self.scope.entries)
                    if "vac" in e.tags and e.leaf.dimension == entry.leaf.dimension and e.stage == entry.stage
                    and e.tags & entry.tags & {"isp", "exhaust", "thrust"}
                ),
                None,
            )  # fmt: skip
            if other is not None and abs(other.stated / entry.stated - 1.0) > 0.005:
                right = self._with(tree, path, self.scope.leaf(other))
                cause = f"the figure at sea level ({entry.leaf.text}) is used above the air"
                return self._say("S23", cause, f"with {other.leaf.text}", right)
        return False

    def _all_engines_though_one_is_out(self, tree: Node) -> bool:
        if not _OUT.search(self.context.words) or terms_of(tree)[1:]:
            return False
        for path, leaf in walk(tree):
            if not isinstance(leaf, Leaf) or leaf.dimension != (0.0,) * 5 or leaf.constant:
                continue
            entry = self._entry(leaf)
            counted = entry is not None and "count" in entry.tags
            counted = counted or (leaf.bare and any(leaf.typed == count for count, _ in self.context.counts))
            if counted and leaf.typed >= 2:
                lost = 2.0 if "two engines out" in self.context.words else 1.0
                right = self._with(tree, path, exactly(leaf.typed - lost))
                return self._say(
                    "S30", "the engine that is out is counted", f"with {leaf.typed - lost:g}", right, ("S55",)
                )
        return False

    def _ground_air_aloft(self, tree: Node) -> bool:
        """The density at sea level in a drag or pressure where the page gives that of the height."""
        ideas = suits(self.statement.label)
        if not ideas & {"drag", "dynamic", "heat", "lift"} or re.search(
            r"\bpad\b|\bground\b", self.context.words
        ):
            return False
        local = [
            e for e in self.scope.entries
            if e.leaf.dimension == DENSITY and 0.0 < e.stated < 1.15 and not e.tags & {"sl"}
        ]  # fmt: skip
        if not local:
            return False
        for _path, leaf in walk(tree):
            if isinstance(leaf, Leaf) and abs(leaf.typed - 1.225) < 0.006 and leaf.factor == 1.0:
                new = self.scope.leaf(local[-1])
                right = self.claim.si * new.si / 1.225
                return self._say(
                    "S53", "the density at sea level is used", f"with {local[-1].leaf.text}", right
                )
        return False

    def _impulses_by_count(self, tree: Node) -> bool:
        """Specific impulses averaged by the number of engines, though their thrusts differ."""
        if "isp" not in suits(self.statement.label) or self.claim.dimension != TIME:
            return False
        found = [e for leaf in leaves(tree) if (e := self._entry(leaf)) is not None and "isp" in e.tags]
        if (
            len(found) != 2
            or any({"sl", "vac"} & e.tags for e in found)
            or any(leaf.dimension == FORCE for leaf in leaves(tree))
        ):
            return False
        if not isinstance(tree, Op) or tree.kind != "/" or len(terms_of(tree.parts[0])) != 2:
            return False
        if not any("count" in e.tags for e in self.scope.entries):
            return False
        thrusts = [
            next(
                (t for t in self.scope.entries if t.leaf.dimension == FORCE and t.tags & (e.tags - {"isp"})),
                None,
            )
            for e in found
        ]
        if any(t is None for t in thrusts):
            return False
        pairs = [(t.stated, e.stated) for t, e in zip(thrusts, found, strict=True) if t is not None]
        right = sum(t for t, _ in pairs) / sum(t / i for t, i in pairs)
        if abs(right / self.claim.si - 1.0) < 0.004:
            return False
        return self._say(
            "S25", "the impulses are averaged by count", "weighted by flow, ΣF / Σ(F/Isp),", right
        )

    def _own_mass_again(self, tree: Node) -> bool:
        """The same mass added twice in one sum."""
        flat = terms_of(tree)
        seen: set[int] = set()
        for sign, node in flat:
            if (
                isinstance(node, Leaf)
                and node.page >= 0
                and sign > 0
                and node.dimension == MASS
                and len(flat) > 2
            ):
                if node.page in seen and self.scope.entries[node.page].name == node.name and not node.linked:
                    right = self.claim.si - node.si
                    return self._say("S31", f"{node.name} is counted twice", "once", right)
                seen.add(node.page)
        return False
