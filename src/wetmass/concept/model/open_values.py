"""The values left open, and whether what is asked settles them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from wetmass.concept.find import Find
from wetmass.concept.measures import OBJECTIVES, Relation
from wetmass.record.refusal import Complaint

if TYPE_CHECKING:
    from wetmass.concept.model.concept import Concept


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


def unsettled(concept: Concept) -> Iterator[Complaint]:
    """Open values without anything to settle them, or too much that would."""
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
