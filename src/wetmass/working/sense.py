"""Slips of sense: the arithmetic and the relation hold, but a number is not the one the line speaks of."""

from __future__ import annotations

import itertools
import math
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
from wetmass.working.units import ACCELERATION, DENSITY, FORCE, MASS, MASS_FLOW, SPEED, TIME

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
            self._propellant_in_logarithm, self._impulses_added,
            self._growth_twice, self._sine_of_latitude, self._first_acceleration_kept, self._one_of_its_kind,
            self._units_do_not_agree, self._sign_in_a_budget, self._mass_of_another_moment,
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
            elif isinstance(leaf, Leaf) and leaf.page < 0 and self._of_the_page(leaf):
                if self._lessened(tree, path):
                    continue
                gross = leaf.typed
                new = replace(leaf, typed=gross - _STANDARD)
            elif isinstance(leaf, Leaf) and leaf.page >= 0 and leaf.dimension == ACCELERATION:
                entry = self.scope.entries[leaf.page]
                origin = self._origin(leaf)
                if (
                    origin is None
                    or "net" in entry.tags
                    or entry.index in self.checker.faulty
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
            r"\b(?:first|initial|start|starting|lift-?off|launch|upwards?|off the pad)\b", words
        )
        if self.claim.dimension != ACCELERATION or not first or not ideas & {"acceleration"}:
            return False
        if _FELT.search(self.context.words) or re.search(r"\bg\b|gee", self.claim.unit) or terms_of(tree)[1:]:
            return False
        if any("net" in e.tags for e in self.scope.entries) or re.search(
            rf"{re.escape(self.claim.text.split()[0])}\s*(?:m/s²|m/s\^2)?\s*[−-]\s*9\.8", self.checker.text
        ):
            return False  # the weight is taken off in a line of its own
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
        both = {idea for leaf in leaves(tree) if (e := self._entry(leaf)) is not None for idea in e.tags}
        if {"sl", "vac"} <= both:
            return False  # one held against the other
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

    def _of_the_page(self, leaf: Leaf) -> bool:
        """Whether a bare number is a thrust of the page over a mass of the page."""
        if not leaf.bare or leaf.constant or leaf.half <= 0.0 or leaf.half >= 0.1 or leaf.typed < 10.0:
            return False
        forces = [
            e.stated for e in self.scope.entries if e.leaf.dimension == FORCE and "weight" not in e.tags
        ]
        masses = [e.stated for e in self.scope.entries if e.leaf.dimension == MASS]
        return any(abs(f / m - leaf.typed) <= leaf.half * 1.01 for f in forces for m in masses if m)

    def _propellant_in_logarithm(self, tree: Node) -> bool:
        """The propellant where the start or the final mass belongs."""
        for path, node in walk(tree):
            if not (isinstance(node, Op) and node.kind in ("ln", "log") and isinstance(node.parts[0], Op)):
                continue
            ratio = node.parts[0]
            if ratio.kind != "/":
                continue
            high, low = ratio.parts
            above, below = self._entry(high), self._entry(low)
            wet = {"start", "end", "dry", "total", "gross", "left", "stack"}
            if above is not None and above.tags & {"propellant", "used"} and not above.tags & wet:
                right = self._with(tree, (*path, 0, 0), Op("+", (high, low)))
                return self._say(
                    "S05",
                    "the propellant stands above as if it were the start mass",
                    "with the start mass",
                    right,
                    ("S31",),
                )
            if below is not None and "propellant" in below.tags and not below.tags & wet:
                right = self._with(tree, (*path, 0, 1), Op("-", (high, low)))
                return self._say(
                    "S05",
                    "the propellant stands below as if it were the final mass",
                    "with the final mass",
                    right,
                    ("S31",),
                )
        return False

    def _impulses_added(self, tree: Node) -> bool:
        """Two specific impulses added and not halved."""
        for path, node in walk(tree):
            if not isinstance(node, Op) or node.kind != "+" or not path:
                continue
            flat = terms_of(node)
            found = [self._entry(part) for _, part in flat]
            if len(flat) < 2 or any(e is None or "isp" not in e.tags for e in found):
                continue
            above: Node = tree
            for index in path[:-1]:
                assert isinstance(above, Op)
                above = above.parts[index]
            if isinstance(above, Op) and above.kind == "/" and path[-1] == 0:
                continue
            right = self.claim.si / len(flat)
            return self._say(
                "S25", "specific impulses are added", "with one of them, or their mean,", right, ("S01",)
            )
        return False

    def _growth_twice(self, tree: Node) -> bool:
        """The same allowance in one product twice."""
        if (
            not isinstance(tree, Op)
            or tree.kind != "*"
            or re.search(r"squared|compound|each on top", self.context.words)
        ):
            return False
        factors = [
            leaf
            for leaf in leaves(tree)
            if leaf.bare and 1.0 < leaf.typed < 1.6 and leaf.typed != round(leaf.typed)
        ]
        for one, other in itertools.pairwise(factors):
            if one.typed == other.typed and self.claim.dimension == MASS:
                cause = f"the allowance {one.text} goes in twice"
                return self._say("S39", cause, "with it once", self.claim.si / one.typed, ("S37",))
        return False

    def _sine_of_latitude(self, tree: Node) -> bool:
        """What the turning Earth gives goes with the cosine of the latitude."""
        if not any(460.0 < abs(leaf.si) < 470.0 and not leaf.constant for leaf in leaves(tree)):
            return False
        for path, node in walk(tree):
            if isinstance(node, Op) and node.kind == "sin":
                entry = self._entry(node.parts[0])
                if entry is not None and "latitude" in entry.tags:
                    right = self._with(tree, path, Op("cos", node.parts))
                    return self._say(
                        "S45",
                        "the sine of the latitude is used for its cosine",
                        "with the cosine",
                        right,
                        ("S46",),
                    )
        return False

    def _first_acceleration_kept(self, tree: Node) -> bool:
        """The acceleration at the start times the whole burn, though much of the mass burns away."""
        ideas = suits(self.statement.label)
        if not ideas & {"speed", "end"} or "dv" in ideas or not isinstance(tree, Op) or tree.kind != "*":
            return False
        found = [e for part in tree.parts if (e := self._entry(part)) is not None]
        first = [
            e
            for e in found
            if e.leaf.dimension == ACCELERATION and e.tags & {"start", "liftoff", "initial", "first"}
        ]
        times = [e for e in found if e.leaf.dimension == TIME and "burn" in e.tags]
        starts = [e.stated for e in self.scope.entries if e.leaf.dimension == MASS and "start" in e.tags]
        ends = [e.stated for e in self.scope.entries if e.leaf.dimension == MASS and "end" in e.tags]
        forces = [e.stated for e in self.scope.entries if e.leaf.dimension == FORCE and "thrust" in e.tags]
        if not (first and times and starts and ends and forces) or starts[-1] < 1.2 * ends[-1]:
            return False
        time, start, end = times[-1].stated, starts[-1], ends[-1]
        right = forces[-1] * time / (start - end) * math.log(start / end)
        if first[-1].stated < forces[-1] / start - 0.5 * _STANDARD:
            right -= _STANDARD * time
        if not 1.0 < right / self.claim.si < 20.0:
            return False
        cause = "the acceleration of the start is kept through the whole burn"
        return self._say("S41", cause, "with the mass falling as it burns", right)

    def _one_of_its_kind(self, tree: Node) -> bool:
        """The thrust, flow or mass of one where the line speaks of all of them together."""
        ideas = suits(self.statement.label)
        whole = ideas & {"liftoff", "total", "twr", "hover", "landing"} or (
            "used" in ideas
            or (ideas & {"fuel", "propellant"} and "flow" not in ideas and self.claim.dimension == MASS)
        )
        if (
            not whole
            or ideas & {"each"}
            or re.search(r"\b(?:per|each|one|single|apiece)\b", self.context.words)
        ):
            return False
        for path, leaf in walk(tree):
            entry = self._entry(leaf)
            if (
                entry is None
                or entry.tags & {"total", "count", "core"}
                or entry.leaf.dimension not in (FORCE, MASS_FLOW)
            ):
                continue
            kinds = entry.tags & {"booster", "fan", "engine", "motor", "thruster"}
            if kinds & ideas & {"booster"} and "total" not in ideas:
                continue  # a line of one of them
            counts = [
                e
                for e in self.scope.entries
                if "count" in e.tags | _number(e) and e.tags & kinds and 2 <= e.stated <= 60
            ]
            if not kinds and "each" in entry.tags:
                counts = [e for e in self.scope.entries if "count" in e.tags and e.leaf.bare]
                counts = counts if len(counts) == 1 else []
            if not counts or not ("each" in entry.tags or "booster" in kinds):
                continue
            count = counts[-1].stated
            used = [other for other in leaves(tree) if other is not leaf]
            if any(
                (other.bare and 0.5 * count <= other.typed <= count) or other.page == counts[-1].index
                for other in used
            ):
                continue
            if not isinstance(leaf, Leaf):
                continue
            right = self._with(tree, path, replace(leaf, typed=leaf.typed * count))
            return self._say("S30", f"only one of the {count:g} is counted", "with all of them", right)
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
                right = self.claim.si * _STANDARD**power
                if "twr" in ideas and not 0.05 < right < 300.0:
                    return False
                return self._say("S02", cause, "with it", right, ("S24",))
        for leaf in here:
            if leaf.bare or leaf.constant or leaf.dimension == (0.0,) * 5:
                continue
            for power in (1.0, -1.0):
                if all(abs(g - power * d) < 1e-9 for g, d in zip(gap, leaf.dimension, strict=True)):
                    if leaf.dimension != SPEED:
                        continue
                    right = self.claim.si * leaf.si**power
                    word = "not squared" if power > 0 else "in once too often"
                    return self._say("S06", f"{leaf.name or leaf.text} is {word}", "put right", right)
        return False

    def _sign_in_a_budget(self, tree: Node) -> bool:
        """Losses are added to what is needed and taken off what is reached; the Earth's gift the reverse."""
        if self.claim.dimension != SPEED:
            return False
        ideas = suits(self.statement.label)
        flat = terms_of(tree)
        if len(flat) < 3:
            return False
        named = [(sign, part, e.tags) for sign, part in flat if (e := self._entry(part)) is not None]
        if len(named) < len(flat) - 1:
            return False
        needed = re.search(r"\bneed|\brequire|\bbudget\b|\bmust\b|\bdemand", self.context.words)
        first = named[0][2] if named else frozenset()
        reached = not needed and ("dv" in first or "ideal" in first) and not ideas & {"dv", "needed"}
        needed = bool(needed) or ("orbit" in first and "dv" in ideas)
        if bool(needed) == reached:
            return False
        for sign, part, its in named[1:]:
            gift = "rotation" in its or ({"gain", "earth"} & its and "loss" not in its)
            loss = "loss" in its
            if not (gift or loss):
                continue
            proper = (-1 if gift else 1) if needed else (1 if gift else -1)
            if sign == proper:
                continue
            right = self.claim.si + 2.0 * proper * evaluate(part, self.meaning).value
            name = self.scope.entries[part.page].name if isinstance(part, Leaf) else "a term"
            kind = "S45" if gift else "S40"
            return self._say(
                kind,
                f"{name} has the wrong sign",
                "added" if proper > 0 else "taken off",
                right,
                ("S56", "S42"),
            )
        return False

    def _mass_of_another_moment(self, tree: Node) -> bool:
        """The propellant, or the mass of another moment, below the thrust."""
        ideas = suits(self.statement.label)
        if not (ideas & {"twr"} or self.claim.dimension == ACCELERATION) or ideas & {"mean", "engine"}:
            return False
        early = bool(ideas & {"liftoff", "start"}) or re.search(
            r"\bignition\b|\boff the pad\b", self.context.words
        )
        late = "end" in ideas and not early
        if not (early or late):
            return False
        for path, leaf in walk(tree):
            entry = self._entry(leaf)
            if entry is None or entry.leaf.dimension != MASS or not isinstance(leaf, Leaf):
                continue
            its = entry.tags
            if early and its & {"propellant", "dry", "end"} and not its & {"start", "total"}:
                wanted = "start"
            elif late and its & {"propellant", "start"} and not its & {"end"}:
                wanted = "end"
            else:
                continue
            proper = [
                e for e in self.scope.entries
                if e.leaf.dimension == MASS and wanted in e.tags and not e.tags & {"propellant"} and e.stage in ("", self.statement.stage)  # noqa: E501
            ]  # fmt: skip
            if not proper or abs(proper[-1].stated / leaf.si - 1.0) < 0.004:
                continue
            right = self._with(tree, path, self.scope.leaf(proper[-1]))
            cause = f"{entry.name} ({entry.leaf.text}) is put in as the mass"
            return self._say("S31", cause, f"with {proper[-1].name}", right, ("S05", "S41"))
        return False


def _number(entry: Entry) -> frozenset[str]:
    """ "count" for a bare whole number from 2 to 60 that names engines, boosters, fans."""
    leaf = entry.leaf
    whole = leaf.bare and leaf.typed == int(leaf.typed) and 2 <= leaf.typed <= 60
    return (
        frozenset(["count"]) if whole and entry.tags & {"booster", "fan", "engine", "motor"} else frozenset()
    )


def _plain(leaf: Leaf) -> bool:
    """A number that needs no unit: a small whole factor, a half, π."""
    return (
        leaf.constant == "π"
        or leaf.half == 0.0
        or leaf.typed == 0.5
        or (leaf.typed == int(leaf.typed) and abs(leaf.typed) <= 4)
    )
