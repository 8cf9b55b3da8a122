"""What two versions of a file say differently, and numbers beside what they were."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from wetmass.app.saying import change, say, share
from wetmass.concept.document import Document
from wetmass.concept.tree import Node


def differences(one: Document, other: Document) -> list[dict[str, str]]:
    """Each value that differs: where, then, now; "" where it was not said."""
    then, now = dict(_leaves(one.root, "")), dict(_leaves(other.root, ""))
    where = [*then, *(path for path in now if path not in then)]
    return [
        {"where": path, "then": then.get(path, ""), "now": now.get(path, "")}
        for path in where
        if then.get(path) != now.get(path)
    ]


def _leaves(node: Node, above: str) -> Iterator[tuple[str, str]]:
    if node.kind == "text":
        yield above, node.text
        return
    for key, value in node.entries:
        yield from _leaves(value, f"{above}, {key.text}" if above else key.text)
    for number, item in enumerate(node.items, 1):
        named = item.get("name") if item.kind == "block" else None
        name = named[1].text if named is not None else str(number)
        where = name if above == "stages" else f"{above}, {name}" if above else name
        yield from _leaves(item, where)


def beside(
    numbers: list[dict[str, Any]], before: list[dict[str, Any]] | None, system: str
) -> list[dict[str, Any]]:
    """Numbers said in the reader's units, each with what it was before, where that is known."""
    was = {one["key"]: one["value"] for one in before or ()}
    return [_said(one, was.get(one["key"]), system) for one in numbers]


def _said(one: dict[str, Any], was: float | None, system: str) -> dict[str, Any]:
    value, unit = one["value"], one["unit"]
    said = {**one, "text": say(value, unit, system)}
    if was is not None:
        was = value if abs(value - was) < one["noise"] else was
        said |= {
            "was": say(was, unit, system),
            "change": change(was, value, unit, system),
            "share": share(was, value),
        }
    return said
