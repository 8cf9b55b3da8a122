"""What the models refuse, as complaints: each at its place, its field named by the path in words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from wetmass.concept.block import Gathered
from wetmass.concept.document import Document, child
from wetmass.concept.model import Concept
from wetmass.concept.tree import Node
from wetmass.concept.wording import WrongKey, nearest, shown
from wetmass.record.refusal import Complaint, Place, Refusal

MOST_TOLD = 40  # errors of one file told at once; more are counted


def with_path(one: Complaint, document: Document) -> Complaint:
    """A complaint about the text itself, its field named by the whole path."""
    path = document.path_at(one.place) if one.place else []
    above, _ = document.reach(path[:-1])
    if not path or (above.kind == "block" and path[-1] != one.field):
        return one  # a doubled key is not in the tree; its own name tells enough
    return Complaint(_words(path, document), one.got, one.accepted, one.remedy, one.place)


def complaints(error: ValidationError, document: Document) -> tuple[list[Complaint], int]:
    """The complaints, and how many errors were left out."""
    found: list[Complaint] = []
    judged: list[str] = []
    entries = list(_entries(error, []))
    # to look for the nearest name of thousands of keys would take seconds
    entries, rest = entries[: 3 * MOST_TOLD], entries[3 * MOST_TOLD :]
    mistyped = [(path[:-1], str(path[-1])) for path, entry in entries if entry["type"] == "extra_forbidden"]
    for path, entry in entries:
        if entry["type"] == "missing" and any(
            above == path[:-1] and nearest(key, _known(above)) == path[-1] for above, key in mistyped
        ):
            continue  # the mistyped key is told
        words = f"{_words(path, document)} / "
        if any(words.startswith(f"{one} / ") for one in judged):
            continue  # that its key does not belong there is told
        held = entry.get("ctx", {}).get("error")
        if not isinstance(held, Refusal):
            at_key = entry["type"] == "extra_forbidden"
            _put(found, document, path, _plain_complaint(entry, path, document), at_key)
            continue
        for one in held.complaints:
            below = [part.strip() for part in one.field.split(" / ") if part.strip()]
            below = [] if one.field == "value" else below
            _put(found, document, [*path, *below], one, isinstance(held, WrongKey))
            if below and entry["type"] == "keys":
                judged.append(_words([*path, *below], document))
    return found, len(rest)


def _entries(error: ValidationError, above: list[Any]) -> Iterator[tuple[list[Any], Any]]:
    """(path, error) of each error, those gathered within a block too."""
    for entry in error.errors(include_url=False, include_input=False):
        path = above + [
            part for part in entry["loc"] if isinstance(part, int) or not part.startswith("function-")
        ]
        held = entry.get("ctx", {}).get("error")
        if isinstance(held, Gathered):
            yield path, {"type": "keys", "ctx": {"error": held.refusal}}
            yield from _entries(held.error, path)
        else:
            yield path, entry


def _put(found: list[Complaint], document: Document, path: list[Any], one: Complaint, at_key: bool) -> None:
    node, steps = document.reach(path)
    if node.spoiled:
        return
    empty = node.kind == "text" and node.start == node.end and steps and steps == len(path)
    if at_key or empty:  # an empty value has no place of its own
        above, _ = document.reach(path[:-1])
        pair = above.get(str(path[-1]))
        node = pair[0] if pair else node
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
        near, elsewhere = nearest(key, known), _elsewhere(key, path[:-1])
        remedy = f'write "{near}", if that is meant' if near else "check the key, or delete it"
        if elsewhere:
            remedy = f"move it to {elsewhere}, where such a key belongs"
        return Complaint(key, f"the key {shown(key)}", f"one of {', '.join(known)}", remedy)
    node, steps = document.reach(path)
    got = shown(node.plain()) if steps == len(path) else "nothing"
    if kind in ("tuple_type", "list_type"):
        entry = _entry(path)
        remedy = f'put each entry behind its own "-"{f", such as - {entry}" if entry else ""}'
        return Complaint(key, got, f"a list: {_described(path)}", remedy)
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        known = _known(path)
        return Complaint(
            key,
            got,
            f"a block with the keys {', '.join(known)}",
            f"write it as {{{_minimum(path, node.text if steps == len(path) else '')}}} or as indented lines",
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
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in get_args(annotation) for model in _models(part)]


def _field(model: type[BaseModel], key: str) -> Any:
    return next((field for field in model.model_fields.values() if field.alias == key), None)


def _field_at(path: list[Any]) -> Any:
    """The field a path leads to, None where it leads to none."""
    model = _model(path[:-1])
    return _field(model, str(path[-1])) if model else None


def _known(path: list[Any]) -> list[str]:
    model = _model(path)
    return [str(field.alias) for field in model.model_fields.values()] if model else []


def _described(path: list[Any]) -> str:
    field = _field_at(path)
    return str(field.description) if field is not None else "a value"


def _owner(path: list[Any]) -> str:
    model = _model(path[:-1])
    if model is None:
        return "block"
    return getattr(model, "called", "") or re.sub(r"(?<=[a-z])(?=[A-Z])", " ", model.__name__).lower()


def _example(path: list[Any]) -> str:
    from wetmass.concept.reference import example_of

    field = _field_at(path)
    return example_of(field) if field is not None else "…"


def _entry(path: list[Any]) -> str:
    from wetmass.concept.reference import entry_of

    field = _field_at(path)
    return entry_of(field) if field is not None else ""


def _elsewhere(key: str, path: list[Any]) -> str:
    """Where a key would be known: in a block below, or else above; "" where it is not known there."""
    model = _model(path)
    for field in model.model_fields.values() if model else ():
        if any(_field(below, key) is not None for below in _models(field.annotation)):
            return str(field.alias)
    for steps in range(len(path) - 1, -1, -1):
        if not isinstance(path[steps], int) and key in _known(path[:steps]):
            owner = _owner([*path[:steps], ""])
            return f"the {owner}" if steps else "the concept itself"
    return ""


def _minimum(path: list[Any], typed: str) -> str:
    """What a block is begun with; what was typed for it stands where its first key reads it."""
    from wetmass.concept.reference import example_of, reader_of, smallest

    model = _model(path)
    if model is None:
        return "…"
    begun = smallest(model)
    field = _field(model, begun.split(":")[0])
    reader = reader_of(field.annotation, field.metadata) if field is not None else None
    try:
        fits = bool(typed.strip()) and reader is not None and bool(reader.read(typed, None))
    except Refusal:
        fits = False
    return begun.replace(example_of(field), " ".join(typed.split()), 1) if fits else begun
