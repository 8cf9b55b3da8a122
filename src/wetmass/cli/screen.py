"""Where text goes: the terminal with its width and styles, or plain text anywhere else."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import Console

PLAIN_WIDTH = 80  # of a page that goes to a file or a pipe


def screen() -> Console:
    """Standard output."""
    return _console(False)


def errors() -> Console:
    """Standard error."""
    return _console(True)


def _console(stderr: bool) -> Console:
    from rich.console import Console

    stream = sys.stderr if stderr else sys.stdout
    if hasattr(stream, "reconfigure"):
        stream.reconfigure(errors="replace")  # a terminal without our letters shows a mark, and goes on
    width = None if stream.isatty() or os.environ.get("COLUMNS", "").isdigit() else PLAIN_WIDTH
    return Console(stderr=stderr, width=width, highlight=False, markup=False, emoji=False)
