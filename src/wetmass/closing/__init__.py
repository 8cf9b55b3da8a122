"""Find the open values of a concept: close the sizing loop with the flight in it, up and home."""

from __future__ import annotations

from wetmass.closing.again import Known, known
from wetmass.closing.close import Answer, answered, close, told_of
from wetmass.closing.homecoming import bring_home, brought_home
from wetmass.closing.quick import Nearby, start_from
from wetmass.closing.reserves import Homeward, answered_home, opened_home

__all__ = ["Answer", "Homeward", "Known", "Nearby", "answered", "answered_home", "bring_home", "brought_home", "close",
           "known", "opened_home", "start_from", "told_of"]  # fmt: skip
