"""What is stated and checked, and has no effect on the result yet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from pydantic import BaseModel

from wetmass.concept.quantity import Quantity

if TYPE_CHECKING:
    from wetmass.concept.model.concept import Concept

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
