"""One set of pages by hand: marked lines found and named, every other line a sound one.

Run: python benchmarks/slips/blind.py [set …] [--failures]

A set is a file of `hand/`.  Unlike `measure.py`, which looks at each faulty line by itself, a page with
several faults is checked once and every unmarked line of it, below a fault too, has to pass.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

from wetmass.record.working import CheckedLine, Verdict
from wetmass.working.verdicts import check

HERE = Path(__file__).parent
SETS = (
    "soundscripts", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth", "thirteenth", "fourteenth", "fifteenth",
    "sixteenth", "seventeenth", "eighteenth", "nineteenth", "twentieth", "twentyfirst", "twentysecond", "twentythird", "twentyfourth", "twentyfifth", "twentysixth", "twentyseventh",
    "twentyeighth", "twentyninth", "thirtieth",
)  # fmt: skip


def pages(path: Path) -> list[tuple[str, str, str, dict[int, tuple[str, ...]]]]:
    """(title, file name, text, marks by line) of each page of a set."""
    parts = re.split(r"(?m)^=== (.*)$", path.read_text())[1:]
    found = []
    for title, body in zip(parts[::2], parts[1::2], strict=True):
        rows, marks = [], {}
        for number, row in enumerate(body.split("\n"), 1):
            mark = re.search(r"\s*<<(\S+)\s*$", row)
            if mark:
                marks[number] = tuple(mark.group(1).split("|"))
                row = row[: mark.start()]
            rows.append(row)
        text = "\n".join(rows)
        markdown = "|--" in body or "```" in body or "\n> " in body
        found.append((title, "page.md" if markdown else "page.txt", text, marks))
    return found


def measure(path: Path, failures: bool) -> tuple[int, int, int, int, int, int]:
    """(faulty lines, found, named first, sound lines read, called off or unclear, found by an unclear verdict)."""  # noqa: E501
    faulty = found = named = sound = false = soft = 0
    for title, name, text, marks in pages(path):
        by_line: dict[int, CheckedLine] = {}
        for line in check(text, name).lines:
            kept = by_line.get(line.place.line)
            if kept is None or kept.verdict is Verdict.RIGHT:
                by_line[line.place.line] = line
        for number, kinds in marks.items():
            faulty += 1
            line = by_line.get(number)
            top = line.likely if line else None
            hit = line is not None and (
                line.verdict is Verdict.OFF
                or (line.verdict in (Verdict.UNCLEAR, Verdict.APPROXIMATION) and top)
            )
            right = bool(hit) and top is not None and bool({top.kind, *top.same_as} & set(kinds))
            found += bool(hit)
            soft += bool(hit) and line is not None and line.verdict is Verdict.UNCLEAR
            named += right
            if failures and not right:
                said = f"{line.verdict.value}: {line.sentence}" if line else "not read"
                print(
                    "named otherwise" if hit else "MISSED",
                    title,
                    kinds,
                    "|",
                    text.split("\n")[number - 1],
                    "|",
                    said,
                )
        for number, line in by_line.items():
            if number in marks:
                continue
            sound += 1
            if line.verdict in (Verdict.OFF, Verdict.UNCLEAR):
                false += 1
                if failures:
                    print("false alarm", title, "|", line.text, "|", line.sentence)
    return faulty, found, named, sound, false, soft


def main(arguments: list[str]) -> int:
    chosen = [word for word in arguments if not word.startswith("-")] or SETS
    for name in chosen:
        path = HERE / "hand" / f"{name}.txt"
        if not path.exists():
            continue
        n, found, named, sound, false, soft = measure(path, "--failures" in arguments)
        print(
            f"{name:12}{n:>5} faulty  {found / max(n, 1):>6.0%} found  {named / max(n, 1):>6.0%} named first  {false} of {sound} sound lines called off, {soft} of those found as unclear"  # noqa: E501
        )
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
