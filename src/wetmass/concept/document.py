"""The text of a concept file: where each field stands, and how one value is changed with the rest kept."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from wetmass.concept.respliced import respliced
from wetmass.concept.tree import Node, tree
from wetmass.record.refusal import Complaint, Place, Refusal


@dataclass(frozen=True)
class Document:
    """A file as typed: its text byte for byte, and the tree of it.

    Changing a value makes a new document; comments, order and wording of the rest stay.
    """

    text: str
    name: str
    root: Node
    mark: str = ""  # a byte-order mark, kept on saving

    def place(self, path: str | Sequence[str | int]) -> Place:
        """Where a field stands, such as "stages/first/dry mass"; where its block does when it is not said.

        Entries of lists go by their name, or by their number from 1.
        """
        node, _ = self.reach(parts(path))
        return Place(self.name, node.line, node.column)

    def reach(self, path: Sequence[str | int]) -> tuple[Node, int]:
        """The node at a path, or the last one on the way to it, and how many steps were gone."""
        node = self.root
        for steps, part in enumerate(path):
            below = child(node, part)
            if below is None:
                return node, steps
            node = below
        return node, len(path)

    def path_at(self, place: Place) -> list[str | int]:
        """The path of the field whose key or value stands at a place, [] where none does."""

        def inside(node: Node) -> list[str | int] | None:
            steps: list[tuple[str | int, Node, Node]] = [
                (key.text, key, value) for key, value in node.entries
            ]
            steps += [(number, item, item) for number, item in enumerate(node.items)]
            for step, *marks in steps:
                if any((mark.line, mark.column) == (place.line, place.column) for mark in marks):
                    return [step]
                below = inside(marks[-1])
                if below is not None:
                    return [step, *below]
            return None

        return inside(self.root) or []

    def get(self, path: str) -> str | None:
        """A value as typed, None where it is not said or is a block."""
        node, steps = self.reach(parts(path))
        return node.text if steps == len(parts(path)) and node.kind == "text" else None

    def set(self, path: str, value: str) -> Document:
        """The document with one value changed, or added to its block where the key is not there yet.

        The value is not checked here: `concept.loads(document.text, document.name)` does.
        Raises Refusal when the block it belongs to is not in the file, or is not a value.
        """
        wanted = parts(path)
        node, steps = self.reach(wanted)
        if steps == len(wanted):
            if node.kind != "text":
                raise self._refusal(path, node, "a block" if node.kind == "block" else "a list", "one value")
            written = _quoted(value, self._in_flow(wanted))
            if node.start == node.end:  # an empty value is marked where the next thing starts
                return self._spliced(*self._behind_colon(wanted), " " + written)
            root = respliced(self.root, node, self.text, written)
            if root is not None:
                text = self.text[: node.start] + written + self.text[node.end :]
                return Document(text, self.name, root, self.mark)
            end = node.start + len(self.text[node.start : node.end].rstrip())
            return self._spliced(node.start, end, written)
        key = wanted[-1]
        if steps == len(wanted) - 1 and node.kind == "block" and isinstance(key, str):
            return self._added(node, key, value)
        raise self._refusal(
            path, node, "a path whose block is not in the file", "a field of a block that is there"
        )

    def with_values(self, changes: Sequence[tuple[str, str]]) -> str:
        """The text with several values changed at once: what `set` one by one gives, read only once.

        Raises Refusal as `set` does.
        """
        places = []
        for path, value in changes:
            wanted = parts(path)
            node, steps = self.reach(wanted)
            if steps < len(wanted) or node.kind != "text" or node.start == node.end:
                made = self
                for path, value in changes:
                    made = made.set(path, value)
                return made.text
            end = node.start + len(self.text[node.start : node.end].rstrip())
            places.append((node.start, end, _quoted(value, self._in_flow(wanted))))
        text = self.text
        for start, end, written in sorted(places, reverse=True):
            text = text[:start] + written + text[end:]
        return text

    def drop(self, path: str) -> Document:
        """The document without a key and its value; the same where the key is not there."""
        wanted = parts(path)
        above, steps = self.reach(wanted[:-1])
        pair = above.get(str(wanted[-1])) if steps == len(wanted) - 1 and above.kind == "block" else None
        if pair is None:
            return self
        key, value = pair
        start, end = key.start, max(value.end, self.text.index(":", key.end) + 1)
        if above.flow:
            after = re.compile(r"\s*,\s*").match(self.text, end)
            before = re.search(r"\s*,\s*$", self.text[above.start : start])
            if after:
                return self._spliced(start, after.end(), "")
            return self._spliced(above.start + before.start() if before else start, end, "")
        newline = self.text.find("\n", end)
        begin = self.text.rfind("\n", 0, start) + 1
        if self.text[begin:start].strip():  # behind the "-" of a list
            return self._spliced(start, newline + 1 + len(self.text[begin:start]), "")
        return self._spliced(begin, len(self.text) if newline < 0 else newline + 1, "")

    def _added(self, block: Node, key: str, value: str) -> Document:
        if block.flow:
            last = block.entries[-1][1].end if block.entries else block.start + 1
            last = max(last, block.entries[-1][0].end + 1) if block.entries else last
            comma = ", " if block.entries else ""
            return self._spliced(last, last, f"{comma}{_quoted(key, True)}: {_quoted(value, True)}")
        newline = "\r\n" if "\r\n" in self.text else "\n"
        end = self.text.find(
            "\n", block.end - 1 if self.text[block.end - 1 : block.end] == "\n" else block.end
        )
        at = len(self.text) if end < 0 else end + 1
        before = newline if end < 0 else ""
        line = f"{before}{' ' * (block.column - 1)}{_quoted(key, False)}: {_quoted(value, False)}{newline}"
        return self._spliced(at, at, line)

    def _behind_colon(self, path: Sequence[str | int]) -> tuple[int, int]:
        parent, _ = self.reach(path[:-1])
        pair = parent.get(str(path[-1]))
        if pair is None:
            empty, _ = self.reach(path)
            return empty.start, empty.end
        colon = self.text.index(":", pair[0].end)
        return colon + 1, colon + 1

    def _in_flow(self, path: Sequence[str | int]) -> bool:
        return any(self.reach(path[:steps])[0].flow for steps in range(len(path)))

    def _spliced(self, start: int, end: int, written: str) -> Document:
        return document(self.text[:start] + written + self.text[end:], self.name, self.mark)

    def _refusal(self, path: str, node: Node, got: str, accepted: str) -> Refusal:
        place = Place(self.name, node.line, node.column)
        return Refusal(
            Complaint(path, got, accepted, "name a single value, such as stages/first/dry mass", place)
        )


def document(text: str, name: str, mark: str = "") -> Document:
    """A text as a document.  Raises Refusal when it is no YAML; doubled keys are told by `loads`."""
    return Document(text, name, tree(text, name)[0], mark)


def parts(path: str | Sequence[str | int]) -> list[str | int]:
    """A path as its steps.

    >>> parts("stages/first/dry mass")
    ['stages', 'first', 'dry mass']
    """
    if not isinstance(path, str):
        return list(path)
    return [part.strip() for part in path.split("/") if part.strip()]


def child(node: Node, part: str | int) -> Node | None:
    """One step down: a key of a block; an entry of a list by index (int), name or number from 1 (text)."""
    if node.kind == "block":
        pair = node.get(str(part))
        return pair[1] if pair else None
    if node.kind != "list":
        return None
    if isinstance(part, int):
        return node.items[part] if part < len(node.items) else None
    for item in node.items:
        named = item.get("name") if item.kind == "block" else None
        if named and " ".join(named[1].text.split()) == part:
            return item
    if re.fullmatch(r"[0-9]{1,4}", part) and 1 <= int(part) <= len(node.items):
        return node.items[int(part) - 1]
    return None


def _quoted(value: str, in_flow: bool) -> str:
    """A value as YAML text: plain where that reads back the same, else in double quotes."""
    risky = re.search(r": |:$| #|^[\s\-?:,\[\]{}#&*!|>'\"%@`]|\s$|[\n\r\t\\]", value) or not value
    if (
        value.startswith("-")
        and re.match(r"-[0-9.]", value)
        and not re.search(r": |:$| #|\s$|[\n\r\t\\]", value)
    ):
        risky = None
    if not risky and not (in_flow and re.search(r"[,\[\]{}]", value)):
        return value
    escaped = value.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + escaped.replace("\n", "\\n").replace("\r", "\\r").replace("\t", "\\t") + '"'


def save(what: Document, path: str | Path) -> None:
    """Write a document's text, whole or not at all.  Raises Refusal when the file cannot be written."""
    target = Path(path)
    beside = target.with_name(target.name + ".part")
    try:
        beside.write_bytes((what.mark + what.text).encode("utf-8"))
        beside.replace(target)
    except OSError as error:
        beside.unlink(missing_ok=True)
        reason = error.strerror or type(error).__name__
        raise Refusal(
            Complaint("file", f'"{path}"', "a file that can be written", f"choose another place ({reason})")
        ) from None
