"""How well slips are found: one table.

Run: python benchmarks/slips/measure.py [--tuning | --all] [--failures]

Held out: half of all cases by the SHA-256 of their id (see `plant.Case.held_out`); tuning looked only
at the other half of the planted ones.  The sets written by hand were each written before the finder
of that day was run on them, and their first scores are in README.md; since then all of them have been
looked at, so their rows here are regression marks.

found  the faulty line is marked off (or an approximation with its slip named)
named  the first slip is of the planted kind or one that no arithmetic can tell from it
code   the kind named first, nothing else, is the planted one
False alarms are lines marked off or unclear, of all lines of the sound workings.
"""

from __future__ import annotations

import collections
import hashlib
import re
import sys
import time
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))

from plant import Case, cases  # noqa: E402

from wetmass.record.working import Verdict  # noqa: E402
from wetmass.working.slips.kinds import KINDS  # noqa: E402
from wetmass.working.verdicts import check  # noqa: E402


def hand_cases(path: Path) -> list[Case]:
    """The faulty lines written by hand."""
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
        name = "page.md" if "|--" in body or "```" in body else "page.txt"
        for number, kinds in marks.items():
            found.append(
                Case(f"{path.stem}:{title}:{number}", name, text, number, kinds, "hand", tuple(marks))
            )
    return found


def judge(case: Case) -> tuple[bool, bool, int, int, str, bool]:
    """(found, named first, false alarms, sound lines, what was said, named by the first code alone)."""
    page = check(case.text, case.file)
    found = named = strictly = False
    false = sound = 0
    said = ""
    for line in page.lines:
        if line.place.line == case.line:
            hit = line.verdict is Verdict.OFF or (line.verdict is Verdict.APPROXIMATION and bool(line.slips))
            if hit and not found:
                found = True
                top = line.likely
                named = top is not None and bool({top.kind, *top.same_as} & set(case.kinds))
                strictly = top is not None and top.kind in case.kinds
            said += f" {line.verdict.value}: {line.sentence}"
        elif line.place.line < case.line and line.place.line not in case.marked:
            sound += 1
            false += line.verdict in (Verdict.OFF, Verdict.UNCLEAR)
    return found, named, false, sound, said, strictly


def main(arguments: list[str]) -> int:
    planted = cases(HERE / "sound")
    hand = [case for path in sorted((HERE / "hand").glob("*.txt")) for case in hand_cases(path)]
    which = "tuning" if "--tuning" in arguments else "all" if "--all" in arguments else "held out"
    rows: dict[str, list[int]] = collections.defaultdict(lambda: [0, 0, 0, 0])
    groups: dict[str, list[int]] = collections.defaultdict(lambda: [0, 0, 0, 0])
    false = sound = 0
    near = [0, 0]  # sound lines above the fault on pages written by hand
    began = time.perf_counter()
    pages = 0
    for case in planted + hand:
        if (which == "held out" and not case.held_out) or (which == "tuning" and case.held_out):
            continue
        was_found, was_named, wrongly, above, said, strictly = judge(case)
        if case.mode == "hand":
            near[0] += above
            near[1] += wrongly
        pages += 1
        kind = case.kinds[0]
        for table in (
            rows[kind],
            groups[case.mode if case.mode != "hand" else case.id.split(":")[0]],
            groups["all faults"],
        ):
            table[0] += 1
            table[1] += was_found
            table[2] += was_named
            table[3] += strictly
        if "--failures" in arguments and not was_named:
            row = case.text.split("\n")[case.line - 1]
            print(
                "named otherwise" if was_found else "missed", case.id, case.kinds, "|", row.strip(), "|", said
            )
    for path in sorted((HERE / "sound").iterdir()):
        chosen = hashlib.sha256(path.name.encode()).digest()[0] >= 128
        if (which == "held out" and not chosen) or (which == "tuning" and chosen):
            continue
        for line in check(path.read_text(), path.name).lines:
            sound += 1
            bad = line.verdict in (Verdict.OFF, Verdict.UNCLEAR)
            false += bad
            if bad and "--failures" in arguments:
                print("false alarm", path.name, "|", line.text, "|", line.sentence)
    spent = time.perf_counter() - began
    print(
        f"\nCases {which}; {len(planted)} planted and {len(hand)} by hand in all; {spent / max(pages, 1) * 1e3:.1f} ms a page"  # noqa: E501
    )
    print(f"{'':44}{'cases':>6}{'found':>8}{'named':>8}{'code':>8}")
    for code in sorted(rows):
        n, found, named, strictly = rows[code]
        print(
            f"{code} {KINDS[code].name[:39]:40}{n:>6}{found / n:>8.0%}{named / n:>8.0%}{strictly / n:>8.0%}"
        )
    print("-" * 74)
    for name, (n, found, named, strictly) in groups.items():
        print(f"{name:44}{n:>6}{found / n:>8.1%}{named / n:>8.1%}{strictly / n:>8.1%}")
    print(f"{'false alarms on sound lines':44}{sound:>6}{false / max(sound, 1):>8.1%}")
    print(f"{'the same above faults written by hand':44}{near[0]:>6}{near[1] / max(near[0], 1):>8.1%}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
