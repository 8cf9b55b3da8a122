"""The flight as a film: up, and home, with telemetry; `film` writes MP4, WebM or GIF."""

from __future__ import annotations

from wetmass.lesson.film.encode import ENDINGS, NoEncoder
from wetmass.lesson.film.make import film, still

__all__ = ["ENDINGS", "NoEncoder", "film", "still"]
