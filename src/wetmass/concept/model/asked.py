"""What is asked of the whole: entries of `require`, and of `claims` to be checked."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import ValidationInfo

from wetmass.concept.fields import ReadBy
from wetmass.concept.measures import Claim, Objective, Requirement, read_claim, read_requirement
from wetmass.concept.wording import shown
from wetmass.record.refusal import Complaint, Refusal

_ENTRY = {"requirement": "- {lift-off mass: at most 210 t}", "claim": "- {first burn-out speed: 2.4 km/s}"}


def _one_key(value: Any, what: str) -> tuple[str, Any]:
    if not isinstance(value, dict) or len(value) != 1:
        got = f"{len(value)} keys in one entry" if isinstance(value, dict) else shown(value)
        raise Refusal(
            Complaint(
                "", got, f"one {what} an entry", f'write each behind its own "-", such as {_ENTRY[what]}'
            )
        )
    return next(iter(value.items()))


def _requirement(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, (Requirement, Objective)):
        return value
    name, text = _one_key(value, "requirement")
    return read_requirement(name, text, (info.context or {}).get("stage names", ()))


def _claim(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, Claim):
        return value
    name, text = _one_key(value, "claim")
    return read_claim(name, text, (info.context or {}).get("stage names", ()))


Asked = Annotated[Requirement | Objective, ReadBy(_requirement)]
Claimed = Annotated[Claim, ReadBy(_claim)]
