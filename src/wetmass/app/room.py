"""Everybody who looks at one file: what is told to them, and what becomes of what they do.

All pages of a file share one book.  A change carries the value it replaces; where another page was faster, it
is refused and shown, so that two pages never undo each other's work unseen.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from wetmass.app import asking, structure
from wetmass.app.book import Book
from wetmass.app.comparing import differences
from wetmass.app.computing import Computer
from wetmass.app.making import KINDS
from wetmass.app.saying import SYSTEMS, change, say, share
from wetmass.app.telling import more, told
from wetmass.concept import editing
from wetmass.record.refusal import Complaint, Place, Refusal

if TYPE_CHECKING:
    from wetmass.app.hall import Hall

MAKING_AT_MOST = 600.0  # s
DRAFT_AFTER = 0.3  # s without a change
VIEWS = ("charts", "working")


class Page:
    """One open page: a queue of what it is to be told."""

    def __init__(self) -> None:
        self.waiting: asyncio.Queue[dict[str, Any] | None] = asyncio.Queue(500)
        self.view = ""

    def tell(self, message: dict[str, Any] | None) -> None:
        """Tell it something; a page that takes nothing for long is let go."""
        try:
            self.waiting.put_nowait(message)
        except asyncio.QueueFull:
            while not self.waiting.empty():
                self.waiting.get_nowait()
            self.waiting.put_nowait(None)


class Room:
    """One file with its pages."""

    def __init__(self, book: Book, hall: Hall) -> None:
        self.book, self.hall = book, hall
        self.pages: set[Page] = set()
        self.system = SYSTEMS[0]
        self.flown: dict[str, Any] | None = None  # the last that was flown, before numbers are put in words
        self.before: dict[str, Any] | None = None
        self.because = ""
        self.pinned: dict[str, Any] | None = None
        self.model: Any = None
        self._maker: Computer | None = None
        self._gesture = ""
        self._anew = True  # whether the text came from outside and must be read whole
        self._quick = 0  # revision of the newest answer told
        self._shown: dict[str, dict[str, Any]] = {}
        self._draft_timer: asyncio.TimerHandle | None = None

    # ── telling ──

    def tell(self, message: dict[str, Any]) -> None:
        """Tell every page."""
        for page in list(self.pages):
            page.tell(message)

    def join(self, page: Page) -> None:
        """A page more: it is told all there is."""
        self.pages.add(page)
        page.tell(self.concept())
        for message in self._shown.values():
            page.tell(message)
        if self.pinned is not None:
            page.tell(self._compared())
        if "flown" not in self._shown:
            self.compute()

    def concept(self) -> dict[str, Any]:
        """The concept in sentences, and how the file stands."""
        return {"type": "concept", **self.state(), **told(self.book.document)}

    def state(self) -> dict[str, Any]:
        """How the file stands."""
        book = self.book
        return {
            "revision": book.revision, "file": book.path.name, "files": self.hall.folder.files(),
            "unsaved": book.unsaved, "undo": book.can_undo, "redo": book.can_redo, "notice": book.notice,
            "asks": bool(book.asks), "system": self.system, "text": book.document.text,
        }  # fmt: skip

    # ── doing ──

    def ask(self, page: Page, asked: dict[str, Any]) -> None:
        """Do what a page asks.  Raises Refusal, told to that page alone."""
        act = getattr(self, f"_do_{asked['type']}", None)
        if act is None:
            raise asking.refused(
                "type", f'"{asked["type"][:40]}"', "what this page can ask", "load the page again"
            )
        act(page, asked)

    def _do_set(self, page: Page, asked: dict[str, Any]) -> None:
        path, value = asking.path(asked), asking.words(asked, "value")
        was, gesture = asking.words(asked, "was"), asking.words(asked, "gesture", 60)
        node, gone = self.book.document.reach(path)
        now = node.text if gone == len(path) and node.kind == "text" else ""
        if now != was and now != value:
            page.tell({"type": "overtaken", "path": path, "now": now, "value": value})
            page.tell(self.concept())
            return
        label = asking.words(asked, "label", 200)
        self._change(
            lambda doc: doc.set(path, value), f"{label}: {was or 'nothing'} → {value}", gesture, path
        )

    def _do_remove(self, page: Page, asked: dict[str, Any]) -> None:
        path = asking.path(asked)
        self._same(asked)
        self._change(
            lambda doc: editing.without(doc, path), f"{asking.words(asked, 'label', 200)} taken away"
        )

    def _do_add(self, page: Page, asked: dict[str, Any]) -> None:
        self._same(asked)
        what, name = asking.words(asked, "what", 40), asking.words(asked, "name", 120)
        path = asking.path(asked, least=0)
        made, done = structure.add(self.book.document, what, path, name)
        self._change(lambda _: made, done)

    def _do_copy(self, page: Page, asked: dict[str, Any]) -> None:
        self._same(asked)
        path = asking.path(asked)
        doc = self.book.document
        name = structure.new_name(doc, doc.get("/".join(map(str, [path[0], int(path[1]) + 1, "name"]))) or "") if (
            len(path) == 2 and isinstance(path[1], int)
        ) else ""  # fmt: skip
        self._change(lambda d: editing.copied(d, path, name), f"{asking.words(asked, 'label', 200)} doubled")

    def _do_move(self, page: Page, asked: dict[str, Any]) -> None:
        self._same(asked)
        path, by = asking.path(asked), 1 if asked.get("by") == 1 else -1
        self._change(lambda d: editing.moved(d, path, by), f"{asking.words(asked, 'label', 200)} moved")

    def _do_text(self, page: Page, asked: dict[str, Any]) -> None:
        """The whole file as text, for what no sentence can change."""
        self._same(asked)
        text = asking.words(asked, "text", 64 * 1024, lines=True)
        from wetmass.concept.document import document

        old = self.book.document
        self._change(lambda _: document(text, old.name, old.mark), "the text of the file", anew=True)

    def _same(self, asked: dict[str, Any]) -> None:
        """Whether the page saw the file as it is: what stands where may have changed since."""
        if asked.get("revision") != self.book.revision:
            raise asking.refused(
                "change", "a page that had not seen the last change", "the file as it is now", "try it again"
            )

    def _change(
        self, how: Callable[..., Any], words: str, gesture: str = "", path: list[Any] | None = None
    ) -> None:
        revision = self.book.revision
        self.book.notice = ""
        self.book.change(how, words, gesture)
        if self.book.revision == revision:
            return
        fresh = not gesture or gesture != self._gesture
        if fresh:
            self.before = self.flown
            self.because = words
        elif "→" in words:
            self.because = f"{self.because.rsplit('→', 1)[0]}→{words.rsplit('→', 1)[1]}"
        self._gesture = gesture
        self.compute()
        if path is not None and gesture:
            self.tell({"type": "value", "path": path, "value": self._value(path), **self._short_state()})
        else:
            self.tell(self.concept())
        self._keep_draft()

    def _short_state(self) -> dict[str, Any]:
        book = self.book
        return {
            "revision": book.revision,
            "unsaved": book.unsaved,
            "undo": book.can_undo,
            "redo": book.can_redo,
        }

    def _value(self, path: list[Any]) -> str:
        node, _ = self.book.document.reach(path)
        return node.text

    def _do_told(self, page: Page, asked: dict[str, Any]) -> None:
        """The end of a gesture: the sentences anew."""
        self._gesture = ""
        self.tell(self.concept())

    def _do_undo(self, page: Page, asked: dict[str, Any]) -> None:
        words = self.book.can_undo
        if self.book.undo():
            self._stepped(f"undone: {words}")

    def _do_redo(self, page: Page, asked: dict[str, Any]) -> None:
        words = self.book.can_redo
        if self.book.redo():
            self._stepped(words)

    def _stepped(self, words: str) -> None:
        self._gesture, self.before, self.because, self._anew = "", self.flown, words, True
        self.book.notice = ""
        self.compute()
        self.tell(self.concept())
        self._keep_draft()

    def _do_save(self, page: Page, asked: dict[str, Any]) -> None:
        name = asking.words(asked, "as", 120)
        if name:
            if not name.endswith((".yaml", ".yml")):
                name += ".yaml"
            before = self.book.path.name
            self.book.save_as(self.hall.folder.path(name))
            self.hall.renamed(before, self)
            self.book.notice = f"Saved as {name}."
        else:
            saved = self.book.save()
            self.book.notice = "Saved." if saved else ""
        self.tell(self.concept())

    def _do_settle(self, page: Page, asked: dict[str, Any]) -> None:
        self.book.settle("theirs" if asked.get("take") == "theirs" else "ours")
        self._stepped("the file on the disk")

    def _do_more(self, page: Page, asked: dict[str, Any]) -> None:
        path = asking.path(asked, least=0)
        key = str(path[0]) if len(path) == 1 else ""
        if key in ("require", "claims"):
            offers = structure.offers(self.book.document, "require" if key == "require" else "claim")
        else:
            offers = [one for one in more(self.book.document, path) if one["example"] != "…"]
        page.tell({"type": "more", "path": path, "offers": offers})

    def _do_units(self, page: Page, asked: dict[str, Any]) -> None:
        system = asking.words(asked, "system", 40)
        if system not in SYSTEMS:
            raise asking.refused("units", f'"{system}"', " or ".join(SYSTEMS), "choose one of them")
        self.system = system
        self.compute()
        self.tell(self.concept())

    def _do_view(self, page: Page, asked: dict[str, Any]) -> None:
        view = asking.words(asked, "view", 40)
        page.view = view
        if view in VIEWS:
            self.hall.desk.ask(
                "view", lambda message: self._viewed(page, message), file=self.book.path.name, view=view
            )

    def _viewed(self, page: Page, message: dict[str, Any]) -> None:
        if message["stage"] == "view":
            page.tell({"type": "view", "view": message["view"], "made": message["made"]})

    def _do_pin(self, page: Page, asked: dict[str, Any]) -> None:
        if self.flown is not None:
            drawn = self._shown.get("drawn", {})
            self.pinned = {
                "numbers": self.flown["numbers"], "document": self.book.document,
                "drawing": drawn.get("drawing", ""), "verdict": self.flown["verdict"],
            }  # fmt: skip
            self.tell(self._compared())

    def _do_unpin(self, page: Page, asked: dict[str, Any]) -> None:
        self.pinned = None
        self.tell({"type": "pinned", "pinned": None})

    def _do_check(self, page: Page, asked: dict[str, Any]) -> None:
        text = asking.words(asked, "text", asking.LARGEST_WORKING, lines=True)
        model = self.model if asked.get("concept") is True else None
        self.hall.clerk.ask(
            "check", lambda message: page.tell({"type": "check", **message}) if message["stage"] != "done" else None,
            lane=f"check {id(page)}", text=text, model=model,
        )  # fmt: skip

    # ── things to hand out ──

    def _do_make(self, page: Page, asked: dict[str, Any]) -> None:
        what = asking.words(asked, "what", 20)
        if what not in KINDS:
            raise asking.refused("make", f'"{what}"', ", ".join(KINDS), "choose one of them")
        if self._maker is not None:
            raise asking.refused(
                "make", "another before the last was done", "one at a time", "wait, or cancel that"
            )
        self._maker = maker = Computer("maker", MAKING_AT_MOST)
        maker.start()
        self.tell({"type": "making", "words": "getting ready", "share": None})
        maker.ask("make", lambda message: self._made(maker, message), what=what, text=self.book.text,
                  file=self.book.path.name, folder=str(self.hall.folder.root))  # fmt: skip

    def _made(self, maker: Computer, message: dict[str, Any]) -> None:
        stage = message["stage"]
        if maker is not self._maker:
            return
        if stage == "making":
            self.tell({"type": "making", "words": message["words"], "share": message["share"]})
            return
        if stage == "made":
            self.hall.made.update(message["files"])
            self.tell({"type": "made", "words": message["words"], "files": message["files"]})
        elif stage == "refused":
            self.tell(
                {
                    "type": "made",
                    "words": " ".join(_sentence(one) for one in message["complaints"]),
                    "files": [],
                }
            )
        elif stage in ("ended", "defect"):
            self.tell({"type": "made", "words": message["words"], "files": []})
        if stage in ("done", "ended", "defect"):
            self._end_making()

    def _do_unmake(self, page: Page, asked: dict[str, Any]) -> None:
        if self._maker is not None:
            self._end_making()
            self.tell({"type": "made", "words": "Cancelled; nothing was written.", "files": []})

    def _end_making(self) -> None:
        maker, self._maker = self._maker, None
        if maker is not None:
            maker.stop()

    # ── computing ──

    def compute(self) -> None:
        """Ask for an answer to the file as it is; an older question is dropped."""
        self.tell({"type": "stale", "revision": self.book.revision})
        revision = self.book.revision
        views = sorted({page.view for page in self.pages} & set(VIEWS))
        self.hall.desk.ask(
            "answer", lambda message: self._answered(revision, message), lane=f"answer {self.book.path.name}",
            document=self.book.document, system=self.system, views=views, anew=self._anew,
        )  # fmt: skip

    def _answered(self, revision: int, message: dict[str, Any]) -> None:
        stage = message["stage"]
        if revision != self.book.revision and (stage != "quick" or revision < self._quick):
            return
        if stage in ("quick", "flown"):
            raw = {**message, "numbers": message["numbers"]}
            if stage == "flown":
                self.flown = raw
            self._quick = revision
            told_now = {"type": stage, **raw, "revision": revision, "numbers": self._in_words(raw["numbers"]),
                        "because": self.because if self.before is not None else ""}  # fmt: skip
            self.tell(told_now)
            if stage == "flown":
                self._shown.pop("refused", None)
                self._shown.pop("spread", None)
                self._shown["flown"] = told_now
                if self.pinned is not None:
                    self.tell(self._compared())
        elif stage == "drawn":
            self._shown["drawn"] = {"type": "drawn", "drawing": message["drawing"], "revision": revision}
            self.tell(self._shown["drawn"])
        elif stage == "view":
            for page in self.pages:
                if page.view == message["view"]:
                    page.tell({"type": "view", "view": message["view"], "made": message["made"]})
        elif stage == "spread":
            self._shown["spread"] = {"type": "spread", "spread": message["spread"], "revision": revision}
            self.tell(self._shown["spread"])
        elif stage == "model":
            self.model = message["model"]
        elif stage == "refused":
            complaints = [{**one, "path": self._path_of(one)} for one in message["complaints"]]
            self._shown["refused"] = {"type": "wrong", "revision": revision, "complaints": complaints}
            self.tell(self._shown["refused"])
        elif stage in ("busy", "homing", "ended", "defect"):
            self.tell({"type": stage, "words": message["words"], "revision": revision})

    def _path_of(self, complaint: dict[str, Any]) -> list[Any]:
        place = Place(self.book.document.name, complaint["line"], complaint["column"])
        return self.book.document.path_at(place)

    def _in_words(self, numbers: list[dict[str, Any]]) -> list[dict[str, Any]]:
        """Numbers said, with what they were before the last change."""
        was = {one["key"]: one["value"] for one in self.before["numbers"]} if self.before else {}
        return [self._said(one, was.get(one["key"])) for one in numbers]

    def _said(self, one: dict[str, Any], was: float | None) -> dict[str, Any]:
        said = {**one, "text": say(one["value"], one["unit"], self.system)}
        if was is not None:
            was = one["value"] if abs(one["value"] - was) < one["noise"] else was
            said |= {
                "was": say(was, one["unit"], self.system),
                "change": change(was, one["value"], one["unit"], self.system),
                "share": share(was, one["value"]),
            }
        return said

    def _compared(self) -> dict[str, Any]:
        """The pinned version beside this one."""
        assert self.pinned is not None
        was = {one["key"]: one["value"] for one in self.pinned["numbers"]}
        now = self.flown["numbers"] if self.flown else []
        return {
            "type": "pinned",
            "pinned": {
                "numbers": [self._said(one, was.get(one["key"])) for one in now],
                "drawing": self.pinned["drawing"], "verdict": self.pinned["verdict"],
                "differences": differences(self.pinned["document"], self.book.document),
            },
        }  # fmt: skip

    # ── drafts and the disk ──

    def _keep_draft(self) -> None:
        if self._draft_timer is not None:
            self._draft_timer.cancel()
        self._draft_timer = asyncio.get_running_loop().call_later(DRAFT_AFTER, self.book.keep_draft)

    def look(self) -> None:
        """Look at the disk; tell when someone else has written there."""
        if self.book.look():
            self._stepped("changes from the disk") if not self.book.asks else self.tell(self.concept())

    def close(self) -> None:
        """Keep what is unsaved."""
        if self._draft_timer is not None:
            self._draft_timer.cancel()
        if not self.pages:
            self._end_making()
        self.book.keep_draft()


def _sentence(one: dict[str, Any]) -> str:
    return f"{one['field']}: got {one['got']}. Accepted: {one['accepted']}. To do: {one['remedy']}."


def complaints(refusal: Refusal) -> list[dict[str, str]]:
    """The parts of a refusal, for the page."""
    return [_parts(one) for one in refusal.complaints]


def _parts(one: Complaint) -> dict[str, str]:
    return {"field": one.field, "got": one.got, "accepted": one.accepted, "remedy": one.remedy}
