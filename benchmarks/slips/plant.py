"""Plant slips in sound workings.

Each planter edits the *text* of one line (never the finder's trees), the result is worked out from
the edited text, and written with as many digits as before.  Two ways of planting:

hidden  the working shown stays sound, the number is that of the slip (keyed wrongly);
shown   the slip stands in the working too (written wrongly), only for kinds that the name of the
        line, or the page, can bring to light.

Later lines of the page are worked out again from the faulty number, as the person would have done.
"""

from __future__ import annotations

import hashlib
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from wetmass.record.working import Verdict
from wetmass.working.page import read
from wetmass.working.scope import Scope
from wetmass.working.statement import parse
from wetmass.working.tokens import Unreadable, plain, tokens
from wetmass.working.tree import Meaning, Unfit, evaluate
from wetmass.working.verdicts import check


@dataclass(frozen=True)
class Case:
    """One page with one planted fault."""

    id: str
    file: str
    text: str
    line: int
    kinds: tuple[str, ...]  # any of these names it fairly
    mode: str
    marked: tuple[int, ...] = ()  # other faulty lines of the page

    @property
    def held_out(self) -> bool:
        """Half of the cases, by the first byte of the SHA-256 of their id, are never looked at in tuning."""
        return hashlib.sha256(self.id.encode()).digest()[0] >= 128


Planter = Callable[[str, str], Iterator[str]]  # (expression text, label) → edited expressions

_G = r"9\.8(?:1|0665|07)?(?: ?m/s(?:\^2|²|2))?"


def _remove_g(text: str, label: str) -> Iterator[str]:
    for pattern in (rf" ?[×·*] ?{_G}", rf"{_G} ?[×·*] ?"):
        if re.search(pattern, text):
            yield re.sub(pattern, "", text, count=1)
            return


def _double_g(text: str, label: str) -> Iterator[str]:
    match = re.search(rf"[×·*] ?{_G}", text)
    if match and " - 9.8" not in text:
        yield text[: match.end()] + " · 9.81" + text[match.end() :]


def _log10(text: str, label: str) -> Iterator[str]:
    if re.search(r"\bln\b", text):
        yield re.sub(r"\bln\b ?", "log10 ", text, count=1)


def _invert_log(text: str, label: str) -> Iterator[str]:
    match = re.search(r"ln ?\(([\d.]+) ?/ ?([\d.]+)\)", text)
    if match:
        yield text[: match.start()] + f"ln({match.group(2)}/{match.group(1)})" + text[match.end() :]


def _invert(text: str, label: str) -> Iterator[str]:
    match = re.fullmatch(r" ?([^/()]+?) ?/ ?([^/()]+?) ?", text)
    if match and "log" not in text and "ln" not in text:
        yield f"({match.group(2)}) / ({match.group(1)})"


def _propellant_in_log(text: str, label: str) -> Iterator[str]:
    match = re.search(r"ln ?\(([\d.]+) ?/ ?([\d.]+)\)", text)
    if match:
        a, b = match.groups()
        yield text[: match.start()] + f"ln(({a} - {b})/{b})" + text[match.end() :]


def _half(text: str, label: str) -> Iterator[str]:
    for pattern in (r"½ ?[·*×]? ?", r"\b0\.5 ?[·*×] ?", r"\b1/2 "):
        if re.search(pattern, text):
            yield re.sub(pattern, "", text, count=1)
            return
    if re.search(r"/ ?\(2 ?[·*] ?", text):
        yield re.sub(r"/ ?\(2 ?[·*] ?", "/ (", text, count=1)


def _square(text: str, label: str) -> Iterator[str]:
    match = re.search(r"²|\^2(?![\d.])|\^3(?![\d.])|³", re.sub(r"(m|s|km|ft)(\^2|²|\^3|³)", r"\1@@", text))
    shadow = re.sub(r"(m|s|km|ft)(\^2|²|\^3|³)", lambda m: "@" * len(m.group()), text)
    match = re.search(r"(?<=[\d)])(²|\^2|³|\^3)(?![\d.])", shadow)
    if match:
        yield text[: match.start()] + text[match.end() :]


