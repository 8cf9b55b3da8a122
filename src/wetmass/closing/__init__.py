"""Find the open values of a concept: close the sizing loop with the flight in it, up and home."""

from __future__ import annotations

from wetmass.closing.again import Known, known
from wetmass.closing.close import Answer, answered, close, told_of
from wetmass.closing.homecoming import bring_home, brought_home, opened_home
from wetmass.closing.quick import Nearby, start_from

__all__ = ["Answer", "Known", "Nearby", "answered", "bring_home", "brought_home", "close", "known", "opened_home",
           "start_from", "told_of"]  # fmt: skip
