"""Everybody who looks at one file: what is told to them, and what becomes of what they do.

All pages of a file share one book.  A change carries the value it replaces; where another page was faster, it
is refused and shown, so that two pages never undo each other's work unseen.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from wetmass.app.book import Book
from wetmass.app.comparing import beside, differences
from wetmass.app.deeds import VIEWS
from wetmass.app.handing import Handing
from wetmass.app.page import Page
from wetmass.app.telling import told
from wetmass.concept.document import Document
from wetmass.record.refusal import Complaint, Place, Refusal
from wetmass.record.system import METRIC

if TYPE_CHECKING:
    from wetmass.app.hall import Hall

DRAFT_AFTER = 0.3  # s without a change
DRAGGED = ("quick", "drawn")  # what is told of a value though the next is there already


class Room:
    """One file with its pages."""

    def __init__(self, book: Book, hall: Hall) -> None:
        self.book, self.hall = book, hall
        self.pages: set[Page] = set()
        self.system = METRIC.name
        self.flown: dict[str, Any] | None = None  # the last that was flown, before numbers are put in words
        self.before: dict[str, Any] | None = None  # the complete answer that changes are told against
        self._complete: dict[str, Any] | None = None  # the last that was flown home, too
        self.because = ""
        self.pinned: dict[str, Any] | None = None
        self.model: Any = None
        self.handing = Handing(self)
        self._gesture = ""
        self._anew = True  # whether the text came from outside and must be read whole
        self._quick = 0  # revision of the newest answer told
        self._again = 0  # revision that was asked for once more, since the process ended under it
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
            "renamed": book.renamed, "proposed": self.proposed(),
        }  # fmt: skip

    def proposed(self) -> str:
        """A name for a new file, after what the vehicle is called."""
        return self.hall.folder.free_name(self.book.document.get("name") or "")

    # ── changing ──

    def change(
        self, how: Callable[[Document], Document], words: str, gesture: str = "",
        path: list[str | int] | None = None, anew: bool = False,
    ) -> bool:  # fmt: skip
        """Change the file, ask for an answer to it, and tell every page; whether it changed.  Raises Refusal.

        gesture  changes of one gesture are one step to undo;  path  of the one value that is changed
        anew     whether the text came from outside
        """
        self._anew = anew
        revision = self.book.revision
        self.book.notice = ""
        self.book.change(how, words, gesture)
        if self.book.revision == revision:
            return False
        if not gesture or gesture != self._gesture:
            self._since(words)
        elif "→" in words:
            self.because = f"{self.because.rsplit('→', 1)[0]}→{words.rsplit('→', 1)[1]}"
        self._gesture = gesture
        self._ask()
        if path is not None and gesture:
            self.tell(self.value(path))
        else:
            self._tell_stale()
            self.tell(self.concept())
        self._keep_draft()
        return True

    def value(self, path: list[str | int]) -> dict[str, Any]:
        """One value as it is now, and how the file stands: short, since it is told at every nudge."""
        book = self.book
        return {
            "type": "value", "path": path, "value": self._value(path), "revision": book.revision,
            "unsaved": book.unsaved, "undo": book.can_undo, "redo": book.can_redo,
        }  # fmt: skip

    def _value(self, path: list[Any]) -> str:
        node, _ = self.book.document.reach(path)
        return node.text

    def _since(self, words: str) -> None:
        """What is told as before is the last complete answer; what was changed since then is told together."""
        if self.before is not self._complete or not self.because:
            self.before, self.because = self._complete, words
        else:
            self.because = f"{self.because}; {words}"[-300:]

    def end_gesture(self) -> None:
        """What follows is another step to undo; the sentences are told anew."""
        self._gesture = ""
        self.tell(self.concept())

    def stepped(self, words: str) -> None:
        """The file is another than before, as `words` say."""
        self._since(words)
        self._gesture, self._anew = "", True
        self.book.notice = ""
        self.compute()
        self.tell(self.concept())
        self._keep_draft()

    def pin(self) -> None:
        """Keep this version to compare with."""
        if self.flown is not None:
            drawn = self._shown.get("drawn", {})
            self.pinned = {
                "numbers": self.flown["numbers"], "document": self.book.document,
                "drawing": drawn.get("drawing", ""), "verdict": self.flown["verdict"],
            }  # fmt: skip
            self.tell(self._compared())

    # ── computing ──

    def compute(self) -> None:
        """Ask for an answer to the file as it is, and say that what is shown is stale."""
        self._ask()
        self._tell_stale()

    def _tell_stale(self) -> None:
        self.tell({"type": "stale", "revision": self.book.revision})

    def _ask(self) -> None:
        """Ask for an answer; an older question is dropped."""
        revision = self.book.revision
        views = sorted({page.view for page in self.pages} & set(VIEWS))
        self.hall.desk.ask(
            "answer", lambda message: self._answered(revision, message), lane=f"answer {self.book.path.name}",
            document=self.book.document, system=self.system, views=views, anew=self._anew,
        )  # fmt: skip

    def _answered(self, revision: int, message: dict[str, Any]) -> None:
        stage = message["stage"]
        if revision != self.book.revision and (stage not in DRAGGED or revision < self._quick):
            return
        if stage in ("quick", "flown"):
            raw = message
            if stage == "flown":
                self.flown = raw
                if raw["complete"]:
                    self._complete = raw
            self._quick = revision
            told_now = {"type": stage, **raw, "revision": revision, "numbers": beside(raw["numbers"], self.before and self.before["numbers"], self.system),
                        "because": self.because if self.before is not None else ""}  # fmt: skip
            self.tell(told_now)
            if stage == "flown":
                self._shown.pop("refused", None)
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
        elif stage == "model":
            self.model = message["model"]
        elif stage == "refused":
            complaints = [{**one, "path": self._path_of(one)} for one in message["complaints"]]
            self._shown["refused"] = {"type": "wrong", "revision": revision, "complaints": complaints}
            self.tell(self._shown["refused"])
        elif stage == "ended" and not message["late"] and self._again != revision:
            self._again = revision  # not its own fault, or a mishap: once more
            self.compute()
        elif stage in ("busy", "homing", "ended", "defect"):
            self.tell({"type": stage, "words": message["words"], "revision": revision})

    def _path_of(self, complaint: dict[str, Any]) -> list[Any]:
        place = Place(self.book.document.name, complaint["line"], complaint["column"])
        return self.book.document.path_at(place)

    def _compared(self) -> dict[str, Any]:
        """The pinned version beside this one."""
        assert self.pinned is not None
        now = self.flown["numbers"] if self.flown else []
        return {
            "type": "pinned",
            "pinned": {
                "numbers": beside(now, self.pinned["numbers"], self.system),
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
            self.stepped("changes from the disk") if not self.book.asks else self.tell(self.concept())

    def close(self) -> None:
        """Keep what is unsaved."""
        if self._draft_timer is not None:
            self._draft_timer.cancel()
        if not self.pages:
            self.handing.end()
        self.book.keep_draft()


def complaints(refusal: Refusal) -> list[dict[str, str]]:
    """The parts of a refusal, for the page."""
    return [_parts(one) for one in refusal.complaints]


def _parts(one: Complaint) -> dict[str, str]:
    return {"field": one.field, "got": one.got, "accepted": one.accepted, "remedy": one.remedy}