def _double_length(text: str, label: str) -> Iterator[str]:
    """The number that is squared or cubed, doubled or halved."""
    match = re.search(r"\(?(\d+\.\d+|\d+)( ?m)?\)?(?=²|\^2(?![\d.])|³|\^3(?![\d.]))", text)
    if match and re.search(r"π|pi", text):
        for factor in (2.0, 0.5):
            value = float(match.group(1)) * factor
            unit = match.group(2) or ""
            yield text[: match.start()] + f"({value:g}{unit})" + text[match.end() :]
    match = re.search(r"· ?(\d+\.\d+|\d+)( m)? ?/", text)
    if match and "wall" in label:
        yield text[: match.start(1)] + f"{float(match.group(1)) * 2:g}" + text[match.end(1) :]


def _pi(text: str, label: str) -> Iterator[str]:
    if "π²" in text:
        yield text.replace("π²", "π", 1)
    elif re.search(r"(π|\bpi\b) ?[·*/×]? ?", text):
        match = re.search(r"(π|\bpi\b)", text)
        yield (
            text[: match.start()] + "1" + text[match.end() :]
            if not text[: match.start()].rstrip().endswith(tuple("0123456789"))
            else text[: match.start()] + "·1" + text[match.end() :]
        )


def _radians(text: str, label: str) -> Iterator[str]:
    if re.search(r"(?<!a)\b(sin|cos|tan)\( ?\d+(\.\d+)? ?°\)", text):
        yield re.sub(r"(?<!a)\b(sin|cos|tan)\( ?(\d+(?:\.\d+)?) ?°\)", r"\1(\2 rad)", text)


def _swap_trig(text: str, label: str) -> Iterator[str]:
    if "asin" in text:
        yield text.replace("asin", "acos", 1)


def _arc(text: str, label: str) -> Iterator[str]:
    match = re.fullmatch(r" ?2 · (.*) · sin\((\d+)°/2\) ?", text)
    if match:
        yield f"{match.group(1)} · {match.group(2)}°"
        yield f"{match.group(1)} · sin({match.group(2)}°)"


def _share(text: str, label: str) -> Iterator[str]:
    match = re.search(r"\(1 \+ (\d+\.\d+)\)", text)
    if match:
        yield text[: match.start()] + match.group(1) + text[match.end() :]


def _one_engine(text: str, label: str) -> Iterator[str]:
    match = re.match(r" ?(\d{1,2}) ?[×x*] ?", text)
    if match and 3 <= int(match.group(1)) <= 30:
        yield text[match.end() :]


def _drop_term(text: str, label: str) -> Iterator[str]:
    terms = re.split(r" ([+−-]) ", text)
    if len(terms) < 3 or re.search(r"[()]", text):
        return
    for index in range(len(terms) - 1, 1, -2):
        yield "".join(
            f" {piece} " if piece in "+−-" else piece
            for i, piece in enumerate(terms)
            if i not in (index, index - 1)
        )


def _turn_term(text: str, label: str) -> Iterator[str]:
    match = re.search(r" ([−-]) (?=\d)", text)
    if match and "(" not in text:
        yield text[: match.start()] + " + " + text[match.end() :]


def _no_gravity(text: str, label: str) -> Iterator[str]:
    match = re.search(rf" ?[−-] ?{_G}", text)
    if match:
        yield text[: match.start()] + text[match.end() :]


def _allowance(text: str, label: str) -> Iterator[str]:
    match = re.search(r" ?[×·*] ?\(1 [+−-] \d+(?:\.\d+)? ?%\)| ?[×·*] ?1\.[01]\d+\b| / 0\.9\d\b", text)
    if match:
        yield text[: match.start()] + text[match.end() :]
        yield text + match.group()
    match = re.search(r"\(1 ([+−-]) ", text)
    if match and "%" in text:
        yield text[: match.start(1)] + ("−" if match.group(1) == "+" else "+") + text[match.end(1) :]


def _percent(text: str, label: str) -> Iterator[str]:
    match = re.search(r"^( ?\d+(?:\.\d+)?) ?%", text)
    if match:
        yield text[: match.end(1)] + text[match.end() :]


def _altitude(text: str, label: str) -> Iterator[str]:
    match = re.search(r"63[78]\d(?:\.\d+)? km \+ ", text)
    if match:
        yield text[: match.start()] + text[match.end() :]


def _root_two(text: str, label: str) -> Iterator[str]:
    if label.split()[0] in ("circular", "orbital", "orbit", "v1", "v2") and "sqrt(" in text:
        yield text.replace("sqrt(", "sqrt(2*", 1)
    if "escape" in label and "√2" in text:
        yield text.replace("√2 · ", "", 1)


def _area_ratio(text: str, label: str) -> Iterator[str]:
    if "area ratio" in label:
        yield text.replace("²", "")


