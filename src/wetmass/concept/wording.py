"""How a value as typed, and a name near it, are told in a refusal."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from typing import Any

from wetmass.record.refusal import Complaint, Refusal


def wrong(got: Any, accepted: str, remedy: str, at: str = "") -> Refusal:
    """A refusal of one value; `at` is the path from the block that is read, "" for the value itself."""
    return Refusal(Complaint(at, shown(got), accepted, remedy))


def a(word: str) -> str:
    """A word with its article.

    >>> a("ring"), a("ellipsoid")
    ('a ring', 'an ellipsoid')
    """
    return f"{'an' if word[:1] in 'aeiou' else 'a'} {word}"


def plainly(error: ValueError) -> str:
    """What a formula accepts, from its error, in the words of a concept file.

    >>> plainly(ValueError("tube_diameter must be above 0, got -0.35000000001 m"))
    'tube diameter must be above 0'
    """
    return re.sub(r",? got .*$", "", str(error), flags=re.DOTALL).replace("_", " ")


class WrongKey(Refusal):
    """A refusal of a key, where the key and not its value is at fault."""


def shown(got: Any) -> str:
    """A value as typed, for a message: in quotes, cut short where it is long."""
    if isinstance(got, dict):
        return "a block of keys"
    if isinstance(got, (list, tuple)):
        return "a list"
    if isinstance(got, bool):
        return '"yes"' if got else '"no"'
    text = str(got)
    if not text.strip():
        return "nothing"
    return f'"{text}"' if len(text) <= 60 else f'"{text[:57]}…"'


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known name a mistyped one most likely means, None when none is near.

    >>> nearest("dry mas", ["dry mass", "diameter"])
    'dry mass'
    """
    plain = {_plain(name): name for name in known}
    found = difflib.get_close_matches(_plain(word), plain, n=1, cutoff=0.6)
    return plain[found[0]] if found else None


def _plain(word: str) -> str:
    return re.sub(r"[\s_\-]+", " ", word.casefold()).strip()
