"""What a text may hold before it is read as YAML: no invisible signs, no marks of an unfinished merge."""

from __future__ import annotations

import re

from wetmass.record.refusal import Complaint, Place, Refusal

# control characters, line breaks only some programs see, marks that turn the direction of text
_FORBIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufff9-\uffff\ud800-\udfff]"
)


def check_characters(text: str, file: str) -> None:
    """Raises Refusal at the first sign that cannot be seen, or turns the text round."""
    found = _FORBIDDEN.search(text)
    if found:
        got = f"the invisible character U+{ord(found[0]):04X}"
        remedy = "delete it; retype the line if it cannot be seen"
        place = Place(file, *position(text, found.start()))
        raise Refusal(Complaint("text", got, "text with no control characters", remedy, place))


_UNMERGED = re.compile(r"^(<{7}|>{7}|\|{7})( .*)?$", re.MULTILINE)


def check_merged(text: str, file: str) -> None:
    """Raises Refusal at the first mark of two versions that were not merged."""
    found = _UNMERGED.search(text)
    if found:
        got = f'"{found[0][:60]}", a mark of two versions that were not merged'
        remedy = "keep one of the two versions, and delete the lines of <, = and >"
        place = Place(file, *position(text, found.start()))
        raise Refusal(Complaint("text", got, "one version", remedy, place))


def position(text: str, index: int) -> tuple[int, int]:
    """Line and column, from 1, of a character of a text."""
    before = text[:index].replace("\r\n", "\n").replace("\r", "\n")
    line = before.count("\n")
    return line + 1, len(before) - (before.rfind("\n") + 1) + 1