def _ring(text: str, label: str) -> Iterator[str]:
    if "1 + 1/sin" in text:
        yield text.replace("1 + ", "", 1)


def _bracket(text: str, label: str) -> Iterator[str]:
    match = re.search(r" ?/ ?\(([\w./²°^% ]+?) ?([·*×]) ?([^()]+?)\)$", text)
    if match:
        yield text[: match.start()] + f" / {match.group(1)} {match.group(2)} {match.group(3)}"


def _minutes(text: str, label: str) -> Iterator[str]:
    if re.search(r"\d h\b", text):
        yield re.sub(r"(\d) h\b", r"\1 s", text)
    elif re.search(r"/h\b", text):
        yield re.sub(r"/h\b", "/s", text)


def _transpose(text: str, label: str) -> Iterator[str]:
    for match in re.finditer(r"\d+\.\d+|\d{3,}", text):
        digits = match.group()
        for i in range(len(digits) - 1):
            a, b = digits[i], digits[i + 1]
            if a.isdigit() and b.isdigit() and a != b and not (i == 0 and b == "0"):
                yield text[: match.start()] + digits[:i] + b + a + digits[i + 2 :] + text[match.end() :]
                return


def _tenfold(text: str, label: str) -> Iterator[str]:
    match = re.search(r"\b(\d{2,}(?:\.\d+)?)(e\d)?(?= ?(?:kN|t|m/s|kg|km|MN|m|s)\b)", text)
    if match and not match.group(2):
        yield text[: match.start(1)] + f"{float(match.group(1)) * 10:g}" + text[match.end(1) :]


def _rounded(text: str, label: str) -> Iterator[str]:
    for match in re.finditer(r"\b(\d+\.\d{2,}|\d{4,})\b", text):
        value = float(match.group())
        if value < 1.5 or re.match(r"9\.8", match.group()):
            continue
        scale = 10 ** (math.floor(math.log10(value)) - 1)
        new = round(value / scale) * scale
        if abs(new / value - 1.0) > 0.012:
            yield text[: match.start()] + f"{new:g}" + text[match.end() :]
            return


# kind(s), planter, shown too (a pattern the label must have, "" for any, None for never)
PLANTERS: tuple[tuple[tuple[str, ...], Planter, str | None], ...] = (
    (("S02", "S16", "S24"), _remove_g, r"Δv|dv|^c\b|exhaust|Isp|T/W|flow|mdot"),
    (("S02", "S16"), _double_g, None),
    (("S03",), _log10, r"Δv|dv"),
    (("S04",), _invert_log, r"Δv|dv"),
    (("S04", "S06", "S29"), _invert, r"^mass ratio|T/W"),
    (("S05",), _propellant_in_log, r"Δv|dv"),
    (("S01",), _half, r"^q\b|height|distance|coast"),
    (("S06", "S21", "S17"), _square, None),
    (("S17", "S52"), _double_length, r"area|cylinder"),
    (("S19", "S18"), _pi, r"ring|frustum"),
    (("S14",), _radians, None),
    (("S46", "S14"), _swap_trig, "azimuth"),
    (("S47",), _arc, "plane"),
    (("S29",), _share, "fuel"),
    (("S30",), _one_engine, None),
    (
        ("S31", "S37", "S40", "S45", "S43", "S22", "S26", "S32", "S18", "S55", "S24", "S51", "S38"),
        _drop_term,
        r"lift-off mass|stage . start mass",
    ),
    (("S31", "S37", "S40", "S45", "S26", "S56", "S55", "S24"), _turn_term, None),
    (("S24", "S51"), _no_gravity, None),
    (("S37", "S39"), _allowance, None),
    (("S35",), _percent, None),
    (("S22",), _altitude, r"^r\b|radius"),
    (("S49",), _root_two, "circular|escape"),
    (("S21",), _area_ratio, "area ratio"),
    (("S20",), _ring, "ratio"),
    (("S56",), _bracket, None),
    (("S42", "S16", "S54"), _minutes, None),
    (("S55",), _transpose, None),
    (("S08",), _tenfold, None),
    (("S44",), _rounded, None),
)

