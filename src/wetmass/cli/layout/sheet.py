"""A page of text in one type: headings, paragraphs and tables set by white space alone."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

MARGIN = 2
WIDEST = 100  # longer lines are hard to read
NARROWEST = 60
QUIET, STRONG = "dim", "bold"


@dataclass(frozen=True, slots=True)
class Column:
    """How one column of a table is set."""

    right: bool = True  # flush right, for numbers
    gap: int = 2  # spaces before it
    bends: bool = False  # text that may go on in the next line


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table; a cell may be empty."""

    cells: tuple[str, ...]
    style: str = ""


LEFT, RIGHT, BENDS = Column(right=False), Column(), Column(right=False, bends=True)


class Sheet:
    """Lines being collected for one page."""

    def __init__(self, width: int) -> None:
        self.width = max(NARROWEST, min(width, WIDEST))
        self.lines: list[Text] = []

    def line(self, text: str = "", style: str = "", indent: int = 0) -> None:
        """One line as it is."""
        self.lines.append(Text(" " * indent + text, style=style))

    def heading(self, words: str, aside: str = "") -> None:
        """The name of a section, after an empty line, with a quiet remark."""
        self.line()
        heading = Text(words, style=STRONG)
        if aside:
            heading.append("  " + aside, style=f"not bold {QUIET}")
        self.lines.append(heading)

    def paragraph(self, text: str, style: str = "", indent: int = MARGIN, hang: int = 0) -> None:
        """Text in lines that fit; only plain spaces break, so a number keeps its unit."""
        self.lines += [
            Text(part, style=style)
            for part in textwrap.wrap(
                text,
                self.width,
                initial_indent=" " * indent,
                subsequent_indent=" " * (indent + hang),
                break_on_hyphens=False,
                break_long_words=False,
            )
        ]

    def table(self, columns: Sequence[Column], rows: Sequence[Row], indent: int = MARGIN) -> None:
        """Rows under one another, every column as wide as its widest cell."""
        widths = [max((cell_len(row.cells[i]) for row in rows), default=0) for i in range(len(columns))]
        taken = indent + sum(widths) + sum(column.gap for column in columns[1:])
        bends = next((i for i, column in enumerate(columns) if column.bends), None)
        if bends is not None and taken > self.width:
            widths[bends] = max(16, widths[bends] - (taken - self.width))
        for row in rows:
            self._row(columns, widths, row, bends, indent)

    def _row(
        self, columns: Sequence[Column], widths: list[int], row: Row, bends: int | None, indent: int
    ) -> None:
        parts = [[cell] for cell in row.cells]
        if bends is not None and cell_len(row.cells[bends]) > widths[bends]:
            parts[bends] = textwrap.wrap(row.cells[bends], widths[bends], break_on_hyphens=False)
        for number in range(max(map(len, parts))):
            text = " " * indent
            for i, column in enumerate(columns):
                cell = parts[i][number] if number < len(parts[i]) else ""
                space = " " * (widths[i] - cell_len(cell))
                text += " " * (column.gap if i else 0) + (space + cell if column.right else cell + space)
            self.lines.append(Text(text.rstrip(), style=row.style))

    def show(self, console: Console) -> None:
        """Print the page."""
        for line in self.lines:
            console.print(line, no_wrap=True, overflow="ignore", crop=False, soft_wrap=True)
