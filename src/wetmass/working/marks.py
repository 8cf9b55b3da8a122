"""Slips of sense told by single words: fluids, ullage, safety factors, both ends, one for all."""

from __future__ import annotations

import re
from collections.abc import Callable

from wetmass.working.relations import ideas_of
from wetmass.working.scope import Entry
from wetmass.working.slips.edits import Edit
from wetmass.working.slips.finder import Found
from wetmass.working.slips.kinds import KINDS
from wetmass.working.slips.terms import terms_of
from wetmass.working.state import LineState
from wetmass.working.statement import linked
from wetmass.working.tree import Leaf, Node, Op, Unfit, evaluate, exactly, put, walk
from wetmass.working.units import (
    ACCELERATION,
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    POWER,
    PRESSURE,
    SPEED,
    VOLUME,
)

_FLUIDS = frozenset(["fuel", "oxidiser"])


class Marks(LineState):
    """A single word of the line or the page says that a number is not the right one."""

    def by_marks(self) -> bool:
        """Whether one of the rules is broken; sets the slips then."""
        if self.best is None:
            return False
        rules: tuple[Callable[[Node], bool], ...] = (
            self._of_the_other_fluid, self._other_world, self._hoop_for_length, self._across_for_radius, self._ullage_turned,  # noqa: E501
            self._speeds_halved, self._hours, self._load_times_g, self._logarithm_below_one, self._clock, self._safety_turned, self._one_end,  # noqa: E501
        )  # fmt: skip
        named = linked(self.best, self.scope)
        for rule in rules:
            try:
                if rule(named):
                    return True
            except (Unfit, ArithmeticError):
                continue
        return False

    def tell(self, kind: str, cause: str, cure: str, right: float, also: tuple[str, ...] = ()) -> bool:
        """Set the slip."""
        edit = Edit(kind, self.best or exactly(0.0), cause, cure, also=also)
        self.conclude([Found(edit, self.claim.si, right, KINDS[kind].common)], right)
        return True

    def changed(self, tree: Node, path: tuple[int, ...], new: Node) -> float:
        """What the line states with a part of it replaced."""
        before = evaluate(tree, self.meaning).value
        return self.claim.si * evaluate(put(tree, path, new), self.meaning).value / before

    def _of_the_other_fluid(self, tree: Node) -> bool:
        """The density or the mass of the oxidiser in a line of the fuel, or the reverse."""
        mine = self.ideas & _FLUIDS
        if len(mine) != 1 or self.ideas & {"ratio", "mixture", "total", "bulk", "mean"}:
            return False
        if self.claim.dimension not in (VOLUME, MASS, LENGTH):
            return False
        (fluid,) = mine
        (other,) = _FLUIDS - mine
        for path, leaf in walk(tree):
            if not isinstance(leaf, Leaf) or leaf.page < 0 or leaf.dimension not in (DENSITY, MASS):
                continue
            its = ideas_of(leaf)
            if other not in its or fluid in its:
                continue
            if leaf.dimension == MASS and self.claim.dimension == MASS:
                continue  # a fuel from its oxidiser, or what is left of the whole
            own = [
                e for e in self.scope.entries
                if fluid in e.tags and other not in e.tags and e.leaf.dimension == leaf.dimension and e.tags & its - _FLUIDS - {"lox"}  # noqa: E501
            ]  # fmt: skip
            if not own or abs(own[-1].stated / leaf.si - 1.0) < 0.004:
                continue
            right = self.changed(tree, path, self.scope.leaf(own[-1]))
            cause = f"{leaf.name} ({leaf.text}) is put in"
            return self.tell("S27", cause, f"with {own[-1].name}", right, ("S28", "S29", "S55"))
        return False

    def _other_world(self, tree: Node) -> bool:
        """A weight with the gravity of Earth on a page of another world."""
        ratio = self.claim.bare and "twr" in self.ideas
        if (self.claim.dimension != FORCE and not ratio) or re.search(
            r"\bearth\b|\bg0\b|g₀", self.context.words
        ):
            return False
        worlds = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == ACCELERATION and "gravity" in e.tags and not 9.7 < e.stated < 9.9
        ]
        if len(worlds) != 1 or "earth" in self.checker.text.lower():
            return False
        parts = [leaf for _, leaf in walk(tree) if isinstance(leaf, Leaf)]
        if not any(leaf.dimension == MASS for leaf in parts) or any(
            "isp" in ideas_of(leaf) for leaf in parts
        ):
            return False
        for path, leaf in walk(tree):
            if isinstance(leaf, Leaf) and leaf.constant == "g₀":
                right = self.changed(tree, path, self.scope.leaf(worlds[0]))
                return self.tell("S24", "gravity of Earth is used", f"with {worlds[0].name}", right)
        return False

    def _hoop_for_length(self, tree: Node) -> bool:
        """The stress along a cylinder is half of that around it."""
        if self.claim.dimension != PRESSURE or "longitudinal" not in self.ideas or not self.claim.si:
            return False
        hoops = [e for e in self.scope.entries if "hoop" in e.tags and e.leaf.dimension == PRESSURE]
        if not hoops or abs(hoops[-1].stated / self.claim.si - 1.0) > 0.004:
            return False
        return self.tell(
            "S17", "the hoop stress is worked out again", "half of it", self.claim.si / 2.0, ("S01",)
        )

    def _across_for_radius(self, tree: Node) -> bool:
        """A whole diameter added where a radius is meant."""
        if (
            self.claim.dimension != LENGTH
            or not self.ideas & {"radius"}
            or self.ideas & {"diameter", "orbit"}
        ):
            return False
        for sign, part in terms_of(tree):
            if isinstance(part, Leaf) and sign > 0 and "diameter" in ideas_of(part) and part.page >= 0:
                if len(terms_of(tree)) < 2:
                    return False
                right = self.claim.si - part.si / 2.0
                return self.tell("S17", f"{part.name} is added whole", "with half of it", right, ("S31",))
        return False

    def _speeds_halved(self, tree: Node) -> bool:
        """Speeds gained one after another add up; they are not averaged."""
        if (
            "dv" not in self.ideas
            or "total" not in self.ideas
            or not isinstance(tree, Op)
            or tree.kind != "/"
        ):
            return False
        above, below = tree.parts
        flat = terms_of(above)
        if len(flat) < 2 or not isinstance(below, Leaf) or below.typed != len(flat):
            return False
        if not all(isinstance(part, Leaf) and "dv" in ideas_of(part) for _, part in flat):
            return False
        return self.tell(
            "S01", "the mean of the stages is taken", "with their sum", self.claim.si * below.typed, ("S25",)
        )

    def _hours(self, tree: Node) -> bool:
        """Watts times hours."""
        if self.claim.dimension != MASS:
            return False
        parts = [leaf for _, leaf in walk(tree) if isinstance(leaf, Leaf)]
        hours = [leaf for leaf in parts if leaf.bare and leaf.typed in (24.0, 48.0, 72.0)]
        if not hours or not any(leaf.dimension == POWER for leaf in parts):
            return False
        if any(leaf.typed in (3600.0, 3.6, 60.0) for leaf in parts):
            return False
        return self.tell(
            "S54", "hours are taken as seconds", "with 3600 s to the hour", self.claim.si * 3600.0, ("S16",)
        )

    def _logarithm_below_one(self, tree: Node) -> bool:
        """A speed gained that comes out negative: the masses are upside down."""
        if self.claim.dimension != SPEED or self.claim.si >= 0.0 or terms_of(tree)[1:]:
            return False
        for _path, node in walk(tree):
            if not isinstance(node, Op) or node.kind not in ("ln", "log"):
                continue
            first = next((leaf for _, leaf in walk(node) if isinstance(leaf, Leaf)), None)
            if first is not None and "start" in ideas_of(first):
                continue  # the start mass does stand above
            if 0.0 < evaluate(node.parts[0]).value < 1.0:
                cause = "the masses are upside down in the logarithm"
                return self.tell("S04", cause, "with the start mass above", -self.claim.si, ("S05",))
        return False

    def _clock(self, tree: Node) -> bool:
        """Minutes in an hour where seconds are meant."""
        said = re.search(
            r"\b(?:in an?|per|each|every|one)\s+(hour|day|minute)\b|\b(hourly|daily)\b", self.context.words
        )
        if not said or not isinstance(tree, Op) or tree.kind != "*" or self.claim.dimension != MASS:
            return False
        span = {"hour": 3600.0, "hourly": 3600.0, "day": 86400.0, "daily": 86400.0, "minute": 60.0}[
            said.group(1) or said.group(2)
        ]
        rate, factor = tree.parts
        if (
            not isinstance(rate, Leaf)
            or not isinstance(factor, Leaf)
            or rate.dimension != MASS_FLOW
            or not factor.bare
        ):
            return False
        per_second = rate.unit.endswith("/s") or rate.unit.endswith("/sec")
        if per_second and factor.typed in (24.0, 60.0, 1440.0, 3600.0) and factor.typed != span:
            cause = f"{factor.typed:g} stands for the {span:g} seconds"
            return self.tell("S42", cause, "with them", self.claim.si * span / factor.typed, ("S54", "S16"))
        return False

    def _load_times_g(self, tree: Node) -> bool:
        """An acceleration in g is divided by g."""
        said = re.search(r"\bin g(?:'s|s|ees?)?\b|\bg[- ]load\b|\bgees?\b", self.context.words)
        if not said or not isinstance(tree, Op) or tree.kind != "*":
            return False
        one, other = tree.parts
        if (
            isinstance(one, Leaf)
            and isinstance(other, Leaf)
            and other.constant == "g₀"
            and one.dimension == ACCELERATION
        ):
            return self.tell(
                "S04",
                "g multiplies where it should divide",
                "divided by g",
                self.claim.si / 9.80665**2,
                ("S02", "S56"),
            )
        return False

    def _ullage_turned(self, tree: Node) -> bool:
        """Room for gas makes the tank larger and the liquid less."""
        said = re.search(r"(\d+(?:\.\d+)?)\s*(?:%|percent|per cent)\s*(?:of )?ullage", self.context.words)
        shares = [float(said.group(1)) / 100.0] if said else []
        if not shares:
            shares = [
                e.stated
                for e in self.scope.entries
                if "ullage" in e.tags and 0.0 < e.stated < 0.4 and e.leaf.unit == "%"
            ]
        room = self.claim.dimension in (VOLUME, LENGTH) and "liquid" not in self.ideas
        load = self.claim.dimension == MASS
        if not shares or not (room or load):
            return False
        if room and (not said and not self.ideas & {"tank", "ullage", "length", "cylinder"}):
            return False
        for path, node in walk(tree):
            if not _is_factor(tree, path):
                continue
            try:
                value = evaluate(node, self.meaning)
            except Unfit:
                continue
            if value.dimension != NONE:
                continue
            for share in shares:
                if room and abs(value.value - (1.0 - share)) < 1e-9 and not isinstance(node, Unfit):
                    right = self.changed(tree, path, exactly(1.0 / (1.0 - share)))
                    return self.tell(
                        "S37", "the room for gas is taken off", "with the room added", right, ("S35", "S56")
                    )
                if load and abs(value.value - (1.0 + share)) < 1e-9:
                    right = self.changed(tree, path, exactly(1.0 - share))
                    return self.tell(
                        "S37",
                        "the room for gas is filled too",
                        "with the room taken off",
                        right,
                        ("S35", "S56"),
                    )
        return False

    def _safety_turned(self, tree: Node) -> bool:
        """A burst, proof or design pressure is above the working pressure; an allowed stress below the strength."""  # noqa: E501
        if self.claim.dimension != PRESSURE or not isinstance(tree, Op) or tree.kind not in "*/":
            return False
        words = self.context.words
        above = re.search(r"\b(?:burst|proof|design|test)\b", words) and "stress" not in self.ideas
        below = re.search(r"\b(?:allowable|allowed|permitted|working)\b", words) and "stress" in self.ideas
        base, factor = tree.parts
        if not isinstance(base, Leaf) or not isinstance(factor, Leaf) or base.dimension != PRESSURE:
            return False
        if factor.dimension != NONE or not 1.0 < factor.typed < 5.0:
            return False
        if above and tree.kind == "/":
            right = self.claim.si * factor.typed**2
        elif below and tree.kind == "*":
            right = self.claim.si / factor.typed**2
        else:
            return False
        return self.tell(
            "S04", "the factor of safety works the wrong way", "the right way round", right, ("S56",)
        )

    def _one_end(self, tree: Node) -> bool:
        """The length over all of a tank holds both of its ends."""
        over_all = "total" in self.ideas or re.search(r"\boverall\b|\bover all\b", self.context.words)
        if self.claim.dimension != LENGTH or not over_all or "each" in self.ideas:
            return False
        flat = terms_of(tree)
        if len(flat) != 2 or any(sign < 0 for sign, _ in flat):
            return False
        radii = [e.stated for e in self.scope.entries if e.leaf.dimension == LENGTH and "radius" in e.tags]
        radii += [
            e.stated / 2 for e in self.scope.entries if e.leaf.dimension == LENGTH and "diameter" in e.tags
        ]
        for _, part in flat:
            if isinstance(part, Leaf) and any(abs(part.si / r - 1.0) < 1e-6 for r in radii if r):
                ends = re.search(r"\bone (?:dome|end)\b|\bflat\b", self.context.words)
                if not ends:
                    right = self.claim.si + part.si
                    return self.tell("S18", "only one end is added", "with both ends", right, ("S31", "S17"))
        return False

    def one_for_all(self) -> bool:
        """The figure of one engine stated again as that of all of them."""
        ideas = self.ideas
        if "total" not in ideas or self.claim.dimension not in (FORCE, MASS_FLOW) or not self.claim.si:
            return False
        counts = self.checker.engine_counts()
        if len({n for n, _ in counts}) != 1:
            return False
        for entry in self.scope.entries:
            if self._same_kind(entry) and abs(entry.stated / self.claim.si - 1.0) < 1e-6:
                n = counts[0][0]
                return self.tell(
                    "S30", f"only one of the {n:g} is counted", "with all of them", self.claim.si * n
                )
        return False

    def _same_kind(self, entry: Entry) -> bool:
        return (
            entry.leaf.dimension == self.claim.dimension
            and "total" not in entry.tags
            and not entry.tags & {"start", "core", "booster"}
            and bool(entry.tags & self.ideas & {"thrust", "flow"})
        )


def _is_factor(tree: Node, path: tuple[int, ...]) -> bool:
    """Whether a part multiplies the whole, above every line."""
    node = tree
    for index in path:
        if not isinstance(node, Op) or node.kind not in "*/" or (node.kind == "/" and index == 1):
            return False
        node = node.parts[index]
    return bool(path)
