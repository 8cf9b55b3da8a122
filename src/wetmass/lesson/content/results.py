"""The result of a step in the unit people use, beside the SI one."""

from __future__ import annotations

from wetmass.record.say import said
from wetmass.record.step import Step

_THIN = 0.1  # m: walls and the like are said in millimetres


def in_people_units(one: Step) -> str:
    """The result with the unit people use for its size."""
    if one.unit == "m" and abs(one.result) < _THIN:
        return said(1e3 * one.result, "mm")
    return said(one.result, one.unit)


def needs_aside(one: Step) -> bool:
    """Whether people would say it with another unit than SI's."""
    return bool(one.unit) and not in_people_units(one).replace("\u00a0", " ").endswith(f" {one.unit}")
