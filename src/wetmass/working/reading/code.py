"""Program text with its units and results in comments: `m = 210; % kg`, `ve = isp*9.81  # = 3120 m/s`."""

from __future__ import annotations

import re

from wetmass.working.units import UNITS

_REMARK = re.compile(r"^(?P<code>\s*[^\W\d]\w*\s*(?:=|:=)\s*[^#%]*?);?\s*(?:%+|#+|//)\s*(?P<said>.*)$")
_RESULT = re.compile(
    r"^(?:=|->|→|≈|~|gives|is|ans\s*=|result:?)?\s*(?P<value>[−\-]?\d[\d.,' ]*(?:[eE][+-]?\d+)?.*)$"
)
_UNIT = re.compile(r"^[\[(]?\s*([^\W\d_°%][\w²³/·*^\-]*|%|°)\s*[\])]?(?:\s*[,;:(].*|\s+[a-z].*|\s*)$")
_CALL = re.compile(r"\b(?:math|np|numpy|cmath)\.")
_SHOWN = re.compile(r"^\s*(?:print|disp|fprintf)\s*\(.*$")


def level(line: str) -> str:
    """The line as working; other lines are left as they are.

    >>> level("ve = isp*9.81      % = 3120 m/s"), level("m_dry = 210;   % kg")
    ('ve = isp*9.81 = 3120 m/s', 'm_dry = 210 kg')
    """
    if _SHOWN.match(line):
        return ""
    kept = _SETTING.match(line)
    if kept is not None:
        return _setting(kept)
    match = _REMARK.match(line)
    if match is None:
        return _spelled(line.rstrip().removesuffix(";")) if re.match(r"\s*[^\W\d]\w*\s*=", line) else line
    code, said = match.group("code").rstrip(), match.group("said").strip()
    if re.search(r"\d\s*$", code) and line[len(code) :].lstrip().startswith("%") and not re.match(
        r".*[^\d]\s{2,}%|.*;\s*%", line
    ):  # fmt: skip
        return line  # "12 %" is a percentage
    result = _RESULT.match(said)
    worked = re.search(r"[-+*/^(]", re.sub(r"^[^=]*=", "", code).strip().lstrip("-"))
    if result is not None and worked and not re.match(r"\d+(?:st|nd|rd|th)\b", said):
        return f"{_spelled(code)} = {result.group('value')}"
    unit = _UNIT.match(said)
    if unit is not None and _is_unit(unit.group(1)):
        return f"{_spelled(code)} {unit.group(1)}" if not worked else _spelled(code)
    return _spelled(code)


_SETTING = re.compile(r"^(\s*[^\W\d]\w*):\s+([\d.]+)\s+#\s*(.+)$")
_FORMULA = re.compile(
    r"(?:^|[,:]\s+)((?:\d|\(|pi\b|sqrt\b|ln\b)(?:[\d.\s*/+^()×·−-]|pi\b|sqrt\b|ln\b|exp\b|e\b|sin\b|cos\b)*"
    r"[*/+^×·−-](?:[\d.\s*/+^()×·−-]|pi\b|sqrt\b|ln\b|exp\b|sin\b|cos\b)*[\d)])\s*(?:$|,)"
)


def _setting(line: re.Match[str]) -> str:
    """A file of settings with its unit and its working behind the mark of a remark.

    >>> level("wall: 2.6   # mm, 0.25 * 2600 / 250, stress 250 MPa")
    'wall = 0.25 * 2600 / 250 = 2.6 mm, stress 250 MPa'
    """
    name, value, said = line.groups()
    unit, _, rest = said.partition(",")
    known = _is_unit(unit.strip())
    rest = rest if known else said
    worked = _FORMULA.search(" " + rest if rest.startswith(" ") else rest) or _FORMULA.search(rest.strip())
    amount = f"{value} {unit.strip()}" if known else value
    if worked is None:
        return f"{name.replace('_', ' ')}: {amount}"
    rest = rest.strip()
    behind = rest[rest.find(worked.group(1)) + len(worked.group(1)) :].strip(" ,")
    return f"{name.replace('_', ' ')} = {worked.group(1)} = {amount}" + (f", {behind}" if behind else "")


def _spelled(code: str) -> str:
    """The operators and calls of a language as the grammar has them."""
    return _CALL.sub("", code).replace(".*", "*").replace("./", "/").replace(".^", "^")


def _is_unit(text: str) -> bool:
    parts = re.split(r"[/·*]", text)
    return all(re.sub(r"\^?[-−]?[²³23]$", "", part) in UNITS for part in parts if part)
