"""A line of working parsed: what it names, the sides in order, and the number it states."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from wetmass.working.heads import label_of, label_unit, last_phrase, without_amounts
from wetmass.working.names import IDEAS, stage_of, tags
from wetmass.working.page import RawLine
from wetmass.working.reading import spoken
from wetmass.working.reading.prose import A_DAY
from wetmass.working.scope import Scope
from wetmass.working.sides import Part, sides_of
from wetmass.working.tokens import Unreadable, plain, tokens
from wetmass.working.tree import Leaf
from wetmass.working.units import NONE, UNITS, Dimension, times

_SAYS = re.compile(
    r"\s(?:is|are|equals|gives|makes|comes to|came to|works out at|works out to|becomes|was)\s+"
    r"(?=(?:about|roughly|approximately|some|nearly|around|≈|~|only|just)?\s*[−\-]?\d)",
    re.IGNORECASE,
)

_LEAD = re.compile(
    r"^(?:(?:so|then|hence|thus|therefore|now|and|next|this gives|which gives|giving|we get|we have|i get|with|"  # noqa: E501
    r"check|finally|result|answer|that is|i\.e\.|or|but|where|using|take(?!-)|assume|assuming|let|given|say)\b[\s,:]*)+",  # noqa: E501
    re.IGNORECASE,
)

_VERB = re.compile(
    r"^([^\W\d][^=≈:]{2,60}?)\s(?:must give|has to give|gives?|needs?|makes?|comes to|must be|is|are|takes|lasts|costs|weighs|reaches|requires|is)\s+"  # noqa: E501
    r"(?=[\d(√π½][^=≈]*[-+−*/·×][^=≈]*[=≈])"
)

_TERSE = re.compile(r"^([^\W\d][^\d=:]{1,48}?)\s+(\d[\d,. ]*\s?([^\W\d][\w/²³%]*|%))$")

_PER_TWO = re.compile(r"(?<=[^\W\d_])\s?/\s?\(([^\W\d_]+[²³23]?)[ ·*]([^\W\d_]+[²³23]?)\)")

_UNITLESS = frozenset(["mixture", "cf", "cd", "gamma", "mach", "count", "expansion", "twr", "efficiency"])

_COUNTED_OFF = re.compile(
    r"^(?:row|step|line|item|eq\.?|cell|no\.?|question|part)\s*#?\d{1,3}[a-z]?\s*[:.)]\s*(?=[^\W\d])",
    re.IGNORECASE,
)

_GIVEN_FOR = re.compile(
    r"^([^\W\d][^=≈:]{2,60}?),?\s(?:for|at|with|when|if|given|bei|mit|für|pour|avec|à|con|per)\s[^=≈:]{1,40}[=≈]\s*[^=≈:]{1,40}:\s+([^=≈:]{1,20}[=≈].*)$"
)

_LISTED = re.compile(
    r"^([^\W\d][^=≈:,\d]{1,40}):(?:\s*(?:[^\W\d][\w/]*\s){1,3}\d[\d.]*(?:\s?[^\W\d_][\w/²³]{0,6})?\s*(?:,|\.?$)){2,}$"
)

_TITLED = re.compile(r"^((?:[^\W\d][\w/\-]*,?\s+){1,5})(?=[\d(√π½])")


@dataclass(slots=True)
class Statement:
    """One parsed line."""

    raw: RawLine
    label: str
    stage: str
    parts: list[Part] = field(default_factory=list)
    claim: Leaf | None = None
    about: bool = False
    note: str = ""
    text: str = ""  # the line with its spoken turns as signs
    title: str = ""  # the label as written, with the amounts said in it
    pieces: tuple[
        str, ...
    ] = ()  # the whole of what stands before the first sign, without its amounts, by commas
    subject: frozenset[str] = frozenset()  # ideas before the colon that the whole line stands under

    @property
    def expressions(self) -> list[Part]:
        """The sides that hold working, the stated number excluded."""
        return [part for part in self.parts if not part.value]


_OVER_WEIGHT = re.compile(r"^[FT]\s*/\s*(?:\(\s*)?(?:m_?0?\s*[·*/]?\s*g_?0?|W|G)\s*\)?$")
_SPLIT = re.compile(
    r"(?:[;,]|\sand(?=\s[^\W\d]\w{0,3}\s=\s\d)|\s(?:->|→|=>|⇒))\s+(?:and\s+)?(?=[^\W\d][^=≈:;,()]{0,40}(?:=|≈|:\s)\s*[^=\s])"
)


_GIVEN_THEN = re.compile(
    r"^([^:]*[^\W\d]\w{0,6}\s*=\s*[\d.,]+\s*[^\W\d_]{0,4}[²³]?)\s*:\s+(?=[\d(√π½][^:]*[=≈])"
)


def split(text: str) -> list[tuple[int, str]]:
    """The statements of a line that holds several, with their columns from 0.

    >>> split("R = 6.2 m, r = 1.4 m")
    [(0, 'R = 6.2 m'), (11, 'r = 1.4 m')]
    """
    listed = _LISTED.match(text)
    if listed:
        name, at = listed.group(1), listed.end(1) + 1
        pieces = []
        for part in text[at:].split(","):
            word, amount = re.match(r"\s*((?:[^\W\d][\w/]*\s)+)(.*)", part).groups()  # type: ignore[union-attr]
            pieces.append((at, f"{name} {word.strip()} = {amount.strip()}"))
            at += len(part) + 1
        return pieces
    found, start = [], 0
    given = _GIVEN_THEN.match(text)
    if given:
        return [*split(given.group(1)), (given.end(), text[given.end() :])]
    for match in _SPLIT.finditer(text):
        before = text[start : match.start()]
        if before.count("(") != before.count(")") or not re.search(r"[=≈:]|->|→", before):
            continue
        if not re.search(r"\d", before):
            continue
        found.append((start, before))
        start = match.end()
    found.append((start, text[start:]))
    return found


def parse(raw: RawLine, text: str, scope: Scope, continued: str = "") -> Statement | None:
    """The statement in `text`, None where it states nothing.

    `continued` is the label of the statement above, for a line that starts with its sign.
    Raises Unreadable with a reason in words.
    """
    text = whole = spoken.level(A_DAY.sub(r"\1/\2", plain(text).strip()))
    text = _PER_TWO.sub(_apart, text)
    if text.startswith("~"):
        text = "≈" + text[1:]
    text = re.sub(r"(?<=[=:>→]\s)~\s*(?=\d)|(?<=[=:>→])~\s*(?=\d)", "≈ ", text)
    text = re.sub(r"=\s*≈", "≈", text)
    text = re.sub(r"\s~\s*(?=\d)", " ≈ ", text)
    text = re.sub(r"\.\.+|…", " ", text)
    if not re.search(r"[=≈≃→⇒]|->|:", text):
        text = _SAYS.sub(" = ", text, count=1)
    text = _LEAD.sub("", text) or text
    text = _VERB.sub(r"\1 = ", text, count=1)
    if not re.search(r"[=≈≃→⇒]|->|:", text):
        bare = _TERSE.match(text)
        if (
            bare and raw.sure and all(u in UNITS for u in re.split(r"[/·]", bare.group(3).rstrip("²³")))
        ):  # "PROPELLANT 208,000 lb"
            text = f"{bare.group(1)} = {bare.group(2)}"
        plain_one = re.match(r"^([^\W\d][^\d=:]{1,40}?)\s+(\d+(?:\.\d+)?)$", text)
        if plain_one and raw.sure and tags(plain_one.group(1)) & _UNITLESS:  # "O/F 1.9"
            text = f"{plain_one.group(1)} = {plain_one.group(2)}"
    text = _COUNTED_OFF.sub("", text)
    within = _GIVEN_FOR.match(text)
    if within and within.group(2).count("=") + within.group(2).count("≈"):
        text = f"{within.group(1)}: {within.group(2)}"  # "speed for C3 = 12 km²/s²: v = …"
    label, rest = label_of(text)
    if rest is None:
        return None
    if not label and not rest.strip():
        return None
    cut = tokens(rest)
    if not cut:
        return None
    if not label and cut[0].kind == "relation" and continued:
        label = continued
    titled = _TITLED.match(text) if not label else None
    if (
        titled
        and tags(titled.group(1)) & IDEAS
        and cut[0].kind == "word"
        and (scope.exact(titled.group(1)) is None or len(titled.group(1).strip()) > 3)  # no factor, its name
    ):
        # "thrust 9·180 kN = 1620 kN": the name without a sign after it
        try:
            again = parse(raw, f"{titled.group(1).strip(' ,')}: {text[titled.end() :]}", scope)
        except Unreadable:
            again = None
        if again is not None and again.claim is not None and again.expressions:
            return again
    label = _OVER_WEIGHT.sub("T/W", label)
    label, default_unit = label_unit(label)
    pieces = tuple(piece for piece in re.split(r",\s+|\s[–—]\s", without_amounts(label)) if piece.strip())
    label = last_phrase(label)
    numbered = next((idea[6:] for idea in sorted(tags(label)) if idea.startswith("stage ")), "")
    title = label.strip(" *_")
    statement = Statement(
        raw,
        without_amounts(title),
        stage_of(label) or numbered or raw.stage,
        text=whole,
        title=title,
        pieces=pieces,
    )
    scope.stage, scope.section = statement.stage, raw.section
    sides_of(statement, rest, cut, scope)
    if statement.claim is not None and statement.claim.bare and default_unit:
        factor, dimension = _unit_of(default_unit)
        statement.claim = replace(
            statement.claim,
            factor=factor,
            dimension=dimension,
            bare=False,
            unit=default_unit,
            text=f"{statement.claim.text} {default_unit}",
        )
        for part in statement.parts:
            if part.value:
                part.trees = [statement.claim]
    return statement


def _unit_of(text: str) -> tuple[float, Dimension]:
    """Factor and dimension of a unit such as m/s2 whose parts are known."""
    factor, dimension, sign = 1.0, NONE, 1.0
    for part in [text] if text in UNITS else text.split("/"):
        name, power = (part, 1.0) if part in UNITS else (part[:-1], float(part[-1]))
        factor *= UNITS[name][0] ** (sign * power)
        dimension = times(dimension, UNITS[name][1], sign * power)
        sign = -1.0
    return factor, dimension


def _apart(match: re.Match[str]) -> str:
    """ "BTU/(ft² h)" is "BTU/ft²/h"."""
    one, other = match.group(1), match.group(2)
    known = all(part.rstrip("²³23") in UNITS for part in (one, other))
    return f"/{one}/{other}" if known else match.group(0)
