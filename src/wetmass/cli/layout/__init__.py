"""The result as a page of text: each file lays out one section; nothing here computes."""

from __future__ import annotations

from wetmass.cli.layout.page import page, verdict_line

__all__ = ["page", "verdict_line"]
