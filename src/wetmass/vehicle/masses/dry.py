"""Dry masses that follow from the rest, fast enough for a closing loop: by parts, or like a flown stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from wetmass.concept.derived import ByParts, Like
from wetmass.concept.model import Concept
from wetmass.concept.model import Stage as Stated
from wetmass.physics.stages_flown import flown_stage
from wetmass.record.vehicle import MassItem, Origin, Stage, StrapOn
from wetmass.vehicle.geometry import engines as under
from wetmass.vehicle.geometry.layout import FAIRING_LENGTH
from wetmass.vehicle.geometry.scaling import Growth, StageSizes
from wetmass.vehicle.masses.recipe import At, Part, growth_share, parts_for, stands_for

_START = 1.3  # first trial of the dry mass over its fixed part; any start leads to the same end
_STEPS = 2  # of the search below: each adds as many right digits as there are, two give all
_SHORTEST = 0.1  # m: a search may ask for loads that no such tank holds, where lengths come out below zero
_LOADS = (1e3, 4e4, 1e6)  # kg, at which a part is looked at to see whether it is straight in the load
_STRAIGHT = 1e-11
_LOOSE = ("avionics", "wiring", "landing legs", "parachutes", "runway gear")  # depend on the dry mass itself


@dataclass(frozen=True, slots=True)
class _Line:
    """Parts that depend on the load alone, and the length without engines, straight in the load."""

    mass: float  # kg
    mass_per: float  # kg a kg
    length: float  # m
    length_per: float  # m a kg
    skirts: float  # m, the same at any load


class Recipe:
    """One stage made ready: its dry mass by parts at any load, with any engines."""

    def __init__(self, concept: Concept, stated: Stated) -> None:
        core = [s for s in concept.stages if s.strapped_to is None]
        last = stated.strapped_to is not None or stated is core[-1]
        self.stated = stated
        self.growth = Growth(stated)
        self.parts: tuple[Part, ...] = tuple(
            part
            for part in parts_for(stated, above=not last)
            if not any(stands_for(own.name, part.name) for own in stated.parts)
        )
        self.stated_mass = sum(part.mass.value for part in stated.parts)
        self.factors = [1.0 + growth_share(stated, part.growth) for part in self.parts]
        pairs = list(zip(self.parts, self.factors, strict=True))
        self._loose = [(part, factor) for part, factor in pairs if part.name in _LOOSE]
        self._others = [(part, factor) for part, factor in pairs if part.name not in _LOOSE]
        self._by_load = [(part, factor) for part, factor in self._others if part.by_load]
        self._by_engines = [(part, factor) for part, factor in self._others if not part.by_load]
        self._line = self._as_line()
        self._key: object = None

    def engine_length(self, stage: Stage) -> float:
        """Length of its longest engine [m]."""
        exits = max((under.width(group) for group in stage.engines), default=0.0)
        return under.engine_length(self.stated.engine_layout, exits)[0]

    def at(self, stage: Stage, carried: float, above: float, interstage: float, engine_length: float) -> At:
        """What the parts of a stage depend on.

        carried        all that stands on it [kg]
        above          length of all that stands on it [m]
        interstage     length of the engines of the stage on it [m]
        engine_length  of its own engines [m]
        """
        p = stage.propellant
        sizes = self.growth.at(p.load, engine_length)
        kept = p.residuals + p.home
        groups = under.as_stated(self.stated, stage.engines)
        return At(
            p.load, groups, sizes, carried + p.load, max(sizes.length + above, _SHORTEST), kept, interstage
        )

    def dry_mass(self, at: At) -> float:
        """Sum of all parts, growth included [kg]; `at` is left as it is at that dry mass."""
        return self._solved(at, self.stated_mass + self._fixed(at))

    def quick(
        self, stage: Stage, carried: float, above: float, interstage: float
    ) -> tuple[float, float, float]:
        """(dry mass [kg], length with all above [m], length of its engines [m]), arguments as for `at`.

        What is straight in the load is kept as a line, what depends on the engines until they change.
        """
        p = stage.propellant
        key = (interstage, *[(g.count, g.vacuum_thrust, g.exit_area, g.jet) for g in stage.engines])
        if key != self._key:
            self._key, self._engine_length = key, self.engine_length(stage)
            self._engines = self._engine_mass(stage, interstage) if self._line else 0.0
        if self._line is None:
            at = self.at(stage, carried, above, interstage, self._engine_length)
            return self.dry_mass(at), at.length, self._engine_length
        line = self._line
        tall = max(line.length + line.length_per * p.load + self._engine_length + above, _SHORTEST)
        kept = p.residuals + p.home
        at = At(p.load, stage.engines, _UNUSED, carried + p.load, tall, kept, interstage)
        fixed = self.stated_mass + line.mass + line.mass_per * p.load + self._engines
        return self._solved(at, fixed), tall, self._engine_length

    def _fixed(self, at: At) -> float:
        return sum(factor * part.mass(at) for part, factor in self._others)

    def _engine_mass(self, stage: Stage, interstage: float) -> float:
        """All that depends on the engines, shells about them included [kg]."""
        assert self._line is not None
        shells = self._line.skirts + 0.5 * self._engine_length
        sizes = StageSizes((), (), (), 0.0, shells)
        groups = under.as_stated(self.stated, stage.engines)
        at = At(0.0, groups, sizes, 0.0, 0.0, 0.0, interstage)
        return sum(factor * part.mass(at) for part, factor in self._by_engines)

    def _as_line(self) -> _Line | None:
        """What depends on the load alone as straight lines in it, None where it is not straight."""
        if not self.growth.straight:
            return None
        rows = []
        for load, engine_length in ((_LOADS[0], 0.0), (_LOADS[1], 1.0), (_LOADS[2], 0.0)):
            sizes = self.growth.at(load, engine_length)
            at = At(load, (), sizes, load, sizes.length, 0.0, 0.0)
            mass = sum(factor * part.mass(at) for part, factor in self._by_load)
            rows.append((mass, sizes.length - engine_length, sizes.skirts - 0.5 * engine_length))
        line = []
        x, y, z = _LOADS
        for a, b, c in zip(*rows, strict=True):
            per = (c - a) / (z - x)
            if abs(a + per * (y - x) - b) > _STRAIGHT * max(abs(b), 1.0):
                return None
            line.append((a - per * x, per))
        (mass, mass_per), (length, length_per), (skirts, skirts_per) = line
        if abs(skirts_per) * z > _STRAIGHT * max(abs(skirts), 1.0):
            return None
        return _Line(mass, mass_per, length, length_per, rows[0][2])

    def _solved(self, at: At, fixed: float) -> float:
        """The dry mass at which the parts that depend on it add up to it (Steffensen's method)."""
        gross, kept = at.gross, at.landed

        def sum_at(dry: float) -> float:
            at.gross, at.landed, at.dry = gross + dry, kept + dry, dry
            total = fixed
            for part, factor in self._loose:
                total += factor * part.mass(at)
            return total

        dry = _START * fixed
        for _ in range(_STEPS):
            one = sum_at(dry)
            two = sum_at(one)
            bend = two - 2.0 * one + dry
            dry = two - (two - one) ** 2 / bend if bend else two
        return sum_at(dry)


_UNUSED = StageSizes((), (), (), 0.0, 0.0)


class DryMasses:
    """The dry masses of a concept that are not stated.  Made once, then `filled` for every trial."""

    def __init__(self, concept: Concept) -> None:
        self._stated = {stage.name: stage for stage in concept.stages}
        self.needed = any(isinstance(stage.dry_mass, (ByParts, Like)) for stage in concept.stages)
        self._recipes: dict[str, Recipe] = {}
        if any(isinstance(stage.dry_mass, ByParts) for stage in concept.stages):
            self._recipes = {stage.name: Recipe(concept, stage) for stage in concept.stages}
        self._over = _over_the_last(concept)

    def filled(
        self, stages: Sequence[Stage], strap_ons: Sequence[StrapOn], aloft: float
    ) -> tuple[list[Stage], tuple[StrapOn, ...]]:
        """The stages and strap-ons with every dry mass that follows from the rest put in.

        aloft  all that stands on the last stage, and what is let go on the way [kg]
        """
        if not self.needed:
            return list(stages), tuple(strap_ons)
        beside = [replace(s, stage=self._strapped(s.stage)) for s in strap_ons]
        out: list[Stage] = []
        carried, length, interstage = aloft, self._over, 0.0
        for index in range(len(stages) - 1, -1, -1):
            stage = stages[index]
            carried += sum(s.gross_mass for s in beside if s.beside == index)
            stage, length, interstage = self._stage(stage, carried, length, interstage)
            carried += stage.gross_mass
            out.append(stage)
        return out[::-1], tuple(beside)

    def _stage(
        self, stage: Stage, carried: float, above: float, interstage: float
    ) -> tuple[Stage, float, float]:
        stated = self._stated[stage.name].dry_mass
        recipe = self._recipes.get(stage.name)
        length = above
        if recipe is not None:
            dry, length, interstage = recipe.quick(stage, carried, above, interstage)
            if isinstance(stated, ByParts):
                return _with_dry_mass(stage, dry), length, interstage
        if isinstance(stated, Like):
            share = flown_stage(stated.stage).structural_fraction
            stage = _with_dry_mass(stage, stage.propellant.load * share / (1.0 - share))
        return stage, length, interstage

    def _strapped(self, stage: Stage) -> Stage:
        return self._stage(stage, 0.0, 0.0, 0.0)[0]


def _with_dry_mass(stage: Stage, dry: float) -> Stage:
    return replace(stage, dry_mass=dry, items=(MassItem(stage.name, "dry mass", dry, Origin.DERIVED),))


def _over_the_last(concept: Concept) -> float:
    """Length of the fairing [m]."""
    fairing = concept.fairing
    if fairing is None:
        return 0.0
    if fairing.length is not None:
        return fairing.length.value
    last = [s for s in concept.stages if s.strapped_to is None][-1]
    across = fairing.diameter or last.diameter
    return FAIRING_LENGTH * across.value
