"""A checked working as a page: each line with its mark, and a colleague's note under it."""

from __future__ import annotations

from wetmass.cli.layout.sheet import MARGIN, QUIET, Sheet
from wetmass.record.working import CheckedLine, CheckedWorking, Verdict
from wetmass.working.notes import off_by, outcome, remarks, summary

_MARK = {Verdict.RIGHT: "✓", Verdict.APPROXIMATION: "≈", Verdict.OFF: "✗", Verdict.UNCLEAR: "?"}
_STYLE = {Verdict.RIGHT: "", Verdict.APPROXIMATION: "yellow", Verdict.OFF: "bold red", Verdict.UNCLEAR: "magenta"}  # fmt: skip
_NUMBER = 4  # letters for the number of a line
_NOTE = MARGIN + _NUMBER + 4


def checked_page(page: CheckedWorking, width: int) -> Sheet:
    """The page of `wetmass check`."""
    sheet = Sheet(width)
    sheet.heading(page.name)
    sheet.line()
    for line in page.lines:
        _line(sheet, line)
    sheet.line()
    sheet.paragraph(f"{summary(page)} {outcome(page)}".strip())
    return sheet


def _line(sheet: Sheet, line: CheckedLine) -> None:
    room = sheet.width - _NOTE
    text = line.text if len(line.text) <= room else line.text[: room - 1] + "…"
    head = f"{line.place.line:>{_NUMBER}}  {_MARK[line.verdict]} {text}"
    sheet.line(head, _STYLE[line.verdict], indent=MARGIN)
    if line.verdict in (Verdict.OFF, Verdict.APPROXIMATION) and line.recomputed_text:
        away = off_by(line)
        aside = f"recomputed: {line.recomputed_text}" + (f"  ({away})" if away else "")
        sheet.line(aside, QUIET, indent=_NOTE)
    for said in remarks(line):
        sheet.paragraph(said, indent=_NOTE)
