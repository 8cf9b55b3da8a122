"""A checked page laid out for the terminal, as an annotated copy, and as JSON."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from wetmass.record.say import listed
from wetmass.record.working import CheckedLine, CheckedWorking, Verdict

if TYPE_CHECKING:
    from rich.console import RenderableType

_MARK = {Verdict.RIGHT: "✓", Verdict.APPROXIMATION: "≈", Verdict.OFF: "✗", Verdict.UNCLEAR: "?"}
_STYLE = {
    Verdict.RIGHT: "green",
    Verdict.APPROXIMATION: "yellow",
    Verdict.OFF: "bold red",
    Verdict.UNCLEAR: "magenta",
}


def summary(page: CheckedWorking) -> str:
    """One sentence on the whole page.

    >>> from wetmass.working.verdicts import check
    >>> summary(check("start mass: 412 t", "a.txt"))
    'One line read, and it holds.'
    """
    count = len(page.lines)
    if not count:
        return "No line of working found. Put the working in a fenced block, one statement a line."
    off, unclear = page.having(Verdict.OFF), page.having(Verdict.UNCLEAR)
    close = page.having(Verdict.APPROXIMATION)
    if not off and not unclear:
        text = (
            "One line read, and it holds."
            if count == 1
            else f"{_number(count)} lines read, and all of them hold."
        )
        if close:
            which = (
                "One is an approximation" if len(close) == 1 else f"{_number(len(close))} are approximations"
            )
            text = text[:-1] + f"; {which[0].lower()}{which[1:]} whose cost is given."
        return text
    parts = []
    if off:
        lines = listed([str(line.place.line) for line in off])
        parts.append(
            f"{_number(len(off))} {'asks' if len(off) == 1 else 'ask'} for a second look (line{'s' * (len(off) > 1)} {lines})"  # noqa: E501
        )
    if unclear:
        parts.append(f"{_number(len(unclear)).lower()} I could not read")
    held = count - len(off) - len(unclear)
    parts_text = " and ".join(parts)
    if not held:
        return f"{_number(count)} line{'s' * (count > 1)} read: {parts_text[0].lower()}{parts_text[1:]}."
    verb = "holds" if held == 1 else "hold"
    return f"{_number(count)} line{'s' * (count > 1)} read: {_number(held).lower()} {verb}, {parts_text[0].lower()}{parts_text[1:]}."  # noqa: E501


def outcome(page: CheckedWorking) -> str:
    """Where the page ends once every faulty line is put right; "" where no later line moves."""
    faulty = {line.place.line for line in page.having(Verdict.OFF)}
    moved = [
        effect
        for effect in page.finals
        if effect.line not in faulty or (len(faulty) > 1 and effect.line in faulty)
    ]
    if not moved or not any(line.effects for line in page.lines):
        return ""
    said = listed([f"{effect.name} is {effect.after}, not {effect.before}" for effect in moved[-4:]])
    every = (
        "With that put right"
        if len(faulty) == 1
        else "With both put right"
        if len(faulty) == 2
        else f"With all {_number(len(faulty)).lower()} put right"
    )
    return f"{every}, {said}."


def remarks(line: CheckedLine) -> list[str]:
    """What is said of a line, one sentence each, the slip first."""
    said = []
    if line.verdict is Verdict.OFF and line.slips:
        name = line.slips[0].name
        name = name if name.startswith("g₀") else name[0].upper() + name[1:]
        said.append(f"{name}? {line.sentence}")
    elif line.sentence:
        said.append(line.sentence)
    others = [
        slip
        for slip in line.slips[1:]
        if slip.weight >= 0.35 * line.slips[0].weight and slip.kind not in line.slips[0].same_as
    ][:2]
    if others and line.verdict is Verdict.OFF:
        said.append("The digits would also fit: " + "; ".join(_cause(slip.sentence) for slip in others) + ".")
    if line.verdict is Verdict.OFF and line.relation:
        said.append(f"Relation: {line.relation} ({line.source}).")
    said.extend(note[0].upper() + note[1:] + "." for note in line.notes)
    if line.effects:
        final = [effect for effect in line.effects if effect.final] or list(line.effects)
        passing = [effect for effect in line.effects if not effect.final]
        moved = "; ".join(
            f"{effect.name} (line {effect.line}) from {effect.before} to {effect.after}"
            for effect in final[:4]
        )
        through = ""
        if passing and final[0].final:
            lines = listed([str(effect.line) for effect in passing])
            through = f", by way of line{'s' * (len(passing) > 1)} {lines}"
        said.append(f"Put right, it moves {moved}{through}.")
    return said


def _cause(sentence: str) -> str:
    """The deed in a slip's sentence, without the numbers already said."""
    middle = sentence.split("comes out when ")[-1]
    return middle.split(";")[0].rstrip(".")


def plain(page: CheckedWorking) -> str:
    """The notes as plain text: each line with its mark, what is said below it, the summary last."""
    rows = []
    for line in page.lines:
        rows.append(f"{line.place.line:>4} {_MARK[line.verdict]} {line.text}")
        rows.extend(f"       {said}" for said in remarks(line))
    rows.append("")
    rows.append(summary(page))
    if outcome(page):
        rows.append(outcome(page))
    return "\n".join(rows)


