"""Propellants: densities, room for gas, heat."""

from __future__ import annotations

import re
from dataclasses import replace

from wetmass.working.linking import linked
from wetmass.working.relations import ideas_of, suits
from wetmass.working.rules.base import Rules
from wetmass.working.slips.terms import terms_of
from wetmass.working.tree import (
    Leaf,
    Node,
    Op,
    Unfit,
    evaluate,
    exactly,
    put,
    walk,
)
from wetmass.working.units import (
    DENSITY,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    POWER,
    VOLUME,
)

_FLUIDS = frozenset(["fuel", "oxidiser"])


class Fluids(Rules):
    """Propellants: densities, room for gas, heat."""

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

    def _straight_densities(self) -> bool:
        """Densities averaged by mass fractions straight, where volumes add."""
        if "density" not in suits(self.statement.label) or "vol" in self.checker.low.replace("volume =", ""):
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
        cause = "the densities are averaged by mass"
        return self.tell("S28", cause, "with the volumes added", right, common=0.6)

    def _ullage_turned(self, tree: Node) -> bool:
        """Room for gas makes the tank larger and the liquid less."""
        said = re.search(
            r"(\d+(?:\.\d+)?)\s*(?:%|percent|per cent)\s*(?:of |for )?(?:the )?(?:ullage|free\b|empty|gas|room|headspace|head space|void|vapou?r)",
            self.context.words,
        )
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
                if room and abs(value.value - (1.0 - share)) < 1e-9:
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

    def _volume_by_mass_ratio(self, tree: Node) -> bool:
        """The volume of both tanks shared out with a mixture ratio by mass."""
        mine = self.ideas & _FLUIDS
        if (
            self.claim.dimension != VOLUME
            or len(mine) != 1
            or re.search(r"by volume|volumetric", self.checker.low)
        ):
            return False
        leaves_ = [leaf for _, leaf in walk(tree) if isinstance(leaf, Leaf)]
        whole = [leaf for leaf in leaves_ if leaf.dimension == VOLUME]
        if len(whole) != 1 or any(leaf.dimension == DENSITY for leaf in leaves_):
            return False
        ratios = {e.stated for e in self.scope.entries if "mixture" in e.tags and 0.5 < e.stated < 25.0}
        share = self.claim.si / whole[0].si
        for q in ratios:
            fuel, oxidiser = 1.0 / (1.0 + q), q / (1.0 + q)
            if abs(share / (fuel if "fuel" in mine else oxidiser) - 1.0) > 0.004:
                continue
            fluids = self.ideas | {idea for e in self.scope.entries for idea in e.tags}
            heavy = 1141.0
            light = 70.8 if "lh2" in fluids else 422.6 if "methane" in fluids else 810.0
            for e in self.scope.entries:
                if e.leaf.dimension == DENSITY and e.stated > 30.0:
                    heavy = e.stated if "oxidiser" in e.tags else heavy
                    light = e.stated if "fuel" in e.tags else light
            ox, fu = q / heavy, 1.0 / light
            right = whole[0].si * (fu if "fuel" in mine else ox) / (ox + fu)
            return self.tell(
                "S27", "the mixture ratio by mass shares out a volume", "with each density", right, ("S29",)
            )
        return False

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

    def _celsius(self) -> bool:
        """Degrees Celsius of the page put in where kelvin belong."""
        named = linked(self.best, self.scope)
        for path, leaf in walk(named):
            if not isinstance(leaf, Leaf) or not leaf.linked or not leaf.shift or "°" in leaf.text:
                continue
            cold = evaluate(put(named, path, replace(leaf, shift=0.0)), self.meaning).value
            right = self.claim.si * evaluate(named, self.meaning).value / cold
            cause = f"{leaf.text} °C is taken as kelvin"
            return self.tell("S15", cause, f"with {leaf.si:g} K", right, ("S06",), common=0.5)
        return False

    def _room_by_what_it_is_of(self, tree: Node) -> bool:
        """Room for gas taken off a liquid's own volume, or put on what a tank holds: by where the volume comes from."""
        words = self.written
        if not isinstance(tree, Op) or tree.kind not in "*/" or self.claim.dimension != VOLUME:
            return False
        if not re.search(r"\bempty\b|\bullage\b|\bgas\b|\broom\b|\bheadspace\b|\bfree\b", words):
            return False
        for one, other in (tree.parts, tree.parts[::-1]):
            entry = self.entry_of(one)
            if (
                entry is None
                or entry.leaf.dimension != VOLUME
                or not isinstance(other, Leaf)
                or not other.bare
            ):
                continue
            made = self.checker.working_of(entry.index)
            if made is None or not isinstance(made, Op) or made.kind != "/":
                continue
            parts = [leaf for _, leaf in walk(linked(made, self.scope)) if isinstance(leaf, Leaf)]
            share = evaluate(tree, self.meaning).value / one.si
            liquid = any(leaf.dimension == DENSITY for leaf in parts) or any(
                leaf.dimension == MASS for leaf in parts
            )
            if liquid and 0.75 < share < 0.999 and not any(leaf.constant == "π" for leaf in parts):
                right = entry.stated / share
                return self.tell(
                    "S37",
                    "the room for gas is taken off the liquid",
                    "with the tank larger than what it holds",
                    right,
                    ("S38", "S56", "S04"),
                )
        return False

    def _oxidiser_over_the_ratio(self, tree: Node) -> bool:
        """An oxidiser as something over the mixture ratio: it is the larger share."""
        if (
            "oxidiser" not in self.ideas
            or "fuel" in self.ideas
            or self.claim.dimension not in (MASS, MASS_FLOW)
        ):
            return False
        if not isinstance(tree, Op) or tree.kind != "/" or not isinstance(tree.parts[1], Leaf):
            return False
        ratio = tree.parts[1]
        entry = self.entry_of(ratio)
        if entry is None or "mixture" not in entry.tags or not 1.05 < ratio.typed < 9.0:
            return False
        right = self.claim.si * ratio.typed**2 / (1.0 + ratio.typed)
        return self.tell("S29", "the whole is divided by the mixture ratio", "with q/(1 + q) of it", right)

    def _share_of_more_than_propellant(self, tree: Node) -> bool:
        """The share of a fuel or oxidiser taken of a mass that is more than the propellant."""
        if not self.ideas & _FLUIDS or self.claim.dimension != MASS or self.ideas & {"volume"}:
            return False
        ratios = [e.stated for e in self.scope.entries if "mixture" in e.tags and 1.05 < e.stated < 9.0]
        loads = {round(e.stated, 6) for e in self.scope.entries if "propellant" in e.tags and e.leaf.dimension == MASS and e.given
                 and not e.tags & {"fuel", "oxidiser", "residual", "usable", "used"}}  # fmt: skip
        if len(loads) != 1:
            return False
        load = loads.pop()
        masses = [
            leaf
            for _, leaf in walk(tree)
            if isinstance(leaf, Leaf) and leaf.page >= 0 and leaf.dimension == MASS
        ]
        if len(masses) != 1 or not 1.02 < masses[0].si / load < 2.5:
            return False
        own = self.entry_of(masses[0])
        if own is None or own.tags & {"propellant", "fuel", "oxidiser"}:
            return False
        share = evaluate(tree, self.meaning).value / masses[0].si
        written = [leaf.typed for _, leaf in walk(tree) if isinstance(leaf, Leaf) and leaf.dimension == NONE]
        ratios += [typed - 1.0 for typed in written if 2.05 < typed < 10.0]
        if not any(abs(share - part) < 2e-3 for q in ratios for part in (q / (1.0 + q), 1.0 / (1.0 + q))):
            return False
        right = self.claim.si * load / masses[0].si
        return self.tell(
            "S29",
            f"the share is taken of {masses[0].text}, which is more than the propellant",
            "of the propellant alone",
            right,
            ("S05", "S38", "S31"),
        )


def _is_factor(tree: Node, path: tuple[int, ...]) -> bool:
    """Whether a part multiplies the whole, above every line."""
    node = tree
    for index in path:
        if not isinstance(node, Op) or node.kind not in "*/" or (node.kind == "/" and index == 1):
            return False
        node = node.parts[index]
    return bool(path)
