"""Two changes of one text brought together, line by line."""

from __future__ import annotations

from difflib import SequenceMatcher


def merged(base: str, ours: str, theirs: str) -> str | None:
    """The text with both changes in it, None where they touch the same or neighbouring lines.

    >>> merged("a\\nb\\nc\\n", "A\\nb\\nc\\n", "a\\nb\\nC\\n")
    'A\\nb\\nC\\n'
    >>> merged("a\\n", "b\\n", "c\\n") is None
    True
    """
    if ours == theirs or theirs == base:
        return ours
    if ours == base:
        return theirs
    lines = base.splitlines(keepends=True)
    changes = sorted(
        {*_changes(lines, ours.splitlines(keepends=True)), *_changes(lines, theirs.splitlines(keepends=True))}
    )
    made: list[str] = []
    at = 0
    for number, (start, end, put) in enumerate(changes):
        if number and start <= changes[number - 1][1]:
            return None
        made += lines[at:start]
        made += put
        at = end
    return "".join(made + lines[at:])


def _changes(base: list[str], other: list[str]) -> list[tuple[int, int, tuple[str, ...]]]:
    """(from line, to line of the base, what stands there instead) of each change."""
    matcher = SequenceMatcher(None, base, other, autojunk=False)
    return [(i, j, tuple(other[k:m])) for tag, i, j, k, m in matcher.get_opcodes() if tag != "equal"]
