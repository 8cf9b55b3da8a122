"""Formulas set as mathematics, from the one tree: `mathml` for the page, `typst` for paper."""

from __future__ import annotations

from wetmass.lesson.mathematics.lines import Lines
from wetmass.lesson.mathematics.mathml import MathML
from wetmass.lesson.mathematics.typst import Typst
from wetmass.record.tidy import tidy

__all__ = ["Lines", "MathML", "Typst", "tidy"]
