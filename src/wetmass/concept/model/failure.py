"""Engines that fail on the way, as "1 at 60 s"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

from wetmass.concept import dimensions as d
from wetmass.concept.fields import ReadBy
from wetmass.concept.quantity import Quantity
from wetmass.concept.reads import Reads
from wetmass.concept.wording import wrong

_FAILURE_TIME = Reads(d.TIME, at_least="0 s", at_most="1 day", spread=False, example="60 s")


@dataclass(frozen=True, slots=True)
class Failure:
    """Engines that fail."""

    count: int
    time: Quantity  # after the stage is lit

    def __str__(self) -> str:
        return f"{self.count} at {self.time}"


def _failure(value: Any) -> Failure:
    if isinstance(value, Failure):
        return value
    match = re.fullmatch(r"(\d{1,3})\s+at\s+(.+)", value.strip()) if isinstance(value, str) else None
    if match is None or not 1 <= int(match[1]) <= 200:
        raise wrong(value, "how many fail, and when after the stage is lit", 'write it as in "1 at 60 s"')
    return Failure(int(match[1]), _FAILURE_TIME(match[2], None))


Out = Annotated[Failure, ReadBy(lambda value, info: _failure(value))]
