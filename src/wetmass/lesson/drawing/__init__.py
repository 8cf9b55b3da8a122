"""Pictures to scale: the whole vehicle, its stages cut open, engines from below, and what is let go when."""

from __future__ import annotations

from wetmass.lesson.drawing.beside import beside
from wetmass.lesson.drawing.engines import engines
from wetmass.lesson.drawing.engines import words as engines_words
from wetmass.lesson.drawing.staging import partings, staging
from wetmass.lesson.drawing.svg import Drawing
from wetmass.lesson.drawing.volumes import from_volumes
from wetmass.lesson.drawing.whole import portrait, stage, whole

__all__ = [
    "Drawing",
    "beside",
    "engines",
    "engines_words",
    "from_volumes",
    "partings",
    "portrait",
    "stage",
    "staging",
    "whole",
]
