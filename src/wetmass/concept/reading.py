"""From a file to a concept: every wrong statement told at once, each at its place."""

from __future__ import annotations

from pathlib import Path

from pydantic import ValidationError

from wetmass.concept.characters import position
from wetmass.concept.complaints import MOST_TOLD, complaints, with_path
from wetmass.concept.document import Document
from wetmass.concept.document import save as _save
from wetmass.concept.model import MOST_STAGES, Concept
from wetmass.concept.tree import LARGEST_FILE, Node, tree
from wetmass.concept.wording import nearest, shown
from wetmass.record.refusal import Complaint, Place, Refusal


def load(path: str | Path) -> Concept:
    """The concept in a file.

    Raises Refusal, with all complaints of the file in its order, and nothing else.
    """
    name = str(path) or "."
    data = _bytes(Path(path), name)
    mark, data = ("\ufeff", data[3:]) if data.startswith(b"\xef\xbb\xbf") else ("", data)
    _refuse_what_is_no_text(data, name)
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
    except PermissionError as error:
        got = f"a file that cannot be opened ({error.strerror})"
        raise refused(got, "a readable file", "check its permissions") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        remedy = "check the name, or name another file"
        raise refused(f"a file that cannot be opened ({reason})", "a readable file", remedy) from None
    if len(data) > LARGEST_FILE:
        raise Refusal(_too_large(name))
    return data


def _near_file(path: Path) -> str | None:
    try:
        names = [entry for entry in path.parent.iterdir() if entry.suffix in (".yaml", ".yml")][:500]
    except OSError:
        return None
    stems = {entry.stem: entry.name for entry in names}
    near = nearest(path.stem, stems)  # the ending alone makes no likeness
    return stems[near] if near is not None else None


_MARKS = {b"\xff\xfe": "UTF-16 or UTF-32", b"\xfe\xff": "UTF-16", b"\x00\x00\xfe\xff": "UTF-32"}


def _refuse_what_is_no_text(data: bytes, name: str) -> None:
    """Raises Refusal for a text of another encoding, a picture, an archive, a program."""
    coding = next((words for mark, words in _MARKS.items() if data.startswith(mark)), None)
    found = data.find(b"\x00")
    if coding is None and found >= 0 and not (any(data[1:64:2]) and any(data[:64:2])):
        coding = "UTF-16"  # every second byte is null
    if coding is not None:
        got, remedy, place = f"text in {coding}", "save the file as UTF-8 in the editor", (1, 1)
    elif found >= 0:
        got, remedy = "a file that is no text: it holds null bytes", "name the concept, a YAML file"
        place = position(data[:found].decode("latin-1"), found)
    else:
        return
    raise Refusal(Complaint("file", got, "a concept in text, UTF-8", remedy, Place(name, *place)))


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
    found = [with_path(one, document) for one in found]
    names = _stage_names(root)
    try:
        concept = Concept.model_validate(root.plain(), context={"stage names": names})
    except ValidationError as error:
        more, untold = complaints(error, document)
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


def _stage_names(root: Node) -> list[str]:
    pair = root.get("stages")
    if pair is None or pair[1].kind != "list":
        return []
    named = (item.get("name") for item in pair[1].items if item.kind == "block")
    return [" ".join(pair[1].text.split()) for pair in named if pair is not None][:MOST_STAGES]