def terminal(page: CheckedWorking, everything: bool = True) -> RenderableType:
    """The notes as a table for a terminal (rich); `everything` shows the right lines too."""
    from rich.console import Group
    from rich.table import Table
    from rich.text import Text

    table = Table(title=page.name, title_justify="left", show_lines=False, pad_edge=False, expand=False)
    table.add_column("line", justify="right", style="dim")
    table.add_column("")
    table.add_column("working", overflow="fold", ratio=3)
    table.add_column("recomputed", overflow="fold", ratio=1)
    table.add_column("off by", justify="right")
    table.add_column("note", overflow="fold", ratio=4)
    for line in page.lines:
        said = remarks(line)
        if not everything and line.verdict is Verdict.RIGHT and not said:
            continue
        table.add_row(
            str(line.place.line),
            Text(_MARK[line.verdict], _STYLE[line.verdict]),
            Text(line.text),
            Text(line.recomputed_text if line.verdict in (Verdict.OFF, Verdict.APPROXIMATION) else ""),
            Text(off_by(line) if line.verdict in (Verdict.OFF, Verdict.APPROXIMATION) else ""),
            Text("\n".join(said)),
        )
    return Group(table, Text(f"{summary(page)} {outcome(page)}".strip()))


def off_by(line: CheckedLine) -> str:
    """How far a line is off: percent when near, a factor when far."""
    if line.off_by is None or line.recomputed is None or line.stated is None:
        return ""
    ratio = 1.0 + line.off_by
    if ratio <= 0:
        return "sign" if 0.99 < -ratio < 1.01 else f"× −{_short(-ratio)}"
    if 0.5 < ratio < 2.0 - 1e-9:
        return f"{100.0 * line.off_by:+.3g} %".replace("-", "−")
    return f"× {_short(ratio)}" if ratio >= 1 else f"÷ {_short(1.0 / ratio)}"


def _short(number: float) -> str:
    from wetmass.record.digits import readable

    return readable(number, 3)


def annotated(page: CheckedWorking) -> str:
    """The page as Markdown with a note under every line that needs one, and a summary on top.

    Notes inside a fenced block stand under their line, set in, with a mark; outside they are quotes.
    Nothing of the page itself is changed.
    """
    by_line: dict[int, list[CheckedLine]] = {}
    for line in page.lines:
        by_line.setdefault(line.place.line, []).append(line)
    out = [f"> **Checked.** {summary(page)} {outcome(page)}".rstrip(), ""]
    fence = ""
    in_list = False
    for number, row in enumerate(page.text.split("\n"), 1):
        out.append(row)
        stripped = row.lstrip()
        if stripped.startswith(("```", "~~~")):
            fence = "" if fence and stripped.startswith(fence) else (fence or stripped[:3])
        in_list = stripped.startswith(("- ", "* ", "+ ")) or stripped[:2].rstrip(".)").isdigit()
        table = stripped.startswith("|")
        for line in by_line.get(number, []):
            said = remarks(line)
            if not said and line.verdict is Verdict.RIGHT:
                continue
            mark = _MARK[line.verdict]
            if fence or row.startswith("    ") or not page.name.endswith(".md"):
                indent = " " * (len(row) - len(stripped) + 2)
                out.extend(
                    f"{indent}{'↳ ' + mark if i == 0 else '   '} {text}" for i, text in enumerate(said)
                )
            elif table:
                out.append(f"| ↳ {mark} | {' '.join(said)} |" if row.count("|") == 3 else "")
                if not out[-1]:
                    out.pop()
            else:
                indent = "  " if in_list else ""
                if not in_list:
                    out.append("")
                out.append(f"{indent}> {mark} {' '.join(said)}")
                if not in_list:
                    out.append("")
    return "\n".join(out)


def as_data(page: CheckedWorking) -> dict[str, Any]:
    """The page as plain data for JSON."""
    return {
        "format": "wetmass checked working 1",
        "name": page.name,
        "summary": summary(page),
        "clean": page.clean,
        "outcome": outcome(page),
        "finals": [
            {
                "line": effect.line,
                "name": effect.name,
                "before": effect.before,
                "after": effect.after,
                "change": effect.change,
            }
            for effect in page.finals
        ],
        "counts": {verdict.value: len(page.having(verdict)) for verdict in Verdict},
        "lines": [
            {
                "line": line.place.line,
                "column": line.place.column,
                "text": line.text,
                "name": line.name,
                "verdict": line.verdict.value,
                "stated": line.stated,
                "recomputed": line.recomputed,
                "stated_text": line.stated_text,
                "recomputed_text": line.recomputed_text,
                "unit": line.unit,
                "off_by": line.off_by,
                "sentence": line.sentence,
                "slips": [
                    {
                        "kind": slip.kind,
                        "name": slip.name,
                        "sentence": slip.sentence,
                        "value": slip.value,
                        "right": slip.right,
                        "digits": slip.digits,
                        "weight": round(slip.weight, 4),
                        "same_as": list(slip.same_as),
                    }
                    for slip in line.slips
                ],
                "effects": [
                    {
                        "line": effect.line,
                        "name": effect.name,
                        "before": effect.before,
                        "after": effect.after,
                        "change": effect.change,
                        "final": effect.final,
                    }
                    for effect in line.effects
                ],
                "relation": line.relation,
                "source": line.source,
                "notes": list(line.notes),
            }
            for line in page.lines
        ],
    }


def as_json(page: CheckedWorking) -> str:
    """The page as JSON text."""
    return json.dumps(_finite(as_data(page)), ensure_ascii=False, indent=2, allow_nan=False)


def _finite(value: Any) -> Any:
    """JSON has no infinity: it becomes null."""
    import math

    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, dict):
        return {key: _finite(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_finite(inner) for inner in value]
    return value


_WORDS = (
    "No",
    "One",
    "Two",
    "Three",
    "Four",
    "Five",
    "Six",
    "Seven",
    "Eight",
    "Nine",
    "Ten",
    "Eleven",
    "Twelve",
)


def _number(count: int) -> str:
    return _WORDS[count] if count < len(_WORDS) else str(count)
