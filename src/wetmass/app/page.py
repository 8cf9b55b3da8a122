"""One open page: what it is to be told, and what it looks at."""

from __future__ import annotations

import asyncio
from typing import Any

MOST_WAITING = 500  # messages


class Page:
    """A queue of messages; None ends it."""

    def __init__(self) -> None:
        self.waiting: asyncio.Queue[dict[str, Any] | None] = asyncio.Queue(MOST_WAITING)
        self.view = ""

    def tell(self, message: dict[str, Any] | None) -> None:
        """Tell it something; a page that takes nothing for long is let go."""
        try:
            self.waiting.put_nowait(message)
        except asyncio.QueueFull:
            while not self.waiting.empty():
                self.waiting.get_nowait()
            self.waiting.put_nowait(None)
