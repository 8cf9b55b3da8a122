"""One thing at a time is made to hand out; every page of the room sees how far it is, and can end it."""

from __future__ import annotations

import secrets
import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wetmass.app import asking
from wetmass.app.computing import Computer
from wetmass.app.making import KINDS

if TYPE_CHECKING:
    from wetmass.app.room import Room

AT_MOST = 600.0  # s that making may take


class Handing:
    """What is being made for a room."""

    def __init__(self, room: Room) -> None:
        self.room = room
        self._maker: Computer | None = None
        self._scratch = Path()

    def make(self, what: str) -> None:
        """Begin.  Raises Refusal for what cannot be made, or while something is."""
        if what not in KINDS:
            raise asking.refused("make", f'"{what}"', ", ".join(KINDS), "choose one of them")
        if self._maker is not None:
            got = "another before the last was done"
            raise asking.refused("make", got, "one at a time", "wait, or cancel that")
        room = self.room
        self._maker = maker = Computer("maker", AT_MOST)
        maker.start()
        room.tell({"type": "making", "words": "getting ready", "share": None})
        folder = room.hall.folder.root
        self._scratch = folder / f".making-{secrets.token_hex(6)}"
        maker.ask("make", lambda message: self._heard(maker, message), what=what, text=room.book.text,
                  file=room.book.path.name, folder=str(folder), scratch=str(self._scratch))  # fmt: skip

    def _heard(self, maker: Computer, message: dict[str, Any]) -> None:
        if maker is not self._maker:
            return
        stage = message["stage"]
        if stage == "making":
            self.room.tell({"type": "making", "words": message["words"], "share": message["share"]})
        elif stage == "made":
            self.room.hall.made.update(message["files"])
            self._over(message["words"], message["files"])
        elif stage == "refused":
            self._over(" ".join(map(_sentence, message["complaints"])))
        elif stage in ("ended", "defect"):
            self._over(message["words"])
        if stage in ("done", "ended", "defect"):
            self.end()

    def _over(self, words: str, files: list[str] | None = None) -> None:
        self.room.tell({"type": "made", "words": words, "files": files or []})

    def cancel(self) -> None:
        """End it, and say so."""
        if self._maker is not None:
            self.end()
            self._over("Cancelled; nothing was written.")

    def end(self) -> None:
        """End it, and take away what is half made."""
        maker, self._maker = self._maker, None
        if maker is not None:
            maker.stop()
            shutil.rmtree(self._scratch, ignore_errors=True)


def _sentence(one: dict[str, Any]) -> str:
    return f"{one['field']}: got {one['got']}. Accepted: {one['accepted']}. To do: {one['remedy']}."