# slips of the result alone: kinds, factor, dimensions they suit (unit texts)
RESULTS: tuple[tuple[tuple[str, ...], float, str], ...] = (
    (("S07",), 1000.0, ""),
    (("S07",), 0.001, ""),
    (("S08",), 10.0, ""),
    (("S08",), 0.1, ""),
    (("S09",), 1 / 4.4482216, r"kN|N|MN|lbf"),
    (("S09",), 4.4482216, r"kN|N|MN|lbf"),
    (("S11",), 2.2046226, r"kg|t|lb"),
    (("S11",), 0.45359237, r"kg|t|lb"),
    (("S13",), 3.2808399, r"m|km"),
    (("S13",), 1.852, r"km"),
    (("S42", "S16"), 60.0, r"s|min"),
)

_LINE = re.compile(
    r"^(?P<head>[^=≈]*?[=≈]\s?|\s*[=≈]\s?)(?P<body>.*?)(?P<sign>\s?[=≈]\s?)(?P<claim>[−\d][^=≈]*)$"
)


def _formatted(value: float, like: str) -> str:
    """A number with as many digits as another was written with."""
    plain_like = like.replace(" ", "").replace(",", "").replace("−", "-")
    if "e" in plain_like:
        return f"{value:.{len(plain_like.split('e')[0].split('.')[-1]) if '.' in plain_like else 0}e}"
    figures = len(re.sub(r"[^0-9]", "", plain_like).lstrip("0")) or 1
    figures = max(figures, 2)
    if value == 0:
        return "0"
    decimals = max(0, figures - 1 - math.floor(math.log10(abs(value))))
    decimals = min(decimals, 6)
    return f"{value:.{decimals}f}".replace("-", "−")


@dataclass
class _Line:
    number: int
    text: str
    head: str
    body: str
    sign: str
    number_text: str
    rest: str
    factor: float
    right: float


def _worked_lines(file: str, text: str) -> list[_Line]:
    """Lines with working, a result, and a verdict of right."""
    page = check(text, file)
    rows = text.split("\n")
    found = []
    for checked in page.lines:
        if checked.verdict is not Verdict.RIGHT or checked.stated is None or checked.recomputed is None:
            continue
        row = rows[checked.place.line - 1]
        if sum(1 for other in page.lines if other.place.line == checked.place.line) > 1:
            continue
        match = _LINE.match(row)
        if not match:
            continue
        number = re.match(
            r"−?\d{1,3}(?:[ ,]\d{3})+(?:\.\d+)?(?!\d)|−?\d+(?:\.\d+)?(?:e[+-]?\d+)?", match["claim"]
        )
        if not number or checked.stated == 0:
            continue
        typed = float(number.group().replace(" ", "").replace(",", "").replace("−", "-"))
        body = match["body"].split(" = ")[-1].split("= ")[-1]
        found.append(
            _Line(
                checked.place.line,
                row,
                row[: match.start("body")] + match["body"][: len(match["body"]) - len(body)],
                body,
                match["sign"],
                number.group(),
                match["claim"][number.end() :],
                checked.stated / typed,
                checked.recomputed,
            )
        )
    return found


def _value(file: str, text: str, line: _Line, body: str) -> float | None:
    """What a changed body comes to on this page, SI, as the stated unit suggests it is to be read."""
    rows = text.split("\n")
    rows[line.number - 1] = line.head + body + line.sign + line.number_text + line.rest
    right = line.right
    before = _direct(text, file, line.number, plainly=True)
    after = _direct("\n".join(rows), file, line.number, plainly=True)
    if right is None or before is None or after is None or not before:
        return None
    return right * after / before


def _direct(text: str, file: str, number: int, plainly: bool = False) -> float | None:
    """What the last working of a line comes to; `plainly` takes its numbers as they stand."""
    from wetmass.working.verdicts import Checker

    checker = Checker(text, file, {})
    kept: list[float] = []

    class Probe(Checker):
        pass

    checker = Probe(text, file, {})
    original = checker.line

    def line(statement, words, place):  # type: ignore[no-untyped-def]
        if place.line == number and statement.expressions:
            from wetmass.working.linking import linked

            tree = statement.expressions[-1].trees[0]
            for candidate in (tree,) if plainly else (linked(tree, checker.scope), tree):
                try:
                    result = evaluate(candidate, Meaning(degrees=True))
                except Unfit:
                    continue
                value = result.value
                claim = statement.claim
                if plainly:
                    kept.append(value)
                    break
                if result.bare and claim is not None and claim.unit and result.dimension != claim.dimension:
                    value = evaluate(candidate, Meaning(degrees=True, raw=True)).value * claim.factor
                kept.append(value)
                break
        return original(statement, words, place)

    checker.line = line  # type: ignore[method-assign]
    checker.run()
    return kept[0] if kept else None


