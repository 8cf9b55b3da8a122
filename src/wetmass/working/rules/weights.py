"""The weight and the mass beside a thrust."""

from __future__ import annotations

import re
from dataclasses import replace

from wetmass.working.linking import linked
from wetmass.working.relations import suits
from wetmass.working.rules.base import STANDARD, Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    Unfit,
    evaluate,
    leaves,
    walk,
)
from wetmass.working.units import (
    ACCELERATION,
    FORCE,
    LENGTH,
    MASS,
    NONE,
    PRESSURE,
    SPEED,
    TIME,
)

_FELT = re.compile(
    r"\b(?:felt|axial|load|loads|gross|g-load|sensed|in g|in vacuum|without gravity|no gravity|thrust alone)\b|\bg\b$"  # noqa: E501
)


_MOVED = frozenset(["stopping", "landing", "height", "distance", "time", "burn", "speed", "braking", "end"])


class Weights(Rules):
    """The weight and the mass beside a thrust."""

    def _origin(self, leaf: Leaf) -> Node | None:
        return self.checker.working_of(leaf.page)

    def _weight_left_out(self, tree: Node) -> bool:
        """An acceleration that is thrust over mass alone, where the way up or down is worked out."""
        ideas = suits(self.statement.label)
        upright = ideas & {"height", "stopping", "landing", "braking"} or re.search(
            r"\bignition\b|\blanding\b|\bbraking\b|\bstraight up\b|\bvertical|\bstops? from\b|\bto land\b",
            f"{self.context.words} {self.written}",
        )
        if not upright or _FELT.search(self.context.words) or "dv" in ideas or ideas & {"mass", "thrust"}:
            return False
        for path, leaf in walk(tree):
            if isinstance(leaf, Op) and leaf.kind == "/" and self._thrust_over_mass(leaf) and path:
                if self._lessened(tree, path) or self.claim.dimension == ACCELERATION:
                    continue
                gross = evaluate(leaf, self.meaning).value
                new: Node = Leaf(gross - STANDARD, dimension=ACCELERATION, bare=False)
            elif isinstance(leaf, Leaf) and leaf.page < 0 and self._of_the_page(leaf):
                if self._lessened(tree, path):
                    continue
                gross = leaf.typed
                new = replace(leaf, typed=gross - STANDARD)
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
                new = replace(leaf, typed=(leaf.si - STANDARD) / (leaf.factor or 1.0))
                gross = leaf.si
            else:
                continue
            if gross < 1.02 * STANDARD:
                continue
            right = self.changed(tree, path, new)
            return self.tell(
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

    def _of_the_page(self, leaf: Leaf) -> bool:
        """Whether a bare number is a thrust of the page over a mass of the page."""
        if not leaf.bare or leaf.constant or leaf.half <= 0.0 or leaf.half >= 0.1 or leaf.typed < 10.0:
            return False
        forces = [
            e.stated for e in self.scope.entries if e.leaf.dimension == FORCE and "weight" not in e.tags
        ]
        masses = [e.stated for e in self.scope.entries if e.leaf.dimension == MASS]
        return any(abs(f / m - leaf.typed) <= leaf.half * 1.01 for f in forces for m in masses if m)

    def _lift_off_acceleration(self, tree: Node) -> bool:
        ideas = suits(self.statement.label)
        words = self.context.words
        first = "liftoff" in ideas or re.search(
            r"\b(?:first|initial|start|starting|lift-?off|launch|upwards?|off the pad)\b", words
        )
        if self.claim.dimension != ACCELERATION or not first or ideas & {"gravity", "net", "mean", "end"}:
            return False
        if _FELT.search(self.context.words) or re.search(r"\bg\b|gee", self.claim.unit) or terms_of(tree)[1:]:
            return False
        if any("net" in e.tags for e in self.scope.entries) or re.search(
            rf"{re.escape(self.claim.text.split()[0])}\s*(?:m/s²|m/s\^2)?\s*[−-]\s*9\.8", self.checker.text
        ):
            return False  # the weight is taken off in a line of its own
        gross = self.claim.si
        forces = any(leaf.dimension == FORCE for leaf in leaves(tree)) or any(
            (e := self.entry_of(leaf)) is not None and e.leaf.dimension == MASS and "start" in e.tags
            for leaf in leaves(tree)
        )
        if not (forces or "lbf" in self.checker.text) or not STANDARD * 1.02 < gross < 3.0 * STANDARD:
            return False
        return self.tell(
            "S24",
            "the weight is left out of the acceleration",
            "with g taken off",
            gross - STANDARD,
            ("S51",),
        )

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
                    right = self.changed(named, path, self.scope.leaf(net))
                    cause = "the weight is left out of the acceleration"
                    return self.tell("S24", cause, f"with {net.name}", right, ("S51",), common=0.5)
        return False

    def _gross_although_net(self, tree: Node) -> bool:
        """A number that is g above an acceleration of the page, where the way or the time of a push is worked out."""
        ideas = self.ideas
        if (
            self.claim.dimension not in (TIME, LENGTH, SPEED)
            or not ideas & _MOVED
            or _FELT.search(self.context.words)
        ):
            return False
        nets = [
            e
            for e in self.scope.entries
            if e.leaf.dimension == ACCELERATION and "gravity" not in e.tags and not e.leaf.constant
        ]
        for path, leaf in walk(tree):
            if (
                not isinstance(leaf, Leaf)
                or leaf.page >= 0
                or leaf.constant
                or not leaf.bare
                or leaf.typed < 10.0
            ):
                continue
            for net in nets:
                if abs(leaf.typed - net.stated - STANDARD) < 1.2 * leaf.half + 0.02:
                    right = self.changed(tree, path, replace(leaf, typed=net.stated))
                    return self.tell(
                        "S51", "the weight is left out of the acceleration", f"with {net.name} ({net.leaf.text})", right,
                        ("S24",),
                    )  # fmt: skip
        return False

    def _felt_less_weight(self, tree: Node) -> bool:
        """What is felt on board is the thrust over the mass: the weight is not taken off."""
        words = self.context.words
        if not re.search(r"\b(?:felt|feels?|sensed|on board|crew|accelerometer|passengers?)\b", words):
            return False
        flat = terms_of(tree)
        if len(flat) != 2 or flat[1][0] > 0 or not (self.claim.dimension == ACCELERATION or self.claim.bare):
            return False
        (_, push), (_, weight) = flat
        try:
            whole, less = evaluate(push, self.meaning).value, evaluate(weight, self.meaning).value
        except Unfit:
            return False
        plain = isinstance(weight, Leaf) and (
            weight.constant.startswith("g") or (weight.bare and weight.typed in (1.0, 9.81))
        )
        if not plain or whole <= less or not less:
            return False
        right = self.claim.si * whole / (whole - less)
        return self.tell(
            "S24", "the weight is taken off what is felt", "without taking it off", right, ("S51",)
        )

    def _load_factor_left_out(self, tree: Node) -> bool:
        """A weight or the pressure of a liquid worked out at one g, in a line that speaks of several."""
        said = re.search(
            r"\b(?:at|under|with|for)\s+(\d+(?:\.\d+)?)\s*(?:g|gee|gees|g's)(?![\w/])", self.context.words
        )
        if not said or self.claim.dimension not in (PRESSURE, FORCE):
            return False
        load = float(said.group(1))
        here = leaves(tree)
        gravity = [leaf for leaf in here if leaf.constant.startswith("g")]
        if load <= 1.0 or len(gravity) != 1 or any(abs(leaf.typed - load) < 1e-9 for leaf in here):
            return False
        if terms_of(tree)[1:] or any(leaf.bare and abs(leaf.typed - load - 1.0) < 1e-9 for leaf in here):
            return False
        return self.tell(
            "S24",
            f"the load of {said.group(1)} g is left out",
            "with it",
            self.claim.si * load,
            ("S31", "S37"),
        )

    def _ratio_times_g(self, tree: Node) -> bool:
        """Thrust over weight times g where the way up is meant: the weight's own one is not taken off."""
        words = self.statement.title.lower() or self.statement.label.lower()
        if self.claim.dimension != ACCELERATION or not isinstance(tree, Op) or tree.kind != "*":
            return False
        if not re.search(
            r"\bupward|\bnet\b|off the pad|lift-?off|\bclimb|\bvertical|\bupwards\b", words
        ) or _FELT.search(words):
            return False
        one, other = tree.parts
        for gravity, ratio in ((one, other), (other, one)):
            if (
                not isinstance(gravity, Leaf)
                or not isinstance(ratio, Leaf)
                or not gravity.constant.startswith("g")
            ):
                continue
            if ratio.dimension == NONE and 1.02 < ratio.typed < 5.0 and not ratio.constant:
                right = self.claim.si * (ratio.typed - 1.0) / ratio.typed
                return self.tell(
                    "S24", "the weight is not taken off", "with the 1 taken off the ratio", right, ("S51",)
                )
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
                self.claim.si / STANDARD**2,
                ("S02", "S56"),
            )
        return False
