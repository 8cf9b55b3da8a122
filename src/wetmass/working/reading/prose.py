"""Sums and values inside of sentences: what a line of prose states, as plain lines of working.

"With a tube radius of 0.7 m it holds π² · 2.4 · 0.7² = 11.6 m³" holds a value (tube radius 0.7 m) and a sum.
Nothing is guessed: a number without a sign beside it is a value that may be used further down, never a claim.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from wetmass.working.names import IDEAS, tags
from wetmass.working.reading.runs import SMALL_WORDS, amounts, sums
from wetmass.working.reading.spoken import NUMBERS, spoken_sums
from wetmass.working.tokens import Token, Unreadable, plain, tokens
from wetmass.working.units import UNITS

LONGEST = 900  # characters of a paragraph that is looked at
_COUNTED = re.compile(
    r"\b("
    + "|".join(NUMBERS)
    + r"|\d{1,2})\s+(?:[a-z\-]+\s+){0,2}?(engines|boosters|strap-ons|motors|thrusters|"
    r"turbofans|fans|nozzles|tanks|rockets|stages|canopies|parachutes|chutes|legs|bottles|spheres|balls|jets)\b",
    re.IGNORECASE,
)
_AFTER = re.compile(
    r"^\s*(?:of\s+(?:that|which|it|this|these)\s+(?:is|are)\s+|of\s+|is\s+|are\s+)?((?:[^\W\d_][\w'\-/]*\s+){0,3}?[^\W\d_][\w'\-/]*)(?=\s*[,.;:)]|\s+(?:and|with|at|so|in|which|"
    r"on|for|when|to|of|is|are|from|has|have|we|while)\b|\s*$|\s+\d)",
)
_PLACES = (
    (
        re.compile(r"^\W*(?:at|on|near)\s+(?:the\s+)?(?:sea[\s-]level|pad|ground|lift-?off)\b", re.I),
        "at sea level",
    ),
    (
        re.compile(r"^\W*(?:in\s+(?:a\s+)?(?:vacuum|space)|up\s+high|vac(?:uum)?\b(?!\s*\d))", re.I),
        "in vacuum",
    ),
    (
        re.compile(
            r"^\W*(?:when|with|once)\s+(?:the\s+|its\s+)?tanks?\s+(?:are\s+|is\s+|run\s+)?(?:dry|empty)\b",
            re.I,
        ),
        "end mass",
    ),
    (re.compile(r"^\W*(?:each|apiece|per\s+\w+)\b", re.I), "each"),
)
_FROM_TO = re.compile(
    r"(?<![\w.])(\d+(?:\.\d+)?)\s*(t|kg|lb)?\s+(?:down\s+)?to\s+(\d+(?:\.\d+)?)\s*(t|kg|lb)\b"
)
_TIMES = frozenset(["s", "sec", "secs", "seconds", "min", "minutes", "h", "hours"])
_LONG = {"long": "length", "tall": "height", "high": "height", "wide": "diameter", "across": "diameter",
         "thick": "wall", "deep": "height", "diameter": "diameter", "radius": "radius"}  # fmt: skip


A_DAY = re.compile(
    r"(?<=\d )(kg|t|g|lb|m³|l|litres?)\s+(?:in\s+)?(?:a|an|one|per|each|every)\s+(day|hour|minute|second|h|d|min|s)\b"
)


@dataclass(frozen=True, slots=True)
class Clause:
    """What a part of a line states, as `name = …`; `given` where it is a value without a sign."""

    column: int  # from 0
    text: str
    given: bool


_STAGE_SAID = re.compile(
    r"\b(?:stage|st\.)\s*(\d|one|two|three)\b|\b(first|second|third|upper|lower|booster)\s+stage\b",
    re.IGNORECASE,
)
_STAGES = {
    "one": "1",
    "two": "2",
    "three": "3",
    "first": "1",
    "second": "2",
    "third": "3",
    "upper": "2",
    "lower": "1",
    "booster": "1",
}


def stage_before(text: str, column: int) -> str:
    """The stage that a sentence spoke of last before a place in it, "" for none.

    >>> text = "stage 1 with 300 t propellant; stage 2 with 75 t and 6 t; payload 12 t"
    >>> stage_before(text, 13), stage_before(text, 44), stage_before(text, 66)
    ('1', '2', '')
    """
    start = max(text.rfind(". ", 0, column), -1) + 1
    said = list(_STAGE_SAID.finditer(text, start, column))
    if not said or re.search(
        r"\bpayload|\bsatellite|\bcargo|\bfairing", text[said[-1].end() : column + 14].lower()
    ):
        return ""
    found = (said[-1].group(1) or said[-1].group(2)).lower()
    return _STAGES.get(found, found)


def wordy(text: str) -> bool:
    """Whether a line is more sentence than sum.

    >>> wordy("We burn 120 t in 150 s, so the mean flow is 800 kg/s."), wordy("mean flow = 120 t / 150 s")
    (True, False)
    """
    words = [w for w in re.findall(r"[^\W\d_]+", text) if w.lower() not in UNITS or w.lower() in SMALL_WORDS]
    small = sum(word.lower() in SMALL_WORDS for word in words)
    return (len(words) >= 5 and (small >= 2 or len(words) >= 9)) or small >= 3


def clauses(text: str) -> list[Clause]:
    """The values and sums of a line of prose, in order.

    >>> [clause.text for clause in clauses("We burn 31 t of propellant, so it takes 31 t / 0.2 t/s = 155 s.")]
    ['propellant = 31 t', 'burn takes = 31 t / 0.2 t/s = 155 s']
    """
    text = spoken_sums(A_DAY.sub(r"\1/\2", plain(text[:LONGEST])))
    found: list[Clause] = []
    for match in _COUNTED.finditer(text):
        word = match.group(1).lower()
        count = NUMBERS.get(word) or int(word)
        if 2 <= count <= 60:
            found.append(Clause(match.start(), f"number of {match.group(2).lower()} = {count}", True))
    for match in _FROM_TO.finditer(text):
        if float(match.group(1)) > float(match.group(3)):
            unit = match.group(2) or match.group(4)
            found.append(Clause(match.start(1), f"start mass = {match.group(1)} {unit}", True))
            found.append(Clause(match.start(3), f"end mass = {match.group(3)} {unit}", True))
    try:
        cut = tokens(text[:600])
    except Unreadable:
        return found
    spans = sums(cut)
    said = amounts(cut, spans)
    names: list[tuple[int, int]] = []
    last_name: dict[str, str] = {}
    end = 0
    for first, last in said:
        last_end, end = end, cut[last].end
        clause = _value(text, cut, first, last, names)
        if clause is None:
            continue
        name, _, amount = clause.text.partition(" = ")
        unit = amount.lstrip("0123456789., ")
        if (
            not tags(name) & IDEAS - {"sl", "vac", "each"}
            and unit in last_name
            and not re.search(r"[.:!?]\s|\bweigh", text[last_end : cut[first].start])
        ):  # "282 s at the pad, 311 s up high"
            clause = Clause(clause.column, f"{last_name[unit]} {name.replace('value', '')} = {amount}", True)
        elif name != "value":
            last_name[unit] = re.sub(r"\s*(?:at sea level|in vacuum|each)$", "", name)
        found.append(clause)
    found = _ground_first(found, text)
    for first, last in spans:
        start, end = cut[first].start, cut[last].end
        label = _label(text, start, names)
        head = cut[first]
        body = text[start:end]
        before = text[max(0, start - 12) : start]
        if re.search(r"\bhalf(?:\s+of)?\s+$", before) and head.kind == "number":
            body = f"0.5 * {body}"
        found.append(
            Clause(start, f"{label} {body}" if head.kind == "relation" else f"{label} = {body}", False)
        )
    found.sort(key=lambda clause: clause.column)
    return found


def _ground_first(found: list[Clause], text: str) -> list[Clause]:
    """ "1010 kN at sea level, 1140 kN in vacuum, Isp 281 s and 317 s": the second pair stands in the same order."""
    said = [clause.text for clause in found]
    if not any("at sea level" in one for one in said) or not any("in vacuum" in one for one in said):
        return found
    bare = [c for c in found if re.match(r"Isp\s*=", c.text.replace("  ", " "))]
    if len(bare) != 2:
        return found
    first = text.find("sea") < text.find("vac") or "vac" not in text
    places = ("at sea level", "in vacuum") if first else ("in vacuum", "at sea level")
    swapped = {
        id(c): Clause(c.column, f"Isp {place} = {c.text.partition(' = ')[2]}", True)
        for c, place in zip(bare, places, strict=True)
    }
    return [swapped.get(id(c), c) for c in found]


def _value(text: str, cut: list[Token], first: int, last: int, names: list[tuple[int, int]]) -> Clause | None:
    """A number with its unit under the name beside it."""
    start, end = cut[first].start, cut[last].end
    amount = text[start:end]
    if first == last:  # no unit: only ratios and coefficients, by a name right before
        name = _before(text, start)
        if not tags(name[1]) & {"mixture", "twr", "cd", "gamma", "mach", "expansion", "cf", "efficiency"}:
            return None
    rest = text[end:]
    holds = re.search(
        r"\b(?:holds|carries|takes|burns|tanks)\s+(?:about\s+|some\s+)?$", text[max(0, start - 20) : start]
    )
    if (
        holds
        and re.search(r"\d\s*(?:t|kg|lb)$", amount)
        and not re.match(r"\s*of\b", rest)
        and not re.match(r"\s*(?:\w+\s+)?(?:payload|cargo)", rest)
    ):
        names.append((start, end))
        return Clause(start, f"propellant = {amount}", True)
    place = next((said for pattern, said in _PLACES if pattern.match(rest)), "")
    after = _AFTER.match(rest)
    behind = after.group(1) if after else ""
    begin, before = _before(text, start)
    word = behind.split()[0].lower() if behind else ""
    if (
        re.search(r"\b(?:in|for|lasting|over)\s+$", text[max(0, start - 10) : start])
        and amount.split()[-1] in _TIMES
    ):
        names.append((start, end))
        return Clause(start, f"burn time = {amount}", True)
    if amount.endswith("°") and re.search(
        r"\b(?:site|pad|launch|launching|base|cosmodrome)\b", before.lower()
    ):
        name, names_at = "latitude", (begin, start)
    elif word in _LONG:
        name, names_at = (
            f"{before if tags(before) & {'tank', 'ring', 'cylinder', 'dome'} else ''} {_LONG[word]}",
            (),
        )
    elif re.match(r"\s*(?:of|is)\s", rest) and tags(behind) & IDEAS:
        name, names_at = behind, (end, end + len(after.group()) if after else end)
    elif tags(before) & IDEAS:
        name, names_at = before, (begin, start)
    elif tags(behind) & IDEAS and not place:
        name, names_at = behind, (end, end + len(after.group()) if after else end)
    else:
        name, names_at = "", ()
    if names_at:
        names.append(names_at)  # type: ignore[arg-type]
    names.append((start, end))
    return Clause(start, f"{f'{name.strip()} {place}'.strip() or 'value'} = {amount}", True)


def _before(text: str, start: int) -> tuple[int, str]:
    """The words right before a number, from the last mark, number or "and", and where they begin."""
    match = _RUN.match(text[max(0, start - 70) : start])
    if match is None:
        return start, ""
    words = match.group(1).split()
    if match.start(1) and text[max(0, start - 70) + match.start(1) - 1].isdigit():
        words = [word for index, word in enumerate(words) if index or word not in UNITS]
    while words and words[-1].lower() in SMALL_WORDS | {
        "weighs",
        "holds",
        "about",
        "roughly",
        "approximately",
    }:
        words.pop()
    while words and words[0].lower() in SMALL_WORDS:
        words.pop(0)
    return max(0, start - 70) + match.start(1), " ".join(words[-5:])


_RUN = re.compile(r"(?:^|.*(?:[,.;:()\d²³]|\band\b|\bwith\b|\bplus\b))((?:[^\W\d]|['\-/* ])*)$", re.DOTALL)
_NOT_NAMES = (SMALL_WORDS - {"after", "before", "up"}) | frozenset(
    [
        "so",
        "hence",
        "therefore",
        "would",
        "could",
        "should",
        "us",
        "get",
        "got",
        "have",
        "having",
        "makes",
        "making",
        "give",
        "given",
        "let",
        "say",
        "they",
        "them",
        "these",
        "those",
        "there",
        "here",
        "what",
        "let's",
        "i.e",
        "e.g",
        "that's",
        "it's",
        "whole",
        "again",
        "like",
        "such",
        "i'll",
        "we'll",
    ]
)


def _label(text: str, start: int, names: list[tuple[int, int]]) -> str:
    """The name of a sum: the words of its clause, or of its sentence and the one before, that say something."""
    head = list(text[:start])
    for low, high in names:
        for index in range(low, min(high, start)):
            head[index] = " " if head[index] not in ",.;" else head[index]
    said = "".join(head)
    parts = re.split(
        r"(?<=[,;:])\s+|(?<=[.!?])\s+(?=[^\W\d_])|\s+[–—]\s+|\s(?=so\b|then\b|thus\b|hence\b)", said
    )
    found = ""
    for part in reversed(parts[-4:]):
        words = [
            word
            for word in re.findall(r"[^\W\d_][\w'\-/*]*", part)
            if (word.lower() not in _NOT_NAMES or len(word) == 1) and word not in ("a", "A", "I", "s", "t")
        ]
        if not words:
            continue
        piece = " ".join(words[-8:])
        if tags(piece) & IDEAS:
            return f"{piece} {found}".strip() if not tags(found) & IDEAS else found
        found = found or piece
    return found or "result"


__all__ = ["Clause", "clauses", "stage_before", "wordy"]
