"""Where the dry mass of a stage comes from, and the parts of it that are known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from pydantic import Field

from wetmass.concept import dimensions as d
from wetmass.concept.block import Block
from wetmass.concept.derived import ByParts, Like, ReadsDryMass
from wetmass.concept.fields import Line
from wetmass.concept.find import Find
from wetmass.concept.model.values import HEAVY, Mass
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.wording import nearest, shown
from wetmass.record.refusal import Complaint

if TYPE_CHECKING:
    from wetmass.concept.model.stage import Stage

DryMass = Annotated[
    Quantity | Find | ByParts | Like,
    ReadsDryMass(
        d.MASS, at_least="1 kg", at_most=HEAVY, why="g alone is a gram here", find=True, example="9.4 t"
    ),
]
StructuralFraction = Annotated[
    Quantity, Reads(d.NUMBER, above="0", below="1", example="8 %", why="dry over dry and propellant")
]
_DRY = ("dry mass", "structural fraction")


class Part(Block):
    """A part of a stage whose mass is known: it takes the place of our estimate of that name, or is added."""

    name: Annotated[str, Line(40, name=True, example="landing legs")] = Field(
        description="what it is, such as landing legs, engines, avionics"
    )
    mass: Mass = Field(description="its mass, all of them together")


def of_keys(data: dict[str, Any], known: set[str]) -> list[Complaint]:
    """What is wrong with how a stage says its dry mass; `known` are the keys of a stage."""
    stated, fraction = data.get("dry mass"), data.get("structural fraction")
    empty = stated is None or (isinstance(stated, str) and not stated.strip())
    opened = isinstance(stated, Find) or (isinstance(stated, str) and stated.strip().startswith("find"))
    complaints = []
    if stated is None and fraction is None:
        mistyped = any(nearest(key, _DRY) for key in data if key not in known)
        if not mistyped:  # that is told
            remedy = 'add "dry mass: 9.4 t" or "structural fraction: 8 %"'
            complaints.append(
                Complaint("", "nothing of its dry mass", "a dry mass or a structural fraction", remedy)
            )
    elif opened and fraction is None:
        accepted = "find only beside a structural fraction, which sizes it"
        remedy = 'add "structural fraction: 8 %", or give a mass'
        complaints.append(Complaint("dry mass", shown(stated), accepted, remedy))
    elif not empty and not opened and fraction is not None:
        accepted = f"a dry mass or a structural fraction, not both (dry mass {shown(stated)})"
        remedy = 'delete one of the two, or write "dry mass: find"'
        complaints.append(Complaint("structural fraction", shown(fraction), accepted, remedy))
    return complaints


def of_parts(stage: Stage) -> list[Complaint]:
    """Parts that are said twice, weigh more than the whole, or grow in two ways."""
    complaints = []
    if stage.maturity is not None and stage.growth is not None:
        accepted = f"maturity or growth, not both (maturity {stage.maturity})"
        complaints.append(Complaint("growth", shown(stage.growth), accepted, "delete one of the two"))
    seen: set[str] = set()
    for number, part in enumerate(stage.parts, 1):
        if part.name.casefold() in seen:
            complaints.append(
                Complaint(f"parts / {number} / name", shown(part.name), "each part once", "add them up")
            )
        seen.add(part.name.casefold())
    if isinstance(stage.dry_mass, Quantity):
        total = sum(part.mass.value for part in stage.parts)
        if total > stage.dry_mass.value:
            got = f"parts of {total:g} kg together"
            accepted = f"no more than the dry mass, {stage.dry_mass}"
            complaints.append(Complaint("parts", got, accepted, "lower one, or raise the dry mass"))
    return complaints
