"""One sheet being filled: rows from the top, names of cells, numbers that are inputs and those that follow."""

from __future__ import annotations

from typing import Any

QUANTITY = "#,##0.0##"
RATIO = "0.000"
SHARE = "0.0 %"


class Looks:
    """How cells look."""

    def __init__(self, book: Any) -> None:
        font = {"font_name": "Calibri", "font_size": 11}
        self.title = book.add_format({**font, "bold": True, "font_size": 16})
        self.words = book.add_format({**font, "text_wrap": True, "valign": "top"})
        self.head = book.add_format(
            {**font, "bold": True, "bottom": 1, "text_wrap": True, "valign": "bottom"}
        )
        self.right = book.add_format(
            {**font, "bold": True, "bottom": 1, "align": "right", "text_wrap": True, "valign": "bottom"}
        )
        self.plain = book.add_format(font)
        self.quiet = book.add_format({**font, "font_color": "#56616d"})
        self._book, self._font, self._made = book, font, {}

    def number(self, form: str = QUANTITY, *, given: bool = False, sum_: bool = False) -> Any:
        """A number: one that may be changed has a ground of its own."""
        key = (form, given, sum_)
        if key not in self._made:
            look = {**self._font, "num_format": form}
            if given:
                look |= {"font_color": "#0b5394", "bg_color": "#fff3c9"}
            if sum_:
                look |= {"bold": True, "top": 1}
            self._made[key] = self._book.add_format(look)
        return self._made[key]


class Sheet:
    """One sheet, filled downwards."""

    def __init__(
        self, book: Any, looks: Looks, name: str, title: str, about: str, widths: list[float]
    ) -> None:
        self.page, self.looks, self.name, self.row = book.add_worksheet(name), looks, name, 0
        self.page.hide_gridlines(2)
        for column, width in enumerate(widths):
            self.page.set_column(column, column, width)
        self.page.write_string(0, 0, title, looks.title)
        self.page.merge_range(1, 0, 1, max(len(widths) - 1, 1), about, looks.words)
        self.page.set_row(1, 15.0 * (1 + len(about) // 95))
        self.row = 3

    def heads(self, *words: str) -> None:
        """The heads of the columns; the first is left, numbers are right."""
        for column, text in enumerate(words):
            self.page.write_string(
                self.row, column, text, self.looks.head if column == 0 else self.looks.right
            )
        self.row += 1

    def line(self, words: str, *cells: Cell, look: Any = None) -> list[str]:
        """A row; returns where its cells stand, such as "Masses!B5"."""
        self.page.write_string(self.row, 0, words, look or self.looks.plain)
        places = []
        for column, cell in enumerate(cells, 1):
            if cell is not None:
                cell.write(self.page, self.row, column, self.looks)
            places.append(f"'{self.name}'!{place(self.row, column)}")
        self.row += 1
        return places

    def gap(self) -> None:
        """An empty row."""
        self.row += 1


class Given:
    """A number that may be changed."""

    def __init__(self, value: float, form: str = QUANTITY) -> None:
        self.value, self.form = value, form

    def write(self, page: Any, row: int, column: int, looks: Looks) -> None:
        """Into its cell."""
        page.write_number(row, column, self.value, looks.number(self.form, given=True))


class Follows:
    """A number that follows from others; `value` is what we found, shown until it is computed again."""

    def __init__(self, formula: str, value: float, form: str = QUANTITY, *, sum_: bool = False) -> None:
        self.formula, self.value, self.form, self.sum_ = formula, value, form, sum_

    def write(self, page: Any, row: int, column: int, looks: Looks) -> None:
        """Into its cell."""
        page.write_formula(
            row, column, f"={self.formula}", looks.number(self.form, sum_=self.sum_), self.value
        )


class Text:
    """A few words."""

    def __init__(self, words: str) -> None:
        self.words = words

    def write(self, page: Any, row: int, column: int, looks: Looks) -> None:
        """Into its cell."""
        page.write_string(row, column, self.words, looks.quiet)


Cell = Given | Follows | Text | None


def place(row: int, column: int) -> str:
    """The name of a cell.

    >>> place(4, 1)
    'B5'
    """
    from xlsxwriter.utility import xl_rowcol_to_cell

    return xl_rowcol_to_cell(row, column)
