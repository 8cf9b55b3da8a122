"""Adding, doubling, moving and taking away: what the page's buttons do to the file."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from wetmass.app.telling import more
from wetmass.concept import editing
from wetmass.concept.dimensions import example
from wetmass.concept.document import Document
from wetmass.concept.measures import MEASURES, Measure
from wetmass.record.refusal import Complaint, Refusal

_SMALLER = 0.3  # a new stage's thrust and mass beside those of the stage below: common practice
_ENGINE = "{count: 1, thrust: {vacuum: 60 kN}, isp: {vacuum: 340 s}, exit diameter: 1 m}"
_CAN_BE_REQUIRED = {m: meaning for m, meaning in MEASURES.items() if meaning.required}


def add(doc: Document, what: str, path: Sequence[str | int], name: str) -> tuple[Document, str]:
    """(the document with something more, words for it).  Raises Refusal where that cannot be.

    what  stage | engine | tank | require | claim | key
    path  of the stage, for engines and tanks; of the key, for a key
    name  of the measure, for requirements and claims
    """
    if what == "stage":
        made, called = _with_stage(doc)
        return made, f"added the stage {called}"
    if what in ("engine", "tank"):
        at = [*path, "engines" if what == "engine" else "tanks"]
        node, gone = doc.reach(at)
        there = gone == len(at) and node.kind == "list" and node.items
        if there:
            return editing.copied(doc, [*at, len(node.items) - 1]), f"added a group of {what}s"
        entry = _ENGINE if what == "engine" else _tank(doc, path)
        return editing.with_entry(doc, at, entry), f"added a {what}"
    if what in ("require", "claim"):
        entry = next((one for one in offers(doc, what) if one["key"] == name), None)
        if entry is None:
            raise Refusal(Complaint(what, f'"{name[:60]}"', "one of those offered", "choose one of the list"))
        key = "require" if what == "require" else "claims"
        return editing.with_entry(
            doc, key, f"{{{entry['key']}: {entry['example']}}}"
        ), f"added {entry['key']}"
    if what == "key":
        return _with_key(doc, path)
    raise Refusal(
        Complaint("add", f'"{what[:40]}"', "a stage, an engine, a tank, a key", "load the page again")
    )


def _with_key(doc: Document, path: Sequence[str | int]) -> tuple[Document, str]:
    for depth in (len(path) - 1, len(path) - 2):
        if depth < 0:
            continue
        for one in more(doc, list(path[:depth])):
            if one["path"] == list(path):
                value = one["example"]
                if value == "…":
                    break
                if value[:1] in "{[":
                    return editing.with_key(doc, path, value), f"added {one['key']}"
                return doc.set(list(path), value), f"added {one['key']}"
    raise Refusal(Complaint("add", f'"{path[-1]}"', "a key that can be said here", "choose one of the list"))


def offers(doc: Document, what: str) -> list[dict[str, str]]:
    """Requirements or claims that can be added: key, what it means, an example."""
    names = _names(doc)
    said = {key for entry in _plain_list(doc, "require" if what == "require" else "claims") for key in entry}
    made = []
    for measure, meaning in (_CAN_BE_REQUIRED if what == "require" else MEASURES).items():
        for stage in names if meaning.of_stage else [""]:
            key = f"{stage} {measure}".strip()
            if key not in said:
                bound = (
                    ("at most " if measure is Measure.LIFT_OFF_MASS else "at least ")
                    if what == "require"
                    else ""
                )
                made.append(
                    {"key": key, "words": meaning.words, "example": bound + example(meaning.dimension)}
                )
    if what == "require" and not said & {"most", "least"}:
        made.insert(
            0, {"key": "most", "words": "make the payload the most of the freedom left", "example": "payload"}
        )
        made.insert(
            1, {"key": "least", "words": "make the lift-off mass the least", "example": "lift-off mass"}
        )
    return made


def _plain_list(doc: Document, key: str) -> list[dict[str, Any]]:
    node, gone = doc.reach([key])
    plain = node.plain() if gone == 1 and node.kind == "list" else []
    return [entry for entry in plain if isinstance(entry, dict)]


def _names(doc: Document) -> list[str]:
    return [str(stage["name"]) for stage in _plain_list(doc, "stages") if "name" in stage]


def new_name(doc: Document, like: str = "") -> str:
    """A name no stage has: the next ordinal, or the same with a number behind it."""
    taken = {name.casefold() for name in _names(doc)}
    ordinals = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
    if like and like.casefold() not in ordinals:
        return next(f"{like} {n}" for n in range(2, 99) if f"{like} {n}".casefold() not in taken)
    later = ordinals[len(taken) :] if taken <= set(ordinals) else ordinals
    return next((name for name in later if name not in taken), f"stage {len(taken) + 1}")


def name_of_copy(doc: Document, path: Sequence[str | int]) -> str:
    """What the copy of a stage is called; "" for what needs no name of its own."""
    if len(path) != 2 or path[0] != "stages":
        return ""
    node, _ = doc.reach([*path, "name"])
    return new_name(doc, node.text)


def _with_stage(doc: Document) -> tuple[Document, str]:
    """One more stage on top: the pair of the one below, and a fraction of its thrust."""
    stages = _plain_list(doc, "stages")
    core = [stage for stage in stages if "strapped to" not in stage]
    below = core[-1] if core else {}
    name = new_name(doc)
    burns = below.get("propellant") if isinstance(below.get("propellant"), dict) else {}
    pair, ratio = str(burns.get("pair", "LOX/LCH4")), burns.get("mixture ratio")
    engines = below.get("engines")
    engine = engines[0] if isinstance(engines, list) and engines and isinstance(engines[0], dict) else {}
    ignitions = ", ignitions: 2" if str(engine.get("ignitions", "1")) not in ("1", "") else ""
    lines = [
        f"name: {name}",
        f"diameter: {below.get('diameter', '2.4 m')}",
        "structural fraction: 12 %",
        f"propellant: {{pair: {pair}, {f'mixture ratio: {ratio}, ' if ratio else ''}mass: find, residuals: 1 %}}",
        "engines:",
        f"  - {{count: 1, thrust: {{vacuum: {_thrust(engine)}}}, isp: {{vacuum: {_isp(engine)}}}, "
        f"exit diameter: 1 m, minimum throttle: 40 %{ignitions}}}",
        "pause before ignition: 4 s",
    ]
    held = _holds(pair)
    if held:
        lines += ["tanks:", *(f"  - {{holds: {one}, shape: sphere, ullage: 3 %}}" for one in held)]
    return editing.with_entry(doc, "stages", "\n".join(lines)), name


def _thrust(engine: dict[str, Any]) -> str:
    from wetmass.concept.dimensions import FORCE
    from wetmass.concept.statement import parse_quantity
    from wetmass.record.digits import readable

    figures = engine.get("thrust") if isinstance(engine.get("thrust"), dict) else {}
    try:
        value = parse_quantity(str(figures.get("vacuum") or figures.get("sea level")), FORCE).value
        return f"{readable(_SMALLER * value / 1e3, 2)} kN"
    except Refusal:
        return "60 kN"


def _isp(engine: dict[str, Any]) -> str:
    figures = engine.get("isp") if isinstance(engine.get("isp"), dict) else {}
    return str(figures.get("vacuum", "340 s")).split("±")[0].strip()


def _holds(pair: str) -> tuple[str, ...]:
    from wetmass.concept.pairs import parts_of

    parts = parts_of(pair)
    return () if parts == ("solid",) else parts


def _tank(doc: Document, path: Sequence[str | int]) -> str:
    node, _ = doc.reach([*path, "propellant"])
    pair = node.get("pair") if node.kind == "block" else None
    held = _holds(pair[1].text if pair is not None else "LOX/LCH4") or ("fuel",)
    return f"{{holds: {held[0]}, shape: cylinder, ullage: 3 %}}"
