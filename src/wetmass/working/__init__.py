"""Hand working read, checked line by line, and written.

from wetmass import working
page = working.check(text, "script.md")
print(working.annotated(page))
"""

from __future__ import annotations

from typing import Any

_HOMES = {
    "check": "verdicts",
    "check_claims": "claims",
    "terminal": "notes",
    "annotated": "notes",
    "as_json": "notes",
    "plain": "notes",
    "write": "writer",
}
__all__ = list(_HOMES)


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        import importlib

        return getattr(importlib.import_module(f"wetmass.working.{_HOMES[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
