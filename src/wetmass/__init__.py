"""wetmass: say a launch vehicle, close it, fly it, read it.

    import wetmass

    concept = wetmass.load("examples/dunlin.yaml")
    closed = wetmass.fly(concept)

Importing this imports nothing heavy; each call does when it needs to.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wetmass.concept.model import Concept
    from wetmass.record.closed import Closed

__all__ = ["__version__", "fly", "load"]


def load(path: str | Path) -> Concept:
    """The concept in a file.

    Raises `wetmass.record.refusal.Refusal`, with all complaints of the file, and nothing else.
    """
    from wetmass.concept.reading import load as read

    return read(path)


def fly(concept: Concept | str | Path, *, told: Callable[[str], None] = lambda words: None) -> Closed:
    """A concept closed and flown, up and home, with its findings.

    concept  a concept, or the path of its file
    told     called with a few words whenever another part of the work begins

    `home` of the answer says how every stage that is let go comes down.
    A concept that does not close is an answer too: `closes` is False, and `reason` says why.
    Raises `wetmass.record.refusal.Refusal` when the file cannot be taken as it stands.
    """
    from wetmass.closing import bring_home
    from wetmass.findings import judge

    if isinstance(concept, (str, Path)):
        concept = load(concept)
    closed = judge(concept, bring_home(concept, told=told))
    if "IPython" in sys.modules:  # in a notebook records show themselves as tables and formulas
        from wetmass.lesson.notebook import register

        register()
    return closed


def __getattr__(name: str) -> Any:
    if name == "__version__":
        from importlib.metadata import version

        return version("wetmass")
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
