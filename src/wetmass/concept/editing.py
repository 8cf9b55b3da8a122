"""Changing what a concept file holds, not only its values: keys and entries come and go, comments stay.

Each function gives a new document; texts put in are YAML and are read again when the document is.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from wetmass.concept.document import Document, child, document, parts
from wetmass.concept.tree import Node
from wetmass.record.refusal import Complaint, Place, Refusal

Path = str | Sequence[str | int]


def without(doc: Document, path: Path) -> Document:
    """The document without a key, or without an entry of a list; an emptied list goes with its key.

    Raises Refusal when nothing stands there.
    """
    steps = parts(path)
    parent, node = _at(doc, steps)
    if parent.kind == "list" and len(parent.items) == 1:
        return without(doc, steps[:-1])
    if parent.kind == "block" and len(parent.entries) == 1 and len(steps) > 1:
        return without(doc, steps[:-1])
    if parent.flow:
        return _spliced(doc, *_flow_room(doc, parent, steps[-1]), "")
    start, end = _lines(doc, parent, steps[-1], node)
    return _spliced(doc, start, end, "")


def with_entry(doc: Document, path: Path, entry: str, at: int | None = None) -> Document:
    """The document with an entry more in a list; the list is made where its key is not there.

    path   of the list
    entry  as YAML: one line in { } or several lines of a block
    at     before which of its entries, the end where None
    """
    steps = parts(path)
    node, gone = doc.reach(steps)
    if gone == len(steps) - 1 and node.kind == "block":
        return _with_list(doc, steps, node, entry)
    if gone < len(steps) or node.kind != "list":
        raise _nothing(doc, steps, node)
    place = len(node.items) if at is None else max(0, min(at, len(node.items)))
    if node.flow:
        if "\n" in entry:
            raise _nothing(doc, steps, node)
        if not node.items:
            return _spliced(doc, node.start + 1, node.end - 1, entry)
        if place == len(node.items):
            end = node.items[-1].end
            return _spliced(doc, end, end, f", {entry}")
        start = node.items[place].start
        return _spliced(doc, start, start, f"{entry}, ")
    at_line = (
        _own_lines(doc, node.items[place])[0]
        if place < len(node.items)
        else _own_lines(doc, node.items[-1])[1]
    )
    return _spliced(doc, at_line, at_line, _as_item(doc, entry, node.column - 1, at_line))


def with_key(doc: Document, path: Path, value: str) -> Document:
    """The document with a key that is not there yet; its value as YAML, such as "{by: ballistic}"."""
    steps = parts(path)
    parent, gone = doc.reach(steps[:-1])
    key = str(steps[-1])
    if gone < len(steps) - 1 or parent.kind != "block" or parent.get(key) is not None:
        raise _nothing(doc, steps, parent)
    if parent.flow:
        end = parent.end - 1
        comma = ", " if parent.entries else ""
        while doc.text[end - 1 : end] in (" ", "\n", "\r"):
            end -= 1
        return _spliced(doc, end, end, f"{comma}{key}: {value}")
    end = _line_end(doc.text, parent.end)
    before = "" if doc.text[end - 1 : end] == "\n" else _newline(doc)
    line = f"{before}{' ' * (parent.column - 1)}{key}: {value}{_newline(doc)}"
    return _spliced(doc, end, end, line)


def copied(doc: Document, path: Path, name: str = "") -> Document:
    """The document with an entry of a list twice; the copy stands behind it, and is called `name`."""
    steps = parts(path)
    parent, node = _at(doc, steps)
    if parent.kind != "list":
        raise _nothing(doc, steps, node)
    number = parent.items.index(node)
    if parent.flow:
        entry = doc.text[node.start : node.end]
        made = _spliced(doc, node.end, node.end, f", {entry}")
    else:
        start, end = _own_lines(doc, node)
        entry = doc.text[start:end]
        entry = entry if entry.endswith("\n") else _newline(doc) + entry
        made = _spliced(doc, end, end, entry)
    if name and node.get("name") is not None:
        made = made.set([*steps[:-1], number + 1, "name"], name)
    return made


def moved(doc: Document, path: Path, by: int) -> Document:
    """The document with an entry of a list before (−1) or behind (1) its neighbour; as it was at the end."""
    steps = parts(path)
    parent, node = _at(doc, steps)
    if parent.kind != "list":
        raise _nothing(doc, steps, node)
    here = parent.items.index(node)
    there = here + (1 if by > 0 else -1)
    if not 0 <= there < len(parent.items):
        return doc
    one, two = (parent.items[i] for i in sorted((here, there)))
    spans = [(n.start, n.end) if parent.flow else _own_lines(doc, n) for n in (one, two)]
    (a, b), (c, d) = spans
    text = doc.text
    first, between, second = text[a:b], text[b:c], text[c:d]
    if not parent.flow and not second.endswith("\n"):
        second, first = second + _newline(doc), first.rstrip("\r\n")
    return _spliced(doc, a, d, second + between + first)


# ── where things stand ───────────────────────────────────────────────────────────────────────────


def _at(doc: Document, steps: Sequence[str | int]) -> tuple[Node, Node]:
    """(parent, node) at a path."""
    parent, gone = doc.reach(steps[:-1])
    node = child(parent, steps[-1]) if gone == len(steps) - 1 and steps else None
    if node is None:
        raise _nothing(doc, steps, parent)
    return parent, node


def _flow_room(doc: Document, parent: Node, key: str | int) -> tuple[int, int]:
    """From where to where an entry in { } or [ ] goes, with one comma."""
    marks = [(k.start, max(v.end, k.end)) for k, v in parent.entries] or [
        (n.start, n.end) for n in parent.items
    ]
    if parent.kind == "block":
        number = [k.text for k, _ in parent.entries].index(str(key))
    else:
        number = parent.items.index(child(parent, key))  # type: ignore[arg-type]
    if number + 1 < len(marks):
        return marks[number][0], marks[number + 1][0]
    if number:
        return marks[number - 1][1], marks[number][1]
    return marks[0]


def _lines(doc: Document, parent: Node, key: str | int, node: Node) -> tuple[int, int]:
    """Whole lines of a key with its value, or of an entry."""
    if parent.kind == "list":
        return _own_lines(doc, node)
    pair = parent.get(str(key))
    assert pair is not None
    start = doc.text.rfind("\n", 0, pair[0].start) + 1
    end = _line_end(doc.text, max(node.end, pair[0].end))
    if doc.text[start : pair[0].start].strip():  # the first key of an entry shares its line with the "-"
        following = next((k for k, _ in parent.entries if k.start > pair[0].start), None)
        if following is not None:
            return pair[0].start, following.start
    return start, end


def _own_lines(doc: Document, node: Node) -> tuple[int, int]:
    """Whole lines of an entry of a list that is written in lines, from its "-" on."""
    return doc.text.rfind("\n", 0, node.start) + 1, _line_end(doc.text, node.end)


def _line_end(text: str, at: int) -> int:
    """Behind the end of the line on which what ends at `at` stands."""
    at = max(at, 1)
    end = text.find("\n", at - 1 if text[at - 1] == "\n" else at)
    return len(text) if end < 0 else end + 1


def _as_item(doc: Document, entry: str, indent: int, at: int) -> str:
    newline, space = _newline(doc), " " * indent
    lines = entry.strip("\n").split("\n")
    written = newline.join(
        [f"{space}- {lines[0]}", *(f"{space}  {line}" if line else "" for line in lines[1:])]
    )
    before = "" if not at or doc.text[at - 1 : at] == "\n" else newline
    return f"{before}{written}{newline}"


def _with_list(doc: Document, steps: Sequence[str | int], parent: Node, entry: str) -> Document:
    if parent.flow or "\n" not in entry:
        return with_key(doc, steps, f"[{entry}]")
    end = _line_end(doc.text, parent.end)
    indent = parent.column - 1
    before = "" if doc.text[end - 1 : end] == "\n" else _newline(doc)
    head = f"{before}{' ' * indent}{steps[-1]}:{_newline(doc)}"
    made = head + _as_item(doc, entry, indent + 2, 0)
    return _spliced(doc, end, end, made)


def _newline(doc: Document) -> str:
    return "\r\n" if "\r\n" in doc.text else "\n"


def _spliced(doc: Document, start: int, end: int, written: str) -> Document:
    text = doc.text[:start] + written + doc.text[end:]
    return document(re.sub(r"\n{4,}", "\n\n\n", text), doc.name, doc.mark)


def _nothing(doc: Document, steps: Sequence[str | int], node: Node) -> Refusal:
    words = " / ".join(str(step + 1) if isinstance(step, int) else step for step in steps)
    place = Place(doc.name, node.line, node.column)
    return Refusal(
        Complaint(
            words, "nothing that can be changed so", "a key or an entry of this file", "check it", place
        )
    )
