"""What the YAML reader stumbles over, in words: what it mostly means, and what to do."""

from __future__ import annotations

import re
from typing import Any

from wetmass.record.refusal import Complaint, Place

# what the YAML reader says, what it mostly means, what to do
_QUOTE = "put quotes round a text that starts with & or *"
_HINTS = (
    (r"found character '\\t'", "a tab", "spaces for indents", "replace the tab by spaces"),
    (
        r"mapping values are not allowed",
        "a second colon",
        "one key with one value on a line",
        "check the indent and the line before; put quotes round a text with a colon in it",
    ),
    (
        r"expected ',' or '\]'",
        "a list that is not closed or lacks a comma",
        "entries between [ and ], parted by commas",
        "check the commas and close the ]",
    ),
    (
        r"expected ',' or '}'",
        "a block that is not closed or lacks a comma",
        "entries between { and }, parted by commas",
        "check the commas and close the }",
    ),
    (
        r"expected <block end>",
        "an indent that fits no block",
        "keys of one block in one column",
        "move the line below its neighbours",
    ),
    (
        r"block sequence|'-'|sequence entries are not allowed",
        "a - in an odd place",
        'each entry of a list behind its own "-", in one column',
        "check the indent of the -",
    ),
    (r"alias|anchor", "an anchor or alias", "values written out", f"write the value itself; {_QUOTE}"),
    (
        r"found character '(.)' that cannot start any token",
        "a sign that YAML keeps for itself",
        "a value that starts with a letter or a digit",
        "put quotes round the text",
    ),
    (r"tag|directive|version", "a % or ! line", "a plain file, without directives and tags", "delete it"),
)


# the same of what is at fault where it begins, not where the reader noticed
_BEGUN = (
    (
        r"unexpected end of stream|while scanning a quoted scalar",
        "a quote that is not closed",
        "each quote closed",
        "close the quote",
    ),
    (
        r"could not find expected ':'|expected ':'",
        "a line without a colon",
        "a key, a colon, a space and a value",
        "add the colon and a space behind the key",
    ),
)


def misread(error: Any, text: str, file: str) -> Complaint:
    """The complaint about a text that is no YAML."""
    noticed, context = getattr(error, "problem_mark", None), getattr(error, "context_mark", None)
    said = str(getattr(error, "problem", None) or error)
    about = f"{said} {getattr(error, 'context', None) or ''}"
    other = ("", "a text that is no YAML", f"well-formed YAML ({said})", "check this line and the one before")
    hint = next((hint for hint in (*_BEGUN, *_HINTS) if re.search(hint[0], about)), other)
    _, got, accepted, remedy = hint
    mark = (context or noticed) if hint in _BEGUN else (noticed or context)
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    lines = re.split(r"\r\n|\r|\n", text)
    typed = lines[line - 1].strip() if line <= len(lines) else ""
    typed = typed if len(typed) <= 60 else typed[:57] + "…"
    if got == "a line without a colon" and ":" in typed:
        got, remedy = "a colon without a space behind it", "put a space behind the colon, a plain one"
    if context is not None and context.line + 1 < line:
        remedy += f" (it starts on line {context.line + 1})"
    return Complaint(
        "YAML", f'{got}: "{typed}"' if typed else got, accepted, remedy, Place(file, line, column)
    )
