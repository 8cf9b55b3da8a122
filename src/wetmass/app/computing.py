"""Our end of a computing process: kept warm, ended when a job takes too long, and started again."""

from __future__ import annotations

import asyncio
import contextlib
import multiprocessing
import threading
from collections.abc import Callable
from typing import Any

from wetmass.app.worker import work

LONGEST = 90.0  # s that one job may take; the slowest example takes a sixth of it from nothing
LONGEST_FIRST = 900.0  # s for the first, which may compile the flight code on a slow and busy machine


class Computer:
    """A process that answers jobs.

    who     which worker it runs
    longest seconds a job may take before the process is ended and started anew
    """

    def __init__(self, who: str, longest: float = LONGEST) -> None:
        self.who, self.longest = who, longest
        self.ready = False
        self.proven = False  # whether it has ever answered
        self.pid: int | None = None
        self._number = 0
        self._hearers: dict[int, Callable[[dict[str, Any]], None]] = {}
        self._timers: dict[int, asyncio.TimerHandle] = {}
        self._process: Any = None
        self._connection: Any = None
        self._on_ready: list[Callable[[], None]] = []

    def start(self) -> None:
        """Start the process; it is ready some seconds later."""
        context = multiprocessing.get_context("spawn")
        self._connection, theirs = context.Pipe()
        self._process = context.Process(target=work, args=(theirs, self.who), daemon=True)
        self._process.start()
        self.pid = self._process.pid
        theirs.close()
        self.ready = False
        threading.Thread(
            target=self._read, args=(self._connection, asyncio.get_running_loop()), daemon=True
        ).start()

    def stop(self) -> None:
        """End the process."""
        if self._process is not None and self._process.is_alive():
            self._process.kill()
            self._process.join(2.0)
        with contextlib.suppress(OSError):
            self._connection.close()

    def when_ready(self, then: Callable[[], None]) -> None:
        """Call back once it is warm; at once where it is."""
        if self.ready:
            then()
        else:
            self._on_ready.append(then)

    def ask(self, kind: str, hears: Callable[[dict[str, Any]], None], *, lane: str = "", **job: Any) -> int:
        """Give it a job; `hears` gets every message of it.  A newer job of the same lane ends an older one."""
        self._number += 1
        number = self._number
        self._hearers[number] = hears
        limit = self.longest if self.proven else max(self.longest, LONGEST_FIRST)
        self._timers[number] = asyncio.get_running_loop().call_later(limit, self._too_long, number, limit)
        try:
            self._connection.send({"kind": kind, "lane": lane, "number": number, **job})
        except OSError:  # it has died: start anew, and tell
            self._died()
        return number

    def _forget(self, number: int) -> None:
        self._hearers.pop(number, None)
        timer = self._timers.pop(number, None)
        if timer is not None:
            timer.cancel()

    def _read(self, connection: Any, loop: asyncio.AbstractEventLoop) -> None:
        while True:
            try:
                message = connection.recv()
            except (EOFError, OSError):
                message = None
            with contextlib.suppress(RuntimeError):  # the loop is closed: nobody listens
                loop.call_soon_threadsafe(self._heard, connection, message)
            if message is None:
                return

    def _heard(self, connection: Any, message: dict[str, Any] | None) -> None:
        if connection is not self._connection:
            return
        if message is None:
            self._died()
            return
        if message["stage"] == "ready":
            self.ready = True
            waiting, self._on_ready = self._on_ready, []
            for then in waiting:
                then()
            return
        hears = self._hearers.get(message["number"])
        self.proven = self.proven or message["stage"] == "done"
        if message["stage"] in ("done", "dropped"):
            self._forget(message["number"])
        if hears is not None:
            hears(message)

    def _too_long(self, number: int, limit: float) -> None:
        words = f"This took more than {limit:g} s and was ended. Nothing you typed is lost."
        self._again(words, number)

    def _died(self) -> None:
        self._again("The computing process ended by itself and was started again. Nothing you typed is lost.")

    def _again(self, words: str, number: int | None = None) -> None:
        hearers = dict(self._hearers)
        for each in list(hearers):
            self._forget(each)
        self.stop()
        if self.who != "maker":  # that is asked once
            self.start()
        for each, hears in hearers.items():
            ours = number is None or each == number
            told = words if ours else "Ended with another job."
            hears({"number": each, "stage": "ended", "words": told, "late": number == each})
