"""What a lesson holds, in order, before it is laid out: `lesson_of` makes it; page, paper and frames show it."""

from __future__ import annotations

from wetmass.lesson.content.lesson import Lesson, Section, lesson_of

__all__ = ["Lesson", "Section", "lesson_of"]
