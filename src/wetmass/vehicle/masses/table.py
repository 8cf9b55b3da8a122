"""The dry mass of every stage by each way there is, side by side."""

from __future__ import annotations

import math
from dataclasses import replace

from wetmass.concept.derived import ByParts, Like
from wetmass.concept.model import Concept
from wetmass.concept.model import Stage as Stated
from wetmass.concept.pairs import pair_of
from wetmass.concept.quantity import Quantity
from wetmass.physics.masses import NoRelation, estimates
from wetmass.physics.stages_flown import STAGES, dry_mass_by_analogy, flown_stage
from wetmass.record.parts import Analogy, PartMass, StageMasses
from wetmass.record.vehicle import MassItem, Origin, Stage, Vehicle
from wetmass.vehicle.masses.dry import Recipe, _over_the_last
from wetmass.vehicle.masses.recipe import At, Part, growth_words

_NO_STAGE = ("Shuttle External Tank (no engines)",)  # has no engines to compare with


def stage_masses(concept: Concept, vehicle: Vehicle) -> tuple[StageMasses, ...]:
    """The dry mass of every stage: as flown, by parts, and like the stage that flew that is nearest.

    Of a strap-on, one.
    """
    recipes = {stage.name: Recipe(concept, stage) for stage in concept.stages}
    aloft = vehicle.payload + sum(piece.mass for piece in vehicle.let_go)
    aloft += sum(item.mass for item in vehicle.other)
    made: dict[str, StageMasses] = {}
    carried, length, interstage = aloft, _over_the_last(concept), 0.0
    for index in range(len(vehicle.stages) - 1, -1, -1):
        stage = vehicle.stages[index]
        carried += sum(s.gross_mass for s in vehicle.strap_ons if s.beside == index)
        recipe = recipes[stage.name]
        engines = recipe.engine_length(stage)
        at = recipe.at(stage, carried, length, interstage, engines)
        made[stage.name] = _one(recipe, stage, at)
        length, interstage = at.length, engines
        carried += stage.gross_mass
    for strap in vehicle.strap_ons:
        recipe = recipes[strap.stage.name]
        at = recipe.at(strap.stage, 0.0, 0.0, 0.0, recipe.engine_length(strap.stage))
        made[strap.stage.name] = _one(recipe, strap.stage, at)
    return tuple(made[stage.name] for stage in concept.stages if stage.name in made)


def _one(recipe: Recipe, stage: Stage, at: At) -> StageMasses:
    recipe.dry_mass(at)
    stated = recipe.stated
    parts = [
        PartMass(
            part.name, part.mass.value, 0.0, part.mass.value, part.mass.value, "", "stated by the user",
            Origin.STATED,
        )
        for part in stated.parts
    ]  # fmt: skip
    parts += [
        _part(part, at, factor - 1.0, stated)
        for part, factor in zip(recipe.parts, recipe.factors, strict=True)
    ]
    return StageMasses(
        stage=stage.name,
        used=stage.dry_mass,
        way=_way(stated),
        parts=tuple(parts),
        growth_words=growth_words(stated),
        analogy=_analogy(stated, stage),
    )


def _way(stated: Stated) -> str:
    if isinstance(stated.dry_mass, (ByParts, Like)):
        return str(stated.dry_mass)
    return "stated" if isinstance(stated.dry_mass, Quantity) else "structural fraction"


def _part(part: Part, at: At, growth: float, stated: Stated) -> PartMass:
    mass, pieces = part.mass(at), part.pieces(at)
    values = {
        name: one(at) for name, one in zip(part.relation.letters, part.inputs, strict=True)
    }  # by the relation's own arguments
    notes = list(part.notes)
    others = [mass]
    try:
        answers = estimates(part.book, **{name: one(at) for name, one in part.knows})
        others += [pieces * answer.mass for answer in answers]
        notes += [
            note for answer in answers if answer.relation == part.relation.__name__ for note in answer.notes
        ]
    except NoRelation as error:
        notes.append(error.why)
    except ValueError as error:
        notes.append(str(error))
    try:
        step = part.relation.step(part=stated.name, words=_words(part, pieces), **values)
    except ValueError:
        step = None
    return PartMass(
        part=part.name,
        mass=mass,
        growth=growth * mass,
        least=min(others),
        most=max(others),
        relation=part.relation.words,
        source=part.relation.source,
        origin=Origin.DERIVED,
        step=step,
        notes=tuple(dict.fromkeys(notes)),
    )


def _words(part: Part, pieces: float) -> str:
    if pieces == 1.0:
        return f"mass of the {part.name}"
    return f"mass of one of the {part.name}"


def _analogy(stated: Stated, stage: Stage) -> Analogy | None:
    """The stage that flew named in the concept, else the nearest in size with such propellants."""
    load = stage.propellant.load
    if not load > 0.0:
        return None
    if isinstance(stated.dry_mass, Like):
        name = stated.dry_mass.stage
    else:
        pair = stated.propellant.pair
        if pair_of(pair) is None and pair != "solid":  # nuclear heat, jets: none of the list is such a stage
            return None
        alike = [row for row in STAGES.values() if _alike(row.propellants, pair)]
        alike = [row for row in alike if row.name not in _NO_STAGE]
        if not alike:
            return None
        name = min(alike, key=lambda row: abs(math.log(row.propellant / load))).name
    mass, notes = dry_mass_by_analogy(name, load)
    return Analogy(name, mass, flown_stage(name).structural_fraction, notes)


def _alike(flown: str, pair: str) -> bool:
    """Solids with solids, hydrogen with hydrogen, dense liquids with dense liquids."""

    def kind(name: str) -> str:
        if name in ("solid", "AP/Al/HTPB"):
            return "solid"
        return "hydrogen" if "LH2" in name else "dense"

    return kind(flown) == kind(pair)


def itemised(vehicle: Vehicle, tables: tuple[StageMasses, ...]) -> Vehicle:
    """The vehicle with the parts of its dry masses as items of the mass table, where they are known.

    By parts: every part and the growth.  Stated with some parts known: those, and the rest.
    """
    by_name = {table.stage: table for table in tables}
    stages = tuple(_with_items(stage, by_name[stage.name]) for stage in vehicle.stages)
    strapped = tuple(replace(s, stage=_with_items(s.stage, by_name[s.stage.name])) for s in vehicle.strap_ons)
    return replace(vehicle, stages=stages, strap_ons=strapped)


def _with_items(stage: Stage, table: StageMasses) -> Stage:
    if table.way == "by parts":
        items = [MassItem(stage.name, part.part, part.mass, part.origin) for part in table.parts]
        growth = sum(part.growth for part in table.parts)
        if growth:
            items.append(MassItem(stage.name, "allowance for growth", growth, Origin.DERIVED))
    else:
        origin = stage.items[0].origin if stage.items else Origin.STATED
        stated = [part for part in table.parts if part.origin is Origin.STATED]
        items = [MassItem(stage.name, part.part, part.mass, part.origin) for part in stated]
        if not items:
            return stage
        rest = stage.dry_mass - sum(part.mass for part in stated)
        items.append(MassItem(stage.name, "rest of the dry mass", rest, origin))
    return replace(stage, items=tuple(items))
