"""What the user states: units, models, YAML with positions, open values, requirements.

`load` and `loads` give a `Concept`; everything wrong in a file comes as one
`wetmass.record.refusal.Refusal`.  Names are imported when first used, so that `import wetmass` stays fast.
"""

from __future__ import annotations

import importlib
from typing import Any

_FROM = {
    "reading": ("concept_of", "load", "loads", "save"),
    "document": ("Document",),
    "model": (
        "Arrival", "Concept", "Drag", "Dropped", "EngineGroup", "Fairing", "Home", "Limits", "Mission", "Open",
        "Propellant", "Site", "SpecificImpulse", "Stage", "Tank", "Thrust",
    ),
    "measures": ("MEASURES", "Claim", "Measure", "Objective", "Relation", "Requirement"),
    "find": ("Find",),
    "pairs": ("SINGLES", "pair_of", "parts_of"),
    "quantity": ("Quantity", "Span", "Spread", "SpreadKind", "exactly", "in_user_units"),
    "statement": ("parse_quantity", "parse_span"),
    "units": ("TABLE", "Unit", "unit"),
    "dimensions": ("Dimension", "dimension_name", "si_unit"),
}  # fmt: skip
_HOME = {name: module for module, names in _FROM.items() for name in names}

__all__ = sorted(_HOME)


def __getattr__(name: str) -> Any:
    module = _HOME.get(name)
    if module is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(importlib.import_module(f"{__name__}.{module}"), name)


def __dir__() -> list[str]:
    return list(__all__)
