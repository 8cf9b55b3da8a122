"""Messages from the page, checked before anything is done with them."""

from __future__ import annotations

import json
import time
from typing import Any

from wetmass.record.refusal import Complaint, Refusal

LARGEST_MESSAGE = 256 * 1024  # bytes: a whole working pasted, with room
LARGEST_VALUE, LARGEST_WORKING = 2000, 64 * 1024  # characters
RATE, BURST = 60.0, 240.0  # messages a second that are taken from one page, and at once
DEEPEST_PATH = 8


class Rate:
    """How fast one page may ask; a bucket that fills by `RATE` a second."""

    def __init__(self) -> None:
        self._left, self._at = BURST, time.monotonic()

    def takes(self, now: float | None = None) -> bool:
        """Whether one more message is taken."""
        now = time.monotonic() if now is None else now
        self._left = min(BURST, self._left + RATE * (now - self._at))
        self._at = now
        if self._left < 1.0:
            return False
        self._left -= 1.0
        return True


def message(text: str) -> dict[str, Any]:
    """A message of the page.  Raises Refusal for anything else."""
    if len(text) > LARGEST_MESSAGE:
        raise refused("message", f"{len(text)} characters", f"{LARGEST_MESSAGE} at most", "send less at once")
    try:
        read = json.loads(text)
    except (ValueError, RecursionError):
        raise refused("message", "no JSON", "an object with a type", "load the page again") from None
    if not isinstance(read, dict) or not isinstance(read.get("type"), str):
        raise refused("message", "no type", "an object with a type", "load the page again")
    return read


def path(asked: dict[str, Any], least: int = 1) -> list[str | int]:
    """The path in a message."""
    steps = asked.get("path")
    sound = isinstance(steps, list) and least <= len(steps) <= DEEPEST_PATH
    if not sound or not all(_step(step) for step in steps):
        raise refused("path", "no path of a field", "keys and numbers, 8 at most", "load the page again")
    return steps


def _step(step: object) -> bool:
    if isinstance(step, str):
        return 0 < len(step) <= 120
    return isinstance(step, int) and not isinstance(step, bool) and 0 <= step < 1000


def words(asked: dict[str, Any], key: str, longest: int = LARGEST_VALUE, lines: bool = False) -> str:
    """A text in a message."""
    text = asked.get(key, "")
    if not isinstance(text, str):
        raise refused(key, "something that is no text", "a text", "load the page again")
    if len(text) > longest:
        raise refused(key, f"{len(text)} characters", f"{longest} at most", "shorten it")
    if not lines and any(sign in text for sign in "\r\n"):
        raise refused(key, "several lines", "one line", "write it in one line")
    return text


def refused(field: str, got: str, accepted: str, remedy: str) -> Refusal:
    """A refusal of what the page sent."""
    return Refusal(Complaint(field, got, accepted, remedy))
