"""The one error a wrong statement raises, and its five parts."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a file a statement stands; lines and columns count from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Complaint:
    """One wrong statement, in the user's words."""

    field: str  # which field, as a path such as "stages / second / diameter"
    got: str  # as typed, with its unit
    accepted: str  # what is accepted, and why
    remedy: str  # what to do
    place: Place | None = None

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place else ""
        return f"{where}{self.field}: got {self.got} ; accepted {self.accepted} ; do {self.remedy}"


class Refusal(ValueError):
    """What was stated cannot be taken as it stands.  All complaints of one file come together.

    `complaints` holds them in the order of the file; `field`, `got`, `accepted` and `remedy` are
    those of the first.
    """

    def __init__(self, *complaints: Complaint) -> None:
        if not complaints:
            raise TypeError("a refusal needs at least one complaint")
        self.complaints: tuple[Complaint, ...] = complaints
        super().__init__("\n".join(str(complaint) for complaint in complaints))

    @property
    def field(self) -> str:
        return self.complaints[0].field

    @property
    def got(self) -> str:
        return self.complaints[0].got

    @property
    def accepted(self) -> str:
        return self.complaints[0].accepted

    @property
    def remedy(self) -> str:
        return self.complaints[0].remedy
