"""The words of the lesson, from `words.yaml`: one catalogue, so that it can be translated."""

from __future__ import annotations

from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from importlib.resources import files
from typing import Any

from wetmass.record.step import Step


@dataclass(frozen=True, slots=True)
class Kind:
    """What is said about steps of one kind."""

    pattern: str
    topic: str
    why: str
    hand: str


@cache
def catalogue() -> dict[str, Any]:
    """The whole catalogue as it stands in the file."""
    from ruamel.yaml import YAML

    text = files("wetmass.lesson").joinpath("words.yaml").read_text(encoding="utf-8")
    return YAML(typ="safe").load(text)


def said(path: str, **values: Any) -> str:
    """The words at a path such as "page/title", with values put in.

    Raises KeyError when there are none.
    """
    words: Any = catalogue()
    for part in path.split("/"):
        words = words[part]
    return str(words).format(**values) if values else str(words)


@cache
def kinds() -> tuple[Kind, ...]:
    """What is said about steps, in the order in which they are tried."""
    return tuple(
        Kind(one["words"], one["topic"], one.get("why", ""), one.get("hand", ""))
        for one in catalogue()["steps"]
    )


def kind_of(step: Step) -> Kind:
    """The first kind whose words fit."""
    return next(kind for kind in kinds() if fnmatchcase(step.words, kind.pattern))


def topics() -> tuple[tuple[str, str, str], ...]:
    """(id, heading, lead) in teaching order."""
    return tuple((one["id"], one["heading"], one.get("lead", "")) for one in catalogue()["topics"])
