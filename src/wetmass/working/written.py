"""Slips that stand in the writing itself, told by the names beside the numbers."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

from wetmass.record.working import Verdict
from wetmass.working.names import tags
from wetmass.working.relations import suits
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.finder import Found, slips
from wetmass.working.slips.kinds import KINDS
from wetmass.working.state import LineState
from wetmass.working.statement import linked
from wetmass.working.tree import (
    Leaf,
    Meaning,
    Node,
    Op,
    Unfit,
    evaluate,
    exactly,
    has_angle,
    leaves,
    put,
    walk,
)
from wetmass.working.units import (
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    NONE,
    PRESSURE,
    SPEED,
    TIME,
)


class Written(LineState):
    """Slips that stand in the writing itself, told by the names beside the numbers."""

    def typed_slips(self) -> bool:
        """Slips that stand in the writing itself, whatever the relation."""
        for part in self.statement.expressions:
            for tree in part.trees[:1]:
                if self._degrees_as_radians(tree):
                    return True
        return self.best is not None and any(self._holds(rule) for rule in self._rules())

    def _rules(self) -> tuple[Callable[[], bool], ...]:
        """The rules, the more certain first."""
        return (
            self._common_logarithm,
            self._other_place,
            self._sea_level_air,
            self._straight_densities,
            self._same_as_elsewhere,
            self._percent_as_number,
            self._celsius,
            self._unit_of_page,
            self._allowance_digits,
            self._other_stage,
            self._gross_acceleration,
            self._one_of_many,
            self._turned_gain,
            self._added_impulses,
            self._miscopied_value,
        )

    @staticmethod
    def _holds(rule: Callable[[], bool]) -> bool:
        """A rule that cannot be worked out on this line does not hold."""
        try:
            return rule()
        except (Unfit, ArithmeticError):
            return False

    def _sea_level_air(self) -> bool:
        """The density of air at sea level where the page gives that of the height."""
        if not {"dynamic", "pressure"} <= suits(self.statement.label) or "sea" in self.context.words:
            return False
        local = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == DENSITY and 0.0 < e.stated < 1.19 and "sl" not in e.tags
        ]
        if len(local) != 1:
            return False
        for path, leaf in walk(self.best):
            if (
                isinstance(leaf, Leaf)
                and (leaf.page < 0 or "sl" in self.scope.entries[leaf.page].tags)
                and (abs(leaf.typed - 1.225) < 0.026)
            ):
                before, after = evaluate(self.best, self.meaning), None
                new = replace(leaf, typed=local[0].stated / (leaf.factor or 1.0))
                after = evaluate(put(self.best, path, new), self.meaning)
                right = self.claim.si * after.value / before.value
                edit = Edit(
                    "S53", self.best, "the density at sea level is used", f"with {local[0].leaf.text}"
                )
                self.conclude([Found(edit, self.claim.si, right, 0.55)], right)
                return True
        return False

    def _straight_densities(self) -> bool:
        """Densities averaged by mass fractions straight, where volumes add."""
        from wetmass.working.slips.terms import terms_of

        if "density" not in suits(self.statement.label) or "vol" in self.checker.text.lower().replace(
            "volume =", ""
        ):
            return False
        shares: list[tuple[float, float]] = []
        for sign, term in terms_of(self.best):
            if (
                sign < 0
                or not isinstance(term, Op)
                or term.kind != "*"
                or not all(isinstance(p, Leaf) for p in term.parts)
            ):
                return False
            small, large = sorted(p.si for p in term.parts if isinstance(p, Leaf))
            shares.append((small, large))
        if len(shares) < 2 or abs(sum(share for share, _ in shares) - 1.0) > 0.006:
            return False
        straight = sum(share * density for share, density in shares)
        right = self.claim.si / straight / sum(share / density for share, density in shares)
        if abs(right / self.claim.si - 1.0) < 0.01:
            return False
        edit = Edit("S28", self.best, "the densities are averaged by mass", "with the volumes added")
        self.conclude([Found(edit, self.claim.si, right, 0.6)], right)
        return True

    def _same_as_elsewhere(self) -> bool:
        """A figure for vacuum with the digits of the one for sea level, though the page has both."""
        ideas = tags(self.statement.label)
        for wanted, other in (("sl", "vac"), ("vac", "sl")):
            if wanted not in ideas or other in ideas:
                continue
            rest = ideas - {wanted}
            proper = [
                e
                for e in self.scope.entries
                if wanted in e.tags
                and e.leaf.dimension == self.claim.dimension
                and (e.tags & rest) & {"thrust", "isp", "exhaust"}
            ]
            wrong = [
                e
                for e in self.scope.entries
                if other in e.tags
                and e.leaf.dimension == self.claim.dimension
                and self.claim.si
                and abs(e.stated / self.claim.si - 1.0) < 1e-6
            ]
            if len(proper) == 1 and wrong and abs(proper[0].stated / self.claim.si - 1.0) > 0.01:
                where = {"sl": "at sea level", "vac": "in vacuum"}
                edit = Edit(
                    "S23",
                    self.best,
                    f"the figure {where[other]} stands for the one {where[wanted]}",
                    f"with {proper[0].name}",
                )
                self.conclude([Found(edit, self.claim.si, proper[0].stated, 0.7)], proper[0].stated)
                return True
        return False

    def _percent_as_number(self) -> bool:
        """5 stands in the line where the page says 5 %."""
        ideas = suits(self.statement.label) - {"mass"}
        for _path, leaf in walk(self.best):
            if (
                not isinstance(leaf, Leaf)
                or not leaf.bare
                or leaf.page >= 0
                or leaf.constant
                or leaf.half == 0
            ):
                continue
            for entry in self.scope.entries:
                if (
                    entry.leaf.unit == "%"
                    and entry.leaf.typed == leaf.typed
                    and (entry.tags & ideas or (leaf.typed >= 10.0 and entry.given))
                ):
                    right = self.claim.si / 100.0
                    edit = Edit(
                        "S35",
                        self.best,
                        f"{entry.leaf.text} is taken as the number {leaf.typed:g}",
                        "as a fraction",
                    )
                    self.conclude([Found(edit, self.claim.si, right, 0.6)], right)
                    return True
        return False

    def _common_logarithm(self) -> bool:
        """log₁₀ written, or meant by log, where a rocket equation asks for ln."""
        ideas = suits(self.statement.label)
        if "dv" not in ideas or "ratio" in ideas:
            return False
        for path, node in walk(self.best):
            if isinstance(node, Op) and (
                node.kind == "log10" or (node.kind == "log" and self.meaning.log_is_ten)
            ):
                try:
                    natural = evaluate(
                        put(self.best, path, Op("ln", node.parts)), replace(self.meaning, log_is_ten=False)
                    )
                    stated = evaluate(self.best, self.meaning)
                except Unfit:
                    return False
                if not stated.value:
                    return False
                right = self.claim.si * natural.value / stated.value
                edit = Edit("S03", self.best, "log₁₀ is used for ln", "with ln")
                self.conclude([Found(edit, self.claim.si, right, 0.9)], right)
                return True
        return False

    def _celsius(self) -> bool:
        """Degrees Celsius of the page put in where kelvin belong."""
        for path, leaf in walk(linked(self.best, self.scope)):
            if not isinstance(leaf, Leaf) or not leaf.linked or not leaf.shift or "°" in leaf.text:
                continue
            named = linked(self.best, self.scope)
            cold = evaluate(put(named, path, replace(leaf, shift=0.0)), self.meaning).value
            right = self.claim.si * evaluate(named, self.meaning).value / cold
            kelvin = f"{leaf.si:g} K"
            edit = Edit(
                "S15", self.best, f"{leaf.text} °C is taken as kelvin", f"with {kelvin}", also=("S06",)
            )
            self.conclude([Found(edit, self.claim.si, right, 0.5)], right)
            return True
        return False

    def _allowance_digits(self) -> bool:
        """1.2 put in for 2 %: the name of the line says the percentage."""
        said = re.search(r"(\d+(?:\.\d+)?)\s*(?:%|percent|per cent)", self.context.words)
        if not said:
            return False
        share = float(said.group(1)) / 100.0
        for path, leaf in walk(self.best):
            if (
                isinstance(leaf, Leaf)
                and leaf.bare
                and leaf.page < 0
                and 1.0 < leaf.typed < 2.0
                and (abs(leaf.typed - 1.0 - 10.0 * share) < 1e-9)
            ):
                before = evaluate(self.best, self.meaning).value
                after = evaluate(put(self.best, path, replace(leaf, typed=1.0 + share)), self.meaning).value
                right = self.claim.si * after / before
                edit = Edit(
                    "S35",
                    self.best,
                    f"{leaf.text} is put in for {said.group(0)} more",
                    f"with {1 + share:g}",
                    also=("S08", "S37"),
                )
                self.conclude([Found(edit, self.claim.si, right, 0.6)], right)
                return True
        return False

    def _other_stage(self) -> bool:
        """A figure of another stage, though this one has its own."""
        stage = self.statement.stage
        if not stage or suits(self.statement.label) & {"total", "ratio"}:
            return False
        named = linked(self.best, self.scope)
        for path, leaf in walk(named):
            if not isinstance(leaf, Leaf) or leaf.page < 0:
                continue
            entry = self.scope.entries[leaf.page]
            if (
                not entry.stage
                or entry.stage == stage
                or not entry.tags & {"isp", "exhaust", "thrust", "flow"}
            ):
                continue
            bare = {idea for idea in entry.tags if not idea.startswith("stage ")}
            own = next(
                (
                    e
                    for e in self.scope.entries
                    if e.stage == stage
                    and e.leaf.dimension == entry.leaf.dimension
                    and {i for i in e.tags if not i.startswith("stage ")} == bare
                ),
                None,
            )
            if own is None or abs(own.stated / entry.stated - 1.0) < 0.004:
                continue
            before = evaluate(named, self.meaning).value
            after = evaluate(put(named, path, self.scope.leaf(own)), self.meaning).value
            right = self.claim.si * after / before
            edit = Edit(
                "S23",
                self.best,
                f"{entry.leaf.text}, the figure of stage {entry.stage}, is put in",
                f"with {own.leaf.text} of this stage",
                also=("S55",),
            )
            self.conclude([Found(edit, self.claim.si, right, 0.5)], right)
            return True
        return False

    def _gross_acceleration(self) -> bool:
        """Thrust over mass in a climb, where the page has the acceleration with the weight taken off."""
        if not suits(self.statement.label) & {"height", "distance", "speed", "end"}:
            return False
        nets = [e for e in self.scope.entries if {"acceleration", "net"} <= e.tags]
        named = linked(self.best, self.scope)
        for path, leaf in walk(named):
            if not isinstance(leaf, Leaf) or leaf.page < 0:
                continue
            entry = self.scope.entries[leaf.page]
            if "acceleration" not in entry.tags or entry.tags & {"net", "gravity", "g0"}:
                continue
            for net in nets:
                if abs(entry.stated - net.stated - 9.81) < 0.06:
                    before = evaluate(named, self.meaning).value
                    after = evaluate(put(named, path, self.scope.leaf(net)), self.meaning).value
                    right = self.claim.si * after / before
                    edit = Edit(
                        "S24",
                        self.best,
                        "the weight is left out of the acceleration",
                        f"with {net.name}",
                        also=("S51",),
                    )
                    self.conclude([Found(edit, self.claim.si, right, 0.5)], right)
                    return True
        return False

    def _one_of_many(self) -> bool:
        """The thrust or flow of one engine where the name of the line means the vehicle."""
        ideas = suits(self.statement.label)
        if not ideas & {"twr", "liftoff", "total", "burn"} or ideas & {"engine", "each"}:
            return False
        counts = [e for e in self.scope.entries if "count" in e.tags and e.leaf.bare and 2 <= e.stated <= 60]
        named = linked(self.best, self.scope)
        for path, leaf in walk(named):
            if not isinstance(leaf, Leaf) or leaf.page < 0:
                continue
            entry = self.scope.entries[leaf.page]
            if not entry.tags & {"engine", "each"} or entry.tags & {"total", "liftoff", "count"}:
                continue
            if entry.tags & ideas & {"booster", "fan"}:
                continue  # the burn of one booster by the flow of one
            whole = next(
                (
                    e
                    for e in self.scope.entries
                    if "total" in e.tags
                    and e.leaf.dimension == entry.leaf.dimension
                    and e.tags & entry.tags & {"thrust", "flow"}
                    and e.stated > 1.5 * entry.stated
                ),
                None,
            )
            mine = [
                e for e in counts if e.tags & entry.tags & {"booster", "engine", "fans", "motors", "rockets"}
            ]
            mine = mine or (counts if len(counts) == 1 else [])
            count = mine[-1].stated if mine else (whole.stated / entry.stated if whole is not None else 0.0)
            if count < 1.5 or any(
                (other.page >= 0 and "count" in self.scope.entries[other.page].tags)
                or (other.bare and 0.5 * count <= other.typed <= count and other.typed == int(other.typed))
                for other in leaves(named)
            ):
                continue
            before = evaluate(named, self.meaning).value
            after = evaluate(put(named, path, Op("*", (leaf, exactly(count)))), self.meaning).value
            right = self.claim.si * after / before
            what = f"only one of the {count:g} is counted"
            self.conclude(
                [Found(Edit("S30", self.best, what, "with all of them"), self.claim.si, right, 0.7)], right
            )
            return True
        return False

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
            before = evaluate(self.best, self.meaning).value
            after = evaluate(
                put(self.best, path, replace(leaf, typed=leaf.typed * factor)), self.meaning
            ).value
            right = self.claim.si * after / before
            kind = {LENGTH: "S13", MASS: "S11", FORCE: "S09", PRESSURE: "S15"}.get(
                self.claim.dimension, "S07"
            )
            edit = Edit(
                kind,
                self.best,
                f"{same[0].leaf.text} is put in as {leaf.typed:g} {self.claim.unit}",
                "in one unit",
                also=("S12", "S13") if kind == "S11" else (),
            )
            self.conclude([Found(edit, self.claim.si, right, 0.6)], right)
            return True
        return False

    def _turned_gain(self) -> bool:
        """Earth's rotation added to what is needed, or taken off what is reached."""
        from wetmass.working.slips.terms import summed, terms_of

        flat = terms_of(self.best)
        if len(flat) < 2 or self.claim.dimension not in (SPEED, NONE):
            return False
        named = [(sign, tree, tags(tree.name)) for sign, tree in flat if isinstance(tree, Leaf) and tree.name]
        gains = [row for row in named if "rotation" in row[2]]
        orbit = any("orbit" in its and sign > 0 for sign, _, its in named)
        losses = any("loss" in its and sign > 0 for sign, _, its in named)
        if len(gains) != 1 or not (orbit or losses) or gains[0][0] < 0:
            return False
        turned = summed([(-s if t is gains[0][1] else s, t) for s, t in flat])
        right = evaluate(turned, self.meaning).value
        edit = Edit(
            "S45", self.best, "the gain from rotation is added to what is needed", "taken off what is needed"
        )
        self.conclude([Found(edit, self.claim.si, right, 0.65)], right)
        return True

    def _added_impulses(self) -> bool:
        """Specific impulses never add; their straight mean holds only for equal flows."""
        if "isp" not in suits(self.statement.label):
            return False
        from wetmass.working.slips.terms import terms_of

        flat = terms_of(self.best)
        both = len(flat) >= 2 and all(
            sign > 0
            and isinstance(tree, Leaf)
            and (tree.dimension == TIME or tree.bare)
            and 60 < tree.si < 1300
            for sign, tree in flat
        )
        if not both:
            return False
        total = len(flat)
        mean = self.claim.si / total
        edit = Edit("S25", self.best, "specific impulses are added", "at most their mean, weighted by flow,")
        self.conclude([Found(edit, self.claim.si, mean, 0.6)], mean)
        return True

    def _ideal_as_flown(self) -> bool:
        """A speed reached that has the digits of the ideal one, though the page lists losses."""
        ideas = suits(self.statement.label)
        if (
            self.claim.dimension != SPEED
            or not ideas & {"achieved", "insertion", "end", "orbit"}
            or "dv" in ideas
        ):
            return False
        ideal = (
            next(
                (
                    e
                    for e in self.scope.entries
                    if e.tags & {"dv", "ideal"}
                    and not e.tags & {"loss"}
                    and abs(e.stated / self.claim.si - 1.0) < 1e-6
                ),
                None,
            )
            if self.claim.si
            else None
        )
        losses = [e for e in self.scope.entries if "loss" in e.tags and e.leaf.dimension == SPEED]
        if ideal is None or not losses:
            return False
        whole = next((e for e in losses if "total" in e.tags), None)
        lost = whole.stated if whole else sum(e.stated for e in losses)
        right = self.claim.si - lost
        edit = Edit(
            "S40", exactly(self.claim.si), "the ideal speed is taken as flown", "with the losses taken off"
        )
        self.conclude([Found(edit, self.claim.si, right, 0.7)], right)
        return True

    def _other_place(self) -> bool:
        """The name of the line says sea level, Moon or stage 2; a number in it says otherwise."""
        ideas = tags(self.statement.label)
        assert self.best is not None
        if "liftoff" in ideas or re.search(r"\bpad\b|\blift-?off\b", self.context.words):
            ideas = ideas | {"sl"}
        named = linked(self.best, self.scope)
        for path, leaf in list(walk(named)):
            if not isinstance(leaf, Leaf):
                continue
            mine = tags(leaf.name) if leaf.name else frozenset()
            new: Leaf | None = None
            kind = cause = ""
            for wanted, other in (("sl", "vac"), ("vac", "sl")):
                if wanted in ideas and other not in ideas and other in mine and wanted not in mine:
                    sibling = next(
                        (
                            e
                            for e in self.scope.entries
                            if wanted in e.tags
                            and e.leaf.dimension == leaf.dimension
                            and (e.tags - {wanted}) >= (mine - {other, "liftoff", "start"})
                        ),
                        None,
                    )
                    if sibling is not None:
                        where = {"sl": "at sea level", "vac": "in vacuum"}
                        new, kind = self.scope.leaf(sibling), "S23"
                        cause = f"the figure {where[other]} ({leaf.text}) is used for one {where[wanted]}"
            for world, gravity in (("moon", 1.62), ("mars", 3.71)):
                if (world in ideas or f"on the {world}" in self.context.words) and leaf.constant == "g₀":
                    local = next((e for e in self.scope.entries if {world, "gravity"} <= e.tags), None)
                    value = local.stated if local else gravity
                    new, kind = (
                        Leaf(value, dimension=leaf.dimension, bare=False, text=f"{value:g} m/s²"),
                        "S24",
                    )
                    cause = "gravity of Earth is used"
            if new is None or abs(new.si / leaf.si - 1.0) < 1e-3:
                continue
            right = self.claim.si * (
                evaluate(put(named, path, new), self.meaning).value / evaluate(named, self.meaning).value
            )
            edit = Edit(kind, self.best, cause, f"with {new.text}")
            self.conclude([Found(edit, self.claim.si, right, KINDS[kind].common)], right)
            return True
        return False

    def _miscopied_value(self) -> bool:
        """A number of the line is a value of the page with two digits exchanged or one changed."""
        assert self.best is not None
        used = {leaf.page for leaf in leaves(self.best)}
        for path, leaf in list(walk(self.best)):
            if not isinstance(leaf, Leaf) or leaf.page >= 0 or leaf.constant or not leaf.half:
                continue
            if not leaf.unit and not any(page >= 0 for page in used):
                continue
            mine = re.sub(r"[^0-9]", "", leaf.text.split(" ")[0]).strip("0")
            if len(mine) < 3:
                continue
            for entry in self.scope.entries:
                stated = entry.leaf
                if entry.index in used or (
                    leaf.unit and (stated.dimension != leaf.dimension or stated.factor != leaf.factor)
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
                    right = self.claim.si * (
                        evaluate(put(self.best, path, replace(leaf, typed=stated.typed)), self.meaning).value
                        / evaluate(self.best, self.meaning).value
                    )
                    edit = Edit(
                        "S55",
                        self.best,
                        f"{leaf.text} is put in for {entry.name} ({stated.text}), two digits exchanged",
                        f"with {stated.text}",
                    )
                    self.conclude([Found(edit, self.claim.si, right, 0.3)], right)
                    return True
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
                        right = evaluate(tree, Meaning(degrees=True)).value
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
