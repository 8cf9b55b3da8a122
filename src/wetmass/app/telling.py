"""A concept told in sentences, each value in its place: from the file as typed, so that errors lose nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from wetmass.app.fields import field, unsaid
from wetmass.app.sentences import ASKED, CLAIM, OBJECTIVES, TOLD, Fragment
from wetmass.concept.document import Document
from wetmass.concept.tree import Node

_HOLE = re.compile(r"\{([^{}]+)\}")
Step = str | int
Sentence = list[Any]


def told(document: Document) -> dict[str, Any]:
    """The concept for the page: name, story, and blocks of sentences in the order of explaining."""
    root = document.root
    if root.kind != "block":
        return {"name": "", "story": "", "blocks": []}
    blocks = [_block("where", "Where it starts and what it is for", [], root, "concept")]
    blocks[0]["parts"] = [
        *_parts([], root, "places", "place"),
        *_parts([], root, "also dropped", "dropped part"),
    ]
    stages = root.get("stages")
    if stages is not None and stages[1].kind == "list":
        items = stages[1].items
        for number, item in enumerate(items):
            if item.kind == "block":
                blocks.append(_stage(number, item, len(items)))
    blocks.append(_list_block(root, "require", "What is asked of it"))
    blocks.append(
        _block("limits", "What the flight may not exceed", ["limits"], _child(root, "limits"), "limits")
    )
    blocks.append(_list_block(root, "claims", "What is said of it"))
    return {
        "name": _field([], root, "name", "name of the vehicle"),
        "story": _field([], root, "story", "what it is for"),
        "blocks": blocks,
    }


def _child(node: Node, key: str) -> Node | None:
    pair = node.get(key)
    return pair[1] if pair is not None and pair[1].kind == "block" else None


def _field(path: Sequence[Step], node: Node, key: str, label: str) -> dict[str, Any]:
    pair = node.get(key)
    return field([*path, key], pair[1].text if pair is not None and pair[1].kind == "text" else "", label)


def _stage(number: int, node: Node, of: int) -> dict[str, Any]:
    path = ["stages", number]
    named = node.get("name")
    name = named[1].text if named is not None else f"stage {number + 1}"
    block = _block(f"stage-{number}", name, path, node, "stage", name)
    block |= {"stage": name, "first": number == 0, "last": number == of - 1, "only": of == 1}
    block["title"] = _field(path, node, "name", f"name of stage {number + 1}")
    block["parts"] = [
        *_parts(path, node, "engines", "engine", name),
        *_parts(path, node, "tanks", "tank", name),
        *_parts(path, node, "parts", "part", name),
        *_parts([*path, "home"], _child(node, "home"), "parachutes", "parachute", name),
    ]
    return block


def _parts(
    path: list[Step], node: Node | None, key: str, kind: str, name: str = ""
) -> Iterator[dict[str, Any]]:
    """A block for each entry of a list."""
    pair = node.get(key) if node is not None else None
    if pair is None or pair[1].kind != "list":
        return
    items = pair[1].items
    for number, item in enumerate(items):
        if item.kind == "block":
            at = [*path, key, number]
            label = f"{name}, {kind}" if name else kind
            label = f"{label} {number + 1}" if len(items) > 1 else label
            part = _block("-".join(map(str, at)).replace(" ", "-"), "", at, item, kind, label)
            part |= {"first": number == 0, "last": number == len(items) - 1, "only": len(items) == 1}
            yield part


def _block(
    name: str, heading: str, path: list[Step], node: Node | None, kind: str, label: str = ""
) -> dict[str, Any]:
    """One block of the file in sentences; what no sentence speaks of follows by its key."""
    said: dict[str, Node] = dict(_values(node)) if node is not None else {}
    taken = {"name"} if kind == "stage" else {"name", "story"} if kind == "concept" else set()
    sentences = []
    for template in TOLD.get(kind, ()):
        sentence = _sentence(template, said, taken, path, label)
        if sentence:
            sentences.append(sentence)
    rest = [key for key in said if key not in taken and said[key].kind == "text"]
    sentences += [[f"{_capital(key.split('/')[-1])}: ", _hole(key, said, path, label), "."] for key in rest]
    lists = [key for key in said if key not in taken and said[key].kind == "list"]
    sentences += [
        [f"{_capital(key.split('/')[-1])}: {len(said[key].items)} points, in the file."] for key in lists
    ]
    return {"id": name, "kind": kind, "heading": heading, "path": path, "sentences": sentences}


def more(document: Document, path: list[Step]) -> list[dict[str, Any]]:
    """What else could be said of the block at a path, and of the blocks in it."""
    node, gone = document.reach(path)
    block = node if gone == len(path) and node.kind == "block" else None
    return list(_more(path, block))


def _more(path: list[Step], node: Node | None) -> Iterator[dict[str, Any]]:
    for one in unsaid(path, [key.text for key, _ in node.entries] if node is not None else []):
        yield {**one, "path": [*path, one["key"]]}
    if node is None:
        return
    for key, value in node.entries:
        if value.kind == "block" and not (path == [] and key.text == "limits"):
            for one in unsaid([*path, key.text], [k.text for k, _ in value.entries]):
                yield {**one, "key": f"{key.text}: {one['key']}", "path": [*path, key.text, one["key"]]}


def _values(node: Node, above: str = "") -> Iterator[tuple[str, Node]]:
    """Every value of a block by its path in it; lists of blocks are told apart."""
    for key, value in node.entries:
        path = f"{above}{key.text}"
        if value.kind == "block":
            if not (not above and key.text == "limits"):
                yield from _values(value, f"{path}/")
        elif value.kind == "text" or not (value.items and value.items[0].kind == "block"):
            yield path, value


def _sentence(
    template: Sequence[Fragment], said: dict[str, Node], taken: set[str], path: list[Step], label: str
) -> Sentence:
    """A sentence of those fragments whose values are said; [] where its first is not."""
    made: Sentence = []
    for fragment in template:
        for words in (fragment,) if isinstance(fragment, str) else fragment:
            holes = _HOLE.findall(words)
            if all(key in said and said[key].kind == "text" and key not in taken for key in holes) and (
                holes or made
            ):
                taken.update(holes)
                made += _filled(words if made else _begun(words), said, path, label)
                break
    if not made:
        return []
    last = made[-1]
    if isinstance(last, str):
        made[-1] = f"{last}." if not last.endswith((".", "!")) else last
    else:
        made.append(".")
    return made


def _filled(words: str, said: dict[str, Node], path: list[Step], label: str) -> Sentence:
    made: Sentence = []
    at = 0
    for hole in _HOLE.finditer(words):
        if hole.start() > at:
            made.append(words[at : hole.start()])
        made.append(_hole(hole[1], said, path, label))
        at = hole.end()
        if hole[1] == "count" and made[-1]["value"].strip() == "1":
            words = words.replace("engines", "engine").replace("tanks hold", "tank holds")
    if at < len(words):
        made.append(words[at:])
    return made


def _begun(words: str) -> str:
    return _capital(words.lstrip(" ,;:").removeprefix("and "))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _hole(key: str, said: dict[str, Node], path: list[Step], label: str) -> dict[str, Any]:
    steps = key.split("/")
    words = ", ".join(part for part in (label, " ".join(steps)) if part)
    return field([*path, *steps], said[key].text, words)


def _list_block(root: Node, key: str, heading: str) -> dict[str, Any]:
    """Requirements or claims: a sentence for each."""
    pair = root.get(key)
    sentences = []
    items = pair[1].items if pair is not None and pair[1].kind == "list" else []
    for number, item in enumerate(items):
        if item.kind != "block" or len(item.entries) != 1 or item.entries[0][1].kind != "text":
            continue
        name, value = item.entries[0][0].text, item.entries[0][1].text
        template = OBJECTIVES.get(name) or (ASKED if key == "require" else CLAIM)
        whole = {"value": field([key, number, name], value, f"{heading.lower()}: {name}")}
        made: Sentence = []
        for piece in re.split(r"(\{value\})", template.replace("{name}", _capital(name))):
            if piece:
                made.append(whole["value"] if piece == "{value}" else piece)
        sentences.append({"path": [key, number], "name": name, "pieces": made})
    return {"id": key, "kind": key, "heading": heading, "path": [key], "items": sentences, "sentences": []}
