"""What a result means: rules with published ranges and limits, and what each result was held against.

`judge(concept, closed)` gives the result with its findings, `find` the findings alone.  A rule reads; it
never changes a number.
"""

from __future__ import annotations

from wetmass.findings.rules import RULES, find, judge

__all__ = ["RULES", "find", "judge"]
