"""A value in the unit the user stated it in, where they did."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wetmass.record.digits import fixed
from wetmass.record.say import NO_BREAK, said

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.concept.quantity import Quantity
    from wetmass.record.closed import Held


def stated(concept: Concept, what: str) -> Quantity | None:
    """The quantity of the file that is called so: a requirement, a limit, or a value of a stage.

    what  "lift-off mass", "felt acceleration", "payload"
    """
    from wetmass.concept.quantity import Quantity

    for entry in concept.requirements:
        if what in (entry.name, str(entry.measure), f"{entry.stage} {entry.measure}"):
            return entry.quantity
    limits = {
        str(field.alias or name.replace("_", " ")): getattr(concept.limits, name, None)
        for name, field in type(concept.limits).model_fields.items()
    }
    found = limits.get(what.removeprefix("greatest "))
    if found is None and what == "payload":
        found = concept.payload
    return found if isinstance(found, Quantity) else None


def as_typed(concept: Concept, one: Held) -> tuple[str, str]:
    """What was asked as the user typed it, and what came out in the same unit with one decimal more."""
    typed = stated(concept, one.what)
    if typed is None:
        return said(one.asked, one.unit), said(one.got, one.unit)
    _, _, decimals = typed.number.lower().partition("e")[0].partition(".")
    unit = f"{NO_BREAK}{typed.unit.text}" if typed.unit.text else ""
    return f"{typed.number}{unit}", f"{fixed(one.got / typed.unit.factor, len(decimals) + 1)}{unit}"


def shown(concept: Concept, what: str, value: float, unit: str, figures: int = 4) -> str:
    """`value` [`unit`, SI] in the user's unit for `what`, else in one that suits its size."""
    from wetmass.concept.quantity import in_user_units

    like = stated(concept, what)
    if like is None or not like.unit.text:
        return said(value, unit, figures)
    return in_user_units(value, like, figures).replace(" ", NO_BREAK)
