"""Matching the lines of a page with a concept's own values by name."""

from __future__ import annotations

from collections.abc import Mapping

from wetmass.working.names import key, stage_of, tags

_EMPTY = {"mass", "total", "count", "speed"}


def matching(label: str, stage: str, model: Mapping[str, tuple[float, str]]) -> tuple[str, float, str] | None:
    """The model's quantity that a line names: (name, SI value, where it comes from), None where unclear.

    The same spelling wins; else the one name that holds the same ideas.

    >>> matching("Δv", "1", {"first stage ideal dv": (3190.0, "closing")})
    ('first stage ideal dv', 3190.0, 'closing')
    """
    wanted = key(label)
    for name, (value, words) in model.items():
        if key(name) == wanted and (not stage or stage_of(name) in ("", stage)):
            return name, value, words
    ideas = tags(label) | ({f"stage {stage}"} if stage else frozenset())
    if not ideas - _EMPTY:
        return None
    found = []
    for name, (value, words) in model.items():
        its = tags(name)
        if ideas <= its and len(its - ideas) <= 2:
            found.append((len(its - ideas), name, value, words))
    found.sort()
    if not found or (len(found) > 1 and found[0][0] == found[1][0]):
        return None
    _, name, value, words = found[0]
    return name, value, words
