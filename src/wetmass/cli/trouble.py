"""What is said when something is wrong: with the file, or with us."""

from __future__ import annotations

import platform
import sys
import tempfile
import textwrap
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import Console

    from wetmass.record.refusal import Refusal

REFUSED, DEFECT = 2, 3
_LARGEST_KEPT = 1 << 20  # bytes of an input that are kept beside a defect


def refused(console: Console, refusal: Refusal) -> None:
    """Every complaint: its place and field, what was got, what is accepted, what to do."""
    from rich.text import Text

    for complaint in refusal.complaints:
        text = str(complaint)
        if not console.is_terminal:
            console.print(text, soft_wrap=True)
            continue
        place = f"{complaint.place}: " if complaint.place else ""
        head = f"{place}{complaint.field}:"
        lines = textwrap.wrap(
            text,
            min(console.width, 100),
            subsequent_indent="    ",
            break_on_hyphens=False,
            break_long_words=False,
        )
        for number, line in enumerate(lines):
            shown = Text(line)
            if number == 0 and line.startswith(head):
                shown.stylize("bold", 0, len(head))
            console.print(shown, soft_wrap=True)
    count = len(refusal.complaints)
    if count > 1:
        console.print(f"{count} statements to put right; nothing was flown.", style="dim", soft_wrap=True)


def defect(console: Console, error: Exception, inputs: Sequence[str]) -> None:
    """Our own fault: say so, and keep what is needed to repeat it."""
    kept = _kept(error, inputs)
    console.print("This is a defect in the program, please report it.", style="bold red", soft_wrap=True)
    console.print(f"{type(error).__name__}: {error}", soft_wrap=True)
    if kept is not None:
        console.print(f"What is needed to repeat it is kept in {kept}", soft_wrap=True)


def _kept(error: Exception, inputs: Sequence[str]) -> Path | None:
    """A file with command, versions, trace and inputs; None where none can be written."""
    import wetmass

    parts = [
        f"wetmass {wetmass.__version__}, Python {platform.python_version()}, {platform.platform()}",
        "command: " + " ".join(sys.argv),
        "".join(traceback.format_exception(error)),
    ]
    for name in inputs:
        try:
            content = Path(name).read_bytes()[:_LARGEST_KEPT].decode("utf-8", "replace")
        except (OSError, ValueError) as problem:
            content = f"(cannot be read: {problem})"
        parts.append(f"──── {name}\n{content}")
    try:
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", prefix="wetmass-defect-", suffix=".txt", delete=False
        ) as file:
            file.write("\n\n".join(parts))
            return Path(file.name)
    except OSError:
        return None
