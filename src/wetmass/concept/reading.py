"""From a file to a concept: every wrong statement told at once, each at its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from wetmass.concept.block import Gathered
from wetmass.concept.document import Document, child
from wetmass.concept.document import save as _save
from wetmass.concept.fields import WrongKey, nearest, shown
from wetmass.concept.model import MOST_STAGES, Concept
from wetmass.concept.tree import LARGEST_FILE, Node, position, tree
from wetmass.record.refusal import Complaint, Place, Refusal

MOST_TOLD = 40  # errors of one file told at once; more are counted


def load(path: str | Path) -> Concept:
    """The concept in a file.

    Raises Refusal, with all complaints of the file in its order, and nothing else.
    """
    name = str(path)
    data = _bytes(Path(path), name)
    mark, data = ("\ufeff", data[3:]) if data.startswith(b"\xef\xbb\xbf") else ("", data)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line, column = position(data[: error.start].decode("utf-8"), error.start)
        got = f"the byte 0x{data[error.start]:02x}, which is no UTF-8"
        raise Refusal(
            Complaint(
                "text",
                got,
                "text in UTF-8",
                "save the file as UTF-8 in the editor",
                Place(name, line, column),
            )
        ) from None
    return _read(text, name, mark)


def loads(text: str, name: str = "concept") -> Concept:
    """The concept in a text; `name` is what errors call it.  Raises Refusal as `load` does."""
    if len(text.encode("utf-8", "surrogatepass")) > LARGEST_FILE:
        raise Refusal(_too_large(name))
    mark, text = ("\ufeff", text[1:]) if text.startswith("\ufeff") else ("", text)
    return _read(text, name, mark)


def concept_of(document: Document) -> Concept:
    """The concept of a document that is read already.  Raises Refusal as `load` does."""
    return _judged(document, [])


def save(what: Concept | Document, path: str | Path) -> None:
    """Write the file of a concept, byte for byte as it was read.  Raises Refusal when it cannot be."""
    document = what.document if isinstance(what, Concept) else what
    if document is None:
        raise Refusal(
            Complaint(
                "file", "a concept made in Python", "one that was read from a text", "use concept.loads"
            )
        )
    _save(document, path)


def _bytes(path: Path, name: str) -> bytes:
    def refused(got: str, accepted: str, remedy: str) -> Refusal:
        return Refusal(Complaint("file", got, accepted, remedy, Place(name, 1, 1)))

    try:
        if path.is_dir():
            raise refused("a folder", "a concept file, such as dunlin.yaml", "name a file in it")
        if path.exists() and not path.is_file():
            raise refused("something that is not a plain file", "a concept file", "name a plain file")
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 4)
    except Refusal:
        raise
    except FileNotFoundError:
        near = _near_file(path)
        advice = f'did you mean "{near}"?' if near else "the folder has no file of a name like it"
        raise refused("no such file", "a concept file", f"check the name; {advice}") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise refused(
            f"a file that cannot be opened ({reason})", "a readable file", "check its permissions"
        ) from None
    if len(data) > LARGEST_FILE:
        raise Refusal(_too_large(name))
    return data


def _near_file(path: Path) -> str | None:
    try:
        names = [entry.name for entry in path.parent.iterdir() if entry.suffix in (".yaml", ".yml")][:500]
    except OSError:
        return None
    return nearest(path.name, names)


def _too_large(name: str) -> Complaint:
    got = f"more than {LARGEST_FILE // 1024} KiB"
    return Complaint(
        "file",
        got,
        f"{LARGEST_FILE // 1024} KiB at most, ten times a long concept",
        "keep one concept a file",
        Place(name, 1, 1),
    )


def _read(text: str, name: str, mark: str) -> Concept:
    root, found = tree(text, name)
    return _judged(Document(text, name, root, mark), found)


def _judged(document: Document, found: list[Complaint]) -> Concept:
    """The concept of a document; `found` are complaints about its text."""
    root, name, untold = document.root, document.name, 0
    if root.kind != "block":
        got = "a list" if root.kind == "list" else shown(root.text)
        raise Refusal(
            Complaint(
                "concept",
                got,
                "a block of keys: name, site, mission, payload, stages …",
                'start with "name: Dunlin"',
                Place(name, root.line, root.column),
            )
        )
    found = [_with_path(one, document) for one in found]
    names = _stage_names(root)
    try:
        concept = Concept.model_validate(root.plain(), context={"stage names": names})
    except ValidationError as error:
        more, untold = _complaints(error, document)
        found += more
    if found:
        found.sort(key=lambda one: (one.place.line, one.place.column) if one.place else (0, 0))
        raise Refusal(*found[:MOST_TOLD], *_untold(found[MOST_TOLD:], untold))
    concept._document = document
    return concept


def _untold(rest: list[Complaint], more: int) -> list[Complaint]:
    if not rest:
        return []
    got, remedy = f"{len(rest) + more} more errors", "correct those above first"
    return [Complaint("concept", got, "a file without any", remedy, rest[0].place)]


def _with_path(one: Complaint, document: Document) -> Complaint:
    """A complaint about the text itself, its field named by the whole path."""
    path = document.path_at(one.place) if one.place else []
    above, _ = document.reach(path[:-1])
    if not path or (above.kind == "block" and path[-1] != one.field):
        return one  # a doubled key is not in the tree; its own name tells enough
    return Complaint(_words(path, document), one.got, one.accepted, one.remedy, one.place)


def _stage_names(root: Node) -> list[str]:
    pair = root.get("stages")
    if pair is None or pair[1].kind != "list":
        return []
    named = (item.get("name") for item in pair[1].items if item.kind == "block")
    return [" ".join(pair[1].text.split()) for pair in named if pair is not None][:MOST_STAGES]


def _complaints(error: ValidationError, document: Document) -> tuple[list[Complaint], int]:
    """The complaints, and how many errors were left out."""
    found: list[Complaint] = []
    entries = list(_entries(error, []))
    # to look for the nearest name of thousands of keys would take seconds
    entries, rest = entries[: 3 * MOST_TOLD], entries[3 * MOST_TOLD :]
    mistyped = [(path[:-1], str(path[-1])) for path, entry in entries if entry["type"] == "extra_forbidden"]
    for path, entry in entries:
        if entry["type"] == "missing" and any(
            above == path[:-1] and nearest(key, _known(above)) == path[-1] for above, key in mistyped
        ):
            continue  # the mistyped key is told
        held = entry.get("ctx", {}).get("error")
        if isinstance(held, Refusal):
            for one in held.complaints:
                below = (
                    [part.strip() for part in one.field.split(" / ") if part.strip()]
                    if one.field != "value"
                    else []
                )
                _put(found, document, [*path, *below], one, isinstance(held, WrongKey))
        else:
            _put(
                found,
                document,
                path,
                _plain_complaint(entry, path, document),
                entry["type"] == "extra_forbidden",
            )
    return found, len(rest)


def _entries(error: ValidationError, above: list[Any]) -> Iterator[tuple[list[Any], Any]]:
    """(path, error) of each error, those gathered within a block too."""
    for entry in error.errors(include_url=False, include_input=False):
        path = above + [
            part for part in entry["loc"] if isinstance(part, int) or not part.startswith("function-")
        ]
        held = entry.get("ctx", {}).get("error")
        if isinstance(held, Gathered):
            yield path, {"type": "value_error", "ctx": {"error": held.refusal}}
            yield from _entries(held.error, path)
        else:
            yield path, entry


def _put(found: list[Complaint], document: Document, path: list[Any], one: Complaint, at_key: bool) -> None:
    node, steps = document.reach(path)
    if node.spoiled:
        return
    if at_key:
        above, _ = document.reach(path[:-1])
        pair = above.get(str(path[-1]))
        node = pair[0] if pair else node
    elif node.kind == "text" and node.start == node.end and steps and steps == len(path):
        above, _ = document.reach(path[:-1])
        pair = above.get(str(path[-1]))
        node = pair[0] if pair else node  # an empty value has no place of its own
    place = Place(document.name, node.line, node.column)
    found.append(Complaint(_words(path, document), one.got, one.accepted, one.remedy, place))


def _words(path: list[Any], document: Document) -> str:
    """A path in words: entries of lists by their name, or by number from 1."""
    words: list[str] = []
    node: Node | None = document.root
    for part in path:
        below = child(node, part) if node is not None else None
        if isinstance(part, int):
            named = below.get("name") if below is not None and below.kind == "block" else None
            unique = named and named[1].text.strip() and words[-1:] == ["stages"]
            words.append(" ".join(named[1].text.split()) if named and unique else str(part + 1))
        elif isinstance(part, str) and part.isdigit() and below is not None and words[-1:] == ["stages"]:
            named = below.get("name")
            words.append(" ".join(named[1].text.split()) if named else part)
        else:
            words.append(str(part))
        node = below
    return " / ".join(word if len(word) <= 60 else word[:57] + "…" for word in words) or "concept"


def _plain_complaint(entry: Any, path: list[Any], document: Document) -> Complaint:
    """A complaint for what the models refuse by themselves: missing, unknown, or not of the right form."""
    kind, key = entry["type"], str(path[-1]) if path else ""
    if kind == "missing":
        example = _example(path)
        return Complaint(
            key, "nothing", f"{_described(path)}, which every {_owner(path)} needs", f'add "{key}: {example}"'
        )
    if kind == "extra_forbidden":
        known = _known(path[:-1])
        near = nearest(key, known)
        return Complaint(
            key,
            f"the key {shown(key)}",
            f"one of {', '.join(known)}",
            f'write "{near}", if that is meant' if near else "check the key, or delete it",
        )
    node, steps = document.reach(path)
    got = shown(node.plain()) if steps == len(path) else "nothing"
    if kind in ("tuple_type", "list_type"):
        return Complaint(key, got, "a list", 'put each entry behind its own "-"')
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        known = _known(path)
        return Complaint(
            key,
            got,
            f"a block with the keys {', '.join(known)}",
            f"write it as {{{_minimum(path)}}} or as indented lines",
        )
    return Complaint(key, got, entry["msg"], "check the value")


def _model(path: list[Any]) -> type[BaseModel] | None:
    """The model a path leads to."""
    model: type[BaseModel] = Concept
    for part in path:
        if isinstance(part, int):
            continue
        field = _field(model, str(part))
        below = next(iter(_models(field.annotation)), None) if field is not None else None
        if below is None:
            return None
        model = below
    return model


def _models(annotation: Any) -> list[type[BaseModel]]:
    from typing import get_args

    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in get_args(annotation) for model in _models(part)]


def _field(model: type[BaseModel], key: str) -> Any:
    return next((field for field in model.model_fields.values() if field.alias == key), None)


def _known(path: list[Any]) -> list[str]:
    model = _model(path)
    return [str(field.alias) for field in model.model_fields.values()] if model else []


def _described(path: list[Any]) -> str:
    model = _model(path[:-1])
    field = _field(model, str(path[-1])) if model else None
    return str(field.description) if field is not None else "a value"


def _owner(path: list[Any]) -> str:
    model = _model(path[:-1])
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", model.__name__).lower() if model else "block"


def _example(path: list[Any]) -> str:
    from wetmass.concept.reference import example_of

    model = _model(path[:-1])
    field = _field(model, str(path[-1])) if model else None
    return example_of(field) if field is not None else "…"


def _minimum(path: list[Any]) -> str:
    from wetmass.concept.reference import smallest

    model = _model(path)
    return smallest(model) if model else "…"
