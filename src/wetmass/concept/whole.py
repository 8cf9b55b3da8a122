"""What only the whole concept can tell: open values, whether they can be settled, what waits for later."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel

from wetmass.concept.coming_home import unknown_places
from wetmass.concept.fields import Find, shown
from wetmass.concept.measures import OBJECTIVES, Measure, Objective, Relation
from wetmass.concept.quantity import Quantity
from wetmass.record.refusal import Complaint

if TYPE_CHECKING:
    from wetmass.concept.model import Concept, Stage


@dataclass(frozen=True, slots=True)
class Open:
    """One value to be found.

    path     where it stands, such as "stages/first/propellant/mass"
    what     payload | dry mass | propellant mass | engine count | engine scale
    stage    position of its stage, from 0; None for the payload
    group    position of its engine group, from 0; None elsewhere
    find     its bounds
    settled  true where another value sizes it (a dry mass by its structural fraction), so it is no freedom
    """

    path: str
    what: str
    stage: int | None
    group: int | None
    find: Find
    settled: bool = False


def open_values(concept: Concept) -> tuple[Open, ...]:
    """The values to be found, in the order of the file."""
    return tuple(_open(concept))


def _open(concept: Concept) -> Iterator[Open]:
    if isinstance(concept.payload, Find):
        yield Open("payload", "payload", None, None, concept.payload)
    for number, stage in enumerate(concept.stages):
        where = f"stages/{stage.name}"
        if isinstance(stage.dry_mass, Find):
            yield Open(f"{where}/dry mass", "dry mass", number, None, stage.dry_mass, settled=True)
        if isinstance(stage.propellant.mass, Find):
            yield Open(f"{where}/propellant/mass", "propellant mass", number, None, stage.propellant.mass)
        for position, group in enumerate(stage.engines):
            at = f"{where}/engines/{position + 1}"
            if isinstance(group.count, Find):
                yield Open(f"{at}/count", "engine count", number, position, group.count)
            if isinstance(group.scale, Find):
                yield Open(f"{at}/scale", "engine scale", number, position, group.scale)


# ── can it be settled ────────────────────────────────────────────────────────────────────────────


def complaints(concept: Concept) -> list[Complaint]:
    """What contradicts itself across blocks, or leaves open values without anything to settle them."""
    return [
        *_names(concept),
        *_stack(concept),
        *_beside(concept),
        *_of_strap_ons(concept),
        *unknown_places(concept.stages, concept.places),
        *_settling(concept),
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
        yield Complaint("stages", "an empty list", "at least one stage", "add one")
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


def _beside(concept: Concept) -> Iterator[Complaint]:
    """Strap-ons hang on a stage that is none, and keys of theirs stand nowhere else."""
    core = [stage.name for stage in concept.stages if stage.strapped_to is None]
    for number, stage in enumerate(concept.stages, 1):
        at = f"stages / {number}"
        strapped = stage.strapped_to is not None
        if strapped and stage.strapped_to not in core and stage.strapped_to != stage.name:
            accepted = f"a stage that is not strapped to another: {', '.join(core)}"
            yield Complaint(f"{at} / strapped to", shown(stage.strapped_to), accepted, "write one of these")
        for key, value in (
            ("lit after", stage.lit_after), ("let go after", stage.let_go_after),
            ("crossfeed", stage.crossfeed or None),
        ):  # fmt: skip
            if value is not None and not strapped:
                remedy = 'add "strapped to", or delete this key'
                yield Complaint(f"{at} / {key}", shown(value), "only for strap-ons", remedy)
        for key, value in (
            ("hot staging", stage.hot_staging or None), ("let go above", stage.let_go_above),
            ("pause before ignition", stage.pause_before_ignition),
        ):  # fmt: skip
            if value is not None and strapped:
                yield Complaint(f"{at} / {key}", shown(value), "not for strap-ons", "delete this key")
        solids = [group for group in stage.engines if group.trace is not None]
        if solids and len(solids) < len(stage.engines):
            accepted = "a thrust trace for every group of the stage, or for none"
            yield Complaint(
                f"{at} / engines", f"{len(solids)} with a trace", accepted, "give each a trace, or none"
            )
        if not strapped:
            continue
        for position, group in enumerate(stage.engines, 1):
            staggered = group.stops_after is not None and len(stage.engines) > 1
            if group.breathes or group.rules_of_its_own or group.out or staggered:
                accepted = "rockets that burn to the end: strap-ons with rules or jets are not flown yet"
                what = shown(group.kind) if group.breathes else "a rule of its own"
                yield Complaint(
                    f"{at} / engines / {position}", what, accepted, "drop the rule, or make it a stage"
                )
        if solids and len(stage.engines) > 1:
            yield Complaint(
                f"{at} / engines", "several traces", "one group with a trace", "make them one group"
            )
        if stage.crossfeed and any(group.kind == "solid" for group in stage.engines):
            yield Complaint(
                f"{at} / crossfeed", '"yes"', "liquids alone: a solid feeds nothing", "delete this key"
            )


_NOT_OF_STRAP_ONS = (Measure.DELTA_V, Measure.MASS_RATIO, Measure.THRUST_TO_WEIGHT)


def _of_strap_ons(concept: Concept) -> Iterator[Complaint]:
    """Some measures belong to a stage that carries all above it; strap-ons do not."""
    strapped = {stage.name for stage in concept.stages if stage.strapped_to is not None}
    for key, entries in (("require", concept.require), ("claims", concept.claims)):
        for number, entry in enumerate(entries, 1):
            if (
                not isinstance(entry, Objective)
                and entry.stage in strapped
                and entry.measure in _NOT_OF_STRAP_ONS
            ):
                accepted = f"no {entry.measure} of strap-ons: they push together with the stage beside them"
                yield Complaint(f"{key} / {number}", f'"{entry}"', accepted, "ask it of that stage")


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


def _settling(concept: Concept) -> Iterator[Complaint]:
    values = open_values(concept)
    free = [value for value in values if not value.settled]
    exact = [entry for entry in concept.requirements if entry.relation is Relation.EXACTLY]
    objective = concept.objective
    names = ", ".join(value.path.replace("/", " / ") for value in free) or "none"
    at = "require" if concept.require else ""
    if objective is not None:
        at = f"require / {concept.require.index(objective) + 1}"
        if objective == OBJECTIVES[0] and not isinstance(concept.payload, Find):
            accepted = f"an objective that is open: the payload is stated, {concept.payload}"
            yield Complaint(
                at, f'"{objective}"', accepted, 'write "payload: find", or {least: lift-off mass}'
            )
            return
        if not free:
            yield Complaint(
                at, f'"{objective}"', "an objective only where a value is open", 'write "find" for one'
            )
            return
    wholes = {"engine count"}
    if exact and free and all(value.what in wholes for value in free):
        number = concept.require.index(exact[0]) + 1
        accepted = "at least or at most: whole engine counts never meet an exact value"
        yield Complaint(f"require / {number}", f'"{exact[0]}"', accepted, 'write "at least" or "at most"')
        return
    smooth = [value for value in free if value.what not in wholes]
    if len(exact) > len(smooth):
        listed = "; ".join(str(entry) for entry in exact)
        accepted = f"at most as many exact requirements as open values ({names})"
        yield Complaint(
            "require", f"{len(exact)}: {listed}", accepted, "open another value, or drop a requirement"
        )
        return
    # the orbit settles one value; an exact requirement settles one each; the rest needs an objective
    left = len(free) - 1 - len(exact)
    if left > 0 and objective is None:
        accepted = (
            f"an objective: the orbit{_and(exact)} settle{'' if exact else 's'} {1 + len(exact)} of them"
        )
        remedy = "add {most: payload}" if isinstance(concept.payload, Find) else "add {least: lift-off mass}"
        if not isinstance(concept.payload, Find) and all(value.what in wholes for value in free):
            return
        yield Complaint(
            at or "require", f"{len(free)} open values: {names}", accepted, f"{remedy} to require"
        )


def _and(exact: list[Any]) -> str:
    return f" and {len(exact)} exact requirement{'s' if len(exact) > 1 else ''}" if exact else ""


# ── what waits for later ─────────────────────────────────────────────────────────────────────────

_LATER = {
    "spread": "its spread is carried only into a result that closes and whose best is settled",
}


def not_yet_computed(concept: Concept) -> tuple[tuple[str, str], ...]:
    """(path, why) of everything that is stated and checked but has no effect on the result yet."""
    return tuple((path, _LATER[reason]) for path, reason in _waiting(concept, ""))


def _waiting(block: BaseModel, path: str) -> Iterator[tuple[str, str]]:
    for name, field in type(block).model_fields.items():
        value, key = getattr(block, name), field.alias or name.replace("_", " ")
        at = f"{path}/{key}" if path else key
        if value is None or value is False:
            continue
        if key in _LATER and value != ():
            yield at, key
            continue
        if isinstance(value, Quantity) and value.spread is not None:
            yield at, "spread"
        elif isinstance(value, BaseModel):
            yield from _waiting(value, at)
        elif isinstance(value, tuple):
            for number, entry in enumerate(value, 1):
                if isinstance(entry, BaseModel):
                    part = getattr(entry, "name", None) if key == "stages" else None
                    yield from _waiting(entry, f"{at}/{part or number}")
