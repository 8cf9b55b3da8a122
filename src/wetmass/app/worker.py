"""The computing process: jobs come in, answers go out, and a newer job ends an older one of its kind.

The newest value wins: a thread reads what comes in, and when it outdates the job at work, the main thread is
interrupted wherever it stands, but never while it is sending.  `wetmass.app.computing` is the other end.
"""

from __future__ import annotations

import _thread
import contextlib
import queue
import signal
import sys
import threading
from multiprocessing.connection import Connection
from typing import Any

from wetmass.record.refusal import Refusal

AT_ONCE = ("quick", "refused")  # stages that are told even when a newer job waits already
SWITCH = 5e-4  # s the reading thread waits for the computing one; Python's own 5 ms, twice, can be felt


class Superseded(BaseException):
    """A newer job has made this one needless; no `except Exception` on the way holds it up."""


class _Inbox:
    """Jobs as they come; knows which is at work and whether it has been outdated."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._waiting: queue.Queue[dict[str, Any] | None] = queue.Queue()
        self._lock = threading.Lock()
        self._at_work: dict[str, Any] | None = None
        self._newest: dict[str, int] = {}
        self._armed = False  # whether the main thread may be interrupted now
        self._whole = False  # whether what is done now goes to its end, outdated or not
        self.outdated = False
        signal.signal(signal.SIGINT, self._interrupted)
        sys.setswitchinterval(SWITCH)
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        while True:
            try:
                job = self._connection.recv()
            except (EOFError, OSError):
                job = None
            if job is None:
                self._waiting.put(None)
                return
            with self._lock:
                if job.get("lane"):
                    self._newest[job["lane"]] = job["number"]
                at_work = self._at_work
                if at_work is not None and self._is_old(at_work):
                    self.outdated = True
                    _thread.interrupt_main()
            if job.get("kind") != "stop":
                self._waiting.put(job)

    def _is_old(self, job: dict[str, Any]) -> bool:
        return bool(job.get("lane")) and job["number"] < self._newest[job["lane"]]

    def _interrupted(self, *_: object) -> None:
        if self._armed and self.outdated:
            self._armed = False  # once for each job
            raise Superseded

    def next(self) -> dict[str, Any] | None:
        """The next job that is not outdated; None once nobody asks any more."""
        self._armed = False
        with self._lock:
            self._at_work, self.outdated, self._whole = None, False, False
        while True:
            job = self._waiting.get()
            if job is None:
                return None
            with self._lock:
                old = self._is_old(job)
                if not old:
                    self._at_work = job
            if not old:
                return job
            self.drop(job)

    def drop(self, job: dict[str, Any]) -> None:
        """Say that nothing more comes of a job."""
        self._armed = False
        self._connection.send({"number": job["number"], "kind": job["kind"], "stage": "dropped"})

    def begin(self) -> None:
        """From here on the job may be interrupted."""
        self._armed = True
        if self.outdated:
            raise Superseded

    def send(self, message: dict[str, Any], whole: bool = False) -> None:
        """Send whole, or not at all where the job is outdated; what was quick is sent all the same.

        whole  nothing interrupts what comes next either, up to the next that is sent
        """
        self._armed = False
        if self.outdated and message["stage"] not in AT_ONCE and not self._whole:
            raise Superseded
        self._connection.send(message)
        self._whole = whole
        if not whole:
            self.begin()


def work(connection: Connection, who: str) -> None:
    """Answer jobs until the other end is gone.

    who  "desk", "clerk" or "maker"
    """
    from wetmass.app import desk, making

    worker: Any = {"desk": desk.Desk, "clerk": desk.Clerk, "maker": making.Maker}[who]()
    with contextlib.suppress(BrokenPipeError, ConnectionResetError):  # nobody asks any more
        _work(_Inbox(connection), worker)


def _work(inbox: _Inbox, worker: Any) -> None:
    worker.warm_up()
    inbox.send({"stage": "ready"})
    job: dict[str, Any] | None = None
    while True:
        try:
            job = inbox.next()
            if job is None:
                return
            _answer(worker, job, inbox)
        except Superseded:
            if job is not None:
                inbox.drop(job)


def _answer(worker: Any, job: dict[str, Any], inbox: _Inbox) -> None:
    head = {"number": job["number"], "kind": job["kind"]}

    def say(message: dict[str, Any], whole: bool = False) -> None:
        inbox.send({**head, **message}, whole)

    if job["kind"] != "answer":  # the quick part of an answer is never interrupted: while a value is dragged
        inbox.begin()  # each would be outdated before it is told
    try:
        getattr(worker, job["kind"])(job, say)
        say({"stage": "done"})
    except Refusal as refusal:
        say({"stage": "refused", "complaints": [_words(one) for one in refusal.complaints]})
        say({"stage": "done"})
    except Exception as error:
        say({"stage": "defect", "words": f"{type(error).__name__}: {error}"})
        say({"stage": "done"})


def _words(one: Any) -> dict[str, Any]:
    return {
        "field": one.field,
        "got": one.got,
        "accepted": one.accepted,
        "remedy": one.remedy,
        "line": 0,
        "column": 0,
    }
