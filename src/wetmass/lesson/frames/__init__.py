"""The lesson as pictures for a screen: one step or picture a frame, numbered in order."""

from __future__ import annotations

from wetmass.lesson.frames.frame import Frame, frames_of
from wetmass.lesson.frames.render import SIZE, pngs, svgs

__all__ = ["SIZE", "Frame", "frames_of", "pngs", "svgs"]
