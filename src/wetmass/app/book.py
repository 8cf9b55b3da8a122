"""One open file: its text as edited, what was before, and what of it is safe on the disk."""

from __future__ import annotations

import hashlib
import json
import os
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from wetmass.app.merging import merged
from wetmass.concept.document import Document, document
from wetmass.concept.document import save as write
from wetmass.concept.reading import load
from wetmass.concept.tree import LARGEST_FILE
from wetmass.record.refusal import Complaint, Refusal

MOST_UNDONE = 200


@dataclass(frozen=True, slots=True)
class Moment:
    """A text, and what was done to come to it."""

    text: str
    words: str
    gesture: str = ""


class Book:
    """An open concept file with undo, drafts and revisions.

    path    where it is
    drafts  folder in which unsaved work is kept until it is saved
    """

    def __init__(self, path: Path, drafts: Path) -> None:
        self.path, self.drafts = path, drafts
        self.revision = 1
        self.notice = ""
        self.asks = ""  # the text on the disk, where it cannot be brought together with ours
        self._undone: list[Moment] = []
        self._done: list[Moment] = []
        self.base = self._on_disk()  # as it was read or written last
        self.document = self._read(self.base)
        self._now = Moment(self.document.text, "as opened")
        self._restore()

    # ── reading ──

    def _on_disk(self) -> str:
        try:
            data = self.path.read_bytes()[: LARGEST_FILE + 4]
            return data.decode("utf-8")
        except (OSError, UnicodeDecodeError):
            load(self.path)  # says why, with its place
            raise

    def _read(self, text: str) -> Document:
        if len(text.encode("utf-8")) > LARGEST_FILE:
            accepted = f"{LARGEST_FILE // 1024} KiB at most"
            raise Refusal(Complaint("file", f"{len(text) // 1024} KiB", accepted, "keep one concept a file"))
        mark, text = ("\ufeff", text[1:]) if text.startswith("\ufeff") else ("", text)
        return document(text, self.path.name, mark)

    # ── changing ──

    @property
    def text(self) -> str:
        """As it would be written, mark included."""
        return self.document.mark + self.document.text

    @property
    def unsaved(self) -> bool:
        """Whether the disk has another text."""
        return self.text != self.base

    @property
    def renamed(self) -> bool:
        """Whether the vehicle has another name than in the file on the disk."""
        return self.document.get("name") != _name_in(self.base)

    @property
    def can_undo(self) -> str:
        """What would be undone, "" for nothing."""
        return self._now.words if self._done else ""

    @property
    def can_redo(self) -> str:
        """What would be done again, "" for nothing."""
        return self._undone[-1].words if self._undone else ""

    def change(self, how: Callable[[Document], Document], words: str, gesture: str = "") -> None:
        """Change the document; changes of one gesture (a drag, say) are one step to undo.  Raises Refusal."""
        made = self._checked(how(self.document))
        if made.text == self.document.text:
            return
        if not gesture or gesture != self._now.gesture:
            self._done = [*self._done, self._now][-MOST_UNDONE:]
        self._undone = []
        self._put(made, Moment(made.text, words, gesture))

    def _checked(self, made: Document) -> Document:
        if len(made.text.encode("utf-8")) > LARGEST_FILE:
            accepted = f"{LARGEST_FILE // 1024} KiB at most"
            raise Refusal(Complaint("file", "a longer file", accepted, "take something away first"))
        return made

    def _put(self, made: Document, now: Moment) -> None:
        self.document, self._now = made, now
        self.revision += 1

    def undo(self) -> bool:
        """One step back; whether there was one."""
        if not self._done:
            return False
        self._undone.append(self._now)
        before = self._done.pop()
        self._put(document(before.text, self.document.name, self.document.mark), before)
        return True

    def redo(self) -> bool:
        """One step forward again; whether there was one."""
        if not self._undone:
            return False
        self._done.append(self._now)
        then = self._undone.pop()
        self._put(document(then.text, self.document.name, self.document.mark), then)
        return True

    # ── the disk ──

    def save(self) -> bool:
        """Write the file, unless the disk has changed under us: then it is merged, or asked about first."""
        self.look()
        if self.asks:
            return False
        write(self.document, self.path)
        self.base = self.text
        self.forget_draft()
        return True

    def save_as(self, path: Path) -> None:
        """Write to another file of the folder, which must not be there yet, and go on with that one."""
        if path.exists():
            raise Refusal(Complaint(
                "save as", f'"{path.name}", which is there already', "a name that is not taken", "choose another"
            ))  # fmt: skip
        write(self.document, path)
        self.forget_draft()
        self.path = path
        self.document = document(self.document.text, path.name, self.document.mark)
        self.base = self.text
        self.asks = ""

    def look(self) -> bool:
        """Look whether the file on the disk was changed by someone else; whether anything came of it."""
        try:
            theirs = self._on_disk()
            if theirs == self.base or theirs == self.asks:
                return False
            read = self._read(theirs)
        except (OSError, ValueError):  # gone, or half written: ours is the text that is left
            return False
        if theirs == self.text:
            self.base = theirs
            return True
        both = merged(self.base, self.text, theirs)
        if both is None:
            self.asks = theirs
            self.revision += 1
            return True
        self.base, self.asks = theirs, ""
        self.notice = (
            "The file was changed on the disk: those changes and yours are both here now."
            if both != theirs
            else "The file was changed on the disk, and is shown as it is there now."
        )
        made = self._read(both) if both != theirs else read
        self.change(lambda _: made, "changes from the disk")
        return True

    def settle(self, take: str) -> None:
        """Where both changed the same lines: keep ours ("ours"), or take what is on the disk ("theirs")."""
        theirs, self.asks = self.asks, ""
        if not theirs:
            return
        self.base = theirs
        if take == "theirs":
            made = self._read(theirs)
            self.change(lambda _: made, "the file as it is on the disk")
        else:
            self.revision += 1

    # ── drafts ──

    @property
    def _draft(self) -> Path:
        name = hashlib.sha256(str(self.path).encode()).hexdigest()[:24]
        return self.drafts / f"{name}.json"

    def keep_draft(self) -> None:
        """Keep unsaved work beside the file's own text, so that a killed server loses nothing."""
        if not self.unsaved:
            self.forget_draft()
            return
        kept = {"path": str(self.path), "base": self.base, "text": self.text, "time": time.time()}
        try:
            self.drafts.mkdir(parents=True, exist_ok=True, mode=0o700)
            beside = self._draft.with_suffix(".part")
            beside.write_text(json.dumps(kept), encoding="utf-8")
            os.replace(beside, self._draft)
        except OSError as error:
            self.notice = f"Unsaved work cannot be kept ({error.strerror}): save the file before you leave."

    def forget_draft(self) -> None:
        """The disk has it: nothing to keep."""
        try:
            self._draft.unlink(missing_ok=True)
        except OSError:
            return

    def _restore(self) -> None:
        try:
            kept: dict[str, Any] = json.loads(self._draft.read_text(encoding="utf-8"))
            text, base = str(kept["text"]), str(kept["base"])
            made = self._read(text)
        except (OSError, ValueError, KeyError, TypeError):
            return
        if text == self.base:
            self.forget_draft()
            return
        theirs, self.base = self.base, base
        self.change(lambda _: made, "unsaved work from last time")
        self.notice = "Your unsaved work from last time is here again. Undo takes it away."
        if theirs != base:
            self.look()


@lru_cache(maxsize=32)
def _name_in(text: str) -> str | None:
    try:
        return document(text.removeprefix("\ufeff"), "").get("name")
    except Refusal:
        return None


def drafts_folder() -> Path:
    """Where unsaved work is kept: WETMASS_STATE, else the user's own folder for such things."""
    given = os.environ.get("WETMASS_STATE")
    if given:
        return Path(given) / "drafts"
    if os.name == "nt":
        return Path(os.environ.get("LOCALAPPDATA", str(Path.home()))) / "wetmass" / "drafts"
    state = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    return Path(state) / "wetmass" / "drafts"
