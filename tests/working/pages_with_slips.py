"""The last line of a page with a slip, and the lines of a sound page that do not pass."""

from __future__ import annotations

import pytest

from wetmass.record.working import Verdict
from wetmass.working import check


def numbered(found: list[tuple[str, str, float]]) -> list[str]:
    """A name for each page: the slip it holds and its place in the list."""
    return [f"{kind}-{place}" for place, (kind, _, _) in enumerate(found)]


def assert_found(kind: str, page: str, right: float, rel: float) -> None:
    """The last line is off by this kind of slip, and what it should say is `right`, in SI."""
    line = check(page, "page.txt").lines[-1]
    assert line.verdict is Verdict.OFF, (line.text, line.sentence)
    assert kind in {line.likely.kind, *line.likely.same_as}, (line.likely.kind, line.sentence)
    assert line.recomputed == pytest.approx(right, rel=rel), (line.recomputed, right, line.sentence)


def assert_sound(page: str, *passing: Verdict) -> None:
    """The page has lines, and each of them has one of these verdicts."""
    lines = check(page, "page.txt").lines
    failing = [(line.text, line.sentence) for line in lines if line.verdict not in passing]
    assert lines and not failing, failing
