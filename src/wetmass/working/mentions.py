"""Amounts said in the name of a line: "max q at 480 m/s, 0.35 kg/m³ = …" gives a speed and a density."""

from __future__ import annotations

import re

from wetmass.working.names import IDEAS, meaning, tags
from wetmass.working.page import RawLine
from wetmass.working.scope import Entry, Scope
from wetmass.working.statement import Statement, parse
from wetmass.working.tokens import Unreadable
from wetmass.working.tree import Leaf
from wetmass.working.units import (
    ACCELERATION,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    MASS_FLOW,
    NONE,
    PRESSURE,
    SPEED,
    TEMPERATURE,
    TIME,
    VOLUME,
    Dimension,
)

_CALLED: dict[Dimension, str] = {
    SPEED: "speed", DENSITY: "density", PRESSURE: "pressure", FORCE: "thrust", MASS: "mass", TIME: "time",
    VOLUME: "volume", AREA: "area", LENGTH: "", MASS_FLOW: "flow", ACCELERATION: "acceleration",
    TEMPERATURE: "temperature",
}  # fmt: skip
_SAID = re.compile(
    r"(?:(?<![\w.])((?:[^\W\d][\w/\-]*\s)?[^\W\d][\w/\-*]*)\s*(?:=|of|:|is)?\s*)?(?<![\w.])"
    r"((?:\d{1,3}(?:[ ']\d{3})+(?!\d)(?:\.\d+)?|\d[\d.,]*\d|\d)(?:e\d+)?\s*"
    r"(?:[^\W\d_°%]{1,5}[²³]?(?:/[^\W\d_]{1,6}[²³\d]?)*|%|°|percent|per cent)?)(?![\w])"
)
# what stands behind an amount: "8 ft diameter", "14 m long"
_BEHIND = re.compile(
    r"\s*(?:of\s+|in\s+)?(canopy|parachute|chute|diameter|radius|across|wide|long|tall|high|thick|deep|bore|dia\.?|altitude|height|length|"
    r"ullage|chamber pressure|Isp|burn|thrust|density|forward|flight speed)\b"
)
_CALLED_BEHIND = {
    "across": "diameter", "wide": "diameter", "bore": "diameter", "dia": "diameter", "long": "length", "tall": "height",
    "high": "height", "thick": "wall", "deep": "height", "altitude": "height", "burn": "burn time",
    "forward": "flight speed", "canopy": "canopy diameter", "parachute": "canopy diameter", "chute": "canopy diameter",
}  # fmt: skip
_TO_ONE = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)\s*(?:to|:)\s*1(?![\w.])")
_OWN = frozenset(["speed", "density", "pressure", "thrust", "mass", "volume", "area", "flow", "acceleration",
    "temperature", "height", "radius", "diameter", "length", "wall", "distance", "isp", "start", "end", "dry", "payload",
    "propellant", "fuel", "oxidiser", "exhaust", "throat", "exit", "chamber", "ambient", "orbit", "loss", "tsfc", "cstar", "boiloff", "latent", "heat", "power"])  # fmt: skip
_MOST = 6
_PURE = frozenset(
    ["efficiency", "cd", "lift", "cf", "gamma", "mach", "ratio", "mixture", "fraction", "lift", "twr"]
)


_KINDS_OF_LENGTH = frozenset(["radius", "diameter", "length", "height", "wall", "distance", "orbit"])
_TOTAL_OF = re.compile(
    r"\b(?:fuel|oxidi[sz]er|hydrogen|methane|kerosene|oxygen|lox|share)\s+(?:of|from|in)\s+(?:the\s+|all\s+)?\d[\d.,]*\s*\w+$",
    re.I,
)
_NO_NAME = frozenset(["a", "an", "the", "of", "is"])
_APART = frozenset(
    [
        "at",
        "for",
        "with",
        "under",
        "from",
        "to",
        "by",
        "and",
        "on",
        "in",
        "over",
        "through",
        "after",
        "below",
        "above",
        "per",
        "until",
        "during",
    ]
)


def _word(text: str, leaf: Leaf) -> str:
    """The one or two words before an amount that name it."""
    words = [word for word in text.split() if word.lower() not in _NO_NAME]
    if words and words[-1].lower() in _APART:
        return ""
    words = [word for word in words if word.lower() not in _APART]
    if len(words) == 2 and (not tags(words[0]) & IDEAS or not tags(words[1]) & IDEAS):
        words = words[1:] if tags(words[1]) & IDEAS or not tags(words[0]) & IDEAS else words[:1]
    return " ".join(words)


