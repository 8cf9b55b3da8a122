"""A YAML text as a tree of its own words, each with its place.

Every scalar stays the text it was typed as: what `no`, `1e3` or `3.40` mean is for the field that
reads it.  Anchors, aliases, tags and several documents are refused; depth and number of values are
capped while reading, so a hostile file ends early.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from wetmass.concept.characters import check_characters, check_merged
from wetmass.concept.syntax import misread
from wetmass.record.refusal import Complaint, Place, Refusal

LARGEST_FILE = 64 * 1024  # bytes; ten times a long concept, read in under a second
DEEPEST = 12  # blocks within blocks; a concept needs 6
MOST_VALUES = 3000  # Dunlin has 150


@dataclass(slots=True)
class Node:
    """One scalar, block or list.  `start` and `end` count characters of the text; line, column from 1."""

    kind: str  # "text", "block" or "list"
    start: int
    end: int
    line: int
    column: int
    text: str = ""
    style: str = ""  # "" plain, or the quote or block sign
    flow: bool = False  # written in { } or [ ]
    entries: list[tuple[Node, Node]] = field(default_factory=list)
    keys: dict[str, tuple[Node, Node]] = field(default_factory=dict)  # the same entries by key
    items: list[Node] = field(default_factory=list)
    spoiled: bool = False  # its own error is told elsewhere

    def get(self, key: str) -> tuple[Node, Node] | None:
        """Key and value of an entry of a block."""
        return self.keys.get(key)

    def plain(self) -> Any:
        """The same as dicts, lists and strings."""
        if self.kind == "text":
            return self.text
        if self.kind == "list":
            return [item.plain() for item in self.items]
        return {key.text: value.plain() for key, value in self.entries}


def tree(text: str, file: str) -> tuple[Node, list[Complaint]]:
    """The tree of a text, and complaints that do not keep it from being read (doubled keys).

    Raises Refusal for what is no YAML, or more than a concept file may hold.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    check_characters(text, file)
    check_merged(text, file)
    grower = _Grower(text, file)
    try:
        root = grower.grow(YAML(typ="safe", pure=True).parse(text))
    except YAMLError as error:
        raise Refusal(misread(error, text, file)) from None
    except (
        RecursionError,
        IndexError,
        ValueError,
        AttributeError,
        KeyError,
        TypeError,
        OverflowError,
    ) as error:
        if isinstance(error, Refusal):
            raise
        # the parser itself stumbled (an impossible %YAML number, say)
        raise Refusal(
            Complaint(
                "YAML",
                f"a text the YAML reader cannot follow ({error})"[:120],
                "YAML 1.2",
                "check the first lines",
                Place(file, 1, 1),
            )
        ) from None
    return root, grower.complaints


class _Grower:
    def __init__(self, text: str, file: str) -> None:
        self.text, self.file = text, file
        self.complaints: list[Complaint] = []
        self.count = 0

    def grow(self, events: Iterator[Any]) -> Node:
        next(events)  # start of the stream
        event = next(events)
        if type(event).__name__ == "StreamEndEvent":
            raise self.refusal(
                1, 1, "an empty file", "a concept", "start with the smallest one in docs/concept-file.md"
            )
        root = self.node(next(events), events, 0)
        next(events)  # end of the document
        event = next(events)
        if type(event).__name__ != "StreamEndEvent":
            mark = event.start_mark
            raise self.refusal(
                mark.line + 1,
                mark.column + 1,
                "a second document (---)",
                "one concept a file",
                "move it to a file of its own",
            )
        return root

    def node(self, event: Any, events: Iterator[Any], depth: int) -> Node:
        mark, kind = event.start_mark, type(event).__name__
        line, column = mark.line + 1, mark.column + 1
        self.count += 1
        if self.count > MOST_VALUES:
            raise self.refusal(
                line,
                column,
                f"more than {MOST_VALUES} values",
                f"{MOST_VALUES} at most",
                "keep one concept a file",
            )
        if kind == "AliasEvent" or getattr(event, "anchor", None):
            sign = "*" if kind == "AliasEvent" else "&"
            raise self.refusal(
                line,
                column,
                f'"{sign}{event.anchor}"',
                "values written out: anchors and aliases are not read",
                "write the value itself where it is used; put a text that starts with & or * in quotes",
            )
        if getattr(event, "tag", None) and getattr(event, "ctag", None):
            raise self.refusal(
                line,
                column,
                f'the tag "{str(event.tag)[:40]}"',
                "plain values: tags are not read",
                "delete the word that starts with !, or put the text in quotes",
            )
        if kind == "ScalarEvent":
            style = event.style or ""
            return Node("text", mark.index, event.end_mark.index, line, column, event.value, style)
        if depth >= DEEPEST:
            raise self.refusal(
                line,
                column,
                f"blocks {depth + 1} deep",
                f"{DEEPEST} at most",
                "check the indents and brackets",
            )
        node = Node(
            "list" if kind == "SequenceStartEvent" else "block",
            mark.index,
            0,
            line,
            column,
            flow=bool(event.flow_style),
        )
        last = node
        for event in events:
            if type(event).__name__ in ("SequenceEndEvent", "MappingEndEvent"):
                break
            first = self.node(event, events, depth + 1)
            if node.kind == "list":
                node.items.append(first)
                last = first
                continue
            value = self.node(next(events), events, depth + 1)
            self.enter(node, first, value)
            last = value
        # an open block ends where its last value does, not where the next one starts
        node.end = event.end_mark.index if node.flow else max(last.end, node.start)
        return node

    def enter(self, block: Node, key: Node, value: Node) -> None:
        if key.kind != "text":
            self.complain(
                key,
                "a key that is a block or a list",
                "a word before each colon",
                "check the brackets and indents",
            )
            return
        if (
            block.flow
            and value.start == value.end
            and re.match(r"[0-9]", key.text)
            and not key.style
            and block.entries
        ):
            before, number = block.entries[-1]
            number.spoiled = True
            typed = f"{number.text},{self.text[number.end + 1 : key.end]}"
            whole = re.sub(r",\s*(?=[0-9]{3}\b)", "", typed).replace(",", ".")
            self.complaints.append(
                Complaint(
                    before.text,
                    f'"{typed}"',
                    "no comma in a value within { }: it parts the entries",
                    f'write "{whole}", or put quotes round the value',
                    Place(self.file, number.line, number.column),
                )
            )
            return
        first = block.get(key.text)
        if first is not None:
            self.complaints.append(
                Complaint(
                    key.text,
                    f'the key "{key.text}" twice',
                    f"each key once; it stands on line {first[0].line} already",
                    f"keep line {first[0].line} or line {key.line}",
                    Place(self.file, key.line, key.column),
                )
            )
            return
        block.entries.append((key, value))
        block.keys[key.text] = (key, value)

    def complain(self, node: Node, got: str, accepted: str, remedy: str) -> None:
        self.complaints.append(
            Complaint("YAML", got, accepted, remedy, Place(self.file, node.line, node.column))
        )

    def refusal(self, line: int, column: int, got: str, accepted: str, remedy: str) -> Refusal:
        return Refusal(Complaint("YAML", got, accepted, remedy, Place(self.file, line, column)))
