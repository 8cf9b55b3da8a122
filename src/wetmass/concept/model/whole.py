"""What only the whole concept can tell: what contradicts itself across blocks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wetmass.concept.measures import Measure, Objective, Relation
from wetmass.concept.model.open_values import unsettled
from wetmass.concept.model.places import unknown_places
from wetmass.concept.model.strap_ons import asked_of_strap_ons, beside
from wetmass.concept.wording import shown
from wetmass.record.refusal import Complaint

if TYPE_CHECKING:
    from wetmass.concept.model.concept import Concept
    from wetmass.concept.model.stage import Stage


def complaints(concept: Concept) -> list[Complaint]:
    """What contradicts itself across blocks, or leaves open values without anything to settle them."""
    return [
        *_names(concept),
        *_stack(concept),
        *beside(concept),
        *asked_of_strap_ons(concept),
        *unknown_places(concept.stages, concept.places),
        *unsettled(concept),
    ]


def _names(concept: Concept) -> Iterator[Complaint]:
    seen: dict[str, int] = {}
    for number, stage in enumerate(concept.stages, 1):
        plain = stage.name.casefold()
        if plain in seen:
            remedy = f"rename one of the two; the other is stage {seen[plain]} of the list"
            yield Complaint(f"stages / {number} / name", shown(stage.name), "names that differ", remedy)
        seen.setdefault(plain, number)
    measured: dict[tuple[Measure, str, Relation], int] = {}
    objective = 0
    for number, entry in enumerate(concept.require, 1):
        if isinstance(entry, Objective):
            if objective:
                remedy = f"keep one; the other is entry {objective}"
                yield Complaint(f"require / {number}", f'"{entry}"', "one objective", remedy)
            objective = objective or number
            continue
        key = (entry.measure, entry.stage, entry.relation)
        if key in measured:
            remedy = f"keep one; the other is entry {measured[key]}"
            yield Complaint(f"require / {number}", f'"{entry}"', "each bound once", remedy)
        measured.setdefault(key, number)
    yield from _bounds(concept)


def _bounds(concept: Concept) -> Iterator[Complaint]:
    """Bounds on one measure that leave nothing between them."""
    low: dict[tuple[Measure, str], tuple[float, int]] = {}
    high: dict[tuple[Measure, str], tuple[float, int]] = {}
    for number, entry in enumerate(concept.require):
        if isinstance(entry, Objective):
            continue
        key, bound = (entry.measure, entry.stage), (entry.quantity.value, number)
        if entry.relation is not Relation.AT_MOST:
            low[key] = max(low.get(key, bound), bound)
        if entry.relation is not Relation.AT_LEAST:
            high[key] = min(high.get(key, bound), bound)
    for key in low.keys() & high.keys():
        (least, one), (most, other) = low[key], high[key]
        if least > most:
            first, second = sorted((one, other))
            accepted = f'a bound that fits "{concept.require[first]}"'
            remedy = "loosen one of the two, or delete it"
            yield Complaint(f"require / {second + 1}", f'"{concept.require[second]}"', accepted, remedy)


def _stack(concept: Concept) -> Iterator[Complaint]:
    if not concept.stages:
        remedy = 'add one behind a "-": its name, diameter, dry mass, propellant and engines'
        yield Complaint("stages", "an empty list", "at least one stage", remedy)
        return
    core = [stage for stage in concept.stages if stage.strapped_to is None]
    if not core:
        yield Complaint("stages / 1 / strapped to", shown(concept.stages[0].strapped_to),
                        "at least one stage that is not strapped to another", "delete this key")  # fmt: skip
        return
    yield from _ground(concept, core[0])
    last = core[-1]
    if concept.mission.insertion == "with coast" and not any(group.ignitions > 1 for group in last.engines):
        where = concept.stages.index(last) + 1
        accepted = "2 or more: the mission is flown with a coast, then the last stage is lit again"
        remedy = 'add "ignitions: 2", or say "insertion: direct"'
        yield Complaint(f"stages / {where} / engines / 1 / ignitions", '"1"', accepted, remedy)


def _ground(concept: Concept, stage: Stage) -> Iterator[Complaint]:
    where = concept.stages.index(stage) + 1
    for number, group in enumerate(stage.engines, 1):
        own = group.lit_above is not None or group.lit_above_mach is not None
        if group.breathes or group.from_chamber or own:
            continue
        assert group.thrust is not None
        assert group.isp is not None
        known = group.thrust.sea_level or group.isp.sea_level or group.exit_area or group.exit_diameter
        if concept.site.launch is None and not known:
            accepted = "a figure at sea level or an exit area: this engine is lit on the ground"
            remedy = 'add "sea level: …" to thrust or isp, or "exit diameter: 0.9 m"'
            field = f"stages / {where} / engines / {number} / thrust"
            yield Complaint(field, "vacuum figures alone", accepted, remedy)
