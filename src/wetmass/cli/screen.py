"""Where text goes: the terminal with its width and styles, or plain text anywhere else."""

from __future__ import annotations

import codecs
import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import Console

PLAIN_WIDTH = 80  # of a page that goes to a file or a pipe
_PLAINER = {"\u2009": " ", "\u00a0": " ", "−": "-", "–": "-", "×": "x", "…": "...", "·": "*", "°": " deg",
            "²": "2", "³": "3", "₀": "0", "½": "1/2", "“": '"', "”": '"', "’": "'"}  # fmt: skip


def _plainer(error: UnicodeError) -> tuple[str, int]:
    """For an output that has not all our letters: the nearest it has, and on."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    letters = error.object[error.start : error.end]
    return "".join(_PLAINER.get(letter, "?") for letter in letters), error.end


codecs.register_error("wetmass", _plainer)


def screen() -> Console:
    """Standard output."""
    return _console(False)


def errors() -> Console:
    """Standard error."""
    return _console(True)


def _console(stderr: bool) -> Console:
    from rich.console import Console

    class Screen(Console):
        def on_broken_pipe(self) -> None:
            raise  # whoever reads us has read enough: no failure, see `flying`

    stream = sys.stderr if stderr else sys.stdout
    if hasattr(stream, "reconfigure"):
        stream.reconfigure(errors="wetmass")
    width = None if stream.isatty() or os.environ.get("COLUMNS", "").isdigit() else PLAIN_WIDTH
    return Screen(stderr=stderr, width=width, highlight=False, markup=False, emoji=False)