def mention(statement: Statement, text: str, scope: Scope) -> None:
    """Adds the amounts in the name of a line to the values of the page, without a name to look up."""
    text = statement.text or text
    first = next((part.text for part in statement.parts if part.text), "")
    at = text.find(first) if first else -1
    head = text[:at] if at > 0 else statement.label
    amounts(statement, head, scope)


def amounts(statement: Statement, head: str, scope: Scope) -> None:
    """Adds the amounts said in `head` to the values of the page."""
    if not re.search(r"\d", head):
        return
    for match in _TO_ONE.finditer(head):  # "at 2.3 to 1"
        leaf = Leaf(float(match.group(1)), text=match.group(1), half=0.05)
        entry = _entry(statement, "mixture ratio", leaf, len(scope.entries))
        entry.tags = frozenset(["mixture", "ratio"])
        scope.add(entry)
    for count, match in enumerate(_SAID.finditer(head)):
        if count >= _MOST:
            break
        word, amount = (match.group(1) or "").strip(), match.group(2).strip(" ,.")
        try:
            said = parse(
                RawLine(statement.raw.number, 0, "", "", 0, True),
                f"x = {amount.replace('per cent', '%')}",
                Scope(),
            )
        except (Unreadable, RecursionError):
            continue
        leaf = said.claim if said is not None else None
        if leaf is None or not leaf.si:
            continue
        here = (e.leaf for e in scope.entries if e.line == statement.raw.number and e.given and e.name)
        if any(one.typed == leaf.typed and one.unit == leaf.unit for one in here):
            continue  # said already, under its name
        word = _word(word, leaf)
        known = bool(tags(word) & IDEAS) and (leaf.bare or bool(meaning(word, leaf.dimension) & _OWN))
        if leaf.bare and not (
            known and leaf.dimension == NONE and (leaf.typed != int(leaf.typed) or tags(word) & _PURE)
        ):
            continue
        stress = leaf.dimension == PRESSURE and leaf.si > 6e7 and not known
        behind = _BEHIND.match(head[match.end() :])
        name = word if known else _CALLED.get(leaf.dimension, "")
        name = "stress" if stress else name
        if behind and not leaf.bare:
            said_behind = _CALLED_BEHIND.get(behind.group(1).rstrip("."), behind.group(1))
            other = known and not meaning(word, leaf.dimension) & _KINDS_OF_LENGTH
            name = f"{word} {said_behind}" if other else said_behind
        elif (
            known
            and leaf.dimension == LENGTH
            and tags(word) & {"throat", "exit"}
            and not tags(word) & _KINDS_OF_LENGTH
        ):
            name = f"{word} diameter"
        if leaf.angle and re.search(
            r"\b(?:site|pad|launch(?:ing|ed)? (?:from|at)|from|range)\s*$", head[: match.start(2)].lower()
        ):
            name = "latitude"
        if leaf.dimension == MASS and _TOTAL_OF.search(head[: match.end()]):
            name = "propellant"  # "fuel of 90 t at 2.4"
        entry = _entry(statement, name, leaf, len(scope.entries))
        if name == "latitude":
            entry.tags = frozenset(["latitude"])
        elif known and leaf.dimension == MASS:
            entry.tags = meaning(name, leaf.dimension) | {"mass"}
        if leaf.unit in ("%", "percent") and not known:
            share = tags(statement.label) & _SHARES
            if "pump" in statement.label.lower() or "power" in share:
                share = frozenset(["efficiency"])
            entry.name = next(iter(sorted(share - {"power"})), "")
            entry.tags = frozenset([entry.name]) if entry.name else frozenset()
        scope.add(entry)
    if tags(statement.label) & {"fuel", "oxidiser"}:  # "oxygen at 2.7"
        for match in _MIXED.finditer(head):
            leaf = Leaf(float(match.group(1)), text=match.group(1), half=0.05)
            entry = _entry(statement, "mixture ratio", leaf, len(scope.entries))
            entry.tags = frozenset(["mixture", "ratio"])
            scope.add(entry)


_SHARES = frozenset(["growth", "ullage", "residual", "reserve", "margin", "boiloff", "efficiency", "power"])
_MIXED = re.compile(r"\b(?:at|with|for|ratio|O/F|MR)\s*(?:of\s*|=\s*)?(\d\.\d+)(?=\s*$|\s*[=:,)])")


def _entry(statement: Statement, name: str, leaf: Leaf, index: int) -> Entry:
    return Entry(
        index, name, (), tags(name) & _PURE if leaf.bare else frozenset(), statement.stage, statement.raw.section, statement.raw.number, leaf, True, leaf.si, leaf.si  # noqa: E501
    )  # fmt: skip
