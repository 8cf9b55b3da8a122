"""What two versions of a file say differently."""

from __future__ import annotations

from collections.abc import Iterator

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
