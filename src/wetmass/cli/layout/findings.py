"""What the result means: findings, the heaviest first, and the cautions."""

from __future__ import annotations

from wetmass.cli.layout.sheet import MARGIN, QUIET, Sheet
from wetmass.record.closed import Closed
from wetmass.record.finding import Finding, Weight

_STYLE = {Weight.FAILS: "bold red", Weight.DOUBT: "yellow", Weight.NOTE: "", Weight.CAUTION: ""}
_ASIDE = {
    Weight.FAILS: ("Does not hold", "what was asked and is not so"),
    Weight.DOUBT: ("In doubt", "outside what was published, or not as claimed"),
    Weight.NOTE: ("Worth knowing", ""),
}


def findings(sheet: Sheet, closed: Closed) -> None:
    """A section for each weight that has findings; the cautions in one paragraph at the end."""
    if not any(one.weight in (Weight.FAILS, Weight.DOUBT) for one in closed.findings):
        sheet.heading("In doubt", "against published ranges")
        sheet.paragraph("Nothing stands out.")
    for weight, (words, aside) in _ASIDE.items():
        entries = [one for one in closed.findings if one.weight is weight]
        if not entries:
            continue
        sheet.heading(words, aside)
        for entry in entries:
            _entry(sheet, entry)
    cautions = [one for one in closed.findings if one.weight is Weight.CAUTION]
    if cautions:
        sheet.heading("Caution")
        for one in cautions:
            sheet.paragraph(_sentence(one))


def _entry(sheet: Sheet, entry: Finding) -> None:
    name = f"{entry.part}: {entry.rule}" if entry.part else entry.rule
    if not entry.accepted:
        sheet.paragraph(f"{name} – {entry.got}. {entry.remedy}", _STYLE[entry.weight], hang=MARGIN)
        return
    sheet.paragraph(f"{name} – {entry.got}; accepted {entry.accepted}.", _STYLE[entry.weight], hang=MARGIN)
    sheet.paragraph(entry.remedy, indent=2 * MARGIN)
    sheet.paragraph(f"Source: {entry.source}.", QUIET, indent=2 * MARGIN)


def findings_of(one: Finding) -> str:
    """A finding in one paragraph, without its source."""
    return f"{one.rule} – {one.got}; accepted {one.accepted}. {one.remedy}"


def _sentence(one: Finding) -> str:
    got = f"{one.got[:1].upper()}{one.got[1:]}"
    against = f", not {one.accepted}" if one.accepted else ""
    return f"{got}{against}. {one.remedy}"