def _carried_down(file: str, text: str, first: int, before: str, after: str) -> str:
    """Later lines use the faulty number and are worked out again."""
    rows = text.split("\n")
    if len(re.sub(r"\D", "", before)) >= 3:
        for index in range(first, len(rows)):
            rows[index] = re.sub(rf"(?<![\d.]){re.escape(before)}(?![\d.]*\d)", after, rows[index])
    for _ in range(3):
        page = check("\n".join(rows), file)
        changed = False
        for line in page.lines:
            if line.place.line <= first or line.verdict is not Verdict.OFF or line.recomputed is None:
                continue
            row = rows[line.place.line - 1]
            match = _LINE.match(row)
            if not match or line.stated is None or not line.stated:
                continue
            number = re.match(r"−?\d+(?:\.\d+)?", match["claim"])
            if not number:
                continue
            value = _direct("\n".join(rows), file, line.place.line)
            if value is None:
                continue
            typed = float(number.group().replace("−", "-"))
            if not typed:
                continue
            new = _formatted(value / (line.stated / typed), number.group())
            if new != number.group():
                rows[line.place.line - 1] = row[: match.start("claim")] + new + match["claim"][number.end() :]
                changed = True
                break
        if not changed:
            break
    return "\n".join(rows)


def cases(folder: Path) -> list[Case]:
    """Every planted case from the sound workings of a folder, in a fixed order."""
    found: list[Case] = []
    for path in sorted(folder.iterdir()):
        text = path.read_text()
        for line in _worked_lines(path.name, text):
            found.extend(_of_line(path.name, text, line))
    return found


def _of_line(file: str, text: str, line: _Line) -> Iterator[Case]:
    label = re.sub(r"^[\s\-*\d.]*(?=[^\W\d])", "", line.head).split("=")[0].strip().lower() or "result"
    label_text = re.sub(r"^[\s\-*]*", "", line.head).split("=")[0].strip()
    right = line.right
    if not right:
        return
    plan: list[tuple[tuple[str, ...], str, float, bool]] = []
    for kinds, planter, shown in PLANTERS:
        for number, body in enumerate(planter(line.body, label)):
            value = _value(file, text, line, body)
            if value is None or not math.isfinite(value):
                continue
            plan.append((kinds, f"{planter.__name__.strip('_')}{number}", value, False))
            lost = set(re.findall(r"\d+\.?\d*", line.body)) - set(re.findall(r"\d+\.?\d*", body))
            others = "\n".join(row for i, row in enumerate(text.split("\n"), 1) if i != line.number)
            if (
                shown is not None
                and planter in (_drop_term, _double_length)
                and not all(re.search(rf"(?<![\d.]){n}(?![\d.])", others) for n in lost)
            ):
                continue  # written so, nothing on the page could tell
            if shown is not None and re.search(shown, label_text):
                plan.append((kinds, f"{planter.__name__.strip('_')}{number}|{body}", value, True))
    digest = hashlib.sha256(f"{file}:{line.number}".encode()).digest()
    for index, (kinds, factor, units) in enumerate(RESULTS):
        unit = re.match(r" ?([^\s,(]*)", line.rest).group(1)
        if units and not re.fullmatch(units, unit):
            continue
        if digest[index] % 4 == 0:  # a quarter of them, chosen by hash, to keep the kinds in balance
            plan.append((kinds, f"times{factor:.3g}", right * factor, False))
    for kinds, name, value, shown in plan:
        if abs(value / right - 1.0) < 0.004:
            continue
        if kinds == ("S04",) and value < 0 and not shown and digest[20] % 2:
            value, name = -value * 1.0, name  # the sign kept: both happen
            value = -value
        new = _formatted(value / line.factor, line.number_text)
        if new == line.number_text or not re.search(r"[1-9]", new):
            continue
        body = name.split("|", 1)[1] if shown else line.body
        head = line.head
        if shown and head.count("=") > 1:
            head = head.split("=")[0] + "= "
        rows = text.split("\n")
        rows[line.number - 1] = head + body + line.sign + new + line.rest
        page = _carried_down(file, "\n".join(rows), line.number, line.number_text, new)
        yield Case(
            f"{file}:{line.number}:{name.split('|')[0]}:{'shown' if shown else 'hidden'}",
            file,
            page,
            line.number,
            kinds,
            "shown" if shown else "hidden",
        )


__all__ = ["Case", "Scope", "Unreadable", "cases", "parse", "plain", "read", "tokens"]
