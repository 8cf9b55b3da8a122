"""Charts as altair charts, to be changed in a notebook, and drawn without a network by `svg`."""

from __future__ import annotations

from wetmass.lesson.charts.budget import rows as budget_rows
from wetmass.lesson.charts.budget import speed_budget
from wetmass.lesson.charts.drawn import svg
from wetmass.lesson.charts.ground import ground_track, places, window
from wetmass.lesson.charts.guesses import bell, guesses
from wetmass.lesson.charts.guesses import words as guesses_words
from wetmass.lesson.charts.homecoming import homecoming
from wetmass.lesson.charts.masses import mass_breakdown
from wetmass.lesson.charts.over_time import QUANTITIES, Axes, axes, drawn_until, over_time, quantities

__all__ = [
    "QUANTITIES",
    "Axes",
    "axes",
    "bell",
    "budget_rows",
    "drawn_until",
    "ground_track",
    "guesses",
    "guesses_words",
    "homecoming",
    "mass_breakdown",
    "over_time",
    "places",
    "quantities",
    "speed_budget",
    "svg",
    "window",
]
