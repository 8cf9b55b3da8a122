"""What a page can ask of the room it is in: each deed checked first, and refused in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from wetmass.app import asking, structure
from wetmass.app.telling import more
from wetmass.concept import editing
from wetmass.concept.document import document
from wetmass.record.system import SYSTEMS

if TYPE_CHECKING:
    from wetmass.app.page import Page
    from wetmass.app.room import Room

VIEWS = ("charts", "working")
Asked = dict[str, Any]
Deed = Callable[["Room", "Page", Asked], None]


def do(room: Room, page: Page, asked: Asked) -> None:
    """Do what a page asks.  Raises Refusal, told to that page alone."""
    deed = DEEDS.get(asked["type"])
    if deed is None:
        got = f'"{asked["type"][:40]}"'
        raise asking.refused("type", got, "what this page can ask", "load the page again")
    deed(room, page, asked)


def _label(asked: Asked) -> str:
    return asking.words(asked, "label", 200)


def _newest(room: Room, asked: Asked) -> None:
    """Whether the page saw the file as it is: what stands where may have changed since."""
    if asked.get("revision") != room.book.revision:
        got = "a page that had not seen the last change"
        raise asking.refused("change", got, "the file as it is now", "try it again")


# ── the file ──


def _set(room: Room, page: Page, asked: Asked) -> None:
    path, value = asking.path(asked), asking.words(asked, "value")
    was, gesture = asking.words(asked, "was"), asking.words(asked, "gesture", 60)
    node, gone = room.book.document.reach(path)
    now = node.text if gone == len(path) and node.kind == "text" else ""
    if now != was and now != value:
        page.tell({"type": "overtaken", "path": path, "now": now, "value": value})
        page.tell(room.concept())
        return
    words = f"{_label(asked)}: {was or 'nothing'} → {value}"
    if not room.change(lambda doc: doc.set(path, value), words, gesture, path):
        page.tell(room.value(path))  # another page has set the same


def _remove(room: Room, page: Page, asked: Asked) -> None:
    path = asking.path(asked)
    _newest(room, asked)
    room.change(lambda doc: editing.without(doc, path), f"{_label(asked)} taken away")


def _add(room: Room, page: Page, asked: Asked) -> None:
    _newest(room, asked)
    what, name = asking.words(asked, "what", 40), asking.words(asked, "name", 120)
    made, done = structure.add(room.book.document, what, asking.path(asked, least=0), name)
    room.change(lambda _: made, done)


def _copy(room: Room, page: Page, asked: Asked) -> None:
    _newest(room, asked)
    path = asking.path(asked)
    name = structure.name_of_copy(room.book.document, path)
    room.change(lambda doc: editing.copied(doc, path, name), f"{_label(asked)} doubled")


def _move(room: Room, page: Page, asked: Asked) -> None:
    _newest(room, asked)
    path, by = asking.path(asked), 1 if asked.get("by") == 1 else -1
    room.change(lambda doc: editing.moved(doc, path, by), f"{_label(asked)} moved")


def _text(room: Room, page: Page, asked: Asked) -> None:
    """The whole file as text, for what no sentence can change."""
    _newest(room, asked)
    text = asking.words(asked, "text", asking.LARGEST_WORKING, lines=True)
    room.change(lambda old: document(text, old.name, old.mark), "the text of the file", anew=True)


def _told(room: Room, page: Page, asked: Asked) -> None:
    """The end of a gesture: the sentences anew."""
    room.end_gesture()


def _undo(room: Room, page: Page, asked: Asked) -> None:
    words = room.book.can_undo
    if room.book.undo():
        room.stepped(f"undone: {words}")


def _redo(room: Room, page: Page, asked: Asked) -> None:
    words = room.book.can_redo
    if room.book.redo():
        room.stepped(words)


def _save(room: Room, page: Page, asked: Asked) -> None:
    name = asking.words(asked, "as", 120)
    if not name:
        if room.book.renamed and asked.get("sure") is not True:
            page.tell({"type": "which", "proposed": room.proposed()})
            return
        saved = room.book.save()
        room.tell(room.concept())
        if saved:
            room.tell({"type": "saved", "words": f"Saved in {room.book.path.name}."})
        return
    if not name.endswith((".yaml", ".yml")):
        name += ".yaml"
    before = room.book.path.name
    room.book.save_as(room.hall.folder.path(name))
    room.hall.renamed(before, room)
    room.book.notice = ""
    room.compute()
    room.tell(room.concept())
    room.tell({"type": "saved", "words": f"Saved as {name}; what you do now goes there."})


def _settle(room: Room, page: Page, asked: Asked) -> None:
    room.book.settle("theirs" if asked.get("take") == "theirs" else "ours")
    room.stepped("the file on the disk")


# ── what is shown ──


def _more(room: Room, page: Page, asked: Asked) -> None:
    path = asking.path(asked, least=0)
    key = str(path[0]) if len(path) == 1 else ""
    if key in ("require", "claims"):
        offers = structure.offers(room.book.document, "require" if key == "require" else "claim")
    else:
        offers = [one for one in more(room.book.document, path) if one["example"] != "…"]
    page.tell({"type": "more", "path": path, "offers": offers})


def _units(room: Room, page: Page, asked: Asked) -> None:
    system = asking.words(asked, "system", 40)
    if system not in SYSTEMS:
        raise asking.refused("units", f'"{system}"', " or ".join(SYSTEMS), "choose one of them")
    room.system = system
    room.compute()
    room.tell(room.concept())


def _view(room: Room, page: Page, asked: Asked) -> None:
    page.view = view = asking.words(asked, "view", 40)

    def hears(message: dict[str, Any]) -> None:
        if message["stage"] == "view":
            page.tell({"type": "view", "view": message["view"], "made": message["made"]})

    if view in VIEWS:
        room.hall.desk.ask("view", hears, file=room.book.path.name, view=view)


def _pin(room: Room, page: Page, asked: Asked) -> None:
    room.pin()


def _unpin(room: Room, page: Page, asked: Asked) -> None:
    room.pinned = None
    room.tell({"type": "pinned", "pinned": None})


def _check(room: Room, page: Page, asked: Asked) -> None:
    text = asking.words(asked, "text", asking.LARGEST_WORKING, lines=True)

    def hears(message: dict[str, Any]) -> None:
        if message["stage"] != "done":
            page.tell({"type": "check", **message})

    model = room.model if asked.get("concept") is True else None
    room.hall.clerk.ask("check", hears, lane=f"check {id(page)}", text=text, model=model)


def _make(room: Room, page: Page, asked: Asked) -> None:
    room.handing.make(asking.words(asked, "what", 20))


def _unmake(room: Room, page: Page, asked: Asked) -> None:
    room.handing.cancel()


DEEDS: dict[str, Deed] = {
    "set": _set, "remove": _remove, "add": _add, "copy": _copy, "move": _move, "text": _text, "told": _told,
    "undo": _undo, "redo": _redo, "save": _save, "settle": _settle, "more": _more, "units": _units, "view": _view,
    "pin": _pin, "unpin": _unpin, "check": _check, "make": _make, "unmake": _unmake,
}  # fmt: skip
