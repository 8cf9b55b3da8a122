"""An open value."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Find:
    """An open value: to be found, within bounds where some are stated.

    low, high  bounds in SI, None where there is none
    unit_text  the unit the bounds were written in, "" without bounds
    text       as typed
    """

    low: float | None = None
    high: float | None = None
    unit_text: str = ""
    text: str = "find"

    def __str__(self) -> str:
        return self.text
