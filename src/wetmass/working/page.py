"""Which lines of a page are working.

In a `.txt` file every line may be.  In Markdown:

- every line of a fenced block without a language, or with one of `LANGUAGES`, and of a block set in
  by four spaces;
- outside of blocks, a list item or a line of its own that from start to end reads as working, a code
  span with a sign in it, and the rows of a table.

Headings say which stage the lines below speak of.  Prose, comments and other languages are left alone.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, replace

from wetmass.record.refusal import Complaint, Refusal
from wetmass.working.names import IDEAS, stage_of, tags
from wetmass.working.reading import code, commas, latex
from wetmass.working.reading.prose import wordy
from wetmass.working.units import UNITS

LANGUAGES = {
    "", "working", "text", "txt", "calc", "math", "maths", "plain", "none", "wetmass", "latex", "tex",
}  # fmt: skip
PROGRAMS = {"matlab", "octave", "python", "py", "julia", "r"}  # read where they can be, silently passed else
LONGEST_PAGE = 400_000  # characters
MOST_LINES = 4000

_FENCE = re.compile(r"^\s*(```+|~~~+)\s*([\w+\-]*)")
_BULLET = re.compile(
    r"^\s*(?:\[\d{1,2}:\d\d(?::\d\d)?\]\s+(?:[^\W\d]\w{0,14}:\s+)?|[-*+•–]\s+|\d{1,3}[.)]\s+|\d{1,2}\.\d{1,2}\s+(?=[A-Z][a-z]{2,})|[a-z]\)\s+|\((?:[a-z]|[ivx]{1,4}|\d{1,2})\)\s+)+(?:\[[ xX]\]\s+)?"
)
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
_SPAN = re.compile(r"`([^`\n]+)`")
_SIGN = re.compile(r"[=≈≃≅→⇒]|->|=>")
_TAIL_COMMENT = re.compile(r"\s(?://|#\s).*$|\s<-.*$")
_RULE = re.compile(r"^\s*\|?\s*:?-{2,}:?\s*(\|\s*:?-{2,}:?\s*)*\|?\s*$")


_WORKING_COLUMNS = (
    "working",
    "calc",
    "calculation",
    "formula",
    "how",
    "sum",
    "equation",
    "numbers",
    "working out",
)
_UNIT_COLUMNS = ("unit", "units", "einheit", "unité", "dimension")
_RESULT_COLUMNS = ("result", "value", "answer", "comes to", "gives", "total", "=", "result so far")


@dataclass(frozen=True, slots=True)
class RawLine:
    """One line (or cell) of working before it is parsed."""

    number: int  # counts from 1
    column: int
    text: str
    stage: str  # "1", "2" … from the heading above or the column of a table, "" for none
    section: int  # counts headings
    sure: bool  # stands where only working stands: what cannot be read there is said to be unclear
    prose: bool = False  # a sentence with numbers in it, of which only sums and values are read
    breaks: tuple[tuple[int, int], ...] = ()  # (where in the text, its line) of the lines of a paragraph

    def line_at(self, column: int) -> tuple[int, int]:
        """The line and the column on it of a place in the text."""
        number, start = self.number, 0
        for at, line in self.breaks:
            if at <= column:
                number, start = line, at
        return number, column - start


def read(text: str, name: str = "working.md") -> list[RawLine]:
    """The lines of working on a page, in order.

    Raises Refusal for a page too large to read.
    """
    if len(text) > LONGEST_PAGE or text.count("\n") > MOST_LINES:
        raise Refusal(
            Complaint(
                name,
                f"{len(text)} characters, {text.count(chr(10))} lines",
                f"up to {LONGEST_PAGE} characters and {MOST_LINES} lines, so that a check stays quick",
                "split the working into several files",
            )
        )
    text = _COMMENT.sub(lambda match: re.sub(r"[^\n]", " ", match.group()), text)
    if commas.uses_commas(text):
        text = commas.level(text)
    text = _without_speakers(text)
    markdown = not name.lower().endswith(".txt")
    reader = _Reader(markdown)
    for number, line in enumerate(text.split("\n"), 1):
        reader.take(number, line.rstrip("\r"))
    return reader.lines


def _without_speakers(text: str) -> str:
    """The page with the names of those who speak blanked: a word and a colon before three lines or more.

    >>> _without_speakers("ann: 2 + 3 = 5\\nbob: no\\nann: yes\\nann: 6 t")
    '     2 + 3 = 5\\nbob: no\\n     yes\\n     6 t'
    """
    said = Counter(match.group(2) for match in _SPEAKER.finditer(text))
    who = {name for name, count in said.items() if count >= 3 and not tags(name) & IDEAS}
    return _SPEAKER.sub(
        lambda match: (
            match.group(1) + " " * (len(match.group()) - len(match.group(1)))
            if match.group(2) in who
            else match.group()
        ),
        text,
    )


_SPEAKER = re.compile(r"(?m)^((?:>[ \t]*)?)([^\W\d_][\w\-]{2,14}):(?= [^\W_])")


class _Reader:
    def __init__(self, markdown: bool) -> None:
        self.markdown = markdown
        self.lines: list[RawLine] = []
        self.fence = ""  # the mark that closes the block we are in
        self.working_block = False
        self.stage = ""
        self.section = 0
        self.columns: list[str] | None = None
        self.blank_before = True
        self.formula = False  # between $$ and $$
        self.program = False  # in a block of program text

    def take(self, number: int, line: str) -> None:
        fence = _FENCE.match(line)
        if self.fence:
            if fence and fence.group(1)[0] == self.fence[0] and len(fence.group(1)) >= len(self.fence):
                self.fence = ""
                return
            if self.working_block:
                self.inside(number, line, sure=not self.program)
            return
        if fence:
            language = fence.group(2).lower()
            self.program = language in PROGRAMS
            self.fence, self.working_block = fence.group(1), language in LANGUAGES or self.program
            self.columns = None
            return
        set_in = self.markdown and re.match(r"^(?: {4,}|\t)\S", line) is not None and not _BULLET.match(line)
        self.inside(number, line, sure=not self.markdown or set_in)
        self.blank_before = not line.strip()

    def heading(self, text: str) -> None:
        self.stage = stage_of(text)
        self.section += 1
        self.columns = None

    def inside(self, number: int, line: str, sure: bool) -> None:
        if line.strip() in ("$$", r"\[", r"\]"):
            self.formula = line.strip() != r"\]" and not self.formula
            return
        if line.strip().startswith("$$") and line.strip().endswith("$$"):
            line, sure = line.strip().strip("$"), True
        sure = sure or self.formula
        line = latex.level(line)
        bare = line.strip()
        if not bare:
            self.columns = None
            return
        if bare.startswith("#"):
            self.heading(bare.lstrip("#").strip())
            return
        if bare.startswith(("//", "%", "<!")) or _RULE.match(bare) or set(bare) <= set("-=_*~ "):
            return
        # "Stage 1" or "**First stage:**" alone on its line is a heading too
        alone = re.sub(r"[*_:.\-–—\[\]()]", " ", bare).strip()
        if (
            stage_of(alone)
            and not _SIGN.search(bare)
            and len(alone) < 40
            and not re.search(r"\d", re.sub(r"(?i)stage\s*\d|\b[1-4](st|nd|rd|th)", "", alone))
            and (bare.endswith((":", "*", "]")) or len(alone.split()) <= 3)
        ):
            self.heading(alone)
            return
        if line.count(";") >= 3 and (self.columns is not None or self.blank_before or not self.lines):
            line = bare = "|" + line.replace("|", "/").replace(";", "|") + "|"  # a sheet saved as text
        if bare.startswith("|"):
            self.row(number, line)
            return
        self.columns = None
        start = _BULLET.match(line)
        column = (start.end() if start else len(line) - len(line.lstrip())) + 1
        body = line[column - 1 :]
        quoted = re.match(r"^(?:>\s*)+", body)
        if quoted:
            body, column = body[quoted.end() :], column + quoted.end()
        body = _TAIL_COMMENT.sub("", " " + code.level(body))[1:]
        if not sure:
            spans = [match for match in _SPAN.finditer(body) if self.worth(match.group(1))]
            if spans and not _whole_span(body):
                for match in spans:
                    self.add(number, column + match.start(1), match.group(1), False)
                return
            if not self.worth(body, listed=start is not None):
                self.sentence(number, column, body)
                return
        self.add(number, column, body, sure)

    def sentence(self, number: int, column: int, body: str) -> None:
        """A line of prose: it goes on from the line before where that did not end."""
        text = body.replace("**", "").replace("`", "").replace("$", "").strip()
        before = self.lines[-1] if self.lines else None
        if (
            before is not None
            and before.prose
            and (before.breaks[-1][1] if before.breaks else before.number) == number - 1
            and not re.search(r"[.:;!?]$", before.text)
        ):
            breaks = (*before.breaks, (len(before.text) + 1, number))
            self.lines[-1] = replace(before, text=f"{before.text} {text}", breaks=breaks)
        elif text and (wordy(text) or re.search(r"\d", text)):
            self.lines.append(RawLine(number, column, text, self.stage, self.section, False, True))

    def worth(self, text: str, listed: bool = False) -> bool:
        """Outside of blocks: could this be working at all?"""
        if not re.search(r"\d", text):
            return False
        if _SIGN.search(text):
            return True
        head, colon, _ = text.partition(":")
        return bool(colon) and len(head.split()) <= 6

    def row(self, number: int, line: str) -> None:
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if self.columns is None:
            self.columns = cells
            if not re.search(r"\d", re.sub(r"(?i)stage\s*\d|\d(st|nd)", "", line)):
                return
        columns = self.columns
        label, values = cells[0], cells[1:]
        if _CELL.match(label) and len(cells) > 2 and len(tags(cells[1])) > 0 and _worded(cells[1]):
            columns, cells = (
                columns[1:],
                cells[1:],
            )  # "B4 | engine thrust | …": the cell's own name says nothing
            label, values = cells[0], cells[1:]
        staged = [stage_of(column) for column in columns[1:]]
        if any(_SIGN.search(cell) for cell in cells):
            for index, cell in enumerate(cells):
                if _SIGN.search(cell):
                    text = cell
                    if not re.match(r"^[^\d=]{1,40}[=≈]", cell) and index > 0:
                        text = f"{label.replace('=', ' ')} = {cell.lstrip('= ')}"
                    text = _headed(text, columns[index] if 0 < index < len(columns) else "")
                    its = staged[index - 1] if 0 < index <= len(staged) else ""
                    self.add(number, line.find(cell) + 1, text, True, its)
            return
        working = next((i for i, c in enumerate(columns) if c.lower() in _WORKING_COLUMNS), 0)
        result = next((i for i, c in enumerate(columns) if c.lower() in _RESULT_COLUMNS), 0)
        if working and result and len(cells) > max(working, result) and label and cells[result]:
            unit_column = next((i for i, c in enumerate(columns) if c.lower() in _UNIT_COLUMNS), 0)
            unit = f" {cells[unit_column]}" if 0 < unit_column < len(cells) else ""
            unit = "" if unit.strip() in ("-", "–", "—", "1") else unit
            text = (
                f"{label.replace('=', ' ')} = {cells[working]} = {cells[result]}{unit}"
                if cells[working].strip("-–— ")
                else f"{label} = {cells[result]}{unit}"
            )
            self.add(number, line.find(cells[result]) + 1, text, True)
            return
        unit = ""
        if len(columns) >= 3 and columns[2].lower() in _UNIT_COLUMNS:
            unit = " " + values[1] if len(values) > 1 else ""
            values = values[:1]
        for index, value in enumerate(values):
            if not re.match(r"^[~≈]?\s*[−\-]?[\d.]", value) or not label:
                continue
            stage = staged[index] if index < len(staged) else ""
            if index > 0 and not stage:
                continue
            self.add(number, line.find(value) + 1, f"{label}: {value}{unit}", False, stage)

    def add(self, number: int, column: int, text: str, sure: bool, stage: str = "") -> None:
        text = text.replace("**", "^") if re.search(r"\w\*\*\d", text) else text.replace("**", "")
        text = text.replace("`", "").replace("$", "").strip()
        if text.endswith(("\\", "|")):
            text = text[:-1].strip()
        if text:
            self.lines.append(RawLine(number, column, text, stage or self.stage, self.section, sure))


def _headed(text: str, heading: str) -> str:
    """A cell's working under the name and the unit of its column, where the cell has none of its own.

    >>> _headed("aft = 4·π·1.2² = 18.1", "skin (m²)")
    'aft skin = 4·π·1.2² = 18.1 m²'
    """
    found = re.match(r"^([^\W\d][^()\[\]]*?)\s*[(\[]\s*([^()\[\]]+?)\s*[)\]]$", heading)
    if found is None or not tags(found.group(1)) & IDEAS or not re.search(r"[=≈]\s*[\d.,]+\s*$", text):
        return text
    if any(part.rstrip("²³23") not in UNITS for part in found.group(2).split("/")):
        return text
    label, sign, rest = text.partition(" = ")
    return f"{label} {found.group(1)}{sign}{rest.rstrip()} {found.group(2)}"


_CELL = re.compile(r"^(?:[A-Z]{0,2}\d{1,3}[.)]?|#\s*\d+|[a-z]|(?:row|step|line|no\.?)\s*\d+|)$")


def _worded(text: str) -> bool:
    return bool(re.search(r"[^\W\d_]", text)) and not _SIGN.search(text)


def _whole_span(body: str) -> bool:
    return bool(re.fullmatch(r"\s*`[^`]+`[.,;]?\s*", body))
