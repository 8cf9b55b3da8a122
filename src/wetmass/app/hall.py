"""The open files of one folder, and the processes that compute for them."""

from __future__ import annotations

import asyncio
import contextlib
import traceback
from pathlib import Path
from typing import Any

from wetmass.app import asking
from wetmass.app.book import Book, drafts_folder
from wetmass.app.computing import Computer
from wetmass.app.deeds import do
from wetmass.app.folder import Folder
from wetmass.app.page import Page
from wetmass.app.room import Room, complaints
from wetmass.record.refusal import Refusal

LOOK_EVERY = 1.0  # s between two looks at the disk
MOST_PAGES = 24
ANSWERS = ("quick", "flown", "pinned")  # no line ends within their numbers: thin spaces are no-break ones


class Hall:
    """All that the server holds.

    folder  whose files may be opened
    first   the file that is shown when none is asked for
    """

    def __init__(self, folder: Folder, first: str) -> None:
        self.folder, self.first = folder, first
        self.desk, self.clerk = Computer("desk"), Computer("clerk")
        self.rooms: dict[str, Room] = {}
        self.made: set[str] = set()  # names of files made here, which may be taken along
        self.pages = 0
        self._watching: asyncio.Task[None] | None = None

    async def start(self) -> None:
        """Start the processes, and look after the disk."""
        self.desk.start()
        self.clerk.start()
        self._watching = asyncio.create_task(self._watch())

    async def stop(self) -> None:
        """Keep what is unsaved, and end the processes."""
        if self._watching is not None:
            self._watching.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await self._watching
        for room in self.rooms.values():
            room.pages.clear()
            room.close()
        self.desk.stop()
        self.clerk.stop()

    async def _watch(self) -> None:
        while True:
            await asyncio.sleep(LOOK_EVERY)
            for room in list(self.rooms.values()):
                if room.pages:
                    room.look()

    def room(self, name: str) -> Room:
        """The room of a file, opened where it is not yet.  Raises Refusal."""
        if name not in self.rooms:
            path = self.folder.path(name)
            self.rooms[name] = Room(Book(path, drafts_folder()), self)
        return self.rooms[name]

    def renamed(self, before: str, room: Room) -> None:
        """A room goes on with another file."""
        self.rooms.pop(before, None)
        self.rooms[room.book.path.name] = room

    async def talk(self, socket: Any) -> None:
        """One page, from when it comes to when it goes."""
        if self.pages >= MOST_PAGES:
            await socket.close(1013, f"{MOST_PAGES} pages are open already; close one")
            return
        await socket.accept()
        self.pages += 1
        page, rate = Page(), asking.Rate()
        room: Room | None = None
        writing = asyncio.create_task(_write(socket, page))
        try:
            async for text in socket.iter_text():
                if not rate.takes():
                    await socket.close(1008, "too many messages at once; load the page again")
                    break
                try:
                    asked = asking.message(text)
                    if asked["type"] == "open":
                        entered = self.room(asking.words(asked, "file", 120) or self.first)
                        if room is not None:
                            room.pages.discard(page)
                        room = entered
                        room.join(page)
                    elif room is not None:
                        do(room, page, asked)
                except Exception as error:
                    if not isinstance(error, Refusal):  # ours: told, and the line stays open
                        traceback.print_exception(error)
                        page.tell({"type": "defect", "words": f"{type(error).__name__}: {error}"})
                        continue
                    refusal = error
                    page.tell({"type": "refused", "about": _about(text), "complaints": complaints(refusal)})
        finally:
            self.pages -= 1
            if room is not None:
                room.pages.discard(page)
                room.close()
            writing.cancel()


def _about(text: str) -> Any:
    """The path of what was refused, so that it is told in its place; None where there is none."""
    try:
        return asking.path(asking.message(text))
    except Refusal:
        return None


async def _write(socket: Any, page: Page) -> None:
    import json

    while (message := await page.waiting.get()) is not None:
        text = json.dumps(message, separators=(",", ":"), allow_nan=False, default=str)
        if message["type"] in ANSWERS:  # never in what was typed, which goes back as it came
            text = text.replace("\\u2009", "\\u202f")
        await socket.send_text(text)
    await socket.close(1013, "the page took nothing for too long")


def first_of(path: str) -> tuple[Folder, str]:
    """(folder, file shown first) for what the command was given.  Raises Refusal."""
    from wetmass.record.refusal import Complaint

    given = Path(path)
    if given.is_dir():
        folder = Folder(given)
        files = folder.files()
        if not files:
            raise Refusal(Complaint(
                "FILE", f'"{path}", a folder without a concept file', "a concept file, or a folder of them",
                "copy examples/dunlin.yaml there",
            ))  # fmt: skip
        return folder, files[0]
    folder = Folder(given.parent)
    folder.path(given.name)
    if not given.exists():
        from wetmass.concept.reading import load

        load(given)  # says what is near
    return folder, given.name
