"""A word on what is going on, for anything that takes more than a second."""

from __future__ import annotations

import sys
import threading
from types import TracebackType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.console import Console

PATIENCE = 1.0  # s before a word is said
ONCE = "the first run on this machine compiles the flight code once; later runs start at once"
ONCE_SHORT = "compiling, this first time only"  # beside what is going on, in one line of a terminal


class Progress:
    """Says on standard error what is being done, once it has taken a second.

    In a terminal one line comes and goes; elsewhere only the first compiling is told, in a line of its own.
    """

    def __init__(self, console: Console, *, silent: bool = False, patience: float = PATIENCE) -> None:
        self.console, self.silent, self.patience = console, silent, patience
        self.words, self.once = "reading", False
        self._status: Any = None
        self._timer: threading.Timer | None = None
        self._lock = threading.Lock()

    def __enter__(self) -> Progress:
        if not self.silent:
            self._timer = threading.Timer(self.patience, self._appear)
            self._timer.daemon = True
            self._timer.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with self._lock:
            self.silent = True
            if self._timer is not None:
                self._timer.cancel()
            if self._status is not None:
                self._status.stop()
                self._status = None

    def says(self, words: str) -> None:
        """Another part of the work begins."""
        with self._lock:
            self.words = words
            if self._status is not None:
                self._status.update(self._line())

    def compiling(self) -> None:
        """Note whether the flight code is compiled now for the first time (it is imported by then)."""
        compiled = sys.modules.get("wetmass.flight.compiled")
        self.once = bool(getattr(compiled, "FIRST_TIME", False))

    def _appear(self) -> None:
        with self._lock:
            if self.silent:
                return
            if self.console.is_terminal:
                self._status = self.console.status(self._line(), spinner="line", spinner_style="dim")
                self._status.start()
            elif self.once:
                self.console.print(f"wetmass: {ONCE}", soft_wrap=True)

    def _line(self) -> str:
        return f"{self.words} … ({ONCE_SHORT})" if self.once else f"{self.words} …"
